"""Recesses at the waterline: from a depth up the wall's face stands back."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..shapes import polygons_only
from ..stretch import CRUMB, Stretch
from .concrete import Wall
from .notches import line_within
from .part import Notch, Part
from .recess_land import LEAST_WALL, check_land, clipped
from .site import Site
from .stretches import part_along, places


def recesses(site: Site, pool: schema.Pool, wall: Wall) -> list[tuple[Layer, Notch]]:
    """Return the layers of the recesses, and where each cuts into the wall."""
    found, built = [], []
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
        built.append(item)
    if found:
        check_land(site, wall, [layer for layer, _ in found], built)
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
    if place := clipped(site, recess, stretch, region):
        site.findings.error(
            (*key, "width"),
            f"must be at most half as wide as the land behind the {name}",
            f"{recess.width:.3f} m; near ({place.x:.3f}, {place.y:.3f}) m the land is thinner",
            "make it narrower, or end it before",
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
