"""What a design takes without being told."""

from __future__ import annotations

from typing import Any

import pytest

from poolgeo.design.load import design_from

from .pools import FLOORS, OUTLINES, everything

BARE: dict[str, Any] = {
    "name": "Bare",
    "units": "m",
    "outline": {"shape": "circle", "radius": 3},
    "floor": {"shape": "plane", "depth": 1.2, "at": [0, 0], "fall": "1:20"},
}


def defaults(**parts: Any) -> dict[str, str]:
    """Return the defaults of a bare pool with some parts added: dotted key -> text."""
    found = design_from(BARE | parts).defaults()
    return {".".join(str(step) for step in key): text for key, _, text in found}


def test_a_bare_pool_takes_every_default_in_the_order_of_the_schema() -> None:
    assert design_from(BARE).defaults() == (
        (("tolerance",), 0.001, "1 mm"),
        (("freeboard",), 0.15, "0.150 m"),
        (("outline", "centre"), (0.0, 0.0), "[0.000 m, 0.000 m]"),
        (("floor", "direction"), 0.0, "0 degrees"),
        (("hopper",), (), "none"),
        (("cove",), None, "none"),
        (("batter",), None, "none"),
        (("bench",), (), "none"),
        (("ledges",), (), "none"),
        (("steps",), (), "none"),
        (("spas",), (), "none"),
        (("overflows",), (), "none"),
        (("channels",), (), "none"),
        (("islands",), (), "none"),
        (("fittings",), (), "none"),
        (("joints",), (), "none"),
        (("walls",), (), "none"),
        (("recess",), (), "none"),
        (("shell", "wall"), 0.25, "0.250 m"),
        (("shell", "floor"), 0.25, "0.250 m"),
        (("shell", "beam"), None, "none"),
        (("shell", "footing"), None, "none"),
        (("shell", "thickened_edge"), None, "none"),
        (("shell", "blinding"), 0.1, "0.100 m"),
        (("setting",), None, "not stated"),
        (("arris",), None, "not stated"),
        (("waterline", "above"), 0.075, "0.075 m"),
        (("waterline", "below"), 0.075, "0.075 m"),
        (("coping", "membrane_return"), 0.0, "0.000 m"),
        (("coping", "stones"), None, "not stated"),
        (("finishes",), None, "not stated"),
        (("movement_joints",), None, "not stated"),
        (("drawings", "sheet"), None, "the smallest that holds the plan"),
        (("drawings", "layers"), "trade-words", "trade-words"),
        (
            ("drawings", "sections"),
            None,
            "A along the pool and B across it, through its deepest place",
        ),
        (("drawings", "north"), None, "none is drawn"),
        (("drawings", "exaggeration"), 10.0, "10.0"),
        (("drawings", "project"), None, "left open"),
        (("drawings", "client"), None, "left open"),
        (("drawings", "number"), None, "left open"),
        (("drawings", "drawn_by"), None, "left open"),
        (("drawings", "checked_by"), None, "left open"),
        (("drawings", "date"), None, "left open"),
        (("drawings", "status"), None, "left open"),
        (("drawings", "revisions"), (), "none"),
        (("waterproofing",), None, "none"),
        (("rules",), None, "none"),
    )


@pytest.mark.parametrize(
    ("units", "texts"),
    [
        ("mm", ("1 mm", "150 mm", "250 mm")),
        ("m", ("1 mm", "0.150 m", "0.250 m")),
        ("ft", ("1 mm", '5 7/8"', '9 13/16"')),
        ("in", ("1 mm", '5 7/8"', '9 13/16"')),
    ],
)
def test_defaults_are_written_in_the_units_of_the_file(units: str, texts: tuple[str, ...]) -> None:
    found = defaults(
        units=units,
        outline={"shape": "circle", "radius": "3 m"},
        floor=FLOORS[0] | {"depth": "1 m"},
    )
    assert (found["tolerance"], found["freeboard"], found["shell.wall"]) == texts


