"""Strips of finish along the rows, across them and along walls: what bays are measured on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from ..measure.chains import chains_of
from .frame import UP
from .ground import Ground
from .planes import Section, section_at
from .tracks import Bundle, Track

BESIDE = 1e-3
"""[m] Scans lie this much beside the vertices that they are taken at."""

SPACING, LEAST_SPACING = 1.0 / 50.0, 0.1
"""[-], [m] How near to each other scans lie along curves: as a share of the longest bay, and no
nearer than this length."""

LEVELS = 0.02
"""[m] How near to each other level scans lie: heights of a pool differ by little."""

ALSO = 0.5
"""[m] Scans lie no farther apart than this."""

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

    def places(self, joints: Bundle) -> Floats:
        """Return how far along it joints cross it, rising (c,) [m]."""
        rows, share = joints.crossings(self.points, self.triangles)
        return np.sort(self.start[rows] + share * np.diff(self.start)[rows])


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


def scan_values(ground: Ground, axis: int) -> Floats:
    """Return where the ground is looked at along an axis, rising [m].

    The length of a bay between straight lines changes evenly between two vertices, so it is
    longest beside one of them. Where vertices stand close to each other, as along curves, one in
    each `SPACING` is taken, corners in any case; half way between two it is looked as well.

    Args:
        ground: What is looked at.
        axis: Along which axis.
    """
    used = np.unique(ground.mesh.triangles)
    values = np.unique(np.round(ground.points[used, axis], 4))
    if not len(values):
        return values
    spacing = max(SPACING * ground.rules.bays.longest, LEAST_SPACING)
    if axis == UP:
        spacing = LEVELS
    _, first = np.unique(np.floor(values / spacing), return_index=True)
    found = [values[first], values[-1:]]
    if axis != UP and len(ground.model.corners):
        upright = np.column_stack([ground.model.corners, np.zeros(len(ground.model.corners))])
        corners = ground.frame.coordinates(upright)[:, axis]
        found.append(corners[(corners > values[0]) & (corners < values[-1])])
    values = np.unique(np.round(np.concatenate(found), 4))
    between = (values[1:] + values[:-1]) / 2.0
    also = np.arange(values[0] + spacing / 3.0, values[-1], ALSO)
    return np.unique(np.concatenate([values - BESIDE, values + BESIDE, between, also]))


def strips(ground: Ground, breaks: Ints) -> list[Strip]:
    """Return the strips of all scans, axis by axis.

    Args:
        ground: What is scanned.
        breaks: Keys of the mesh edges at which a bay ends.
    """
    return [
        strip for axis in range(3)
        for strip in _at(ground, breaks, axis, scan_values(ground, axis))
    ]  # fmt: skip


def strips_beside(ground: Ground, breaks: Ints, tracks: Sequence[Track]) -> list[Strip]:
    """Return the strips of scans on both sides of where joints end or change surface.

    Where a wall bends away a scan passes the end of a joint by, on that side only.

    Args:
        ground: What is scanned.
        breaks: Keys of the mesh edges at which a bay ends.
        tracks: The joints.
    """
    points = [track.points[track.turns(ground.seams)] for track in tracks]
    places = ground.frame.coordinates(np.concatenate([np.zeros((0, 3)), *points]))
    found = []
    for axis in range(3):
        values = np.unique(np.round(places[:, axis], 3))
        beside = np.unique(np.concatenate([values - BESIDE, values + BESIDE]))
        found += _at(ground, breaks, axis, beside)
    return found


def _at(ground: Ground, breaks: Ints, axis: int, values: Floats) -> list[Strip]:
    return [
        strip for at in values.tolist()
        for strip in strips_of(ground, section_at(ground, axis, at), breaks)
    ]  # fmt: skip


def bays_of(length: float, places: Floats, *, closed: bool) -> Floats:
    """Return the lengths of the bays of a strip.

    Args:
        length: Of the strip [m].
        places: Where joints cross it, rising (c,) [m].
        closed: Whether it comes back to its start.
    """
    if closed:
        ends = np.append(places, places[0] + length) if len(places) else np.array([0.0, length])
    else:
        ends = np.concatenate([[0.0], places, [length]])
    return np.diff(ends)
