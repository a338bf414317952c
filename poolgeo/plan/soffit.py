"""The underside of the concrete: zones painted under the plan map.

The pool's soffit is its floor profile moved down square to its slope. A spa stands on a level
soffit of its own; its wall ring goes down to the pool's soffit where that is deeper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .curves import Floats
from .cut import floor_at_level, segments_of
from .floor import Floor
from .planmap import PlanMap

Ints = np.ndarray


@dataclass(frozen=True)
class Underside:
    """One zone of the underside, painted over the zones before it.

    Args:
        region: Where it holds.
        floor: A profile; None where there is only the level.
        level: A level [m]; the lower of the two holds. Infinite where there is only the floor.
    """

    region: shapely.Geometry
    floor: Floor | None
    level: float = np.inf

    def height(self, xy: Floats) -> Floats:
        """Return its height at plan points (k, 2) [m]."""
        z = np.full(len(xy), self.level)
        return z if self.floor is None else np.minimum(z, self.floor.height(xy))

    def lines(self) -> Floats:
        """Return the segments (k, 2, 2) along which it bends [m]."""
        found = [np.zeros((0, 2, 2))]
        if self.floor is not None and len(self.floor.breaks):
            bounds = np.array(self.region.bounds)
            reach = 2.0 * float(np.abs(bounds).max() + np.abs(self.floor.origin).max())
            reach += float(np.abs(self.floor.breaks).max()) + 1.0
            lines = shapely.MultiLineString(list(self.floor.lines(self.floor.breaks, reach)))
            found.append(segments_of(shapely.intersection(lines, self.region)))
        if self.floor is not None and np.isfinite(self.level):
            found.append(floor_at_level(self.floor, self.level, self.region))
        return np.concatenate(found)


@dataclass(frozen=True)
class Soffits:
    """The underside of the faces of a plan map.

    Args:
        zone: (f,) row of ``heights`` that holds for each face.
        heights: (zones, n) height at every vertex [m].
    """

    zone: Ints
    heights: Floats


def soffits(undersides: Sequence[Underside], plan: PlanMap) -> Soffits:
    """Paint the undersides on the faces of a plan."""
    zone = np.zeros(len(plan.top), dtype=np.int64)
    for number, item in enumerate(undersides):
        shapely.prepare(item.region)
        zone[shapely.contains_xy(item.region, plan.partition.inside)] = number
    heights = np.array([item.height(plan.partition.vertices) for item in undersides])
    return Soffits(zone, heights)


