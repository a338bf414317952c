"""The thickened edge: deeper concrete under the pool's wall, its inner side upright or splayed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ..curves import turn_between
from ..layers import Underside
from ..shapes import parallel, polygons_only
from ..stretch import CRUMB
from ..tolerances import GRID, SHARP_TURN, WELD
from .concrete import Wall
from .footing import MITRE, footing_undersides
from .site import Site

Ints = np.ndarray

NODED = 2.5 * WELD
"""[m] What lies so near to a border has been moved off it by noding."""


def thickened_edge(site: Site, edge: schema.ThickenedEdge | None, wall: Wall) -> list[Underside]:
    """Return the undersides of a thickened edge."""
    if edge is None:
        return []
    foot, inner = (
        shapely.buffer(wall.outer, -by, join_style="mitre", mitre_limit=MITRE)
        for by in (edge.width, edge.width + edge.splay)
    )
    if inner.is_empty or inner.geom_type != "Polygon" or foot.geom_type != "Polygon":
        site.findings.error(
            ("shell", "thickened_edge", "width"),
            "must leave thinner slab between the edges of opposite walls",
            f"{edge.width + edge.splay:.3f} m with its splay",
            "make it narrower, or the whole floor thicker",
        )
        return []
    strip = polygons_only(shapely.difference(wall.base, foot))
    found = [
        Underside(strip, site.soffit, deeper=edge.depth),
        *footing_undersides(site, wall, edge.depth),
    ]
    sides = _sides(foot, inner, edge) if edge.splay else []
    return [*found, *(Underside(part, site.soffit, drop=side) for part, side in sides)]


def under_walls(pool: Site, walls: shapely.Geometry, level: float, body: str) -> list[Underside]:
    """Return the undersides of another body's walls, which share concrete with the pool's.

    Args:
        pool: Where its underside is deeper, its thickened edge too, the walls go down to it.
        walls: Their plan.
        level: Of the body's own soffit [m].
        body: Its name.
    """
    edge, wall = pool.shell.thickened_edge, pool.own_wall
    if edge is None:
        return [Underside(walls, pool.soffit, level, body=body)]
    foot = shapely.buffer(wall.outer, -edge.width, join_style="mitre", mitre_limit=MITRE)
    strip = shapely.difference(wall.base, foot)
    deep, rest = (
        polygons_only(act(walls, strip, grid_size=GRID))
        for act in (shapely.intersection, shapely.difference)
    )
    found = [
        Underside(deep, pool.soffit, level, body=body, deeper=edge.depth),
        Underside(rest, pool.soffit, level, body=body),
    ]
    return [item for item in found if not item.region.is_empty]


@dataclass(frozen=True)
class _Splay:
    """A splayed side: a plane beside each chord of the edge's foot.

    Args:
        chords: (k, 2, 2) of the foot along this side, the slab on their left [m].
        inner: Where the slab goes on.
        edge: From the pool file.
    """

    chords: Floats
    inner: shapely.Polygon
    edge: schema.ThickenedEdge

    def __call__(self, xy: Floats) -> Floats:
        """Return how much deeper than the slab it lies at plan points (k, 2) [m]."""
        chord, inward = self._beside(xy)
        off = np.sum((xy - self.chords[chord, 0]) * inward, axis=1)
        share = np.clip(1.0 - off / self.edge.splay, 0.0, 1.0)
        # vertices that noding has moved off a border still stand on it
        share[off < NODED] = 1.0
        share[shapely.dwithin(self.inner, shapely.points(xy), NODED)] = 0.0
        drop: Floats = self.edge.depth * share
        return drop

    def gradient(self, xy: Floats) -> Floats:
        """Return how that changes at plan points (k, 2) [-]."""
        found: Floats = -self.edge.depth / self.edge.splay * self._beside(xy)[1]
        return found

    def _beside(self, xy: Floats) -> tuple[Ints, Floats]:
        """Return the chord nearest to points (k, 2), and the unit normal into the slab there."""
        chord = self._tree.nearest(shapely.points(xy))
        return chord, _left_of(self.chords)[chord]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        shapely.prepare(self.inner)
        return shapely.STRtree(shapely.linestrings(self.chords))


def _sides(
    foot: shapely.Polygon, inner: shapely.Polygon, edge: schema.ThickenedEdge
) -> list[tuple[shapely.Geometry, _Splay]]:
    """Return the splayed sides in plan, parted along their mitres."""
    ring = polygons_only(shapely.difference(foot, inner))
    points = shapely.get_coordinates(shapely.orient_polygons(foot).exterior)
    chords = np.stack([points[:-1], points[1:]], axis=1)
    after = _left_of(chords)
    before = np.roll(after, 1, axis=0)
    turns = turn_between(before, after)
    stops, _ = parallel(points[:-1], before, after, edge.splay)
    at = np.flatnonzero(np.abs(turns) > SHARP_TURN)
    over = (stops[at] - points[at]) / np.hypot(*(stops[at] - points[at]).T)[:, None] * CRUMB
    mitres = shapely.linestrings(np.stack([points[at] - over, stops[at] + over], axis=1))
    lines = shapely.union_all([shapely.boundary(ring), *mitres])
    faces = shapely.get_parts(shapely.polygonize([lines]))
    shapely.prepare(ring)
    middles = shapely.points(chords.mean(axis=1))
    found = []
    for face in faces[shapely.contains_properly(ring, shapely.point_on_surface(faces))]:
        mine = shapely.dwithin(face, middles, CRUMB)
        found.append((face, _Splay(chords[mine] if mine.any() else chords, inner, edge)))
    return found


def _left_of(chords: Floats) -> Floats:
    """Return the unit normals (k, 2) on the left of segments (k, 2, 2)."""
    step = chords[:, 1] - chords[:, 0]
    found: Floats = np.column_stack([-step[:, 1], step[:, 0]]) / np.hypot(*step.T)[:, None]
    return found
