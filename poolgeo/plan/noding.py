"""Noding: lines that cross, touch or nearly coincide come to share their vertices.

Words: a **segment** goes in; a **strand** is the part of a segment between two neighbouring
vertices of the result. Each vertex has a **reach**, `WELD` as a rule: a line that passes it nearer
than that goes through it, and vertices nearer to each other than `APART` reaches become one; a line
that passed one of these goes through what they have become. So no gap and no overlap thinner than
that is left where regions have been rounded, each on its own, and every later question is one of
integers.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..errors import GeometryError
from .keys import are_in, grid_keys, numbered, pair_keys
from .nearness import near_edges, neighbours
from .shapes import crossings
from .tolerances import GRID, WELD

ROUNDS = 20
"""Most rounds; two or three are usual, as snapping bends lines by less than `WELD`."""


@dataclass(frozen=True)
class Segments:
    """Lines to node.

    Args:
        vertices: (n, 2) plan points, different ones on different grid places; of two that weld,
            the first stays where it is [m].
        ends: (m, 2) vertex numbers.
        reach: (n,) how near a line may pass a vertex before it goes through it [m].
        drawn: (n,) vertices that segments may attract.
        attracts: (m,) how near those may pass a segment before it goes through them [m].
        sheet: (m,) segments of one sheet (0 and up) are noded with each other already; -1: none.
        vertex_sheet: (n,) vertices of one sheet never weld.
        side: (m,) bits; segments that share no bit pass each other by.
    """

    vertices: Floats
    ends: Ints
    reach: Floats
    drawn: np.ndarray
    attracts: Floats
    sheet: Ints
    vertex_sheet: Ints
    side: Ints


@dataclass(frozen=True)
class Strands:
    """Noded lines.

    Args:
        vertices: (k, 2) those of the segments first [m].
        number: (n,) vertex that each vertex of the segments has become.
        parent: (s,) segment that each strand is part of.
        ends: (s, 2) vertex numbers, in the direction of the parent.
    """

    vertices: Floats
    number: Ints
    parent: Ints
    ends: Ints


def node(given: Segments) -> Strands:
    """Node segments.

    Args:
        given: The segments.

    Returns:
        Their strands; a segment that is shorter than the grid has none.

    Raises:
        GeometryError: It came to no end (no case is known).
    """
    work = _Noding(given)
    for _ in range(ROUNDS):
        if not work.once():
            return Strands(work.xy, work.alias[: len(given.vertices)], work.parent, work.ends)
    raise GeometryError(work.xy[-1])


class _Noding:
    """The state of one noding."""

    def __init__(self, given: Segments) -> None:
        self.given = given
        self.xy = np.rint(given.vertices / GRID) * GRID
        self.alias = np.arange(len(self.xy))
        self.parent = np.arange(len(given.ends))
        self.ends = given.ends
        self.known: Ints = np.zeros(0, dtype=np.int64)  # edges that have met all others
        self.known_side: Ints = np.zeros(0, dtype=np.int64)  # of the sides that they had then
        self.fresh = self.alias  # vertices that may weld
        self.taken = np.zeros(len(self.xy))  # how far off what became each stood
        self.parted: Ints = np.zeros(0, dtype=np.int64)  # edges that have been split

    def once(self) -> bool:
        """Weld, let edges meet, split them; return whether anything was met."""
        self._weld()
        edges, of_strand = self._edges()
        on, vertex, share = self._met(edges, of_strand, *self._pairs(edges))
        if not len(on):
            return False
        # one that is split now may come back as a part of another, and has to meet all again
        self.parted = np.concatenate([self.parted, self.known[np.unique(on)]])
        self.known, self.known_side = (
            np.delete(item, on) for item in (self.known, self.known_side)
        )
        self._split(edges.ends, of_strand, on, vertex, share)
        return True

    # --- vertices ----------------------------------------------------------------------------

    def _for_all(self, values: np.ndarray, new: float) -> np.ndarray:
        """Return what all vertices have: those given their values, the others ``new``."""
        found = np.full(len(self.xy), new, dtype=values.dtype)
        found[: len(values)] = values
        return found

    def _weld(self) -> None:
        """Give each vertex the number of the nearest before it that lies within reach."""
        a, b = neighbours(self.xy, self.fresh, APART * self._for_all(self.given.reach, WELD))
        sheet = self._for_all(self.given.vertex_sheet, -1)
        kept = (sheet[a] != sheet[b]) | (sheet[a] < 0)
        kept &= (self.alias[a] == a) & (self.alias[b] == b)  # not welded before
        a, b = a[kept], b[kept]
        if len(a):
            to = np.arange(len(self.xy))
            away = np.hypot(*(self.xy[a] - self.xy[b]).T)
            farthest_first = np.argsort(-away)
            to[b[farthest_first]] = a[farthest_first]  # the last one counts: the nearest
            while not np.array_equal(to, to[to]):
                to = to[to]
            self.alias = to[self.alias]
            self.ends = to[self.ends]
            # a line that one stood on goes through what it has become
            moved = np.flatnonzero(to != np.arange(len(to)))
            off = np.hypot(*(self.xy[moved] - self.xy[to[moved]]).T)
            self.taken = self._for_all(self.taken, 0.0)
            np.maximum.at(self.taken, to[moved], off + GRID)
        real = self.ends[:, 0] != self.ends[:, 1]
        self.parent, self.ends = self.parent[real], self.ends[real]

    # --- edges -------------------------------------------------------------------------------

    def _edges(self) -> tuple[_Edges, Ints]:
        """Return the edges on which strands lie, and each strand's edge."""
        every = pair_keys(self.ends[:, 0], self.ends[:, 1], _FAR)
        first, inverse = numbered(every)
        keys = every[first]
        sheet = np.full(len(keys), -1)
        np.maximum.at(sheet, inverse, self.given.sheet[self.parent])
        attracts = np.zeros(len(keys))
        np.maximum.at(attracts, inverse, self.given.attracts[self.parent])
        side = np.zeros(len(keys), dtype=np.int64)
        np.bitwise_or.at(side, inverse, self.given.side[self.parent])
        # one that a strand of another side comes to lie on has that side's lines to meet
        new = ~are_in(keys, self.known)
        at = np.searchsorted(self.known, keys[~new])
        new[~new] = (side[~new] & ~self.known_side[at]) != 0
        self.known, self.known_side = keys, side
        ends = np.column_stack(np.divmod(keys, _FAR))
        parted = are_in(keys, self.parted)
        return _Edges(ends, attracts, sheet, side, new, parted), inverse

    def _pairs(self, edges: _Edges) -> tuple[Ints, Ints]:
        """Return the pairs of edges that may meet, of which one is new."""
        p, q = self.xy[edges.ends[:, 0]], self.xy[edges.ends[:, 1]]
        low, high = np.minimum(p, q).T, np.maximum(p, q).T
        # edges of the first sheet need not ask: others ask them
        sheet = self._for_all(self.given.vertex_sheet, -1)
        bent = (sheet[edges.ends] != edges.sheet[:, None]).any(axis=1)
        is_first = (edges.sheet == 0) & ~bent
        asked = [
            near_edges(low, high, np.flatnonzero(edges.new & ~is_first), np.arange(len(p))),
            near_edges(low, high, np.flatnonzero(~edges.new & ~is_first),
                        np.flatnonzero(edges.new & is_first)),
        ]  # fmt: skip
        i, j = (np.concatenate(both) for both in zip(*asked, strict=True))
        # within a sheet only what others' vertices have bent can have come to meet
        apart = (edges.sheet[i] == edges.sheet[j]) & (edges.sheet[i] >= 0) & ~(bent[i] & bent[j])
        apart |= (edges.side[i] & edges.side[j]) == 0
        apart |= i == j
        i, j = i[~apart], j[~apart]
        twice = (i > j) & edges.new[j] & ~is_first[j]
        return i[~twice], j[~twice]

    def _met(self, edges: _Edges, of_strand: Ints, i: Ints, j: Ints) -> tuple[Ints, Ints, Floats]:
        """Return the vertices to put into edges: edge, vertex, and share of its length."""
        ends = edges.ends
        reach = self._for_all(self.given.reach, WELD)
        reach = np.maximum(reach, self._for_all(self.taken, 0.0))
        drawn = self._for_all(self.given.drawn, False)
        sheet = self._for_all(self.given.vertex_sheet, -2)
        on, vertex, shares = [], [], []
        touched = np.zeros(len(i), dtype=bool)
        for edge, other in ((i, j), (j, i)):
            a, b = self.xy[ends[edge, 0]], self.xy[ends[edge, 1]]
            d = b - a
            size = np.einsum("ij,ij->i", d, d)
            for k in (0, 1):
                v = ends[other, k]
                w = self.xy[v] - a
                share = np.einsum("ij,ij->i", w, d) / size
                off = np.abs(w[:, 0] * d[:, 1] - w[:, 1] * d[:, 0]) / np.sqrt(size)
                own = (v == ends[edge, 0]) | (v == ends[edge, 1])
                pull = np.where(drawn[v], edges.attracts[edge], WELD)
                pull = np.maximum(reach[v], pull)
                near = (off < pull) & (share > 0.0) & (share < 1.0) & ~own
                near &= (sheet[v] != edges.sheet[edge]) | (sheet[v] < 0)
                at_end = self._at_end(ends[edge[near]], v[near], reach)
                near[near] = ~at_end | (off[near] < TOUCHING)
                if len(self.parted):
                    there = np.flatnonzero(near & (off > TOUCHING) & ~edges.parted[edge])
                    near[there] = self._is_of_line(of_strand, edge[there], v[there], pull[there])
                touched |= near | own
                on.append(edge[near])
                vertex.append(v[near])
                shares.append(share[near])
        i, j = i[~touched], j[~touched]
        a, p = self.xy[ends[i, 0]], self.xy[ends[j, 0]]
        d, e = self.xy[ends[i, 1]] - a, self.xy[ends[j, 1]] - p
        meet, t, u = crossings(a, d, p, e)
        places = np.rint((a[meet] + t[meet, None] * d[meet]) / GRID) * GRID
        first, number = numbered(grid_keys(places))
        count = len(self.xy)
        self.fresh = count + np.arange(len(first))
        self.xy = np.concatenate([self.xy, places[first]])
        self.alias = np.concatenate([self.alias, self.fresh])
        on += [i[meet], j[meet]]
        vertex += [count + number, count + number]
        shares += [t[meet], u[meet]]
        return np.concatenate(on), np.concatenate(vertex), np.concatenate(shares)

    def _at_end(self, ends: Ints, vertex: Ints, reach: Floats) -> np.ndarray:
        """Return whether vertices (k,) stand at an end of edges (k, 2) without having welded there.

        They are of one sheet with it, or one of the two draws from farther off, as it has taken
        others in. A line to one goes through the other as little as a line to the other goes
        through the first: else it has no end.
        """
        away = np.hypot(*(self.xy[ends] - self.xy[vertex, None]).transpose(2, 0, 1))
        close = APART * np.maximum(reach[ends], reach[vertex, None])
        found: np.ndarray = (away < close).any(axis=1)
        return found

    def _is_of_line(self, of_strand: Ints, edge: Ints, vertex: Ints, reach: Floats) -> np.ndarray:
        """Return whether vertices (k,) are near the segments of which edges (k,) are parts.

        Near is what lies within its reach (k,) [m], or no farther off than a vertex that the part
        goes through already. Were it measured from the edges alone, a line would be drawn on from
        vertex to vertex along another that leaves it at a small angle, however far that goes.
        """
        if not len(edge):
            return np.zeros(0, dtype=bool)
        asked = np.flatnonzero(np.isin(of_strand, edge))
        asked = asked[np.argsort(of_strand[asked])]
        first = np.searchsorted(of_strand[asked], edge)
        count = np.searchsorted(of_strand[asked], edge, side="right") - first
        begin = np.cumsum(count) - count
        strand = asked[np.arange(count.sum()) + np.repeat(first - begin, count)]
        a, b = self.xy[self.alias[self.given.ends[self.parent[strand]]]].transpose(1, 0, 2)
        d = (b - a) / np.maximum(np.hypot(*(b - a).T), GRID)[:, None]
        w = self.xy[np.column_stack([np.repeat(vertex, count), self.ends[strand]])] - a[:, None]
        off = np.abs(w[..., 0] * d[:, None, 1] - w[..., 1] * d[:, None, 0])
        near = off[:, 0] < np.maximum(np.repeat(reach, count), off[:, 1:].max(axis=1))
        found: np.ndarray = np.logical_or.reduceat(near, begin)
        return found

    def _split(self, ends: Ints, of_strand: Ints, on: Ints, vertex: Ints, share: Floats) -> None:
        """Put vertices into edges, and split the strands on these."""
        order = np.lexsort((vertex, share, on))
        on, vertex = on[order], vertex[order]
        once = np.ones(len(on), dtype=bool)
        once[1:] = (on[1:] != on[:-1]) | (vertex[1:] != vertex[:-1])
        on, vertex = on[once], vertex[once]
        count = np.bincount(on, minlength=len(ends))
        split = count[of_strand] > 0
        strands, edge = np.flatnonzero(split), of_strand[split]
        # every edge as a chain of vertices, one after the other
        size = count + 2
        offset = np.cumsum(size) - size
        chain = np.empty(int(size.sum()), dtype=np.int64)
        chain[offset], chain[offset + size - 1] = ends[:, 0], ends[:, 1]
        chain[offset[on] + 1 + np.arange(len(on)) - (np.cumsum(count) - count)[on]] = vertex
        pieces = count[edge] + 1
        owner = np.repeat(np.arange(len(strands)), pieces)
        step = np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
        at = offset[edge][owner] + step
        both = np.column_stack([chain[at], chain[at + 1]])
        backward = self.ends[strands, 0] != ends[edge, 0]
        both[backward[owner]] = both[backward[owner]][:, ::-1]
        self.ends = np.concatenate([self.ends[~split], both])
        self.parent = np.concatenate([self.parent[~split], self.parent[strands][owner]])


_FAR = 1 << 31

TOUCHING = 2.0 * GRID
"""[m] A line that passes a vertex nearer than this goes through it, wherever its segment does."""

APART = 1.5
"""[-] Reaches that vertices keep apart. Above the square root of 2, a vertex that a line is bent to
sees both its new parts at more than a right angle, and so is met by neither again."""


@dataclass(frozen=True)
class _Edges:
    """Edges (e, 2), lower vertex first, with what holds for any of their strands.

    Args:
        parted: (e,) whether a strand that ran there has been split: another there goes its way.
    """

    ends: Ints
    attracts: Floats
    sheet: Ints
    side: Ints
    new: np.ndarray
    parted: np.ndarray
