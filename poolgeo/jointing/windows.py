"""Strips of finish along the rows and across, and windows on them that each need a joint.

::

    |-----------------strip------------------|     between changes of plane, or rims
    0    p1      p2       p3      p4      length   places at which candidates cross it
    |-----limit-----|                              a window: one of p1, p2 must be taken
         |-----limit-----|                         the next one, from p1 on
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..measure.chains import chains_of
from .frame import UP
from .ground import Ground
from .planes import Section, section_at
from .tracks import Track

FIXED = -1
"""Number of a joint that is there in any case."""

BESIDE = 1e-3
"""[m] Scans lie this much beside the vertices that they are taken at."""

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

    def places(self, tracks: Sequence[Track], masks: Sequence[Bools]) -> Floats:
        """Return how far along it joints cross it, rising (c,) [m].

        Args:
            tracks: The joints.
            masks: Which triangles each crosses.
        """
        found = [np.zeros(0)]
        for track, mask in zip(tracks, masks, strict=True):
            rows, share = track.crossings(self.points, self.triangles, mask)
            found.append(self.start[rows] + share * np.diff(self.start)[rows])
        return np.sort(np.concatenate(found))


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


def scan_values(ground: Ground, axis: int, spacing: float, *, between: bool = False) -> Floats:
    """Return where the ground is looked at along an axis [m].

    The length of a bay between straight lines changes evenly between two vertices, so it is
    longest beside one of them.

    Args:
        ground: What is looked at.
        axis: Along which axis.
        spacing: No two lie nearer than this, but for those beside one vertex.
        between: Half way between those beside vertices too, and at least twice a metre.

    Returns:
        Values of the coordinate, rising.
    """
    used = np.unique(ground.mesh.triangles)
    values = np.unique(np.round(ground.points[used, axis], 4))
    _, first = np.unique(np.floor(values / spacing), return_index=True)
    values = np.unique(np.append(values[first], values[-1:]))
    found = [values - BESIDE, values + BESIDE]
    if between and len(values) > 1:
        found.append((values[1:] + values[:-1]) / 2.0)
        found.append(np.arange(values[0] + spacing / 3.0, values[-1], 0.5))
    return np.unique(np.concatenate(found))


def all_strips(
    ground: Ground, breaks: Ints, spacing: float, *, between: bool = False
) -> Iterator[Strip]:
    """Yield the strips of all scans, axis by axis (see `scan_values`)."""
    for axis in range(3):
        for at in scan_values(ground, axis, spacing, between=between).tolist():
            yield from strips_of(ground, section_at(ground, axis, at), breaks)


@dataclass(frozen=True)
class Line:
    """A strip with the candidates that cross it.

    Args:
        length: [m].
        closed: Whether it comes back to its start.
        places: (c,) how far along it candidates cross it, rising [m].
        numbers: (c,) the candidate of each place, or `FIXED`.
    """

    length: float
    closed: bool
    places: Floats
    numbers: Ints

    @property
    def key(self) -> tuple[float, bool, bytes, bytes]:
        """The same for lines that ask the same, to a millimetre."""
        places = np.round(self.places, 3).tobytes()
        return round(self.length, 3), self.closed, places, self.numbers.tobytes()

    def holds(self, taken: Ints, limit: float) -> bool:
        """Whether no bay is longer than the limit [m], with some candidates taken."""
        own = self.places[np.isin(self.numbers, taken) | (self.numbers == FIXED)]
        return bool(bays_of(self.length, own, closed=self.closed).max() <= limit + 2.0 * HAIR)


def windows_of(line: Line, limit: float) -> list[Ints]:
    """Return numbers of candidates of each of which one at least must be taken.

    So no bay along the line is longer than the limit. An empty one: no candidate can help.

    Args:
        line: A stretch of finish.
        limit: Longest bay [m].
    """
    if line.length <= limit + HAIR:
        return []
    places, numbers = line.places, line.numbers
    if line.closed:  # any start will do: once round, and a window more
        starts = places if len(places) else np.zeros(1)
        places = np.concatenate([places, places + line.length])
        numbers = np.concatenate([numbers, numbers])
        first = np.searchsorted(places, starts, "right")
    else:
        starts = np.concatenate([[0.0], places[places + limit < line.length - HAIR]])
        first = np.searchsorted(places, starts, "right")
        first[0] = 0
    last = np.searchsorted(places, starts + limit + HAIR, "right")
    before = np.concatenate([[0], np.cumsum(numbers == FIXED)])
    free = np.flatnonzero(before[last] == before[first])
    return [numbers[i:j] for i, j in zip(first[free].tolist(), last[free].tolist(), strict=True)]


def is_blind(line: Line, limit: float) -> bool:
    """Whether some window of a line holds no candidate."""
    return any(not len(window) for window in windows_of(line, limit))


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


def crowds_of(line: Line, shortest: float) -> list[Ints]:
    """Return candidates of which one at most may be taken, so that no bay is shorter [m]."""
    last = np.searchsorted(line.places, line.places + shortest - HAIR, "left")
    grows = np.flatnonzero(np.diff(last, prepend=0))  # the others are parts of the one before
    found = [line.numbers[k : int(last[k])] for k in grows.tolist()]
    return [group[group != FIXED] for group in found if len(group) > 1]


def at_ends(line: Line, shortest: float) -> Ints:
    """Return the candidates that would leave a shorter bay at an end of a line [m]."""
    if line.closed:
        return line.numbers[:0]
    places = line.places
    own = (places < shortest - HAIR) | (places > line.length - shortest + HAIR)
    found: Ints = line.numbers[own & (line.numbers != FIXED)]
    return found
