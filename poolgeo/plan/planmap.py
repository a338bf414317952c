"""The plan map: a planar partition with the layer that lies on top of each of its faces.

Words: a **vertex** is a plan point on the grid; a **face** is a region of the partition; a
**zone** is a face filled by whole cells of a cove: they are lofted, not triangulated.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .cells import Cells
from .curves import Floats
from .floor import Floor
from .layers import Layer
from .linework import Linework, linework
from .noding import Partition, partition
from .slivers import absorb_slivers
from .tolerances import GRID, grid_keys
from .zones import fitted

Ints = np.ndarray

CRUMB = 1e-6
"""[m2] A face smaller than this may have its inner point on its border, up to rounding."""

OUTSIDE = -1
"""Layer number of what no layer covers."""


@dataclass(frozen=True)
class PlanMap:
    """The painted plan.

    Args:
        partition: Faces and vertices.
        layers: In painting order.
        top: (f,) number of the layer on top of each face, `OUTSIDE` where there is none.
        part: (f,) piece of the floor or group of the cove there, 0 for a level.
        is_zone: (f,) whether the face is a zone.
        heights: (layers, n) height of each layer at each vertex, nan where it has none [m].
        cells: (c, 3) vertex numbers of whole cells that show, and
        cell_layer: (c,) their layer, and
        cell_part: (c,) their group.
    """

    partition: Partition
    layers: tuple[Layer, ...]
    top: Ints
    part: Ints
    is_zone: np.ndarray
    heights: Floats
    cells: Ints
    cell_layer: Ints
    cell_part: Ints


def plan_map(
    layers: Sequence[Layer],
    extra: Floats,
    waters: Sequence[tuple[str, float]],
    *,
    thorough: bool = False,
) -> PlanMap:
    """Partition the plan and paint the layers on it.

    Args:
        layers: In painting order.
        extra: (k, 2, 2) further segments that must be lines of the partition [m].
        waters: Each body's name and water level [m].
        thorough: Whether to node everything by snap rounding (slow).

    Returns:
        The painted plan.
    """
    work = linework(layers, extra, waters)
    coves = {n: item.height for n, item in enumerate(layers) if isinstance(item.height, Cells)}
    points = [item.vertices[:, :2] for item in coves.values()]
    plan = partition(
        work.lines, work.web, np.concatenate([*points, np.zeros((0, 2))]), thorough=thorough
    )
    numbers = {n: np.searchsorted(plan.keys, grid_keys(item.vertices[:, :2]))
               for n, item in coves.items()}  # fmt: skip
    heights = _heights(layers, plan, numbers)
    top, part, is_zone = _paint(layers, plan, work, heights)
    absorb_slivers(plan, top, part, is_zone)
    cells = _whole_cells(layers, plan, work, numbers, heights, top, is_zone)
    _complete(plan, top, heights)
    return PlanMap(plan, tuple(layers), top, part, is_zone, heights, *cells)


def _heights(layers: Sequence[Layer], plan: Partition, numbers: dict[int, Ints]) -> Floats:
    """Heights of every layer at the vertices; of coves only at their own vertices yet."""
    found = np.full((len(layers), len(plan.vertices)), np.nan)
    for n, layer in enumerate(layers):
        if isinstance(layer.height, Cells):
            found[n, numbers[n]] = layer.height.vertices[:, 2]
        elif isinstance(layer.height, Floor):
            found[n] = layer.height.height(plan.vertices)
        else:
            found[n] = layer.height
    return found


def _paint(
    layers: Sequence[Layer],
    plan: Partition,
    work: Linework,
    heights: Floats,
) -> tuple[Ints, Ints, np.ndarray]:
    count = len(plan.rings)
    top = np.full(count, OUTSIDE)
    part = np.zeros(count, dtype=np.int64)
    is_zone = np.zeros(count, dtype=bool)
    ground = np.full(count, -np.inf)
    covers = np.array([layer.covers(plan.inside) for layer in layers])
    gaps = ~covers.any(axis=0)
    owners: dict[int, Ints] = {}
    for n, layer in enumerate(layers):
        covered = covers[n]
        if gaps.any():  # slivers that snapping has left between neighbours
            near = shapely.dwithin(layer.region, shapely.points(plan.inside[gaps]), 3.0 * GRID)
            covered[gaps] |= near
        zone = np.zeros(count, dtype=bool)
        if isinstance(layer.height, Cells):
            owners[n] = _cell_under(layer.height, work.cut[n], plan, covered)
            z, mine, zone = _cove_under(layer.height, owners[n], plan, covered, heights[n])
            covered &= np.isfinite(z)
        elif isinstance(layer.height, Floor):
            z, mine = layer.height.height(plan.inside), layer.height.piece(plan.inside)
        else:
            z, mine = np.full(count, layer.height), part * 0
        if layer.over == "floor":
            covered &= z > ground
        if not isinstance(layer.height, float):
            ground = np.where(covered, z, ground)
        elif layer.over == "all":
            ground = np.where(covered, -np.inf, ground)
        top[covered], part[covered], is_zone[covered] = n, mine[covered], zone[covered]
    for n, owner in owners.items():
        cove = layers[n].height
        if isinstance(cove, Cells):
            shown = np.flatnonzero((top == n) & (owner >= 0))
            _fill(cove, plan, shown, owner[shown], heights[n])
    return top, part, is_zone


def _cell_under(cells: Cells, cut: Ints, plan: Partition, covered: np.ndarray) -> Ints:
    """Find the cut cell under each face's inner point (f,), -1 where there is none."""
    found = np.full(len(plan.rings), -1)
    faces = np.flatnonzero(covered)
    if not len(cut) or not len(faces):
        return found
    tree = shapely.STRtree(shapely.polygons(cells.vertices[cells.triangles[cut], :2]))
    points = shapely.points(plan.inside[faces])
    at, which = tree.query(points, predicate="intersects")
    lost = np.setdiff1d(np.flatnonzero(plan.area[faces] < CRUMB), at)
    # the inner point of a sliver may lie a hair outside the cell that it belongs to
    more, nearest = tree.query_nearest(points[lost], max_distance=3.0 * GRID, all_matches=False)
    found[faces[at]] = cut[which]
    found[faces[lost[more]]] = cut[nearest]
    return found


