"""Plan corners: where an outline or the border of a feature really turns."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from .cells import Cells
from .curves import Floats
from .layers import Layer
from .ring import Ring
from .shapes import rings_of
from .tolerances import CORNER, WELD

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
    regions = [item.region for item in layers if not isinstance(item.height, Cells)]
    points = _turning(rings_of(regions))
    walls = shapely.multilinestrings([shapely.linearrings(ring.points) for ring in rings])
    off = shapely.distance(walls, shapely.points(points)) > WELD
    return np.concatenate([*own, points[off]])


def _turning(lines: Sequence[Floats]) -> Floats:
    """Return the places (k, 2) at which closed lines turn by a corner's least deflection or more.

    Args:
        lines: (n, 2), each with its first point repeated [m].
    """
    xy = np.concatenate([*lines, np.zeros((0, 2))])
    size = np.array([len(line) for line in lines])
    last = np.cumsum(size) - 1
    first = last + 1 - size
    step = np.hypot(*np.diff(xy, axis=0).T)
    step[last[:-1]] = 1.0  # from line to line
    at = np.concatenate([[0.0], np.cumsum(step)])
    line = np.repeat(np.arange(len(size)), size)
    begin, total = at[first][line], (at[last] - at[first])[line]

    def place(away: float) -> Floats:
        along = begin + (at - begin + away) % total
        return np.column_stack([np.interp(along, at, xy[:, i]) for i in range(2)])

    before, after = xy - place(-WINDOW), place(WINDOW) - xy
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.abs(np.arctan2(cross, np.sum(before * after, axis=1)))
    turn[last] = 0.0  # the first point again
    turn[total < 4.0 * WINDOW] = 0.0
    turns = np.flatnonzero(turn >= CORNER - 1e-9)
    # of those that see the same turn, the one that sees most of it
    parted = np.diff(at[turns]) > 2.0 * WINDOW
    group = np.concatenate([[0], np.cumsum(parted)]) if len(turns) else turns
    order = np.lexsort((turn[turns], group))
    is_last = np.append(np.diff(group[order]) > 0, True)[: len(order)]
    found: Floats = xy[turns[order[is_last]]]
    return found