def test_what_is_given_is_no_default_even_if_it_is_the_same() -> None:
    given = {"freeboard": 0.15, "shell": {"wall": 0.25}, "bench": [], "cove": None}
    found = defaults(**given)
    assert {"freeboard", "shell.wall", "bench", "cove"}.isdisjoint(found)
    assert found["shell.floor"] == "0.250 m"


def test_the_parts_that_are_given_are_looked_into() -> None:
    found = defaults(
        cove={"radius": 0.1},
        steps=[
            {"shape": "side", "at": 0, "width": 1, "going": 0.3, "rise": 0.2},
            {"shape": "following", "going": 0.3, "risers": 3, "top_tread": 0.2},
        ],
        bench=[{"width": 0.4, "depth": 0.4}],
        spas=[
            {
                "outline": OUTLINES[5] | {"radius": 1},
                "depth": 0.9,
                "seats": [{"width": 0.3, "depth": 0.4}],
            }
        ],
    )
    assert found["cove.corners"] == "false"
    assert found["steps.0.top_tread"] == "one rise"
    assert found["steps.0.direction"] == "square to the outline"
    assert found["steps.1.start"] == "all round"
    assert found["bench.0.start"] == "all round"
    assert found["spas.0.outline.centre"] == "[0.000 m, 0.000 m]"
    assert found["spas.0.raised"] == "0.000 m"
    assert found["spas.0.dam_wall"] == "0.200 m"
    assert found["spas.0.spillways"] == "none"
    assert not [key for key in found if key.endswith((".name", ".risers", ".rise", ".end"))]


TITLE_BLOCK = [
    ("drawings", key)
    for key in ("project", "client", "number", "drawn_by", "checked_by", "date", "status")
]


def test_a_pool_that_gives_everything_takes_few() -> None:
    found = {key: text for key, _, text in design_from(everything()).defaults()}
    title_block = {key: found.pop(key) for key in TITLE_BLOCK}
    assert set(title_block.values()) == {"left open"}
    assert found == {
        ("hopper",): "none",
        ("cove", "form"): "cove",
        ("cove", "deepens"): "none",
        ("cove", "stretches"): "none",
        ("batter",): "none",
        ("islands",): "none",
        ("steps", 1, "top_tread"): "one rise",
        ("steps", 1, "direction"): "square to the outline",
        ("steps", 2, "top_tread"): "one rise",
        ("spas", 0, "freeboard"): "100 mm",
        ("spas", 0, "dam_wall"): "200 mm",
        ("spas", 0, "cove", "form"): "cove",
        ("spas", 0, "cove", "deepens"): "none",
        ("spas", 0, "cove", "stretches"): "none",
        ("spas", 0, "cove", "also_at"): "none",
        ("spas", 0, "waterline"): "as the pool's",
        ("overflows",): "none",
        ("channels",): "none",
        ("fittings", 0, "collar"): "100 mm",
        ("fittings", 1, "body"): "pool",
        ("fittings", 1, "diameter"): "60 mm",
        ("fittings", 1, "collar"): "100 mm",
        ("walls", 0, "thickness"): "as the shell's wall",
        ("recess", 0, "start"): "all round",
        ("shell", "floor"): "250 mm",
        ("shell", "thickened_edge", "splay"): "0 mm",
        ("shell", "blinding"): "100 mm",
        ("waterline", "above"): "75 mm",
        ("waterline", "below"): "75 mm",
        ("coping", "membrane_return"): "0 mm",
        ("ledges",): "none",
        ("cove", "corners"): "false",
        ("spas", 0, "cove", "corners"): "false",
        ("joints",): "none",
        ("arris",): "not stated",
        ("rules",): "none",
        ("waterproofing",): "none",
        ("drawings", "sheet"): "the smallest that holds the plan",
        ("drawings", "layers"): "trade-words",
        ("drawings", "sections"): "A along the pool and B across it, through its deepest place",
        ("drawings", "north"): "none is drawn",
        ("drawings", "exaggeration"): "10.0",
        ("drawings", "revisions"): "none",
        ("coping", "stones"): "not stated",
        ("finishes",): "not stated",
        ("movement_joints",): "not stated",
    }
