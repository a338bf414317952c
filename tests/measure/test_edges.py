"""Senses, kinds, lengths and angles of edge runs."""

from __future__ import annotations

import math
from collections import Counter
from typing import ClassVar

import numpy as np
import pytest

from poolgeo.quantities import Takeoff

from .quantities import (
    breaks,
    circle,
    lengths,
    level,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    wet_area,
)

BENCH = {"start": [-2.0, -2.0], "end": [1.0, -2.0], "width": 0.5, "depth": 0.45}


def tally(takeoff: Takeoff) -> Counter[tuple[str, str]]:
    """Count the runs by kind and sense."""
    return Counter((run.kind, run.sense) for run in takeoff.edges)


class TestRectangle:
    """Inside corners all round."""

    TAKEOFF = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2))

    def test_runs(self) -> None:
        """Four feet and four plan corners are internal, four top edges external."""
        assert tally(self.TAKEOFF) == {
            ("floor/wall", "internal"): 4,
            ("wall/wall", "internal"): 4,
            ("wall/wall top", "external"): 4,
        }

    def test_lengths(self) -> None:
        """Feet and top edges are as long as the sides, corners as high as the wall."""
        for kind in ("floor/wall", "wall/wall top"):
            assert lengths(self.TAKEOFF, kind) == pytest.approx([4, 4, 8, 8], abs=1e-6)
        assert lengths(self.TAKEOFF, "wall/wall") == pytest.approx([1.7] * 4, abs=1e-6)

    def test_angles(self) -> None:
        """90 degrees of water at internal edges, 270 at external ones."""
        for run in self.TAKEOFF.edges:
            assert run.angle == pytest.approx({"internal": 90, "external": 270}[run.sense])

    def test_wet_and_dry(self) -> None:
        """A plan corner is split at the water level; a foot is wet, a top edge dry."""
        for run in self.TAKEOFF.edges:
            want = {"floor/wall": run.length, "wall/wall": 1.5, "wall/wall top": 0.0}[run.kind]
            assert run.wet_length == pytest.approx(want, abs=1e-6)


class TestAngle:
    """An L-shaped plan."""

    TAKEOFF = takeoff_of(
        pool(polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6)), level(1.5))
    )

    def test_one_outside_corner(self) -> None:
        """Its vertical line is external with 270 degrees of water, the five others internal."""
        (outside,) = [
            r for r in self.TAKEOFF.edges if (r.kind, r.sense) == ("wall/wall", "external")
        ]
        assert np.abs(outside.points[:, :2] - (3.5, 3.0)).max() < 1e-6
        assert outside.length == pytest.approx(1.65, abs=1e-6)
        assert outside.angle == pytest.approx(270)
        assert len(lengths(self.TAKEOFF, "wall/wall", "internal")) == 5

    def test_the_foot_is_internal_at_both(self) -> None:
        """Six feet, all internal."""
        assert lengths(self.TAKEOFF, "floor/wall", "internal") == pytest.approx(
            [3, 3, 3.5, 3.5, 6, 7], abs=1e-6
        )


@pytest.mark.parametrize("inside", [60.0, 120.0, 150.0])
def test_plan_corners_have_their_plan_angle(inside: float) -> None:
    """At the apex of a wedge of 60 degrees the water fills 60 degrees."""
    half = math.radians(inside / 2)
    tip = [(0, 0), (5 * math.cos(half), -5 * math.sin(half)), (9, 0)]
    outline = polygon(*tip, (tip[1][0], -tip[1][1]))
    takeoff = takeoff_of(pool(outline, level(1.5)))
    (run,) = [r for r in takeoff.edges if r.kind == "wall/wall" and abs(r.points[0, 0]) < 1e-6]
    assert run.angle == pytest.approx(inside, abs=1e-3)
    assert run.sense == "internal"


