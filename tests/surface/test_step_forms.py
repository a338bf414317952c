"""Closed forms of flights about a centre, of free-standing ones, and of listed treads."""

from __future__ import annotations

import math
from typing import Any

import pytest

from ..measure.quantities import (
    PoolDict,
    area,
    circle,
    lengths,
    level,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    water,
)

DEPTH = 1.6
BASIN = 10.0 * 6.0 * DEPTH


def tank(*flights: PoolDict, **more: Any) -> PoolDict:
    """Return a rectangular tank with flights."""
    return pool(rectangle(10.0, 6.0), level(DEPTH), steps=list(flights), **more)


def heap(plans: list[float], depths: list[float]) -> float:
    """Return the concrete of treads by the plan area down to each nosing, top first [m3]."""
    below = 0.0
    treads = 0.0
    for plan, depth in zip(plans, depths, strict=True):
        treads += (plan - below) * (DEPTH - depth)
        below = plan
    return treads


def test_a_corner_fan_is_a_nest_of_quarter_discs() -> None:
    """Three treads of 0.4 m in a right angle; risers are quarter cylinders."""
    file = tank({"shape": "corner", "at": [-5, -3], "going": 0.4, "risers": 3})
    reach = [0.4, 0.8, 1.2]
    takeoff = takeoff_of(file)
    assert takeoff.water["pool"] == pytest.approx(
        BASIN - heap([math.pi * r * r / 4.0 for r in reach], [0.4, 0.8, 1.2]), rel=5e-4
    )
    assert area(takeoff, "tread") == pytest.approx(math.pi * 1.2**2 / 4.0, rel=1e-3)
    assert area(takeoff, "riser") == pytest.approx(0.4 * math.pi / 2.0 * sum(reach), rel=1e-3)
    nosings = lengths(takeoff, "tread/riser", "external")
    assert nosings == pytest.approx([math.pi / 2.0 * r for r in reach], rel=1e-3)


def test_a_fan_about_an_outside_corner_fills_three_quarters() -> None:
    """Round the inner corner of an L the treads are three quarters of a disc."""
    outline = polygon((-4, -4), (4, -4), (4, 0), (0, 0), (0, 4), (-4, 4))
    file = pool(outline, level(DEPTH),
                steps=[{"shape": "corner", "at": [0, 0], "going": 0.5, "risers": 1}])  # fmt: skip
    takeoff = takeoff_of(file)
    assert area(takeoff, "tread") == pytest.approx(0.75 * math.pi * 0.25, rel=1e-3)
    assert area(takeoff, "riser") == pytest.approx(0.75 * math.pi * 0.8, rel=1e-3)


def test_a_fan_about_a_given_centre() -> None:
    """The first nosing passes one going off the corner, on a circle about the centre."""
    flight = {"shape": "corner", "at": [-5, -3], "centre": [-5.3, -3.4], "going": 0.4, "risers": 1}
    radius = 0.5 + 0.4

    def quarter(a: float, b: float) -> float:
        """Area of a disc beyond the lines x = a and y = b [m2]."""
        first, last = math.asin(b / radius), math.acos(a / radius)
        sector = radius**2 * (last - first) / 2.0
        xa, yb = math.sqrt(radius**2 - b * b), math.sqrt(radius**2 - a * a)
        return sector - a * (yb - b) / 2.0 - b * (xa - a) / 2.0

    assert area(takeoff_of(tank(flight)), "tread") == pytest.approx(quarter(0.3, 0.4), rel=1e-3)


@pytest.mark.parametrize("width", [None, 1.0])
def test_convex_arcs_are_segments_of_discs(width: float | None) -> None:
    """A half-moon from a straight wall, whole or cut to a width."""
    flight: PoolDict = {
        "shape": "arc", "at": [0, -3], "radius": 1.0, "going": [0.4, 0.3], "rise": [0.3],
        "top_tread": 0.25,
    }  # fmt: skip
    if width is not None:
        flight["width"] = width

    def segment(radius: float, off: float) -> float:
        """Area of a disc beyond a chord, or of the strip of it [m2]."""
        if width is None:
            half = math.acos(off / radius)
            return radius**2 * half - off * math.sqrt(radius**2 - off**2)
        x = width / 2.0
        under = x * math.sqrt(radius**2 - x * x) + radius**2 * math.asin(x / radius)
        return under - off * width

    plans = [segment(1.0, 0.6), segment(1.3, 0.6)]
    takeoff = takeoff_of(tank(flight))
    assert takeoff.water["pool"] == pytest.approx(BASIN - heap(plans, [0.25, 0.55]), rel=5e-4)
    assert area(takeoff, "tread") == pytest.approx(plans[1], rel=1e-3)
    arcs = [
        2.0 * r * (math.acos(0.6 / r) if width is None else math.asin(0.5 / r)) for r in (1.0, 1.3)
    ]
    assert lengths(takeoff, "tread/riser", "external") == pytest.approx(sorted(arcs), rel=1e-3)


