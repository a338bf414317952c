"""The lines of the plan map, each with what it says about the plan on either side of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .cells import Cells
from .contours import Contour, contours
from .curves import Floats
from .cut import cut_cells
from .floor import Floor
from .keys import among, grid_keys, numbered, pair_keys
from .layers import Gap, Layer, Underside
from .levels import Levels
from .meets import meets
from .noding import Segments
from .shapes import borders_of, polygons_only, rings_of
from .slope import Slope
from .tolerances import GRID, WELD

Ints = np.ndarray

AT_WALL = 5e-5
"""[m] A border goes through a cove's wall vertex, and a cove's wall through a vertex of a border,
that are nearer than this: where a joint of the cove falls between two vertices of a flattened wall,
it may stand off the chord."""

FOOT = 5e-5
"""[m] A break line that ends nearer than this to the foot of a seam ends in it."""

BESIDE_COVES = frozenset({"weir top"})
"""Kinds of which the borders meet a cove's wall from outside, in its vertices, and cut no cell."""

TOP, UNDER, BETWEEN = 1, 2, 4
"""Sides of the concrete, and the ground between two pieces of it: lines of one do not meet those of
the others. A line of several is a line of none, but makes all of them share its vertices."""

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
        smooth: (m,) whether it is a cove's line along wall or floor.
        cells: (m, 2) the cell on its left and on its right: a number, `WHOLE` or `NO_CELL`.
        contour: (m,) the layer that has a known height along it, -1 for none.
        heights: (m, 2) that height at its ends [m].
        sloping: (m,) the sloping top that has the height of that layer along it, -1 for none.
        cut: For each layer of cells (by its number) the numbers of its cut cells.
        number: For each layer of cells the vertex number of each of its vertices, -1 for those
            that are on no line.
    """

    segments: Segments
    border: Ints
    owner: Ints
    smooth: np.ndarray
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
            bends[n] = layer.height.lines(layer.region)
            found.add(bends[n], TOP)
    lines = [*contours(layers, levels), *meets(layers)]
    for line in lines:
        found.add(
            line.segments, TOP, contour=line.layer, heights=line.heights, sloping=line.sloping
        )
    _add_undersides(found, undersides, gaps)
    knives = [*borders, *bends.values()]
    cut = {n: _cut(n, item, layers, knives, lines) for n, item in coves.items()}
    return found.finish(coves, cut)


def _add_undersides(
    found: _Collected, undersides: Sequence[Underside], gaps: Sequence[Gap]
) -> None:
    """Add the lines of the underside of the concrete, and of the ground between pieces of it."""
    for n, border in enumerate(borders_of([item.region for item in undersides])):
        found.add(border, UNDER, border=n)
        found.add(undersides[n].lines(), UNDER)
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
        attracts, smooth = [np.full(len(lines), WELD)], [np.zeros(len(lines), dtype=bool)]
        begin = 0
        for k, (n, ids) in enumerate(used.items()):
            numbers[n] = np.full(len(coves[n].vertices), -1)
            numbers[n][ids] = number[begin : begin + len(ids)]
            begin += len(ids)
            vertex_sheet[numbers[n][ids]] = k
            reach[numbers[n][np.concatenate(coves[n].walls)]] = AT_WALL
            pairs, beside, is_wall, is_smooth = tables[n]
            smooth.append(is_smooth)
            ends.append(numbers[n][pairs])
            attracts.append(np.where(is_wall, AT_WALL, WELD))
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
            np.concatenate(smooth),
            np.concatenate([np.full((len(lines), 2), NO_CELL), *cells]),
            np.concatenate([contour, none]),
            np.concatenate([*self.heights, np.zeros((more, 2))]),
            np.concatenate([sloping, none]),
            cut,
            numbers,
        )


def _cell_edges(cells: Cells, cut: Ints) -> tuple[Ints, Ints, np.ndarray, np.ndarray]:
    """Edges of a cove's cut cells, and those on its rim.

    Returns:
        Vertices of each (k, 2), lower first, the cell on its left and right (k, 2), and whether it
        runs along a wall (k,), or along a wall or the floor (k,).
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
    is_wall, is_smooth = np.zeros(len(edges), dtype=bool), np.zeros(len(edges), dtype=bool)
    is_wall[inverse[: len(walls)]] = True
    is_smooth[inverse[: len(walls) + len(floors)]] = True
    return np.column_stack(np.divmod(edges, count)), beside, is_wall, is_smooth


