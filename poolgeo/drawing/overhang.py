"""Where coping stones stand out over the water, as the plan shows it overhead.

::

     wall top |--- overhang     Runs that meet are one line, mitred at its corners. A line of stones
    __________|.....            ends square, and its ends are drawn too.
    |  stone       :  water
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from ..arrays import Floats
from ..design.schema import Pool
from ..finishing.coping import stone_edges
from ..plan.shapes import parallel, swept
from ..plan.tolerances import GRID
from ..quantities import Run

NEAR = 1e-5
"""[m] What lies nearer to the edge of the wall top is that edge."""


def overhang_lines(runs: Sequence[Run], pool: Pool) -> Iterator[Floats]:
    """Yield the edges of coping stones that stand out over the water, as paths (k, 2) [m].

    Args:
        runs: Edge runs.
        pool: The pool file.
    """
    stones = pool.coping.stones
    if stones is None or not stones.overhang:
        return
    edges = [item.points for item in stone_edges(runs, stones, pool.tolerance)]
    lines = [np.rint(points / GRID) * GRID for points in edges]
    merged = shapely.line_merge(shapely.MultiLineString(lines), directed=True)
    for line in shapely.get_parts(merged):
        points = shapely.get_coordinates(line)
        strip = swept(points, _moved(points, stones.overhang))
        border = shapely.difference(shapely.boundary(strip), shapely.buffer(line, NEAR))
        parts = shapely.line_merge(border) if border.geom_type == "MultiLineString" else border
        yield from (shapely.get_coordinates(part) for part in shapely.get_parts(parts))


def _moved(points: Floats, off: float) -> Floats:
    """Return a line (k, 2) moved to its left, mitred at its corners [m]."""
    steps = np.diff(points, axis=0)
    normals = np.column_stack([-steps[:, 1], steps[:, 0]]) / np.hypot(*steps.T)[:, None]
    closed = np.array_equal(points[0], points[-1])
    before = np.concatenate([normals[-1:] if closed else normals[:1], normals])
    after = np.concatenate([normals, normals[:1] if closed else normals[-1:]])
    return parallel(points, before, after, off)[0]
