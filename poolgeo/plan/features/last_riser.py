"""The last riser of a flight: from its deepest tread down to the floor, as high as that lets it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...arrays import Floats
from ..cells import Cells
from ..layers import Layer
from ..shapes import lines_of, segments_of
from ..slope import facets_of
from .part import Part
from .site import Site

BESIDE = 1e-3
"""[m] What runs nearer to a wall, a flank or another feature than this runs along it."""

UNEVEN = 5e-3
"""[m] A riser that differs along its foot by more than this is told. Common practice, no source."""

NO_RISER = np.full(2, np.nan), np.full((2, 2), np.nan)
"""Of a deepest tread that has no riser to the floor."""


def last_riser(site: Site, deepest: Layer, standing: Sequence[Layer]) -> tuple[Floats, Floats]:
    """Return the least and the greatest height of a flight's last riser, and where it has them.

    Args:
        site: The body of water that the flight stands in.
        deepest: Its deepest tread.
        standing: What stands on the floor there: where the tread meets another feature, it has no
            riser to the floor.

    Returns:
        The two heights (2,), nan where it has no such riser, and plan points (2, 2) [m].
    """
    sides = segments_of(shapely.boundary(deepest.region))
    middles = shapely.points(sides.mean(axis=1))
    front = shapely.distance(middles, shapely.boundary(site.water)) > BESIDE
    if deepest.flanks is not None:
        front &= shapely.distance(middles, lines_of(deepest.flanks)) > BESIDE
    foot = lines_of(sides[front])
    beside = [
        item.region
        for item in standing
        if item.over == "floor" and item.key != deepest.key and not isinstance(item.height, Cells)
    ]
    if beside:
        foot = shapely.difference(foot, shapely.buffer(shapely.union_all(beside), BESIDE))
    if foot.is_empty:
        return NO_RISER
    facets, _, _ = facets_of(site.floor, deepest.region)
    places = shapely.get_coordinates([foot, *shapely.intersection(facets, foot)])
    heights = deepest.level - site.floor.height(places)
    heights, places = heights[heights > 0.0], places[heights > 0.0]
    if not len(heights):
        return NO_RISER
    ends = [int(np.argmin(heights)), int(np.argmax(heights))]
    return heights[ends], places[ends]


def check_last_risers(site: Site, standing: Sequence[Part]) -> None:
    """Warn of flights whose last riser differs along its foot, as the floor slopes there.

    Args:
        site: The pool.
        standing: What stands on its floor.
    """
    flights = [item.layers for item in standing if item.layers[0].kind == "tread"]
    if site.floor.is_level:
        return
    layers = [layer for part in standing for layer in part.layers]
    for deepest, *others in flights:
        heights, places = last_riser(site, deepest, layers)
        if heights[1] - heights[0] > UNEVEN:
            ends = [
                f"{height:.3f} m at ({x:.3f}, {y:.3f}) m"
                for height, (x, y) in zip(heights, places, strict=True)
            ]
            above = f", the one above {others[0].level - deepest.level:.3f} m" if others else ""
            site.findings.warn(
                deepest.key,
                f"the last riser of {deepest.flight} differs in height along its foot",
                f"{' to '.join(ends)}{above}",
                "lead it down the fall of the floor, or let the floor be level along its foot",
            )
