"""Where the picture is taken from."""

from __future__ import annotations

import math

import numpy as np
import pytest

from poolgeo.arrays import Floats
from poolgeo.write.camera import VIEW_ANGLE, camera_for, sides

BOX = np.array([(x, y, z) for x in (0, 10) for y in (0, 4) for z in (-2, 0.15)], float)
PLAN = np.array([(0, 0), (10, 0), (10, 4), (0, 4)], float)


def turned(points: Floats, angle: float) -> Floats:
    """Turn points about z by an angle [rad]."""
    c, s = math.cos(angle), math.sin(angle)
    found = points.copy()
    found[:, :2] = points[:, :2] @ np.array([[c, s], [-s, c]])
    return found


def on_screen(points: Floats, position: Floats, focus: Floats, aspect: float) -> Floats:
    """Return where points are on the picture: -1 to 1 across and up, by similar triangles."""
    back = (position - focus) / np.linalg.norm(position - focus)
    right = np.cross(np.array([0.0, 0.0, 1.0]), back)
    right = right / np.linalg.norm(right)
    away = (position - points) @ back
    half = math.tan(math.radians(VIEW_ANGLE / 2))
    across = (points - position) @ right / away / half / aspect
    return np.column_stack([across, (points - position) @ np.cross(back, right) / away / half])


@pytest.mark.parametrize("aspect", [0.5, 1.3, 2.5])
@pytest.mark.parametrize("angle", [0, 0.7, 1.6, 3.0])
def test_the_pool_fills_the_picture_and_stands_in_its_middle(aspect: float, angle: float) -> None:
    points = turned(BOX, angle)
    camera = camera_for(points, turned(PLAN, angle), aspect)
    seen = on_screen(points, np.array(camera.position), np.array(camera.focus), aspect)
    low, high = seen.min(axis=0), seen.max(axis=0)
    assert low + high == pytest.approx([0, 0], abs=1e-3)
    assert (high - low).max() == pytest.approx(2 * 0.88, abs=1e-3)


def test_the_camera_stands_before_the_long_side_and_above() -> None:
    camera = camera_for(BOX, PLAN, 1.3)
    back = np.array(camera.position) - np.array(camera.focus)
    assert back[1] < -abs(back[0])
    assert 0.5 < back[2] / np.linalg.norm(back) < 0.8


@pytest.mark.parametrize("angle", [0, 0.3, 1.0, math.pi / 2, 3.0])
def test_sides_do_not_depend_on_how_the_pool_lies(angle: float) -> None:
    (long, short), along = sides(turned(PLAN, angle))
    assert (long, short) == pytest.approx((10, 4))
    assert along == pytest.approx(angle)
