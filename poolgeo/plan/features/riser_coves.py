"""The coves of a flight: at the feet of the risers that stand on its treads."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..canal import Size
from ..cells import Cells
from ..cove import cove_cells
from ..floor import level_floor
from ..layers import Layer
from ..rolled import CoveMisfitError, WallLine
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .cove import size_of
from .foot_room import SAME_LINE, Roomy, nosing_of, roomy_parts
from .part import Part
from .site import Site
from .wall_lines import CROWD, band_of

LEAST_SHARP = 1e-3
"""[m] Less of a riser's foot without a cove is not worth a warning."""

BESIDE = 1e-4
"""[m] On which side of a riser its tread lies is asked this near to it."""

Form = Literal["cove", "fillet"]


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
    size = size_of(site, cove)
    walls = shapely.buffer(site.ring.polygon.exterior, SAME_LINE, quad_segs=1)
    found = []
    for deeper, higher in pairwise(treads):
        radius = float(size.at(np.array(deeper.level)))
        made = _on_tread(site, (cove.form, radius), deeper, higher, walls, key)
        if made is None:
            return []  # refused
        found += made
    return found


def _on_tread(
    site: Site,
    like: tuple[Form, float],
    deeper: Layer,
    higher: Layer,
    walls: shapely.Geometry,
    key: Key,
) -> list[Layer] | None:
    """Return the coves on one tread; None where a finding has been left.

    Args:
        site: The body of water.
        like: Form and radius [m] of the cove.
        deeper: The tread.
        higher: The one that stands on it.
        walls: What lies at the walls.
        key: The cove's key.
    """
    form, radius = like
    remedy = "use a smaller radius, or take 'risers' out of 'also_at'"
    rise = higher.level - deeper.level
    region = polygons_only(shapely.difference(deeper.region, higher.region, grid_size=GRID))
    feet = [_with_tread_left(item, region) for item in _feet(deeper.region, higher.region)]
    feet = [item for item in feet if item.length >= radius]
    nosing = nosing_of(deeper, higher, walls, feet)
    parts = [part for foot in feet for part in roomy_parts(foot, nosing, radius)]
    if rise < radius or (feet and not parts):
        room = _depth_of(region, higher.region)
        site.findings.error(
            (*key, "radius"),
            f"must fit the foot of the riser on '{deeper.feature}'",
            f"{radius:.3f} m; the riser is {rise:.3f} m high, the tread {room:.3f} m deep at most",
            remedy,
        )
        return None
    _say_where_it_ends(site, deeper, feet, parts, key)
    try:
        lofted = [_foot_cells(part, deeper, like, site.tolerance) for part in parts]
    except CoveMisfitError as error:
        x, y = error.place
        site.findings.error(
            (*key, "radius"),
            f"must fit the risers on '{deeper.feature}': {error} near ({x:.3f}, {y:.3f}) m",
            f"{radius:.3f} m",
            remedy,
        )
        return None
    return [_layer(site, deeper, form, region, cells, key) for cells in lofted]


def _layer(
    site: Site, tread: Layer, form: Form, region: shapely.Geometry, cells: Cells, key: Key
) -> Layer:
    """Return the layer of a cove on what shows of a tread."""
    return Layer(
        site.body,
        form,
        f"{form} on {tread.feature}",
        key,
        polygons_only(shapely.intersection(band_of(cells), region, grid_size=GRID)),
        cells,
        "floor",
        "riser" if tread.flanks is None else "step side",
        flight=tread.flight,
    )


def _say_where_it_ends(
    site: Site,
    tread: Layer,
    feet: Sequence[shapely.LineString],
    parts: Sequence[Roomy],
    key: Key,
) -> None:
    """Warn of a foot that stays sharp in part."""
    left = sum(item.length for item in feet) - sum(item.line.length for item in parts)
    if left < LEAST_SHARP:
        return
    ends = [
        shapely.get_coordinates(part.line)[end]
        for part in parts
        for own, end in zip(part.own_ends, (0, -1), strict=True)
        if not own
    ]
    x, y = ends[0]
    site.findings.warn(
        (*key, "radius"),
        f"ends where '{tread.feature}' is narrower than it, near ({x:.3f}, {y:.3f}) m",
        f"{left:.3f} m of the riser's foot stay sharp",
        "use a smaller radius, or a deeper tread",
    )


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
        line = shapely.remove_repeated_points(shapely.LineString(points), CROWD)
        if line.length > CROWD:
            found.append(line)
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


def _with_tread_left(foot: shapely.LineString, region: shapely.Geometry) -> shapely.LineString:
    """Return the foot of a riser with the tread on its left."""
    points = shapely.get_coordinates(foot)
    d = points[1] - points[0]
    left = np.array([-d[1], d[0]]) / np.hypot(*d) * BESIDE
    on_left = shapely.contains_xy(region, *((points[0] + points[1]) / 2.0 + left))
    return foot if on_left else shapely.reverse(foot)


def _foot_cells(part: Roomy, tread: Layer, like: tuple[Form, float], tolerance: float) -> Cells:
    form, radius = like
    points = shapely.get_coordinates(part.line)
    closed = bool(np.allclose(points[0], points[-1]))
    if closed:
        points = points[:-1]
    elif tread.flanks is None:  # from wall to wall: run on into the walls
        for own, end, inner in zip(part.own_ends, (0, -1), (1, -2), strict=True):
            out = points[end] - points[inner]
            out *= 2.0 * radius / np.hypot(*out)
            extra = (points[end] + out)[None]
            if own:
                points = np.vstack([extra, points] if end == 0 else [points, extra])
    line = WallLine(points, np.full_like(points, np.nan))
    return cove_cells(
        [line],
        level_floor(tread.level),
        Size(radius),
        tolerance,
        closed=closed,
        straight=form == "fillet",
    )


def _depth_of(region: shapely.Geometry, behind: shapely.Geometry) -> float:
    """Depth of a tread: how far its front is from the riser behind it, at most [m]."""
    corners = shapely.points(shapely.get_coordinates(region))
    return float(shapely.distance(behind, corners).max()) if len(corners) else 0.0
