"""Chaining edges into maximal polylines."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..arrays import Floats, Ints
from ..plan.keys import numbered
from ..plan.shapes import nearest_on
from ..plan.strides import lowest, walk
from ..plan.turning import corners_in

NONE = -1
"""No half-edge."""

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
        corner: Least turn that breaks a chain [rad], taken over `NOISE` either way; pi: none does.

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
    corners = corners_in(vertices[line], last, NOISE, corner) if corner < np.pi else line[:0]
    of_chain = np.split(corners, np.searchsorted(corners, last[:-1], side="right"))
    found = []
    for k, mine in enumerate(of_chain):
        a, b = bounds[k], bounds[k + 1]
        chain = Chain(int(sorts[edges[a - k]]), line[a:b], edges[a - k : b - k - 1])
        if len(mine):
            found += [_forward(part, rank) for part in _broken(chain, mine - a)]
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


def stations_on(outline: Floats, points: Floats) -> tuple[Ints, Floats]:
    """Return where places stand along an outline, as run numbers count it.

    Args:
        outline: (n, 2) closed, the first point not repeated [m].
        points: (k, 2) [m].

    Returns:
        (k,) stations from the first point on, in tenths of a metre, and (k,) how far off it the
        places lie [m].
    """
    at, away = along_outline(outline, points)
    return np.rint(at * 10.0).astype(np.int64), away


def along_outline(outline: Floats, points: Floats) -> tuple[Floats, Floats]:
    """Return how far along an outline places lie (k,) [m], and how far off it (k,) [m].

    Args:
        outline: (n, 2) closed, the first point not repeated [m].
        points: (k, 2) [m].
    """
    steps = step_lengths(np.concatenate([outline, outline[:1]]))
    edge, share, away = nearest_on(outline, points)
    return (np.cumsum(steps) - steps)[edge] + share * steps[edge], away


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


def _broken(chain: Chain, corners: Ints) -> list[Chain]:
    """Break a chain at its corners; a closed one is turned to start at its first corner."""
    line, edges = chain.vertices, chain.edges
    if line[0] == line[-1]:
        line = np.concatenate([line[corners[0] :], line[1 : corners[0] + 1]])
        edges = np.roll(edges, -corners[0])
        corners = corners[1:] - corners[0]
    bounds = [0, *corners.tolist(), len(edges)]
    return [Chain(chain.sort, line[a : b + 1], edges[a:b]) for a, b in pairwise(bounds)]
