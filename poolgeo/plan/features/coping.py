"""The tops of walls: whole, and the strip of them on to which the membrane returns.

::

     ______.________      inner edge  . membrane_return
    |      .        |
    |               |     a dam wall has an inner edge on either side
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from ...design import schema
from ..layers import Layer
from ..ring import MITRE, Ring
from ..shapes import polygons_only
from .site import Site

LEAST_STRIP = 1e-3
"""[m] A narrower strip of wall top, returned or not, is none: nobody cuts a membrane so finely."""


def with_return(
    top: Layer, ring: Ring, wall: float, coping: schema.Coping, hidden: float = np.inf
) -> list[Layer]:
    """Return the top of a wall and, painted on it, its strip along a ring.

    Args:
        top: The top of a wall that stands round the ring.
        ring: Its inner edge; what is painted next hides all inside it.
        wall: Its thickness [m].
        coping: From the pool file.
        hidden: How far from the ring what is painted next hides all else [m].
    """
    width = coping.membrane_return
    if width < LEAST_STRIP:
        return [top]
    if width > wall - LEAST_STRIP:
        return [replace(top, returned=True)]
    strip: shapely.Geometry = ring.thickened(width)
    if width > hidden:
        strip = polygons_only(shapely.intersection(top.region, strip))
    return [top, replace(top, region=strip, returned=True)]


def with_strips(tops: Sequence[Layer], site: Site, coping: schema.Coping) -> list[Layer]:
    """Return the tops of the pool's wall and, painted on them, their strips along the outline.

    Args:
        tops: Stretch by stretch.
        site: The pool.
        coping: From the pool file.
    """
    width = coping.membrane_return
    if width < LEAST_STRIP:
        return list(tops)
    strip = site.ring.thickened(width)
    found = list(tops)
    for top in tops:
        region = polygons_only(shapely.intersection(top.region, strip))
        if top.region.area - region.area < LEAST_STRIP * site.ring.perimeter:
            found.remove(top)
            region = top.region
        found.append(replace(top, region=region, returned=True))
    return found


def with_returns(top: Layer, ring: Ring, wall: float, coping: schema.Coping) -> list[Layer]:
    """Return the top of a dam wall and, painted on it, what of it neither membrane reaches.

    Args:
        top: The top of a dam wall that stands round the ring.
        ring: The edge on the one side; the other is a parallel.
        wall: How far away that is [m].
        coping: From the pool file.
    """
    width = coping.membrane_return
    if width < LEAST_STRIP:
        return [top]
    whole = replace(top, returned=True)
    if 2.0 * width > wall - LEAST_STRIP:
        return [whole]
    bare = shapely.Polygon(ring.thickened(wall - width).exterior, [ring.thickened(width).exterior])
    middle = polygons_only(shapely.intersection(top.region, bare))
    return [whole, replace(top, region=middle)] if middle.area else [whole]


def with_inner_return(top: Layer, coping: schema.Coping) -> list[Layer]:
    """Return the top of an island and, painted on it, what of it the membrane does not reach.

    Args:
        top: The top of an island: all its borders are inner edges.
        coping: From the pool file.
    """
    width = coping.membrane_return
    if width < LEAST_STRIP:
        return [top]
    bare = shapely.buffer(top.region, -width, join_style="mitre", mitre_limit=MITRE)
    whole = replace(top, returned=True)
    return [whole, replace(top, region=bare)] if bare.area > LEAST_STRIP**2 else [whole]


def check_coping(site: Site, pool: schema.Pool) -> None:
    """Tell where the return is wider than the top of a wall."""
    width, wall, key = pool.coping.membrane_return, site.own_wall, ("coping", "membrane_return")
    if "membrane_return" not in pool.coping.model_fields_set:
        return
    beam = 0.0 if pool.shell.beam is None else pool.shell.beam.width
    tops = [(max(thick, beam), "the pool's") for thick in wall.all_thicknesses]
    if pool.spas or pool.overflows or pool.channels:
        tops.append((pool.shell.wall, "another body's"))
    thick, whose = min(tops)
    if width > thick:
        site.findings.warn(
            key,
            f"is wider than the top of {whose} wall, and ends at its outer edge",
            f"{width:.3f} m; the wall's top is {thick:.3f} m wide",
            "reduce it, or make the wall wider",
        )
