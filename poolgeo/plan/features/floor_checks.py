"""Checks of the floor: it fits its walls and its water; its breaks and drains meet the pool."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ..curves import unit
from ..slope import facets_of, heights_on
from ..tolerances import SAME_HEIGHT
from .site import Site

SAME_LINE = 1e-4
"""[m] A break line nearer than this to the end of the pool lies on it, a place on the outline."""


def check_floor(site: Site, pool: schema.Pool) -> None:
    """A floor must hold water, and end at its walls below their top; breaks must meet the pool."""
    depths = site.depth(site.ring.points)
    if depths.max() <= 0.0 and site.depth(site.ring.polygon.centroid.coords[0]) <= 0.0:
        site.findings.error(
            ("floor",),
            "must lie below the water level",
            f"{depths.max():.3f} m deep at most along the outline",
            "deepen the floor",
        )
    _check_highest(site, depths)
    if isinstance(pool.floor, schema.BrokenFloor):
        _check_breaks(site, pool.floor)
    if isinstance(pool.floor, schema.DrainedFloor):
        _check_drains(site, pool.floor)


def _check_highest(site: Site, depths: Floats) -> None:
    """The floor must stay below the walls' top, at them and between them.

    Args:
        site: The pool.
        depths: (n,) of the floor along the outline [m].
    """
    least = int(np.argmin(depths))
    depth, place = float(depths[least]), site.ring.points[least]
    inner, there = _least_depth(site, depth)
    if inner < depth - SAME_HEIGHT:
        depth, place = inner, there
    at_wall = site.ring.polygon.exterior.distance(shapely.Point(place)) < SAME_LINE
    value = f"{-depth:.3f} m above the water at ({place[0]:.3f}, {place[1]:.3f}) m"
    if depth < site.level - site.wall_top - SAME_HEIGHT:
        site.findings.error(
            ("floor",),
            "must meet the wall below its top" if at_wall else "must lie below the wall's top",
            f"{value}; the wall top is at {site.wall_top - site.level:.3f} m",
            "reduce the fall, deepen the floor, or raise 'freeboard'",
        )
    elif depth <= 0.0:
        what = "a beach entry" if at_wall else "a hump between the walls"
        site.findings.warn(("floor",), f"rises out of the water: {what}", value)


def _least_depth(site: Site, known: float) -> tuple[float, Floats]:
    """Return the least depth of the floor in the water [m], and its place (2,) [m].

    Args:
        site: The pool.
        known: Its least depth at the walls [m]; where it is no less elsewhere this is returned.
    """
    facets, planes, _ = facets_of(site.floor, site.water)
    xy, of = shapely.get_coordinates(facets, return_index=True)
    if heights_on(planes[of], xy).max() <= site.level - known + SAME_HEIGHT:
        return known, xy[0]
    xy, of = shapely.get_coordinates(shapely.intersection(facets, site.water), return_index=True)
    heights = heights_on(planes[of], xy)
    highest = int(np.argmax(heights))
    return site.level - float(heights[highest]), xy[highest]


def _check_breaks(site: Site, floor: schema.BrokenFloor) -> None:
    """Break lines must meet the pool."""
    u = (site.ring.points - floor.origin) @ unit(floor.direction)
    for at in (item.at for item in floor.breaks):
        if not u.min() - SAME_LINE <= at <= u.max() + SAME_LINE:
            site.findings.warn(
                ("floor", "breaks"),
                "has a break line that misses the pool",
                f"at {at:.3f} m; the pool lies between {u.min():.3f} m and {u.max():.3f} m",
                "check the floor's origin and direction",
            )


def _check_drains(site: Site, floor: schema.DrainedFloor) -> None:
    """Drains must stand in the pool, and none above the floor that falls to another."""
    at = np.array([item.at for item in floor.drains])
    inside = shapely.contains_xy(site.ring.polygon, at)
    lower = site.depth(at) - [item.depth for item in floor.drains]
    for k, (x, y) in enumerate(at.tolist()):
        if not inside[k]:
            site.findings.warn(
                ("floor", "drains", k, "at"), "stands outside the pool", f"({x:.3f}, {y:.3f}) m"
            )
        if lower[k] > SAME_HEIGHT:
            site.findings.warn(
                ("floor", "drains", k, "depth"),
                "drains nothing: the floor lies lower there",
                f"{floor.drains[k].depth:.3f} m; the floor is {lower[k]:.3f} m deeper",
                "deepen it, or leave it out",
            )