class TestSmoothOutlines:
    """A facet of a flattened curve is no edge."""

    @pytest.mark.parametrize("tolerance", [0.05, 0.001, 0.0001])
    def test_a_round_pool(self, tolerance: float) -> None:
        """Whatever the tolerance: one closed foot, one closed top edge, no plan corner."""
        takeoff = takeoff_of(pool(circle(3.0), level(1.5), tolerance=tolerance))
        assert tally(takeoff) == {("floor/wall", "internal"): 1, ("wall/wall top", "external"): 1}
        for run in takeoff.edges:
            assert run.points[0] == pytest.approx(run.points[-1])
            assert run.length == pytest.approx(2 * math.pi * 3, rel=5e-4)

    def test_rounded_corners(self) -> None:
        """An arc tangent to its sides makes no corner, however small."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0, corner_radius=0.05), level(1.5)))
        assert tally(takeoff) == {("floor/wall", "internal"): 1, ("wall/wall top", "external"): 1}

    @pytest.mark.parametrize(("deflection", "corners"), [(14.0, 0), (16.0, 1)])
    def test_a_corner_counts_from_15_degrees(self, deflection: float, corners: int) -> None:
        """A plan that turns by less is smooth, by more has a plan corner."""
        a = math.radians(deflection)
        bend = (4 + 3 * math.cos(a), 3 * math.sin(a))
        outline = polygon((0, 0), (4, 0), bend, (bend[0], 6), (0, 6))
        takeoff = takeoff_of(pool(outline, level(1.5)))
        runs = [r for r in takeoff.edges if r.kind == "wall/wall"]
        at_bend = [r for r in runs if abs(r.points[0, 0] - 4) < 1e-6 and abs(r.points[0, 1]) < 1e-6]
        assert len(at_bend) == corners

    def test_a_feature_on_a_smooth_wall_makes_no_corner_of_it(self) -> None:
        """Where a bench or a spa meets a curved wall, the wall itself runs on smoothly."""
        bench = {"start": [3.0, 0.0], "end": [0.0, 3.0], "width": 0.5, "depth": 0.45}
        spa = {"outline": circle(1.0, centre=[-2.8, 0.0]), "depth": 0.9, "raised": 0.3}
        takeoff = takeoff_of(pool(circle(3.0), level(1.5), bench=[bench], spas=[spa]))
        assert lengths(takeoff, "wall/wall") == []
        assert lengths(takeoff, "spa wall/spa wall") == []
        assert len(lengths(takeoff, "bench face/bench face", "external")) == 2


class TestFloorBreaks:
    """A crease between two floor planes is a run by its label, however shallow."""

    @pytest.mark.parametrize("fall", [1 / 3, 0.2, 1 / 12, 0.01])
    def test_brow_and_toe(self, fall: float) -> None:
        """Where it steepens: external, 180 + atan(fall); where it flattens: internal, 180 less."""
        floor = breaks((-1.0, 1.2), (2.0, 1.2 + 3 * fall))
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), floor))
        brow, toe = sorted(
            (r for r in takeoff.edges if r.kind == "floor/floor"), key=lambda r: r.points[0, 0]
        )
        bend = math.degrees(math.atan(fall))
        assert (brow.sense, toe.sense) == ("external", "internal")
        assert [brow.angle, toe.angle] == pytest.approx([180 + bend, 180 - bend], abs=1e-3)
        assert brow.points[:, 0] == pytest.approx([-1.0] * len(brow.points))
        assert [brow.length, toe.length] == pytest.approx([4, 4], abs=1e-6)

    def test_between_two_slopes(self) -> None:
        """The angle is the difference of the two slopes' angles."""
        floor = breaks((-4.0, 1.0), (0.0, 1.2), (4.0, 2.4))
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), floor))
        (middle,) = [
            r for r in takeoff.edges if r.kind == "floor/floor" and abs(r.points[0, 0]) < 1e-6
        ]
        bend = math.degrees(math.atan(0.3) - math.atan(0.05))
        assert middle.angle == pytest.approx(180 + bend, abs=1e-3)


def test_the_foot_on_a_slope() -> None:
    """Across the fall the foot has 90 degrees of water plus or less the slope; along it 90."""
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.1)))
    slope = math.degrees(math.atan(0.1))
    angles = sorted(run.angle for run in takeoff.edges if run.kind == "floor/wall")
    assert angles == pytest.approx([90 - slope, 90, 90, 90 + slope], abs=1e-3)
    assert lengths(takeoff, "floor/wall") == pytest.approx(
        [4, 4, 8 * math.sqrt(1.01), 8 * math.sqrt(1.01)], abs=1e-5
    )


