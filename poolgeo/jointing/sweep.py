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

from ..arrays import Bools, Floats, Ints
from ..plan.keys import are_in
from ..plan.tolerances import GRID
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
    def rank(self) -> Ints:
        """(t, 3) The first plane above each corner, the lowest corner first."""
        return np.sort(np.searchsorted(self.at, self.value), axis=1)

    @cached_property
    def sides(self) -> tuple[Ints, Ints]:
        """(2 t,) The corners at which the edges start that rise, and that fall, through planes."""
        below = np.empty((len(self.own), 2, 3), dtype=bool)
        middle = np.sort(self.value, axis=1)[:, 1:2]
        # of equal ones either may count as below: no plane goes between
        below[:, 0], below[:, 1] = self.value < middle, self.value <= middle
        after = np.roll(below, -1, axis=2)
        up, down = (below & ~after).argmax(axis=2), (~below & after).argmax(axis=2)
        return up.ravel(), down.ravel()

    @cached_property
    def beyond(self) -> Ints:
        """(2 t,) The triangle, among `own`, into which planes leave each; -1 where a bay ends."""
        keys = self.ground.mesh.edge_keys()
        order = np.argsort(keys, kind="stable")
        first = np.flatnonzero(np.diff(keys[order], prepend=-1))
        pair = first[np.diff(first, append=len(keys)) == 2]
        pair = pair[~are_in(keys[order[pair]], self.breaks)]
        twin = np.full(len(keys), -1)
        twin[order[pair]], twin[order[pair + 1]] = order[pair + 1], order[pair]
        row = np.full(len(self.ground.mesh.triangles) + 1, -1)  # the last one stands for none
        row[self.own] = np.arange(len(self.own))
        half = 3 * np.repeat(self.own, 2) + self.sides[1]
        found: Ints = row[np.where(twin[half] >= 0, twin[half] // 3, -1)]
        return found

    @cached_property
    def growth(self) -> tuple[Floats, Floats]:
        """(2 t,) How fast segments grow along the axis [-], and where there is nothing of them [m].

        They grow from the lowest corner to the middle one, and shrink to the highest.
        """
        order = np.argsort(self.value, axis=1)
        low, middle, high = np.take_along_axis(self.value, order, axis=1).T
        corners = self.ground.mesh.vertices[self.ground.mesh.triangles[self.own]]
        p, q, r = (corners[np.arange(len(order)), order[:, i]] for i in range(3))
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
        row = np.full(len(self.whole.ground.mesh.triangles), -1)
        row[self.whole.own] = np.arange(len(self.whole.own))
        for track in tracks:
            mine = row[np.unique(track.triangles)]
            mine = mine[mine >= 0]
            count = self.count[mine]
            step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
            segments = np.repeat((self.base + self.first)[mine], count) + step
            segments, share = self._crossed(track, segments)
            found.append(segments)
            far.append(share * self.length[segments])
        segments, places = np.concatenate(found), np.concatenate(far)
        order = np.lexsort([places, segments])
        return segments[order], places[order]

    def _crossed(self, track: Track, segments: Ints) -> tuple[Ints, Floats]:
        """Return which of some segments a joint cuts, and the share of each up to there."""
        used = np.unique(self.whole.ground.mesh.triangles[track.triangles])
        points = self.whole.ground.mesh.vertices
        off = np.zeros(len(points))
        off[used] = track.off(points[used])
        one, other = (self._at_ends(off, segments, way) for way in (0, 1))
        cut: Bools = (one > GRID / 2.0) != (other > GRID / 2.0)
        share = np.clip(one[cut] / (one[cut] - other[cut]), 0.0, 1.0)
        segments = segments[cut]
        if track.span is not None:
            along = track.span.along(points)
            start, end = (self._at_ends(along, segments, way) for way in (0, 1))
            place = start + share * (end - start)
            within = (place > -GRID) & (place < track.span.length + GRID)
            segments, share = segments[within], share[within]
        return segments, share

    def _at_ends(self, values: Floats, segments: Ints, way: int) -> Floats:
        """Return what vertices (n,) have, at one end of segments (k,): 0 where they come in."""
        whole, half = self.whole, self.half[segments]
        corner = whole.sides[way][half]
        triangle = self.triangle[segments]
        i, j = whole.value[triangle, corner], whole.value[triangle, (corner + 1) % 3]
        share = (whole.at[self.plane[segments]] - i) / (j - i)
        corners = whole.ground.mesh.triangles[whole.own[triangle]]
        rows = np.arange(len(segments))
        p, q = values[corners[rows, corner]], values[corners[rows, (corner + 1) % 3]]
        found: Floats = p + share * (q - p)
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
