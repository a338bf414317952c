"""The bond beam: the head of the pool's wall, wider than the wall itself."""

from __future__ import annotations

import shapely

from ...design import schema
from ..layers import Underside
from ..shapes import polygons_only
from .concrete import Wall
from .site import Site


def head_of(site: Site, beam: schema.Beam | None, outer: shapely.Polygon) -> shapely.Polygon:
    """Return what the wall's top encloses; a beam that is no wider than the wall is a finding.

    Args:
        site: The pool.
        beam: From the pool file.
        outer: What the wall's outer face encloses.
    """
    if beam is None:
        return outer
    wall = site.shell.wall
    if beam.width <= wall:
        site.findings.error(
            ("shell", "beam", "width"),
            "must be more than the thickness of the wall below it",
            f"{beam.width:.3f} m; the wall is {wall:.3f} m thick",
            "make it wider, or leave the beam out",
        )
        return outer
    return shapely.union(outer, site.ring.thickened(beam.width))


def beam_undersides(
    wall: Wall, beam: schema.Beam | None, overhang: shapely.Geometry
) -> list[Underside]:
    """Return the undersides of a bond beam.

    Args:
        wall: The wall.
        beam: From the pool file.
        overhang: Where it has one.
    """
    if beam is None or overhang.is_empty:
        return []
    first, *others = wall.tops
    found = [Underside(overhang, None, first.top - beam.depth, "beam underside")]
    for item in others:
        region = polygons_only(shapely.intersection(overhang, item.region))
        if not region.is_empty:
            found.append(Underside(region, None, item.top - beam.depth, "beam underside"))
    return found