def _cove_under(
    cells: Cells, owner: Ints, plan: Partition, covered: np.ndarray, known: Floats
) -> tuple[Floats, Ints, np.ndarray]:
    """Read the cove under each face's inner point.

    Returns:
        Height there (nan where the cove is not), group, and whether the face is a zone.
    """
    count = len(plan.rings)
    z, group = np.full(count, np.nan), np.zeros(count, dtype=np.int64)
    faces = np.flatnonzero(owner >= 0)
    planes = _planes(cells, owner[faces])
    z[faces] = planes[:, 0] + np.sum(planes[:, 1:] * plan.inside[faces], axis=1)
    group[faces] = cells.group[owner[faces]]
    zone = covered & (owner < 0)
    for i in np.flatnonzero(zone):
        ring = plan.rings[i][0]
        z[i] = np.nanmean(known[ring]) if np.isfinite(known[ring]).any() else np.nan
    return z, group, zone & np.isfinite(z)


def _fill(cells: Cells, plan: Partition, faces: Ints, owner: Ints, known: Floats) -> None:
    """Complete a cove's heights at the vertices of the cut cells that show, large pieces first.

    A sliver that reaches beyond the cell it was found in takes no height beyond the cell's.
    """
    row = np.full(len(plan.area), -1)
    row[faces] = np.arange(len(faces))
    new = np.flatnonzero((row[plan.face] >= 0) & np.isnan(known[plan.start]))
    new = new[np.argsort(-plan.area[plan.face[new]], kind="stable")]
    vertex, first = np.unique(plan.start[new], return_index=True)
    cell = owner[row[plan.face[new[first]]]]
    planes, corners = _planes(cells, cell), cells.vertices[cells.triangles[cell], 2]
    value = planes[:, 0] + np.sum(plan.vertices[vertex] * planes[:, 1:], axis=1)
    known[vertex] = np.clip(value, corners.min(axis=1), corners.max(axis=1))


def _planes(cells: Cells, numbers: Ints) -> Floats:
    """Planes z = a + b x + c y through some cells (k, 3)."""
    p, q, r = (cells.vertices[cells.triangles[numbers, i]] for i in range(3))
    normal = np.cross(q - p, r - p)
    slope = -normal[:, :2] / normal[:, 2:]
    return np.column_stack([p[:, 2] - np.sum(slope * p[:, :2], axis=1), slope])


def _complete(plan: Partition, top: Ints, heights: Floats) -> None:
    """Give what is left without a height (corners of slivers) the mean of its face's others."""
    layer = top[plan.face]
    z = heights[layer, plan.start]
    gaps = np.isnan(z) & (layer != OUTSIDE)
    if gaps.any():
        known = np.isfinite(z)
        count = np.bincount(plan.face[known], minlength=len(top))
        total = np.bincount(plan.face[known], z[known], minlength=len(top))
        mean = total / np.maximum(count, 1)
        heights[layer[gaps], plan.start[gaps]] = mean[plan.face[gaps]]


def _whole_cells(
    layers: Sequence[Layer],
    plan: Partition,
    work: Linework,
    numbers: dict[int, Ints],
    heights: Floats,
    top: Ints,
    is_zone: np.ndarray,
) -> tuple[Ints, Ints, Ints]:
    """Collect the cells in the zones; complete the coves' heights along the zones' borders."""
    triangles, owners, groups = [np.zeros((0, 3), np.int64)], [top[:0]], [top[:0]]
    for n, layer in enumerate(layers):
        zones = np.flatnonzero(is_zone & (top == n))
        if not isinstance(layer.height, Cells) or not len(zones):
            continue
        whole = np.setdiff1d(np.arange(len(layer.height.triangles)), work.cut[n])
        centres = layer.height.vertices[layer.height.triangles[whole], :2].mean(axis=1)
        shown = np.zeros(len(whole), dtype=bool)
        for face in zones:
            outer, *holes = (plan.vertices[ring] for ring in plan.rings[face])
            polygon = shapely.Polygon(outer, holes)
            shapely.prepare(polygon)
            shown |= shapely.contains_xy(polygon, centres)
        found = whole[shown]
        corners = numbers[n][layer.height.triangles[found]]
        rings = [ring for face in zones for ring in plan.rings[face]]
        corners, origin = fitted(corners, rings, plan.vertices, heights[n])
        triangles.append(corners)
        owners.append(np.full(len(corners), n))
        groups.append(layer.height.group[found][origin])
    return np.concatenate(triangles), np.concatenate(owners), np.concatenate(groups)
