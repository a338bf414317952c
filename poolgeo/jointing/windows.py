"""Strips of finish along the rows, across them and along walls: what bays are measured on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from ..measure.chains import chains_of
from ..plan.keys import are_in
from .frame import UP
from .ground import Ground
from .planes import Section, section_at
from .sweep import Sweep
from .tracks import Track

SPACING, LEAST_SPACING = 1.0 / 50.0, 0.1
"""[-], [m] How near to each other strips are taken: as a share of the longest bay, and no nearer
than this length."""

LEVELS = 0.02
"""[m] How near to each other level ones are taken: heights of a pool differ by little."""

HAIR = 1e-6
"""[m] A bay may be longer by this: noise."""


@dataclass(frozen=True)
class Strip:
    """A stretch of finish along a scan, between changes of plane.

    Args:
        axis: Which coordinate of the frame its scan holds.
        points: (k + 1, 3) [m].
        triangles: (k,) that its segments lie in.
        closed: Whether it comes back to its start.
    """

    axis: int
    points: Floats
    triangles: Ints
    closed: bool

    @cached_property
    def start(self) -> Floats:
        """How far along it each point lies (k + 1,) [m]."""
        steps = np.linalg.norm(np.diff(self.points, axis=0), axis=1)
        return np.concatenate([[0.0], np.cumsum(steps)])

    @property
    def length(self) -> float:
        """[m]."""
        return float(self.start[-1])

    def point_at(self, place: float) -> Floats:
        """Return the point at a place along it (3,) [m]."""
        place = place % self.length if self.closed else place
        return np.array([np.interp(place, self.start, self.points[:, i]) for i in range(3)])

    def triangle_at(self, place: float) -> int:
        """Return the triangle of the ground at a place along it."""
        place = place % self.length if self.closed else place
        step = int(np.searchsorted(self.start, place, "right")) - 1
        return int(self.triangles[min(max(step, 0), len(self.triangles) - 1)])

    def places(self, joints: Sequence[Track]) -> Floats:
        """Return how far along it joints cross it, rising (c,) [m]."""
        found = [np.zeros(0)]
        for track in joints:
            under = np.flatnonzero(are_in(self.triangles, track.triangles))
            rows, share = track.cuts(self.points[under], self.points[under + 1])
            found.append(self.start[under[rows]] + share * np.diff(self.start)[under[rows]])
        return np.sort(np.concatenate(found))

    def longest_bay(self, joints: Sequence[Track]) -> tuple[float, float]:
        """Return the length of its longest bay and the place of the middle of that [m]."""
        places = self.places(joints)
        if self.closed and len(places):
            ends = np.append(places, places[0] + self.length)
        else:
            ends = np.concatenate([[0.0], places, [self.length]])
        bays = np.diff(ends)
        k = int(bays.argmax())
        return float(bays[k]), float(ends[k] + bays[k] / 2.0)


def strips_of(ground: Ground, scan: Section, breaks: Ints) -> Iterator[Strip]:
    """Yield the stretches of a scan over finish whose bays are limited.

    Args:
        ground: What is scanned.
        scan: A section of it.
        breaks: Keys of the mesh edges at which a bay ends.
    """
    kept = ground.asks[scan.triangles]
    if scan.axis == UP:  # on a floor a level section is a contour, and follows no row
        kept &= ground.stands[scan.triangles]
    scan = scan.of(np.flatnonzero(kept)).broken(breaks)
    for chain in chains_of(scan.ends, np.zeros(len(scan.ends), dtype=np.int64), scan.points, np.pi):
        closed = bool(chain.vertices[0] == chain.vertices[-1])
        yield Strip(scan.axis, scan.points[chain.vertices], scan.triangles[chain.edges], closed)


def long_strips(
    ground: Ground, breaks: Ints, tracks: Sequence[Track], swept: Iterable[Sweep], limit: float
) -> list[Strip]:
    """Return strips with bays that are too long, the worst of each stretch along each axis.

    Args:
        ground: What is looked at.
        breaks: Keys of the mesh edges at which a bay ends.
        tracks: The joints.
        swept: How long bays are between them.
        limit: What is longer is too long [m].
    """
    spacing = max(SPACING * limit, LEAST_SPACING)
    return [
        strip for sweep in swept
        for at in sweep.worst(limit, LEVELS if sweep.axis == UP else spacing).tolist()
        for strip in strips_of(ground, section_at(ground, sweep.axis, at), breaks)
        if strip.length > limit and strip.longest_bay(tracks)[0] > limit
    ]  # fmt: skip
