"""The plan map: a planar partition with the layer that lies on top of each of its faces.

Words: a **vertex** is a plan point; a **face** is a region of the partition; a **zone** is a face
filled by whole cells of a cove: they are lofted, not triangulated.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .arrangement import Arrangement, arrange
from .curves import Floats
from .layers import Layer, Underside
from .linework import TOP, UNDER, Linework, linework
from .noding import Strands, node
from .paint import Painted, paint
from .partition import Partition, partition
from .soffit import Soffits, soffits
from .tolerances import numbered
from .zones import Shown, whole_cells

Ints = np.ndarray


@dataclass(frozen=True)
class PlanMap:
    """The painted plan.

    Args:
        vertices: (n, 2) [m].
        partition: Faces between concrete that differs on top.
        layers: In painting order.
        top: (f,) number of the layer on top of each face.
        part: (f,) piece of the floor or group of the cove there, 0 for a level.
        is_zone: (f,) whether the face is a zone.
        heights: (layers, n) height of each layer at each vertex, nan where it has none [m].
        cells: Whole cells that show.
        lids: The free surface of each body's water, as triangles (t, 3).
        smooth: (k, 2) vertices of the edges on which coves leave wall and floor.
        under: The underside of the concrete.
    """

    vertices: Floats
    partition: Partition
    layers: tuple[Layer, ...]
    top: Ints
    part: Ints
    is_zone: np.ndarray
    heights: Floats
    cells: Shown
    lids: dict[str, Ints]
    smooth: Ints
    under: Soffits


def plan_map(
    layers: Sequence[Layer],
    undersides: Sequence[Underside],
    waters: Sequence[tuple[str, float]],
) -> PlanMap:
    """Partition the plan and paint the layers on it.

    Args:
        layers: In painting order.
        undersides: What lies under the concrete, in painting order.
        waters: Each body's name and water level [m].

    Returns:
        The painted plan.
    """
    work = linework(layers, undersides, waters)
    strands = node(work.segments)
    plan, mine, edge = _side(work, strands, TOP)
    painted = paint(layers, waters, work, strands, plan, mine, edge)
    is_level = np.array([isinstance(item.height, float) for item in layers])
    faces, origin = partition(
        strands.vertices, plan, painted.label, painted.is_zone, ~is_level[painted.top]
    )
    vertices, heights, cells = whole_cells(layers, work, strands, painted, faces, origin)
    return PlanMap(
        vertices,
        faces,
        tuple(layers),
        painted.top[origin],
        painted.part[origin],
        painted.is_zone[origin],
        heights,
        cells,
        _lids(layers, waters, strands, plan, painted),
        strands.ends[work.smooth[strands.parent]],
        soffits(undersides, work, strands, *_side(work, strands, UNDER)),
    )


def _lids(
    layers: Sequence[Layer],
    waters: Sequence[tuple[str, float]],
    strands: Strands,
    plan: Arrangement,
    painted: Painted,
) -> dict[str, Ints]:
    """Triangulate the free surface of each body's water."""
    bodies = [name for name, _ in waters]
    body_of = np.array([bodies.index(item.body) for item in layers])
    label = np.where(painted.wet, body_of[painted.top], -1)
    faces, origin = partition(strands.vertices, plan, label)
    body = label[origin][faces.owner]
    return {name: faces.triangles[body == i] for i, name in enumerate(bodies)}


def _side(work: Linework, strands: Strands, side: int) -> tuple[Arrangement, Ints, Ints]:
    """Arrange the strands on one side of the concrete.

    Returns:
        The arrangement, the numbers of those strands, and the edge on which each lies.
    """
    mine = np.flatnonzero(work.segments.side[strands.parent] == side)
    ends = strands.ends[mine]
    low, high = ends.min(axis=1), ends.max(axis=1)
    first, edge = numbered(low * len(strands.vertices) + high)
    edges = np.column_stack([low[first], high[first]])
    return arrange(strands.vertices, edges), mine, edge
