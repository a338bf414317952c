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
    """The underside of some layers.

    Args:
        region: Where the profile counts; beyond it there is only the level.
        floor: A profile; None where there is only a level.
        level: A level [m]; the lower of the two holds. Infinite where there is only a profile.
    """

    region: shapely.Geometry
    floor: Floor | None
    level: float = np.inf

    def lines(self) -> Floats:
        """Return the segments (k, 2, 2) along which it bends or ends [m]."""
        if self.floor is None:
            return np.zeros((0, 2, 2))
        found = []
        if len(self.floor.breaks):
            bounds = np.array(self.region.bounds)
            reach = 2.0 * float(np.abs(bounds).max() + np.abs(self.floor.origin).max())
            reach += float(np.abs(self.floor.breaks).max()) + 1.0
            lines = shapely.MultiLineString(list(self.floor.lines(self.floor.breaks, reach)))
            found.append(segments_of(shapely.intersection(lines, self.region)))
        if np.isfinite(self.level):
            found.append(floor_at_level(self.floor, self.level, self.region))
        return np.concatenate([*found, np.zeros((0, 2, 2))])


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
    """Return the underside of each face: that of the layer on top of it.

    Args:
        undersides: As the layers number them.
        plan: The painted plan.
    """
    numbers = np.array([item.underside for item in plan.layers] + [0])[plan.top]
    zone = 2 * numbers
    rows = []
    for number, item in enumerate(undersides):
        level = np.full(len(plan.partition.vertices), item.level)
        if item.floor is None:
            rows += [level, level]
            continue
        both = np.minimum(level, item.floor.height(plan.partition.vertices))
        rows += [both, level if np.isfinite(item.level) else both]
        mine = np.flatnonzero(numbers == number)
        shapely.prepare(item.region)
        zone[mine] += ~shapely.contains_xy(item.region, plan.partition.inside[mine])
    return Soffits(zone, np.array(rows))
