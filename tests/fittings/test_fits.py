"""What does not fit is refused, just where it begins not to fit, in words."""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import Finding, PoolFileError

from ..measure.quantities import (
    PoolDict,
    breaks,
    circle,
    level,
    model_of,
    polygon,
    pool,
    rectangle,
)
from .test_places import BOX, SPA

COVED = pool(rectangle(8.0, 4.0), level(1.5), cove={"radius": 0.1})


def refused(file: PoolDict, *fittings: dict[str, Any]) -> list[Finding]:
    """Return the errors that a pool with fittings is refused for."""
    with pytest.raises(PoolFileError) as caught:
        build(design_from(file | {"fittings": list(fittings)}))
    return [item for item in caught.value.findings if item.severity == "error"]


def warned(file: PoolDict, *fittings: dict[str, Any]) -> list[Finding]:
    """Return the warnings of a pool with fittings."""
    return list(model_of(file | {"fittings": list(fittings)}).warnings)


def the_finding(file: PoolDict, **entry: Any) -> Finding:
    """Return the only error of a pool with one fitting."""
    (found,) = refused(file, entry)
    return found


SOCKET = {"kind": "fitting", "diameter": 0.1, "collar": 0.05}
"""A disc of 0.1 m radius."""

PLATE = {"kind": "fitting", "width": 0.3, "height": 0.2, "collar": 0.05}
"""A plate of 0.4 m by 0.3 m."""

BREAK = pool(rectangle(8.0, 4.0), breaks((0.0, 1.5), (3.0, 1.8)))
BEVEL = pool(polygon((0, 0), (8, 0), (8, 4), (1, 4), (0, 3)), level(1.5))


@pytest.mark.parametrize(
    ("file", "fits", "over", "towards"),
    [
        pytest.param(BOX, {"at": [1, -2], "depth": -0.05}, {"depth": -0.051}, "wall top", id="top"),
        pytest.param(COVED, {"at": [1, -2], "depth": 1.3}, {"depth": 1.301}, "cove", id="cove"),
        pytest.param(BOX, {"at": [1, -2], "depth": 1.4}, {"depth": 1.401}, "floor", id="foot"),
        pytest.param(BOX, {"at": [3.9, -2], "depth": 0.5}, {"at": [3.901, -2]}, "corner",
                     id="corner"),
        pytest.param(BOX, {"point": [-3.8, 0.0]}, {"point": [-3.799, 0.0]}, "riser", id="nosing"),
        pytest.param(BOX, {"point": [-3.85, 0.65]}, {"point": [-3.85, 0.651]}, "step side",
                     id="side"),
        pytest.param(BOX, {"point": [0.0, 1.9]}, {"point": [0.0, 1.901]}, "wall", id="floor edge"),
        pytest.param(BOX, {"point": [0.0, 2.15]}, {"point": [0.0, 2.151]}, "outside", id="outside"),
        pytest.param(BREAK, {"point": [-0.1, 0]}, {"point": [-0.099, 0]}, "floor", id="break"),
    ],
)  # fmt: skip
def test_a_disc_may_touch_an_edge_and_not_reach_over_it(
    file: PoolDict, fits: dict[str, Any], over: dict[str, Any], towards: str
) -> None:
    """It fits to the millimetre; a millimetre on it is refused, with how far and what is there."""
    assert len(model_of(file | {"fittings": [SOCKET | fits]}).fittings) == 1
    found = the_finding(file, **SOCKET | fits | over)
    assert "must leave room for the collar of F1 (fitting)" in found.rule
    assert "it reaches 0.001 m over the edge towards" in found.value
    assert towards in found.value
    assert found.key[:2] == ("fittings", 0)


