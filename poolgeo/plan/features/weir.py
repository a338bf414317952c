r"""Weirs: stretches of the pool's wall lowered to a crest, with a top that is flat or falls.

::

      fall > 0       fall = 0       fall < 0
    crest_           ____             _crest
      |  `-_        |    |         _-' |          the pool is on the left; `face` is the outer face
    __|     |     __|    |      __|    |

A weir stands on the bare outline; corner coves on its stretch end level with its inner edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..courses import Course
from ..curves import Floats
from ..floor import Floor, sloping_floor
from ..layers import Layer
from ..ring import MITRE, Ring
from ..shapes import parallel_arcs, polygons_only
from ..stretch import CRUMB, SHORTEST, Stretch, band, chord_at
from ..tolerances import GRID
from .bench import stretch_on
from .leaning import lean_of
from .site import Site

STRAIGHT = 1e-10
"""[-] Normals at the ends of a straight chord have a product that differs from 1 by less."""

FLAT = 1e-9
"""[m3] Four corners of a box smaller than this lie in a plane."""


NOTHING = shapely.Polygon()
"""No plan."""


@dataclass(frozen=True)
class WeirPlan:
    """A weir.

    Args:
        stretch: Where it stands on the pool's outline.
        thickness: Of the wall there [m].
        inner: Height of its top at its inner edge [m].
        face: Height of its top at its outer face [m].
        foot: How far inside the pool's outline its inner edge stands, where the wall leans [m].
        filled: What corner coves fill along it.
    """

    stretch: Stretch
    thickness: float
    inner: float
    face: float
    foot: float = 0.0
    filled: shapely.Geometry = NOTHING

    @property
    def lowest(self) -> float:
        """Height of its lowest place [m]."""
        return min(self.inner, self.face)

    @property
    def crest(self) -> float:
        """Height of its crest [m]."""
        return max(self.inner, self.face)

    @cached_property
    def region(self) -> shapely.Polygon:
        """What it takes of the plan."""
        return self.band(-self.foot, self.thickness)

    def line(self, off: float) -> Floats:
        """Return the parallel (k, 2) of its stretch ``off`` outside the outline [m].

        It ends on the chords of the outline's own parallel.
        """
        line, _ = parallel_arcs(*self.stretch.course(), -off)
        if self.stretch.start is not None and self.stretch.end is not None:
            ring = self.stretch.ring
            chords = Course.along(ring, off).chords
            for end, station in ((0, self.stretch.start + CRUMB), (-1, self.stretch.end - CRUMB)):
                a, b = chords[chord_at(ring, station)]
                line[end] = a + (b - a) * ((line[end] - a) @ (b - a)) / ((b - a) @ (b - a))
        return line

    def band(self, near: float, far: float) -> shapely.Polygon:
        """Return what lies between two parallels outside the outline [m]."""
        inside, outside = self.line(near), self.line(far)
        if self.stretch.start is None:
            return shapely.Polygon(outside[:-1], [inside[:-1]])
        return shapely.Polygon(np.concatenate([inside, outside[::-1]]))

    def fold(self, far: float) -> Floats | None:
        """Return a place (2,) at which the band out to a parallel folds, None if nowhere."""
        points, before, after = self.stretch.course()
        outside, half_turn = parallel_arcs(points, before, after, -far)
        back = np.sum(np.diff(outside, axis=0) * np.diff(points, axis=0), axis=1) <= 0.0
        if back.any():
            folded: Floats = points[int(np.argmax(back))]
            return folded
        if half_turn.min() < 1.0 / MITRE:
            sharp: Floats = points[int(np.argmin(half_turn))]
            return sharp
        band = self.band(0.0, far)
        if not band.is_valid:
            reason = shapely.is_valid_reason(band)
            return np.array(reason[reason.find("[") + 1 : -1].split(), dtype=float)
        return None


def weir_plan(
    site: Site, weir: schema.Weir, key: Key, batter: schema.Batter | None
) -> WeirPlan | None:
    """Lay a weir out on the pool; what is wrong with it is left with the pool's findings.

    Args:
        site: The pool.
        weir: From the pool file.
        key: Its key there.
        batter: How the pool's walls lean: a weir's top reaches to where the wall stands at its
            height.

    Returns:
        The weir; None where it has no length.
    """
    stretch = stretch_on(site, weir.start, weir.end, key, site.ring.bare)
    if stretch.length < SHORTEST:
        return None
    thickness = site.shell.wall if weir.thickness is None else weir.thickness
    crest, lean = site.level + weir.crest, lean_of(site, batter, stretch, key)
    inwards = max(-weir.fall, 0.0)
    foot = lean * (site.wall_top - crest + inwards * thickness) / (1.0 - lean * inwards)
    rise = abs(weir.fall) * (thickness + foot)
    inner, face = (crest, crest - rise) if weir.fall >= 0.0 else (crest - rise, crest)
    plan = WeirPlan(stretch, thickness, inner, face, foot, _filled(site.ring, stretch))
    if crest >= site.wall_top:
        site.findings.error(
            (*key, "crest"),
            "must lie below the top of the pool's wall",
            f"{weir.crest:.3f} m above the water; the wall goes up {site.wall_top:.3f} m",
            "lower the crest, or raise the pool's freeboard",
        )
    points = stretch.course()[0]
    floor = float(site.floor.height(points).max())
    if plan.lowest <= floor:
        site.findings.error(
            (*key, "crest" if crest <= floor else "fall"),
            "must leave the weir above the pool's floor",
            f"{plan.lowest - site.level:.3f} m from the water; the floor there rises to"
            f" {floor - site.level:.3f} m",
            "raise the crest, or let its top fall less",
        )
    return plan


def _filled(ring: Ring, stretch: Stretch) -> shapely.Geometry:
    """Return what the corner coves of a ring fill along a stretch of the bare one."""
    if not ring.rounds:
        return NOTHING
    filled = shapely.difference(ring.bare.polygon, ring.polygon, grid_size=GRID)
    if stretch.start is None:
        return polygons_only(filled)
    deepest = max(item.arc.radius * math.tan(abs(item.arc.sweep) / 2.0) for item in ring.rounds)
    along = band(stretch, deepest)
    return polygons_only(shapely.intersection(filled, along, grid_size=GRID))


def weir_tops(plan: WeirPlan, body: str, key: Key, name: str) -> list[Layer]:
    """Return the layers of the top of a weir.

    Args:
        plan: The weir.
        body: The body of water that its top belongs to.
        key: Its key in the pool file.
        name: For labels.
    """
    parts: list[tuple[str, shapely.Geometry, float | Floor]] = []
    if plan.inner == plan.face:
        region = plan.region
        if not plan.filled.is_empty:
            region = polygons_only(shapely.union(region, plan.filled, grid_size=GRID))
        parts.append((name, region, plan.inner))
    else:
        parts += [
            (f"{name} side {side + 1}", shapely.Polygon(corners[:, :2]), _plane(corners))
            for side, corners in _facets(plan)
        ]
        if not plan.filled.is_empty:
            parts.append((f"{name} in corners", plan.filled, plan.inner))
    return [
        Layer(body, "weir top", feature, key, region, height, "all", "weir face")
        for feature, region, height in parts
    ]


def _facets(plan: WeirPlan) -> Iterator[tuple[int, Floats]]:
    """Yield the plane pieces of a sloping top: the number of its side, and corners (k, 3) [m].

    A side ends where the outline has a corner. Where it is straight, one piece is all of it; where
    it is curved, one stands on each chord, or two triangles where its corners lie in no plane.
    """
    points, before, after = plan.stretch.course()
    inside = np.column_stack([plan.line(-plan.foot), np.full(len(points), plan.inner)])
    outside = np.column_stack([plan.line(plan.thickness), np.full(len(points), plan.face)])
    corner = np.sum(before * after, axis=1) < 1.0 - STRAIGHT
    side = np.cumsum(corner[:-1]) - int(corner[0])
    if plan.stretch.start is None and not corner[0]:
        side[side == side[-1]] = 0
    straight = np.sum(after[:-1] * before[1:], axis=1) > 1.0 - STRAIGHT
    begin = 0
    for i in range(len(straight)):
        last = i + 1 == len(straight) or corner[i + 1] or not (straight[i] and straight[i + 1])
        if not last:
            continue
        a, b, c, d = inside[begin], inside[i + 1], outside[i + 1], outside[begin]
        begin = i + 1
        if straight[i] or abs(np.linalg.det([d - a, c - a, b - a])) < FLAT:
            yield int(side[i]), np.array([a, d, c, b])
        else:
            yield int(side[i]), np.array([a, d, b])
            yield int(side[i]), np.array([d, c, b])


def _plane(corners: Floats) -> Floor:
    """Return the plane through the first three of some corners (k, 3) [m]."""
    p, q, r = corners[:3]
    normal = np.cross(q - p, r - p)
    slope = -normal[:2] / normal[2]
    return sloping_floor(p[:2], float(p[2]), slope)
