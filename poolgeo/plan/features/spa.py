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
from .corner_coves import corners_in
from .part import Block, Part, Water, numbered_mark, numbered_name
from .site import Site
from .spa_inside import WellPlan, inside_layers, well_plans, well_undersides
from .spillway import spillway_layers

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
    return Part(
        (
            *wall_layers(plan, spa, coping, key),
            *spillway_layers(site, own, plan.dam, spa, key),
            *inside_layers(own, spa, wells, key),
        ),
        (*spa_undersides(site, plan), *well_undersides(site, own, plan.whole, wells)),
        (Block(plan.footprint, own.wall_top, "dam wall", "dam walls"),),
        (water,),
        {
            own.body: own.ring.points,
            f"{own.body} shell": shapely.get_coordinates(plan.outer.exterior)[:-1],
        },
        (own.ring,),
        footprint=plan.whole,
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
    water, own, wall = pool.ring.polygon, plan.site.ring.polygon, pool.shell.wall
    shared = shapely.intersection(water, own).area
    if shared < 1e-4 and (gap := float(shapely.distance(water, own))) < 2.0 * wall - 1e-6:
        findings.error(
            key,
            "must overlap the pool, or stand clear of it by both shell walls",
            f"{gap:.3f} m from the pool's outline",
            f"move it into the pool, or at least {2.0 * wall:.3f} m away",
        )
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
        *(Underside(item, pool.soffit, level, body=plan.site.body) for item in rings),
        Underside(plan.site.ring.polygon, None, level, body=plan.site.body),
    ]
