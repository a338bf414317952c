"""The coves of a flight: at the feet of the risers that stand on its treads."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..canal import Size
from ..cells import Cells
from ..cove import cove_cells
from ..floor import level_floor
from ..layers import Layer
from ..rolled import CoveMisfitError
from ..shapes import polygons_only
from ..tolerances import GRID
from .cove import size_of
from .foot_room import Roomy, roomy_parts
from .part import Part
from .site import Site
from .tread_lines import SAME_LINE, feet_on, nosing_of
from .wall_lines import band_of

LEAST_SHARP = 1e-3
"""[m] Less of a riser's foot without a cove is not worth a warning."""

REMEDY = "use a smaller radius, or take 'risers' out of 'also_at'"


def foot_coves(site: Site, cove: schema.Cove, standing: Sequence[Part], key: Key) -> Part:
    """Return the coves on treads, at the feet of the risers that stand on them.

    Args:
        site: The body of water.
        cove: From the pool file.
        standing: What stands on its floor.
        key: The cove's key.
    """
    if "risers" not in cove.also_at:
        return Part()
    size = size_of(site, cove)
    walls = shapely.buffer(site.ring.polygon.exterior, SAME_LINE, quad_segs=1)
    flights = [item.layers for item in standing if any(b.foot == "risers" for b in item.blocks)]
    layers: list[Layer] = []
    for treads in flights:
        for deeper, higher in pairwise(treads):
            radius = float(size.at(np.array(deeper.level)))
            made = _on_tread(site, (cove.form, radius), deeper, higher, walls, key)
            if made is None:
                break  # refused
            layers += made
    return Part(tuple(layers))


def _on_tread(
    site: Site,
    like: tuple[str, float],
    deeper: Layer,
    higher: Layer,
    walls: shapely.Geometry,
    key: Key,
) -> list[Layer] | None:
    """Return the coves on one tread; None where a finding has been left.

    Args:
        site: The body of water.
        like: Form and radius [m] of the cove.
        deeper: The tread.
        higher: The one that stands on it.
        walls: What lies at the walls.
        key: The cove's key.
    """
    form, radius = like
    rise = higher.level - deeper.level
    region = polygons_only(shapely.difference(deeper.region, higher.region, grid_size=GRID))
    feet = feet_on(deeper, higher, region, radius)
    nosing = nosing_of(deeper, higher, walls, feet)
    parts = [part for foot in feet for part in roomy_parts(foot, nosing, radius)]
    if rise < radius or (feet and not parts):
        corners = shapely.points(shapely.get_coordinates(region))
        room = shapely.distance(higher.region, corners).max(initial=0.0)
        site.findings.error(
            (*key, "radius"),
            f"must fit the foot of the riser on '{deeper.feature}'",
            f"{radius:.3f} m; the riser is {rise:.3f} m high, the tread {room:.3f} m deep at most",
            REMEDY,
        )
        return None
    sharp = sum(item.length for item in feet) - sum(item.line.length for item in parts)
    if sharp >= LEAST_SHARP:
        _warn(site, deeper, sharp, parts, key)
    if (lofted := _lofted(site, parts, deeper, like, key)) is None:
        return None
    return [
        Layer(
            site.body,
            form,
            f"{form} on {deeper.feature}",
            key,
            polygons_only(shapely.intersection(band_of(cells), region, grid_size=GRID)),
            cells,
            "floor",
            "riser" if deeper.flanks is None else "step side",
            flight=deeper.flight,
        )
        for cells in lofted
    ]


def _warn(site: Site, tread: Layer, sharp: float, parts: Sequence[Roomy], key: Key) -> None:
    """Warn of feet on a tread that stay sharp over a length [m]."""
    x, y = np.concatenate([item.cut_ends for item in parts])[0]
    site.findings.warn(
        (*key, "radius"),
        f"ends where '{tread.feature}' is narrower than it, near ({x:.3f}, {y:.3f}) m",
        f"{sharp:.3f} m of the riser's foot stay sharp",
        "use a smaller radius, or a deeper tread",
    )


def _lofted(
    site: Site, parts: Sequence[Roomy], tread: Layer, like: tuple[str, float], key: Key
) -> list[Cells] | None:
    """Loft the cove along parts of feet on a tread; None where it does not fit."""
    form, radius = like
    try:
        return [
            cove_cells(
                [part.wall_line(radius, has_sides=tread.flanks is not None)],
                level_floor(tread.level),
                Size(radius),
                site.tolerance,
                closed=part.line.is_closed,
                straight=form == "fillet",
            )
            for part in parts
        ]
    except CoveMisfitError as error:
        site.findings.error(
            (*key, "radius"),
            f"must fit the risers on '{tread.feature}': {error}",
            f"{radius:.3f} m",
            REMEDY,
        )
        return None
