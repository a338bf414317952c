"""Stations along an outline, and the bands that follow it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats
from ..errors import Findings, Key
from .curves import turn_between
from .ring import Ring
from .shapes import joined, nearest_on, parallel, polygons_only, up_to_folds
from .tolerances import GRID, OUTLINE_TURN, SHARP_TURN

CRUMB = 1e-5
"""[m] A stretch starts and ends on the chord that lies this far inside it."""

STRAIGHT = 1e-12
"""[-] Normals at the ends of a straight chord have a product that differs from 1 by less."""

POCKET = 0.01
"""[-] Where a parallel folds, a pocket smaller than this times the square of its width is none."""

UNFOLDED = 0.99
"""[-] Share of its distance that a parallel all round keeps from its outline, for its chords; one
that has folded comes nearer."""

LONG_WAY = 0.51
"""[-] Share of an outline: a stretch that takes more of it has a shorter way."""

MOST_STRIDES = 40
"""Strides along the side of a band, each to where its front may begin: one where the stretch is
straight, twelve where it ends in the middle of a rounded square corner."""

SHORTEST = 1e-3
"""[m] A stretch shorter than this is none."""

Baseline = tuple[Floats, Floats, Floats]
"""(k, 2) vertices of a line from which offsets are taken [m], and the unit normals before and after
each."""


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
    def end_chords(self) -> tuple[int, int]:
        """Numbers of the chords on which it starts and ends: all round, the first and the last."""
        start, end = self.start or 0.0, self.end or 0.0
        return chord_at(self.ring, start + CRUMB), chord_at(self.ring, end - CRUMB)

    @property
    def length(self) -> float:
        """True length [m]."""
        if self.start is None or self.end is None:
            return self.ring.perimeter
        return (self.end - self.start) % self.ring.perimeter

    def baseline(self) -> Baseline:
        """Return its vertices with the inward normals of the true curve before and after each.

        Returns:
            (k, 2) vertices, both ends included [m], (k, 2) normals before and (k, 2) after; they
            differ at corners only. All round, the first vertex is repeated.
        """
        ring, count = self.ring, len(self.ring.points)
        normals = ring.chord_normals
        if self.start is None or self.end is None:
            around = np.append(np.arange(count), 0)
            return ring.points[around], normals[around - 1, 1], normals[around, 0]
        # a stretch that starts or ends in a corner is square to its own side of it
        first, last = self.end_chords
        steps = (last - first) % count
        if steps == 0 and self.length > ring.perimeter / 2.0:
            steps = count  # from late on one chord round to early on the same
        inner = (first + 1 + np.arange(steps)) % count
        points = [point_at(ring, self.start), *ring.points[inner], point_at(ring, self.end)]
        start, end = _normal_on(ring, first, self.start), _normal_on(ring, last, self.end)
        before = np.vstack([start, normals[inner - 1, 1], end])
        after = np.vstack([start, normals[inner, 0], end])
        return np.array(points), before, after


def note_long_way(
    findings: Findings, key: Key, ends: tuple[object, object], length: float, ring: Ring
) -> None:
    """Note a stretch between two plan points that takes the long way round an outline.

    Args:
        findings: Where to leave the note.
        key: Of the stretch in the pool file.
        ends: Where it starts and ends, as the file says it.
        length: How long it is [m].
        ring: The outline.
    """
    if length > LONG_WAY * ring.perimeter and all(isinstance(item, tuple) for item in ends):
        findings.note(
            key,
            f"runs along {length:.3f} m of the {ring.perimeter:.3f} m round",
            "",
            "swap 'start' and 'end' if the short way was meant",
        )


def chord_at(ring: Ring, station: float) -> int:
    """Return the number of the chord at a station [m]."""
    i = int(np.searchsorted(ring.stations, station % ring.perimeter, side="right")) - 1
    return min(max(i, 0), len(ring.points) - 1)


def station_of(ring: Ring, place: float | tuple[float, float]) -> float:
    """Return the station of a place on the outline.

    Args:
        ring: The outline.
        place: A station [m], or a plan point (the nearest point of the outline is meant) [m].
    """
    if not isinstance(place, tuple):
        if ring.sharp is None:
            return place % ring.perimeter
        # a length counts along the outline itself
        place = tuple(curve_point_at(ring.sharp, place % ring.sharp.perimeter).tolist())
    a = ring.points
    d = np.roll(a, -1, axis=0) - a
    (nearest,), (share,), _ = nearest_on(a, np.array([place]))
    # where the curve is square to it: on the nearest chord, or just beside, but round no corner
    following = (nearest + 1) % len(a)
    beside = [(nearest - 1) % len(a)] if ring.turns[nearest] == 0.0 else []
    beside += [following] if ring.turns[following] == 0.0 else []
    for i in (nearest, *beside):
        ahead = [
            float((np.array(place) - point) @ np.array([n[1], -n[0]]))
            for point, n in zip((a[i], a[i] + d[i]), ring.chord_normals[i], strict=True)
        ]
        if ahead[0] >= 0.0 > ahead[1]:
            on = ahead[0] / (ahead[0] - ahead[1])
            return float(ring.stations[i] + on * ring.lengths[i]) % ring.perimeter
    return float(ring.stations[nearest] + share * ring.lengths[nearest]) % ring.perimeter


def point_at(ring: Ring, station: float) -> Floats:
    """Return the plan point at a station (2,), on the chord there [m]."""
    closed = np.vstack([ring.points, ring.points[:1]])
    return np.array([np.interp(station, ring.stations, closed[:, i]) for i in range(2)])


def curve_point_at(ring: Ring, station: float) -> Floats:
    """Return the plan point at a station (2,), on the true curve [m]."""
    chord = chord_at(ring, station)
    share = (station % ring.perimeter - ring.stations[chord]) / ring.lengths[chord]
    found: Floats = ring.curve(np.array([chord]), np.array([share]))[0]
    return found


def inward_at(ring: Ring, station: float) -> Floats:
    """Return the unit normal of the true curve into the water at a station (2,).

    In a corner it halves the angle.
    """
    before, after = (
        _normal_on(ring, chord_at(ring, station + off), station + off) for off in (-CRUMB, CRUMB)
    )
    middle: Floats = (before + after) / np.hypot(*(before + after))
    return middle


def _normal_on(ring: Ring, chord: int, station: float) -> Floats:
    """Return the unit normal of the true curve on one chord (2,)."""
    ahead = (station - ring.stations[chord]) % ring.perimeter
    if ahead > (ring.perimeter + ring.lengths[chord]) / 2.0:
        ahead = 0.0  # rounding has put it just before the chord
    share = min(float(ahead / ring.lengths[chord]), 1.0)
    a, b = ring.chord_normals[chord]
    inward: Floats = a * (1.0 - share) + b * share
    unit: Floats = inward / np.hypot(*inward)
    return unit


def band(stretch: Stretch, width: float) -> shapely.Geometry:
    """Return the plan band between a stretch and its parallel at ``width`` inside it [m].

    The parallel keeps its corners at inside corners and goes round outside corners at the same
    distance. The ends are square to the outline.
    """
    if stretch.length < SHORTEST:
        return shapely.Polygon()
    points, before, after = stretch.baseline()
    outer, inner = rails(points, before, after, width)
    if stretch.start is None:
        hole = shapely.Polygon(inner)
        # a parallel that has folded comes nearer to the outline than it ought to
        room = shapely.distance(hole, stretch.ring.polygon.exterior)
        if hole.is_valid and hole.exterior.is_ccw and room > UNFOLDED * width:
            return shapely.difference(stretch.ring.polygon, hole)
    else:
        region = shapely.Polygon(np.vstack([points, inner[::-1]]))
        onward = np.sum(np.diff(inner, axis=0) * np.diff(outer, axis=0), axis=1) > -GRID
        if region.is_valid and onward.all():
            return region
    pieces = _swept(outer, inner)
    if stretch.start is not None:
        count = len(pieces)
        _cut_off(pieces, range(count), _beyond(points[0], after[0], -width))
        _cut_off(pieces, range(count - 1, -1, -1), _beyond(points[-1], before[-1], width))
    inside = shapely.intersection(joined(pieces), stretch.ring.polygon, grid_size=GRID)
    return _without_pockets(inside, POCKET * width**2)


def flanks_of(stretch: Stretch, width: float) -> Floats | None:
    """Return the sides of a `band`: straight on from the stretch's ends to where its front begins.

    The front is as far from the stretch as the band is wide. Where the stretch ends on a tight
    curve, that is further along the side than the width: the fronts of other parts come in between.

    Args:
        stretch: A part of an outline.
        width: Of the band [m].

    Returns:
        (2, 2, 2) segments [m]; None where the band has no ends.
    """
    if stretch.start is None or stretch.end is None:
        return None
    points, before, after = stretch.baseline()
    line = shapely.linestrings(points)
    shapely.prepare(line)
    ends = np.stack([points[[0, -1]]] * 2, axis=1)
    inward = np.stack([after[0], before[-1]])
    for _ in range(MOST_STRIDES):
        # no point nearer than what is left of the width can be in front
        left = width - shapely.distance(line, shapely.points(ends[:, 1]))
        if (left < CRUMB).all():
            break
        ends[:, 1] += np.maximum(left, 0.0)[:, None] * inward
    return ends


def rails(points: Floats, before: Floats, after: Floats, width: float) -> tuple[Floats, Floats]:
    """Return a line and its parallel, vertex by vertex.

    Where the parallel goes round an outside corner, the corner is repeated; where two parallels
    that are not both straight go on till they cross, so is the corner that they start from.

    Args:
        points: (k, 2) vertices of the line [m].
        before: (k, 2) unit normals before each, and
        after: (k, 2) after it, towards the parallel.
        width: How far off it runs [m].

    Returns:
        (n, 2) places of the line, and (n, 2) of its parallel [m].
    """
    turns = turn_between(before, after)
    inner, _ = parallel(points, before, after, width)
    # two straight parallels meet in a mitre; where one is curved, each goes on till they cross
    straight = np.sum(after[:-1] * before[1:], axis=1) > 1.0 - STRAIGHT
    straight = np.append(straight, True) & np.append(True, straight)
    near, far, last = [], [], 0
    for i in np.flatnonzero((turns < -SHARP_TURN) | ((turns > SHARP_TURN) & ~straight)).tolist():
        count = int(np.ceil(-turns[i] / OUTLINE_TURN)) + 1 if turns[i] < 0.0 else 2
        angle = np.arctan2(before[i, 1], before[i, 0]) + np.linspace(0.0, turns[i], count)
        near += [points[last:i], np.broadcast_to(points[i], (count, 2))]
        far += [inner[last:i], points[i] + width * np.column_stack([np.cos(angle), np.sin(angle)])]
        last = i + 1
    return np.concatenate([*near, points[last:]]), np.concatenate([*far, inner[last:]])


def _swept(near: Floats, far: Floats) -> np.ndarray:
    """Return what the lines from one polyline to another (n, 2) sweep over, chord by chord.

    Where two lines that follow each other cross, that is a triangle on either side.
    """
    quads, folds, tip = up_to_folds(near, far)
    beyond = shapely.polygons(np.stack([tip, far[1:], far[:-1], far[:-1]], axis=1)[folds])
    pieces: np.ndarray = shapely.polygons(quads)
    pieces[folds] = shapely.union_all(np.stack([pieces[folds], beyond]), axis=0)
    return pieces


def _beyond(point: Floats, inward: Floats, width: float) -> shapely.Polygon:
    """Return the square that lies beyond the end of a stretch, along the line that ends it.

    Args:
        point: (2,) where it ends [m].
        inward: (2,) normal there.
        width: Of the band, above 0 at the stretch's end and below 0 at its start [m].
    """
    along = 2.0 * width * np.array([inward[1], -inward[0]])
    across = 2.0 * abs(width) * inward
    corners = np.array([point, point + along, point + along + across, point + across])
    return shapely.Polygon(corners)


def _cut_off(pieces: np.ndarray, order: Iterable[int], beyond: shapely.Polygon) -> None:
    """Cut off, in place, what pieces next to an end have beyond it, where its curve is tight."""
    for i in order:
        left = shapely.difference(pieces[i], beyond)
        if pieces[i].area - left.area < CRUMB * CRUMB:
            return
        pieces[i] = polygons_only(left)


def _without_pockets(region: shapely.Geometry, least: float) -> shapely.Geometry:
    """Fill holes, and leave out parts, smaller than an area [m2]."""
    parts = [part for part in shapely.get_parts(region) if part.area >= least]
    filled = [
        shapely.Polygon(
            part.exterior, [hole for hole in part.interiors if shapely.Polygon(hole).area >= least]
        )
        for part in parts
        if part.geom_type == "Polygon"
    ]
    return shapely.union_all(filled)
