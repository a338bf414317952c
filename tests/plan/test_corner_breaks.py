"""Coves over a break of the floor at an outside plan corner, against the rolling ball itself."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from poolgeo.plan.canal import Size
from poolgeo.plan.cove import cove_cells
from poolgeo.plan.curves import Floats, unit
from poolgeo.plan.floor import Profile
from poolgeo.plan.rolled import WallLine

TOLERANCE = 0.001
BAY = np.array([[-6.0, -4.0], [5.0, -4.0], [5.0, 0.0], [0.0, 0.0], [0.0, 5.0], [-6.0, 5.0]])
"""[m] An L, its outside corner at the origin."""

FLOORS = {
    "toe": (0.0, 0.2),
    "brow": (0.0, -0.2),
    "steep brow": (0.3, -0.1),
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
    way = shapely.Polygon(BAY).buffer(-radius, quad_segs=2000).exterior
    centres = shapely.get_coordinates(shapely.segmentize(way, radius / 100.0))
    near = np.hypot(*centres.T) < 0.8
    tops = floor.height_of(centres[near], piece) + radius * stretch
    room = radius**2 - np.sum((xy[:, None] - centres[near][None]) ** 2, axis=2)
    ends = np.where(room >= 0.0, tops - np.sqrt(np.maximum(room, 0.0)), np.inf).min(axis=1)
    rest = xy - radius * slope / stretch * floor.direction
    rests = shapely.Polygon(way).contains(shapely.points(rest))
    return np.where(rests, floor.height_of(xy, piece), ends)


@pytest.mark.parametrize("radius", [0.05, 0.15])
@pytest.mark.parametrize("off", [-0.8, 0.0, 0.5])
@pytest.mark.parametrize("direction", [0.0, 90.0, 220.0, 315.0])
@pytest.mark.parametrize("slopes", FLOORS.values(), ids=FLOORS)
def test_coves_meet_where_both_are_equally_high(
    slopes: tuple[float, float], direction: float, off: float, radius: float
) -> None:
    """Over a toe the higher of both coves shows, over a brow the lower."""
    floor = floor_of(slopes, direction, off * radius)
    line = WallLine(BAY, np.full(BAY.shape, np.nan))
    cells = cove_cells([line], floor, Size(radius), TOLERANCE)
    xy, z = cells.vertices[:, :2], cells.vertices[:, 2]
    off_walls = shapely.LinearRing(BAY).distance(shapely.points(xy)) > 1e-5
    near = off_walls & (np.hypot(*xy.T) < 0.4)
    both = [lowest_ball(floor, piece, radius, xy[near]) for piece in (0, 1)]
    expected = np.max(both, axis=0) if slopes[1] > slopes[0] else np.min(both, axis=0)
    assert z[near] == pytest.approx(expected, abs=2e-4)
    a, b, c = (xy[cells.triangles[:, k]] for k in range(3))
    areas = ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2.0
    flat = shapely.Polygon(xy[cells.floors[0]])
    flap = areas.sum() - (shapely.Polygon(BAY).area - flat.area)
    assert areas.min() > 0.0
    assert -1e-9 < flap < radius**2 / 50.0
