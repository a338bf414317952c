"""Zones: what lies in which, of edges and of sums."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..mesh import ZONES
from ..plan.levels import WALL_TOP, ZONE_OF_STAGE, stages
from ..plan.tolerances import GRID


def in_zones(owner: Ints, zone: Ints, sizes: Floats, count: int) -> Floats:
    """Return the sum of sizes for each owner and zone (count, zones).

    Args:
        owner: (k,) from 0 to count - 1.
        zone: (k,) a number of `ZONES`.
        sizes: (k,).
        count: How many owners there are.
    """
    width = len(ZONES)
    sums = np.bincount(owner * width + zone, sizes, minlength=count * width)
    found: Floats = sums.astype(np.float64).reshape(count, width)
    return found


def zones_of(z: Floats, cuts: Floats, beside: Ints) -> Ints:
    """Return the zones of edges (k,).

    An edge on which a wall top ends lies in the zone of that; any other where its middle does.

    Args:
        z: (k,) height of the middle of each [m].
        cuts: (k, 3) levels of its body [m].
        beside: (k, 2) zones of the triangles on both sides.
    """
    highest = np.maximum(beside[:, 0], beside[:, 1])
    by_height = ZONE_OF_STAGE[stages(z, list(cuts.T), GRID)]
    found: Ints = np.where(highest >= WALL_TOP, highest, by_height)
    return found
