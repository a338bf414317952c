"""The pool's own wall: how thick and how high it is, stretch by stretch."""

from __future__ import annotations

import numpy as np
import shapely

from ...design import schema
from ..layers import Layer
from ..shapes import polygons_only
from ..tolerances import GRID
from .beam import head_of
from .concrete import High, Wall
from .footing import base_of
from .notches import line_within
from .part import Notch
from .site import Site
from .stretches import Place, part_along, places


def wall_of(site: Site, pool: schema.Pool) -> tuple[Wall, tuple[Notch, ...]]:
    """Return the pool's wall, and the stretches with a height of their own as notches.

    What is wrong with it is left with the site's findings.
    """
    placed = places(site, pool.walls, "walls")
    outer, thick = site.ring.thickened(pool.shell.wall), []
    for item, place in zip(pool.walls, placed, strict=True):
        if place is not None and item.thickness is not None:
            outer = _as_thick(site, outer, item.thickness, place)
            thick.append((place[0], item.thickness))
    head = head_of(site, pool.shell.beam, outer)
    rim = polygons_only(shapely.difference(head, site.ring.polygon))
    tops, notches = [High(rim, site.wall_top, "wall", ("freeboard",))], []
    for i, (item, place) in enumerate(zip(pool.walls, placed, strict=True)):
        if place is None or item.height is None:
            continue
        stretch, key = place
        part = part_along(site, rim, stretch, key)
        if part is not None:
            here = (*key, "height")
            tops.append(High(part, item.height, item.name or f"wall {i + 1}", here))
            notches.append(Notch(line_within(stretch), item.height, here))
    base = base_of(site, pool.shell, outer, is_even=not thick)
    wall = Wall(outer, head, base, tuple(tops), pool.shell.wall, tuple(thick))
    return wall, tuple(notches)


def _as_thick(
    site: Site, outer: shapely.Polygon, thickness: float, place: Place
) -> shapely.Polygon:
    """Return what the wall encloses with one stretch of it as thick as that [m]."""
    stretch, key = place
    water = site.ring.polygon
    old, new = (
        part_along(site, polygons_only(shapely.difference(item, water)), stretch, key)
        for item in (outer, site.ring.thickened(thickness))
    )
    if old is None or new is None:
        return outer
    # on the grid no crack is left between them
    rest = polygons_only(shapely.difference(outer, old, grid_size=GRID))
    found = polygons_only(shapely.union(rest, new, grid_size=GRID))
    parts = shapely.get_parts(found)
    whole: shapely.Polygon = parts[int(np.argmax(shapely.area(parts)))]
    return whole


def top_layers(site: Site, wall: Wall) -> list[Layer]:
    """Return the layers of the wall's top."""
    return [
        Layer(site.body, "wall top", item.name, item.key, item.region, item.top)
        for item in wall.tops
    ]
