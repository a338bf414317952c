"""Tiles that are cut along the borders of faces.

::

     ____ ____ ____       A cell of the grid is a tile with its joint. The border is looked at
    |    |    |    |      every 5 mm: just inside it, and beyond the joint outside it. Where both
    |____|____|__/_|      lie in one cell, the border goes through a tile, which is cut.
    |    |    | /  |
                border

Openings of fittings cut tiles too; these are not counted.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Floats, Ints
from ..design.finishes import Finish
from ..design.movement import MovementJoints
from ..jointing.frame import Frame
from ..jointing.regions import regions_of
from ..model import Model
from .faces import Grid, grid_of
from .shape import border_of

APART = 5e-3
"""[m] Borders are looked at this often."""

BESIDE = 1e-3
"""[m] They are looked at this far inside, and this far beyond a joint outside."""


def frame_of(model: Model) -> Frame:
    """Return the frame of the rows of tiles, as the pool file sets it out."""
    return Frame.of(model.design.pool.movement_joints or MovementJoints())


def cut_tiles_of(model: Model, finishes: Sequence[Finish]) -> dict[int, int]:
    """Return how many tiles of each finish of tile are cut, by its number among the finishes.

    Args:
        model: The pool; its square edges count.
        finishes: In the order of the pool file.
    """
    numbers = [i for i, item in enumerate(finishes) if item.type == "tile"]
    if not numbers:
        return {}
    square = model.square
    region = regions_of(square.surface, square.wet, square.zone, finishes)
    tiled = np.isin(region, numbers)
    if not tiled.any():
        return dict.fromkeys(numbers, 0)
    grid = grid_of(square, region, tiled, frame_of(model))
    half = border_of(square.surface, grid.face)
    owner = region[half // 3]
    return {i: _cut(grid, half[owner == i], finishes[i]) for i in numbers}


def _cut(grid: Grid, half: Ints, finish: Finish) -> int:
    """Return how many tiles the borders of faces go through.

    Args:
        grid: Of the faces.
        half: (k,) half-edges of their borders.
        finish: Of tile.
    """
    tile, joint = finish.tile, finish.joint
    if tile is None or joint is None or not len(half):
        return 0
    triangle, corner = half // 3, half % 3
    places = grid.places[triangle]
    rows = np.arange(len(half))
    start, stop = places[rows, corner], places[rows, (corner + 1) % 3]
    inward = _inward(start, stop, places[rows, (corner + 2) % 3])
    size = np.linalg.norm(stop - start, axis=1)
    count = np.maximum(np.ceil(size / APART), 1.0).astype(np.int64)
    edge = np.repeat(rows, count)
    share = (np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count) + 0.5) / count[edge]
    at = start[edge] + share[:, None] * (stop - start)[edge]
    module = np.array([tile.length + joint, tile.width + joint])
    inside = np.floor((at + BESIDE * inward[edge]) / module).astype(np.int64)
    outside = np.floor((at - (joint + BESIDE) * inward[edge]) / module).astype(np.int64)
    is_cut = (inside == outside).all(axis=1)
    cells = np.column_stack([grid.face[triangle[edge]], inside])[is_cut]
    return len(np.unique(cells, axis=0))


def _inward(start: Floats, stop: Floats, third: Floats) -> Floats:
    """Return unit vectors (k, 2) across sides, towards the third corner; 0 where there is none."""
    along = stop - start
    across = np.column_stack([-along[:, 1], along[:, 0]])
    across *= np.sign(np.einsum("ij,ij->i", across, third - start))[:, None]
    found: Floats = across / np.maximum(np.linalg.norm(across, axis=1), 1e-12)[:, None]
    return found
