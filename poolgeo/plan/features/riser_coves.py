"""The coves of a flight: at the feet of the risers that stand on its treads."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..canal import Size
from ..cells import Cells
from ..cove import cove_cells
from ..floor import level_floor
from ..layers import Layer
from ..rolled import CoveMisfitError, WallLine
from ..shapes import polygons_only
from ..tolerances import GRID
from .cove import size_of
from .foot_room import Roomy, roomy_parts
from .part import Part
from .site import Site
from .tread_lines import SAME_LINE, feet_on, nosing_of
from .wall_lines import band_of

LEAST_SHARP = 1e-3
"""[m] Less of a riser's foot without a cove is not worth a warning."""

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
    feet = feet_on(deeper, higher, region, radius)
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
