"""Stations and bands along an outline."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from poolgeo.plan.curves import FullEllipse, Line
from poolgeo.plan.floor import Profile
from poolgeo.plan.ring import Ring, ring_of
from poolgeo.plan.stretch import Stretch, band, inward_at, point_at, station_of

from ..measure.quantities import level, polygon, pool, takeoff_of
from .rings import bowed, rounded, square


def ellipse(rotation: float) -> Ring:
    """A ring whose first vertex is at the end of its long axis."""
    return ring_of([FullEllipse(np.zeros(2), (3.0, 2.0), math.radians(rotation))], 1e-3)


def test_the_nearest_place_may_lie_on_the_last_chord() -> None:
    """Turned a little either way, an ellipse has it just before or just after its first vertex."""
    one, other = (ellipse(turn) for turn in (1.0, -1.0))
    before = station_of(one, (20.0, 0.0))
    after = station_of(other, (20.0, 0.0))
    assert one.perimeter - before == pytest.approx(after, abs=2e-4)
    assert point_at(one, before)[1] == pytest.approx(-point_at(other, after)[1], abs=2e-4)


def test_a_corner_is_at_its_own_vertex() -> None:
    """Seen square from the side before its own, a right angle rounded to millimetres is not."""
    points = [[4.184, -1.934], [1.271, 4.431], [-1.457, 3.183], [0.0, 0.0], [-2.728, -1.248],
              [-1.271, -4.431]]  # fmt: skip
    corners = np.array([*points, points[0]])
    ring = ring_of([Line(a, b) for a, b in pairwise(corners)], 1e-3)
    found = [station_of(ring, (x, y)) for x, y in points]
    assert found == pytest.approx(ring.stations[:-1], abs=2e-6)


def test_in_a_corner_inwards_halves_the_angle() -> None:
    """What stands in a corner looks along its bisector, whichever side is found first."""
    ring = square(4.0)
    for station, want in ((0.0, (1, 1)), (4.0, (-1, 1)), (8.0, (-1, -1)), (12.0, (1, -1))):
        assert inward_at(ring, station) == pytest.approx(np.array(want) / math.sqrt(2.0))
    assert inward_at(ring, 2.0) == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize("width", [0.2, 0.29, 0.31, 0.6, 1.2])
def test_a_band_is_what_lies_within_its_width(width: float) -> None:
    """Also where it is wider than the corner's radius, and its parallel folds over itself."""
    ring = rounded(5.0, 0.3)
    whole = band(Stretch(ring), width)
    inner = shapely.buffer(ring.polygon, -width, quad_segs=64)
    assert whole.area == pytest.approx(ring.polygon.area - inner.area, rel=2e-3)
    assert whole.is_valid


@pytest.mark.parametrize("width", [0.25, 0.5, 1.1])
def test_a_band_that_ends_in_a_curve_has_square_ends_and_no_spikes(width: float) -> None:
    """A stretch that starts half round a corner: one part, no hole, nothing beyond its start."""
    ring = rounded(5.0, 0.3)
    start = station_of(ring, (9.0, -9.0))  # half round a corner
    stretch = Stretch(ring, start, start + 3.0)
    found = band(stretch, width)
    assert found.geom_type == "Polygon"
    assert not found.interiors
    points, _, after = stretch.baseline()
    beyond = points[0] + 0.5 * width * after[0] - 1e-3 * np.array([after[0, 1], -after[0, 0]])
    assert not shapely.contains_xy(found, *beyond)
    corners = shapely.get_coordinates(shapely.simplify(found, 1e-4))
    assert np.hypot(*np.diff(corners, axis=0).T).min() > 1e-3


def test_lines_within_rings_end_in_vertices_that_are_near() -> None:
    """A break line that passes a vertex nearer than the snap ends in it; elsewhere on the side."""
    across = np.array([1.0, 0.0])
    floor, beyond = (
        Profile(across, np.zeros(2), np.array([at]), np.array([0.0, -0.1]), np.array([-1.0, -1.0]))
        for at in (1.0, 3.0)
    )
    ring = np.array([[0.0, 0.0], [2.0, 0.0], [2.00003, 1.0], [0.0, 1.0], [0.0, 0.0]])
    hole = np.array([[0.5, 0.4], [0.5, 0.6], [1.5, 0.6], [1.5, 0.4], [0.5, 0.4]])
    (one, other) = floor.lines_within([ring, hole], 5e-5)
    assert one == pytest.approx(np.array([[1.0, 0.0], [1.0, 0.4]]))
    assert other == pytest.approx(np.array([[1.0, 0.6], [1.0, 1.0]]))
    assert len(beyond.lines_within([ring, hole], 5e-5)) == 0


def test_a_bench_on_the_inside_of_a_fold_builds() -> None:
    """A flight deeper than its corners' radius has no spikes: one riser a tread at each end."""
    flight = {"shape": "following", "going": 0.28, "risers": 4,
              "start": [10.806, 16.829], "end": [-10.806, -16.829]}  # fmt: skip
    corners = ((-2.5, -1.75), (2.5, -1.75), (2.5, 1.75), (-2.5, 1.75))
    file = pool(polygon(*corners, corner_radius=0.3), level(1.0), steps=[flight])
    risers = [run for run in takeoff_of(file).edges if run.kind == "floor/riser"]
    assert min(run.length for run in risers) > 0.005
    assert len(risers) <= 9


@pytest.mark.parametrize("width", [0.2, 0.5, 1.0])
def test_parallels_cross_where_a_curved_side_meets_a_straight_one(width: float) -> None:
    """Inside corners between arcs and lines: the band ends as far from both as it is wide."""
    ring = bowed()
    found = shapely.difference(ring.polygon, band(Stretch(ring), width))
    rest = max(shapely.get_parts(found), key=lambda part: part.area)
    corners = shapely.points(shapely.get_coordinates(rest.exterior))
    assert shapely.distance(ring.polygon.exterior, corners) == pytest.approx(width, abs=2e-3)


def test_a_wall_is_equally_thick_round_a_curve_that_bends_in() -> None:
    """Every vertex of its outer face stands off the water by the thickness, corners further."""
    ring = bowed((3.0, 0.0, 0.0), (0.0, 2.0, -0.1), (-2.625, 0.0, -0.1), (0.0, -1.75, 0.0))
    corners = shapely.points(shapely.get_coordinates(ring.thickened(0.25).exterior))
    away = shapely.distance(ring.polygon, corners)
    assert away.min() == pytest.approx(0.25, abs=1e-3)
    assert np.sum(away > 0.26) <= 5  # four corners, the first one twice


@pytest.mark.parametrize("more", [-1e-9, 0.0, 1e-9])
def test_a_stretch_of_one_whole_side_is_that_side(more: float) -> None:
    """From corner to corner, whatever rounding makes of its length."""
    found = band(Stretch(square(4.0), 4.0, 8.0 + more), 0.5)
    assert found.area == pytest.approx(2.0)


def test_a_band_may_start_just_before_the_first_vertex() -> None:
    """There rounding puts the place nearest to a point on the axis: the end stays square."""
    ring = ellipse(0.0)
    one, other = (
        band(Stretch(ring, start, ring.perimeter / 2.0), 0.3)
        for start in (0.0, ring.perimeter * (1.0 - 1e-15))
    )
    assert shapely.symmetric_difference(one, other).area < 1e-9
