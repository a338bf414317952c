"""What holds along which stretch of an outline."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ...arrays import Floats, Ints
from ...design import schema
from ...errors import Key
from ..ring import Ring
from ..shapes import nearest_on
from ..stretch import Stretch, curve_point_at
from .on_outline import stretch_on
from .site import Site

ON_WALL = 1e-4
"""[m] A line nearer to the outline than this lies on it."""


@dataclass(frozen=True)
class Along:
    """What holds along which stretch of an outline.

    Args:
        ring: The outline.
        stretches: In the order of the file; of two that overlap the later holds.
    """

    ring: Ring
    stretches: tuple[Stretch, ...]

    @classmethod
    def of(
        cls, site: Site, items: Sequence[schema.CoveStretch | schema.BatterStretch], key: Key
    ) -> Along:
        """Return what holds along the stretches of a list of the pool file."""
        found = [
            stretch_on(site, item.start, item.end, (*key, "stretches", i))
            for i, item in enumerate(items)
        ]
        return cls(site.ring, tuple(found))

    @property
    def ends(self) -> Floats:
        """Plan points (k, 2) at which something changes [m]."""
        at = [at for item in self.stretches for at in (item.start, item.end) if at is not None]
        return np.array([curve_point_at(self.ring, item) for item in at]).reshape(-1, 2)

    def at(self, points: Floats) -> tuple[Ints, Floats]:
        """Return what holds at the places of the outline next to plan points (k, 2).

        Returns:
            (k,) 0 where no stretch lies, else the number of the stretch from 1; (k,) how far off
            the points are [m].
        """
        edge, share, away = nearest_on(self.ring.points, points)
        station = self.ring.stations[edge] + share * self.ring.lengths[edge]
        found = np.zeros(len(points), dtype=np.int64)
        for k, item in enumerate(self.stretches, 1):
            inside = np.ones(len(points), dtype=bool)
            if item.start is not None:
                inside = (station - item.start) % self.ring.perimeter < item.length
            found[inside] = k
        return found, away

    def numbers(self, points: Floats, sag: float) -> Ints:
        """Return what holds along each step (n,) of a closed line, as `at` does; -1 off it.

        Args:
            points: (n, 2) [m].
            sag: How far its chords may be from the outline [m].
        """
        found, away = self.at((points + np.roll(points, -1, axis=0)) / 2.0)
        return np.where(away < sag + ON_WALL, found, -1)
