"""Beaches: how far one runs down from its ledge, to its face or till it meets the floor."""

from __future__ import annotations

import shapely

from ...design import schema
from ...errors import Key
from ..overlay import higher
from ..shapes import polygons_only, within
from ..slope import Slope, facets_of, heights_on
from ..tolerances import GRID
from .site import STRAY, Site

OVERLAP = 0.05
"""[m] A beach runs on by this where it has met the floor, hidden by it."""

BESIDE = 1e-3
"""[m] What shows of a beach nearer to its ledge than this hangs together with it."""


def reach_of(site: Site, beach: schema.Beach, level: float) -> float:
    """Return the length of a beach in plan, to its face or to a little beyond the floor [m]."""
    if beach.length is not None:
        return beach.length
    facets, planes, _ = facets_of(site.floor, site.ring.polygon)
    corners, of = shapely.get_coordinates(
        shapely.intersection(facets, site.ring.polygon), return_index=True
    )
    deepest = float(heights_on(planes[of], corners).min())
    return max(level - deepest, 0.0) / beach.slope + OVERLAP


def to_the_floor(
    site: Site,
    ledge: schema.Ledge,
    slope: Slope,
    whole: shapely.Geometry,
    level_part: shapely.Geometry,
    key: Key,
    name: str,
) -> shapely.Geometry:
    """Return the plan of a beach as far as where it first meets the floor.

    Its plane goes on: beyond a drop it would stand above the floor again.

    Args:
        site: The pool.
        ledge: From the pool file.
        slope: The beach, and the ledge where it is level.
        whole: As far as it may reach.
        level_part: The ledge.
        key: Its key.
        name: For findings.
    """
    if ledge.beach is None or ledge.beach.length is not None:
        return whole
    beyond = shapely.difference(within(whole, site.water), within(level_part, site.water))
    parts = shapely.get_parts(higher(slope, site.floor, polygons_only(beyond)))
    own = shapely.dwithin(parts, level_part, BESIDE)
    if not own.any():
        site.findings.error(
            (*key, "beach"),
            f"must begin above the floor, which is as high as the {name} in front of it",
            f"{ledge.depth:.3f} m deep",
            f"raise the {name}, or leave 'beach' out",
        )
    again = parts[~own & (shapely.area(parts) > STRAY)]
    if not len(again) or not own.any():
        return whole
    gap = float(shapely.distance(shapely.union_all(parts[own]), again).min())
    margin = shapely.buffer(again, min(OVERLAP, gap / 2.0), join_style="mitre")
    return polygons_only(shapely.difference(whole, shapely.union_all(margin), grid_size=GRID))
