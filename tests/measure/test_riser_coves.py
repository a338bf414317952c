"""The length of coves at the feet of risers: that of the riser, whatever stands at its ends."""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.errors import PoolFileError
from poolgeo.quantities import Takeoff

from .quantities import area, circle, lengths, level, polygon, pool, rectangle, takeoff_of

R = 0.1
SIDE = {"shape": "side", "at": [-5.0, 0.0], "width": 2.0, "going": 0.3, "risers": 4}
FOOT = pytest.approx(2.0, rel=1e-9)


def flight_with_cove(flight: dict[str, Any], **cove: Any) -> Takeoff:
    """Measure a flight in a tank 10 m by 6 m, 1.5 m deep, with coves at its risers."""
    cove = {"radius": R, "also_at": ["risers"], **cove}
    return takeoff_of(pool(rectangle(10.0, 6.0), level(1.5), cove=cove, steps=[flight]))


def on_treads(takeoff: Takeoff) -> list[float]:
    """Return the lengths of the coves that lie on treads, the highest first [m]."""
    runs = [run for run in takeoff.coves if run.points[:, 2].max() > -1.5 + 1.001 * R]
    return [run.length for run in sorted(runs, key=lambda run: -run.points[0, 2])]


@pytest.mark.parametrize("form", ["cove", "fillet"])
def test_from_side_to_side(form: str) -> None:
    """At a free side the section in which a cove ends is no part of its length."""
    takeoff = flight_with_cove(SIDE, form=form)
    assert on_treads(takeoff) == [FOOT, FOOT, FOOT]
    # between the walls of the tank, round the flight, and along three treads
    outline = 2.0 * (10.0 + 6.0) + 2.0 * 4 * 0.3
    assert takeoff.totals()["cove_m"] == pytest.approx(outline + 3 * 2.0, rel=1e-9)


def test_the_ends_are_edges() -> None:
    """Each end is an external edge, a quarter circle long, and square to the flight's side."""
    takeoff = flight_with_cove(SIDE)
    assert lengths(takeoff, "cove/step side", "internal") == []
    ends = [run for run in takeoff.edges if run.kind == "cove/step side"]
    assert len(ends) == 6
    for run in ends:
        assert run.length == pytest.approx(math.pi / 2.0 * R, rel=5e-4)
        assert run.angle == pytest.approx(270.0, abs=1e-6)


@pytest.mark.parametrize("form", ["cove", "fillet"])
def test_from_wall_to_wall(form: str) -> None:
    """Against a wall a cove ends in an internal edge, which its length does not take in either."""
    end = {"shape": "end", "direction": 0.0, "going": 0.3, "risers": 4}
    takeoff = flight_with_cove(end, form=form)
    assert on_treads(takeoff) == [pytest.approx(6.0, rel=1e-9)] * 3
    girth = {"cove": math.pi / 2.0, "fillet": math.sqrt(2.0)}[form] * R
    assert lengths(takeoff, f"wall/{form}", "internal")[:6] == [pytest.approx(girth, rel=5e-4)] * 6


def test_round_an_island() -> None:
    """On each tread it goes round the higher one."""
    landing = rectangle(1.0, 0.8)
    takeoff = flight_with_cove({"shape": "island", "landing": landing, "going": 0.4, "risers": 3})
    want = [2.0 * (1.8 + 1.6), 2.0 * (1.0 + 0.8)]
    found: dict[float, float] = {}
    for run in takeoff.coves:
        height = round(float(run.points[0, 2]), 6)
        found[height] = found.get(height, 0.0) + run.length
    assert [found[height] for height in sorted(found)][1:] == pytest.approx(want, rel=1e-9)


def test_round_a_corner() -> None:
    """A fan's risers are quarters of circles about the corner."""
    takeoff = flight_with_cove({"shape": "corner", "at": [-5.0, -3.0], "going": 0.3, "risers": 4})
    want = [math.pi / 2.0 * k * 0.3 for k in (1, 2, 3)]
    assert on_treads(takeoff) == pytest.approx(want, rel=5e-4)


def test_along_a_curved_nosing() -> None:
    """An arc 2 m wide of radius 3 m, and 0.3 m more on each tread."""
    takeoff = flight_with_cove({**SIDE, "shape": "arc", "radius": 3.0, "bend": "convex"})
    want = [2.0 * math.asin(1.0 / radius) * radius for radius in (3.0, 3.3, 3.6)]
    assert on_treads(takeoff) == pytest.approx(want, rel=5e-4)


def test_along_a_wall_that_curves() -> None:
    """A flight along the whole of a round wall: each riser is a circle."""
    flight = {"shape": "following", "going": 0.3, "risers": 3}
    file = pool(circle(3.0), level(1.5), cove={"radius": R, "also_at": ["risers"]}, steps=[flight])
    want = [2.0 * math.pi * (3.0 - 0.3 * k) for k in (1, 2)]
    assert on_treads(takeoff_of(file)) == pytest.approx(want, rel=5e-4)


