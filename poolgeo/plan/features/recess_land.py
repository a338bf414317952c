"""What recesses leave of the land behind them."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ...design import schema
from ..layers import Layer
from ..stretch import Stretch
from .concrete import Wall
from .site import Site

LEAST_WALL = 0.01
"""[m] Concrete thinner than this behind a recess is none."""

CHORDS = 2.0
"""[-] Chords of an outline and of its parallel differ by less than so many times the tolerance."""


def clipped(
    site: Site, recess: schema.Recess, stretch: Stretch, region: shapely.Geometry
) -> shapely.Point | None:
    """Return a place at which a recess stands back less than it should: water is near behind it.

    What is nearer to another part of the outline is not a stretch's own (`part_along`).
    """
    if stretch.start is None:
        return None
    line = shapely.LineString(stretch.baseline()[0])
    slack = CHORDS * site.tolerance
    near = shapely.buffer(line, max(recess.width - slack, 0.0), cap_style="flat")
    back = shapely.difference(shapely.boundary(region), shapely.buffer(line, slack))
    ends = shapely.buffer(shapely.boundary(line), 2.0 * recess.width)
    shallow = shapely.difference(shapely.intersection(back, near), ends)
    return shapely.point_on_surface(shallow) if shapely.length(shallow) > LEAST_WALL else None


def check_land(
    site: Site, wall: Wall, layers: Sequence[Layer], recess: Sequence[schema.Recess]
) -> None:
    """Refuse recesses that come through a spit of land: what they stand back from must be there."""
    regions = [layer.region for layer in layers]
    land = shapely.difference(wall.outer, shapely.union_all([site.ring.polygon, *regions]))
    for by in (-LEAST_WALL / 2.0, LEAST_WALL / 2.0):  # without what is too thin
        land = shapely.buffer(land, by, join_style="mitre")
    land = shapely.get_parts(land)
    # what is cut off from the rest would stand in the water
    firm = shapely.union_all(land[shapely.dwithin(land, shapely.boundary(wall.outer), LEAST_WALL)])
    for layer, item in zip(layers, recess, strict=True):
        behind = shapely.buffer(firm, item.width + CHORDS * site.tolerance, join_style="mitre")
        bare = shapely.difference(layer.region, behind)
        if shapely.area(bare) > LEAST_WALL**2:
            place = shapely.point_on_surface(bare)
            where = f"near ({place.x:.3f}, {place.y:.3f}) m"
            site.findings.error(
                (*layer.key, "width"),
                f"must leave wall behind the {layer.feature}",
                f"{item.width:.3f} m; {where} it comes through the land",
                "make it narrower, or end it before",
            )
