"""The inside of a spa: its floor with its wells, its cove and its seats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely

from ...design import schema
from ...errors import Key
from ..floor import level_floor
from ..layers import Layer, Underside
from ..outline import outline_ring
from ..ring import Ring
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .bench import bench_layer
from .cove import cove_layers
from .part import Block
from .site import Site


@dataclass(frozen=True)
class WellPlan:
    """A well: its layer, and what encloses it with its walls."""

    layer: Layer
    ring: Ring
    level: float


def inside_layers(site: Site, spa: schema.Spa, wells: Sequence[WellPlan], key: Key) -> list[Layer]:
    """Return the floor of a spa and what stands on it, in painting order.

    Args:
        site: The spa.
        spa: From the pool file.
        wells: Its wells.
        key: Its key in the pool file.
    """
    floor = Layer(
        site.body, "spa floor", "spa floor", (*key, "depth"), site.ring.polygon, site.floor,
        wall=site.wall,
    )  # fmt: skip
    seats = [
        bench_layer(site, seat, (*key, "seats", k), seat.name or _numbered("seat", k))
        for k, seat in enumerate(spa.seats)
    ]
    coves = [] if spa.cove is None else _cove(site, spa.cove, seats, wells, (*key, "cove"))
    coves = [replace(item, wall=site.wall) for item in coves]
    return [floor, *(item.layer for item in wells), *coves, *seats]


def well_plans(site: Site, spa: schema.Spa, key: Key) -> list[WellPlan]:
    """Return the wells of a spa; what is wrong with them is left with its findings."""
    found = []
    for k, well in enumerate(spa.wells):
        here = (*key, "wells", k)
        name = _numbered("well", k)
        ring = outline_ring(well.outline, site.tolerance, (*here, "outline"))
        region = site.clip(ring.polygon, (*here, "outline"), name)
        if well.depth <= spa.depth:
            site.findings.error(
                (*here, "depth"),
                "must be more than the depth of the spa",
                f"{well.depth:.3f} m; the spa is {spa.depth:.3f} m deep",
                "make it deeper, or leave the well out",
            )
        level = site.level - well.depth
        layer = Layer(
            site.body, "spa floor", name, here, region, level_floor(level), wall=site.wall
        )
        found.append(WellPlan(layer, ring, level))
    return found


def well_undersides(
    pool: Site, site: Site, whole: shapely.Geometry, wells: Sequence[WellPlan]
) -> list[Underside]:
    """Return the undersides of wells and of the walls round them.

    Args:
        pool: Where its underside is deeper, the walls go down to it.
        site: The spa.
        whole: All that the spa takes of the plan.
        wells: Its wells.
    """
    found = []
    for well in wells:
        region = shapely.intersection(well.ring.thickened(site.shell.wall), whole, grid_size=GRID)
        soffit = well.level - site.shell.floor
        within = shapely.intersection(region, site.ring.polygon, grid_size=GRID)
        beyond = shapely.difference(region, site.ring.polygon, grid_size=GRID)
        parts = ((polygons_only(within), None), (polygons_only(beyond), pool.soffit))
        found += [
            Underside(part, floor, soffit, body=site.body)
            for part, floor in parts
            if not part.is_empty
        ]
    return found


def _cove(
    site: Site,
    cove: schema.Cove,
    seats: Sequence[Layer],
    wells: Sequence[WellPlan],
    key: Key,
) -> list[Layer]:
    """Return the cove at the walls, and at the feet of the seats where they take it."""
    standing = []
    if "bench faces" in cove.also_at:
        standing = [Block(item.region, item.level, item.feature, "bench faces") for item in seats]
    wall = site.ring.polygon.exterior
    over = shapely.union_all([item.region for item in seats])
    if not standing and shapely.difference(wall, shapely.buffer(over, WELD)).length < cove.radius:
        site.findings.warn(
            key,
            "lies wholly behind the seats and shows nowhere",
            "",
            "add 'bench faces' to its 'also_at' for a cove at the seats' foot",
        )
    feet = shapely.union_all([wall, *(shapely.boundary(item.region) for item in standing)])
    for well in wells:
        gap = float(shapely.distance(feet, well.layer.region))
        if gap < cove.radius:
            site.findings.error(
                (*well.layer.key, "outline"),
                f"must stand clear of the cove of the {site.body}",
                f"{gap:.3f} m from the wall or a seat with a cove of {cove.radius:.3f} m",
                "make the well smaller, move it, or use a smaller cove",
            )
    return cove_layers(site, cove, standing, key)


def _numbered(name: str, k: int) -> str:
    return name if k == 0 else f"{name} {k + 1}"
