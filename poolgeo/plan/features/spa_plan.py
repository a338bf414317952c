"""The plan of a spa: what it takes of the pool, and where it may stand."""

from __future__ import annotations

from dataclasses import dataclass, replace

import shapely

from ...design import schema
from ...errors import Key
from ..floor import level_floor
from ..outline import CLEAR, outline_ring
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .corner_coves import corners_in
from .site import STRAY, Site

TOUCH = 1e-6
"""[m] Walls that overlap by less than this touch: the grid that outlines are rounded to."""

POCKET = 0.03
"""[-] Water between the dam wall and the pool's wall that covers less than this times the square of
the dam wall's thickness is filled up."""


@dataclass(frozen=True)
class SpaPlan:
    """A spa's regions.

    Args:
        site: The spa as a body of water.
        dam: The dam ring in the pool (empty when free-standing).
        rim: The wall ring outside the pool.
        footprint: Everything that the spa takes from the pool.
        outer: What the wall round the spa encloses, in the pool and outside.
    """

    site: Site
    dam: shapely.Geometry
    rim: shapely.Geometry
    footprint: shapely.Geometry
    outer: shapely.Polygon

    @property
    def whole(self) -> shapely.Geometry:
        """All that the spa takes of the plan."""
        return shapely.union(self.footprint, self.rim)


def spa_plan(pool: Site, spa: schema.Spa, key: Key, name: str) -> SpaPlan:
    """Lay a spa out on the pool; `outline_ring` refuses an outline that is none.

    Args:
        pool: The pool as a body of water.
        spa: From the pool file.
        key: Its key there.
        name: Of the body.

    Returns:
        Its regions; what is wrong with its place is left with the pool's findings.
    """
    ring = outline_ring(spa.outline, pool.tolerance, (*key, "outline"), corners_in(spa.cove, key))
    level = pool.level + spa.raised
    site = replace(
        pool,
        body=name,
        ring=ring,
        floor=level_floor(level - spa.depth),
        level=level,
        wall_top=level + spa.freeboard,
        wall="spa wall",
        islands=(),
        concrete=None,
    )
    water = pool.ring.polygon
    inside = polygons_only(shapely.intersection(ring.thickened(spa.dam_wall), water))
    dam, own = shapely.difference(inside, ring.polygon), shapely.union(ring.polygon, inside)
    rim = shapely.get_parts(shapely.difference(site.outer, shapely.union(ring.polygon, water)))
    # beyond a gap left in the pool, the wall is the pool's alone
    rim = shapely.union_all(rim[shapely.dwithin(rim, own, WELD)])
    plan = SpaPlan(site, polygons_only(dam), polygons_only(rim), own, site.outer)
    least = POCKET * spa.dam_wall**2
    left = _left(pool, plan)
    _check_place(pool, plan, [item for item in left if item.area >= least], key)
    if pockets := [item for item in left if item.area < least]:
        dam, footprint = (
            polygons_only(shapely.union_all([item, *pockets], grid_size=GRID))
            for item in (plan.dam, plan.footprint)
        )
        plan = replace(plan, dam=dam, footprint=footprint)
    return plan


def _left(pool: Site, plan: SpaPlan) -> list[shapely.Polygon]:
    """Parts of the pool that the spa leaves; a crack that noding closes parts them."""
    # spas that stand clear of each other part it together only where one does
    left = shapely.difference(pool.water, plan.footprint, grid_size=WELD / 2.0)
    return list(shapely.get_parts(polygons_only(left)))


def _check_place(pool: Site, plan: SpaPlan, left: list[shapely.Polygon], key: Key) -> None:
    key, findings = (*key, "outline"), pool.findings
    if _stands_in_walls(pool, plan, key):
        return
    for island in pool.islands:
        if (gap := float(shapely.distance(plan.footprint, island.ring.polygon))) < CLEAR:
            findings.error(
                key,
                f"must stand clear of the islands, its dam wall too: '{island.name}' is in its way",
                f"{gap:.3f} m apart",
                "move one of them",
            )
            return
    if not left:
        findings.error(
            key, "must leave water in the pool", "it covers the whole pool", "make it smaller"
        )
    elif len(left) > 1:
        findings.error(
            key,
            "must not cut the pool in two",
            f"{len(left)} separate parts of water",
            "move it to an edge, or make it smaller",
        )


def _stands_in_walls(pool: Site, plan: SpaPlan, key: Key) -> bool:
    """Whether a spa beside the pool stands in its walls, or in what is wider than these."""
    water, own, wall = pool.ring.polygon, plan.site.ring.polygon, pool.own_wall
    if shapely.intersection(water, own).area >= STRAY:
        return False
    gap, both = float(shapely.distance(water, own)), 2.0 * pool.shell.wall
    shared = shapely.intersection(plan.outer, wall.whole)
    if gap >= both - TOUCH and shared.area < STRAY:
        return False
    value = f"{gap:.3f} m from the pool's outline"
    if gap >= both - TOUCH:
        place = shapely.point_on_surface(shared)
        parts = (("wall", wall.outer), ("bond beam", wall.head), ("footing", wall.base))
        name = next(item for item, shape in parts if shapely.intersects(shape, place))
        corners = shapely.points(shapely.get_coordinates(shared))
        both = float(shapely.distance(water, corners).max()) + pool.shell.wall
        value += f"; the pool's {name} is in its way near ({place.x:.3f}, {place.y:.3f}) m"
    pool.findings.error(
        key,
        "must overlap the pool, or stand clear of it by the walls of both",
        value,
        f"move it into the pool, or at least {both:.3f} m away",
    )
    return True