def test_concave_arcs_recede_from_the_water() -> None:
    """A strip less a disc: deeper at its sides than in the middle."""
    flight = {"shape": "arc", "at": [0, -3], "radius": 2.0, "bend": "concave", "width": 1.6,
              "going": 0.4, "risers": 2, "top_tread": 0.4}  # fmt: skip

    def left(radius: float) -> float:
        x = 0.8
        under = x * math.sqrt(radius**2 - x * x) + radius**2 * math.asin(x / radius)
        return 1.6 * 2.4 - under

    plans = [left(2.0), left(1.6)]
    takeoff = takeoff_of(tank(flight))
    assert takeoff.water["pool"] == pytest.approx(BASIN - heap(plans, [0.4, 1.0]), rel=5e-4)
    assert area(takeoff, "tread") == pytest.approx(plans[1], rel=1e-3)
    arcs = [2.0 * r * math.asin(0.8 / r) for r in (1.6, 2.0)]
    assert lengths(takeoff, "tread/riser", "external") == pytest.approx(sorted(arcs), rel=1e-3)


def test_an_island_has_treads_all_round() -> None:
    """A rectangle grown twice by 0.4 m, its corners square; clear of every wall."""
    landing = {"shape": "rectangle", "length": 1.0, "width": 0.8, "rotation": 25}
    file = tank({"shape": "island", "landing": landing, "going": 0.4, "risers": 3})
    sizes = [(1.0, 0.8), (1.8, 1.6), (2.6, 2.4)]
    takeoff = takeoff_of(file)
    assert takeoff.water["pool"] == pytest.approx(
        BASIN - heap([a * b for a, b in sizes], [0.4, 0.8, 1.2]), rel=1e-6
    )
    assert area(takeoff, "riser") == pytest.approx(
        0.4 * sum(2.0 * (a + b) for a, b in sizes), rel=1e-6
    )
    assert area(takeoff, "step side") == 0.0


def test_an_island_with_treads_on_one_side() -> None:
    """The other three sides go down in one face each."""
    landing = {"shape": "rectangle", "length": 1.0, "width": 0.8}
    file = tank({"shape": "island", "landing": landing, "sides": ["front"], "going": [0.3, 0.5],
                 "rise": [0.2, 0.3], "top_tread": 0.3})  # fmt: skip
    takeoff = takeoff_of(file)
    assert area(takeoff, "tread") == pytest.approx(1.8 * 0.8, rel=1e-6)
    assert area(takeoff, "riser") == pytest.approx(0.8 * (DEPTH - 0.3), rel=1e-6)
    sides = 0.8 * 1.3 + 2.0 * (1.0 * 1.3 + 0.3 * 1.1 + 0.5 * 0.8)
    assert area(takeoff, "step side") == pytest.approx(sides, rel=1e-6)


def test_a_round_island_is_a_nest_of_discs() -> None:
    """The parallel of a circle is a circle."""
    file = tank({"shape": "island", "landing": circle(0.5), "going": 0.35, "risers": 2})
    plans = [math.pi * r * r for r in (0.5, 0.85)]
    assert water(file) == pytest.approx(BASIN - heap(plans, [DEPTH / 3.0, DEPTH / 1.5]), rel=5e-4)


@pytest.mark.parametrize("turn", [90.0, -120.0, 270.0])
def test_winders_are_equal_sectors(turn: float) -> None:
    """Each wedge has the same plan; its riser is as long as the treads reach."""
    file = tank({"shape": "winding", "pivot": [0, 0], "reach": 1.2, "direction": 30.0,
                 "turn": turn, "risers": 3})  # fmt: skip
    plans = [1.44 * math.radians(abs(turn)) / 6.0 * k for k in (1, 2, 3)]
    takeoff = takeoff_of(file)
    assert takeoff.water["pool"] == pytest.approx(BASIN - heap(plans, [0.4, 0.8, 1.2]), rel=5e-4)
    assert area(takeoff, "riser") == pytest.approx(3 * 1.2 * 0.4, rel=1e-4)
    rim = 1.2 * math.radians(abs(turn)) / 3.0 * (1.2 + 0.8 + 0.4) + 1.2 * 1.2
    assert area(takeoff, "step side") == pytest.approx(rim, rel=1e-3)


def test_treads_by_their_outlines() -> None:
    """A higher tread covers a deeper one; what lies beyond the wall does not count."""
    treads = [circle(0.5, centre=[-5, 0]), rectangle(2.0, 2.0, centre=[-5, 0])]
    takeoff = takeoff_of(tank({"shape": "outlines", "treads": treads}))
    assert area(takeoff, "tread") == pytest.approx(2.0, rel=1e-3)
    disc = math.pi * 0.125
    assert takeoff.water["pool"] == pytest.approx(
        BASIN - heap([disc, 2.0], [DEPTH / 3.0, DEPTH / 1.5]), rel=5e-4
    )


