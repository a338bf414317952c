"""Chaining edges into maximal polylines."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..model import Floats, Ints
from ..plan.keys import numbered
from ..plan.strides import lowest, walk

NONE = -1

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
    is_used = np.zeros(len(vertices), dtype=bool)
    is_used[ends] = True
    used = np.flatnonzero(is_used)
    rank = np.empty(len(vertices), dtype=np.int64)
    rank[used[np.lexsort(np.round(vertices[used], 4).T[::-1])]] = np.arange(len(used))
    # nodes rise by sort, then by place
    _, node = numbered((sorts[:, None] * len(vertices) + rank[ends]).ravel())
    halves, first = _walks(node.reshape(-1, 2))
    # all chains one after the other, each with its last vertex
    count = np.diff(np.append(first, len(halves)))
    walk = np.repeat(np.arange(len(first)), count)
    line = np.empty(len(halves) + len(first), dtype=np.int64)
    line[np.arange(len(halves)) + walk] = ends.ravel()[halves]
    last = first + count + np.arange(len(first))
    line[last] = ends[:, ::-1].ravel()[halves[first + count - 1]]
    edges, bounds = halves // 2, [0, *(last + 1).tolist()]
    found = []
    for k, turns in enumerate(_may_turn(vertices[line], last, corner)):
        a, b = bounds[k], bounds[k + 1]
        chain = Chain(int(sorts[edges[a - k]]), line[a:b], edges[a - k : b - k - 1])
        if turns:
            found += [_forward(part, rank) for part in _broken(chain, vertices, corner)]
        else:
            found.append(chain)
    return found


def _walks(pairs: Ints) -> tuple[Ints, Ints]:
    """Walk over edges from node to node, as long as no other edge is there.

    Half-edge 2 e walks edge e from its first node to its second, 2 e + 1 back.

    Args:
        pairs: (e, 2) nodes of each edge.

    Returns:
        (e,) half-edges, walk after walk, each from its lower end; a ring starts at its lowest node
        and goes to the lower of its neighbours. And the place at which each walk starts.
    """
    start, stop = pairs.ravel(), pairs[:, ::-1].ravel()
    half = np.arange(len(start))
    out = np.argsort(start, kind="stable")
    twice = np.bincount(start)[start[out]] == 2
    other = np.full(len(start), NONE)
    other[out[twice]] = out[twice].reshape(-1, 2)[:, ::-1].ravel()
    after = other[half ^ 1]
    stops = after == NONE
    low, reached = lowest(np.where(stops, half, after), start)
    # a ring is cut where it comes back to its lowest node
    end, far = walk(after, stops | (~stops[reached] & (stop == low)))
    begins = np.flatnonzero(far == np.bincount(end, minlength=len(half))[end] - 1)
    back = end[begins] ^ 1  # the same walk the other way begins with it
    one, two = (np.stack([start[at], stop[at], at]) for at in (begins, back))
    forward = one[2] < two[2]
    for key in (1, 0):
        forward = np.where(one[key] == two[key], forward, one[key] < two[key])
    kept = np.zeros(len(half), dtype=bool)
    kept[end[begins[forward]]] = True
    mine = np.flatnonzero(kept[end])
    order = mine[np.lexsort((-far[mine], end[mine]))]
    return order, np.flatnonzero(np.concatenate([[True], end[order][1:] != end[order][:-1]]))


def _may_turn(points: Floats, last: Ints, corner: float) -> list[bool]:
    """Tell which polylines may have corners.

    Args:
        points: (n, 3) of all, one after the other [m].
        last: (k,) the last point of each.
        corner: Least turn of a corner [rad].

    Returns:
        For each whether it turns somewhere, or has short steps.
    """
    first = np.concatenate([[0], last[:-1] + 1])
    step = np.diff(points, axis=0)
    length = np.sqrt(np.einsum("ij,ij->i", step, step))
    # a closed line also turns where it starts: its last step comes before its first
    before = np.arange(len(step)) - 1
    before[first] = last - 1
    cosine = np.einsum("ij,ij->i", step, step[before]) / np.maximum(length * length[before], 1e-30)
    turns = cosine < np.cos(corner)
    turns[first] &= (points[first] == points[last]).all(axis=1)
    turns |= length < 2.0 * NOISE
    turns[last[:-1]] = False  # from one line to the next
    found: list[bool] = np.logical_or.reduceat(turns, first).tolist()
    return found


def step_lengths(points: Floats) -> Floats:
    """Return the lengths (k,) of the pieces of a polyline (k + 1, 3) [m]."""
    steps = points[1:] - points[:-1]
    lengths: Floats = np.sqrt(np.einsum("ij,ij->i", steps, steps))
    return lengths


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
