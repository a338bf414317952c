"""The cove of a body of water: at its walls, and at the feet of what stands on its floor."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..canal import Batter, Size
from ..cells import Cells
from ..cove import cove_cells
from ..keys import grid_keys, numbered
from ..layers import Layer
from ..rolled import CoveMisfitError, WallLine
from ..shapes import polygons_only
from ..slope import range_of
from ..tolerances import GRID
from .along import Along
from .cove_stretches import NO_COVE, Feet, FootRun
from .part import Block
from .site import Site
from .wall_lines import CROWD, band_of, joints_on, open_floor, wall_lines

LEAST_OFFER = 0.01
"""[m], or [-] of a batter: one smaller is not worth offering."""

OFFERED_IN = 0.001
"""[m], [-] The steps in which a finding says what fits."""


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
    if changes:
        runs = feet.runs(lines, site.tolerance)
        parts = [_Whole([item.line], item, form, item.closed) for item in runs]
    else:
        run = FootRun(lines[0], feet.size_of[0], feet.batter_of[0], closed=True)
        parts = [_Whole(lines, run, form, closed=True)]
    made = _lofted(site, parts, open_floor(ring, standing), standing, key)
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


@dataclass(frozen=True)
class _Whole:
    """What is lofted at once: all wall lines, or one course.

    Args:
        lines: The wall lines.
        run: What holds along them.
        form: ``cove`` or ``fillet``.
        closed: Whether the lines are closed.
    """

    lines: Sequence[WallLine]
    run: FootRun
    form: str
    closed: bool

    def cells(self, site: Site, shows: shapely.Geometry, share: float = 1.0) -> Cells:
        """Loft it, the ball a share as large; without a ball, leaning so much less."""
        size, batter = self.run.size.times(share), self.run.batter
        if not size.largest:
            batter = replace(batter, lean=share * batter.lean)
        return cove_cells(
            self.lines,
            site.floor,
            size,
            site.tolerance,
            closed=self.closed,
            straight=self.form == "fillet",
            batter=batter,
            touches=None if self.closed else shapely.boundary(shows),
            run_on=self.run.run_on,
        )


def _lofted(
    site: Site,
    parts: Sequence[_Whole],
    shows: shapely.Geometry,
    standing: Sequence[Block],
    key: Key,
) -> list[Cells]:
    """Loft each part; of those that do not fit leave a finding."""
    made = []
    for part in parts:
        try:
            cells = part.cells(site, shows)
            _check_height(site, cells, standing)
        except CoveMisfitError as error:
            _refuse(site, part, shows, key, error, standing)
        else:
            made.append(cells)
    return made


def _check_height(site: Site, cells: Cells, standing: Sequence[Block]) -> None:
    """The ball must touch the wall, and what stands, below its top.

    Raises:
        CoveMisfitError: It does not.
    """
    if cells.canal.batter.lean:  # it is looked after as it is lofted
        return
    walls = cells.vertices[np.unique(np.concatenate(cells.walls))]
    places = shapely.points(walls[:, :2])
    too_high = walls[:, 2] - site.wall_top
    names = np.full(len(walls), "the wall", dtype=object)
    for block in standing:
        on = np.flatnonzero(shapely.dwithin(block.region, places, CROWD))
        over = walls[on, 2] - block.tops(walls[on, :2])
        on, over = on[over > too_high[on]], over[over > too_high[on]]
        too_high[on], names[on] = over, f"'{block.name}'"
    highest = int(np.argmax(too_high))
    if too_high[highest] >= 0.0:
        reason = f"{names[highest]} is lower than it"
        raise CoveMisfitError(reason, walls[highest, :2])


def _refuse(
    site: Site,
    part: _Whole,
    shows: shapely.Geometry,
    key: Key,
    error: CoveMisfitError,
    standing: Sequence[Block],
) -> None:
    """Leave a finding that names the place and the largest radius that fits."""
    radius, lean = part.run.size.largest, part.run.batter.lean
    size = radius or lean

    def fits(this: float) -> bool:
        try:
            _check_height(site, part.cells(site, shows, this / size), standing)
        except CoveMisfitError:
            return False
        return True

    low, high = 0.0, size
    if fits(LEAST_OFFER):  # where not even this fits, there is no need to look further
        low = LEAST_OFFER
        while high - low > OFFERED_IN:
            middle = (low + high) / 2.0
            low, high = (middle, high) if fits(middle) else (low, middle)
    most = math.floor(low / OFFERED_IN + 1e-9) * OFFERED_IN
    unit = " m" if radius else ""
    remedy = f"use at most {most:.3f}{unit}" if most else "nothing fits there; change the plan"
    if radius and any(np.hypot(*(error.place - item.middle)) < item.arc.radius
                      for item in site.ring.rounds):  # fmt: skip
        remedy += ", or a larger radius of the corner coves ('corners')"
    site.findings.error(
        (*key, "radius") if radius else ("batter", "slope"),
        f"must fit the {site.body}: {error} near ({error.place[0]:.3f}, {error.place[1]:.3f}) m",
        f"{size:.3f}{unit}",
        remedy,
    )
