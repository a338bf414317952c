"""The lines of the plan map, each with what it says about the plan on either side of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .cells import Cells
from .contours import contours
from .floor import Floor
from .keys import grid_keys, numbered, pair_keys
from .knives import AT_WALL, cut_and_shown, steps_of
from .layers import Gap, Layer, Underside
from .levels import Levels
from .meets import meets
from .noding import Segments
from .shapes import borders_of, polygons_only, rings_of, segments_of
from .slope import Slope
from .tolerances import GRID, WELD

FOOT = 5e-5
"""[m] A break line that ends nearer than this to the foot of a seam ends in it."""

TOP, UNDER, BETWEEN = 1, 2, 4
"""Sides of the concrete, and the ground between two pieces of it: lines of one do not meet those of
the others. A line of several is a line of none, but makes all of them share its vertices."""

AT_WALL_LINE, AT_FLOOR_LINE = 1, 2
"""Where a cove runs along a line: at its wall, or on its floor."""

NO_CELL, WHOLE = -2, -1
"""Beside a cell's edge: beyond the cove, or some whole cell."""


@dataclass(frozen=True)
class Linework:
    """Lines to node, and what each of them stands for.

    Args:
        segments: The lines; vertices of coves come first.
        border: (m,) the layer (or, under the concrete, the underside) whose region ends on it, -1
            for none.
        owner: (m,) the layer of which it is a cell's edge, -1 for none.
        contact: (m,) where a cove runs along it: `AT_WALL_LINE`, `AT_FLOOR_LINE`, or 0.
        cells: (m, 2) the cell on its left and on its right: a number, `WHOLE` or `NO_CELL`.
        contour: (m,) the layer that has a known height along it (or, under the concrete, the first
            underside with the floor that has it), -1 for none.
        heights: (m, 2) that height at its ends [m].
        sloping: (m,) the sloping top that has the height of that layer along it, -1 for none.
        cut: For each layer of cells (by its number) the numbers of its cut cells.
        number: For each layer of cells the vertex number of each of its vertices, -1 for those
            that are on no line.
    """

    segments: Segments
    border: Ints
    owner: Ints
    contact: Ints
    cells: Ints
    contour: Ints
    heights: Floats
    sloping: Ints
    cut: Mapping[int, Ints]
    number: Mapping[int, Ints]


def linework(
    layers: Sequence[Layer],
    undersides: Sequence[Underside],
    levels: Sequence[Levels],
    gaps: Sequence[Gap] = (),
) -> Linework:
    """Collect the lines of a plan map.

    Args:
        layers: In painting order.
        undersides: The same under the concrete.
        levels: Where the floor and the coves of each body of water are split.
        gaps: Ground between pieces of the concrete.

    Returns:
        The lines.
    """
    coves = {n: item.height for n, item in enumerate(layers) if isinstance(item.height, Cells)}
    found = _Collected()
    borders = _borders(layers)
    bends: dict[int, Floats] = {}
    for n, layer in enumerate(layers):
        found.add(borders[n], TOP, border=n)
        if isinstance(layer.height, Floor) and not layer.height.is_plane:
            found.add(_breaks(layer.height, layer, layers[n + 1 :]), TOP)
        elif isinstance(layer.height, Slope):
            # the facets of an arris are all of it
            whole = segments_of(shapely.boundary(layer.height.facets)) if layer.on else None
            bends[n] = layer.height.lines(layer.region) if whole is None else whole
            found.add(bends[n], TOP)
    lines = [*contours(layers, levels), *meets(layers)]
    for line in lines:
        found.add(
            line.segments, TOP, contour=line.layer, heights=line.heights, sloping=line.sloping
        )
    _add_undersides(found, undersides, gaps)
    knives = [*borders, *bends.values()]
    cut = {n: cut_and_shown(n, item, layers, knives, lines) for n, item in coves.items()}
    return found.finish(coves, cut)


def _add_undersides(
    found: _Collected, undersides: Sequence[Underside], gaps: Sequence[Gap]
) -> None:
    """Add the lines of the underside of the concrete, and of the ground between pieces of it."""
    regions = [item.region for item in undersides]
    # what both sides end at: a vertex of one that lies on it is a vertex of the other
    outer = shapely.union_all(regions, grid_size=GRID)
    found.add(segments_of(shapely.boundary(outer)), TOP | UNDER)
    for n, border in enumerate(borders_of(regions)):
        found.add(border, UNDER, border=n)
        found.add(undersides[n].lines(), UNDER)
        for floor, height, lines in undersides[n].levelled():
            whose = next((k for k, item in enumerate(undersides) if item.floor is floor), -1)
            side = UNDER if floor is undersides[n].floor else TOP | UNDER
            heights = np.full((len(lines), 2), height)
            found.add(lines, side, contour=whose, heights=heights)
        if undersides[n].kind == "beam underside":  # its ends stand beside those of the wall's top
            found.add(border, TOP | UNDER)
    for n, border in enumerate(borders_of([item.region for item in gaps]) if gaps else ()):
        found.add(border, BETWEEN, border=n)
        found.add(border, TOP | UNDER | BETWEEN)  # where it is open, it is theirs too
        found.add(gaps[n].lines(), BETWEEN)


