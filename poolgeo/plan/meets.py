"""Where lofted surfaces meet: the lines on which two of them are equally high."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product

import numpy as np

from ..arrays import Floats, Ints
from .cells import Cells
from .contours import Contour
from .layers import Layer
from .spans import boxes_meet
from .tolerances import WELD

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
                for lines, mine, others in _meet_at_ends(one, other):
                    found.append(Contour(lines, n, mine, a[:0]))
                    found.append(Contour(lines, m, others, a[:0]))
    return found


def _meet_at_ends(one: Cells, other: Cells) -> Iterator[tuple[Floats, Floats, Floats]]:
    """Yield where sections cross in which one surface ends beside another.

    A cove beside a larger one on a wall that leans less is the higher of the two at first, and then
    the lower.

    Yields:
        From each crossing on along the section, as far as both are straight: (k, 2, 2) [m]; heights
        (k, 2) of one surface there, and of the other [m].
    """
    for ids, others in product(one.sections, other.sections):
        p, q = one.vertices[ids], other.vertices[others]
        start, ahead = p[0, :2], p[-1, :2] - p[0, :2]
        size = math.hypot(*ahead)
        if size < WELD or np.abs((q[:, :2] - start) @ [-ahead[1], ahead[0]]).max() > WELD * size:
            continue
        way = ahead / size
        (t, z), (u, v) = (_profile(points, start, way) for points in (p, q))
        at = np.unique(np.concatenate([t, u]))
        at = at[(at >= max(t[0], u[0])) & (at <= min(t[-1], u[-1]))]
        mine, theirs = np.interp(at, t, z), np.interp(at, u, v)
        over = mine - theirs
        k = np.flatnonzero(over[:-1] * over[1:] < 0.0)
        share = over[k] / (over[k] - over[k + 1])
        ends = np.column_stack([at[k] + share * (at[k + 1] - at[k]), at[k + 1]])
        level = mine[k] + share * (mine[k + 1] - mine[k])
        one_there, other_there = (np.column_stack([level, item[k + 1]]) for item in (mine, theirs))
        yield start + ends[..., None] * way, one_there, other_there


def _profile(points: Floats, start: Floats, way: Floats) -> tuple[Floats, Floats]:
    """Return how far along a way the points (k, 3) of a section stand, rising; their heights."""
    t = (points[:, :2] - start) @ way
    order = np.argsort(t, kind="stable")
    return t[order], points[order, 2]


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
