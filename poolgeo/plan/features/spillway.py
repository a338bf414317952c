"""Spillways: notches across the dam wall of a spa."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..ring import Ring
from ..shapes import feet_on, nearest_on, polygons_only
from ..tolerances import GRID, SAME_HEIGHT
from .part import numbered_name
from .site import Site

SAME_DISTANCE = 1e-4
"""[m] Places whose distances differ by less than this are equally near."""

HALF = 0.5
"""[-] Share of a spillway: with less of the dam wall under it, it lies beside that."""

WHOLLY = 0.98
"""[-] Share of a spillway: with less of the dam wall under it, it runs out beyond that; where
the wall is round a rectangle across it loses a little all the same."""


def spillway_layers(
    pool: Site, own: Site, dam: shapely.Geometry, spa: schema.Spa, key: Key
) -> list[Layer]:
    """Return the layers of a spa's spillways.

    Args:
        pool: What they spill into.
        own: The spa.
        dam: Its dam ring.
        spa: From the pool file.
        key: Its key there.
    """
    found: list[Layer] = []
    for k, spillway in enumerate(spa.spillways):
        here = (*key, "spillways", k)
        region = _region(pool, own.ring, dam, spillway, spa.dam_wall, here)
        if region is None or not _sill_fits(pool, own, region, spillway, here):
            continue
        for n, other in enumerate(found):
            if shapely.intersects(region, other.region):
                pool.findings.error(
                    (*here, "at"),
                    "must stand clear of the spa's other spillways",
                    f"it meets spillway {n + 1}",
                    "move it, or make one wider spillway of the two",
                )
        sill = own.level - spillway.drop
        name = numbered_name("spillway", k, None)
        found.append(Layer(own.body, "spillway", name, here, region, sill, "all", "dam wall face"))
    return found


def _region(
    pool: Site,
    ring: Ring,
    dam: shapely.Geometry,
    spillway: schema.Spillway,
    thickness: float,
    key: Key,
) -> shapely.Geometry | None:
    """Return what a spillway takes of the dam ring, None where it is refused."""
    place = f"({spillway.at[0]:.3f}, {spillway.at[1]:.3f}) m"
    if _is_ambiguous(ring, spillway):
        pool.findings.error(
            (*key, "at"),
            "must lie nearer to one place of the spa's outline than to all others",
            f"{place} is as near to several",
            "move it towards the side that the spillway is to be on",
        )
        return None
    notch = _notch(ring, spillway, thickness)
    region = polygons_only(shapely.intersection(notch, dam, grid_size=GRID))
    wanted = spillway.width * thickness
    if region.area < HALF * wanted:
        pool.findings.error(
            (*key, "at"),
            "must lie where the dam wall stands between spa and pool",
            f"{place}: no dam wall there",
            "move it to the pool's side of the spa",
        )
        return None
    if region.area < WHOLLY * wanted:
        pool.findings.warn(
            (*key, "width"),
            "runs beyond the dam wall and was clipped to it",
            f"{100.0 * (1.0 - region.area / wanted):.0f} % cut away",
        )
    return region


def _sill_fits(
    pool: Site, own: Site, region: shapely.Geometry, spillway: schema.Spillway, key: Key
) -> bool:
    """Whether the sill stands above the floors; a warning where the pool covers it."""
    sill = own.level - spillway.drop
    border = shapely.get_coordinates(region)
    if sill <= max(own.floor.height(border).max(), pool.floor.height(border).max()):
        pool.findings.error(
            (*key, "drop"),
            "must leave the sill above the floors on both sides",
            f"{spillway.drop:.3f} m",
            "use a smaller drop",
        )
        return False
    if sill < pool.level - SAME_HEIGHT and own.level > pool.level + SAME_HEIGHT:
        pool.findings.warn(
            (*key, "drop"), "puts the sill of a raised spa below the pool's water level",
            f"{spillway.drop:.3f} m",
        )  # fmt: skip
    return True


def _is_ambiguous(ring: Ring, spillway: schema.Spillway) -> bool:
    """Whether places of the outline further apart than the spillway is wide are the nearest."""
    points = ring.points
    (share,), (away,) = feet_on(points, np.array([spillway.at]))
    feet = points + share[:, None] * (np.roll(points, -1, axis=0) - points)
    nearest = feet[away < away.min() + SAME_DISTANCE]
    return bool(np.ptp(nearest, axis=0).max() > spillway.width)


def _notch(ring: Ring, spillway: schema.Spillway, thickness: float) -> shapely.Geometry:
    """A rectangle across the dam ring at the outline point nearest to the spillway's place."""
    points: Floats = ring.points
    (i,), (share,), _ = nearest_on(points, np.array([spillway.at]))
    step = np.roll(points, -1, axis=0)[i] - points[i]
    at, along = points[i] + share * step, step / np.hypot(*step)
    outward = np.array([along[1], -along[0]])
    half = along * spillway.width / 2.0
    near, far = at - outward * spillway.width, at + outward * (2.0 * thickness)
    return shapely.Polygon([near - half, near + half, far + half, far - half])
