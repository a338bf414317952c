r"""Troughs: what catches the water beyond a weir, a body of its own, basin or channel.

::

      pool      weir   trough      rim
               ______           _______
              |      |         |       |      solid: the pool with its walls and the weir, which
              |      |_________|       |      the trough stands against and leaves whole
                                              rim: the trough's own wall, where no solid is
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..cells import Cells
from ..courses import Course, feet_of, ring_round
from ..curves import Floats
from ..floor import Floor
from ..layers import Layer, Underside
from ..outline import outline_ring, with_rounds
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from ..traced import traced
from .corner_coves import corners_in
from .cove import cove_layers
from .part import Block, Part, Water
from .site import STRAY, Site
from .wall_lines import joints_on
from .weir import WeirPlan, weir_tops

ENDS = np.array([0.0, 1.0])
"""[-] Both ends of an arc."""

LONGEST_GAP = 1e-3
"""[m] So much of a weir may have no trough before it: what rounding makes of its ends."""


@dataclass(frozen=True)
class Catch:
    """What a trough is to be.

    Args:
        kind: ``basin`` or ``channel``: its surfaces are called after it.
        water: It as a body of water.
        wall_top: Height of its own walls [m].
        floor: Makes its floor from the places (k, 2) of its border.
        cove: Its cove.
        width: Clear width all along the weir [m], or
        outline: its own outline.
    """

    kind: str
    water: Water
    wall_top: float
    floor: Callable[[Floats], Floor]
    cove: schema.Cove | None
    width: float | None = None
    outline: schema.Outline | None = None

    @property
    def key(self) -> Key:
        """Its key in the pool file."""
        return self.water.key


@dataclass(frozen=True)
class TroughPlan:
    """The regions of a trough.

    Args:
        site: It as a body of water.
        region: Its clear plan.
        solid: The pool with its walls and the weir.
    """

    site: Site
    region: shapely.Polygon
    solid: shapely.Geometry

    @property
    def holes(self) -> list[shapely.Polygon]:
        """What it goes all round."""
        return [shapely.Polygon(hole) for hole in self.region.interiors]


def trough_part(pool: Site, weir: WeirPlan, catch: Catch) -> Part:
    """Return a weir and the trough beyond it; what is wrong is left with the pool's findings.

    Args:
        pool: The pool.
        weir: What it spills over.
        catch: What catches the water.
    """
    plan = _trough_plan(pool, weir, catch)
    if plan is None:
        return Part()
    site, kind = plan.site, catch.kind
    outer = site.outer
    rim = polygons_only(
        shapely.difference(
            outer, shapely.union(site.ring.polygon, plan.solid, grid_size=GRID), grid_size=GRID
        )
    )
    walled = polygons_only(shapely.union(outer, weir.region, grid_size=GRID))
    walls = shapely.difference(walled, pool.ring.polygon, grid_size=GRID)
    soffit = float(site.soffit.height(_border(plan.region)).min())
    _check_footing(pool, walled, catch)
    blocks = [Block(item, weir.lowest, "the pool's wall", "dam walls") for item in plan.holes]
    coves = []
    if catch.cove is not None:
        coves = cove_layers(site, catch.cove, blocks, (*catch.key, "cove"))
    own = pool.body if weir.inner <= weir.face else site.body
    layers = (
        Layer(site.body, "wall top", f"{kind} wall", catch.key, rim, catch.wall_top, "all",
              site.wall),
        Layer(site.body, f"{kind} floor", f"{kind} floor", catch.key, plan.region, site.floor,
              wall=site.wall),
        *(replace(item, wall=site.wall) for item in coves),
        *weir_tops(weir, own, catch.key, f"weir of the {site.body}"),
    )  # fmt: skip
    floor = [] if site.floor.is_level else [
        Underside(plan.region, site.soffit, everywhere=True)
    ]  # fmt: skip
    outlines = {site.body: site.ring.points, f"{site.body} shell": _points(outer)}
    if plan.holes:
        outlines[f"{site.body} island"] = _points(plan.holes[0])
    return Part(
        layers,
        (Underside(polygons_only(walls), pool.soffit, soffit), *floor),
        waters=(catch.water,),
        outlines=outlines,
        rings=(site.ring,),
        joints=_joints(pool, site, coves, {weir.thickness, weir.thickness + (catch.width or 0.0)}),
        footprint=polygons_only(shapely.difference(walled, plan.solid, grid_size=GRID)),
    )


def _joints(pool: Site, site: Site, coves: Sequence[Layer], offs: set[float]) -> Floats:
    """Return where on the pool's curve (k, 2) a trough's cove has joints so far off [m].

    Its corner coves touch the curve itself, which the chords of walls and weir pass by.
    """
    cells = [item.height for item in coves if isinstance(item.height, Cells)]
    found = [joints_on(site.ring, item) for item in cells]
    points = np.concatenate([*found, np.zeros((0, 2))])
    ring, reach = pool.ring.bare, site.tolerance
    ends = np.concatenate([item.arc.at(ENDS) for item in site.ring.rounds] or [np.zeros((0, 2))])
    return np.concatenate(
        [feet_of(points, ring, off, reach) for off in sorted(offs)]
        + [feet_of(ends, ring, off, reach, WELD / 2.0) for off in sorted(offs)]
    )


def _check_footing(pool: Site, walled: shapely.Geometry, catch: Catch) -> None:
    """The footing of the pool's wall goes all round; a trough must not stand on or through it."""
    footing = pool.shell.footing
    if footing is None:
        return
    base = pool.ring.thickened(pool.shell.wall + footing.projection)
    over = shapely.intersection(walled, shapely.difference(base, pool.outer, grid_size=GRID))
    if over.area > STRAY:
        pool.findings.error(
            ("shell", "footing"),
            f"must not run where the '{catch.water.name}' stands beside the pool",
            f"{over.area:.3f} m2 of it do",
            "leave the footing out of this file, or the trough",
        )


