"""Fitting whole cells into their zone: its border may have vertices that the cells have not."""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from .curves import Floats
from .tolerances import GRID

Ints = np.ndarray

LONGEST = 200
"""Most border vertices looked at between the two ends of one cell's edge."""


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
    after: dict[int, list[int]] = {}
    for a, b in zip(ring_start.tolist(), ring_stop.tolist(), strict=True):
        after.setdefault(a, []).append(b)
    put: dict[int, dict[int, list[int]]] = {}
    for half in loose.tolist():
        between = _walk(after, int(start[half]), int(stop[half]), vertices)
        if between:
            put.setdefault(half // 3, {})[half % 3] = between
            _interpolate(int(start[half]), int(stop[half]), between, vertices, heights)
    parts, origins = [np.delete(cells, list(put), axis=0)], [np.delete(origin, list(put))]
    for cell, sides in put.items():
        loop = [v for k in range(3) for v in (int(cells[cell, k]), *sides.get(k, []))]
        ids = np.array(loop)
        found = ids[manifold3d.triangulate([vertices[ids]], GRID / 4.0)]
        parts.append(found)
        origins.append(np.full(len(found), cell))
    return np.concatenate(parts), np.concatenate(origins)


def _walk(after: dict[int, list[int]], a: int, b: int, vertices: Floats) -> list[int]:
    """Vertices of the border between two ends of a straight edge; none if it leads elsewhere."""
    along = vertices[b] - vertices[a]
    found: list[int] = []
    here = a
    for _ in range(LONGEST):
        ways = after.get(here, [])
        if not ways:
            return []
        here = max(ways, key=lambda v: float((vertices[v] - vertices[here]) @ along)
                   / max(float(np.hypot(*(vertices[v] - vertices[here]))), 1e-12))  # fmt: skip
        if here == b:
            return found
        found.append(here)
    return []


def _interpolate(a: int, b: int, between: list[int], vertices: Floats, heights: Floats) -> None:
    along = vertices[b] - vertices[a]
    for v in between:
        if np.isnan(heights[v]):
            share = float((vertices[v] - vertices[a]) @ along) / float(along @ along)
            heights[v] = heights[a] + share * (heights[b] - heights[a])
