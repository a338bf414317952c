r"""All sections of the ground along an axis at once: how long the longest bay is on each.

A plane comes into a triangle over the edge that rises through it, going round anticlockwise, and
leaves over the one that falls, into the next triangle::

        \\      /\\      /
    -----o----o--o----o-----   links to the right; cut at joints and where a bay ends
          \\  /    \\  /

So the segments of all sections are chains, linked by whole numbers, and lengths add up along them
by doubling the links.

Between two neighbouring vertices along the axis each part of a section is as long as a vector that
changes evenly. Such lengths, and what they add up to, are largest at either end. So a bay is never
longer than what stands beside the vertices, or beside the places where joints end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from ..plan.keys import are_in
from .frame import UP
from .ground import Ground
from .tracks import Track

CLOSE = 4
"""Decimals of coordinates [m] that are told apart: of what stands closer, one is looked beside."""

BESIDE = 0.6e-4
"""[m] Planes lie so far beside vertices: not among those that were taken for one."""

AT_ONCE = 400_000
"""Segments that are looked at together, about."""


@dataclass(frozen=True)
class Sweep:
    """The longest bays along an axis.

    Args:
        axis: Which coordinate of the frame the planes hold.
        at: Their values there, rising (n,) [m].
        longest: Longest bay on each (n,) [m].
    """

    axis: int
    at: Floats
    longest: Floats

    def worst(self, limit: float, spacing: float) -> Floats:
        """Return where bays are longer than a limit: the worst place in each stretch (k,) [m].

        Args:
            limit: [m].
            spacing: Length of the stretches [m].
        """
        rows = np.flatnonzero(self.longest > limit)
        stretch = np.floor(self.at[rows] / spacing)
        order = np.lexsort([-self.longest[rows], stretch])
        _, first = np.unique(stretch[order], return_index=True)
        return np.sort(self.at[rows[order[first]]])


def sweeps(ground: Ground, breaks: Ints, tracks: Sequence[Track]) -> tuple[Sweep, ...]:
    """Return the longest bays along each axis.

    Args:
        ground: What is looked at.
        breaks: Keys of the mesh edges at which a bay ends.
        tracks: Joints across it.
    """
    ends = [track.points[track.turns(ground.seams)] for track in tracks]
    ends.append(ground.mesh.vertices[np.unique(ground.mesh.triangles)])
    places = ground.frame.coordinates(np.concatenate(ends))
    found = []
    for axis in range(3):
        values = np.unique(np.round(places[:, axis], CLOSE))
        at = np.unique(np.concatenate([values - BESIDE, values + BESIDE]))
        found.append(Sweep(axis, at, _Chains(ground, axis, at, breaks).longest(tracks)))
    return tuple(found)


@dataclass(frozen=True)
class _Chains:
    """The segments of all sections of an axis.

    Of a triangle the planes below its middle corner are told from those above: they leave it by
    other edges. Arrays of both, (2 t,), have the two one after the other.

    Args:
        ground: What is cut.
        axis: Which coordinate the planes hold.
        at: Their values there, rising (n,) [m].
        breaks: Keys of the mesh edges at which a bay ends.
    """

    ground: Ground
    axis: int
    at: Floats
    breaks: Ints

    @cached_property
    def own(self) -> Ints:
        """(t,) The triangles whose bays are limited."""
        ground = self.ground  # on a floor a level section is a contour, and follows no row
        return np.flatnonzero(ground.asks & ground.stands if self.axis == UP else ground.asks)

    @cached_property
    def value(self) -> Floats:
        """(t, 3) The coordinate of each corner [m]."""
        found: Floats = self.ground.points[self.ground.mesh.triangles[self.own], self.axis]
        return found

    @cached_property
    def order(self) -> Ints:
        """(t, 3) The corners from the lowest to the highest."""
        return np.argsort(self.value, axis=1)

    @cached_property
    def rising(self) -> Floats:
        """(t, 3) Their coordinates [m]."""
        return np.take_along_axis(self.value, self.order, axis=1)

    @cached_property
    def rank(self) -> Ints:
        """(t, 3) The first plane above each, the lowest corner first."""
        return np.searchsorted(self.at, self.rising)

    @cached_property
    def sides(self) -> tuple[Ints, Ints]:
        """(2 t,) The corners at which the edges start that rise, and that fall, through planes."""
        below = np.empty((len(self.own), 2, 3), dtype=bool)
        middle = self.rising[:, 1:2]
        # of equal ones either may count as below: no plane goes between
        below[:, 0], below[:, 1] = self.value < middle, self.value <= middle
        after = np.roll(below, -1, axis=2)
        up, down = (below & ~after).argmax(axis=2), (~below & after).argmax(axis=2)
        return up.ravel(), down.ravel()

    @cached_property
    def edges(self) -> tuple[Ints, Ints]:
        """(2, 2 t) The vertices at which these edges start and end: that rise, and that fall."""
        corners = np.repeat(self.ground.mesh.triangles[self.own], 2, axis=0)
        rows = np.arange(len(corners))
        up, down = (np.stack([corners[rows, k], corners[rows, (k + 1) % 3]]) for k in self.sides)
        return up, down

    @cached_property
    def row(self) -> Ints:
        """(m,) The number of each triangle of the ground among `own`; -1 for the others."""
        found = np.full(len(self.ground.mesh.triangles), -1)
        found[self.own] = np.arange(len(self.own))
        return found

    @cached_property
    def beyond(self) -> Ints:
        """(2 t,) The triangle, among `own`, into which planes leave each; -1 where a bay ends."""
        mesh, keys = self.ground.mesh, self.ground.inner
        by_two = (np.diff(keys, prepend=-1) != 0) & (np.diff(keys, append=-1) != 0)
        shared = np.flatnonzero(by_two & ~are_in(keys, self.breaks))
        own = np.repeat(self.own, 2)
        key = mesh.edge_keys()[3 * own + self.sides[1]]
        rows = np.flatnonzero(are_in(key, keys[shared]))
        one, other = mesh.pairs[1][:, shared[np.searchsorted(keys[shared], key[rows])]]
        found = np.full(len(own), -1)
        found[rows] = self.row[one + other - own[rows]]
        return found

    @cached_property
    def growth(self) -> tuple[Floats, Floats]:
        """(2 t,) How fast segments grow along the axis [-], and where there is nothing of them [m].

        They grow from the lowest corner to the middle one, and shrink to the highest.
        """
        low, middle, high = self.rising.T
        corners = np.take_along_axis(self.ground.mesh.triangles[self.own], self.order, axis=1)
        p, q, r = self.ground.mesh.vertices[corners].transpose(1, 0, 2)
        share = (middle - low) / np.maximum(high - low, 1e-15)
        size = np.linalg.norm(p + share[:, None] * (r - p) - q, axis=1)
        up, down = np.maximum(middle - low, 1e-15), np.maximum(high - middle, 1e-15)
        return np.stack([size / up, -size / down], axis=1).ravel(), np.stack([low, high], 1).ravel()

    def longest(self, tracks: Sequence[Track]) -> Floats:
        """Return the longest bay on each plane between some joints (n,) [m]."""
        count = np.zeros(len(self.at) + 1, dtype=np.int64)
        np.add.at(count, self.rank[:, 0], 1)
        np.add.at(count, self.rank[:, 2], -1)
        done = np.cumsum(np.cumsum(count)[:-1])
        found = np.zeros(len(self.at))
        start = 0
        while start < len(self.at):
            before = int(done[start - 1]) if start else 0
            stop = max(int(np.searchsorted(done, before + AT_ONCE, "right")), start + 1)
            part = _Part(self, start, stop)
            for plane, length in part.bays(tracks):
                np.maximum.at(found, plane, length)
            start = stop
        return found


@dataclass(frozen=True)
class _Part:
    """The segments of the planes from one number up to, not with, another."""

    whole: _Chains
    start: int
    stop: int

    @cached_property
    def first(self) -> Ints:
        """(t,) The first of these planes that cuts each triangle."""
        return np.clip(self.whole.rank[:, 0], self.start, self.stop)

    @cached_property
    def count(self) -> Ints:
        """(t,) How many of them cut it."""
        found: Ints = np.clip(self.whole.rank[:, 2], self.start, self.stop) - self.first
        return found

    @cached_property
    def base(self) -> Ints:
        """(t,) The number of a triangle's segment in a plane, less the number of that plane."""
        return np.cumsum(self.count) - self.count - self.first

    @cached_property
    def triangle(self) -> Ints:
        """(s,) The triangle of each segment."""
        return np.repeat(np.arange(len(self.count)), self.count)

    @cached_property
    def plane(self) -> Ints:
        """(s,) The plane of each."""
        found: Ints = np.arange(len(self.triangle)) - self.base[self.triangle]
        return found

    @cached_property
    def half(self) -> Ints:
        """(s,) Its place in arrays of what is below and above the middle corner."""
        found: Ints = 2 * self.triangle + (self.plane >= self.whole.rank[self.triangle, 1])
        return found

    @cached_property
    def length(self) -> Floats:
        """(s,) [m]."""
        growth, zero = self.whole.growth
        found: Floats = growth[self.half] * (self.whole.at[self.plane] - zero[self.half])
        return found

    def bays(self, tracks: Sequence[Track]) -> Iterator[tuple[Ints, Floats]]:
        """Yield planes (k,) with lengths of bays on them (k,) [m], no longer than the longest."""
        size, nothing = len(self.triangle), len(self.triangle)
        cut, far = self._cuts(tracks)
        fresh = np.flatnonzero(np.diff(cut, prepend=-1))
        last = np.flatnonzero(np.diff(cut, append=size))
        inner = np.flatnonzero(np.diff(cut) == 0)
        yield self.plane[cut[inner]], np.diff(far)[inner]
        # what of a cut segment lies before the first joint is the end of a chain, by itself;
        # what lies behind the last one is the beginning of the next
        weight = np.concatenate([self.length, [0.0], far[fresh]])
        weight[cut[last]] -= far[last]
        enter = np.arange(size + 1)
        enter[cut[fresh]] = size + 1 + np.arange(len(fresh))
        beyond = self.whole.beyond[self.half]
        link = np.where(beyond >= 0, self.base[beyond] + self.plane, nothing)
        link = np.concatenate([enter[link], np.full(1 + len(fresh), nothing)])
        plane = np.concatenate([self.plane, [self.start], self.plane[cut[fresh]]])
        rounds = int(np.bincount(self.plane).max(initial=1)).bit_length() + 1
        yield plane, _summed(weight, link, nothing, rounds)

    def _cuts(self, tracks: Sequence[Track]) -> tuple[Ints, Floats]:
        """Return the segments that joints cut (c,), rising, and how far along each (c,) [m]."""
        found, far = [np.zeros(0, dtype=np.int64)], [np.zeros(0)]
        for track in tracks:
            mine = self.whole.row[np.unique(track.triangles)]
            mine = mine[mine >= 0]
            count = self.count[mine]
            step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
            segments = np.repeat((self.base + self.first)[mine], count) + step
            rows, share = track.cuts(self._ends(segments, 0), self._ends(segments, 1))
            found.append(segments[rows])
            far.append(share * self.length[segments[rows]])
        segments, places = np.concatenate(found), np.concatenate(far)
        order = np.lexsort([places, segments])
        return segments[order], places[order]

    def _ends(self, segments: Ints, way: int) -> Floats:
        """Return one end of segments (k, 3): 0 where they come in, 1 where they leave [m]."""
        whole, mesh = self.whole, self.whole.ground.mesh
        p, q = whole.edges[way].take(self.half[segments], axis=1)
        value = whole.ground.points[:, whole.axis]
        i, j = value.take(p), value.take(q)
        share = (whole.at.take(self.plane[segments]) - i) / (j - i)
        start = mesh.vertices.take(p, axis=0)
        found: Floats = start + share[:, None] * (mesh.vertices.take(q, axis=0) - start)
        return found


def _summed(weight: Floats, link: Ints, nothing: int, rounds: int) -> Floats:
    """Return what adds up from each thing on along a chain (n,).

    Args:
        weight: (n,) of each thing.
        link: (n,) the next one.
        nothing: What comes after the last one.
        rounds: No chain is longer than 2 to this power; what is, is a ring.
    """
    total, far = weight.copy(), link.copy()
    for _ in range(rounds):
        live = np.flatnonzero(far != nothing)
        if not len(live):
            return total
        after = far[live]
        total[live] += total[after]
        far[live] = far[after]
    ring = np.flatnonzero(far != nothing)
    label, far = np.arange(len(link)), link.copy()
    for _ in range(rounds):
        label[ring] = np.minimum(label[ring], label[far[ring]])
        far[ring] = far[far[ring]]
    total[ring] = np.bincount(label[ring], weight[ring], len(link))[label[ring]]
    return total
