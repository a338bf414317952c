"""Painting: which layer lies on top of each face, read off what the strands stand for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .arrangement import Arrangement, components
from .cells import Cells
from .coverage import ends_of
from .faceted import Faceted
from .floor import Floor
from .keys import are_in
from .layers import Layer
from .levels import Levels, stages
from .linework import NO_CELL, TOP, WHOLE, Linework
from .noding import Strands
from .side import Side
from .slope import Slope, facets_of, heights_on
from .tolerances import GRID, SAME_HEIGHT

OUTSIDE = -1
"""Layer number of what no layer covers."""


@dataclass(frozen=True)
class Painted:
    """What is known of the faces of an arrangement; each array's last entry is the outside's.

    Args:
        top: (f + 1,) number of the layer on top, `OUTSIDE` where there is none.
        part: (f + 1,) piece of the floor or group of the cove there, 0 for a level.
        is_zone: (f + 1,) whether whole cells fill it.
        stage: (f + 1,) how many levels of its layer's body it lies above.
        label: (f + 1,) the same where faces may be joined, below 0 where no layer is.
        hides: Coves (by layer) of which whole cells are hidden somewhere.
        heights: (layers, n) height of each layer at each vertex, nan where it has none [m].
        shown: (layers, f + 1) whether each lies on top as long as no later one is painted.
    """

    top: Ints
    part: Ints
    is_zone: np.ndarray
    stage: Ints
    label: Ints
    hides: frozenset[int]
    heights: Floats
    shown: np.ndarray


def paint(layers: Sequence[Layer], levels: Sequence[Levels], side: Side) -> Painted:
    """Paint the layers on the upper side of the concrete.

    Args:
        layers: In painting order.
        levels: Where the surface of each body of water is split.
        side: The upper side.

    Returns:
        What lies on top of each face.
    """
    plan, shown = side.plan, side.covers(len(layers))
    heights = _heights(layers, side.work, side.strands)
    count = plan.count + 1
    part, facet, stage = np.zeros((3, count), dtype=np.int64)
    top, cell_on_top = np.full(count, OUTSIDE), np.full(count, NO_CELL)
    ground = np.full(count, OUTSIDE)  # the floor or cove that everything stands on
    cuts = {item.body: item.cuts for item in levels}
    whole = {}
    for n, layer in enumerate(layers):
        covered, cell, area = shown[n], np.full(count, NO_CELL), None
        here, flat = part * 0, part * 0
        if isinstance(layer.height, Cells):
            cell, area = _cells_under(n, side)
            covered &= cell != NO_CELL
            _inside_cells(layer.height, cell, side, heights[n])
            _lift(n, layers, heights)
            z = _mean(plan, heights[n][plan.start], cell, area)
            here[cell >= 0] = layer.height.group[cell[cell >= 0]]
        elif isinstance(layer.height, Floor):
            z = plan.mean(heights[n])
            if not layer.height.is_plane:
                flat = layer.height.facet(side.inner)
                here = layer.height.piece_of_facet(flat)
        elif isinstance(layer.height, Slope):
            _on_ground(n, side, heights)
            z, cell = plan.mean(heights[n]), _facets_under(layer.height, side, covered)
            here = layer.height.group[cell]
        else:
            z = np.full(count, layer.height)
        if layer.over == "floor":
            at = heights[n][plan.start] - heights[ground[plan.face % count], plan.start]
            over = _mean(plan, at, cell, area)
            _over_hidden(layer, z, layers, ground, covered, side, over)
            covered &= (ground == OUTSIDE) | (ground == _floor_of(layer, layers)) | (over > 0.0)
        if not isinstance(layer.height, float | Slope):
            ground = np.where(covered, n, ground)
        elif layer.over == "all":
            ground = np.where(covered, OUTSIDE, ground)
        top[covered], part[covered], cell_on_top[covered] = n, here[covered], cell[covered]
        facet[covered] = flat[covered]
        stage[covered] = stages(z[covered], cuts[layer.body], GRID)
        whole[n] = (cell == WHOLE)[:-1]
    hides = {n for n, faces in whole.items() if np.any(faces & (top[:-1] != n))}
    label = top
    for fact in (part, facet, cell_on_top - NO_CELL, stage):
        label = label * (int(fact.max()) + 1) + fact
    label = np.where(top == OUTSIDE, OUTSIDE, label)
    is_zone = (cell_on_top == WHOLE) & (top != OUTSIDE)
    return Painted(top, part, is_zone, stage, label, frozenset(hides), heights, shown)


def _floor_of(layer: Layer, layers: Sequence[Layer]) -> int:
    """Return the number of the floor that a cove rests on, `OUTSIDE` where it is none.

    Between its sections a cove's chords may lie under a curved floor; the cove does not.
    """
    cells = layer.height
    if not isinstance(cells, Cells):
        return OUTSIDE
    return next((k for k, item in enumerate(layers) if item.height is cells.canal.floor), OUTSIDE)


def _mean(plan: Arrangement, at: Floats, cell: Ints, area: Ints | None) -> Floats:
    """Return the mean for each face (f + 1,) of what half-edges have; whole cells share theirs.

    Args:
        plan: The faces.
        at: (2 e,) what the half-edges have at their starts.
        cell: (f + 1,) the cell under each face.
        area: (f + 1,) the area between cells' edges that it is part of; None without cells.
    """
    mean = plan.mean_at(at)
    return mean if area is None else np.where(cell == WHOLE, plan.mean_at(at, area), mean)


def _over_hidden(
    layer: Layer,
    z: Floats,
    layers: Sequence[Layer],
    ground: Ints,
    covered: np.ndarray,
    side: Side,
    over: Floats,
) -> None:
    """Fill in how far a layer stands above coves at faces of which no vertex tells.

    Such a face lies within cells that no line cuts, as something hides all of them.

    Args:
        layer: The layer.
        z: (f + 1,) its mean height at each face [m].
        layers: All, in painting order.
        ground: (f + 1,) what everything stands on there.
        covered: (f + 1,) whether the layer's region holds each face.
        side: The upper side.
        over: (f + 1,) how far it stands above the ground, nan where that is not known [m].
    """
    unknown = np.flatnonzero(covered & (ground != OUTSIDE) & np.isnan(over))
    for n in np.unique(ground[unknown]).tolist():
        cells, faces = layers[n].height, unknown[ground[unknown] == n]
        if isinstance(cells, Cells):
            at = side.inner[faces]
            own = layer.height.height(at) if isinstance(layer.height, Slope) else z[faces]
            facets, planes, _ = facets_of(cells, shapely.multipoints(at))
            nearest = shapely.STRtree(facets).nearest(shapely.points(at))
            over[faces] = own - heights_on(planes[nearest], at)


def _heights(layers: Sequence[Layer], work: Linework, strands: Strands) -> Floats:
    """Heights of every layer at the vertices; of coves only on their cells' edges yet."""
    found = np.full((len(layers), len(strands.vertices)), np.nan)
    for n, layer in enumerate(layers):
        if isinstance(layer.height, Cells):
            _on_edges(n, layer.height, work, strands, found[n])
        elif isinstance(layer.height, Slope) and layer.on:
            found[n] = layer.height.height_on(strands.vertices)
        elif isinstance(layer.height, Floor | Slope):
            found[n] = layer.height.height(strands.vertices)
        else:
            found[n] = layer.height
    for k, layer in enumerate(layers):
        if isinstance(layer.height, Faceted):
            _on_feet(k, layers, work, strands, found)
    contour = work.contour[strands.parent]
    known = (contour >= 0) & (work.sloping[strands.parent] < 0)
    on = np.flatnonzero(known & (work.segments.side[strands.parent] == TOP))
    found[contour[on, None], strands.ends[on]] = _along(work, strands, on)
    return found


