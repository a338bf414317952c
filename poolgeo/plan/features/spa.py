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

import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer, Underside
from .coping import with_return, with_returns
from .notches import check_notches
from .part import Block, Notch, Part, Water, numbered_mark, numbered_name
from .site import Site
from .spa_inside import WellPlan, inside_layers, well_plans, well_undersides
from .spa_plan import SpaPlan, spa_plan
from .spillway import spillway_layers
from .thickened_edge import under_walls


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
