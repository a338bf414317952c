"""The lines along which a cove meets walls and what stands on the floor."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...arrays import Floats
from ..cells import Cells
from ..keys import are_in, grid_keys
from ..ring import Ring, signed_area
from ..rolled import WallLine
from ..tolerances import WELD
from .part import Block

CROWD = 1e-4
"""[m] Points of a wall line nearer than this to each other are one: where a block stands at a wall,
rounding leaves crumbs."""

LEAST_PART = 1e-4
"""[m2] A smaller part of the open floor takes no cove: it is a crumb."""

LAP = 1e-8
"""[m2] A cove that covers more than this twice laps over itself."""


def open_floor(ring: Ring, standing: Sequence[Block]) -> shapely.Geometry:
    """Return what the blocks that take the cove leave of the plan."""
    if not standing:
        return ring.polygon
    return shapely.difference(
        ring.polygon, shapely.union_all([item.region for item in standing]), grid_size=WELD
    )


def wall_lines(ring: Ring, standing: Sequence[Block]) -> list[WallLine]:
    """Return the rings of the open floor; vertices of outlines bring their true normals along."""
    islands = [item.ring for item in standing if item.ring is not None]
    rings = [(ring.points, ring.normals)]
    rings += [(item.points[::-1], -item.normals[::-1]) for item in islands]
    if len(islands) == len(standing):
        return [WallLine(*item) for item in rings]
    own_points, own_normals = (np.concatenate(item) for item in zip(*rings, strict=True))
    tree = shapely.STRtree(shapely.points(own_points))
    lines = []
    for part in shapely.get_parts(shapely.orient_polygons(open_floor(ring, standing))):
        if part.area < LEAST_PART:
            continue
        for line in shapely.get_rings(part):
            points = shapely.get_coordinates(line)[:-1]
            normals = np.full_like(points, np.nan)
            at, own = tree.query_nearest(
                shapely.points(points), max_distance=2.0 * WELD, all_matches=False
            )
            points[at], normals[at] = own_points[own], own_normals[own]
            is_own = np.zeros(len(points), dtype=bool)
            is_own[at] = True
            kept = _uncrowded(points, is_own)
            if kept.sum() > 2:
                lines.append(WallLine(points[kept], normals[kept]))
    return lines


def joints_on(ring: Ring, cove: Cells) -> Floats:
    """Return the points (k, 2) of a cove along its walls that an outline's chords pass by [m]."""
    points = cove.vertices[np.unique(np.concatenate(cove.walls)), :2]
    points = points[~are_in(grid_keys(points), grid_keys(ring.points))]
    return points[ring.beside_chords(points, WELD / 2.0)]


def band_of(cells: Cells) -> shapely.Geometry:
    """Return the plan region under the cove of one line."""
    if not len(cells.sections):
        wall, floor = (cells.vertices[item[0], :2] for item in (cells.walls, cells.floors))
        return shapely.symmetric_difference(shapely.Polygon(wall), shapely.Polygon(floor))
    around = _around(cells)
    return around if around.is_valid else shapely.make_valid(around)


def laps_over(cells: Cells) -> bool:
    """Whether the cove of an open line lies over itself: its ends are near, beside a corner."""
    around = _around(cells)
    if around.is_valid:
        return False
    swept = abs(signed_area(shapely.get_coordinates(around)))
    return swept - float(shapely.make_valid(around).area) > LAP


def _around(cells: Cells) -> shapely.Polygon:
    """Return the border of the cove of an open line, as it runs."""
    wall, floor = (cells.vertices[item[0], :2] for item in (cells.walls, cells.floors))
    first, last = (cells.vertices[item, :2] for item in cells.sections)  # floor to wall, and back
    return shapely.Polygon(np.vstack([wall, last[1:], floor[-2::-1], first[1:-1]]))


def _uncrowded(points: Floats, first: np.ndarray) -> np.ndarray:
    """Leave out points of a closed line that stand nearer than `CROWD` to the next one.

    Args:
        points: (n, 2) [m].
        first: (n,) points that are rather kept.

    Returns:
        (n,) whether to keep each.
    """
    kept = np.ones(len(points), dtype=bool)
    steps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    for i in np.flatnonzero(steps < CROWD).tolist():
        j = (i + 1) % len(points)
        kept[i if first[j] and not first[i] else j] = False
    return kept
