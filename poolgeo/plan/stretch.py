"""Stations along an outline, and the bands that follow it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from .curves import Floats, Ring
from .tolerances import OUTLINE_TURN, SHARP_TURN

SHORTEST = 1e-3
"""[m] A stretch shorter than this is none."""


@dataclass(frozen=True)
class Stretch:
    """A part of a ring, anticlockwise from ``start`` to ``end``.

    Args:
        ring: The outline.
        start: Station of its start [m]; None when it goes all round.
        end: Station of its end [m].
    """

    ring: Ring
    start: float | None = None
    end: float | None = None

    @property
    def length(self) -> float:
        """True length [m]."""
        if self.start is None or self.end is None:
            return self.ring.perimeter
        return (self.end - self.start) % self.ring.perimeter

    def course(self) -> tuple[Floats, Floats]:
        """Return its vertices and the inward normals of the outline's chords between them.

        Returns:
            (k, 2) vertices, both ends included [m], and (k - 1, 2) unit normals. All round, the
            first vertex is repeated.
        """
        ring = self.ring
        chords = np.roll(ring.points, -1, axis=0) - ring.points
        left = np.column_stack([-chords[:, 1], chords[:, 0]]) / np.hypot(*chords.T)[:, None]
        if self.start is None or self.end is None:
            return np.vstack([ring.points, ring.points[:1]]), left
        count = len(ring.points)
        first, last = _chord_at(ring, self.start), _chord_at(ring, self.end)
        steps = (last - first) % count
        if steps == 0 and self.length > ring.lengths[first]:
            steps = count  # from late on one chord round to early on the same
        inner = (first + 1 + np.arange(steps)) % count
        ends = [point_at(ring, self.start), point_at(ring, self.end)]
        points = np.vstack([ends[0], ring.points[inner], ends[1]])
        return points, left[(first + np.arange(steps + 1)) % count]


def _chord_at(ring: Ring, station: float) -> int:
    i = int(np.searchsorted(ring.stations, station, side="right")) - 1
    return min(max(i, 0), len(ring.points) - 1)


def station_of(ring: Ring, place: float | tuple[float, float]) -> float:
    """Return the station of a place on the outline.

    Args:
        ring: The outline.
        place: A station [m], or a plan point (the nearest point of the outline is meant) [m].
    """
    if not isinstance(place, tuple):
        return place % ring.perimeter
    a = ring.points
    d = np.roll(a, -1, axis=0) - a
    share = np.sum((np.array(place) - a) * d, axis=1) / np.sum(d * d, axis=1)
    share = np.clip(share, 0.0, 1.0)
    gaps = np.hypot(*(a + share[:, None] * d - np.array(place)).T)
    i = int(np.argmin(gaps))
    return float(ring.stations[i] + share[i] * ring.lengths[i]) % ring.perimeter


def point_at(ring: Ring, station: float) -> Floats:
    """Return the plan point at a station (2,) [m]."""
    closed = np.vstack([ring.points, ring.points[:1]])
    return np.array([np.interp(station, ring.stations, closed[:, i]) for i in range(2)])


def inward_at(ring: Ring, station: float) -> Floats:
    """Return the unit normal into the water at a station (2,)."""
    i = _chord_at(ring, station)
    d = ring.points[(i + 1) % len(ring.points)] - ring.points[i]
    inward: Floats = np.array([-d[1], d[0]]) / np.hypot(*d)
    return inward


def band(stretch: Stretch, width: float) -> shapely.Geometry:
    """Return the plan band between a stretch and its parallel at ``width`` inside it [m].

    The parallel keeps its corners at inside corners and goes round outside corners at the same
    distance. The ends are square to the outline.
    """
    if stretch.length < SHORTEST:
        return shapely.Polygon()
    p, left = stretch.course()
    if stretch.start is None:
        left = np.vstack([left[-1:], left, left[:1]])
    else:
        left = np.vstack([left[:1], left, left[-1:]])
    near, far = [], []
    for point, a, b in zip(p, left[:-1], left[1:], strict=True):
        turn = float(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b))
        if turn < -SHARP_TURN:
            angle = np.arctan2(a[1], a[0]) + np.linspace(
                0.0, turn, int(np.ceil(-turn / OUTLINE_TURN)) + 1
            )
            for n in np.column_stack([np.cos(angle), np.sin(angle)]):
                near.append(point)
                far.append(point + width * n)
        else:
            middle = (a + b) / np.hypot(*(a + b))
            near.append(point)
            far.append(point + width * middle / max(float(middle @ a), 0.05))
    return _swept(np.array(near), np.array(far), closed=stretch.start is None)


def _swept(near: Floats, far: Floats, *, closed: bool) -> shapely.Geometry:
    """Join the quadrilaterals between two polylines of equal length into one region."""
    outline = shapely.Polygon(np.vstack([near, far[::-1]]))
    if not closed and outline.is_valid:
        return outline
    if closed:
        outer, inner = shapely.Polygon(near), shapely.Polygon(far)
        folded = not inner.is_valid or inner.exterior.is_ccw != outer.exterior.is_ccw
        if not folded:
            return shapely.difference(outer, inner)
    quads = np.stack([near[:-1], near[1:], far[1:], far[:-1]], axis=1)
    parts = shapely.make_valid(shapely.polygons(quads))
    region = shapely.union_all(parts, grid_size=1e-6)
    if closed:
        region = shapely.intersection(region, shapely.Polygon(near))
    return region
