"""The quadrature against closed forms, against the cove's definition, and against itself."""

from __future__ import annotations

import math

import pytest

pytest.importorskip("scipy")

import numpy as np

from poolgeo.design.load import design_from

from . import cases, parts, quadrature, reading, rolling
from .breaks import Profile, on_breaks
from .canal import Plane, arc_nodes, on_plane
from .curves import Curve, circle, ellipse, rounded, spline
from .straight import on_straight_breaks

CURVES = {
    "spline": spline(cases.FREEFORM),
    "circle": circle(2.0, (1.0, -3.0)),
    "ellipse": ellipse(7.0, 4.0),
    "rounded": rounded([(0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6)], 0.5),
}


@pytest.mark.parametrize("curve", CURVES.values(), ids=CURVES)
def test_the_canal_on_a_level_floor_is_the_closed_form(curve: Curve) -> None:
    swept = quadrature.on_slope(curve, Plane(-1.4), 0.2)
    plan, around = quadrature.area(curve), quadrature.length(curve)
    closed = quadrature.on_level(plan, around, 2 * math.pi, 1.4, 0.2)
    assert vars(swept) == pytest.approx(vars(closed), rel=1e-11)


@pytest.mark.parametrize("curve", CURVES.values(), ids=CURVES)
def test_the_canal_on_a_slope_has_the_surface_that_its_curvature_gives(curve: Curve) -> None:
    """For unit e from centre to surface, dA = r phi (|C'| - r e.C'' / |C'|) dt du.

    N.C'' = 0 and n.C'' = k (1 - k r) s'^2, so only the wall's share of e counts.
    """
    radius, floor = 0.2, Plane(-2.0, (0.1, -0.25))
    u, w = curve.nodes()
    path = on_plane(curve, floor, radius)(u)
    phi = np.arccos(np.sum(path.wall * path.floor, axis=1))
    bend, speed = curve.curvature(u), curve.speed(u)
    ahead = np.linalg.norm(path.d_centre, axis=1)
    found = 0.0
    for t, wt in arc_nodes():
        share = np.sin((1 - t) * phi) / np.sin(phi)
        turning = share * bend * (1 - bend * radius) * speed**2
        found += wt * float(np.sum(radius * phi * (ahead + radius * turning / ahead) * w))
    assert quadrature.on_slope(curve, floor, radius).cove == pytest.approx(found, rel=1e-11)


def test_a_round_pool_gives_the_projects_own_check_value() -> None:
    found = quadrature.on_slope(circle(2.0), Plane(-1.5), 0.1)
    assert found.mortar == pytest.approx(0.02666648, abs=5e-9)
    assert found.cove == pytest.approx(1.93805669, abs=5e-9)


def test_breaks_across_straight_walls_give_the_closed_form() -> None:
    file = cases.RECTANGLE
    wall, floor = reading.curve(file["outline"]), reading.profile(file["floor"])
    steps = list(zip(floor.places, floor.heights, strict=True))
    for radius in (0.0, 0.15):
        swept = on_breaks(wall, floor, radius, 0.15)
        closed = on_straight_breaks((10.0, 5.0), 0.6, steps, radius, 0.15)
        ours = {key: value for key, value in vars(closed).items() if key != "foot"}
        assert {key: vars(swept)[key] for key in ours} == pytest.approx(ours, rel=1e-11)


@pytest.mark.parametrize("curve", CURVES.values(), ids=CURVES)
def test_breaks_that_lie_flush_make_no_difference(curve: Curve) -> None:
    floor = Profile(30.0, (0.5, 1.0), (-50.0, -1.0, 2.0, 50.0), (-7.5, -2.6, -2.3, 2.5))
    way = 0.1 * floor.way
    plane = Plane(-2.5 - float(way @ np.array(floor.origin)), tuple(way.tolist()))
    found, closed = on_breaks(curve, floor, 0.2), quadrature.on_slope(curve, plane, 0.2)
    assert found.volume == pytest.approx(closed.volume, rel=1e-11)
    assert found.cove == pytest.approx(closed.cove, rel=1e-11)
    assert found.floor == pytest.approx(closed.floor, rel=1e-11)
    assert found.wall == pytest.approx(closed.wall, rel=1e-11)


