"""Closed forms of ledges that fall across or along, and of beaches and where they end."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely

from poolgeo.measure.takeoff import measure

from ..measure.quantities import (
    PoolDict,
    area,
    breaks,
    circle,
    lengths,
    level,
    model_of,
    plan_area,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    water,
)

DEPTH = 1.6
BASIN = 10.0 * 6.0 * DEPTH


def tank(*ledges: PoolDict, **more: Any) -> PoolDict:
    """Return a rectangular tank with ledges."""
    return pool(rectangle(10.0, 6.0), level(DEPTH), ledges=list(ledges), **more)


def following(start: tuple[float, float], end: tuple[float, float], **more: Any) -> PoolDict:
    """Return a ledge along the outline, 1 m wide and 0.3 m deep."""
    return {"shape": "following", "start": list(start), "end": list(end), "width": 1.0,
            "depth": 0.3, **more}  # fmt: skip


def test_a_ledge_that_falls_across_a_side_is_one_plane() -> None:
    """0.2 m over a metre."""
    takeoff = takeoff_of(tank(following((-2, -3), (2, -3), edge_depth=0.5)))
    assert takeoff.water["pool"] == pytest.approx(BASIN - 4.0 * (DEPTH - 0.4), rel=1e-6)
    assert area(takeoff, "bench top") == pytest.approx(4.0 * math.hypot(1.0, 0.2), rel=1e-6)
    assert area(takeoff, "bench face") == pytest.approx(4.0 * 1.1 + 2.0 * 1.2, rel=1e-6)


def test_it_rises_to_its_edge_as_well() -> None:
    """A ledge that drains to the wall: its mitre is a ridge."""
    takeoff = takeoff_of(tank(following((-5, 0), (0, -3), depth=0.5, edge_depth=0.3)))
    # over the corner's square the height counts from the nearer wall: a pyramid, a third of 0.2 m
    concrete = 6.0 * (DEPTH - 0.4) + (DEPTH - 0.5) + 0.2 / 3.0
    assert takeoff.water["pool"] == pytest.approx(BASIN - concrete, rel=1e-6)
    mitre = lengths(takeoff, "bench top/bench top", "external")
    assert mitre == pytest.approx([math.hypot(math.sqrt(2.0), 0.2)], rel=1e-6)


def test_a_mitre_in_an_inside_corner() -> None:
    """Both sides fall away from their walls and meet in a valley."""
    takeoff = takeoff_of(tank(following((-5, 0), (0, -3), edge_depth=0.5)))
    # over the corner's square the depth counts from the nearer wall: a pyramid, a third of 0.2 m
    concrete = 6.0 * (DEPTH - 0.4) + (DEPTH - 0.3) - 0.2 / 3.0
    assert takeoff.water["pool"] == pytest.approx(BASIN - concrete, rel=1e-6)
    valley = lengths(takeoff, "bench top/bench top", "internal")
    assert valley == pytest.approx([math.hypot(math.sqrt(2.0), 0.2)], rel=1e-6)
    assert area(takeoff, "bench top") == pytest.approx(7.0 * math.hypot(1.0, 0.2), rel=1e-6)


def test_a_cone_about_an_outside_corner() -> None:
    """A quarter of a cone between two planes, tangent to both: no edge."""
    outline = polygon((-4, -4), (4, -4), (4, 0), (0, 0), (0, 4), (-4, 4))
    file = pool(outline, level(DEPTH), ledges=[following((2, 0), (0, 2), edge_depth=0.5)])
    takeoff = takeoff_of(file)
    cone = math.pi / 4.0
    concrete = 4.0 * (DEPTH - 0.4) + cone * (DEPTH - 0.3) - 0.2 * cone * 2.0 / 3.0
    assert takeoff.water["pool"] == pytest.approx(48.0 * DEPTH - concrete, rel=5e-4)
    top = (4.0 + cone) * math.hypot(1.0, 0.2)
    assert area(takeoff, "bench top") == pytest.approx(top, rel=1e-3)
    assert lengths(takeoff, "bench top/bench top") == []


def test_all_round_a_circle_it_is_a_cone() -> None:
    """R = 3, 1 m wide: Pappus for the ring and its fall."""
    ledge = {"shape": "following", "width": 1.0, "depth": 0.3, "edge_depth": 0.5}
    takeoff = takeoff_of(pool(circle(3.0), level(DEPTH), ledges=[ledge]))
    ring = math.pi * (9.0 - 4.0)
    fall = 0.2 * 2.0 * math.pi * (3.0 / 2.0 - 1.0 / 3.0)  # of t (R - t) for t from 0 to 1
    concrete = ring * (DEPTH - 0.3) - fall
    assert takeoff.water["pool"] == pytest.approx(9.0 * math.pi * DEPTH - concrete, rel=5e-4)
    assert area(takeoff, "bench top") == pytest.approx(ring * math.hypot(1.0, 0.2), rel=1e-3)
    assert lengths(takeoff, "bench top/bench top") == []


def test_a_mitre_begins_at_the_centre_of_a_rounded_corner() -> None:
    """The arc's cone ends in its tip; from there on the two sides meet in a valley."""
    file = pool(rectangle(10.0, 6.0, corner_radius=0.4), level(DEPTH),
                ledges=[following((-5, 0), (0, -3), edge_depth=0.5)])  # fmt: skip
    takeoff = takeoff_of(file)
    (valley,) = lengths(takeoff, "bench top/bench top", "internal")
    assert valley == pytest.approx(0.6 * math.hypot(math.sqrt(2.0), 0.2), rel=1e-3)
    plan = 7.0 - 0.16 * (1.0 - math.pi / 4.0)
    assert plan_area(takeoff, "bench top") == pytest.approx(plan, rel=1e-3)
    assert area(takeoff, "bench top") == pytest.approx(plan * math.hypot(1.0, 0.2), rel=1e-3)