def _on_ground(n: int, side: Side, heights: Floats) -> None:
    """Give a sloping top the heights of what it passes, where it does."""
    work, strands = side.work, side.strands
    on = np.flatnonzero(work.sloping[strands.parent] == n)
    other = work.contour[strands.parent[on]]
    for k in (0, 1):
        vertex = strands.ends[on, k]
        value = heights[other, vertex]
        known = np.isfinite(value)
        heights[n, vertex[known]] = value[known]


def _facets_under(top: Slope, side: Side, covered: np.ndarray) -> Ints:
    """Return the facet of a sloping top under each face (f + 1,) that it covers."""
    found = np.zeros(len(covered), dtype=np.int64)
    asked = np.flatnonzero(covered)
    if len(top.facets) > 1 and len(asked):
        found[asked] = top.facet(side.inner[asked])
    return found


def _along(work: Linework, strands: Strands, on: Ints) -> Floats:
    """Return the heights (k, 2) that strands have at their ends by what they are part of [m]."""
    parent = strands.parent[on]
    whole = strands.vertices[strands.number[work.segments.ends[parent]]]
    d = whole[:, 1] - whole[:, 0]
    away = strands.vertices[strands.ends[on]] - whole[:, :1]
    size = np.maximum(np.sum(d * d, axis=1), SAME_HEIGHT**2)[:, None]
    share = np.clip(np.einsum("kij,kj->ki", away, d) / size, 0.0, 1.0)
    low, high = work.heights[parent].T
    found: Floats = low[:, None] + share * (high - low)[:, None]
    return found


