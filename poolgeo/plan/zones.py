"""Fitting whole cells into their zone: its border may have vertices that the cells have not."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .curves import Floats
from .tolerances import GRID
from .triangles import triangulate

Ints = np.ndarray


def fitted(
    cells: Ints, rings: Sequence[Ints], vertices: Floats, heights: Floats
) -> tuple[Ints, Ints]:
    """Split cells at the vertices that other lines have put on their zone's border.

    Args:
        cells: (c, 3) vertex numbers.
        rings: Of the zones that they fill.
        vertices: (n, 2) [m].
        heights: (n,) of the cove's surface; completed in place for the vertices put in [m].

    Returns:
        Triangles (t, 3), and the cell that each came from (t,).
    """
    count = len(vertices)
    start, stop = cells.ravel(), cells[:, [1, 2, 0]].ravel()
    border = np.flatnonzero(~np.isin(start * count + stop, stop * count + start))
    ring_start = np.concatenate(rings)
    ring_stop = np.concatenate([np.roll(ring, -1) for ring in rings])
    loose = border[~np.isin(start[border] * count + stop[border], ring_start * count + ring_stop)]
    origin = np.arange(len(cells))
    if not len(loose):
        return cells, origin
    border_vertices = np.unique(ring_start)
    put: dict[int, dict[int, list[int]]] = {}
    for half in loose.tolist():
        between = _between(int(start[half]), int(stop[half]), border_vertices, vertices)
        if between:
            put.setdefault(half // 3, {})[half % 3] = between
            _interpolate(int(start[half]), int(stop[half]), between, vertices, heights)
    parts, origins = [np.delete(cells, list(put), axis=0)], [np.delete(origin, list(put))]
    for cell, sides in put.items():
        loop = [v for k in range(3) for v in (int(cells[cell, k]), *sides.get(k, []))]
        ids = np.array(loop)
        found = triangulate(vertices, [ids])
        parts.append(found)
        origins.append(np.full(len(found), cell))
    return np.concatenate(parts), np.concatenate(origins)


def _between(a: int, b: int, border: Ints, vertices: Floats) -> list[int]:
    """Return the border's vertices that lie on the inside of an edge, in order."""
    along = vertices[b] - vertices[a]
    away = vertices[border] - vertices[a]
    size = float(along @ along)
    share = away @ along / size
    off = np.abs(away[:, 0] * along[1] - away[:, 1] * along[0]) / np.sqrt(size)
    inside = (off < 1.5 * GRID) & (share > 0.0) & (share < 1.0)
    inside &= (border != a) & (border != b)
    found: list[int] = border[inside][np.argsort(share[inside])].tolist()
    return found


def _interpolate(a: int, b: int, between: list[int], vertices: Floats, heights: Floats) -> None:
    along = vertices[b] - vertices[a]
    for v in between:
        if np.isnan(heights[v]):
            share = float((vertices[v] - vertices[a]) @ along) / float(along @ along)
            heights[v] = heights[a] + share * (heights[b] - heights[a])
