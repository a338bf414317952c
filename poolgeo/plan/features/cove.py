"""The cove of a body of water: at its walls, and at the feet of what stands on its floor."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..canal import Batter, Size
from ..keys import grid_keys, numbered
from ..layers import Layer
from ..shapes import polygons_only
from ..slope import range_of
from ..tolerances import GRID
from .along import Along
from .cove_fit import CoveFit
from .cove_stretches import NO_COVE, Feet, FootRun
from .part import Block
from .site import Site
from .wall_lines import band_of, joints_on, open_floor, wall_lines


def takes_feet(pool: schema.Pool) -> bool:
    """Whether the pool's cove also runs along the feet of what stands on its floor."""
    return pool.cove is not None and bool(pool.cove.also_at)


def cove_layers(
    site: Site,
    cove: schema.Cove | None,
    standing: Sequence[Block],
    key: Key,
    batter: schema.Batter | None = None,
) -> list[Layer]:
    """Return the layers at the feet of the walls: the cove on the floor, and walls that lean.

    Args:
        site: The body of water.
        cove: From the pool file.
        standing: What takes the cove at its foot.
        key: The cove's key, or that of the batter where there is none.
        batter: From the pool file.
    """
    feet = _feet_of(site, cove, key, batter)
    if feet.are_sharp:
        return []
    form = cove.form if cove is not None else "cove"
    changes = feet.changes or bool(batter and standing)
    ring = feet.ring() if changes else site.ring
    lines = wall_lines(ring, standing)
    if not lines:
        site.findings.warn(key, "shows nowhere: what stands on the floor covers it wholly")
        return []
    runs = [FootRun(lines, feet.size_of[0], feet.batter_of[0], closed=True)]
    if changes:
        runs = feet.runs(lines, site.tolerance)
    fit = CoveFit(site, standing, open_floor(ring, standing), form, key)
    made = [cells for run in runs if (cells := fit.lofted(run)) is not None]
    if not changes:
        plan = site.ring.polygon
        return [Layer(site.body, form, form, key, plan, cells, face=form) for cells in made]
    joints = np.concatenate([joints_on(ring, cells) for cells in made] or [np.zeros((0, 2))])
    ring = ring.with_points(joints[numbered(grid_keys(joints))[0]])
    shows = open_floor(ring, standing)
    return [
        Layer(
            site.body,
            form,
            f"{form} part {k + 1}",
            key,
            polygons_only(shapely.intersection(band_of(cells), shows, grid_size=GRID)),
            cells,
            "floor",
            form if cells.canal.radius else "wall",
        )
        for k, cells in enumerate(made)
    ]


def size_of(site: Site, cove: schema.Cove) -> Size:
    """Return the radius of a cove's ball, which may grow with the depth."""
    if cove.deepens is None:
        return Size(cove.radius)
    depths = site.level - cove.deepens.start, site.level - cove.deepens.end
    return Size(cove.radius, cove.deepens.radius, depths)


def _feet_of(site: Site, cove: schema.Cove | None, key: Key, batter: schema.Batter | None) -> Feet:
    """Return what stands at the feet of the walls."""
    sizes, leans = [NO_COVE], [Batter()]
    if cove is not None:
        sizes = [size_of(site, cove), *(Size(item.radius) for item in cove.stretches)]
    if batter is not None:
        every = [batter.slope, *(item.slope for item in batter.stretches)]
        leans = [Batter(item, site.wall_top) for item in every]
    return Feet(
        Along.of(site, cove.stretches if cove is not None else (), key),
        Along.of(site, batter.stretches if batter is not None else (), ("batter",)),
        tuple(sizes),
        tuple(leans),
        range_of(site.floor, site.ring.polygon)[0] if batter is not None else 0.0,
    )
