"""Facets that overlap: the highest, or the lowest, of them stays."""

from __future__ import annotations

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .shapes import polygons_only
from .slope import LEAST
from .tolerances import SAME_HEIGHT

FINE = 1e-9
"""[m] Grid of what is taken off facets; without one an overlay of them may fail unnoticed."""


def envelope(facets: np.ndarray, planes: Floats, *, highest: bool) -> tuple[np.ndarray, Floats]:
    """Resolve overlaps of facets: the highest, or the lowest, of them stays.

    Args:
        facets: (k,) convex polygons [m].
        planes: (k, 3) [-, -, m].
        highest: Which stays.

    Returns:
        Facets that do not overlap, and their planes.
    """
    found, of = resolved(facets, planes, highest=highest)
    return found, planes[of]


def resolved(facets: np.ndarray, planes: Floats, *, highest: bool) -> tuple[np.ndarray, Ints]:
    """Resolve overlaps as `envelope` does.

    Returns:
        Facets that do not overlap, and which each of them was part of.
    """
    one, other = shapely.STRtree(facets).query(facets)
    one, other = one[one < other], other[one < other]
    overlaps = shapely.intersection(facets[one], facets[other])
    real = shapely.area(overlaps) > LEAST
    if not real.any():
        return facets, np.arange(len(facets))
    lost: dict[int, list[shapely.Geometry]] = {}
    for i, j, both in zip(one[real].tolist(), other[real].tolist(), overlaps[real], strict=True):
        differ = planes[j] - planes[i] if highest else planes[i] - planes[j]
        taken = _above(both, differ)
        lost.setdefault(i, []).append(taken)
        lost.setdefault(j, []).append(shapely.difference(both, taken))
    left = facets.copy()
    for i, taken_off in lost.items():
        off = shapely.union_all(taken_off, grid_size=FINE)
        left[i] = polygons_only(shapely.difference(facets[i], off, grid_size=FINE))
    parts, of = shapely.get_parts(left, return_index=True)
    kept = shapely.area(parts) > LEAST
    return parts[kept], of[kept]


def _above(polygon: shapely.Geometry, plane: Floats) -> shapely.Geometry:
    """Return the part of a convex polygon over which a plane is above 0."""
    corners = shapely.get_coordinates(shapely.convex_hull(polygon))[:-1]
    d = corners @ plane[:2] + plane[2]
    if d.max() <= SAME_HEIGHT * 1e-3:
        return shapely.Polygon()
    line = []
    for k, (p, at) in enumerate(zip(corners, d, strict=True)):
        q, next_ = corners[(k + 1) % len(d)], d[(k + 1) % len(d)]
        if at > 0.0:
            line.append(p)
        if (at > 0.0) != (next_ > 0.0):
            line.append(p + at / (at - next_) * (q - p))
    return shapely.Polygon(line) if len(line) > 2 else shapely.Polygon()
