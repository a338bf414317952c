"""The set-out frame: along the rows of tiles, across them, and up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats
from ..design.movement import MovementJoints

ALONG, ACROSS, UP = range(3)
"""Numbers of the axes."""


@dataclass(frozen=True)
class Frame:
    """A set-out frame.

    Args:
        origin: Plan point [m].
        direction: Of the rows of tiles, from x [rad].
    """

    origin: tuple[float, float]
    direction: float

    @classmethod
    def of(cls, asked: MovementJoints) -> Frame:
        """Return the frame that a pool file asks for."""
        return cls(asked.origin or (0.0, 0.0), float(np.radians(asked.direction)))

    @cached_property
    def axes(self) -> Floats:
        """Unit vectors along the rows, across them and up (3, 3)."""
        cosine, sine = np.cos(self.direction), np.sin(self.direction)
        return np.array([[cosine, sine, 0.0], [-sine, cosine, 0.0], [0.0, 0.0, 1.0]])

    def coordinates(self, points: Floats) -> Floats:
        """Return points (..., 3) in the frame [m]; heights stay."""
        moved = points - np.array([*self.origin, 0.0])
        found: Floats = moved @ self.axes.T
        return found