def _on_feet(
    k: int, layers: Sequence[Layer], work: Linework, strands: Strands, heights: Floats
) -> None:
    """Give a curved floor the heights of its coves along the lines on which these meet it.

    Where the lines of two coves cross, it is the first one's, and so is the second one's.
    """
    met = np.zeros(len(strands.vertices), dtype=bool)
    for n, layer in enumerate(layers):
        cells = layer.height
        if isinstance(cells, Cells) and cells.canal.floor is layers[k].height:
            foot = np.zeros_like(met)
            foot[strands.number[work.number[n][np.concatenate(cells.floors)]]] = True
            ends = strands.number[work.segments.ends]
            on = (work.owner == n) & (work.contact > 0) & foot[ends].all(axis=1)
            foot[strands.ends[on[strands.parent]]] = True
            heights[k, foot & ~met] = heights[n, foot & ~met]
            heights[n, foot & met] = heights[k, foot & met]
            met |= foot


def _lift(n: int, layers: Sequence[Layer], heights: Floats) -> None:
    """Lift the chords of a cove that lie under the curved floor that it rests on."""
    k = _floor_of(layers[n], layers)
    if k != OUTSIDE and isinstance(layers[k].height, Faceted):
        np.maximum(heights[n], heights[k], out=heights[n])


def _on_edges(n: int, cells: Cells, work: Linework, strands: Strands, heights: Floats) -> None:
    """Fill in a cove's heights on its cells' edges, straight from end to end."""
    used = work.number[n] >= 0
    heights[strands.number[work.number[n][used]]] = cells.vertices[used, 2]
    mine = work.owner[strands.parent] == n
    rim = (work.contact > 0)[strands.parent]
    # a vertex where a cell's edge leaves wall or floor is theirs: there the cove is steep
    for on, k in ((np.flatnonzero(mine & at), k) for at in (rim, ~rim) for k in (0, 1)):
        vertex = strands.ends[on, k]
        new = np.isnan(heights[vertex])
        vertex, whole = vertex[new], strands.number[work.segments.ends[strands.parent[on[new]]]]
        a, b = strands.vertices[whole[:, 0]], strands.vertices[whole[:, 1]]
        d = b - a
        share = np.sum((strands.vertices[vertex] - a) * d, axis=1) / np.sum(d * d, axis=1)
        low, high = heights[whole[:, 0]], heights[whole[:, 1]]
        heights[vertex] = low + np.clip(share, 0.0, 1.0) * (high - low)


def _cells_under(n: int, side: Side) -> tuple[Ints, Ints]:
    """Find what lies under each face of one cove.

    A face knows it from the cells' edges on its border; one that has none from its neighbours.

    Returns:
        (f + 1,) a cut cell, `WHOLE` or `NO_CELL`, and (f + 1,) the area between the cells' edges
        that each face is part of.
    """
    plan, parent = side.plan, side.strands.parent[side.mine]
    own = side.work.owner[parent] == n
    on, ends = side.edge[own], side.strands.ends[side.mine[own]]
    beside = side.work.cells[parent[own]]
    half = 2 * on + (ends[:, 0] != plan.edges[on, 0])
    # a cell that noding has flattened has itself on both sides of an edge
    half, cell = np.concatenate([half, half ^ 1]), np.concatenate([beside[:, 0], beside[:, 1]])
    far = int(cell.max(initial=0)) + 1
    flat = (cell >= 0) & are_in(half * far + cell, (half ^ 1) * far + cell)
    half, cell = half[~flat], cell[~flat]
    count = plan.count + 1
    found = np.full(count, NO_CELL)
    np.maximum.at(found, plan.face[half] % count, cell)
    between = np.ones(len(plan.edges), dtype=bool)
    between[on] = False
    left, right = ends_of(plan)
    area = components(count, left[between], right[between])
    held = np.full(count, NO_CELL)
    np.maximum.at(held, area, found)
    return held[area], area


def _inside_cells(cells: Cells, cell: Ints, side: Side, heights: Floats) -> None:
    """Fill in a cove's heights at the vertices inside its cut cells."""
    plan, vertices = side.plan, side.strands.vertices
    under = cell[plan.face]
    new = np.flatnonzero((under >= 0) & np.isnan(heights[plan.start]))
    vertex, first = np.unique(plan.start[new], return_index=True)
    corners = cells.vertices[cells.triangles[under[new[first]]]]
    p, q, r = (corners[:, i] for i in range(3))
    normal = np.cross(q - p, r - p)
    slope = -normal[:, :2] / normal[:, 2:]
    value = p[:, 2] + np.sum(slope * (vertices[vertex] - p[:, :2]), axis=1)
    low, high = corners[:, :, 2].min(axis=1), corners[:, :, 2].max(axis=1)
    heights[vertex] = np.clip(value, low, high)
