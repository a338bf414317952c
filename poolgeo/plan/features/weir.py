"""Weirs as the pool file has them: where they stand, how thick and how high they are."""

from __future__ import annotations

import math

import shapely

from ...design import schema
from ...errors import Key
from ..ring import Ring
from ..shapes import polygons_only
from ..stretch import SHORTEST, Stretch, band
from ..tolerances import GRID
from .leaning import hips_of, lean_of
from .notches import line_within
from .on_outline import stretch_on
from .part import Notch
from .site import Site
from .weir_plan import NOTHING, WeirPlan


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
    thickness = _thickness(site, weir, stretch, key)
    crest, lean = site.level + weir.crest, lean_of(site, batter, stretch, key)
    inwards = max(-weir.fall, 0.0)
    foot = lean * (site.wall_top - crest + inwards * thickness) / (1.0 - lean * inwards)
    rise = abs(weir.fall) * (thickness + foot)
    inner, face = (crest, crest - rise) if weir.fall >= 0.0 else (crest - rise, crest)
    hips = hips_of(site, batter, stretch, lean, site.wall_top - inner)
    plan = WeirPlan(stretch, thickness, inner, face, foot, _filled_by(site.ring, stretch), hips)
    if weir.fall and (place := plan.fold(thickness)) is not None:
        x, y = place
        site.findings.error(
            (*key, "fall"),
            f"must be 0 where the outline turns more tightly than the weir is thick: it does near"
            f" ({x:.3f}, {y:.3f}) m",
            f"a weir {thickness:.3f} m thick",
            "leave it out, or let the weir end before that corner",
        )
        return None
    wall_top = site.own_wall.lowest_along(line_within(stretch))
    if plan.crest >= wall_top:
        site.findings.error(
            (*key, "crest"),
            "must lie below the top of the pool's wall",
            f"{weir.crest:.3f} m above the water; the wall goes up {wall_top - site.level:.3f} m",
            "lower the crest, or raise the wall there",
        )
    points = stretch.baseline()[0]
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


def _thickness(site: Site, weir: schema.Weir, stretch: Stretch, key: Key) -> float:
    """Return the thickness of a weir [m]: its own, or else that of the wall that it stands in."""
    if weir.thickness is not None:
        return weir.thickness
    found = site.own_wall.thicknesses(stretch)
    if len(set(found)) > 1:
        site.findings.error(
            (*key, "thickness"),
            "must be given where the thickness of the wall changes along the weir",
            f"the wall is from {min(found):.3f} m to {max(found):.3f} m thick there",
            "give it, or let the weir end where the wall changes",
        )
    return found[0]


def weir_notch(plan: WeirPlan, key: Key) -> Notch:
    """Return what a weir cuts out of the pool's wall."""
    return Notch(line_within(plan.stretch), plan.inner, (*key, "crest"))


def _filled_by(ring: Ring, stretch: Stretch) -> shapely.Geometry:
    """Return what the corner coves of a ring fill along a stretch of the bare one."""
    if not ring.rounds:
        return NOTHING
    filled = shapely.difference(ring.bare.polygon, ring.polygon, grid_size=GRID)
    if stretch.start is None:
        return polygons_only(filled)
    deepest = max(item.arc.radius * math.tan(abs(item.arc.sweep) / 2.0) for item in ring.rounds)
    along = band(stretch, deepest)
    return polygons_only(shapely.intersection(filled, along, grid_size=GRID))
