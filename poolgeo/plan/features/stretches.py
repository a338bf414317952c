"""Stretches of the outline that may not overlap, and the parts of a rim that belong to them."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ...design import schema
from ...errors import Key
from ..rim import part_of
from ..stretch import SHORTEST, Stretch, point_at
from .concrete import overlap
from .on_outline import stretch_on
from .site import Site

LEAST_STRETCH = 0.05
"""[m] A stretch of wall shorter than this is a slip."""

Place = tuple[Stretch, Key]
"""A stretch that passed, with its key."""


def places(
    site: Site, items: Sequence[schema.WallStretch | schema.Recess], name: str
) -> list[Place | None]:
    """Return the stretches of parts that may not overlap, None for one that is refused.

    Args:
        site: The pool.
        items: From the pool file.
        name: Their key.
    """
    found: list[Place | None] = []
    for i, item in enumerate(items):
        key: Key = (name, i)
        stretch = stretch_on(site, item.start, item.end, key)
        overlapping = [other for other in found if other is not None and overlap(stretch, other[0])]
        if SHORTEST < stretch.length < LEAST_STRETCH:
            site.findings.error(
                (*key, "end"),
                f"must lie at least {LEAST_STRETCH:.3f} m from 'start'",
                f"{stretch.length:.3f} m along the outline",
                "make the stretch longer",
            )
            found.append(None)
        elif stretch.length <= SHORTEST:
            found.append(None)  # refused already
        elif overlapping:
            _, (_, first) = overlapping[0]
            site.findings.error(
                key,
                f"must not overlap '{name}[{first}]'",
                _between(stretch),
                "end one where the other starts",
            )
            found.append(None)
        else:
            found.append((stretch, key))
    return found


def part_along(
    site: Site, rim: shapely.Geometry, stretch: Stretch, key: Key
) -> shapely.Geometry | None:
    """Return what of a rim round the outline belongs to a stretch; None where it is refused."""
    found = part_of(rim, stretch)
    if found is None:
        x, y = point_at(site.ring, stretch.start or 0.0)
        site.findings.error(
            key,
            "must start and end where the wall stands alone, clear of other walls and corners",
            f"from ({x:.3f}, {y:.3f}) m on",
            "move its ends along the outline",
        )
    return found


def _between(stretch: Stretch) -> str:
    if stretch.start is None or stretch.end is None:
        return "it goes all round"
    return f"from {stretch.start:.3f} m to {stretch.end:.3f} m along the outline"