class TestSteps:
    """Nosings are external, riser feet internal."""

    FLIGHT: ClassVar = {"shape": "end", "direction": 0.0, "going": 0.3, "risers": 4}
    SIDE: ClassVar = {"shape": "side", "at": [-4.0, 0.0], "width": 1.2, "going": 0.3, "risers": 3}

    def test_wall_to_wall(self) -> None:
        """Nosings n, feet n - 1 on treads and one on the floor, each as wide as the pool."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), steps=[self.FLIGHT]))
        assert lengths(takeoff, "tread/riser", "external") == pytest.approx([4] * 4, abs=1e-6)
        assert lengths(takeoff, "tread/riser", "internal") == pytest.approx([4] * 3, abs=1e-6)
        assert lengths(takeoff, "floor/riser", "internal") == pytest.approx([4], abs=1e-6)
        assert lengths(takeoff, "wall/riser", "internal") == pytest.approx([0.3] * 8, abs=1e-6)
        assert lengths(takeoff, "wall/tread", "internal") == pytest.approx(
            [0.3] * 8 + [4], abs=1e-6
        )

    def test_from_a_side(self) -> None:
        """Every tread has a nosing in front and one on each flank; risers end in arrises."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), steps=[self.SIDE]))
        assert lengths(takeoff, "tread/riser", "external") == pytest.approx([1.2] * 3, abs=1e-6)
        assert lengths(takeoff, "tread/step side") == pytest.approx([0.3] * 6, abs=1e-6)
        assert lengths(takeoff, "riser/step side", "external") == pytest.approx(
            [0.375] * 6, abs=1e-6
        )
        assert lengths(takeoff, "floor/step side", "internal") == pytest.approx([0.9] * 2, abs=1e-6)
        assert lengths(takeoff, "step side/step side") == []

    def test_from_a_curved_side(self) -> None:
        """On a round pool the flank is one plane: no edge runs down it."""
        flight = self.SIDE | {"at": [-20.0, 7.0]}
        takeoff = takeoff_of(pool(circle(3.0), level(1.5), steps=[flight]))
        assert lengths(takeoff, "step side/step side") == []
        assert lengths(takeoff, "tread/step side", "internal") == []
        assert lengths(takeoff, "riser/step side", "external") == pytest.approx(
            [0.375] * 6, abs=1e-4
        )


def test_a_bench() -> None:
    """Its front and ends are external above and at their corners, internal at floor and wall."""
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), bench=[BENCH]))
    for kind, sense, want in (
        ("bench top/bench face", "external", [0.5, 0.5, 3]),
        ("bench face/bench face", "external", [1.05, 1.05]),
        ("floor/bench face", "internal", [0.5, 0.5, 3]),
        ("wall/bench face", "internal", [1.05, 1.05]),
        ("wall/bench top", "internal", [3]),
    ):
        assert lengths(takeoff, kind) == pytest.approx(want, abs=1e-6)
        assert lengths(takeoff, kind, sense) == pytest.approx(want, abs=1e-6)


def test_a_raised_spa() -> None:
    """The dam wall's foot is internal, its crest external on both sides and dry."""
    spa = {"outline": rectangle(1.6, 1.6), "depth": 0.9, "raised": 0.3, "dam_wall": 0.2}
    takeoff = takeoff_of(pool(rectangle(8.0, 6.0), level(1.5), spas=[spa]))
    assert lengths(takeoff, "floor/dam wall face", "internal") == pytest.approx([2] * 4, abs=1e-6)
    assert lengths(takeoff, "dam wall face/dam wall face", "external") == pytest.approx(
        [1.9] * 4, abs=1e-6
    )
    assert lengths(takeoff, "dam wall face/dam wall top", "external") == pytest.approx(
        [2] * 4, abs=1e-6
    )
    assert lengths(takeoff, "spa wall/dam wall top", "external") == pytest.approx(
        [1.6] * 4, abs=1e-6
    )
    assert lengths(takeoff, "spa wall/spa wall", "internal") == pytest.approx([1.0] * 4, abs=1e-6)
    crest = [run for run in takeoff.edges if "dam wall top" in run.kind]
    assert sum(run.wet_length for run in crest) == 0.0
    assert wet_area(takeoff, "dam wall face") == pytest.approx(8 * 1.5, rel=1e-6)


def test_a_floor_that_rises_over_a_tread_meets_it_in_any_unit() -> None:
    """In feet a needle of the tread beside their edge leans as the floor does."""
    points = [[4.671, 0.929, 0.15], [1.775, 3.721, 0.3], [-4.651, 1.905], [-3.9, -1.551],
              [1.768, -3.477, -0.1]]  # fmt: skip
    breaks = [{"at": -2.847, "depth": 1.31}, {"at": -1.639, "depth": 1.709}]
    floor = {"shape": "breaks", "direction": -63.0, "breaks": breaks}
    flight = {"shape": "following", "start": [1.415, 19.95], "end": [18.755, 6.945],
              "going": 0.28, "rise": 0.266}  # fmt: skip
    file = pool({"shape": "polyline", "points": points}, floor, steps=[flight], tolerance=1e-3)
    found, in_feet = (
        sorted(lengths(takeoff_of(file | {"units": unit}), "floor/tread", "internal"))
        for unit in ("m", "ft")
    )
    assert len(found) == 4
    assert in_feet == pytest.approx([0.3048 * length for length in found], rel=1e-3)
