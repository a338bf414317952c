"""Chaining edges into maximal polylines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..model import Floats, Ints

NOISE = 5e-5
"""[m] Steps of a chain shorter than this may come from snapping; its turns look past them."""


@dataclass(frozen=True)
class Chain:
    """A maximal polyline of edges of one sort.

    Args:
        sort: The sort of its edges.
        vertices: (k + 1,) vertex numbers; a closed chain repeats its first.
        edges: (k,) edge numbers.
    """

    sort: int
    vertices: Ints
    edges: Ints


def chains_of(ends: Ints, sorts: Ints, vertices: Floats, corner: float) -> list[Chain]:
    """Chain edges of one sort into polylines that are unbroken but at corners and branches.

    Args:
        ends: (e, 2) vertex numbers.
        sorts: (e,) sort of each edge.
        vertices: (n, 3) [m].
        corner: Least turn that breaks a chain [rad]; turns are taken over `NOISE` either way.

    Returns:
        Chains. Each starts at its lowest end by x, then y, then z (a closed one without corners at
        its lowest vertex), so that the same geometry gives the same chains.
    """
    if not len(ends):
        return []
    used = np.unique(ends)
    rank = np.empty(len(vertices), dtype=np.int64)
    rank[used[np.lexsort(np.round(vertices[used], 4).T[::-1])]] = np.arange(len(used))
    nodes, at = np.unique(
        (sorts[:, None] * len(vertices) + rank[ends]).ravel(), return_inverse=True
    )  # nodes rise by sort, then by place
    pairs = at.reshape(-1, 2)
    order = np.argsort(pairs.ravel(), kind="stable")
    degree = np.bincount(pairs.ravel(), minlength=len(nodes))
    first = np.concatenate([[0], np.cumsum(degree)])
    walker = _Walker(pairs.tolist(), (order // 2).tolist(), first.tolist(), degree.tolist())
    vertex = np.empty(len(nodes), dtype=np.int64)
    vertex[pairs.ravel()] = ends.ravel()
    whole = [
        Chain(int(sorts[edges[0]]), vertex[line], np.array(edges)) for line, edges in walker.walks()
    ]
    found = []
    for chain, turns in zip(whole, _may_turn(whole, vertices, corner), strict=True):
        parts = _broken(chain, vertices, corner) if turns else [chain]
        found += [_forward(part, rank) for part in parts]
    return found


def _may_turn(chains: list[Chain], vertices: Floats, corner: float) -> list[bool]:
    """Tell which chains may have corners: those that turn somewhere, or have short steps."""
    line = np.concatenate([item.vertices for item in chains])
    size = np.array([len(item.vertices) for item in chains])
    first = np.cumsum(size) - size
    step = np.diff(vertices[line], axis=0)
    length = np.sqrt(np.einsum("ij,ij->i", step, step))
    # a closed chain also turns where it starts: its last step comes before its first
    before = np.arange(len(step)) - 1
    before[first] = first + size - 2
    inner = np.ones(len(step), dtype=bool)
    inner[first[1:] - 1] = False
    cosine = np.einsum("ij,ij->i", step, step[before]) / np.maximum(length * length[before], 1e-30)
    closed = np.array([item.vertices[0] == item.vertices[-1] for item in chains])
    turns = cosine < np.cos(corner)
    turns[first[~closed]] = False
    turns = inner & (turns | (length < 2.0 * NOISE))
    found: list[bool] = np.logical_or.reduceat(turns, first).tolist()
    return found


def step_lengths(points: Floats) -> Floats:
    """Return the lengths (k,) of the pieces of a polyline (k + 1, 3) [m]."""
    lengths: Floats = np.sqrt(np.sum(np.diff(points, axis=0) ** 2, axis=1))
    return lengths


class _Walker:
    """Walks over edges from node to node."""

    def __init__(
        self, pairs: list[list[int]], around: list[int], first: list[int], degree: list[int]
    ) -> None:
        self.pairs, self.around, self.first, self.degree = pairs, around, first, degree
        self.left = [True] * len(pairs)

    def walks(self) -> Iterator[tuple[list[int], list[int]]]:
        """Yield nodes and edges of every walk: open ones first, then rings."""
        for within_ring in (False, True):
            for node, degree in enumerate(self.degree):
                if (degree == 2) is within_ring:
                    for k in range(self.first[node], self.first[node + 1]):
                        if self.left[self.around[k]]:
                            yield self._walk(node, self.around[k])

    def _walk(self, node: int, edge: int) -> tuple[list[int], list[int]]:
        line, edges = [node], []
        while self.left[edge]:
            self.left[edge] = False
            edges.append(edge)
            a, b = self.pairs[edge]
            node = b if a == node else a
            line.append(node)
            if self.degree[node] != 2:
                break
            one, other = self.around[self.first[node] : self.first[node] + 2]
            edge = other if one == edge else one
        return line, edges


def _forward(chain: Chain, rank: Ints) -> Chain:
    """Return a chain that starts at its lower end."""
    line = chain.vertices
    if line[0] == line[-1] or rank[line[0]] <= rank[line[-1]]:
        return chain
    return Chain(chain.sort, line[::-1], chain.edges[::-1])


def _broken(chain: Chain, vertices: Floats, corner: float) -> list[Chain]:
    """Break a chain at its corners; a closed one is turned to start at its first corner."""
    line, edges = chain.vertices, chain.edges
    if len(edges) < 2:
        return [chain]
    closed = bool(line[0] == line[-1])
    corners = _corners(vertices[line], corner, closed=closed)
    if not len(corners):
        return [chain]
    if closed:
        line = np.concatenate([line[corners[0] :], line[1 : corners[0] + 1]])
        edges = np.roll(edges, -corners[0])
        corners = corners[1:] - corners[0]
    bounds = [0, *corners.tolist(), len(edges)]
    return [Chain(chain.sort, line[a : b + 1], edges[a:b]) for a, b in pairwise(bounds)]


def _corners(points: Floats, corner: float, *, closed: bool) -> Ints:
    """Places at which a polyline turns, looking past wiggles shorter than `NOISE`."""
    steps = step_lengths(points)
    at = np.concatenate([[0.0], np.cumsum(steps)])
    total = at[-1]
    if total < 4.0 * NOISE:
        return np.zeros(0, dtype=np.int64)
    wanted = np.stack([at - NOISE, at + NOISE])
    wanted = wanted % total if closed else np.minimum(np.maximum(wanted, 0.0), total)
    near = np.stack([np.interp(wanted.ravel(), at, points[:, i]) for i in range(3)], axis=1)
    before, after = points - near[: len(at)], near[len(at) :] - points
    size = np.sqrt(np.sum(before**2, axis=1) * np.sum(after**2, axis=1))
    cosine = np.sum(before * after, axis=1) / np.maximum(size, 1e-30)
    turns = (cosine < np.cos(corner)) & (size > 1e-18)
    turns[-1] = False
    if not closed:
        turns[0] = False
    found: list[int] = []
    for i in np.flatnonzero(turns).tolist():
        if found and at[i] - at[found[-1]] < 2.0 * NOISE:
            if cosine[i] < cosine[found[-1]]:
                found[-1] = i
            continue
        found.append(i)
    return np.array(found, dtype=np.int64)
