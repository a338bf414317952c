"""The part of the plan over which a floor has to be known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from ...arrays import Floats
from ..ring import Ring

MARGIN = 2.0
"""[m] A floor is known at least this far beyond the outline: its underside runs on under walls."""


@dataclass(frozen=True)
class Extent:
    """What a floor has to cover.

    Args:
        ring: The outline.
        tolerance: Largest distance of a facet from a curved floor [m].
    """

    ring: Ring
    tolerance: float

    @property
    def box(self) -> shapely.Polygon:
        """A box with ample room round the outline."""
        low, high = self.ring.points.min(axis=0), self.ring.points.max(axis=0)
        grown = MARGIN + 0.5 * float((high - low).max())
        return shapely.box(*(low - grown), *(high + grown))

    @property
    def reach(self) -> float:
        """A distance that leads from any place of the box out of it [m]."""
        x0, y0, x1, y1 = self.box.bounds
        return float(np.hypot(x1 - x0, y1 - y0))

    def spans(self, origin: Floats, direction: Floats) -> tuple[float, float]:
        """Return between which distances along a direction the outline lies [m]."""
        along = (self.ring.points - origin) @ direction
        return float(along.min()), float(along.max())

    def chord(self, start: Floats, direction: Floats) -> tuple[float, float] | None:
        """Return between which distances along a line it runs in the outline [m].

        Args:
            start: (2,) a point of the line.
            direction: (2,) unit vector along it.

        Returns:
            Of its first and of its last point in the outline; None where it misses it.
        """
        far = self.reach * direction
        line = shapely.LineString([start - far, start + far])
        inside = shapely.get_coordinates(shapely.intersection(line, self.ring.polygon))
        if not len(inside):
            return None
        along = (inside - start) @ direction
        return float(along.min()), float(along.max())
