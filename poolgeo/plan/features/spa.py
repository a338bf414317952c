"""The spa: its own basin, its dam wall in the pool, its wall outside, its spillway.

::

      outside the pool   |  in the pool
       wall ring (shell) | dam ring
          ___________________________
         |   _____________________   |    spillway: a notch across the dam ring
         |  |    spa outline      |  |
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely

from ...design import schema
from ..curves import Floats
from ..floor import level_floor
from ..layers import Layer, Underside
from ..outline import CLEAR, outline_ring
from ..shapes import feet_on, nearest_on, polygons_only
from ..tolerances import GRID, WELD
from .bench import bench_layer
from .cove import cove_layer
from .part import Block, Part
from .site import Site

KEY = ("spa",)

SAME_DISTANCE = 1e-4
"""[m] Places whose distances differ by less than this are equally near."""

POCKET = 0.03
"""[-] Water between the dam wall and the pool's wall that covers less than this times the square of
the dam wall's thickness is filled up."""


@dataclass(frozen=True)
class SpaPlan:
    """The spa's regions.

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


def spas(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the spa of the pool."""
    if pool.spa is None:
        return []
    plan = spa_plan(site, pool.spa)
    own = plan.site
    return [
        Part(
            tuple(spa_layers(site, plan, pool.spa)),
            tuple(spa_undersides(site, plan)),
            (Block(plan.footprint, own.wall_top, "dam wall", "dam walls"),),
            ((own.body, own.level),),
            {
                own.body: own.ring.points,
                f"{own.body} shell": shapely.get_coordinates(plan.outer.exterior)[:-1],
            },
            (own.ring,),
        )
    ]


