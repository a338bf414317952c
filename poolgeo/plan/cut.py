"""Which cells of a cove are cut by other lines of the plan."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .cells import Cells
from .curves import Floats
from .tolerances import WELD

Ints = np.ndarray

BLOCK = 32
"""Cells looked at together in the first, coarse search: about one column of a strip."""

NEAR = 2.0 * WELD
"""[m] A line that comes nearer than this to a cell cuts it: noding may move it on to the cell."""


@dataclass(frozen=True)
class Cut:
    """Which line cuts which cell.

    Args:
        cell: (k,) cell number.
        knife_owner: (k,) the owner of the line that cuts it; a cell is there once for each.
    """

    cell: Ints
    knife_owner: Ints


def cut_cells(cells: Cells, knives: Floats, owner: Ints) -> Cut:
    """Find the cells that segments come near.

    Args:
        cells: The cove.
        knives: (k, 2, 2) segments [m].
        owner: (k,) whose they are.

    Returns:
        The cells cut.
    """
    corners = cells.vertices[cells.triangles, :2]
    starts = np.arange(0, len(corners), BLOCK)
    low, high = corners.min(axis=1) - NEAR, corners.max(axis=1) + NEAR
    block_low, block_high = np.minimum.reduceat(low, starts), np.maximum.reduceat(high, starts)
    knife_low, knife_high = knives.min(axis=1), knives.max(axis=1)
    meet = np.ones((len(starts), len(knives)), dtype=bool)
    for axis in (0, 1):
        meet &= block_low[:, None, axis] <= knife_high[:, axis]
        meet &= block_high[:, None, axis] >= knife_low[:, axis]
    block, knife = np.nonzero(meet)
    cell = (starts[block][:, None] + np.arange(BLOCK)).ravel()
    knife = np.repeat(knife, BLOCK)
    real = cell < len(corners)
    cell, knife = cell[real], knife[real]
    near = (low[cell, 0] <= knife_high[knife, 0]) & (high[cell, 0] >= knife_low[knife, 0])
    near &= (low[cell, 1] <= knife_high[knife, 1]) & (high[cell, 1] >= knife_low[knife, 1])
    cell, knife = cell[near], knife[near]
    hit = ~_parted(corners[cell], knives[knife])
    far = int(owner.max(initial=0)) + 2  # owners start at -1
    both = np.unique(cell[hit] * far + owner[knife[hit]] + 1)
    return Cut(both // far, both % far - 1)


def _parted(triangles: Floats, segments: Floats) -> np.ndarray:
    """Tell which triangles (k, 3, 2) lie wholly to one side of their segment, or it of a side."""
    sides = np.roll(triangles, -1, axis=1) - triangles
    along = segments[:, 1:] - segments[:, :1]
    d = np.concatenate([sides, along], axis=1)
    axes = np.stack([-d[..., 1], d[..., 0]], axis=2)
    axes /= np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-30)[..., None]
    one = np.einsum("kij,kaj->kai", triangles, axes)
    other = np.einsum("kij,kaj->kai", segments, axes)
    gap = np.maximum(one.min(axis=2) - other.max(axis=2), other.min(axis=2) - one.max(axis=2))
    parted: np.ndarray = (gap > NEAR).any(axis=1)
    return parted
