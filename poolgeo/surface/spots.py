"""Levels to write on a plan: one well inside each region that has a depth of its own."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..model import Floats, Spot
from ..plan.cells import Cells
from ..plan.floor import Floor
from ..plan.layers import Height
from ..plan.planmap import PlanMap
from ..plan.slope import Slope
from ..plan.tolerances import SAME_HEIGHT


def spots_of(plan: PlanMap, levels: Mapping[str, float]) -> tuple[Spot, ...]:
    """Return a spot for every level region, and for the deep and shallow end of each floor piece.

    Args:
        plan: The painted plan.
        levels: Water level of each body [m].
    """
    part = plan.partition
    corners = plan.vertices[part.triangles]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / 2.0
    face_area = np.bincount(part.owner, area, minlength=len(part.rings))
    largest = np.full(len(part.rings), -1)  # triangle of each face
    by_area = np.argsort(area)
    largest[part.owner[by_area]] = by_area
    wanted = np.array(
        [not isinstance(item.height, Cells) and item.kind != "wall top" for item in plan.layers]
    )
    by_size = np.argsort(face_area)
    face_of: dict[tuple[int, int], int] = {}  # largest face of each region
    for face in by_size[wanted[plan.top[by_size]]].tolist():
        face_of[int(plan.top[face]), int(plan.part[face])] = face
    found = []
    for (n, piece), face in sorted(face_of.items()):
        layer = plan.layers[n]
        inside = corners[largest[face]].mean(axis=0)
        border = plan.vertices[part.vertex[part.rings[face][0]]]
        for x, y in _places(layer.height, piece, border, inside):
            z = layer.level
            if isinstance(layer.height, Floor | Slope):
                z = float(layer.height.height(np.array([[x, y]]))[0])
            found.append(Spot((x, y, z), layer.body, layer.kind, levels[layer.body] - z))
    return tuple(found)


def _places(
    height: Height, piece: int, points: Floats, inside: Floats
) -> list[tuple[float, float]]:
    """One place inside; on a slope, one towards its high and one towards its low end."""
    if isinstance(height, Slope):
        u = height.height(points)
        if np.ptp(u) < SAME_HEIGHT:
            return [(float(inside[0]), float(inside[1]))]
        return [_inwards(points, u, end) for end in (int(np.argmin(u)), int(np.argmax(u)))]
    if not isinstance(height, Floor) or abs(height.slopes[piece]) < 1e-9:
        return [(float(inside[0]), float(inside[1]))]
    u = height.along(points)
    return [_inwards(points, u, end) for end in (int(np.argmin(u)), int(np.argmax(u)))]


def _inwards(points: Floats, u: Floats, end: int) -> tuple[float, float]:
    """The place in the middle of the points that are as far along as one of them, moved inwards."""
    level = points[np.abs(u - u[end]) < 1e-3].mean(axis=0)
    x, y = level + 0.1 * (points.mean(axis=0) - level)
    return float(x), float(y)
