"""Coves over a break of the floor at an outside plan corner, against the rolling ball itself."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from poolgeo.arrays import Floats
from poolgeo.plan.canal import Size
from poolgeo.plan.cells import Cells
from poolgeo.plan.cove import cove_cells
from poolgeo.plan.curves import unit
from poolgeo.plan.floor import Profile
from poolgeo.plan.rolled import CoveMisfitError, WallLine

TOLERANCE = 0.001
BAY = np.array([[-6.0, -4.0], [5.0, -4.0], [5.0, 0.0], [0.0, 0.0], [0.0, 5.0], [-6.0, 5.0]])
"""[m] An L, its outside corner at the origin."""

FLOORS = {
    "toe": (0.0, 0.2),
    "brow": (0.0, -0.2),
    "steep toe": (-1 / 3, 0.0),
}
"""[-] Slopes of the floor before and after its break."""


def floor_of(slopes: tuple[float, float], direction: float, off: float) -> Profile:
    """Return a floor with a break that runs past the corner, so far off it."""
    m = np.array(slopes)
    return Profile(unit(direction), np.zeros(2), np.array([off]), m, -2.0 - m * off)


def lowest_ball(floor: Profile, piece: int, radius: float, xy: Floats) -> Floats:
    """Return where the water ends over plan points (k, 2) if the floor were all of one piece [m].

    The lowest underside of a ball that rolls along the walls; the floor where a ball can rest.
    """
    slope = floor.slopes[piece]
    stretch = float(np.hypot(1.0, slope))
    way = shapely.Polygon(BAY).buffer(-radius, quad_segs=500)
    centres = shapely.get_coordinates(shapely.segmentize(way.exterior, radius / 60.0))
    centres = centres[np.hypot(*centres.T) < 6.0 * radius]
    tops = floor.height_of(centres, piece) + radius * stretch
    room = radius**2 - np.sum((xy[:, None] - centres[None]) ** 2, axis=2)
    ends = np.where(room >= 0.0, tops - np.sqrt(np.maximum(room, 0.0)), np.inf).min(axis=1)
    rest = xy - radius * slope / stretch * floor.direction
    rests = shapely.contains(way, shapely.points(rest))
    return np.where(rests, floor.height_of(xy, piece), ends)


def heads(floor: Profile, piece: int, radius: float, xy: Floats) -> Floats:
    """Return where that ball touches the wall at points (k, 2) near the corner [m]."""
    n = np.where(np.abs(xy[:, 1:]) < np.abs(xy[:, :1]), [[0.0, -1.0]], [[-1.0, 0.0]])
    rise = radius * float(np.hypot(1.0, floor.slopes[piece]))
    return floor.height_of(xy + radius * n, piece) + rise


def cove_at(floor: Profile, radius: float) -> Cells:
    """Return the cove all round the L."""
    line = WallLine(BAY, np.full(BAY.shape, np.nan))
    return cove_cells([line], floor, Size(radius), TOLERANCE)


@pytest.mark.parametrize(
    ("direction", "off"), [(0.0, 0.0), (90.0, -0.8), (220.0, 0.5), (315.0, 0.0)]
)
@pytest.mark.parametrize("slopes", FLOORS.values(), ids=FLOORS)
def test_coves_meet_where_both_are_equally_high(
    slopes: tuple[float, float], direction: float, off: float
) -> None:
    """Over a toe the higher of both coves shows, over a brow the lower."""
    radius = 0.1
    floor = floor_of(slopes, direction, off * radius)
    cells = cove_at(floor, radius)
    off_corner = np.hypot(*cells.vertices[:, :2].T)
    near = cells.vertices[(off_corner < 2.5 * radius) & (off_corner > 2.0 * TOLERANCE)]
    on_wall = shapely.distance(shapely.LinearRing(BAY), shapely.points(near[:, :2])) < 1e-5
    shows = np.maximum if slopes[1] > slopes[0] else np.minimum
    for points, height in ((near[~on_wall], lowest_ball), (near[on_wall], heads)):
        both = [height(floor, piece, radius, points[:, :2]) for piece in (0, 1)]
        assert points[:, 2] == pytest.approx(shows(*both), abs=2e-4)


@pytest.mark.parametrize("direction", [10.0, 130.0, 250.0])
@pytest.mark.parametrize("slopes", [(0.0, 0.2), (0.1, -0.1)], ids=["toe", "brow"])
def test_cells_cover_what_the_cove_takes_of_the_plan(
    slopes: tuple[float, float], direction: float
) -> None:
    """Only a brow's flaps lie beyond the line along which the cove meets the floor."""
    cells = cove_at(floor_of(slopes, direction, 0.0), 0.1)
    a, b, c = (cells.vertices[cells.triangles[:, k], :2] for k in range(3))
    areas = ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2.0
    floor = shapely.Polygon(cells.vertices[cells.floors[0], :2])
    beyond = areas.sum() - (shapely.Polygon(BAY).area - floor.area)
    assert areas.min() > 0.0
    assert -1e-9 < beyond < (1e-9 if slopes[1] > slopes[0] else 1e-4)


def test_a_break_along_the_foot_of_the_cove_is_refused() -> None:
    with pytest.raises(CoveMisfitError, match="a break line of the floor runs along its foot"):
        cove_at(floor_of((0.3, -0.1), 0.0, -0.08), 0.1)
