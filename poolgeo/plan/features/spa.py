"""Spas: each its own basin, with a dam wall in the pool, a wall outside, and spillways.

::

      outside the pool   |  in the pool
       wall ring (shell) | dam ring
          ___________________________
         |   _____________________   |    spillway: a notch across the dam ring
         |  |    spa outline      |  |
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely

from ...design import schema
from ...errors import Key
from ..floor import level_floor
from ..layers import Layer, Underside
from ..outline import CLEAR, outline_ring
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .coping import with_return, with_returns
from .notches import check_notches
from .part import Block, Notch, Part, Water, numbered_mark, numbered_name
from .site import STRAY, Site
from .spa_inside import WellPlan, inside_layers, well_plans, well_undersides
from .spillway import spillway_layers
from .thickened_edge import under_walls

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


def spas(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the spas of the pool."""
    found: list[Part] = []
    for k, spa in enumerate(pool.spas):
        key = ("spas", k)
        plan = spa_plan(site, spa, key, numbered_name("spa", k, spa.name))
        wells = well_plans(plan.site, spa, key)
        water = Water(plan.site.body, plan.site.level, numbered_mark("S", k), key)
        found.append(_part(site, spa, pool.coping, plan, wells, water))
    return found


def _part(
    site: Site,
    spa: schema.Spa,
    coping: schema.Coping,
    plan: SpaPlan,
    wells: Sequence[WellPlan],
    water: Water,
) -> Part:
    own, key = plan.site, water.key
    spillways = spillway_layers(site, own, plan.dam, spa, key)
    sills = [
        Notch(shapely.boundary(item.region), item.level, (*item.key, "drop")) for item in spillways
    ]
    inside = inside_layers(own, spa, wells, key)
    check_notches(own, sills, inside)
    return Part(
        (*wall_layers(plan, spa, coping, key), *spillways, *inside),
        (*spa_undersides(site, plan), *well_undersides(site, own, plan.whole, wells)),
        (Block(plan.footprint, own.wall_top, "dam wall", "dam walls"),),
        (water,),
        {
            (own.body, "water"): own.ring.points,
            (own.body, "shell"): shapely.get_coordinates(plan.outer.exterior)[:-1],
        },
        (own.ring,),
        footprint=plan.whole,
        notches=tuple(sills),
    )


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
    ring = outline_ring(spa.outline, pool.tolerance, (*key, "outline"))
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
    dam = polygons_only(shapely.difference(inside, ring.polygon))
    outer = site.outer
    rim = polygons_only(shapely.difference(shapely.difference(outer, ring.polygon), water))
    plan = SpaPlan(site, dam, rim, shapely.union(ring.polygon, inside), outer)
    least = POCKET * spa.dam_wall**2
    left = _left(pool, plan)
    _check_place(pool, plan, [item for item in left if item.area >= least], key)
    pockets = [item for item in left if item.area < least]
    if pockets:
        dam, footprint = (
            polygons_only(shapely.union_all([item, *pockets], grid_size=GRID))
            for item in (dam, plan.footprint)
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


def wall_layers(plan: SpaPlan, spa: schema.Spa, coping: schema.Coping, key: Key) -> list[Layer]:
    """Return the tops of the spa's walls, in painting order."""
    site = plan.site
    layers = []
    if not plan.rim.is_empty:
        top = Layer(site.body, "wall top", "spa wall", key, plan.rim, site.wall_top, "all",
                    "spa wall")  # fmt: skip
        layers += with_return(top, site.ring, site.shell.wall, coping, spa.dam_wall)
    if not plan.dam.is_empty:
        top = Layer(site.body, "dam wall top", "dam wall", (*key, "dam_wall"), plan.dam,
                    site.wall_top, "all", "dam wall face")  # fmt: skip
        layers += with_returns(top, site.ring, spa.dam_wall, coping)
    return layers


def spa_undersides(pool: Site, plan: SpaPlan) -> list[Underside]:
    """Return the undersides of the spa's walls and of its basin.

    Args:
        pool: Where its underside is deeper, the walls go down to it.
        plan: The spa's regions.
    """
    level = plan.site.level - float(plan.site.depth(plan.site.ring.points[0])) - pool.shell.floor
    rings = [item for item in (plan.rim, plan.dam) if not item.is_empty]
    return [
        *(part for item in rings for part in under_walls(pool, item, level, plan.site.body)),
        Underside(plan.site.ring.polygon, None, level, body=plan.site.body),
    ]