def spa_plan(pool: Site, spa: schema.Spa) -> SpaPlan:
    """Lay the spa out on the pool; `outline_ring` refuses an outline that is none.

    Args:
        pool: The pool as a body of water.
        spa: From the pool file.

    Returns:
        Its regions; what is wrong with its place is left with the pool's findings.
    """
    ring = outline_ring(spa.outline, pool.tolerance, (*KEY, "outline"))
    level = pool.level + spa.raised
    site = replace(
        pool,
        body="spa",
        ring=ring,
        floor=level_floor(level - spa.depth),
        level=level,
        wall_top=level + spa.freeboard,
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
    _check_place(pool, plan, [item for item in left if item.area >= least])
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
    left = shapely.difference(pool.water, plan.footprint, grid_size=WELD / 2.0)
    return list(shapely.get_parts(polygons_only(left)))


def _check_place(pool: Site, plan: SpaPlan, left: list[shapely.Polygon]) -> None:
    key, findings = (*KEY, "outline"), pool.findings
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


def spa_layers(pool: Site, plan: SpaPlan, spa: schema.Spa) -> list[Layer]:
    """Return the layers of the spa, in painting order."""
    site = plan.site
    layers = []
    if not plan.rim.is_empty:
        layers.append(
            Layer("spa", "wall top", "spa wall", KEY, plan.rim, site.wall_top, "all", "spa wall")
        )
    if not plan.dam.is_empty:
        layers.append(
            Layer("spa", "dam wall top", "dam wall", (*KEY, "dam_wall"), plan.dam, site.wall_top,
                  "all", "dam wall face")
        )  # fmt: skip
    if spa.spillway is not None:
        layers += _spillway(pool, plan, spa, spa.spillway)
    layers.append(
        Layer("spa", "spa floor", "spa floor", (*KEY, "depth"), site.ring.polygon, site.floor)
    )
    seat = None
    if spa.seat is not None:
        seat = bench_layer(site, spa.seat, (*KEY, "seat"), "seat")
    if spa.cove is not None:
        key = (*KEY, "cove")
        standing = []
        if seat is not None and "bench faces" in spa.cove.also_at:
            standing = [Block(seat.region, seat.level, seat.feature, "bench faces")]
        if seat is not None and not standing:
            site.findings.warn(
                key,
                "lies wholly behind the seat and shows nowhere",
                "",
                "add 'bench faces' to its 'also_at' for a cove at the seat's foot",
            )
        found = cove_layer(site, spa.cove, standing, key)
        if found is not None:
            layers.append(found)
    if seat is not None:
        layers.append(seat)
    return layers


def spa_undersides(pool: Site, plan: SpaPlan) -> list[Underside]:
    """Return the undersides of the spa's walls and of its basin.

    Args:
        pool: Where its underside is deeper, the walls go down to it.
        plan: The spa's regions.
    """
    level = plan.site.level - float(plan.site.depth(plan.site.ring.points[0])) - pool.shell.floor
    profile = pool.floor.offset(-pool.shell.floor)
    rings = [item for item in (plan.rim, plan.dam) if not item.is_empty]
    return [
        *(Underside(item, profile, level) for item in rings),
        Underside(plan.site.ring.polygon, None, level),
    ]


def _spillway(pool: Site, plan: SpaPlan, spa: schema.Spa, spillway: schema.Spillway) -> list[Layer]:
    key = (*KEY, "spillway")
    site = plan.site
    if _is_ambiguous(plan, spillway):
        pool.findings.error(
            (*key, "at"),
            "must lie nearer to one place of the spa's outline than to all others",
            f"({spillway.at[0]:.3f}, {spillway.at[1]:.3f}) m is as near to several",
            "move it towards the side that the spillway is to be on",
        )
        return []
    notch = _notch(plan, spillway, spa.dam_wall)
    region = polygons_only(shapely.intersection(notch, plan.dam, grid_size=GRID))
    wanted = spillway.width * spa.dam_wall
    if region.area < 0.5 * wanted:
        pool.findings.error(
            (*key, "at"),
            "must lie where the dam wall stands between spa and pool",
            f"({spillway.at[0]:.3f}, {spillway.at[1]:.3f}) m: no dam wall there",
            "move it to the pool's side of the spa",
        )
        return []
    if region.area < 0.98 * wanted:
        pool.findings.warn(
            (*key, "width"),
            "runs beyond the dam wall and was clipped to it",
            f"{100.0 * (1.0 - region.area / wanted):.0f} % cut away",
        )
    sill = site.level - spillway.drop
    border = shapely.get_coordinates(region)
    if sill <= max(site.floor.height(border).max(), pool.floor.height(border).max()):
        pool.findings.error(
            (*key, "drop"),
            "must leave the sill above the floors on both sides",
            f"{spillway.drop:.3f} m",
            "use a smaller drop",
        )
        return []
    if sill < pool.level - 1e-9 and site.level > pool.level + 1e-9:
        pool.findings.warn(
            (*key, "drop"), "puts the sill of a raised spa below the pool's water level",
            f"{spillway.drop:.3f} m",
        )  # fmt: skip
    return [Layer("spa", "spillway", "spillway", key, region, sill, "all", "dam wall face")]


def _is_ambiguous(plan: SpaPlan, spillway: schema.Spillway) -> bool:
    """Whether places of the outline further apart than the spillway is wide are the nearest."""
    ring = plan.site.ring.points
    (share,), (away,) = feet_on(ring, np.array([spillway.at]))
    feet = ring + share[:, None] * (np.roll(ring, -1, axis=0) - ring)
    nearest = feet[away < away.min() + SAME_DISTANCE]
    return bool(np.ptp(nearest, axis=0).max() > spillway.width)


def _notch(plan: SpaPlan, spillway: schema.Spillway, thickness: float) -> shapely.Geometry:
    """A rectangle across the dam ring at the outline point nearest to the spillway's place."""
    ring: Floats = plan.site.ring.points
    (i,), (share,), _ = nearest_on(ring, np.array([spillway.at]))
    step = np.roll(ring, -1, axis=0)[i] - ring[i]
    at, along = ring[i] + share * step, step / np.hypot(*step)
    outward = np.array([along[1], -along[0]])
    half = along * spillway.width / 2.0
    near, far = at - outward * spillway.width, at + outward * (2.0 * thickness)
    return shapely.Polygon([near - half, near + half, far + half, far - half])