@pytest.mark.parametrize(
    ("file", "fits", "over"),
    [
        pytest.param(BOX, {"at": [1, -2], "depth": 0.0}, {"depth": -0.002}, id="top"),
        pytest.param(COVED, {"at": [1, -2], "depth": 1.25}, {"depth": 1.252}, id="cove"),
        pytest.param(BOX, {"at": [3.8, -2], "depth": 0.5}, {"at": [3.802, -2]}, id="corner"),
        pytest.param(BOX, {"point": [0.0, 1.85]}, {"point": [0.0, 1.852]}, id="wall"),
        pytest.param(BOX, {"point": [0, 1.8], "direction": 90}, {"point": [0, 1.802]}, id="turned"),
    ],
)
def test_a_plate_may_touch_an_edge_and_not_reach_over_it(
    file: PoolDict, fits: dict[str, Any], over: dict[str, Any]
) -> None:
    """Half of its height from level edges, half of its width from upright ones."""
    assert len(model_of(file | {"fittings": [PLATE | fits]}).fittings) == 1
    assert "it reaches 0.002 m over" in the_finding(file, **PLATE | fits | over).value


def test_the_corner_of_a_plate_counts() -> None:
    """On a floor with a bevel from (1, 4) to (0, 3): the plate's corner comes to it first.

    The bevel is x - y + 3 = 0. A plate of 0.4 by 0.3 at (x, y) has its corner at
    (x - 0.2, y + 0.15), which is on the bevel for x - y = -2.65.
    """
    clear = PLATE | {"point": [0.801, 3.45]}
    assert len(model_of(BEVEL | {"fittings": [clear]}).fittings) == 1
    over = the_finding(BEVEL, **PLATE | {"point": [0.79, 3.45]})
    assert "towards the wall at" in over.value


def test_keys_say_what_to_change() -> None:
    """The depth where it is too near to a level edge; the place where it is to an upright one."""
    assert the_finding(BOX, **SOCKET, at=[1, -2], depth=1.45).key == ("fittings", 0, "depth")
    assert the_finding(BOX, **SOCKET, at=[3.95, -2], depth=0.5).key == ("fittings", 0, "at")
    assert the_finding(BOX, **SOCKET, point=[0.0, 1.95]).key == ("fittings", 0, "point")


@pytest.mark.parametrize(
    ("entry", "key", "rule", "value"),
    [
        ({"at": [1, -2], "depth": -0.2}, "depth", "must lie on the wall, below its top",
         "F1 (fitting) is 0.200 m above the water; the wall top there is 0.150 m above the water"),
        ({"at": [1, -2], "depth": 1.6}, "depth", "must lie on the wall, above the floor",
         "F1 (fitting) is 1.600 m below the water; the floor at the wall is higher"),
        ({"at": [1, -2], "depth": 1.45}, "depth", "must keep clear of the cove",
         "F1 (fitting) at (1.000, -1.987, -1.450) m comes out on a cove of the pool"),
        ({"at": 99.0, "depth": 0.5}, "at", "must be no longer than the outline",
         "99.000 m; the outline is 24.000 m long"),
        ({"point": [9.0, 0.0]}, "point", "must lie in the pool or on the top of its wall",
         "F1 (fitting) at (9.000, 0.000) m, where there is neither"),
        ({"at": [4, 0], "offset": -0.4}, "offset", "must lie in the pool or on the top of its wall",
         "F1 (fitting) at (4.400, 0.000) m, where there is neither"),
        ({"at": [1, -2], "depth": 0.5, "body": "spa"}, "body",
         "must be a body of water of this pool", "'spa'"),
        ({"at": [1, -2], "depth": 0.5, "dam_wall": "x"}, "dam_wall",
         "must be a body of water of this pool", "'x'"),
        ({"kind": "main drain", "at": [1, -2], "depth": 0.5}, "depth", "must sit on a floor",
         "F1 (main drain) at (1.000, -2.000, -0.500) m comes out on a wall of the pool"),
        ({"kind": "skimmer", "point": [0, 0]}, "point", "must sit on a face that stands",
         "F1 (skimmer) at (0.000, 0.000, -1.500) m comes out on a floor of the pool"),
        ({"kind": "ladder", "at": [1, -2], "depth": 0.5, "spacing": 0.5}, "depth",
         "must sit on a face that lies",
         ("F1.1 (ladder) at (0.750, -2.000, -0.500) m comes out on a wall of the pool;"
          " likewise F1.2")),
        ({"kind": "skimmer", "at": [1, -2], "depth": 0.08}, "depth",
         "must set F1 (skimmer) across the water level of the pool",
         "it reaches from 0.030 m below the water to 0.130 m below the water"),
    ],
)  # fmt: skip
def test_a_place_that_is_none_is_refused_in_words(
    entry: dict[str, Any], key: str, rule: str, value: str
) -> None:
    """Where, what rule, what came."""
    found = refused(COVED, SOCKET | entry)[0]
    assert (found.key, found.rule, found.value) == (("fittings", 0, key), rule, value)
    assert found.remedy


