"""The thickened edge: deeper concrete under the pool's wall, its inner side upright or splayed."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ..curves import turn_between
from ..layers import Underside
from ..shapes import parallel, polygons_only
from ..stretch import CRUMB
from ..tolerances import GRID, SHARP_TURN
from .concrete import Wall
from .footing import MITRE, footing_undersides
from .site import Site


def thickened_edge(site: Site, edge: schema.ThickenedEdge | None, wall: Wall) -> list[Underside]:
    """Return the undersides of a thickened edge."""
    if edge is None:
        return []
    foot, inner = (
        shapely.buffer(wall.outer, -by, join_style="mitre", mitre_limit=MITRE)
        for by in (edge.width, edge.width + edge.splay)
    )
    if inner.is_empty or inner.geom_type != "Polygon" or foot.geom_type != "Polygon":
        site.findings.error(
            ("shell", "thickened_edge", "width"),
            "must leave thinner slab between the edges of opposite walls",
            f"{edge.width + edge.splay:.3f} m with its splay",
            "make it narrower, or the whole floor thicker",
        )
        return []
    strip = polygons_only(shapely.difference(wall.base, foot))
    found = [
        Underside(strip, site.soffit, deeper=edge.depth),
        *footing_undersides(site, wall, edge.depth),
    ]
    if not edge.splay:
        return found
    shapely.prepare(strip)

    def drop(xy: Floats) -> Floats:
        off = shapely.distance(strip, shapely.points(xy))
        share: Floats = np.clip(1.0 - off / edge.splay, 0.0, 1.0)
        # vertices that noding has moved off a border still stand on it
        share[share < CRUMB / edge.splay] = 0.0
        return edge.depth * share

    parts = _sides(foot, inner, edge.splay)
    return [*found, *(Underside(part, site.soffit, drop=drop) for part in parts)]


def under_walls(pool: Site, walls: shapely.Geometry, level: float, body: str) -> list[Underside]:
    """Return the undersides of another body's walls, which share concrete with the pool's.

    Args:
        pool: Where its underside is deeper, its thickened edge too, the walls go down to it.
        walls: Their plan.
        level: Of the body's own soffit [m].
        body: Its name.
    """
    edge, wall = pool.shell.thickened_edge, pool.own_wall
    if edge is None:
        return [Underside(walls, pool.soffit, level, body=body)]
    foot = shapely.buffer(wall.outer, -edge.width, join_style="mitre", mitre_limit=MITRE)
    strip = shapely.difference(wall.base, foot)
    deep, rest = (
        polygons_only(act(walls, strip, grid_size=GRID))
        for act in (shapely.intersection, shapely.difference)
    )
    found = [
        Underside(deep, pool.soffit, level, body=body, deeper=edge.depth),
        Underside(rest, pool.soffit, level, body=body),
    ]
    return [item for item in found if not item.region.is_empty]


def _sides(foot: shapely.Polygon, inner: shapely.Polygon, splay: float) -> list[shapely.Geometry]:
    """Return the plan of a splayed side, parted along its mitres."""
    ring = polygons_only(shapely.difference(foot, inner))
    points = shapely.get_coordinates(shapely.orient_polygons(foot).exterior)[:-1]
    step = np.roll(points, -1, axis=0) - points
    step /= np.hypot(*step.T)[:, None]
    after = np.column_stack([-step[:, 1], step[:, 0]])
    before = np.roll(after, 1, axis=0)
    turns = turn_between(before, after)
    stops, _ = parallel(points, before, after, splay)
    at = np.flatnonzero(np.abs(turns) > SHARP_TURN)
    over = (stops[at] - points[at]) / np.hypot(*(stops[at] - points[at]).T)[:, None] * CRUMB
    mitres = shapely.linestrings(np.stack([points[at] - over, stops[at] + over], axis=1))
    lines = shapely.union_all([shapely.boundary(ring), *mitres])
    faces = shapely.get_parts(shapely.polygonize([lines]))
    shapely.prepare(ring)
    return list(faces[shapely.contains_properly(ring, shapely.point_on_surface(faces))])