@pytest.mark.parametrize(
    "heights",
    [(-1.5, -1.5, -1.5), (-1.0, -1.5, -4.0), (-5.0, -2.0, -2.0), (-9.0, -1.0, -6.0)],
    ids=["level", "falling", "one brow", "ridge"],
)
def test_canal_and_pivot_are_what_the_lowest_ball_leaves(heights: tuple[float, ...]) -> None:
    """The definition alone, by brute force: good to about 1e-4 of the mortar."""
    floor = Profile(10.0, (0.0, 0.0), (-20.0, 1.0, 20.0), heights)
    found = on_breaks(circle(3.0), floor, 0.15).mortar
    assert found == pytest.approx(rolling.mortar(3.0, floor, 0.15), rel=1e-4)


def test_the_first_point_of_a_spline_does_not_matter() -> None:
    points = cases.FREEFORM
    curves = [spline(points[k:] + points[:k]) for k in range(len(points))]
    curves.append(spline(points[::-1]))
    lengths = [quadrature.length(curve) for curve in curves]
    areas = [quadrature.area(curve) for curve in curves]
    assert lengths == pytest.approx([lengths[0]] * len(curves), rel=1e-13)
    assert areas == pytest.approx([areas[0]] * len(curves), rel=1e-13)


def test_a_bench_is_a_part_like_any_other() -> None:
    """Along a circle, a bench all but round is the disc less the disc that it leaves."""
    wall = circle(3.0)
    ring = parts.bench(wall, 0.0, math.pi, 0.5, 0.15)
    assert ring.plan == pytest.approx(math.pi * (3.0**2 - 2.5**2) / 2, rel=1e-12)
    whole = quadrature.on_slope(wall, Plane(-1.0), 0.15)
    assert ring.cove == pytest.approx(whole.cove / 2, rel=1e-12)
    assert ring.mortar == pytest.approx(whole.mortar / 2, rel=1e-12)


def test_a_block_across_half_a_round_pool_takes_half_its_cove() -> None:
    wall, at = circle(3.0), (0.0, -1e-9)
    half = parts.taken(wall, parts.block(at, 90.0, (0.0, 9.0), 20.0), 0.15)
    whole = quadrature.on_slope(wall, Plane(-1.0), 0.15)
    assert half.cove == pytest.approx(whole.cove / 2, rel=1e-8)
    assert half.mortar == pytest.approx(whole.mortar / 2, rel=1e-8)
    assert half.plan == pytest.approx(9 * math.pi / 2, rel=1e-8)
    run, hidden = half.sides[3]  # the back, right across the pool
    assert run == pytest.approx(6.0, rel=1e-8)
    assert hidden == pytest.approx(2 * quadrature.SECTION * 0.15**2, rel=1e-8)


def test_no_cove_is_larger_than_the_tightest_inside_radius_of_the_cases() -> None:
    assert quadrature.smallest_radius(spline(cases.FREEFORM)) > 0.5  # bench width, the widest
    assert quadrature.smallest_radius(circle(3.0)) == pytest.approx(3.0)


@pytest.mark.parametrize("case", cases.CASES, ids=lambda case: case.name)
def test_a_case_is_a_pool_file(case: cases.Case) -> None:
    assert design_from(case.file).pool.name == case.file["name"]


@pytest.mark.parametrize("case", cases.CASES, ids=lambda case: case.name)
def test_a_case_expects_positive_numbers(case: cases.Case) -> None:
    found = case.expected()
    numbers = [*found.water.values(), *found.wet.values(), *found.lengths.values()]
    assert min(numbers) > 0
    assert found.areas["wall"] > found.wet["wall"]
    assert bool(found.areas["cove"]) == ("cove" in case.file)
