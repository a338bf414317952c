"""Plan lines for tests: polygons as segments, and whether noded lines still cross."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from poolgeo.arrays import Floats, Ints
from poolgeo.plan.keys import grid_keys, numbered
from poolgeo.plan.noding import Segments
from poolgeo.plan.tolerances import WELD


def segments_of(*polygons: shapely.Polygon) -> tuple[Floats, Ints]:
    """Return the borders of polygons (k, 2, 2) [m], and the polygon of each (k,)."""
    lines, owner = [], []
    for i, polygon in enumerate(polygons):
        for ring in shapely.get_rings(polygon):
            xy = shapely.get_coordinates(ring)
            lines.append(np.stack([xy[:-1], xy[1:]], axis=1))
            owner += [i] * (len(xy) - 1)
    return np.concatenate(lines), np.array(owner)


def given(lines: Floats, side: Sequence[int] | None = None) -> Segments:
    """Return segments (k, 2, 2) as they are handed to the noding."""
    first, number = numbered(grid_keys(lines.reshape(-1, 2)))
    vertices = lines.reshape(-1, 2)[first]
    count = len(vertices)
    return Segments(
        vertices,
        number.reshape(-1, 2),
        np.full(count, WELD),
        np.ones(count, dtype=bool),
        np.full(len(lines), WELD),
        np.full(len(lines), -1),
        np.full(count, -1),
        np.ones(len(lines), dtype=np.int64) if side is None else np.array(side),
    )


def crossings(vertices: Floats, edges: Ints) -> int:
    """Count the pairs of edges that cross, however that is found: here, all with all."""
    lines = shapely.linestrings(vertices[edges])
    tree = shapely.STRtree(lines)
    i, j = tree.query(lines, predicate="crosses")
    return int(np.sum(i < j))
