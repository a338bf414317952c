"""Plan corners: where an outline or the border of a feature really turns."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from .cells import Cells
from .curves import Floats
from .layers import Layer
from .ring import Ring, turns_of
from .tolerances import CORNER, GRID, WELD

NOISE = 1.5 * GRID
"""[m] Wiggles of a border below this come from rounding and are no corners; the facets of an arc
of 10 mm radius are larger."""


def corners_of(layers: Sequence[Layer], rings: Sequence[Ring]) -> Floats:
    """Return the plan points (k, 2) of all corners.

    On an outline the turn of the true curve decides: where a feature's border meets the wall, the
    wall itself goes on. Elsewhere borders are straight, or run parallel to an outline in facets
    that turn by far less than a corner.
    """
    least = CORNER - 1e-9
    found = [ring.points[np.abs(ring.turns) >= least] for ring in rings]
    walls = shapely.union_all([shapely.boundary(ring.polygon) for ring in rings])
    shapely.prepare(walls)
    regions = [item.region for item in layers if not isinstance(item.height, Cells)]
    parts = shapely.get_parts(shapely.simplify(regions, NOISE))
    for line in shapely.get_rings(parts):
        points = shapely.get_coordinates(line)[:-1]
        found.append(points[np.abs(turns_of(points)) >= least])
    points = np.concatenate(found)
    is_own = np.arange(len(points)) < sum(len(item) for item in found[: len(rings)])
    kept: Floats = points[is_own | ~shapely.dwithin(walls, shapely.points(points), WELD)]
    return kept
