"""Wall lines as the cove sees them: sides between sharp corners, water on the left.

A **side** is a smooth stretch of a wall line, or the **pivot** in which the ball turns about an
outside corner: one point whose normal swings round.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from ..arrays import Floats
from .curves import turn_between
from .ring import turns_of
from .tolerances import OUTLINE_TURN, SHARP_TURN

ONE_CURVE = 1.0 - 1e-4
"""[-] Cosine between the normal that is known at the end of a side and what its curve makes of it:
where they differ more, that is the normal of another line there."""


@dataclass(frozen=True)
class Side:
    """A smooth stretch of wall line.

    Args:
        s: (k,) parameter of its vertices, rising; length along the chords [m] (in a pivot: the
            radius times the angle).
        p: (k, 2) vertices [m].
        n: (k, 2) inward (left) unit normals.
        curved: (k - 1,) chords of a curve whose normals are known: between their ends the side
            follows the curve (a cubic), not the chord.
        turn: Turn of the plan at its end: above 0 an inside corner, 0 when it goes on smoothly
            into the next side [rad].
        pivot: Whether it swings about an outside corner.
    """

    s: Floats
    p: Floats
    n: Floats
    curved: np.ndarray
    turn: float
    pivot: bool = False

    @property
    def length(self) -> float:
        """Parameter of its end [m]."""
        return float(self.s[-1])

    @cached_property
    def _cubics(self) -> Floats:
        """Coefficients (k - 1, 4, 2) of each chord's cubic in 0..1, constant first.

        On a curve it runs through both ends along their tangents, of length L 2 / (1 + cos(half
        the turn)): a circle to sixth order. Elsewhere it is the chord.
        """
        chord = np.diff(self.p, axis=0)
        a, b = self.n[:-1], self.n[1:]
        half = np.sqrt((1.0 + np.sum(a * b, axis=1)) / 2.0)
        size = (np.hypot(*chord.T) * 2.0 / (1.0 + half))[:, None]
        start = np.where(self.curved[:, None], np.column_stack([a[:, 1], -a[:, 0]]) * size, chord)
        stop = np.where(self.curved[:, None], np.column_stack([b[:, 1], -b[:, 0]]) * size, chord)
        return np.stack(
            [self.p[:-1], start, 3.0 * chord - 2.0 * start - stop, start + stop - 2.0 * chord], 1
        )

    def at(self, s: Floats) -> tuple[Floats, Floats]:
        """Return points and normals at parameters (...); beyond its ends it goes on straight."""
        i = np.searchsorted(self.s[1:-1], s, side="right")
        start = self.s.take(i)
        f = ((s - start) / (self.s.take(i + 1) - start))[..., None]
        g = np.minimum(np.maximum(f, 0.0), 1.0)
        n = self.n.take(i, axis=0) * (1.0 - g) + self.n.take(i + 1, axis=0) * g
        n /= np.sqrt(n[..., :1] ** 2 + n[..., 1:] ** 2)
        c = self._cubics.take(i, axis=0)
        p = c[..., 0, :] + g * (c[..., 1, :] + g * (c[..., 2, :] + g * c[..., 3, :]))
        beyond = f - g
        if beyond.any():
            p += beyond * (self.p.take(i + 1, axis=0) - self.p.take(i, axis=0))
        return p, n

    def sags(self, s: Floats) -> Floats:
        """Return how far the chords at parameters (k,) stand off what their normals make of them.

        Where the side follows its curve that is nothing [m].
        """
        i = np.searchsorted(self.s[1:-1], s, side="right")
        a, b = self.n[i], self.n[i + 1]
        turn = turn_between(a, b)
        on, size = s - self.s[i], self.s[i + 1] - self.s[i]
        off: Floats = turn * on * (size - on) / (2.0 * size)
        return np.where(self.curved[i], 0.0, off)


def about_corner(before: Side, pivot: Side, after: Side) -> Side:
    """Return the sides about an outside corner as one, its parameter 0 where the pivot begins."""
    starts = (-before.length, 0.0, pivot.length)
    sides = (before, pivot, after)
    return Side(
        np.concatenate([
            *(side.s[:-1] + start for side, start in zip(sides, starts, strict=True)),
            [pivot.length + after.length],
        ]),
        np.concatenate([before.p[:-1], pivot.p[:-1], after.p]),
        np.concatenate([before.n[:-1], pivot.n[:-1], after.n]),
        np.concatenate([side.curved for side in sides]),
        after.turn,
    )  # fmt: skip


def sides_of(points: Floats, normals: Floats, radius: float, *, closed: bool) -> list[Side]:
    """Split a polyline into sides and pivots.

    Args:
        points: (n, 2) water on the left, first point not repeated [m].
        normals: (n, 2) left unit normals of the true curve, nan where they are not known.
        radius: Times the angle it is the parameter within a pivot [m].
        closed: Whether the last point joins the first.

    Returns:
        Sides in order; a closed smooth line gives one side whose ends coincide. An open line ends
        square to itself.
    """
    chords = np.roll(points, -1, axis=0) - points
    along = chords / np.maximum(np.hypot(*chords.T), 1e-12)[:, None]  # an open one may come back
    turns = turns_of(points)
    left = np.column_stack([-along[:, 1], along[:, 0]])
    smooth = left + np.roll(left, 1, axis=0)
    smooth /= np.maximum(np.hypot(*smooth.T), 1e-12)[:, None]
    known = np.isfinite(normals[:, 0])
    smooth[known] = normals[known]
    line = _Line(points, smooth, left, known)
    count = len(points)
    sharp = np.abs(turns) > SHARP_TURN
    if closed and not sharp.any():
        return [_side(line, [*range(count), 0], 0.0)]
    if closed:
        first = np.flatnonzero(sharp)
        bounds = [*first.tolist(), int(first[0]) + count]
    else:
        bounds = [0, *(1 + np.flatnonzero(sharp[1:-1])).tolist(), count - 1]
        turns[[0, -1]] = 0.0
    smooth_sides = []
    for start, stop in pairwise(bounds):
        indices = [i % count for i in range(start, stop + 1)]
        smooth_sides.append(_side(line, indices, float(turns[indices[-1]]), ends_free=True))
    sides = []
    for i, side in enumerate(smooth_sides):
        sides.append(side)
        if side.turn < 0.0:
            following = smooth_sides[(i + 1) % len(smooth_sides)]
            sides.append(_pivot(side.p[-1], side.n[-1], following.n[0], radius))
    return sides


@dataclass(frozen=True)
class _Line:
    points: Floats
    normals: Floats
    left: Floats
    known: np.ndarray


def _side(line: _Line, indices: list[int], turn: float, *, ends_free: bool = False) -> Side:
    p, n, known = line.points[indices], line.normals[indices], line.known[indices]
    if ends_free:  # the normal of a circle goes on through a chord's end as it came to its start
        for end, inner, chord in ((0, 1, indices[0]), (-1, -2, indices[-2])):
            across, own = line.left[chord], n[end].copy()
            n[end] = across
            was_known, known[end] = known[end], known[inner]
            if known[inner] and len(indices) > 2:
                n[end] = 2.0 * (across @ n[inner]) * across - n[inner]
                if was_known and own @ n[end] > ONE_CURVE:
                    n[end] = own
        if len(indices) == 2:
            known[:] = False
    lengths = np.hypot(*np.diff(p, axis=0).T)
    s = np.concatenate([[0.0], np.cumsum(lengths)])
    return Side(s, p, n, known[:-1] & known[1:], turn)


def _pivot(corner: Floats, before: Floats, after: Floats, radius: float) -> Side:
    """Swing from the true normal at the end of one side to that at the start of the next."""
    turn = math.atan2(before[0] * after[1] - before[1] * after[0], float(before @ after))
    count = max(1, math.ceil(abs(turn) / OUTLINE_TURN))
    angle = math.atan2(before[1], before[0]) + np.linspace(0.0, turn, count + 1)
    n = np.column_stack([np.cos(angle), np.sin(angle)])
    s = radius * np.linspace(0.0, abs(turn), count + 1)
    still = np.zeros(count, dtype=bool)
    return Side(s, np.broadcast_to(corner, n.shape).copy(), n, still, 0.0, pivot=True)