def _borders(layers: Sequence[Layer]) -> list[Floats]:
    """The segments (k, 2, 2) on which the region of each layer ends [m]."""
    found = borders_of([item.region for item in layers])
    for n, layer in enumerate(layers):
        if isinstance(layer.height, Cells) and layer.over == "all":
            found[n] = _steps(layer.height, (*layer.height.walls, *layer.height.floors))
    return found


def _steps(cells: Cells, lines: Sequence[Ints]) -> Floats:
    """The segments (k, 2, 2) of some of a cove's lines [m]."""
    chains = [cells.vertices[ids, :2] for ids in lines]
    return np.concatenate([np.stack([line[:-1], line[1:]], axis=1) for line in chains])


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


def _cut(
    number: int,
    cells: Cells,
    layers: Sequence[Layer],
    borders: Sequence[Floats],
    lines: Sequence[Contour],
) -> Ints:
    """Return the cells of one cove that anything but its own lines cuts, if they may show."""
    # what was painted before the cove's own floor lies hidden under it
    first = max(
        (n for n, item in enumerate(layers[:number])
         if isinstance(item.height, Floor) and item.body == layers[number].body), default=0
    )  # fmt: skip
    lines = [item for item in lines if item.layer >= first]
    # a cove that is clipped to a region is cut by its border
    own = layers[number].over == "floor"
    beside = {n for n, item in enumerate(layers) if item.kind in BESIDE_COVES}
    found = [
        (n, item)
        for n, item in enumerate(borders)
        if n >= first and (own or n != number) and n not in beside
    ]
    found += [(-1, item.segments) for item in lines]
    knives = np.concatenate([item for _, item in found])
    owner = np.repeat([n for n, _ in found], [len(item) for _, item in found])
    own_lines = [(cells.walls, AT_WALL)]
    if own:
        own_lines.append(((*cells.floors, *cells.sections), 2.0 * GRID))
    edges = _steps(cells, [ids for item, _ in own_lines for ids in item])
    sharp = np.flatnonzero(~among(knives, edges))
    cell, knife = cut_cells(cells, knives[sharp])
    knife = sharp[knife]
    met = np.unique(knife)
    blunt = np.zeros(len(knives), dtype=bool)
    for item, tolerance in own_lines:
        blunt[met] |= _along(item, cells, knives[met], tolerance)
    cell, of = cell[~blunt[knife]], owner[knife[~blunt[knife]]]
    passing = [item.passing for item in lines if item.layer == number]
    numbers = np.unique(np.concatenate([cell, *passing]).astype(np.int64))
    shown: Ints = numbers[~_hidden(cells, number, layers, cell, of, numbers)]
    return shown


def _along(lines: Sequence[Ints], cells: Cells, segments: Floats, tolerance: float) -> np.ndarray:
    """Tell which segments run along some of a cove's lines."""
    shape = shapely.MultiLineString([cells.vertices[ids, :2] for ids in lines])
    shapely.prepare(shape)
    left = np.arange(len(segments))
    for share in (0.5, 0.0, 1.0):
        places = segments[left, 0] * (1.0 - share) + segments[left, 1] * share
        left = left[shapely.dwithin(shape, shapely.points(places), tolerance)]
    found = np.zeros(len(segments), dtype=bool)
    found[left] = True
    return found


def _hidden(
    cove: Cells, number: int, layers: Sequence[Layer], cut: Ints, by: Ints, cells: Ints
) -> np.ndarray:
    """Tell which cells of a cove (c,) some later layer hides wholly.

    Args:
        cove: The cove.
        number: Its layer.
        layers: In painting order.
        cut: (k,) cells that are cut.
        by: (k,) the layer of which the border cuts each, -1 for none.
        cells: (c,) the cells to ask for.

    Returns:
        (c,) whether it does.
    """
    centres = cove.vertices[cove.triangles[cells], :2].mean(axis=1)
    top = cove.vertices[:, 2].max()
    hidden = np.zeros(len(cells), dtype=bool)
    for n, layer in enumerate(layers[number + 1 :], number + 1):
        if isinstance(layer.height, Cells) or not (layer.over == "all" or layer.lowest > top):
            continue
        off_border = np.ones(len(cove.triangles), dtype=bool)
        off_border[cut[by == n]] = False
        hidden |= off_border[cells] & layer.covers(centres)
    return hidden