def test_a_ledge_that_falls_along_a_side_is_one_plane() -> None:
    """0.2 m over four metres."""
    takeoff = takeoff_of(tank(following((-2, -3), (2, -3), end_depth=0.5)))
    assert takeoff.water["pool"] == pytest.approx(BASIN - 4.0 * (DEPTH - 0.4), rel=1e-6)
    assert area(takeoff, "bench top") == pytest.approx(math.hypot(4.0, 0.2), rel=1e-6)
    assert area(takeoff, "bench face") == pytest.approx(4.0 * 1.2 + 1.3 + 1.1, rel=1e-6)


def test_it_is_level_in_a_corner() -> None:
    """The fall is shared out over the inner border: 2 m and 4 m of it, the square level."""
    takeoff = takeoff_of(tank(following((-5, 0), (0, -3), end_depth=0.6)))
    corner = DEPTH - 0.3 - 0.1
    concrete = 2.0 * (DEPTH - 0.35) + corner + 4.0 * (DEPTH - 0.5)
    assert takeoff.water["pool"] == pytest.approx(BASIN - concrete, rel=1e-6)
    top = math.hypot(2.0, 0.1) + 1.0 + math.hypot(4.0, 0.2)
    assert area(takeoff, "bench top") == pytest.approx(top, rel=1e-6)


def test_round_a_circle_it_falls_as_a_helicoid() -> None:
    """A quarter of R = 3: the mean depth is the middle one."""
    file = pool(circle(3.0), level(DEPTH), ledges=[following((0, -3), (3, 0), end_depth=0.5)])
    takeoff = takeoff_of(file)
    concrete = math.pi * 5.0 / 4.0 * (DEPTH - 0.4)
    assert takeoff.water["pool"] == pytest.approx(9.0 * math.pi * DEPTH - concrete, rel=5e-4)
    rate = 0.2 / (math.pi / 2.0)

    def primitive(r: float) -> float:
        return (r * math.hypot(r, rate) + rate**2 * math.asinh(r / rate)) / 2.0

    helicoid = math.pi / 2.0 * (primitive(3.0) - primitive(2.0))
    assert area(takeoff, "bench top") == pytest.approx(helicoid, rel=1e-3)
    assert lengths(takeoff, "bench top/bench top") == []


