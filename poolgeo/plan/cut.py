"""Which cells of a cove are cut by other lines of the plan."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Floats, Ints
from .cells import Cells
from .spans import boxes_meet
from .tolerances import WELD

BLOCK = 32
"""Cells looked at together in the first, coarse search: about one column of a strip."""

NEAR = 2.0 * WELD
"""[m] A line that comes nearer than this to a cell cuts it: noding may move it on to the cell."""


def cut_cells(cells: Cells, knives: Floats) -> tuple[Ints, Ints]:
    """Find the cells that segments come near.

    Args:
        cells: The cove.
        knives: (k, 2, 2) segments [m].

    Returns:
        The number of the cell and of the segment of each pair.
    """
    xy = cells.vertices[:, :2]
    a, b, c = (xy.take(ids, axis=0) for ids in cells.triangles.T)
    starts = np.arange(0, len(a), BLOCK)
    low = np.minimum(np.minimum(a, b), c) - NEAR
    high = np.maximum(np.maximum(a, b), c) + NEAR
    knife_low = np.minimum(knives[:, 0], knives[:, 1])
    knife_high = np.maximum(knives[:, 0], knives[:, 1])
    block, knife = boxes_meet(
        np.minimum.reduceat(low, starts).T,
        np.maximum.reduceat(high, starts).T,
        knife_low.T,
        knife_high.T,
    )
    cell = (starts[block][:, None] + np.arange(BLOCK)).ravel()
    knife = np.repeat(knife, BLOCK)
    real = cell < len(a)
    cell, knife = cell[real], knife[real]
    near = (low[cell, 0] <= knife_high[knife, 0]) & (high[cell, 0] >= knife_low[knife, 0])
    near &= (low[cell, 1] <= knife_high[knife, 1]) & (high[cell, 1] >= knife_low[knife, 1])
    cell, knife = cell[near], knife[near]
    hit = ~_parted([a[cell].T, b[cell].T, c[cell].T], knives[knife])
    return cell[hit], knife[hit]


def _parted(corners: Sequence[Floats], segments: Floats) -> np.ndarray:
    """Return which triangles lie off their segment (k, 2, 2) by `NEAR`.

    Their three corners are given as (2, k), anticlockwise.

    Apart from one another they lie to one side of a line along the segment, or of one along a side
    of the triangle.
    """
    (ax, ay), (bx, by) = segments[:, 0].T, segments[:, 1].T

    def left_of(px: Floats, py: Floats, qx: Floats, qy: Floats, x: Floats, y: Floats) -> Floats:
        found: Floats = (qx - px) * (y - py) - (qy - py) * (x - px)
        return found

    near = NEAR * np.hypot(bx - ax, by - ay)
    sides = [left_of(ax, ay, bx, by, x, y) for x, y in corners]
    parted: np.ndarray = np.minimum(np.minimum(sides[0], sides[1]), sides[2]) > near
    parted |= np.maximum(np.maximum(sides[0], sides[1]), sides[2]) < -near
    for (px, py), (qx, qy) in zip(corners, [*corners[1:], corners[0]], strict=True):
        beyond = np.maximum(left_of(px, py, qx, qy, ax, ay), left_of(px, py, qx, qy, bx, by))
        parted |= beyond < -NEAR * np.hypot(qx - px, qy - py)
    return parted
