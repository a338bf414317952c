"""The plan map: a planar partition with the layer that lies on top of each of its faces.

Words: a **vertex** is a plan point; a **face** is a region of the partition; a **zone** is a face
filled by whole cells of a cove: they are lofted, not triangulated.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .ground import Ground, ground
from .hidden import Hidden, hidden
from .layers import Gap, Layer, Underside
from .levels import Levels
from .linework import BETWEEN, TOP, UNDER, linework
from .noding import node
from .paint import paint
from .partition import Partition, partition
from .side import Side
from .soffit import Soffits, soffits
from .zones import Shown, whole_cells


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
        contact: (k, 2) vertices of the lines on which coves meet their walls and floors.
        contact_of: (k, 2) the layer of the cove, and where on it: `linework.AT_WALL_LINE` or
            `linework.AT_FLOOR_LINE`.
        under: The underside of the concrete.
        between: Ground between pieces of the concrete, None where there is none.
        hidden: What features lose to later ones.
    """

    vertices: Floats
    partition: Partition
    layers: tuple[Layer, ...]
    top: Ints
    part: Ints
    is_zone: np.ndarray
    heights: Floats
    cells: Shown
    contact: Ints
    contact_of: Ints
    under: Soffits
    between: Ground | None
    hidden: tuple[Hidden, ...]


def plan_map(
    layers: Sequence[Layer],
    undersides: Sequence[Underside],
    levels: Sequence[Levels],
    gaps: Sequence[Gap] = (),
) -> PlanMap:
    """Partition the plan and paint the layers on it.

    Args:
        layers: In painting order.
        undersides: What lies under the concrete, in painting order.
        levels: Where the surface of each body of water is split.
        gaps: Ground between pieces of the concrete.

    Returns:
        The painted plan.
    """
    work = linework(layers, undersides, levels, gaps)
    strands = node(work.segments)
    side = Side.of(work, strands, TOP)
    painted = paint(layers, levels, side)
    is_level = np.array([item.is_level for item in layers])
    faces, origin = partition(
        strands.vertices, side.plan, painted.label, painted.is_zone, ~is_level[painted.top]
    )
    vertices, heights, cells = whole_cells(layers, work, strands, painted, faces, origin)
    contact = np.flatnonzero(work.contact[strands.parent])
    parent = strands.parent[contact]
    return PlanMap(
        vertices,
        faces,
        tuple(layers),
        painted.top[origin],
        painted.part[origin],
        painted.is_zone[origin],
        heights,
        cells,
        strands.ends[contact],
        np.column_stack([work.owner[parent], work.contact[parent]]),
        soffits(undersides, Side.of(work, strands, UNDER)),
        ground(gaps, Side.of(work, strands, BETWEEN)) if gaps else None,
        hidden(layers, painted.shown, side.area),
    )
