"""Which parts of a polyline are chords of a curve, and how far it turns in plan."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats

LEAST_TURN, CORNER = np.radians(0.1), np.radians(15.0)
"""[rad] What turns by less goes straight on, as what is drawn on the grid does; what turns by as
much or more is a corner."""

SHORT = 1e-3
"""[m] A vertex nearer to the one before it is left out: its turn tells nothing."""

SAGITTAS = 2.0
"""[-] A chord stands off its curve by no more than this many tolerances. What turns as little but
in longer steps, as a wall's foot does at a break of the floor, is no curve."""

EVEN = 2.0
"""[-] From chord to chord a curve turns by no more than so many times as much."""


@dataclass(frozen=True)
class Polyline:
    """A polyline without its needless vertices.

    Args:
        steps: (k,) lengths of its segments [m].
        before: (k,) turn at the start of each, unsigned [rad]; 0 at an end.
        after: (k,) turn at the end of each.
    """

    steps: Floats
    before: Floats
    after: Floats

    def chords(self, tolerance: float) -> Bools:
        """Return which segments (k,) are chords of a curve.

        A chord of length c, at whose end the curve has turned by t, stands off it by c t / 8.

        Args:
            tolerance: With which curves are flattened [m].
        """
        smooth = [(turn > LEAST_TURN) & (turn < CORNER) for turn in (self.before, self.after)]
        turn = np.maximum(np.where(smooth[0], self.before, 0), np.where(smooth[1], self.after, 0))
        found: Bools = (turn > 0.0) & (self.steps * turn <= 8.0 * SAGITTAS * tolerance)
        return found

    def has_curve(self, tolerance: float) -> bool:
        """Whether two chords of a curve follow each other, with even turns about them.

        Args:
            tolerance: With which curves are flattened [m].

        Returns:
            Whether there are such.
        """
        low, high = np.minimum(self.before, self.after), np.maximum(self.before, self.after)
        even = self.chords(tolerance) & (low > LEAST_TURN) & (high < CORNER) & (high <= EVEN * low)
        return bool((even[1:] & even[:-1]).any())


def thinned(points: Floats) -> Floats:
    """Return a polyline (n, d) without the vertices that are nearer than `SHORT` to their last."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    if not (steps < SHORT).any():
        return points
    kept = [0]
    for i in range(1, len(points)):
        if np.linalg.norm(points[i] - points[kept[-1]]) >= SHORT:
            kept.append(i)
    if kept[-1] != len(points) - 1:  # the last stays where it is
        kept[max(len(kept) - 1, 1) :] = [len(points) - 1]
    return points[kept]


def turns_along(points: Floats, *, closed: bool) -> Floats:
    """Return the unsigned turn at each vertex (n,) of a polyline [rad]; 0 at the ends of an open.

    Args:
        points: (n, d) [m]; a closed one repeats its first.
        closed: Whether it does.
    """
    steps = np.diff(points, axis=0)
    steps = steps / np.maximum(np.linalg.norm(steps, axis=1), 1e-12)[:, None]
    found = np.zeros(len(points))
    found[1:-1] = _angle(steps[:-1], steps[1:])
    if closed:
        found[[0, -1]] = _angle(steps[-1:], steps[:1])
    return found


def _angle(one: Floats, other: Floats) -> Floats:
    """Return the angle between unit vectors (k, d) [rad], exact where it is small."""
    found: Floats = 2.0 * np.arctan2(
        np.linalg.norm(one - other, axis=1), np.linalg.norm(one + other, axis=1)
    )
    return found


def polyline(points: Floats) -> Polyline:
    """Return what is known of a polyline (n, d) [m]; a closed one repeats its first point."""
    closed = len(points) > 3 and np.array_equal(points[0], points[-1])
    line = thinned(points)
    turns = turns_along(line, closed=closed)
    kept = turns > LEAST_TURN
    kept[[0, -1]] = True
    line, turns = line[kept], turns[kept]
    return Polyline(np.linalg.norm(np.diff(line, axis=0), axis=1), turns[:-1], turns[1:])


def plan_turns(points: Floats, *, closed: bool) -> Floats:
    """Return the turns [rad] at the vertices within a polyline (n, 2), plus to the left.

    Of a closed one the turn at its first point comes last.
    """
    line = thinned(points)
    steps = np.diff(line, axis=0)
    if closed:
        steps = np.concatenate([steps, steps[:1]])
    one, other = steps[:-1], steps[1:]
    cross = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    found: Floats = np.arctan2(cross, np.einsum("ij,ij->i", one, other))
    return found
