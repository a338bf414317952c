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
from ..curves import Floats
from ..keys import are_in, grid_keys, numbered
from ..layers import Layer
from ..ring import Ring
from ..rolled import CoveMisfitError, WallLine
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .cove_stretches import NO_COVE, Along, Course, Feet
from .part import Block
from .site import Site

CROWD = 1e-4
"""[m] Points of a wall line nearer than this to each other are one: where a block stands at a wall,
rounding leaves crumbs."""

SAME_LINE = 3.0 * WELD
"""[m] A riser's border that runs nearer than this to its tread's is a flank of both: rounding has
moved them apart."""


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
    form = cove.form if cove is not None else "cove"
    feet = _feet_of(site, cove, key, batter)
    if feet.are_sharp:
        return []
    changes = feet.changes or bool(batter and standing)
    ring = feet.ring() if changes else site.ring
    open_floor = _open_floor(ring, standing)
    lines = _wall_lines(replace(site, ring=ring), standing)
    if not lines:
        site.findings.warn(key, "shows nowhere: what stands on the floor covers it wholly")
        return []
    parts = [_Whole(lines, Course(lines[0], feet.size_of[0], feet.batter_of[0]), form, closed=True)]
    if changes:
        found = feet.courses(lines, site.tolerance)
        parts = [_Whole([item.line], item, form, item.closed) for item in found]
    made = []
    for part in parts:
        try:
            cells = part.cells(site, open_floor)
            _check_height(site, cells, standing)
        except CoveMisfitError as error:
            _refuse(site, part, open_floor, key, error, standing)
        else:
            made.append(cells)
    if not changes:
        return [
            Layer(site.body, form, form, key, site.ring.polygon, cells, face=form) for cells in made
        ]
    joints = np.concatenate([joints_on(ring, cells) for cells in made] or [np.zeros((0, 2))])
    ring = ring.with_points(joints[numbered(grid_keys(joints))[0]])
    open_floor = _open_floor(ring, standing)
    return [
        Layer(
            site.body,
            form,
            f"{form} part {k + 1}",
            key,
            polygons_only(shapely.intersection(band_of(cells), open_floor, grid_size=GRID)),
            cells,
            "floor",
            form if cells.canal.radius else "wall",
        )
        for k, cells in enumerate(made)
    ]


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
    )


def _open_floor(ring: Ring, standing: Sequence[Block]) -> shapely.Geometry:
    """Return what the blocks that take the cove leave of the plan."""
    if not standing:
        return ring.polygon
    return shapely.difference(
        ring.polygon, shapely.union_all([item.region for item in standing]), grid_size=WELD
    )


@dataclass(frozen=True)
class _Whole:
    """What is lofted at once: all wall lines, or one course.

    Args:
        lines: The wall lines.
        course: What holds along them.
        form: ``cove`` or ``fillet``.
        closed: Whether the lines are closed.
    """

    lines: Sequence[WallLine]
    course: Course
    form: str
    closed: bool

    def cells(self, site: Site, open_floor: shapely.Geometry, share: float = 1.0) -> Cells:
        """Loft it, the ball a share as large; without a ball, leaning so much less."""
        size, batter = self.course.size.times(share), self.course.batter
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
            touches=None if self.closed else shapely.boundary(open_floor),
            run_on=self.course.run_on,
        )


def size_of(site: Site, cove: schema.Cove) -> Size:
    """Return the radius of a cove's ball, which may grow with the depth."""
    if cove.deepens is None:
        return Size(cove.radius)
    depths = site.level - cove.deepens.start, site.level - cove.deepens.end
    return Size(cove.radius, cove.deepens.radius, depths)


def joints_on(ring: Ring, cove: Cells) -> Floats:
    """Return the points (k, 2) of a cove along its walls that an outline's chords pass by [m]."""
    points = cove.vertices[np.unique(np.concatenate(cove.walls)), :2]
    points = points[~are_in(grid_keys(points), grid_keys(ring.points))]
    return points[ring.beside_chords(points, WELD / 2.0)]