def test_treads_of_any_plan() -> None:
    """The sides that treads share take none; the faces under its ends are risers as beside them."""
    treads = [
        polygon((-5, -1), (-4.5, -1), (-4.5, 1), (-5, 1)),
        polygon((-5, -1), (-4, -1), (-4, 1), (-5, 1)),
    ]
    takeoff = flight_with_cove({"shape": "outlines", "risers": 2, "treads": treads})
    assert on_treads(takeoff) == [FOOT]
    assert area(takeoff, "step side") == 0.0


TAPER = [
    polygon((-5, -1), (-4.5, -1), (-4.5, 1), (-5, 1)),
    polygon((-5, -1), (-4.45, -1), (-4, 1), (-5, 1)),
]
"""The lower tread is 0.05 m deep at one end, 0.5 m at the other."""


def test_it_ends_where_the_tread_is_narrower_than_it() -> None:
    """On a tread 0.05 m deep that widens by 0.225 for each metre."""
    takeoff = flight_with_cove({"shape": "outlines", "risers": 2, "treads": TAPER})
    sharp = (R - 0.05) / 0.225
    assert on_treads(takeoff) == [pytest.approx(2.0 - sharp, rel=1e-4)]
    # beside it the foot of the face in which the cove ends
    assert lengths(takeoff, "tread/riser", "internal") == pytest.approx([R, sharp], rel=1e-3)
    (warning,) = takeoff.warnings
    assert "'cove.radius' ends where 'steps 1 tread 2' is narrower than it" in str(warning)
    assert "0.222 m of the riser's foot stay sharp" in str(warning)


@pytest.mark.parametrize("risers", [2, 3, 4])
def test_on_winders_it_ends_before_the_pivot(risers: int) -> None:
    """Where the wedge, half a turn shared out, is as wide as the cove."""
    flight = {"shape": "winding", "pivot": [0, 0], "reach": 1.5, "direction": 0.0, "turn": 180.0}
    takeoff = flight_with_cove({**flight, "risers": risers})
    wedge = math.pi / risers
    want = 1.5 - R / math.tan(wedge)
    assert on_treads(takeoff) == [pytest.approx(want, rel=1e-4)] * (risers - 1)


@pytest.mark.parametrize("by", [-1e-7, -5e-8, 0.0, 1e-8, 5e-8])
def test_a_hair_of_reach_makes_no_difference(by: float) -> None:
    """Where the edges of cells on a tread are bent to one vertex, they end up on each other."""
    flight = {"shape": "winding", "pivot": [0, 0], "direction": 0.0, "turn": 180.0, "risers": 4}
    takeoff = flight_with_cove({**flight, "reach": 1.5 + by})
    assert on_treads(takeoff) == [pytest.approx(1.5 - R, rel=1e-4)] * 3


def test_round_a_block_it_leaves_out_what_is_too_near_to_a_nosing() -> None:
    """A square on a disc whose rim is nearer than the radius at the square's corners."""
    treads = [rectangle(1.0, 1.0), circle(0.75)]
    takeoff = flight_with_cove({"shape": "outlines", "risers": 2, "treads": treads})
    half = math.sqrt(0.75**2 - (0.5 + R) ** 2)
    assert on_treads(takeoff) == [pytest.approx(2.0 * half, rel=2e-3)] * 4


def test_there_is_room_for_none_on_a_narrower_tread() -> None:
    """Nowhere along it."""
    assert on_treads(flight_with_cove({**SIDE, "going": 0.12})) == [FOOT, FOOT, FOOT]
    with pytest.raises(PoolFileError, match=r"the tread 0\.090 m deep at most"):
        flight_with_cove({**SIDE, "going": 0.09})


def test_it_deepens_by_the_depth_of_its_tread() -> None:
    """0.1 m down to 0.2 m of depth, 0.2 m from 0.8 m on; treads 0.375 m one below the other."""
    deepens = {"start": 0.2, "end": 0.8, "radius": 0.2}
    takeoff = flight_with_cove({**SIDE, "risers": 3}, deepens=deepens)
    runs = [run for run in takeoff.coves if run.points[:, 2].max() > -1.25]
    # what stands on the second tread, 0.75 m deep, and on the third
    want = sorted([0.1 + 0.1 * (0.75 - 0.2) / 0.6, 0.2])
    assert sorted(run.radius for run in runs) == pytest.approx(want, rel=1e-9)
    for run in runs:
        assert run.area == pytest.approx(math.pi / 2.0 * run.radius * 2.0, rel=1e-3)


@pytest.mark.parametrize("form", ["cove", "fillet"])
def test_beside_a_flight_that_follows_a_curve(form: str) -> None:
    """The floor's cove runs along the whole of the flight's sides, whatever ends on them above."""
    flight = {"shape": "following", "start": [-5, 1], "end": [-1, -5], "going": 0.3, "risers": 3}
    cove = {"radius": 0.08, "form": form, "also_at": ["risers"]}
    outline = {"shape": "ellipse", "length": 11.0, "width": 6.0}
    takeoff = takeoff_of(pool(outline, level(1.5), cove=cove, steps=[flight]))
    sides = [run.length for run in takeoff.coves if run.length < 2.0]
    assert sides == pytest.approx([3 * 0.3, 3 * 0.3], rel=1e-3)
    along = 2 if form == "fillet" else 0  # a fillet meets the side in an edge
    assert len(lengths(takeoff, f"{form}/step side", "internal")) == along
