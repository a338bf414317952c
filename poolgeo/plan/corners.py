"""Plan corners: where an outline or the border of a feature really turns."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..arrays import Floats
from .cells import Cells
from .layers import Layer
from .ring import Ring
from .shapes import rings_of
from .tolerances import CORNER, WELD
from .turning import corners_in

WINDOW = 1e-4
"""[m] A border's turn is taken over this length either way: jogs and crumbs that rounding and
welding leave are shorter, chords of a curve are longer."""


def corners_of(layers: Sequence[Layer], rings: Sequence[Ring]) -> Floats:
    """Return the plan points (k, 2) of all corners.

    On an outline the turn of the true curve decides: where a feature's border meets the wall, the
    wall itself goes on. Elsewhere borders are straight, or run parallel to an outline in facets
    that turn by far less than a corner.
    """
    own = [ring.points[np.abs(ring.turns) >= CORNER - 1e-9] for ring in rings]
    regions = [
        item.region
        for item in layers
        if not (isinstance(item.height, Cells) or item.returned)  # no face stands on that border
    ]
    lines = rings_of(regions)
    borders = np.concatenate([*lines, np.zeros((0, 2))])
    last = np.cumsum([len(line) for line in lines]) - 1
    points = borders[corners_in(borders, last, WINDOW, CORNER)]
    walls = shapely.multilinestrings([shapely.linearrings(ring.points) for ring in rings])
    off = shapely.distance(walls, shapely.points(points)) > WELD
    return np.concatenate([*own, points[off]])