def _wall_lines(site: Site, standing: Sequence[Block]) -> list[WallLine]:
    """The rings of the open floor; vertices of outlines bring their true normals along."""
    islands = [item.ring for item in standing if item.ring is not None]
    rings = [(site.ring.points, site.ring.normals)]
    rings += [(item.points[::-1], -item.normals[::-1]) for item in islands]
    if len(islands) == len(standing):
        return [WallLine(*item) for item in rings]
    own_points, own_normals = (np.concatenate(item) for item in zip(*rings, strict=True))
    tree = shapely.STRtree(shapely.points(own_points))
    taken = shapely.union_all([item.region for item in standing])
    open_floor = shapely.difference(site.ring.polygon, taken, grid_size=WELD)
    lines = []
    for part in shapely.get_parts(shapely.orient_polygons(open_floor)):
        if part.area < 1e-4:
            continue
        for line in shapely.get_rings(part):
            points = shapely.get_coordinates(line)[:-1]
            normals = np.full_like(points, np.nan)
            at, own = tree.query_nearest(
                shapely.points(points), max_distance=2.0 * WELD, all_matches=False
            )
            points[at], normals[at] = own_points[own], own_normals[own]
            is_own = np.zeros(len(points), dtype=bool)
            is_own[at] = True
            kept = _uncrowded(points, is_own)
            lines.append(WallLine(points[kept], normals[kept]))
    return lines


def _uncrowded(points: Floats, first: np.ndarray) -> np.ndarray:
    """Leave out points of a closed line that stand nearer than `CROWD` to the next one.

    Args:
        points: (n, 2) [m].
        first: (n,) points that are rather kept.

    Returns:
        (n,) whether to keep each.
    """
    kept = np.ones(len(points), dtype=bool)
    steps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    for i in np.flatnonzero(steps < CROWD).tolist():
        j = (i + 1) % len(points)
        kept[i if first[j] and not first[i] else j] = False
    return kept


def band_of(cells: Cells) -> shapely.Geometry:
    """The plan region under the cove of one line."""
    wall, floor = (cells.vertices[item[0], :2] for item in (cells.walls, cells.floors))
    if not len(cells.sections):
        return shapely.symmetric_difference(shapely.Polygon(wall), shapely.Polygon(floor))
    first, last = (cells.vertices[item, :2] for item in cells.sections)  # floor to wall, and back
    around = shapely.Polygon(np.vstack([wall, last[1:], floor[-2::-1], first[1:-1]]))
    return around if around.is_valid else shapely.make_valid(around)


def _check_height(site: Site, cells: Cells, standing: Sequence[Block]) -> None:
    """The ball must touch the wall, and what stands, below its top.

    Raises:
        CoveMisfitError: It does not.
    """
    walls = cells.vertices[np.unique(np.concatenate(cells.walls))]
    places = shapely.points(walls[:, :2])
    too_high = walls[:, 2] - site.wall_top
    if cells.canal.batter.lean:  # it is looked after as it is lofted
        return
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
    open_floor: shapely.Geometry,
    key: Key,
    error: CoveMisfitError,
    standing: Sequence[Block],
) -> None:
    """Leave a finding that names the place and the largest radius that fits."""
    low, high = 0.0, 1.0
    for _ in range(12):
        middle = (low + high) / 2.0
        try:
            _check_height(site, part.cells(site, open_floor, middle), standing)
            low = middle
        except CoveMisfitError:
            high = middle
    radius, lean = part.course.size.largest, part.course.batter.lean
    fits = math.floor(low * (radius or lean) * 1000.0) / 1000.0
    unit = " m" if radius else ""
    site.findings.error(
        (*key, "radius") if radius else ("batter", "slope"),
        f"must fit the {site.body}: {error} near ({error.place[0]:.3f}, {error.place[1]:.3f}) m",
        f"{radius or lean:.3f}{unit}",
        f"use at most {fits:.3f}{unit}" if fits > 0.0 else "nothing fits there; change the plan",
    )
