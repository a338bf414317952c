"""The coves of a flight: at the feet of the risers that stand on its treads."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..canal import Size
from ..cells import Cells
from ..cove import cove_cells
from ..curves import Floats
from ..floor import level_floor
from ..layers import Layer
from ..rolled import CoveMisfitError, WallLine
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .part import Part
from .site import Site
from .wall_lines import band_of

SAME_LINE = 3.0 * WELD
"""[m] A riser's border that runs nearer than this to its tread's is a flank of both: rounding has
moved them apart."""


def foot_coves(site: Site, cove: schema.Cove, standing: Sequence[Part], key: Key) -> Part:
    """Return the coves on treads, at the feet of the risers that stand on them.

    Args:
        site: The body of water.
        cove: From the pool file.
        standing: What stands on its floor.
        key: The cove's key.
    """
    layers: list[Layer] = []
    for part in standing:
        if "risers" in cove.also_at and any(item.foot == "risers" for item in part.blocks):
            layers += riser_coves(site, cove, part.layers, key)
    return Part(tuple(layers))


def riser_coves(site: Site, cove: schema.Cove, treads: Sequence[Layer], key: Key) -> list[Layer]:
    """Return the coves at the feet of the risers that stand on treads.

    Args:
        site: The body of water.
        cove: From the pool file.
        treads: The layers of one flight, deepest first.
        key: The cove's key.
    """
    found = []
    for deeper, higher in pairwise(treads):
        rise = higher.level - deeper.level
        region = polygons_only(shapely.difference(deeper.region, higher.region, grid_size=GRID))
        room = _depth_of(region, higher.region)
        if min(rise, room) < cove.radius:
            site.findings.error(
                (*key, "radius"),
                f"must fit the foot of the riser on '{deeper.feature}'",
                f"{cove.radius:.3f} m; the riser is {rise:.3f} m high, the tread {room:.3f} m deep",
                "use a smaller radius, or take 'risers' out of 'also_at'",
            )
            return []
        for part in _feet(deeper.region, higher.region):
            if part.length < cove.radius:
                continue
            try:
                cells = _foot_cells(part, deeper, region, cove, site.tolerance)
            except CoveMisfitError as error:
                x, y = error.place
                site.findings.error(
                    (*key, "radius"),
                    f"must fit the risers on '{deeper.feature}': {error} near ({x:.3f}, {y:.3f}) m",
                    f"{cove.radius:.3f} m",
                    "use a smaller radius, or take 'risers' out of 'also_at'",
                )
                return []
            shape = polygons_only(shapely.intersection(band_of(cells), region, grid_size=GRID))
            found.append(
                Layer(
                    site.body,
                    cove.form,
                    f"{cove.form} on {deeper.feature}",
                    key,
                    shape,
                    cells,
                    "floor",
                    "step side",
                    flight=deeper.flight,
                )
            )
    return found


def _feet(deeper: shapely.Geometry, higher: shapely.Geometry) -> list[shapely.LineString]:
    """Return the lines on which the border of a tread stands on the deeper one, flanks left out."""
    border = shapely.boundary(higher)
    flanks = shapely.buffer(shapely.boundary(deeper), SAME_LINE, quad_segs=1)
    corners = shapely.get_coordinates(border)
    found = []
    for part in shapely.get_parts(shapely.line_merge(shapely.difference(border, flanks))):
        points = shapely.get_coordinates(part)
        for end, inner in ((0, 1), (-1, -2)):
            points[end] = _corner_ahead(points[inner], points[end], corners)
        found.append(shapely.LineString(points))
    return found


def _corner_ahead(start: Floats, stop: Floats, corners: Floats) -> Floats:
    """Return the corner, straight on, from which a buffer of `SAME_LINE` has pushed a line off."""
    along = (stop - start) / np.hypot(*(stop - start))
    away = corners - stop
    ahead = away @ along
    off = np.abs(away[:, 0] * along[1] - away[:, 1] * along[0])
    near = np.flatnonzero((ahead > 0.0) & (ahead < 4.0 * SAME_LINE) & (off < WELD))
    if not len(near):
        return stop
    found: Floats = corners[near[np.argmin(off[near])]]
    return found


def _foot_cells(
    foot: shapely.LineString,
    tread: Layer,
    region: shapely.Geometry,
    cove: schema.Cove,
    tolerance: float,
) -> Cells:
    points = shapely.get_coordinates(foot)
    closed = bool(np.allclose(points[0], points[-1]))
    if closed:
        points = points[:-1]
    d = points[1] - points[0]
    left = np.array([-d[1], d[0]]) / np.hypot(*d) * 1e-4
    if not shapely.contains_xy(region, *((points[0] + points[1]) / 2.0 + left)):
        points = points[::-1]
    if not closed and tread.flanks is None:  # from wall to wall: run on into the walls
        for end, inner in ((0, 1), (-1, -2)):
            out = points[end] - points[inner]
            out *= 2.0 * cove.radius / np.hypot(*out)
            extra = (points[end] + out)[None]
            points = np.vstack([extra, points] if end == 0 else [points, extra])
    line = WallLine(points, np.full_like(points, np.nan))
    return cove_cells(
        [line],
        level_floor(tread.level),
        Size(cove.radius),
        tolerance,
        closed=closed,
        straight=cove.form == "fillet",
    )


def _depth_of(region: shapely.Geometry, behind: shapely.Geometry) -> float:
    """Depth of a tread: how far its front is from the riser behind it [m]."""
    corners = shapely.points(shapely.get_coordinates(region))
    return float(shapely.distance(behind, corners).max()) if len(corners) else 0.0
