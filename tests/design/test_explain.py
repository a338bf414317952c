"""What the schema refuses is said in the pool file's own words."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from poolgeo.design.load import design_from
from poolgeo.design.schema import Part, Pool
from poolgeo.design.spots import Spot, spot_of
from poolgeo.errors import PoolFileError

from .pools import everything


def findings(**parts: Any) -> list[str]:
    """Return what is found in a sound pool with some of its parts replaced."""
    with pytest.raises(PoolFileError) as caught:
        design_from(everything() | parts)
    return [str(finding).removeprefix("error: ") for finding in caught.value.findings]


LENGTH_REMEDY = (
    "write a number in mm without quotes, or text with its unit: "
    "300 mm, 1.2 m, 3' 6 1/2\" or 2 ft 3 in"
)
SIZE = "a length above 0, such as 300 mm or 3' 6\""
SHAPES = "one of polygon, rectangle, polyline, spline, ellipse, circle, combined, dxf, csv"
GOING = "a length above 0 such as 300 mm, or a list of one for each tread"
OF_EACH = "(depth in plan of each tread, one for all or a list)"
RISE = "write a height, or a count of equal risers"
STATION = "a point [x, y], or a length along the outline"


def test_a_missing_key_says_what_it_is_and_what_to_write() -> None:
    means = "radius of the cove, or leg of the fillet where wall and floor are square"
    assert findings(cove={}) == [f"'cove.radius' must be given; write {SIZE} ({means})"]


def test_a_missing_part_names_its_shapes() -> None:
    form = f"a mapping with a 'shape', {SHAPES}"
    assert findings(spas=[{"depth": 900}]) == [
        f"'spas[0].outline' must be given; write {form} (inner plan shape of the spa)"
    ]


def test_an_unknown_key_gets_the_nearest_known_one() -> None:
    assert findings(cove={"radius": 50, "alsoat": []}) == [
        "'cove.alsoat' must be a key that is known here; did you mean 'also_at'?"
    ]


def test_an_unknown_key_like_no_other_gets_the_keys_that_are_known() -> None:
    keys = "form, radius, deepens, stretches, corners, also_at"
    assert findings(cove={"radius": 50, "colour": 7}) == [
        f"'cove.colour' must be a key that is known here; keys allowed here: {keys}"
    ]


def test_the_keys_that_are_known_are_those_of_the_shape() -> None:
    assert findings(outline={"shape": "circle", "radius": 900, "width": 3}) == [
        "'outline.width' must be a key that is known here; keys allowed here: shape, radius, centre"
    ]


def test_a_wrong_shape_lists_the_shapes() -> None:
    assert findings(floor={"shape": "slope"}) == [
        "'floor.shape' must be one of level, plane, breaks, drains, dished, spots (got 'slope')"
    ]


def test_a_wrong_value_says_the_accepted_form() -> None:
    assert findings(cove={"radius": "big"}) == [
        f"'cove.radius' must be a length (got 'big'); {LENGTH_REMEDY}"
    ]


def test_a_number_out_of_bounds_is_shown_with_its_unit() -> None:
    assert findings(cove={"radius": -50}) == ["'cove.radius' must be above 0 (got -50 mm)"]


@pytest.mark.parametrize(
    ("station", "text"),
    [
        ("left", f"'bench[0].start' must be {STATION} (got 'left'); {LENGTH_REMEDY}"),
        ([1, 2, 3], f"'bench[0].start' must be {STATION} such as 3 m (got [1, 2, 3])"),
        (["a", 2], f"'bench[0].start[0]' must be a length (got 'a'); {LENGTH_REMEDY}"),
        (-1, "'bench[0].start' must not be below 0 (got -1 mm)"),
    ],
)
def test_a_station_gives_one_finding_whichever_way_it_is_written(
    station: object, text: str
) -> None:
    bench = {"width": 400, "depth": 400, "start": station, "end": 5000}
    assert findings(bench=[bench]) == [text]


def test_a_point_without_coordinates_gives_one_finding() -> None:
    assert findings(spas=[everything()["spas"][0] | {"spillways": [{"at": [], "width": 300}]}]) == [
        "'spas[0].spillways[0].at' must be a point [x, y] (got [])"
    ]


def test_a_bad_point_does_not_make_its_list_too_short() -> None:
    outline = {"shape": "spline", "points": [[0, 0], [1], [1, 1]]}
    assert findings(outline=outline) == ["'outline.points[1]' must be a point [x, y] (got [1])"]


def test_a_shape_that_is_called_as_a_key_is_does_not_stand_in_the_key_path() -> None:
    breaks = {"shape": "breaks", "breaks": [{"depth": 900}, {"at": 2}]}
    flights = [{"shape": "end"}, {"shape": "following", "end": [1]}]
    assert [text.split("'")[1] for text in findings(floor=breaks, steps=flights)] == [
        "floor.breaks[0].at",
        "floor.breaks[1].depth",
        "steps[0].going",
        "steps[0].rise",
        "steps[0].direction",
        "steps[1].going",
        "steps[1].rise",
        "steps[1].end",
    ]


def test_the_rules_between_two_values_are_found_beside_other_faults() -> None:
    steps = [{"shape": "following", "start": 3000, "top_tread": 0}]
    assert findings(steps=steps) == [
        f"'steps[0].going' must be given; write {GOING} {OF_EACH}",
        f"'steps[0].rise' must be given, or 'risers' in its place; {RISE}",
        "'steps[0].top_tread' must be above 0 (got 0 mm)",
        "'steps[0].end' must be given beside 'start'; give both, or neither for all round",
    ]


def test_a_rule_between_two_values_waits_until_both_can_be_read() -> None:
    bench = {"width": 400, "depth": 400, "start": "left"}
    assert findings(bench=[bench]) == [
        f"'bench[0].start' must be {STATION} (got 'left'); {LENGTH_REMEDY}"
    ]


def every_spot(spot: Spot) -> list[Spot]:
    """List the places below a place of the schema, by every way that a checker may name."""
    if spot.members:
        inner = [spot.into(name) for name in spot.members]
    elif isinstance(spot.hint, type) and issubclass(spot.hint, Part):
        inner = [spot.into(name) for name in spot.hint.model_fields]
    elif "tuple" in str(spot.hint):
        inner = [spot.into(0), spot.into(1)]
    else:
        return [spot]
    return [spot, *(below for step in inner for below in every_spot(step))]


PLACES = every_spot(spot_of(()))


def test_the_walk_reaches_every_depth_of_the_schema() -> None:
    keys = {spot.key for spot in PLACES}
    assert ("spas", 0, "outline", "points", 1, 1) in keys
    assert ("floor", "breaks", 1, "depth") in keys
    assert ("steps", 0, "end", 1) in keys
    assert len(keys) > 100


def test_every_place_of_the_schema_says_what_may_be_written() -> None:
    for spot in PLACES:
        form = spot.accepted
        assert form.startswith(("a ", "one of ", "text ", "true ")) or spot.key[-1] == "shape"
        assert not any(word in form for word in ("typing", "class", "poolgeo", "<", "None"))


def parts(cls: type[Part]) -> list[type[Part]]:
    """List a class and all that derive from it."""
    return [cls, *(below for child in cls.__subclasses__() for below in parts(child))]


@pytest.mark.parametrize("part", parts(Part), ids=lambda part: part.__name__)
def test_every_key_is_described(part: type[Part]) -> None:
    for name, field in part.model_fields.items():
        assert field.description or name == "shape"


def test_a_spot_is_a_value() -> None:
    assert spot_of(["cove", "radius"]) == dataclasses.replace(spot_of(("cove", "radius")))
    assert spot_of(()).part is Pool
