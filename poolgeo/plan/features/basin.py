"""The bare pool: whether its floor fits its walls and its water."""

from __future__ import annotations

import math

import numpy as np
import shapely

from ...design import schema
from ..tolerances import SAME_HEIGHT
from .site import Site

SAME_LINE = 1e-4
"""[m] A break line nearer than this to the end of the pool lies on it."""


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
    least = int(np.argmin(depths))
    x, y = site.ring.points[least]
    if depths[least] < site.level - site.wall_top - SAME_HEIGHT:
        site.findings.error(
            ("floor",),
            "must meet the wall below its top",
            f"{-depths[least]:.3f} m above the water at ({x:.3f}, {y:.3f}) m; "
            f"the wall top is at {site.wall_top - site.level:.3f} m",
            "reduce the fall, deepen the floor, or raise 'freeboard'",
        )
    elif depths[least] <= 0.0:
        site.findings.warn(
            ("floor",),
            "rises out of the water: a beach entry",
            f"{-depths[least]:.3f} m above the water at ({x:.3f}, {y:.3f}) m",
        )
    if isinstance(pool.floor, schema.BrokenFloor):
        _check_breaks(site, pool.floor)
    if isinstance(pool.floor, schema.DrainedFloor):
        _check_drains(site, pool.floor)


def _check_breaks(site: Site, floor: schema.BrokenFloor) -> None:
    """Break lines must meet the pool."""
    angle = math.radians(floor.direction)
    u = (site.ring.points - floor.origin) @ [math.cos(angle), math.sin(angle)]
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
