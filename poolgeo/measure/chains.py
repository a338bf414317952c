"""Chaining edges into maximal polylines."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from ..model import Floats, Ints

NOISE = 5e-5
"""[m] Steps of a chain shorter than this may come from snapping; its turns look past them."""


def chains_of(ends: Ints, vertices: Floats, corner: float) -> list[Ints]:
    """Chain edges into polylines that are unbroken but at corners and branches.

    Args:
        ends: (e, 2) vertex numbers of edges of one sort.
        vertices: (n, 3) [m].
        corner: Least turn that breaks a chain [rad]; turns are taken over `NOISE` either way.

    Returns:
        For each chain its edges in order as (k + 1,) vertex numbers; a closed chain repeats its
        first vertex. Chains start at their lowest end by x, then y, then z (a closed one at its
        lowest vertex), so that the same geometry gives the same chains.
    """
    joined = _joined(ends)
    near: dict[int, list[int]] = defaultdict(list)
    for a, b in ends.tolist():
        near[a].append(b)
        near[b].append(a)
    left = {(min(a, b), max(a, b)) for a, b in ends.tolist()}
    rank = np.empty(len(vertices), dtype=np.int64)
    used = np.unique(ends)
    place = np.round(vertices[used], 4)
    rank[used[np.lexsort(place.T[::-1])]] = np.arange(len(used))

    def walk(start: int, follow: int) -> list[int]:
        line = [start, follow]
        left.discard((min(start, follow), max(start, follow)))
        while line[-1] in joined and line[-1] != start:
            a, b = joined[line[-1]]
            step = a if b == line[-2] else b
            edge = (min(line[-1], step), max(line[-1], step))
            if edge not in left:
                break
            left.discard(edge)
            line.append(step)
        return line

    found = []
    for vertex in sorted(near, key=lambda v: rank[v]):
        if vertex not in joined:
            for other in sorted(near[vertex], key=lambda v: rank[v]):
                if (min(vertex, other), max(vertex, other)) in left:
                    found.append(walk(vertex, other))
    for vertex in sorted(near, key=lambda v: rank[v]):
        for other in sorted(near[vertex], key=lambda v: rank[v]):
            if (min(vertex, other), max(vertex, other)) in left:
                found.append(walk(vertex, other))
    return [part for line in found for part in _broken(np.array(line), vertices, corner)]


def _joined(ends: Ints) -> dict[int, tuple[int, int]]:
    """For each vertex with two edges, its two neighbours."""
    both = np.concatenate([ends, ends[:, ::-1]])
    both = both[np.argsort(both[:, 0], kind="stable")]
    _, first, count = np.unique(both[:, 0], return_index=True, return_counts=True)
    pairs = first[count == 2]
    return {
        int(m): (int(a), int(b))
        for m, a, b in zip(both[pairs, 0], both[pairs, 1], both[pairs + 1, 1], strict=True)
    }


def _broken(line: Ints, vertices: Floats, corner: float) -> list[Ints]:
    """Break a polyline at its corners; a closed one is turned to start at its first corner."""
    closed = line[0] == line[-1]
    corners = _corners(vertices[line], corner, closed=bool(closed))
    if not len(corners):
        return [line]
    if closed:
        line = np.concatenate([line[corners[0] :], line[1 : corners[0] + 1]])
        corners = np.append(corners[1:] - corners[0], len(line) - 1)
        corners = corners[corners < len(line) - 1]
    bounds = [0, *corners.tolist(), len(line) - 1]
    return [line[a : b + 1] for a, b in zip(bounds[:-1], bounds[1:], strict=True)]


def _corners(points: Floats, corner: float, *, closed: bool) -> Ints:
    """Places at which a polyline turns, looking past wiggles shorter than `NOISE`."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    at = np.concatenate([[0.0], np.cumsum(steps)])
    total = at[-1]
    if len(points) < 3 or total < 4.0 * NOISE:
        return np.zeros(0, dtype=np.int64)
    wanted = np.stack([at - NOISE, at + NOISE])
    wanted = wanted % total if closed else np.clip(wanted, 0.0, total)
    back, ahead = (np.stack([np.interp(item, at, points[:, i]) for i in range(3)], axis=1)
                   for item in wanted)  # fmt: skip
    before, after = points - back, ahead - points
    size = np.linalg.norm(before, axis=1) * np.linalg.norm(after, axis=1)
    cosine = np.sum(before * after, axis=1) / np.maximum(size, 1e-30)
    turns = (cosine < np.cos(corner)) & (size > 1e-18)
    if not closed:
        turns[[0, -1]] = False
    else:
        turns[-1] = False
    found: list[int] = []
    for i in np.flatnonzero(turns).tolist():
        if found and at[i] - at[found[-1]] < 2.0 * NOISE:
            if cosine[i] < cosine[found[-1]]:
                found[-1] = i
            continue
        found.append(i)
    return np.array(found, dtype=np.int64)