class _Collected:
    """Lines by their coordinates, as they come up."""

    def __init__(self) -> None:
        self.lines: list[Floats] = []
        self.heights: list[Floats] = []
        self.facts: list[tuple[int, int, int, int]] = []

    def add(
        self,
        lines: Floats,
        side: int,
        *,
        border: int = -1,
        contour: int = -1,
        sloping: int = -1,
        heights: Floats | None = None,
    ) -> None:
        """Add segments (k, 2, 2) [m]."""
        self.lines.append(lines)
        self.heights.append(np.zeros((len(lines), 2)) if heights is None else heights)
        self.facts.append((side, border, contour, sloping))

    def finish(self, coves: Mapping[int, Cells], cut: Mapping[int, Ints]) -> Linework:
        """Number the vertices, and add the cells' edges."""
        tables = {n: _cell_edges(item, cut[n]) for n, item in coves.items()}
        used = {n: np.unique(table[0]) for n, table in tables.items()}
        places = [coves[n].vertices[ids, :2] for n, ids in used.items()]
        own = sum(len(item) for item in places)
        lines = np.concatenate([*self.lines, np.zeros((0, 2, 2))])
        xy = np.concatenate([*places, lines.reshape(-1, 2)])
        first, inverse = numbered(grid_keys(xy))
        order = np.argsort(first)
        rank = np.empty(len(order), dtype=np.int64)
        rank[order] = np.arange(len(order))
        number, vertices = rank[inverse], xy[first[order]]
        reach = np.full(len(vertices), WELD)
        vertex_sheet = np.full(len(vertices), -1)
        numbers: dict[int, Ints] = {}
        ends, cells, layer, sheet = [number[own:].reshape(-1, 2)], [], [], []
        attracts, contact = [np.full(len(lines), WELD)], [np.zeros(len(lines), dtype=np.int64)]
        begin = 0
        for k, (n, ids) in enumerate(used.items()):
            numbers[n] = np.full(len(coves[n].vertices), -1)
            numbers[n][ids] = number[begin : begin + len(ids)]
            begin += len(ids)
            vertex_sheet[numbers[n][ids]] = k
            reach[numbers[n][np.concatenate(coves[n].walls)]] = AT_WALL
            pairs, beside, along = tables[n]
            contact.append(along)
            ends.append(numbers[n][pairs])
            attracts.append(np.where(along == AT_WALL_LINE, AT_WALL, WELD))
            cells.append(beside)
            layer.append(np.full(len(pairs), n))
            sheet.append(np.full(len(pairs), k))
        counts = [len(item) for item in self.lines]
        more = len(np.concatenate([*sheet, np.zeros(0)]))
        facts = np.repeat(np.array(self.facts), counts, axis=0)
        side, border, contour, sloping = facts.T
        drawn = np.zeros(len(vertices), dtype=bool)
        drawn[ends[0][border >= 0]] = True
        none = np.full(more, -1)
        return Linework(
            Segments(
                vertices,
                np.concatenate(ends),
                reach,
                drawn,
                np.concatenate(attracts),
                np.concatenate([np.full(len(lines), -1), *sheet]),
                vertex_sheet,
                np.concatenate([side, np.full(more, TOP)]),
            ),
            np.concatenate([border, none]),
            np.concatenate([np.full(len(lines), -1), *layer]),
            np.concatenate(contact),
            np.concatenate([np.full((len(lines), 2), NO_CELL), *cells]),
            np.concatenate([contour, none]),
            np.concatenate([*self.heights, np.zeros((more, 2))]),
            np.concatenate([sloping, none]),
            cut,
            numbers,
        )


def _cell_edges(cells: Cells, cut: Ints) -> tuple[Ints, Ints, Ints]:
    """Edges of a cove's cut cells, and those on its rim.

    Returns:
        Vertices of each (k, 2), lower first, the cell on its left and right (k, 2), and whether it
        runs along a wall or the floor (k,): `AT_WALL_LINE`, `AT_FLOOR_LINE`, or 0.
    """
    count = len(cells.vertices)
    walls = np.concatenate([np.column_stack([a[:-1], a[1:]]) for a in cells.walls])
    floors = np.concatenate([np.column_stack([a[1:], a[:-1]]) for a in cells.floors])
    rim = np.concatenate(
        [walls, floors, *(np.column_stack([a[:-1], a[1:]]) for a in cells.sections)]
    )
    corners = cells.triangles[cut]
    start = np.concatenate([rim[:, 0], corners.ravel()])
    stop = np.concatenate([rim[:, 1], corners[:, [1, 2, 0]].ravel()])
    cell = np.concatenate([np.full(len(rim), WHOLE), np.repeat(cut, 3)])
    first, inverse = numbered(key := pair_keys(start, stop, count))
    edges = key[first]
    beside = np.full((len(edges), 2), WHOLE)
    beside[inverse[: len(rim)]] = NO_CELL
    np.maximum.at(beside, (inverse, (start > stop).astype(np.int64)), cell)
    along = np.zeros(len(edges), dtype=np.int64)
    along[inverse[len(walls) : len(walls) + len(floors)]] = AT_FLOOR_LINE
    along[inverse[: len(walls)]] = AT_WALL_LINE
    return np.column_stack(np.divmod(edges, count)), beside, along


def _borders(layers: Sequence[Layer]) -> list[Floats]:
    """The segments (k, 2, 2) on which the region of each layer ends [m]."""
    found = borders_of([item.region for item in layers])
    for n, layer in enumerate(layers):
        if isinstance(layer.height, Cells) and layer.over == "all":
            found[n] = steps_of(layer.height, (*layer.height.walls, *layer.height.floors))
    return found


def _breaks(floor: Floor, layer: Layer, later: Sequence[Layer]) -> Floats:
    """Lines between a floor's facets (k, 2, 2), from cove to cove or from wall to wall [m]."""
    coves = [
        (item, item.height)
        for item in later
        if isinstance(item.height, Cells) and item.height.canal.floor is floor
    ]
    rings = [
        cells.vertices[ids, :2]
        for item, cells in coves
        if item.over == "all"
        for ids in cells.floors
    ]
    if not rings:
        own = shapely.union_all([item.region for item, _ in coves])
        rings = rings_of(polygons_only(shapely.difference(layer.region, own)))
    return floor.lines_within(rings, FOOT)
