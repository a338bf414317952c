"""Fitting regions together: borders that run along each other share their vertices.

Lines that run along each other without sharing their vertices, each rounded to the grid on its own,
cross at random and leave slits between neighbours.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from .cells import Cells
from .curves import Floats
from .layers import Layer
from .tolerances import GRID, grid_keys

NEW_VERTEX = 1e-4
"""[m] A vertex of a cove is put into a border that is nearer than this: where its joint falls
between two vertices of a flattened wall, it may stand off the chord."""

SHARED = 3.0 * GRID
"""[m] A vertex of another region is put into a border that is nearer than this."""


def fit_regions(layers: Sequence[Layer]) -> list[Layer]:
    """Put into each region's border the vertices of coves and of other regions that lie on it.

    Returns:
        The layers, in their order.
    """
    chains = [
        item.height.vertices[np.unique(np.concatenate(item.height.walls)), :2]
        for item in layers
        if isinstance(item.height, Cells)
    ]
    coves = np.concatenate([*chains, np.zeros((0, 2))])
    fitted = [
        item
        if isinstance(item.height, Cells)
        else replace(item, region=_fit(item.region, coves, NEW_VERTEX))
        for item in layers
    ]
    regions = [item.region for item in fitted if not isinstance(item.height, Cells)]
    corners = shapely.get_coordinates(regions)
    _, first = np.unique(grid_keys(corners), return_index=True)
    return [
        item
        if isinstance(item.height, Cells)
        else replace(item, region=_fit(item.region, corners[first], SHARED))
        for item in fitted
    ]


def _fit(region: shapely.Geometry, points: Floats, reach: float) -> shapely.Geometry:
    """Put those points into a region's border that lie on it and are not its vertices yet."""
    own = grid_keys(shapely.get_coordinates(region))
    others = points[~np.isin(grid_keys(points), own)]
    border = shapely.boundary(region)
    shapely.prepare(border)
    added = others[shapely.dwithin(border, shapely.points(others), reach)]
    if not len(added):
        return region
    polygons = []
    for part in shapely.get_parts(region):
        outer, *holes = (
            _with_points(shapely.get_coordinates(ring), added, reach)
            for ring in shapely.get_rings(part)
        )
        polygons.append(shapely.Polygon(outer, holes))
    found = polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)
    return found if found.is_valid else region


def _with_points(ring: Floats, points: Floats, reach: float) -> Floats:
    """Insert points into the segments of a closed ring that they lie on; move no vertex."""
    start, along = ring[:-1], np.diff(ring, axis=0)
    away = points[:, None] - start[None]
    share = np.sum(away * along, axis=2) / np.maximum(np.sum(along * along, axis=1), 1e-30)
    share = np.clip(share, 0.0, 1.0)
    gaps = np.hypot(*np.moveaxis(away - share[..., None] * along, 2, 0))
    segment = np.argmin(gaps, axis=1)
    rows = np.arange(len(points))
    share = share[rows, segment]
    inside = (gaps[rows, segment] < reach) & (share > 0.0) & (share < 1.0)
    place = np.concatenate([np.arange(len(ring)), (segment + share)[inside]])
    return np.concatenate([ring, points[inside]])[np.argsort(place, kind="stable")]
