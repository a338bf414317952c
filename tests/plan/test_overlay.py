"""Two surfaces one over the other: where they are level, and where one is the higher."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from poolgeo.plan.envelope import envelope
from poolgeo.plan.floor import level_floor
from poolgeo.plan.overlay import higher, meeting
from poolgeo.plan.slope import plane_slope, slope_of

SQUARE = shapely.box(0.0, 0.0, 2.0, 2.0)


def test_a_plane_meets_a_level_in_a_line() -> None:
    """Half a metre along a slope of 1:4."""
    top = plane_slope(SQUARE, np.array([0.25, 0.0, -1.0]))
    lines, piece = meeting(top, level_floor(-0.875), SQUARE)
    assert np.sort(lines[:, :, 1], axis=1) == pytest.approx(np.array([[0.0, 2.0]]))
    assert lines[:, :, 0] == pytest.approx(0.5)
    assert piece.tolist() == [0]


def test_surfaces_in_one_plane_meet_nowhere() -> None:
    """A line of equal heights needs heights that differ."""
    top = plane_slope(SQUARE, np.array([0.0, 0.0, -1.0]))
    lines, _ = meeting(top, -1.0, SQUARE)
    assert len(lines) == 0


def test_the_higher_of_two_planes() -> None:
    """A slope of 1:4 stands above a level beyond half a metre, in any direction."""
    for turn in (0.0, 0.4, 2.0):
        a, b = 0.25 * np.cos(turn), 0.25 * np.sin(turn)
        top = plane_slope(SQUARE, np.array([a, b, -1.0 - a - b]))
        up = higher(top, level_floor(-1.0), SQUARE)
        assert up.area == pytest.approx(2.0, abs=1e-3)  # its level line goes through the middle
        ahead = np.array([1.0, 1.0]) + 0.5 * np.array([np.cos(turn), np.sin(turn)])
        assert shapely.contains_xy(up, *ahead)


def test_a_valley_stands_above_a_level_in_two_places() -> None:
    """On either side of it, half a metre from the level line."""
    planes = np.array([[0.5, 0.0, 0.0], [-0.5, 0.0, 1.0]])
    valley = slope_of(*envelope(np.array([SQUARE, SQUARE]), planes, highest=True))
    up = higher(valley, level_floor(0.75), SQUARE)
    assert shapely.area(shapely.get_parts(up)) == pytest.approx([1.0, 1.0], abs=1e-3)
    assert higher(valley, level_floor(1.5), SQUARE).is_empty
    assert higher(valley, level_floor(0.25), SQUARE).area == pytest.approx(4.0)