def test_goings_and_rises_one_by_one() -> None:
    """A straight flight with a list of each; the last riser is what is left."""
    file = tank({"shape": "side", "at": [-5, 0], "width": 2.0, "going": [0.5, 0.3, 0.4],
                 "rise": [0.2, 0.35], "top_tread": 0.25})  # fmt: skip
    takeoff = takeoff_of(file)
    assert takeoff.water["pool"] == pytest.approx(
        BASIN - heap([1.0, 1.6, 2.4], [0.25, 0.45, 0.8]), rel=1e-6
    )
    assert area(takeoff, "riser") == pytest.approx(2.0 * (DEPTH - 0.25), rel=1e-6)


def test_a_list_of_goings_tells_how_many_risers_there_are() -> None:
    """Equal risers, as many as treads are listed."""
    listed = {"shape": "end", "direction": 0.0, "going": [0.3, 0.3, 0.3]}
    counted = {"shape": "end", "direction": 0.0, "going": 0.3, "risers": 3}
    assert water(tank(listed)) == pytest.approx(water(tank(counted)), rel=1e-12)


def test_an_end_in_two_humps_is_one_where_its_first_tread_is() -> None:
    """Two tips as far out, which one tread joins."""
    humps = polygon((-5, -3), (5, -3), (5, 3), (-5, 3), (-4.9, 0))
    flight = {"shape": "end", "direction": 0.0, "going": 0.3, "rise": 0.4, "top_tread": 0.4}
    concrete = 0.0
    for k in (1, 2, 3):
        concrete += 0.4 * (6.0 * 0.3 * k - 0.3)  # the notch between the humps is a triangle
    file = pool(humps, level(DEPTH), steps=[flight])
    assert water(file) == pytest.approx((60.0 - 0.3) * DEPTH - concrete, rel=1e-6)


def test_a_cove_runs_round_the_foot_of_an_island_on_every_tread() -> None:
    """At the square corners it is a piece of torus."""
    file = tank(
        {"shape": "island", "landing": rectangle(1.0, 0.8), "going": 0.4, "risers": 3},
        cove={"radius": 0.1, "also_at": ["risers"]},
    )
    takeoff = takeoff_of(file)
    r = 0.1
    straight = sum(2.0 * (a + b) for a, b in ((1.0, 0.8), (1.8, 1.6), (2.6, 2.4)))
    # the quarter tori of an outside corner: Pappus, the arc's centroid r (1 - 2/pi) off the wall
    corners = 3 * 2.0 * math.pi * (r - 2.0 * r / math.pi) * math.pi / 2.0 * r
    walls = 2.0 * (10.0 + 6.0)
    # where coves meet in an inside corner each loses r^2 (pi/2 - 1) to the mitre
    basin = math.pi / 2.0 * r * walls - 8.0 * r * r * (math.pi / 2.0 - 1.0)
    assert area(takeoff, "cove") == pytest.approx(
        math.pi / 2.0 * r * straight + corners + basin, rel=1e-3
    )


@pytest.mark.parametrize("mirror", [1, -1])
@pytest.mark.parametrize("tolerance", [0.001, 0.0002])
def test_a_flight_that_ends_amid_a_rounded_corner_has_its_side_up_to_the_fronts(
    mirror: int, tolerance: float
) -> None:
    """Beyond the arc's centre its side runs on, further than the going, to where a front begins."""
    radius, going, rise, treads = 0.3, 0.4, 0.4, [1, 2, 3]
    amid = radius * (1.0 - math.sqrt(0.5))
    ends = [[mirror * (amid - 5.0), amid - 3.0], [mirror * 2.0, -3.0]][::mirror]
    file = tank({"shape": "following", "start": ends[0], "end": ends[1], "going": going,
                 "rise": rise}, tolerance=tolerance)  # fmt: skip
    takeoff = takeoff_of(file | {"outline": rectangle(10.0, 6.0, corner_radius=radius)})
    # the fronts stand parallel to the wall of 7 m, and begin on the line at 45 degrees
    assert area(takeoff, "riser") == pytest.approx(
        rise * sum(7.0 - k * going for k in treads), rel=1e-3
    )
    reach = [0.0, *(math.sqrt(2.0) * (k * going - radius) + radius for k in treads)]
    want = sum((DEPTH - k * rise) * (reach[k] - reach[k - 1] + going) for k in treads)
    assert area(takeoff, "step side") == pytest.approx(want, rel=1e-3)


@pytest.mark.parametrize("degrees", [0.0, 33.0])
def test_coves_of_curved_risers_end_flush_with_the_side_of_the_flight(degrees: float) -> None:
    """Ends of the flight need not be vertices of the outline: no tread has an edge at a cove's."""
    x, y = 20.0 * math.cos(math.radians(degrees)), 20.0 * math.sin(math.radians(degrees))
    flight = {"shape": "following", "start": [x, y], "end": [-x, -y], "going": 0.3, "risers": 4}
    cove = {"radius": 0.1, "also_at": ["risers"]}
    takeoff = takeoff_of(pool(circle(2.4), level(1.6), steps=[flight], cove=cove))
    assert not lengths(takeoff, "tread/step side", "internal")