def test_an_offset_on_the_cove_is_refused() -> None:
    found = the_finding(COVED, kind="relief valve", at=[1, -2], offset=0.03)
    assert found.rule == "must keep clear of the cove"


def test_a_spa_hides_the_wall_behind_it() -> None:
    """The pool's outline runs through the spa: there is no wall of the pool."""
    spa = {**SPA, "outline": {"shape": "circle", "radius": 1.0, "centre": [4.0, 0.0]}}
    file = pool(rectangle(8.0, 5.0), level(1.5), spas=[spa])
    found = the_finding(file, kind="return inlet", at=[4.0, 0.0])
    assert found.rule == "must lie where the pool's wall stands"
    assert "where there is the spa floor of the spa" in found.value
    found = the_finding(file, kind="light niche", dam_wall="spa", at=[5.0, 0.0])
    assert found.rule == "must lie where a dam wall stands"
    found = the_finding(file, kind="spa jet", body="spa", point=[0.0, 0.0])
    assert found.rule == "must lie in the spa"


@pytest.mark.parametrize(
    ("first", "second", "gap"),
    [
        pytest.param(SOCKET, SOCKET, (0.2, 0.0), id="two discs"),
        pytest.param(PLATE, SOCKET, (0.3, 0.0), id="plate and disc"),
        pytest.param(PLATE, SOCKET, (0.2 + 0.1 * math.sqrt(0.5), 0.15 + 0.1 * math.sqrt(0.5)),
                     id="corner and disc"),
        pytest.param(PLATE, PLATE, (0.4, 0.0), id="two plates"),
        pytest.param(PLATE, PLATE | {"direction": 90}, (0.35, 0.1), id="turned plate"),
        pytest.param(PLATE, PLATE | {"direction": 45}, (0.2 + 0.35 * math.sqrt(0.5), 0.0),
                     id="plate on its corner"),
    ],
)  # fmt: skip
def test_collars_may_touch_and_not_overlap(
    first: dict[str, Any], second: dict[str, Any], gap: tuple[float, float]
) -> None:
    """Side by side on the floor they fit; two millimetres nearer they do not."""
    entries = first | {"point": [0.0, 0.0]}, second | {"point": list(gap)}
    assert len(model_of(BOX | {"fittings": list(entries)}).fittings) == 2
    size = math.hypot(*gap)
    nearer = [part * (size - 0.002) / size for part in gap]
    (found,) = refused(BOX, entries[0], second | {"point": nearer})
    assert found.key == ("fittings", 1, "point")
    assert found.rule == "must keep F2 (fitting) clear of F1 (fitting)"
    assert f"their middles are {size - 0.002:.3f} m apart" in found.value


def test_back_to_back_on_a_dam_wall_they_are_clear() -> None:
    """0.2 m of concrete stands between them, and they look opposite ways."""
    file = pool(rectangle(8.0, 5.0), level(1.5), spas=[SPA])
    plate = {"kind": "fitting", "diameter": 0.2, "at": [1.0, 0.0]}
    both = plate | {"body": "spa", "depth": 0.2}, plate | {"dam_wall": "spa", "depth": 0.3}
    assert len(model_of(file | {"fittings": list(both)}).fittings) == 2


