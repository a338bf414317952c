"""Which cells of a cove are cut by other lines of the plan, and where a level cuts them."""

from __future__ import annotations

import numpy as np
import shapely

from .cells import Cells
from .curves import Floats
from .floor import Floor
from .tolerances import GRID

Ints = np.ndarray

BLOCK = 32
"""Cells looked at together in the first, coarse search: about one column of a strip."""


def segments_of(lines: shapely.Geometry) -> Floats:
    """Return the segments (k, 2, 2) of any line geometry [m]."""
    parts = shapely.get_parts(lines)
    parts = shapely.get_parts(parts)
    coords, index = shapely.get_coordinates(parts, return_index=True)
    same = index[1:] == index[:-1]
    return np.stack([coords[:-1][same], coords[1:][same]], axis=1)


def lines_of(segments: Floats) -> shapely.Geometry:
    """Return segments (k, 2, 2) as one line geometry [m]."""
    lines: shapely.Geometry = shapely.multilinestrings(shapely.linestrings(segments))
    return lines


def cut_cells(cells: Cells, knives: Floats) -> Ints:
    """Return the numbers of the cells that any segment comes near.

    Args:
        cells: The cove.
        knives: (k, 2, 2) segments [m].
    """
    if not len(knives):
        return np.zeros(0, dtype=np.int64)
    tree = shapely.STRtree(shapely.linestrings(knives))
    corners = cells.vertices[cells.triangles, :2]
    starts = np.arange(0, len(corners), BLOCK)
    low = np.minimum.reduceat(corners.min(axis=1), starts)
    high = np.maximum.reduceat(corners.max(axis=1), starts)
    blocks = np.unique(tree.query(shapely.box(*low.T, *high.T))[0])
    near: Ints = (starts[blocks][:, None] + np.arange(BLOCK)).ravel()
    near = near[near < len(corners)]
    if not len(near):
        return near
    triangles = shapely.polygons(corners[near])
    hit = tree.query(triangles, predicate="dwithin", distance=2.0 * GRID)[0]
    found: Ints = near[np.unique(hit)]
    return found


def cell_edges(cells: Cells, numbers: Ints) -> Floats:
    """Return the edges (k, 2, 2) of some cells, each once [m]."""
    corners = cells.triangles[numbers]
    pairs = np.sort(corners[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    return cells.vertices[np.unique(pairs, axis=0), :2]


def cells_at_level(cells: Cells, z: float) -> tuple[Ints, Floats]:
    """Return the cells that pass through a height, and the segment in each (k, 2, 2) [m]."""
    heights = cells.vertices[cells.triangles, 2] - z
    above = heights > 0.0
    passing = np.flatnonzero(above.any(axis=1) & ~above.all(axis=1))
    h, xy = heights[passing], cells.vertices[cells.triangles[passing], :2]
    lone = above[passing].sum(axis=1) == 1
    apex = np.argmax(above[passing] == lone[:, None], axis=1)
    rows = np.arange(len(passing))
    ends = []
    for step in (1, 2):
        other = (apex + step) % 3
        share = h[rows, apex] / (h[rows, apex] - h[rows, other])
        ends.append(xy[rows, apex] + share[:, None] * (xy[rows, other] - xy[rows, apex]))
    return passing, np.stack(ends, axis=1)


def floor_at_level(floor: Floor, z: float, region: shapely.Geometry) -> Floats:
    """Return the segments (k, 2, 2) in which a floor passes through a height in a region [m]."""
    u = floor.level_at(z)
    if not len(u):
        return np.zeros((0, 2, 2))
    bounds = np.array(region.bounds)
    reach = float(np.abs(bounds).max() + np.abs(floor.origin).max()) * 2.0 + 1.0
    lines = shapely.MultiLineString(list(floor.lines(u, reach)))
    return segments_of(shapely.intersection(lines, region))
