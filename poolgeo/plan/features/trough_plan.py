"""The plan of a trough: what is left of it beside the pool with its walls and the weir."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely

from ...errors import Key
from ..courses import Course, ring_round
from ..outline import outline_ring, with_rounds
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from ..traced import traced
from .catch import Catch
from .corner_coves import corners_in
from .site import STRAY, Site
from .weir_plan import WeirPlan

LONGEST_GAP = 1e-3
"""[m] So much of a weir may have no trough before it: what rounding makes of its ends."""


@dataclass(frozen=True)
class TroughPlan:
    """The regions of a trough.

    Args:
        site: It as a body of water.
        region: Its clear plan.
        solid: The pool with its walls and the weir.
    """

    site: Site
    region: shapely.Polygon
    solid: shapely.Geometry

    @property
    def holes(self) -> list[shapely.Polygon]:
        """What it goes all round, without the crumbs that overlays leave between its sides."""
        holes = (shapely.Polygon(hole) for hole in self.region.interiors)
        return [shapely.simplify(hole, WELD / 2.0) for hole in holes]


def trough_plan(pool: Site, weir: WeirPlan, catch: Catch) -> TroughPlan | None:
    """Lay out the clear plan of a trough."""
    key = (*catch.key, "outline" if catch.outline is not None else "width")
    far = weir.thickness + (catch.width or 0.0)
    if (place := weir.no_room(far)) is not None:
        pool.findings.error(
            key if catch.width else (*catch.key[:2], "thickness"),
            "must follow a stretch that leaves room for it outside the pool",
            f"{far:.3f} m from the outline its border folds, near"
            f" ({place[0]:.3f}, {place[1]:.3f}) m",
            "make it narrower, or end the stretch before that place",
        )
        return None
    solid = _solid(pool, weir)
    walls = {pool.shell.wall, *pool.own_wall.thicknesses(weir.stretch)}
    if pool.shell.beam is not None:
        walls.add(pool.shell.beam.width)
    courses = [Course.along(pool.ring.bare, off) for off in (*sorted(walls), weir.thickness, far)]
    if catch.outline is None:
        wanted = weir.band(weir.thickness, far)
    else:
        own = outline_ring(catch.outline, pool.tolerance, key)
        courses.append(Course.along(own))
        wanted = own.polygon
    left = shapely.difference(wanted, solid, grid_size=GRID)
    parts = [item for item in shapely.get_parts(polygons_only(left)) if item.area > STRAY]
    if not _lies_along(pool, weir, parts, catch, key):
        return None
    lost = wanted.area - left.area
    if catch.outline is None and lost > STRAY + 1e-3 * wanted.area:
        pool.findings.warn(
            key,
            "runs into the pool's walls and was clipped to them",
            f"{lost:.3f} m2 of {wanted.area:.3f} m2 cut away",
        )
    region: shapely.Polygon = parts[0]
    ring = ring_round(region, courses)
    if (corners := corners_in(catch.cove, catch.key)) is not None:
        ring = with_rounds(ring, traced(ring), corners, pool.tolerance)
    floor = catch.floor(np.asarray(shapely.get_coordinates(region)))
    site = replace(
        pool,
        body=catch.water.name,
        ring=ring,
        floor=floor,
        level=catch.water.level,
        wall_top=catch.wall_top,
        wall=f"{catch.kind} wall",
        concrete=None,
    )
    holes = [shapely.get_coordinates(item) for item in region.interiors]
    return TroughPlan(site, shapely.Polygon(ring.points, holes), solid)


def _solid(pool: Site, weir: WeirPlan) -> shapely.Geometry:
    """Return the pool with its walls, where the weir stands as thick as that is."""
    wall = pool.own_wall
    thick = [*wall.thicknesses(weir.stretch), pool.shell.beam.width if pool.shell.beam else 0.0]
    solid: shapely.Geometry = wall.head
    if max(thick) - weir.thickness > GRID:
        cut = weir.band(weir.thickness, max(thick) + WELD)
        solid = shapely.difference(solid, cut, grid_size=GRID)
    if weir.thickness - min(thick[:-1]) > GRID:
        solid = polygons_only(shapely.union(solid, weir.region, grid_size=GRID))
    return solid


def _lies_along(
    pool: Site, weir: WeirPlan, parts: list[shapely.Polygon], catch: Catch, key: Key
) -> bool:
    """Whether one piece of trough lies before the whole of the weir."""
    name = catch.water.name
    if not parts:
        pool.findings.error(
            key,
            "must lie beyond the pool and its walls",
            f"nothing of '{name}' does",
            "move it to the weir, outside the pool",
        )
        return False
    if len(parts) > 1:
        pool.findings.error(
            key,
            f"must leave '{name}' in one piece",
            f"the pool and its walls cut it into {len(parts)}",
            "make it narrower, or its stretch shorter",
        )
        return False
    face = shapely.LineString(weir.line(weir.thickness))
    border = shapely.buffer(shapely.boundary(parts[0]), 2.0 * WELD)
    bare = shapely.difference(face, border)
    if bare.length > LONGEST_GAP:
        place = shapely.line_interpolate_point(shapely.get_geometry(bare, 0), 0.0)
        pool.findings.error(
            key,
            f"must lie along the whole weir of '{name}'",
            f"{bare.length:.3f} m of {face.length:.3f} m have none before them, near"
            f" ({place.x:.3f}, {place.y:.3f}) m",
            "make it longer, or the weir's stretch shorter",
        )
        return False
    return True