def test_a_beach_runs_to_the_floor() -> None:
    """A shelf a metre wide across an end, then 1:4 down to the floor."""
    takeoff = takeoff_of(tank(following((-5, 3), (-5, -3), beach={"slope": 0.25})))
    fall = DEPTH - 0.3
    concrete = 6.0 * (1.0 * fall + fall * (4.0 * fall) / 2.0)
    assert takeoff.water["pool"] == pytest.approx(BASIN - concrete, rel=1e-6)
    slope = 6.0 * fall * math.hypot(4.0, 1.0)
    assert area(takeoff, "bench top") == pytest.approx(6.0 + slope, rel=1e-6)
    assert area(takeoff, "bench face") == 0.0
    assert lengths(takeoff, "floor/bench top", "internal") == pytest.approx([6.0], rel=1e-6)
    assert lengths(takeoff, "bench top/bench top", "external") == pytest.approx([6.0], rel=1e-6)


def test_a_beach_ends_in_a_face() -> None:
    """After two metres."""
    beach = {"slope": 0.25, "length": 2.0}
    takeoff = takeoff_of(tank(following((-5, 3), (-5, -3), beach=beach)))
    concrete = 6.0 * (DEPTH - 0.3 + 2.0 * (DEPTH - 0.55))
    assert takeoff.water["pool"] == pytest.approx(BASIN - concrete, rel=1e-6)
    assert area(takeoff, "bench face") == pytest.approx(6.0 * (DEPTH - 0.8), rel=1e-6)


SHELF: dict[str, PoolDict] = {
    "following": {"shape": "following", "start": [0, 2.5], "end": [0, -2.5], "width": 1.0},
    "outline": {"shape": "outline", "outline": rectangle(1.0, 5.0, centre=[0.5, 0.0])},
}


@pytest.mark.parametrize("shape", SHELF)
@pytest.mark.parametrize("drop", [8.0, 8.03, 12.0])
def test_a_beach_does_not_come_up_again_past_a_drop(shape: str, drop: float) -> None:
    """It ends where it first meets the floor, 7 m on; its plane stands above the deep end again."""
    ledge = {**SHELF[shape], "depth": 0.3, "beach": {"slope": 0.1}}
    floor = breaks((drop, 1.0), (drop + 4.0, 3.0))
    model = model_of(pool(rectangle(25.0, 5.0, centre=[12.5, 0.0]), floor, ledges=[ledge]))
    takeoff = measure(model)
    bare = 5.0 * (1.0 * drop + 2.0 * 4.0 + 3.0 * (21.0 - drop))
    concrete = 5.0 * (1.0 * 0.7 + 7.0 * 0.7 / 2.0)
    assert takeoff.water["pool"] == pytest.approx(bare - concrete, rel=2e-6)
    assert plan_area(takeoff, "bench top") == pytest.approx(40.0, rel=1e-4)
    assert not model.warnings


def test_a_beach_runs_past_a_drop_that_it_has_not_met() -> None:
    """The floor drops away under it: it goes on, a wedge with sides, and meets the deep end."""
    floor = breaks((6.0, 1.0), (6.5, 1.5))
    ledge = {**SHELF["following"], "depth": 0.3, "beach": {"slope": 0.1}}
    takeoff = takeoff_of(pool(rectangle(25.0, 5.0, centre=[12.5, 0.0]), floor, ledges=[ledge]))
    bare = 5.0 * (6.0 + 1.25 * 0.5 + 1.5 * 18.5)
    concrete = 1.2 + 12.0 * 1.2 / 2.0 - (0.5 * 6.0 + 0.25 * 0.5)  # less the floor's own step
    assert takeoff.water["pool"] == pytest.approx(bare - 5.0 * concrete, rel=2e-6)


