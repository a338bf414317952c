"""The lines of the partition: what can be seen from above, and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .cells import Cells
from .curves import Floats
from .cut import (
    cell_edges,
    cells_at_level,
    cut_cells,
    floor_at_level,
    lines_of,
    segments_of,
)
from .floor import Floor
from .layers import Layer
from .shapes import polygons_only
from .tolerances import GRID

Ints = np.ndarray

FOOT = 5e-5
"""[m] A break line that ends nearer than this to the foot of a seam ends in it."""


@dataclass(frozen=True)
class Linework:
    """Lines to node, and the cells that they cut.

    Args:
        lines: Any line geometries [m].
        web: (k, 2, 2) edges of the cut cells: they cross the lines, never each other [m].
        cut: For each layer of cells (by its number) the numbers of its cut cells.
    """

    lines: list[shapely.Geometry]
    web: Floats
    cut: dict[int, Ints]


def linework(
    layers: Sequence[Layer],
    extra: Floats,
    waters: Sequence[tuple[str, float]],
) -> Linework:
    """Collect the lines of a partition.

    Args:
        layers: In painting order.
        extra: (k, 2, 2) further segments that must be lines [m].
        waters: Each body's name and water level [m]: its floor and coves are split there.

    Returns:
        Lines, web, and cut cells.
    """
    covers = _covers(layers)
    feet = shapely.MultiPoint(np.concatenate([np.zeros((0, 2)), *(
        item.height.vertices[ids, :2] for item in layers
        if isinstance(item.height, Cells) for ids in item.height.floors)]))  # fmt: skip
    lines: list[shapely.Geometry] = []
    borders: list[Floats] = []
    for layer, cover in zip(layers, covers, strict=True):
        own = []
        if isinstance(layer.height, Cells):
            chains = [layer.height.vertices[ids, :2] for ids in _chains(layer.height)]
            lines_here: shapely.Geometry = shapely.MultiLineString(chains)
            if layer.over == "floor":  # a cove on a tread ends with the tread
                lines_here = shapely.intersection(lines_here, layer.region, grid_size=GRID)
            own.append(lines_here)
        else:
            own.append(shapely.boundary(layer.region))
        if isinstance(layer.height, Floor) and len(layer.height.breaks):
            own.append(_breaks(layer.height, layer.region))
        seen = [_outside(item, cover) for item in own]
        if len(seen) > 1:
            coved = shapely.union_all([item.region for item in layers
                                       if isinstance(item.height, Cells)])  # fmt: skip
            coved = _grown(coved, 2.0 * GRID)
            seen[1] = _ending_on(shapely.difference(seen[1], coved), feet)
        lines += seen
        borders.append(segments_of(seen[0]))
    contours: dict[int, list[Ints]] = {}
    knives = [extra, *_contours(layers, waters, contours)]
    if len(extra):
        lines.append(lines_of(extra))
    lines += [lines_of(item) for item in knives[1:] if len(item)]
    cut = {
        number: _cut_of(number, layer.height, covers[number], borders, knives, contours)
        for number, layer in enumerate(layers)
        if isinstance(layer.height, Cells)
    }
    web = [np.zeros((0, 2, 2))]
    for number, found in cut.items():
        cove = layers[number].height
        if isinstance(cove, Cells) and len(found):
            edges = lines_of(cell_edges(cove, found))
            if layers[number].over == "floor":
                edges = shapely.intersection(edges, layers[number].region, grid_size=GRID)
            web.append(segments_of(_outside(edges, covers[number])))
    return Linework(lines, np.concatenate(web), cut)


def _cut_of(
    number: int,
    cells: Cells,
    cover: shapely.Geometry | None,
    borders: Sequence[Floats],
    knives: Sequence[Floats],
    contours: dict[int, list[Ints]],
) -> Ints:
    """Return the cells of one cove that anything but its own lines cuts, if they show."""
    walls = shapely.MultiLineString([cells.vertices[ids, :2] for ids in cells.walls])
    shapely.prepare(walls)
    others = np.concatenate([*borders[:number], *borders[number + 1 :]])
    middles = shapely.points(others.mean(axis=1))
    others = others[~shapely.dwithin(walls, middles, 2.0 * GRID)]
    found = cut_cells(cells, np.concatenate([others, *knives]))
    found = np.concatenate([found, *contours.get(number, [])]).astype(np.int64)
    return np.unique(_seen_cells(cells, found, cover))


def _seen_cells(cells: Cells, numbers: Ints, cover: shapely.Geometry | None) -> Ints:
    """Leave out the cells that something hides wholly."""
    if cover is None or not len(numbers):
        return numbers
    shapely.prepare(cover)
    shapes = shapely.polygons(cells.vertices[cells.triangles[numbers], :2])
    seen: Ints = numbers[~shapely.contains(cover, shapes)]
    return seen


def _chains(cells: Cells) -> list[Ints]:
    return [ids for ids in (*cells.walls, *cells.floors) if len(ids) > 1]


def _outside(lines: shapely.Geometry, cover: shapely.Geometry | None) -> shapely.Geometry:
    return lines if cover is None else shapely.difference(lines, cover)


def _ending_on(lines: shapely.Geometry, feet: shapely.MultiPoint) -> shapely.Geometry:
    """End break lines in the very vertices in which the seams of the cove end."""
    segments = segments_of(lines)
    if not len(segments) or feet.is_empty:
        return lines
    ends = segments.reshape(-1, 2)
    goals = shapely.get_coordinates(feet)
    at, near = shapely.STRtree(shapely.points(goals)).query_nearest(
        shapely.points(ends), max_distance=FOOT, all_matches=False
    )
    ends[at] = goals[near]
    return lines_of(ends.reshape(-1, 2, 2))


def _breaks(floor: Floor, region: shapely.Geometry) -> shapely.Geometry:
    bounds = np.array(region.bounds)
    reach = float(np.abs(bounds).max() + np.abs(floor.origin).max()) * 2.0 + 1.0
    reach += float(np.abs(floor.breaks).max())
    lines = shapely.MultiLineString(list(floor.lines(floor.breaks, reach)))
    return shapely.intersection(lines, region)


def _covers(layers: Sequence[Layer]) -> list[shapely.Geometry | None]:
    """Find what later layers hide of each layer.

    A level layer is hidden by every later one. Floors and coves are hidden by what replaces them,
    and by concrete that stands above them everywhere.

    Returns:
        A region for each layer, None where nothing is hidden.
    """
    coves = [item.height.vertices[:, 2].max() for item in layers if isinstance(item.height, Cells)]
    floors = [item.height for item in layers if isinstance(item.height, Floor)]
    nothing: shapely.Geometry = shapely.Polygon()
    over_ground, over_level = nothing, nothing
    found: list[shapely.Geometry | None] = []
    for layer in reversed(layers):
        cover = over_level if isinstance(layer.height, float) else over_ground
        # a hair smaller, so that lines along its border stay and lines that end on it cross it
        hidden = None
        if not cover.is_empty:
            hidden = _grown(cover, -2.0 * GRID)
        found.append(hidden)
        over_level = _joined(over_level, layer.region)
        if layer.over == "all" or _stands_clear(layer, coves, floors):
            over_ground = _joined(over_ground, layer.region)
    return found[::-1]


def _grown(region: shapely.Geometry, by: float) -> shapely.Geometry:
    with np.errstate(divide="ignore", invalid="ignore"):  # GEOS meets short segments
        grown: shapely.Geometry = shapely.buffer(region, by, quad_segs=1, join_style="mitre")
    return grown


def _joined(one: shapely.Geometry, other: shapely.Geometry) -> shapely.Geometry:
    try:
        return polygons_only(shapely.union(one, other))
    except shapely.GEOSException:  # borders that nearly coincide: slower, on the grid
        return polygons_only(shapely.union(one, other, grid_size=GRID))


def _stands_clear(layer: Layer, coves: Sequence[float], floors: Sequence[Floor]) -> bool:
    """Tell whether a level layer lies above all coves, and above the floors at its corners."""
    corners = shapely.get_coordinates(layer.region)
    highest = max([*coves, *(float(floor.height(corners).max()) for floor in floors)])
    return bool(layer.level > highest)


def _contours(
    layers: Sequence[Layer], waters: Sequence[tuple[str, float]], cut: dict[int, list[Ints]]
) -> list[Floats]:
    """Return the segments in which grounds pass a level that something makes of them.

    Floors and coves meet the levels of the concrete that stands on them, and the water's.
    """
    standing = [
        (number, layer.height, layer)
        for number, layer in enumerate(layers)
        if layer.over == "floor" and isinstance(layer.height, float)
    ]
    wetted = [
        (len(layers), level, layer)
        for body, level in waters
        for layer in layers
        if layer.body == body and not isinstance(layer.height, float)
    ]
    return [
        segments
        for before, z, maker in (*standing, *wetted)
        for number, ground in enumerate(layers[:before])
        if ground.body == maker.body
        for segments in _contour(ground, z, maker.region, cut.setdefault(number, []))
    ]


def _contour(ground: Layer, z: float, region: shapely.Geometry, cut: list[Ints]) -> list[Floats]:
    """Return where one ground passes a height in a region; note the cells that do."""
    if isinstance(ground.height, Floor):
        return [floor_at_level(ground.height, z, region)]
    if not isinstance(ground.height, Cells):
        return []
    passing, lines = cells_at_level(ground.height, z)
    if not len(passing):
        return []
    shapely.prepare(region)
    near = shapely.intersects(region, shapely.linestrings(lines))
    if not near.any():
        return []
    cut.append(passing[near])
    return [segments_of(shapely.intersection(lines_of(lines[near]), region))]
