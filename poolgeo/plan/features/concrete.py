"""The pool's wall in plan, as the features that stand beside it find it.

::

       raised: a part of the wall top, between two cuts square to the outline
       _________
      |         |___________  top: as wide as the bond beam, where there is one
      |_________|___________|
       wall: as thick as the shell, or as the stretch says
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ...errors import Key
from ..shapes import polygons_only
from ..stretch import SHORTEST, Stretch, point_at, station_of

NEAR = 1e-4
"""[m] A part of the wall's top nearer to the outline than this stands at it."""


@dataclass(frozen=True)
class High:
    """A part of the wall top at a height of its own.

    Args:
        region: Its plan.
        top: Height of the wall's top there [m].
        name: For labels and findings.
        key: Its key in the pool file.
    """

    region: shapely.Geometry
    top: float
    name: str
    key: Key


@dataclass(frozen=True)
class Wall:
    """The pool's wall in plan.

    Args:
        outer: What its outer face encloses, below a bond beam.
        head: What its top encloses.
        base: What its footing encloses, ``outer`` itself without one.
        tops: Parts of its top; the first is all of it, later ones replace earlier ones.
        thickness: Of the wall where no stretch has its own [m].
        stretches: Those that have, with their thickness [m].
    """

    outer: shapely.Polygon
    head: shapely.Polygon
    base: shapely.Polygon
    tops: tuple[High, ...]
    thickness: float
    stretches: tuple[tuple[Stretch, float], ...] = ()

    @property
    def overhang(self) -> shapely.Geometry:
        """What of the top stands out beyond the wall below it."""
        if self.head is self.outer:
            return shapely.Polygon()
        return polygons_only(shapely.difference(self.head, self.outer))

    @cached_property
    def whole(self) -> shapely.Polygon:
        """All that it takes of the plan, the pool included."""
        if self.head is self.base:
            return self.head
        return shapely.union(self.head, self.base)

    def lowest_along(self, line: shapely.LineString) -> float:
        """Return the least height of its top along a line on the outline [m]."""
        if len(self.tops) == 1:
            return self.tops[0].top
        rest, found = line, []
        for item in self.tops[:0:-1]:
            near = shapely.buffer(item.region, NEAR)
            if shapely.intersection(rest, near).length > SHORTEST:
                found.append(item.top)
                rest = shapely.difference(rest, near)
        return min([*found, self.tops[0].top] if rest.length > SHORTEST else found)

    @property
    def all_thicknesses(self) -> list[float]:
        """Its thicknesses [m], that of the shell left out where stretches cover the outline."""
        found = [thick for _, thick in self.stretches]
        rest = self.stretches[0][0].ring.perimeter if self.stretches else np.inf
        rest -= sum(item.length for item, _ in self.stretches)
        return [self.thickness, *found] if rest > SHORTEST else found

    def thicknesses(self, stretch: Stretch) -> list[float]:
        """Return how thick it is along a stretch: one value, or several where that changes [m]."""
        if self.stretches and stretch.start is not None and stretch.end is not None:
            ring = self.stretches[0][0].ring  # a weir stands on the bare one
            ends = (point_at(stretch.ring, at) for at in (stretch.start, stretch.end))
            stretch = Stretch(ring, *(station_of(ring, (float(x), float(y))) for x, y in ends))
        mine = [(item, thick) for item, thick in self.stretches if overlap(item, stretch)]
        for item, thick in mine:
            if covers(item, stretch):
                return [thick]
        return [self.thickness, *(thick for _, thick in mine)]


def overlap(one: Stretch, other: Stretch) -> bool:
    """Whether two stretches of one outline have a length in common."""
    if one.start is None or other.start is None:
        return True
    round_ = one.ring.perimeter
    ahead, back = (other.start - one.start) % round_, (one.start - other.start) % round_
    return min(ahead, round_ - ahead) < SHORTEST or (
        ahead < one.length - SHORTEST or back < other.length - SHORTEST
    )


def covers(one: Stretch, other: Stretch) -> bool:
    """Whether a stretch holds all of another of its outline."""
    if one.start is None or other.start is None:
        return one.start is None
    ahead = (other.start - one.start + SHORTEST) % one.ring.perimeter
    return ahead + other.length <= one.length + 2.0 * SHORTEST
