"""Whole cells: which of them show, and how they fit into their zones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .cells import Cells
from .layers import Layer
from .linework import WHOLE, Linework
from .noding import Strands
from .paint import Painted
from .partition import Partition


@dataclass(frozen=True)
class Shown:
    """Whole cells that show.

    Args:
        triangles: (c, 3) vertex numbers.
        layer: (c,) their layer.
        part: (c,) their group.
    """

    triangles: Ints
    layer: Ints
    part: Ints


def whole_cells(
    layers: Sequence[Layer],
    work: Linework,
    strands: Strands,
    painted: Painted,
    faces: Partition,
    origin: Ints,
) -> tuple[Floats, Floats, Shown]:
    """Collect the whole cells that show.

    Args:
        layers: In painting order.
        work: What the lines stand for.
        strands: The noded lines.
        painted: What lies on top.
        faces: The partition.
        origin: For each of its faces, one that ``painted`` knows.

    Returns:
        Plan vertices (n, 2) with those inside zones added, heights (layers, n) likewise [m], and
        the cells.
    """
    vertices, heights = [strands.vertices], [painted.heights]
    count = len(strands.vertices)
    triangles, owners, groups = [np.zeros((0, 3), np.int64)], [origin[:0]], [origin[:0]]
    top, is_zone = painted.top[origin], painted.is_zone[origin]
    for n, layer in enumerate(layers):
        zones = np.flatnonzero(is_zone & (top == n))
        if not isinstance(layer.height, Cells) or not len(zones):
            continue
        cells = layer.height
        shown = np.ones(len(cells.triangles), dtype=bool)
        shown[work.cut[n]] = False
        shown = np.flatnonzero(shown)
        if n in painted.hides:
            rings = [faces.rings[i] for i in zones]
            shown = shown[_in_zones(cells, shown, rings, vertices[0][faces.vertex])]
        number = np.where(work.number[n] >= 0, strands.number[work.number[n]], -1)
        inner = np.zeros(len(number), dtype=bool)
        inner[cells.triangles[shown]] = True
        inner &= number < 0
        number[inner] = count + np.arange(inner.sum())
        count += int(inner.sum())
        vertices.append(cells.vertices[inner, :2])
        rows = np.full((len(layers), int(inner.sum())), np.nan)
        rows[n] = cells.vertices[inner, 2]
        heights.append(rows)
        corners, which = _fitted(number[cells.triangles[shown]], n, work, strands)
        triangles.append(corners)
        owners.append(np.full(len(corners), n))
        groups.append(cells.group[shown][which])
    return (
        np.concatenate(vertices),
        np.concatenate(heights, axis=1),
        Shown(np.concatenate(triangles), np.concatenate(owners), np.concatenate(groups)),
    )


def _in_zones(
    cells: Cells, whole: Ints, zones: Sequence[Sequence[Ints]], vertices: Floats
) -> np.ndarray:
    """Return which whole cells lie in zones.

    Cells that follow each other and share an edge lie in one zone, as no line runs between them:
    the largest of them tells.
    """
    corners = cells.triangles[whole]
    same = [corners[1:, i] == corners[:-1, j] for i in range(3) for j in range(3)]
    apart = np.concatenate([[True], np.sum(same, axis=0) != 2])
    run = np.cumsum(apart) - 1
    xy = cells.vertices[:, :2]
    p, q, r = (xy.take(ids, axis=0).T for ids in corners.T)
    area = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    largest = np.flatnonzero(area == np.maximum.reduceat(area, np.flatnonzero(apart))[run])
    largest = largest[np.concatenate([[True], np.diff(run[largest]) > 0])]
    centres = ((p + q + r) / 3.0)[:, largest].T
    found = np.zeros(len(centres), dtype=bool)
    for outer, *holes in zones:
        polygon = shapely.Polygon(vertices[outer], [vertices[hole] for hole in holes])
        shapely.prepare(polygon)
        found |= shapely.contains_xy(polygon, centres)
    shown: np.ndarray = found[run]
    return shown


def _fitted(corners: Ints, n: int, work: Linework, strands: Strands) -> tuple[Ints, Ints]:
    """Split cells at the vertices that other lines have put on their edges.

    Returns:
        Triangles (t, 3), and the row of the cell that each came from (t,).
    """
    rows = np.arange(len(corners))
    between = _between(n, work, strands)
    flagged = np.zeros(max(len(strands.vertices), int(corners.max(initial=0)) + 1), dtype=bool)
    flagged[[a for a, _ in between]] = True
    parts, origins = [], []
    whole = np.ones(len(corners), dtype=bool)
    for row in np.flatnonzero(flagged[corners].sum(axis=1) > 1).tolist():
        cell = corners[row].tolist()
        sides = [between.get((a, b), []) for a, b in zip(cell, cell[1:] + cell[:1], strict=True)]
        if any(sides):
            whole[row] = False
            parts.append(np.array(_fan(cell, sides)))
            origins.append(np.full(len(parts[-1]), row))
    found = np.concatenate([corners[whole], *parts])
    origin = np.concatenate([rows[whole], *origins])
    # corners that have come together leave an edge of it, or two
    real = (found != np.roll(found, 1, axis=1)).all(axis=1)
    if parts:
        real &= ~_folded(found, np.concatenate(parts))
    return found[real], origin[real]


def _folded(triangles: Ints, split: Ints) -> np.ndarray:
    """Return which triangles are the back of another, and which have such a back: neither is there.

    One vertex may lie on two edges of a strip of cells that is thinner than noding can tell.

    Args:
        triangles: (t, 3) vertex numbers.
        split: (k, 3) those of split cells, one of which is in any such pair.
    """
    used = np.zeros(int(triangles.max()) + 1, dtype=bool)
    used[split] = True
    asked = np.flatnonzero(used[triangles].all(axis=1))
    _, inverse, count = np.unique(
        np.sort(triangles[asked], axis=1), axis=0, return_inverse=True, return_counts=True
    )
    found = np.zeros(len(triangles), dtype=bool)
    found[asked] = (count > 1)[inverse.ravel()]
    return found


def _between(n: int, work: Linework, strands: Strands) -> dict[tuple[int, int], list[int]]:
    """Return the vertices put on edges of a cove's whole cells, by the edge's ends, either way."""
    parent = strands.parent
    own = np.flatnonzero((work.owner[parent] == n) & (work.cells[parent] == WHOLE).any(axis=1))
    pieces = np.bincount(parent[own], minlength=len(work.owner))
    own = own[pieces[parent[own]] > 1]
    whole = strands.number[work.segments.ends[parent[own]]]
    start = strands.vertices[whole[:, 0]]
    along = strands.vertices[whole[:, 1]] - start
    place = np.sum((strands.vertices[strands.ends[own, 0]] - start) * along, axis=1)
    order = np.lexsort((place, parent[own]))
    found: dict[tuple[int, int], list[int]] = {}
    rows = zip(whole[order].tolist(), strands.ends[own[order], 0].tolist(), strict=True)
    for (a, b), vertex in rows:
        inner = found.setdefault((a, b), [])
        if vertex != a:
            inner.append(vertex)
    return found | {(b, a): inner[::-1] for (a, b), inner in found.items()}


def _fan(cell: list[int], sides: list[list[int]]) -> list[tuple[int, int, int]]:
    """Triangulate a cell with further vertices on its sides.

    Args:
        cell: Its corners.
        sides: The vertices between each corner and the next.

    Returns:
        Triangles; none has all its corners on one side.
    """
    k = max(range(3), key=lambda i: len(sides[i]))  # the fan goes over the fullest side
    a, b, c = cell[k:] + cell[:k]
    over, after, before = sides[k:] + sides[:k]
    line = [a, *over, b]
    first, last = line[1], line[-2]
    found = [(c, u, v) for u, v in pairwise(line[1:-1])]
    # the fan's outer triangles have the cell's other sides: each is a fan of its own
    around = [c, *before, a]
    found += [(first, u, v) for u, v in pairwise(around)]
    around = [b, *after, c]
    found += [(last, u, v) for u, v in pairwise(around)]
    return found
