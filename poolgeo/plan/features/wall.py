"""The pool's own wall in plan: how thick and how high it is, stretch by stretch, and its bond beam.

::

      raised: a part of the wall top, between two cuts square to the outline
       _________
      |         |___________  top: as wide as the bond beam, where there is one
      |_________|___________|
       wall: as thick as the shell, or as the stretch says
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer, Underside
from ..rim import part_of
from ..shapes import polygons_only
from ..stretch import CRUMB, SHORTEST, Stretch, inward_at, point_at
from ..tolerances import GRID
from .bench import stretch_on
from .part import Part
from .site import Site

LEAST_STRETCH = 0.05
"""[m] A stretch of wall shorter than this is a slip."""

LEAST_WALL = 0.01
"""[m] Concrete thinner than this behind a recess is none."""


@dataclass(frozen=True)
class High:
    """A part of the wall top at a height of its own.

    Args:
        region: Its plan.
        top: Height of the wall's top there [m].
        name: For labels and findings.
        key: Its key in the pool file.
    """

    region: shapely.Geometry
    top: float
    name: str
    key: Key


@dataclass(frozen=True)
class Wall:
    """The pool's wall in plan.

    Args:
        outer: What its outer face encloses, below a bond beam.
        head: What its top encloses.
        tops: Parts of its top; the first is all of it, later ones replace earlier ones.
    """

    outer: shapely.Polygon
    head: shapely.Polygon
    tops: tuple[High, ...]

    @property
    def overhang(self) -> shapely.Geometry:
        """What of the top stands out beyond the wall below it."""
        if self.head is self.outer:
            return shapely.Polygon()
        return polygons_only(shapely.difference(self.head, self.outer))


Place = tuple[Stretch, Key]
"""A stretch that passed, with its key."""


def wall_of(site: Site, pool: schema.Pool) -> Wall:
    """Return the pool's wall; what is wrong with it is left with the site's findings."""
    placed = places(site, pool.walls, "walls")
    outer = site.outer
    for item, place in zip(pool.walls, placed, strict=True):
        if place is not None and item.thickness is not None:
            outer = _as_thick(site, outer, item.thickness, place)
    head = outer
    beam = pool.shell.beam
    if beam is not None and beam.width <= pool.shell.wall:
        site.findings.error(
            ("shell", "beam", "width"),
            "must be more than the thickness of the wall below it",
            f"{beam.width:.3f} m; the wall is {pool.shell.wall:.3f} m thick",
            "make it wider, or leave the beam out",
        )
    elif beam is not None:
        head = shapely.union(outer, site.ring.thickened(beam.width))
    rim = polygons_only(shapely.difference(head, site.ring.polygon))
    tops = [High(rim, site.wall_top, "wall", ("freeboard",))]
    for i, (item, place) in enumerate(zip(pool.walls, placed, strict=True)):
        if place is None or item.height is None:
            continue
        stretch, key = place
        part = _part(site, rim, stretch, key)
        if part is not None:
            tops.append(High(part, item.height, item.name or f"wall {i + 1}", (*key, "height")))
            check_cove(site, pool, stretch, item.height, (*key, "height"))
    return Wall(outer, head, tuple(tops))


def _as_thick(
    site: Site, outer: shapely.Polygon, thickness: float, place: Place
) -> shapely.Polygon:
    """Return what the wall encloses with one stretch of it as thick as that [m]."""
    stretch, key = place
    water = site.ring.polygon
    old, new = (
        _part(site, polygons_only(shapely.difference(item, water)), stretch, key)
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


def _part(site: Site, rim: shapely.Geometry, stretch: Stretch, key: Key) -> shapely.Geometry | None:
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
        overlapping = [
            other for other in found if other is not None and _overlap(stretch, other[0])
        ]
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


def _between(stretch: Stretch) -> str:
    if stretch.start is None or stretch.end is None:
        return "it goes all round"
    return f"from {stretch.start:.3f} m to {stretch.end:.3f} m along the outline"


def _overlap(one: Stretch, other: Stretch) -> bool:
    """Whether two stretches of one outline have a length in common."""
    if one.start is None or other.start is None:
        return True
    round_ = one.ring.perimeter
    ahead, back = (other.start - one.start) % round_, (one.start - other.start) % round_
    return min(ahead, round_ - ahead) < SHORTEST or (
        ahead < one.length - SHORTEST or back < other.length - SHORTEST
    )


def check_cove(site: Site, pool: schema.Pool, stretch: Stretch, top: float, key: Key) -> None:
    """The pool's cove must touch the wall below a height [m] all along a stretch."""
    if pool.cove is None or pool.cove.radius <= 0.0:
        return
    radius = pool.cove.radius
    if stretch.start is None:
        stations = site.ring.stations[:-1]
    else:
        inner = (site.ring.stations[:-1] - stretch.start) % site.ring.perimeter
        stations = np.append(
            site.ring.stations[:-1][inner <= stretch.length],
            [stretch.start, stretch.start + stretch.length],
        ) % site.ring.perimeter  # fmt: skip
    at = np.array([point_at(site.ring, item) for item in stations.tolist()])
    inward = np.array([inward_at(site.ring, item) for item in stations.tolist()])
    centres = at + radius * inward
    step = 1e-3 * np.eye(2)
    fall = [(site.floor.height(centres + d) - site.floor.height(centres - d)) / 2e-3 for d in step]
    touch = site.floor.height(centres) + radius * np.sqrt(1.0 + fall[0] ** 2 + fall[1] ** 2)
    worst = int(np.argmax(touch))
    if touch[worst] >= top:
        site.findings.error(
            key,
            "must leave the cove wall to touch below it",
            f"the cove ends {site.level - touch[worst]:.3f} m below the water near "
            f"({at[worst, 0]:.3f}, {at[worst, 1]:.3f}) m",
            "use a smaller cove, or move this up",
        )


