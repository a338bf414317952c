"""Where lofted surfaces meet: the lines on which two of them are equally high."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Floats, Ints
from .cells import Cells
from .contours import Contour
from .layers import Layer
from .spans import boxes_meet

SHORTEST = 1e-7
"""[m] Cells meet in a longer line than this, or they only touch."""

PARALLEL = 1e-9
"""[-] Cells whose slopes differ by less meet in no line."""


def meets(layers: Sequence[Layer]) -> list[Contour]:
    """Return the lines on which lofted layers that are painted on each other are equally high.

    Args:
        layers: In painting order.

    Returns:
        Each line twice, once for either layer.
    """
    lofted = [(n, item.height) for n, item in enumerate(layers) if isinstance(item.height, Cells)]
    found: list[Contour] = []
    for k, (n, one) in enumerate(lofted):
        for m, other in lofted[k + 1 :]:
            if layers[m].over == "floor" and layers[m].body == layers[n].body:
                a, b, segments, heights = _meet(one, other)
                if len(a):
                    found.append(Contour(segments, n, heights, a))
                    found.append(Contour(segments, m, heights, b))
    return found


def _meet(one: Cells, other: Cells) -> tuple[Ints, Ints, Floats, Floats]:
    """Return the cells of either that meet, the lines (k, 2, 2) and the heights (k, 2) [m]."""
    p, q = (item.vertices[item.triangles] for item in (one, other))
    a, b = _overlaps(p[..., :2], q[..., :2])
    if not len(a):
        return a, b, np.zeros((0, 2, 2)), np.zeros((0, 2))
    p, q = p[a], q[b]
    origin = p[:, 0].copy()
    p, q = p - origin[:, None], q - origin[:, None]
    (slope, z), (other_slope, other_z) = _plane(p), _plane(q)
    turn, apart = slope - other_slope, z - other_z
    size = np.hypot(*turn.T)
    with np.errstate(all="ignore"):
        on = -apart[:, None] * turn / size[:, None] ** 2
        along = np.column_stack([-turn[:, 1], turn[:, 0]]) / size[:, None]
    low, high = np.full(len(a), -np.inf), np.full(len(a), np.inf)
    for corners in (p[..., :2], q[..., :2]):
        for i in range(3):
            start, side = corners[:, i], corners[:, (i + 1) % 3] - corners[:, i]
            inside = side[:, 0] * (on - start)[:, 1] - side[:, 1] * (on - start)[:, 0]
            rate = side[:, 0] * along[:, 1] - side[:, 1] * along[:, 0]
            with np.errstate(all="ignore"):
                at = -inside / rate
            low = np.where(rate > 0.0, np.maximum(low, at), low)
            high = np.where(rate < 0.0, np.minimum(high, at), high)
            high = np.where((rate == 0.0) & (inside < 0.0), -np.inf, high)
    bounded = np.isfinite(low) & np.isfinite(high)
    kept = np.flatnonzero((size > PARALLEL) & bounded & (high - low > SHORTEST))
    ends = on[kept, None] + np.stack([low, high], axis=1)[kept, :, None] * along[kept, None]
    heights = z[kept, None] + np.einsum("kj,kij->ki", slope[kept], ends) + origin[kept, 2:]
    return a[kept], b[kept], ends + origin[kept, None, :2], heights


def _overlaps(p: Floats, q: Floats) -> tuple[Ints, Ints]:
    """Return the pairs of triangles (k, 3, 2) of which the boxes overlap."""
    return boxes_meet(p.min(axis=1).T, p.max(axis=1).T, q.min(axis=1).T, q.max(axis=1).T)


def _plane(corners: Floats) -> tuple[Floats, Floats]:
    """Return the slopes (k, 2) of triangles (k, 3, 3), and their heights (k,) at the origin [m]."""
    d, e = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    slope = np.column_stack([
        (d[:, 2] * e[:, 1] - e[:, 2] * d[:, 1]) / area,
        (e[:, 2] * d[:, 0] - d[:, 2] * e[:, 0]) / area,
    ])  # fmt: skip
    return slope, corners[:, 0, 2] - np.sum(slope * corners[:, 0, :2], axis=1)
