"""The sides of a ring as curves again, for what was left by an overlay has no others."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from .curves import Chords, Line, Piece
from .ring import Ring
from .tolerances import CORNER

STRAIGHT = 2e-5
"""[-] Sides of which the tangents differ by less are straight."""

OFF_LINE = 5e-6
"""[m] Points nearer to a line lie on it: some times the grid."""


@dataclass(frozen=True)
class Traced:
    """A smooth line through points along unit tangents: on each chord a cubic.

    Args:
        points: (k + 1, 2) [m].
        tangents: (k, 2, 2) at the start and at the end of each chord.
        lengths: (k,) true length over each chord [m].
        start: Chord and share of it, as one number, at which it begins.
        stop: The same for its end.
    """

    points: Floats
    tangents: Floats
    lengths: Floats
    start: float
    stop: float

    @property
    def domain(self) -> tuple[float, float]:
        """In chords."""
        return self.start, self.stop

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        k = np.clip(np.floor(t).astype(int), 0, len(self.lengths) - 1)
        f = (t - k)[:, None]
        chord = self.points[k + 1] - self.points[k]
        a, b = (self.lengths[k, None] * self.tangents[k, i] for i in (0, 1))
        second, third = 3.0 * chord - 2.0 * a - b, a + b - 2.0 * chord
        found: Floats = self.points[k] + f * (a + f * (second + f * third))
        if order == 0:
            return found
        found = a + f * (2.0 * second + 3.0 * f * third)
        return found if order == 1 else 2.0 * second + 6.0 * f * third

    def part(self, start: float, end: float) -> Traced:
        """Return a part of it."""
        return Traced(self.points, self.tangents, self.lengths, start, end)

    def flatten(self, tolerance: float) -> Chords:  # noqa: ARG002 - its own chords are within it
        """Return the chords that it came from."""
        inner = np.arange(np.floor(self.start) + 1.0, np.ceil(self.stop))
        places = np.concatenate([[self.start], inner, [self.stop]])
        velocity = self.at(places, 1)
        return Chords(
            self.at(places),
            np.diff(np.interp(places, np.arange(len(self.points)), self._stations)),
            velocity / np.hypot(*velocity.T)[:, None],
            places,
        )

    @property
    def _stations(self) -> Floats:
        return np.concatenate([[0.0], np.cumsum(self.lengths)])


def traced(ring: Ring) -> list[Piece]:
    """Return the sides of a ring from corner to corner; the first begins at the first corner."""
    corners = np.flatnonzero(np.abs(ring.turns) >= CORNER - 1e-9)
    count = len(ring.points)
    first = corners if len(corners) else np.zeros(1, dtype=np.int64)
    found: list[Piece] = []
    for begin, end in zip(first, [*first[1:], first[0] + count], strict=True):
        ids = np.arange(begin, end) % count
        points = ring.points[np.append(ids, end % count)]
        normals = ring.chord_normals[ids]
        tangents = np.stack([normals[..., 1], -normals[..., 0]], axis=-1)
        away = points - points[0]
        (x, y), off = away.T, points[-1] - points[0]
        across = np.abs(x * off[1] - y * off[0]) / np.hypot(*off)
        bends = np.abs(tangents - tangents[0, 0]).max() > STRAIGHT or across.max() > OFF_LINE
        whole = Traced(points, tangents, ring.lengths[ids], 0.0, float(len(ids)))
        found.append(whole if bends else Line(points[0], points[-1]))
    return found
