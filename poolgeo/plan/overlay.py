"""Two surfaces one over the other: where they have one height, and where which is the higher."""

from __future__ import annotations

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .cells import Cells
from .floor import Floor
from .shapes import polygons_only
from .slope import LEAST, Slope, facets_of, heights_on
from .tolerances import GRID, SAME_HEIGHT


def meeting(
    one: float | Floor | Cells | Slope,
    other: float | Floor | Cells | Slope,
    region: shapely.Geometry,
) -> tuple[Floats, Ints]:
    """Return where two surfaces have one height.

    Args:
        one: The one.
        other: The other.
        region: Where it is asked.

    Returns:
        Segments (k, 2, 2) in the region [m], and (k,) what of the other each lies on.
    """
    parts, differ, of = _overlays(one, other, region)
    rings, of_ring = shapely.get_rings(parts, return_index=True)
    coords, ring = shapely.get_coordinates(rings, return_index=True)
    owner = of_ring[ring]
    d = heights_on(differ[owner], coords)
    apart = np.zeros(len(parts))
    np.maximum.at(apart, owner, np.abs(d))
    crossed = (ring[1:] == ring[:-1]) & ((d[1:] > 0.0) != (d[:-1] > 0.0))
    at = np.flatnonzero(crossed & (apart[owner[1:]] > SAME_HEIGHT))
    share = d[at] / (d[at] - d[at + 1])
    points = coords[at] + share[:, None] * (coords[at + 1] - coords[at])
    mine = owner[at]
    along = points[:, 1] * differ[mine, 0] - points[:, 0] * differ[mine, 1]
    order = np.lexsort((along, mine))
    ends = points[order].reshape(-1, 2, 2)
    piece = of[mine[order][::2]]
    if not len(ends):
        return ends, piece
    inside, which = shapely.get_parts(
        shapely.intersection(shapely.linestrings(ends), region), return_index=True
    )
    kept = (shapely.get_type_id(inside) == 1) & (shapely.length(inside) > 0.0)
    return shapely.get_coordinates(inside[kept]).reshape(-1, 2, 2), piece[which[kept]]


def higher(
    one: float | Floor | Cells | Slope,
    other: float | Floor | Cells | Slope,
    region: shapely.Geometry,
) -> shapely.Geometry:
    """Return where in a region one surface lies above another."""
    if region.is_empty:
        return region
    parts, differ, _ = _overlays(one, other, region)
    differ = differ - [0.0, 0.0, SAME_HEIGHT]
    coords, owner = shapely.get_coordinates(parts, return_index=True)
    d = heights_on(differ[owner], coords)
    most, least = np.full(len(parts), -np.inf), np.full(len(parts), np.inf)
    np.maximum.at(most, owner, d)
    np.minimum.at(least, owner, d)
    mixed = np.flatnonzero((most > 0.0) & (least < 0.0))
    up = differ[mixed, :2] / np.hypot(*differ[mixed, :2].T)[:, None]
    # a square on the upper side of where both are level, large enough for anything in the region
    size = 4.0 * np.ptp(coords, axis=0).sum() if len(coords) else 0.0
    middle = coords.mean(axis=0) if len(coords) else np.zeros(2)
    off = heights_on(differ[mixed], np.broadcast_to(middle, up.shape))
    foot = middle - (off / np.hypot(*differ[mixed, :2].T))[:, None] * up
    along = size * np.column_stack([-up[:, 1], up[:, 0]])
    ahead = size * up
    squares = np.stack([foot - along, foot + along, foot + along + ahead, foot - along + ahead], 1)
    parts[mixed] = shapely.intersection(parts[mixed], shapely.polygons(squares))
    inside = shapely.intersection(parts[most > 0.0], region)
    return polygons_only(shapely.union_all(inside, grid_size=GRID))


def _overlays(
    one: float | Floor | Cells | Slope,
    other: float | Floor | Cells | Slope,
    region: shapely.Geometry,
) -> tuple[np.ndarray, Floats, Ints]:
    """Return where facets of two surfaces lie over each other, in and about a region.

    Returns:
        (k,) what each two share, (k, 3) the plane of the one less that of the other, and (k,) what
        of the other it is.
    """
    facets, planes, _ = facets_of(one, region)
    grounds, under, origin = facets_of(other, region)
    i, j = shapely.STRtree(grounds).query(facets, "intersects")
    parts, of = shapely.get_parts(shapely.intersection(facets[i], grounds[j]), return_index=True)
    real = shapely.area(parts) > LEAST * 1e-3
    i, j = i[of[real]], j[of[real]]
    return parts[real], planes[i] - under[j], origin[j]
