"""Islands: columns of concrete that stand in the water, from the floor to above it."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ...design import schema
from ...errors import Findings, PoolFileError
from ..layers import Layer
from ..outline import CLEAR, Outline, outline_ring
from .coping import with_inner_return
from .corner_coves import corners_in
from .part import Block, Part
from .site import STRAY, Island, Site

WHOLLY = 0.98
"""[-] A feature of which islands cover a larger share vanishes."""


def islands_of(pool: schema.Pool, findings: Findings) -> list[Island]:
    """Return the islands that a pool lists; what is wrong with their outlines is a finding.

    Args:
        pool: From the pool file.
        findings: Where to leave findings.
    """
    found = []
    for i, item in enumerate(pool.islands):
        key = ("islands", i)
        try:
            outline = (*key, "outline")
            corners = corners_in(pool.cove, ())
            ring = outline_ring(item.outline, pool.tolerance, outline, corners, is_island=True)
        except PoolFileError as error:
            findings.found += error.findings
            continue
        top = pool.freeboard if item.top is None else item.top
        found.append(Island(item.name or f"island {i + 1}", key, ring, top))
    return found


def holes_of(pool: schema.Pool, outline: Outline, count: int) -> list[Island]:
    """Return the holes of a pool's outline as islands.

    Args:
        pool: From the pool file.
        outline: Its outline.
        count: How many islands it lists besides.
    """
    return [
        Island(f"island {n}", ("outline",), ring, pool.freeboard)
        for n, ring in enumerate(outline.holes, count + 1)
    ]


def check_places(site: Site) -> None:
    """Islands must stand inside the outline, clear of it and of each other.

    Args:
        site: The pool with its islands.
    """
    for k, island in enumerate(site.islands):
        column = island.ring.polygon
        inside = shapely.intersection(site.ring.polygon, column).area
        if inside < STRAY:
            site.findings.error(
                (*island.key, "outline"),
                "must lie inside the pool's outline",
                f"'{island.name}' lies outside",
                "move it into the outline",
            )
        elif (gap := shapely.distance(column, site.ring.polygon.exterior)) < CLEAR:
            rest = shapely.get_num_geometries(shapely.difference(site.ring.polygon, column))
            site.findings.error(
                (*island.key, "outline"),
                "must stand clear of the pool's outline, with water all round"
                + (", and not cut the pool in two" if rest > 1 else ""),
                _came(island, gap, column, site.ring.polygon.exterior),
                "move it, or subtract it from the outline (shape: combined)",
            )
        for other in site.islands[:k]:
            if (gap := shapely.distance(column, other.ring.polygon)) < CLEAR:
                listed = island if island.key[0] == "islands" else other
                site.findings.error(
                    (*listed.key, "outline") if listed.key[0] == "islands" else listed.key,
                    f"must stand clear of '{(other if listed is island else island).name}'",
                    _came(island, gap, column, other.ring.polygon),
                    "move it, or make one island of both (shape: combined)",
                )


def _came(island: Island, gap: float, column: shapely.Polygon, other: shapely.Geometry) -> str:
    if gap > 0.0:
        (x, y), *_ = shapely.get_coordinates(shapely.shortest_line(column, other))
        return f"'{island.name}' is {gap * 1000.0:.3f} mm away near ({x:.3f}, {y:.3f}) m"
    x, y = shapely.get_coordinates(shapely.intersection(column, other))[0]
    return f"'{island.name}' meets it near ({x:.3f}, {y:.3f}) m"


def check_standing(site: Site, standing: Sequence[Part]) -> None:
    """Refuse islands that take all that shows of a bench, a ledge or a tread.

    Args:
        site: The pool with its islands.
        standing: What stands on its floor.
    """
    if not site.islands:
        return
    columns = shapely.union_all([item.ring.polygon for item in site.islands])
    for part in standing:
        later = shapely.Polygon()
        for layer in part.layers[::-1]:  # a later one of its part covers an earlier one
            shown = shapely.difference(layer.region, later)
            later = shapely.union(later, layer.region)
            lost = shapely.intersection(shown, columns).area
            if lost > WHOLLY * shown.area:
                rule = f"must not vanish: an island stands where '{layer.feature}' is"
                value = f"{lost:.3f} m2 of {shown.area:.3f} m2"
                site.findings.error(layer.key, rule, value, "move one of them")


def blocks_of(site: Site) -> list[Block]:
    """Return the islands as concrete that takes the cove at its foot, as walls do."""
    return [Block(item.ring.polygon, item.top, item.name, None, item.ring) for item in site.islands]


def islands(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the islands of the pool."""
    return [
        Part(
            tuple(with_inner_return(_top(site, item), pool.coping)),
            blocks=(block,),
            outlines={(f"island {n}", "island"): item.ring.points},
            rings=(item.ring,),
        )
        for n, (item, block) in enumerate(zip(site.islands, blocks_of(site), strict=True), 1)
    ]


def _top(site: Site, item: Island) -> Layer:
    return Layer(site.body, "wall top", item.name, item.key, item.ring.polygon, item.top)