def test_a_bench_in_front_of_the_wall_takes_it_and_says_so() -> None:
    bench = {"start": [-2, -2], "end": [3, -2], "width": 0.5, "depth": 0.4}
    file = pool(rectangle(8.0, 4.0), level(1.5), bench=[bench])
    (found,) = warned(file, SOCKET | {"at": [1, -2], "depth": 0.8})
    assert found.rule == "meets another face before the wall"
    assert "(1.000, -1.500, -0.800) m comes out on a bench face" in found.value


def test_an_inlet_out_of_the_water_is_warned_of() -> None:
    (found,) = warned(BOX, {"kind": "return inlet", "at": [1, -2], "depth": 0.0, "collar": 0.02})
    assert found.rule == "leaves the opening of F1 (return inlet) above the water"


def test_a_drain_alone_is_a_hazard_until_it_is_said_how_it_is_protected() -> None:
    """Entrapment: a single drain that a body can block."""
    drain = {"kind": "main drain", "point": [0.0, 0.0]}
    (found,) = warned(BOX, drain)
    assert found.key == ("fittings", 0)
    assert "entrapment" in found.rule
    assert "local code" in found.remedy
    assert not warned(BOX, drain | {"protection": "gravity tank, no direct suction"})
    assert not warned(BOX, drain, drain | {"point": [1.5, 0.0]})


def test_everything_found_comes_at_once() -> None:
    """One wrong depth, one overlap, one unknown body, one drain on a wall."""
    found = refused(
        BOX,
        SOCKET | {"at": [1, -2], "depth": 2.0},
        SOCKET | {"point": [0.0, 0.0]},
        SOCKET | {"point": [0.1, 0.0]},
        SOCKET | {"at": [1, -2], "depth": 0.5, "body": "sea"},
        {"kind": "main drain", "at": [1, -2], "depth": 0.5},
    )
    assert {item.key for item in found} == {
        ("fittings", 0, "depth"), ("fittings", 2, "point"), ("fittings", 3, "body"),
        ("fittings", 4, "depth"),
    }  # fmt: skip


def test_a_collar_wraps_round_a_curved_wall() -> None:
    """Facets are no edges: a wide collar on a tight wall finds none, and ends at the top."""
    file = pool(circle(1.2), level(1.5), freeboard=0.3)
    wide = {"kind": "fitting", "diameter": 0.3, "collar": 0.2, "at": [5.0, 1.0]}
    assert len(model_of(file | {"fittings": [wide | {"depth": 0.05}]}).fittings) == 1
    assert (
        "0.002 m over the edge towards the wall top"
        in the_finding(file, **wide | {"depth": 0.048}).value
    )


def test_a_tight_curve_under_a_wide_collar_is_warned_of() -> None:
    """0.25 m to either side of its middle a wall of 1.2 m radius leaves it by 26 mm.

    In a circle of radius r the arrow of an arc 2 a long is r (1 - cos(a / r)).
    """
    wide = {"kind": "fitting", "diameter": 0.3, "collar": 0.1, "at": [5.0, 1.0], "depth": 0.5}
    (found,) = warned(pool(circle(1.2), level(1.5)), wide)
    assert found.key == ("fittings", 0, "at")
    assert (
        found.value == f"by {1.2 * (1.0 - math.cos(0.25 / 1.2)):.3f} m over the width of its collar"
    )
    assert not warned(pool(circle(6.3), level(1.5)), wide)
    assert not warned(BOX, wide | {"at": [1, -2]})


def test_a_row_with_one_fault_is_one_finding() -> None:
    """The first of a row is named with what it is off by, the others as likewise."""
    row = {"kind": "fitting", "diameter": 0.3, "collar": 0.1, "depth": 0.5, "count": 8}
    found = warned(pool(circle(2.4), level(1.5)), row | {"start": [5.0, 1.0], "end": [5.0, -1.0]})
    assert [item.key for item in found] == [("fittings", 0, "start")]
    assert found[0].rule.startswith("sets F1.1 (fitting) on a curved wall")
    assert found[0].value.endswith("; likewise F1.2, F1.3, F1.4, F1.5, F1.6 and 2 more")
