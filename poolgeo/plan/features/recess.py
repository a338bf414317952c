"""Recesses at the waterline: from a depth up the wall's face stands back."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..shapes import polygons_only
from ..stretch import CRUMB, Stretch
from .concrete import Wall
from .notches import line_within
from .part import Notch, Part
from .site import Site
from .stretches import part_along, places

LEAST_WALL = 0.01
"""[m] Concrete thinner than this behind a recess is none."""


def recesses(site: Site, pool: schema.Pool, wall: Wall) -> list[tuple[Layer, Notch]]:
    """Return the layers of the recesses, and where each cuts into the wall."""
    found = []
    for i, (item, place) in enumerate(
        zip(pool.recess, places(site, pool.recess, "recess"), strict=True)
    ):
        if place is None:
            continue
        stretch, key = place
        name = item.name or f"recess {i + 1}"
        band = polygons_only(shapely.difference(site.ring.thickened(item.width), site.ring.polygon))
        region = part_along(site, band, stretch, key)
        if region is None or not _fits(site, item, wall, stretch, region, name, key):
            continue
        level = site.level - item.depth
        layer = Layer(site.body, "recess", name, key, region, level)
        found.append((layer, Notch(line_within(stretch), level, (*key, "depth"))))
    if found:
        _check_land(site, [layer for layer, _ in found])
    return found


def _fits(
    site: Site,
    recess: schema.Recess,
    wall: Wall,
    stretch: Stretch,
    region: shapely.Geometry,
    name: str,
    key: Key,
) -> bool:
    """Whether a recess leaves wall behind it and ends above the floor."""
    left = float(shapely.distance(region, shapely.boundary(wall.outer)))
    if left < LEAST_WALL or not shapely.covers(wall.outer, region):
        site.findings.error(
            (*key, "width"),
            f"must leave wall behind the {name}",
            f"{recess.width:.3f} m; the wall is {_thinnest(wall, stretch):.3f} m thick",
            "make it narrower, or the wall thicker",
        )
        return False
    under = float(site.floor.height(shapely.get_coordinates(region)).max())
    if under >= site.level - recess.depth:
        site.findings.error(
            (*key, "depth"),
            f"must be less than the depth of the floor beside the {name}",
            f"{recess.depth:.3f} m; the floor there is {site.level - under:.3f} m deep",
            "raise the recess",
        )
        return False
    return True


def _check_land(site: Site, layers: Sequence[Layer]) -> None:
    """Refuse recesses that cut through a spit of land: what is beyond would stand in the water."""
    regions = [layer.region for layer in layers]
    cut = shapely.union_all([site.ring.polygon, *regions])
    cut = polygons_only(shapely.buffer(cut, LEAST_WALL / 2.0, join_style="mitre"))
    beyond = [shapely.Polygon(hole) for part in shapely.get_parts(cut) for hole in part.interiors]
    for land in beyond:
        if shapely.area(land) < LEAST_WALL**2:
            continue  # a slit between two recesses
        layer = layers[int(np.argmin(shapely.distance(land, regions)))]
        x, y = shapely.get_coordinates(shapely.point_on_surface(land))[0]
        site.findings.error(
            (*layer.key, "width"),
            f"must leave wall behind the {layer.feature}",
            f"{shapely.area(land):.2f} m2 of land near ({x:.2f}, {y:.2f}) m cut off from the rest",
            "make it narrower, or end it before",
        )


def _thinnest(wall: Wall, stretch: Stretch) -> float:
    """Least thickness of the wall along a stretch [m]."""
    points, _, _ = stretch.baseline()
    border = shapely.boundary(wall.outer)
    return float(shapely.distance(border, shapely.points(points)).min())


def check_recesses(site: Site, bare: Sequence[Part], standing: Sequence[Part]) -> None:
    """Warn of what stands higher than the recess beside it: that leaves a slot behind it."""
    for recess in (item for part in bare for item in part.layers if item.kind == "recess"):
        for layer in (item for part in standing for item in part.layers):
            if layer.level > recess.level and shapely.dwithin(layer.region, recess.region, CRUMB):
                site.findings.warn(
                    recess.key,
                    f"leaves a slot where '{layer.feature}' stands higher",
                    f"{layer.level - recess.level:.3f} m higher",
                    "end the recess there, or lower it",
                )
