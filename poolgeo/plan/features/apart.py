"""Bodies of water stand clear of each other, and each has a name of its own."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import shapely

from .part import Part
from .site import STRAY, Findings

CLEAR = 1e-3
"""[m] Walls nearer to each other than this are one, and no ground lies between."""


def check_apart(parts: Sequence[Part], findings: Findings) -> None:
    """Refuse bodies beside the pool that overlap or whose walls meet, and names that clash.

    Args:
        parts: Bodies of water, each with its footprint.
        findings: Where to leave what is wrong.
    """
    for one, other in combinations(parts, 2):
        if one.footprint is None or other.footprint is None:
            continue
        if shapely.distance(one.footprint, other.footprint) > CLEAR:
            continue
        over = shapely.intersection(one.footprint, other.footprint)
        place = shapely.point_on_surface(over if over.area > STRAY else other.footprint)
        if over.area <= STRAY:
            place = shapely.get_point(shapely.shortest_line(one.footprint, other.footprint), 0)
        came = f"they share {over.area:.3f} m2" if over.area > STRAY else "their walls meet"
        findings.error(
            other.waters[0].key,
            f"must stand clear, with its walls, of '{one.waters[0].name}'",
            f"{came} near ({place.x:.3f}, {place.y:.3f}) m",
            f"move '{other.waters[0].name}' or make it smaller",
        )
    _check_names(parts, findings)


def _check_names(parts: Sequence[Part], findings: Findings) -> None:
    taken = {"pool"}
    for water in (water for part in parts for water in part.waters):
        if water.name in taken:
            findings.error(
                (*water.key, "name"),
                "must be a name of its own",
                f"'{water.name}'",
                "give every body of water another name",
            )
        taken.add(water.name)
