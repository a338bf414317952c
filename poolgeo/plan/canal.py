r"""The rolling ball: its centre path and its section, for any wall point and any floor profile.

The ball of radius r touches a vertical wall at a point p (inward plan normal n) and the floor. Its
centre stands at plan p + r n, on the floor profile moved up by r. The section is an arc about the
centre, from the wall contact (angle 0) to the floor contact (angle phi). ::

    |          angle 0: wall contact, height of the centre
    |<- r ->c
    |\      |
      `-.___|_ angle phi: floor contact, centre - r N

Over each piece of the floor the ball rolls on that piece's whole plane. Where two pieces meet, at
a toe or at a brow, their coves meet in a mitre: the floor's crease runs on through the cove up to
the wall.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .curves import Floats
from .floor import Floor


class PiecesOverlapError(ValueError):
    """A floor piece is too short for the ball to touch it."""


@dataclass(frozen=True)
class Canal:
    """A ball of a radius on a floor.

    Args:
        floor: The floor profile.
        radius: [m].
        bounds: (pieces - 1,) u at which the ball goes over from one piece to the next [m].
    """

    floor: Floor
    radius: float
    bounds: Floats

    @classmethod
    def on(cls, floor: Floor, radius: float) -> Canal:
        """Return the ball on the floor.

        Raises:
            PiecesOverlapError: A floor piece between two breaks is too short for the ball.
        """
        lift = floor.intercepts + radius * np.hypot(1.0, floor.slopes)
        bounds = -np.diff(lift) / np.diff(floor.slopes) if len(floor.breaks) else np.zeros(0)
        if np.any(np.diff(bounds) <= 0.0):
            msg = "a piece of the floor between two break lines is too short for it"
            raise PiecesOverlapError(msg)
        return cls(floor, radius, bounds)

    def piece(self, p: Floats, n: Floats) -> np.ndarray:
        """Return the floor piece that the ball rolls on beside wall points (..., 2)."""
        return np.searchsorted(self.bounds, self.floor.along(p + self.radius * n))

    def centre(self, p: Floats, n: Floats, piece: int) -> Floats:
        """Return the ball's centre (..., 3) [m].

        Args:
            p: (..., 2) wall points [m].
            n: (..., 2) inward unit normals there.
            piece: The floor piece that it rolls on.
        """
        o = p + self.radius * n
        m = self.floor.slopes[piece]
        lift = self.floor.intercepts[piece] + self.radius * np.hypot(1.0, m)
        z = lift + m * self.floor.along(o)
        return np.concatenate([o, z[..., None]], axis=-1)

    def opening(self, n: Floats, piece: int) -> Floats:
        """Return phi, the angle from wall contact to floor contact [rad]."""
        phi: Floats = np.arccos(np.clip(n @ self.floor.normal(piece)[:2], -1.0, 1.0))
        return phi

    def points(self, p: Floats, n: Floats, piece: int, share: Floats) -> Floats:
        """Return points of the section (..., 3); wall points and shares are broadcast.

        Args:
            p: (..., 2) wall points [m].
            n: (..., 2) inward unit normals there.
            piece: The floor piece that the ball rolls on.
            share: (...) angle from the wall contact as a share of phi.
        """
        phi = self.opening(n, piece)
        sine, angle = np.sin(phi), share * phi
        to_wall = (np.sin(phi - angle) / sine)[..., None]
        to_floor = (np.sin(angle) / sine)[..., None]
        found: Floats = self.centre(p, n, piece) - self.radius * to_floor * self.floor.normal(piece)
        found[..., :2] -= self.radius * to_wall * n
        return found