def test_a_beach_meets_a_sloping_floor_where_both_are_as_deep() -> None:
    """The floor rises towards it by 1:20, the beach falls by 1:4."""
    file = pool(rectangle(10.0, 6.0), plane(DEPTH, 0.05),
                ledges=[following((-5, 3), (-5, -3), beach={"slope": 0.25})])  # fmt: skip
    takeoff = takeoff_of(file)
    # at x = -4 + s: 0.3 + s / 4 = 1.6 + 0.05 (s - 4)
    s = (DEPTH - 0.2 - 0.3) / 0.2
    mean_floor = DEPTH - 0.05 * 4.5
    concrete = 6.0 * (mean_floor - 0.3 + s * (DEPTH - 0.2 - 0.3) / 2.0)
    assert takeoff.water["pool"] == pytest.approx(BASIN - concrete, rel=1e-6)
    assert area(takeoff, "floor") == pytest.approx(
        6.0 * (9.0 - s) * math.hypot(1.0, 0.05), rel=1e-6
    )


def test_a_beach_meets_a_cove_on_its_cells() -> None:
    """It lies over the cove; where it is lower, the cove shows. No metre of it is counted twice."""
    ledge = following((-5, 3), (-5, -3), beach={"slope": 0.25})
    takeoff = takeoff_of(tank(ledge, cove={"radius": 0.2}))
    bare = takeoff_of(tank(ledge))
    s = 4.0 * (DEPTH - 0.3)
    # beyond the beach the cove of three walls, two of them 9 - s long; its mitres at two corners
    straight = 0.2**2 * (1.0 - math.pi / 4.0)
    least = straight * (2.0 * (9.0 - s) + 6.0 - 4.0 * 0.2)
    more = straight * (2.0 * (9.0 - s) + 6.0 + 2.0)
    lost = bare.water["pool"] - takeoff.water["pool"]
    assert least < lost < more


def test_a_free_ledge_with_a_beach_all_round_is_a_hipped_roof() -> None:
    """A square metre, then 4:5 down to the floor on every side."""
    ledge = {"shape": "outline", "outline": rectangle(1.0, 1.0), "depth": 0.4,
             "beach": {"slope": 0.8}}  # fmt: skip
    takeoff = takeoff_of(tank(ledge))
    h = DEPTH - 0.4
    out = h / 0.8
    wide = 1.0 + 2.0 * out
    frustum = h / 3.0 * (1.0 + wide**2 + wide)
    assert takeoff.water["pool"] == pytest.approx(BASIN - frustum, rel=1e-6)
    hips = lengths(takeoff, "bench top/bench top", "external")
    assert hips[-4:] == pytest.approx([math.hypot(out * math.sqrt(2.0), h)] * 4, rel=1e-6)


def test_a_round_ledge_with_a_beach_is_a_cone() -> None:
    """R = 0.5, then 4:5 over a metre, then a face."""
    ledge = {"shape": "outline", "outline": circle(0.5), "depth": 0.4,
             "beach": {"slope": 0.8, "length": 1.0}}  # fmt: skip
    takeoff = takeoff_of(tank(ledge))
    frustum = math.pi * 0.8 / 3.0 * (0.25 + 2.25 + 0.75) + math.pi * 2.25 * (DEPTH - 1.2)
    assert takeoff.water["pool"] == pytest.approx(BASIN - frustum, rel=5e-4)
    cone = math.pi * 2.0 * math.hypot(1.0, 0.8)
    assert area(takeoff, "bench top") == pytest.approx(math.pi * 0.25 + cone, rel=1e-3)


def test_a_ledge_by_its_outline_falls_as_one_plane() -> None:
    """By the depth at a point, whatever the direction."""
    ledge = {"shape": "outline", "outline": rectangle(2.0, 1.0), "depth": 0.4, "fall": 0.1,
             "direction": 30.0, "at": [1.0, 0.0]}  # fmt: skip
    takeoff = takeoff_of(tank(ledge))
    mean = 0.4 - 0.1 * math.cos(math.radians(30.0))
    assert takeoff.water["pool"] == pytest.approx(BASIN - 2.0 * (DEPTH - mean), rel=1e-6)
    assert area(takeoff, "bench top") == pytest.approx(2.0 * math.hypot(1.0, 0.1), rel=1e-6)


