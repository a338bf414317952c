"""Where the picture is taken from."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats

VIEW_ANGLE = 26.0
"""[deg] Angle from the lower to the upper edge of the picture: that of a short telephoto lens."""
_ELEVATION, _AZIMUTH = math.radians(40.0), math.radians(28.0)
"""[rad] From where the pool is seen: above the horizon, and round from square to its long side."""
_FILLED = 0.88
"""Share of the picture's width or height that the pool takes up; the rest is for words."""
_STEPS = 40
"""Steps of the search; each takes away most of what is left, 40 leave less than a pixel."""


@dataclass(frozen=True)
class Camera:
    """A camera: where it stands and what it looks at [m]."""

    position: tuple[float, float, float]
    focus: tuple[float, float, float]


def camera_for(points: Floats, outline: Floats, aspect: float) -> Camera:
    """Look at a pool from its long side, from above and a little round, and fill the picture.

    Args:
        points: (n, 3) What has to be in the picture [m].
        outline: (m, 2) The pool's outline in plan [m].
        aspect: Width of the picture over its height.

    Returns:
        The camera.
    """
    _, along = sides(outline)
    towards = along - math.pi / 2 + _AZIMUTH
    level = math.cos(_ELEVATION)
    back = np.array([level * math.cos(towards), level * math.sin(towards), math.sin(_ELEVATION)])
    right = np.array([-math.sin(towards), math.cos(towards), 0.0])
    axes = np.array([right, np.cross(back, right), back])
    focus = (points.min(axis=0) + points.max(axis=0)) / 2
    half = math.tan(math.radians(VIEW_ANGLE) / 2) * np.array([aspect, 1.0])
    distance = 3 * float(np.linalg.norm(np.ptp(points, axis=0))) / half[1]
    for _ in range(_STEPS):
        seen = (points - focus) @ axes.T
        screen = seen[:, :2] / (distance - seen[:, 2:]) / half
        low, high = screen.min(axis=0), screen.max(axis=0)
        focus = focus + ((low + high) / 2 * half * distance) @ axes[:2]
        distance *= float((high - low).max()) / 2 / _FILLED
    return Camera(_triple(focus + distance * back), _triple(focus))


def sides(outline: Floats) -> tuple[tuple[float, float], float]:
    """Return the sides of the smallest rectangle about an outline, and how the long one lies.

    Args:
        outline: (n, 2) [m].

    Returns:
        Long and short side [m]; direction of the long one from x [rad], from 0 to below pi.
    """
    from shapely import MultiPoint

    corners = np.array(MultiPoint(outline).minimum_rotated_rectangle.exterior.coords)[:3]
    short, long = sorted(np.diff(corners, axis=0), key=lambda side: math.hypot(*side))
    angle = math.atan2(long[1], long[0]) % math.pi
    return (math.hypot(*long), math.hypot(*short)), 0.0 if angle > math.pi - 1e-9 else angle


def _triple(point: Floats) -> tuple[float, float, float]:
    x, y, z = point.tolist()
    return x, y, z
