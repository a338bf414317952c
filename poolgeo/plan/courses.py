"""Rings of what overlays leave: the true normals come from the curves that their sides follow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats
from .curves import turn_between
from .ring import Ring
from .shapes import parallel_arcs
from .tolerances import GRID, SHARP_TURN

ON_COURSE = 1e-5
"""[m] A side whose ends lie nearer to a chord than this follows it: some times the grid."""

AT_END = 1e-3
"""[-] Share of a chord within which a place on it is its end."""

SAME_WAY = 1e-4
"""[rad] A vertex that turns by less is smooth: rounding moves it along a chord by the grid."""


@dataclass(frozen=True)
class Course:
    """Chords of a curve, with the unit normals of the curve at their ends.

    Args:
        chords: (k, 2, 2) [m].
        normals: (k, 2, 2) at the start and at the end of each chord, to either side.
    """

    chords: Floats
    normals: Floats

    @classmethod
    def along(cls, ring: Ring, off: float = 0.0) -> Course:
        """Return the course of a ring, or of its parallel ``off`` outside it [m].

        In a re-entrant corner two curves' parallels cross before their ends: there a chord's curve
        is the arc through its ends that is true at the other one.
        """
        before = np.roll(ring.chord_normals[:, 1], 1, axis=0)
        points, _ = parallel_arcs(ring.points, before, ring.chord_normals[:, 0], -off)
        chords = np.stack([points, np.roll(points, -1, axis=0)], axis=1)
        if not off:
            return cls(chords, ring.chord_normals)
        normals = ring.chord_normals.copy()
        across = chords[:, 1] - chords[:, 0]
        across = np.column_stack([-across[:, 1], across[:, 0]]) / np.hypot(*across.T)[:, None]
        corner = ring.turns * off < 0.0
        _through(normals, across, np.column_stack([corner, np.roll(corner, -1)]))
        return cls(chords, normals)


def feet_of(points: Floats, ring: Ring, off: float, reach: float, least: float = -1.0) -> Floats:
    """Return where points on a parallel of a ring stand on the ring's own curve.

    Args:
        points: (k, 2) [m].
        ring: The ring.
        off: How far outside it the parallel runs [m].
        reach: Points further off the parallel's chords than this have none [m].
        least: Nor have points that are nearer to them [m].

    Returns:
        (n, 2) their feet, of those that have one [m].
    """
    ends = np.stack([ring.points, np.roll(ring.points, -1, axis=0)], axis=1)
    share, away = _feet(ends - off * ring.chord_normals, points)  # as long as in the ring's corners
    on, rows = np.argmin(away, axis=1), np.arange(len(points))
    near = (away[rows, on] < reach) & (away[rows, on] > least)
    return ring.curve(on[near], share[rows, on][near])


def ring_round(shape: shapely.Polygon, courses: Sequence[Course]) -> Ring:
    """Return the outer border of a shape as a ring.

    Args:
        shape: What an overlay has left.
        courses: What its sides may follow; a side that follows none is straight.

    Returns:
        The ring, from the border's first point on, anticlockwise.
    """
    border = shapely.get_coordinates(shapely.orient_polygons(shape).exterior)
    start, stop = border[:-1], border[1:]
    chords = np.concatenate([item.chords for item in courses])
    normals = np.concatenate([item.normals for item in courses])
    shares, away = zip(*(_feet(chords, ends) for ends in (start, stop)), strict=True)
    off = np.maximum(*away)
    on = np.argmin(off, axis=1)
    rows = np.arange(len(start))
    step = stop - start
    size = np.hypot(*step.T)
    inward = np.column_stack([-step[:, 1], step[:, 0]]) / size[:, None]
    found = np.stack([inward, inward], axis=1)
    follows = np.flatnonzero(off[rows, on] < ON_COURSE)
    for end, share in enumerate(shares):
        t = share[follows, on[follows]][:, None]
        a, b = normals[on[follows]].transpose(1, 0, 2)
        mixed = a * (1.0 - t) + b * t
        mixed *= np.sign(np.sum(mixed * inward[follows], axis=1))[:, None]
        found[follows, end] = mixed / np.hypot(*mixed.T)[:, None]
    # cut in a corner, a chord ends off its curve
    turned = np.abs(turn_between(np.roll(inward, 1, axis=0), inward)) > SHARP_TURN
    cut = np.zeros((len(start), 2), dtype=bool)
    for end, share in enumerate(shares):
        t = share[follows, on[follows]]
        cut[follows, end] = (t > AT_END) & (t < 1.0 - AT_END)
    _through(found, inward, cut & np.column_stack([turned, np.roll(turned, -1)]))
    bend = turn_between(found[:, 0], found[:, 1]) / 2.0
    lengths = size * np.where(np.abs(bend) > SAME_WAY, bend / np.sin(bend + (bend == 0.0)), 1.0)
    turns = turn_between(np.roll(found[:, 1], 1, axis=0), found[:, 0])
    turns[np.abs(turns) < SAME_WAY] = 0.0
    return Ring(np.rint(start / GRID) * GRID, turns, lengths, found)


def _through(normals: Floats, across: Floats, astray: np.ndarray) -> None:
    """Make the curves of chords arcs where an end is off them: true at the other, or straight.

    Args:
        normals: (k, 2, 2) of the curves at the chords' ends; changed.
        across: (k, 2) of the chords.
        astray: (k, 2) which ends are off the curve.
    """
    true = normals.copy()
    for end in (0, 1):
        other = true[:, 1 - end]
        mirrored = 2.0 * np.sum(across * other, axis=1)[:, None] * across - other
        normals[astray[:, end], end] = mirrored[astray[:, end]]
    straight = astray.all(axis=1)
    normals[straight] = across[straight, None]


def _feet(chords: Floats, points: Floats) -> tuple[Floats, Floats]:
    """Find the place of each chord (c, 2, 2) that is nearest to each point (k, 2).

    Returns:
        (k, c) how far along the chord it is as a share, and (k, c) how far away [m].
    """
    a, d = chords[:, 0], chords[:, 1] - chords[:, 0]
    x, y = (points[:, i, None] - a[:, i] for i in (0, 1))
    share = np.clip((x * d[:, 0] + y * d[:, 1]) / np.sum(d * d, axis=1), 0.0, 1.0)
    return share, np.hypot(x - share * d[:, 0], y - share * d[:, 1])