def test_a_ledge_is_clipped_to_the_pool_without_a_word() -> None:
    """An outline is drawn across the wall."""
    ledge = {"shape": "outline", "outline": circle(1.0, centre=[-5, 0]), "depth": 0.4}
    model = model_of(tank(ledge))
    assert not model.warnings


def test_a_bench_keeps_level_over_a_ledge_beside_it() -> None:
    """Where a sloping top passes the level of its neighbour the border is split."""
    file = tank(
        following((-3, -3), (3, -3), depth=0.3, end_depth=0.6),
        bench=[{"start": [3, -3], "end": [4, -3], "width": 1.0, "depth": 0.45}],
        steps=[{"shape": "side", "at": [0, -3], "width": 1.0, "going": 1.5, "risers": 1,
                "top_tread": 0.45}],
    )  # fmt: skip
    # the flight covers half a metre either side of the middle, where the ledge is 0.45 m deep
    concrete = 6.0 * (DEPTH - 0.45) + (DEPTH - 0.45) + 0.5 * (DEPTH - 0.45)
    assert water(file) == pytest.approx(BASIN - concrete, rel=1e-6)


def test_a_bench_round_corners_is_mitred_inside_and_round_outside() -> None:
    """One L of it in an inside corner, and one about the outside corner of the plan."""
    outline = polygon((-4, -4), (4, -4), (4, 0), (0, 0), (0, 4), (-4, 4))
    inside = {"start": [-4, -1], "end": [-1, -4], "width": 0.5, "depth": 0.45}
    outside = {"start": [2, 0], "end": [0, 2], "width": 0.5, "depth": 0.45}
    takeoff = takeoff_of(pool(outline, level(DEPTH), bench=[inside, outside]))
    plan = 6.0 * 0.5 - 0.25 + 4.0 * 0.5 + math.pi / 16.0
    assert area(takeoff, "bench top") == pytest.approx(plan, rel=1e-3)
    front = 5.0 + 4.0 + math.pi / 4.0 + 4 * 0.5
    assert area(takeoff, "bench face") == pytest.approx(front * (DEPTH - 0.45), rel=1e-3)
    assert lengths(takeoff, "bench face/bench face", "internal") == pytest.approx([DEPTH - 0.45])


def test_beyond_its_end_the_end_is_the_nearest_place() -> None:
    """It goes all round but for 0.3 m before a corner, and falls from the nearest of its line."""
    model = model_of(tank(following((4.7, 3), (5, 3), edge_depth=0.5)))
    line = shapely.LineString([(4.7, 3), (-5, 3), (-5, -3), (5, -3), (5, 3)])
    mesh = model.surface
    mine = np.array([item.kind == "bench top" for item in mesh.patches])[mesh.patch]
    corners = mesh.vertices[mesh.triangles[mine]].reshape(-1, 3)
    away = shapely.distance(line, shapely.points(corners[:, :2]))
    assert corners[:, 2] == pytest.approx(-0.3 - 0.2 * away, abs=1e-4)
    # four corners' squares as in the mitre above; beside the gap it lies a hair deeper
    away_sum = 24.0 / 2.0 + 4.0 / 3.0
    concrete = 28.0 * (DEPTH - 0.3) - 0.2 * away_sum
    assert measure(model).water["pool"] == pytest.approx(BASIN - concrete, abs=5e-4)


def test_a_ledge_hides_a_cove_that_a_bench_hides() -> None:
    """Lines of its facets lie over cells that nothing cuts."""
    round_corner = {
        "shape": "combined",
        "parts": [{"add": rectangle(10.0, 6.0)}, {"subtract": circle(1.0, centre=[-5.0, -3.0])}],
    }
    ledge = following((-5, -1.4), (5, 0), edge_depth=0.5)
    bench = {"start": [5, 0], "end": [-5, -2], "width": 0.4, "depth": 0.5}
    bare = pool(round_corner, level(DEPTH), ledges=[ledge], bench=[bench])
    takeoff, coved = takeoff_of(bare), takeoff_of({**bare, "cove": {"radius": 0.2}})
    assert area(coved, "bench top") == pytest.approx(area(takeoff, "bench top"), rel=1e-5)
    assert coved.water["pool"] < takeoff.water["pool"]
