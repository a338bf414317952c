"""The B-rep kernel against the quadrature.

The two share the outline's spline and how a pool file is read, and no geometry beyond that.
"""

from __future__ import annotations

import math

import pytest

pytest.importorskip("scipy")
pytest.importorskip("OCP")

from . import cases, kernel, occ, quadrature, reading, solids
from .breaks import Profile, on_breaks

VOLUME = 1e-7
"""The two agree on the water to this, relative: 5 cm3 in a pool of 50 m3."""
AREA = 1e-5
"""And on any area, relative: the kernel stands for a sloping cove by splines good to 1e-5 m."""
BROW_AREA = 3e-4
"""Where the ball pivots about a brow along a curved wall the kernel's cove is rougher still; the
brute-force test in `test_quadrature` sides with the quadrature there."""

LEVEL = Profile(0.0, (0.0, 0.0), (-9.0, 9.0), (-1.5, -1.5))
ANGLE = solids.Polygon(cases.ANGLE["outline"]["points"])
SQUARE = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)]

EDGES = {
    "waterline": ("surface", "wall", "internal"),
    "floor/wall": ("floor", "wall", "internal"),
    "cove head": ("cove", "wall", "smooth"),
    "cove foot": ("cove", "floor", "smooth"),
    "cove mitre": ("cove", "cove", "internal"),
    "pool wall at the water level": ("surface", "wall", "internal"),
    "dam wall at the water level": ("dam wall face", "surface", "internal"),
    "bench nosing": ("bench face", "bench top", "external"),
}
"""Lengths of the cases, as the kernel finds them between labelled faces."""


@pytest.mark.parametrize("case", cases.CASES, ids=lambda case: case.name)
def test_kernel_and_quadrature_agree(case: cases.Case) -> None:
    water, want = kernel.measure(kernel.from_file(case.file)), case.expected()
    rough = case.name == "kidney_breaks_cove"
    assert water.valid
    assert water.volume == pytest.approx(want.water["pool"], rel=VOLUME)
    areas = {kind: size for kind, size in (want.areas | want.wet).items() if size}
    found = {kind: water.areas[kind] for kind in areas}
    assert found == pytest.approx(areas, rel=BROW_AREA if rough else AREA)
    lengths = {EDGES[name]: size for name, size in want.lengths.items() if name in EDGES}
    found_lengths = {key: water.edges[key] for key in lengths}
    assert found_lengths == pytest.approx(lengths, rel=1e-3 if rough else 2e-6)


def test_nosings_of_a_flight_agree() -> None:
    water, want = kernel.measure(kernel.from_file(cases.FURNISHED)), cases.FURNISHED_CASE.expected()
    found = sum(water.edges[kind, "tread", "external"] for kind in ("riser", "step side"))
    assert found == pytest.approx(want.lengths["tread nosing"], rel=1e-8)


def test_the_walls_above_the_water_add_the_freeboard() -> None:
    file = cases.KIDNEY
    water = kernel.measure(kernel.from_file(file), top=file["freeboard"])
    assert water.areas["wall"] == pytest.approx(
        cases.KIDNEY_CASE.expected().areas["wall"], rel=1e-7
    )


def test_coves_at_inside_corners_meet_in_a_mitre() -> None:
    plan, around = quadrature.polygon_size(SQUARE)
    want = quadrature.on_level(plan, around, quadrature.polygon_turn(SQUARE), 1.5, 0.2)
    water = kernel.measure(kernel.Pool(solids.Polygon(SQUARE), LEVEL, 0.2))
    assert water.volume == pytest.approx(want.volume, rel=1e-9)
    assert water.areas["cove"] == pytest.approx(want.cove, rel=1e-8)
    assert water.areas["floor"] == pytest.approx(want.floor, rel=1e-9)
    mitres = 4 * quadrature.mitre_length(0.2, math.pi / 2)
    assert water.edges["cove", "cove", "internal"] == pytest.approx(mitres, rel=1e-8)


def test_the_ball_rolls_about_an_outside_corner() -> None:
    """The torus is a part of the cove with area pi / 2 times the arc's moment."""
    points = cases.ANGLE["outline"]["points"]
    plan, around = quadrature.polygon_size(points)
    inside = sum(2 * math.tan(turn / 2) for turn in quadrature.corner_turns(points) if turn > 0)
    straight = math.pi / 2 * 0.15 * around - quadrature.ARC_MOMENT * 0.15**2 * inside
    torus = math.pi / 2 * quadrature.ARC_MOMENT * 0.15**2
    water = kernel.measure(kernel.Pool(ANGLE, LEVEL, 0.15))
    assert water.areas["cove"] - straight == pytest.approx(torus, rel=1e-3)
    assert plan - water.areas["floor"] == pytest.approx(
        0.15 * around - 0.15**2 / 2 * (inside - math.pi / 2), rel=1e-5
    )


def test_the_kernel_left_alone_does_not_roll(monkeypatch: pytest.MonkeyPatch) -> None:
    """Why `solids.CORNER` is there: the plain result passes the kernel's check, and is not ours."""
    want = cases.ANGLE_CASE.expected()
    monkeypatch.setattr(solids, "CORNER", 0.0)
    water = kernel.measure(kernel.from_file(cases.ANGLE))
    assert water.valid
    assert abs(water.volume / want.water["pool"] - 1) > 10 * VOLUME


def test_a_sharp_foot_over_breaks_agrees() -> None:
    file = {key: value for key, value in cases.KIDNEY_BREAKS.items() if key != "cove"}
    wall, floor = reading.curve(file["outline"]), reading.profile(file["floor"])
    water, want = kernel.measure(kernel.from_file(file)), on_breaks(wall, floor)
    assert water.volume == pytest.approx(want.volume, rel=1e-9)
    assert water.areas["floor"] == pytest.approx(want.floor, rel=1e-8)
    assert water.areas["wall"] == pytest.approx(want.wall, rel=1e-8)
    assert water.edges["floor", "wall", "internal"] == pytest.approx(want.foot, rel=1e-6)
    assert water.edges["floor", "floor", "internal"] > 4.0  # the toe, right across
    assert water.edges["floor", "floor", "external"] > 7.0  # two brows


def test_a_floor_that_falls_again_beyond_a_toe_is_refused() -> None:
    hump = Profile(0.0, (0.0, 0.0), (-3.0, -1.0, 1.0, 3.0), (-2.0, -1.0, -1.0, -2.5))
    with pytest.raises(ValueError, match="falls again beyond a toe"):
        solids.shelves(hump, solids.Circle((0.0, 0.0), 4.0))


def test_a_loop_that_does_not_close_is_refused() -> None:
    gap = [(occ.line((0, 0, 0), (1, 0, 0)), "a"), (occ.line((2, 0, 0), (2, 1, 0)), "b")]
    with pytest.raises(ValueError, match="does not close"):
        occ.prism(gap, (0.0, 0.0, 1.0), "floor", "top")


def test_a_cove_that_does_not_fit_is_refused() -> None:
    with pytest.raises(ArithmeticError, match=r"no fillet of 2\.5 m"):
        kernel.measure(kernel.Pool(solids.Polygon(SQUARE), LEVEL, 2.5))