def _trough_plan(pool: Site, weir: WeirPlan, catch: Catch) -> TroughPlan | None:
    """Lay out the clear plan of a trough."""
    key = (*catch.key, "outline" if catch.outline is not None else "width")
    far = weir.thickness + (catch.width or 0.0)
    if (place := weir.fold(far)) is not None:
        pool.findings.error(
            key if catch.width else (*catch.key[:2], "thickness"),
            "must follow a stretch that leaves room for it outside the pool",
            f"{far:.3f} m from the outline its border folds, near"
            f" ({place[0]:.3f}, {place[1]:.3f}) m",
            "make it narrower, or end the stretch before that place",
        )
        return None
    solid = _solid(pool, weir)
    courses = [Course.along(pool.ring.bare, off) for off in (pool.shell.wall, weir.thickness, far)]
    if catch.outline is None:
        wanted = weir.band(weir.thickness, far)
    else:
        own = outline_ring(catch.outline, pool.tolerance, key)
        courses.append(Course.along(own))
        wanted = own.polygon
    left = shapely.difference(wanted, solid, grid_size=GRID)
    parts = [item for item in shapely.get_parts(polygons_only(left)) if item.area > STRAY]
    if not _lies_along(pool, weir, parts, catch, key):
        return None
    lost = wanted.area - left.area
    if catch.outline is None and lost > STRAY + 1e-3 * wanted.area:
        pool.findings.warn(
            key,
            "runs into the pool's walls and was clipped to them",
            f"{lost:.3f} m2 of {wanted.area:.3f} m2 cut away",
        )
    region: shapely.Polygon = parts[0]
    ring = ring_round(region, courses)
    if (corners := corners_in(catch.cove, catch.key)) is not None:
        ring = with_rounds(ring, traced(ring), corners, pool.tolerance)
    floor = catch.floor(_border(region))
    site = replace(
        pool,
        body=catch.water.name,
        ring=ring,
        floor=floor,
        level=catch.water.level,
        wall_top=catch.wall_top,
        wall=f"{catch.kind} wall",
    )
    holes = [shapely.get_coordinates(item) for item in region.interiors]
    return TroughPlan(site, shapely.Polygon(ring.points, holes), solid)


def _solid(pool: Site, weir: WeirPlan) -> shapely.Geometry:
    """Return the pool with its walls, where the weir stands as thick as that is."""
    off = weir.thickness - pool.shell.wall
    if off > GRID:
        return polygons_only(shapely.union(pool.outer, weir.region, grid_size=GRID))
    if off < -GRID:
        return shapely.difference(
            pool.outer, weir.band(weir.thickness, pool.shell.wall + WELD), grid_size=GRID
        )
    return pool.outer


def _lies_along(
    pool: Site, weir: WeirPlan, parts: list[shapely.Polygon], catch: Catch, key: Key
) -> bool:
    """Whether one piece of trough lies before the whole of the weir."""
    name = catch.water.name
    if not parts:
        pool.findings.error(
            key,
            "must lie beyond the pool and its walls",
            f"nothing of '{name}' does",
            "move it to the weir, outside the pool",
        )
        return False
    if len(parts) > 1:
        pool.findings.error(
            key,
            f"must leave '{name}' in one piece",
            f"the pool and its walls cut it into {len(parts)}",
            "make it narrower, or its stretch shorter",
        )
        return False
    face = shapely.LineString(weir.line(weir.thickness))
    border = shapely.buffer(shapely.boundary(parts[0]), 2.0 * WELD)
    bare = shapely.difference(face, border)
    if bare.length > LONGEST_GAP:
        place = shapely.line_interpolate_point(shapely.get_geometry(bare, 0), 0.0)
        pool.findings.error(
            key,
            f"must lie along the whole weir of '{name}'",
            f"{bare.length:.3f} of {face.length:.3f} m have none before them, near"
            f" ({place.x:.3f}, {place.y:.3f}) m",
            "make it longer, or the weir's stretch shorter",
        )
        return False
    return True


def _border(region: shapely.Geometry) -> Floats:
    return np.asarray(shapely.get_coordinates(region))


def _points(shape: shapely.Polygon) -> Floats:
    """Return the outer border of a polygon without the repeated point (k, 2)."""
    return np.asarray(shapely.get_coordinates(shape.exterior)[:-1])
