"""From the floor of a pool file to heights over the plan."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Finding, PoolFileError
from ..floor import Floor, level_floor, plane_floor
from ..ring import Ring
from .dished import dished_floor
from .drained import drained_floor
from .extent import Extent
from .hopper import with_hoppers
from .ruled import broken_floor
from .spots import spot_floor

LEAST_SPREAD = 0.01
"""[m2] Spot levels must enclose this much at least."""

APART = 1e-2
"""[m] Spot levels, or drains, nearer to each other than this are one listed twice."""


def floor_of(pool: schema.Pool, ring: Ring) -> Floor:
    """Return the floor of a pool, its hoppers sunk into it.

    Args:
        pool: From the pool file; depths count down from height 0.
        ring: The pool's outline.
    """
    extent = Extent(ring, pool.tolerance)
    floor = _bare(pool.floor, extent)
    return with_hoppers(floor, pool.hopper, extent, ("hopper",)) if pool.hopper else floor


def _bare(floor: schema.Floor, extent: Extent) -> Floor:
    match floor:
        case schema.LevelFloor():
            return level_floor(-floor.depth)
        case schema.PlaneFloor():
            return plane_floor(np.array(floor.at), -floor.depth, floor.fall, floor.direction)
        case schema.BrokenFloor():
            return broken_floor(floor, extent)
        case schema.DrainedFloor():
            _check_drains(floor)
            return drained_floor(floor, extent)
        case schema.DishedFloor():
            return dished_floor(floor, extent)
        case schema.SpotFloor():
            _check_spots(floor)
            return spot_floor(floor, extent)


def _check_spots(floor: schema.SpotFloor) -> None:
    """Spots must differ, and span an area."""
    points = np.array([item.at for item in floor.spots])
    findings = _listed_twice(points, "spot")
    if not findings and shapely.MultiPoint(points).convex_hull.area < LEAST_SPREAD:
        rule = "must not all lie on one line"
        findings = [Finding(("floor", "spots"), rule, "", "add a spot off the line")]
    if findings:
        raise PoolFileError(findings)


def _check_drains(floor: schema.DrainedFloor) -> None:
    """Drains must differ."""
    findings = _listed_twice(np.array([item.at for item in floor.drains]), "drain")
    if findings:
        raise PoolFileError(findings)


def _listed_twice(points: Floats, what: str) -> list[Finding]:
    """Return a finding for each of a floor's points (k, 2) that stands where another does."""
    tree = shapely.STRtree(shapely.points(points))
    one, other = tree.query(shapely.points(points), predicate="dwithin", distance=APART)
    return [
        Finding(
            ("floor", f"{what}s", j, "at"),
            f"must lie at least {APART * 1000:g} mm from other {what}s",
            f"({points[j][0]:.3f}, {points[j][1]:.3f}) m, as {what} {i + 1}",
            "leave one of the two out",
        )
        for i, j in sorted(zip(one.tolist(), other.tolist(), strict=True))
        if i < j
    ]