def top_layers(site: Site, wall: Wall) -> list[Layer]:
    """Return the layers of the wall's top."""
    return [
        Layer(site.body, "wall top", item.name, item.key, item.region, item.top)
        for item in wall.tops
    ]


def beam_undersides(wall: Wall, beam: schema.Beam | None, overhang: shapely.Geometry) -> list[
    Underside
]:  # fmt: skip
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


def recesses(site: Site, pool: schema.Pool, wall: Wall) -> list[Layer]:
    """Return the layers of the recesses at the waterline."""
    found = []
    solid = shapely.boundary(wall.outer)
    for i, (item, place) in enumerate(
        zip(pool.recess, places(site, pool.recess, "recess"), strict=True)
    ):
        if place is None:
            continue
        stretch, key = place
        name = item.name or f"recess {i + 1}"
        band = polygons_only(shapely.difference(site.ring.thickened(item.width), site.ring.polygon))
        region = _part(site, band, stretch, key)
        if region is None:
            continue
        left = float(shapely.distance(region, solid))
        if left < LEAST_WALL or not shapely.covers(wall.outer, region):
            site.findings.error(
                (*key, "width"),
                f"must leave wall behind the {name}",
                f"{item.width:.3f} m; the wall is {_thinnest(wall, stretch):.3f} m thick",
                "make it narrower, or the wall thicker",
            )
            continue
        level = site.level - item.depth
        under = float(site.floor.height(shapely.get_coordinates(region)).max())
        if under >= level:
            site.findings.error(
                (*key, "depth"),
                f"must be less than the depth of the floor beside the {name}",
                f"{item.depth:.3f} m; the floor there is {site.level - under:.3f} m deep",
                "raise the recess",
            )
            continue
        check_cove(site, pool, stretch, level, (*key, "depth"))
        found.append(Layer(site.body, "recess", name, key, region, level))
    return found


def _thinnest(wall: Wall, stretch: Stretch) -> float:
    """Least thickness of the wall along a stretch [m]."""
    points, _, _ = stretch.course()
    border = shapely.boundary(wall.outer)
    return float(shapely.distance(border, shapely.points(points)).min())


def check_recesses(site: Site, basin: Sequence[Part], standing: Sequence[Part]) -> None:
    """Warn of what stands higher than the recess beside it: that leaves a slot behind it."""
    for recess in (item for part in basin for item in part.layers if item.kind == "recess"):
        for layer in (item for part in standing for item in part.layers):
            if layer.level > recess.level and shapely.dwithin(layer.region, recess.region, CRUMB):
                site.findings.warn(
                    recess.key,
                    f"leaves a slot where '{layer.feature}' stands higher",
                    f"{layer.level - recess.level:.3f} m higher",
                    "end the recess there, or lower it",
                )
