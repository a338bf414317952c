"""Levels to write on a plan: one well inside each region that has a depth of its own."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..mesh import Floats
from ..model import Spot
from ..plan.cells import Cells
from ..plan.floor import Floor
from ..plan.layers import Height
from ..plan.planmap import PlanMap
from ..plan.slope import Slope
from .kinds import OUTSIDE_KINDS

DRY = ("wall top", *OUTSIDE_KINDS)
"""Kinds that have no depth."""

LEAST_FALL = 1e-3
"""[m] A piece of floor that falls by less is level for a plan."""

SAME_LEVEL = 2e-4
"""[-] Heights of a curved piece that differ by less than this share of its fall are one."""

UNLEVELLED = ("wall top", "weir top")
"""Kinds of surface that have no level written on them."""


def spots_of(plan: PlanMap, levels: Mapping[str, float]) -> tuple[Spot, ...]:
    """Return a spot for every level region, and for the deep and shallow end of each floor piece.

    Args:
        plan: The painted plan.
        levels: For each body the height below which its depths count [m].
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
        [
            not isinstance(item.height, Cells) and item.kind not in (*DRY, *UNLEVELLED)
            for item in plan.layers
        ]
    )
    by_size = np.argsort(face_area)
    face_of: dict[tuple[int, int], int] = {}  # largest face of each region
    for face in by_size[wanted[plan.top[by_size]]].tolist():
        face_of[int(plan.top[face]), int(plan.part[face])] = face
    found = []
    for (n, piece), face in sorted(face_of.items()):
        layer = plan.layers[n]
        inside = corners[largest[face]].mean(axis=0)
        if isinstance(layer.height, Floor) and not layer.height.is_flat(piece):
            all_faces = (plan.top == n) & (plan.part == piece)  # one for each facet
            places = _extremes(layer.height, piece, corners[all_faces[part.owner]])
        else:
            border = plan.vertices[part.vertex[part.rings[face][0]]]
            places = _places(layer.height, piece, border, inside)
        for x, y in places:
            z = layer.level
            if isinstance(layer.height, Floor | Slope):
                z = float(layer.height.height(np.array([[x, y]]))[0])
            found.append(Spot((x, y, z), layer.body, layer.kind, levels[layer.body] - z))
    return tuple(found)


def _extremes(floor: Floor, piece: int, corners: Floats) -> list[tuple[float, float]]:
    """Return where a curved piece is deepest and where it is shallowest.

    Where several corners are (along a trough, round a wall), it is the middle between them if the
    floor is there what it is at them, else the one that is nearest to it.

    Args:
        floor: The floor.
        piece: Its number.
        corners: (t, 3, 2) triangles of the piece [m].
    """
    points = corners.reshape(-1, 2)
    z = floor.height_of(points, piece)
    band = SAME_LEVEL * float(np.ptp(z))
    found = []
    for sign in (1.0, -1.0):
        level = points[sign * z <= (sign * z).min() + band]
        middle = level.mean(axis=0)
        away = np.hypot(*(level - middle).T)
        here = floor.height_of(middle[None], piece)[0]
        is_one = sign * here < (sign * z).min() + band and _holds(corners, middle)
        x, y = middle if is_one else level[np.argmin(away)]
        found.append((float(x), float(y)))
    return found


def _holds(corners: Floats, at: Floats) -> bool:
    """Tell whether one of the triangles (t, 3, 2) holds a point (2,)."""
    sides, away = np.roll(corners, -1, axis=1) - corners, at - corners
    left = sides[..., 0] * away[..., 1] - sides[..., 1] * away[..., 0]
    return bool(((left >= 0.0).all(axis=1) | (left <= 0.0).all(axis=1)).any())


def _places(
    height: Height, piece: int, points: Floats, inside: Floats
) -> list[tuple[float, float]]:
    """One place inside; on a slope, one towards its high and one towards its low end."""
    if isinstance(height, Slope):
        z = height.height(points)
    elif isinstance(height, Floor):
        z = height.height_of(points, piece)
    else:
        return [(float(inside[0]), float(inside[1]))]
    if np.ptp(z) < LEAST_FALL:
        return [(float(inside[0]), float(inside[1]))]
    found = []
    for end in (z.min(), z.max()):
        level = points[np.abs(z - end) < 0.01 * np.ptp(z)].mean(axis=0)
        x, y = level + 0.1 * (points.mean(axis=0) - level)
        found.append((float(x), float(y)))
    return found
