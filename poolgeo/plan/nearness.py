"""What is near enough to meet in noding: edges by their boxes, vertices by their distance."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from .spans import boxes_meet

WIDEST = 1.5e-4
"""[m] No reach is wider than this."""


def near_edges(low: Floats, high: Floats, asking: Ints, answering: Ints) -> tuple[Ints, Ints]:
    """Return the pairs of edges of which the boxes (2, e) come nearer than the widest reach."""
    i, j = boxes_meet(
        low[:, asking] - WIDEST, high[:, asking] + WIDEST, low[:, answering], high[:, answering]
    )
    return asking[i], answering[j]


def neighbours(xy: Floats, fresh: Ints, apart: Floats) -> tuple[Ints, Ints]:
    """Return pairs of vertices, lower number first, nearer than either's distance; one is fresh.

    The fresh ones have the highest numbers.
    """
    places, most = xy.T, apart.max(initial=0.0)
    near = places[:, fresh]
    i, j = boxes_meet(near - most, near + most, places, places)
    one = fresh[i]
    real = (one < j) | (j < len(xy) - len(fresh))  # each once
    a, b = np.minimum(one, j)[real], np.maximum(one, j)[real]
    close = np.hypot(*(xy[a] - xy[b]).T) < np.maximum(apart[a], apart[b])
    return a[close], b[close]
