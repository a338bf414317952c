"""Facets: where surfaces are level, which of overlapping ones stays, and where a top turns."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from poolgeo.plan.envelope import envelope
from poolgeo.plan.floor import level_floor
from poolgeo.plan.slope import meeting, plane_of, plane_slope, slope_of

SQUARE = shapely.box(0.0, 0.0, 2.0, 2.0)


def test_a_plane_goes_through_its_points() -> None:
    """Far off the origin as well."""
    corners = np.array([[1e6, 2e6, 1.0], [1e6 + 1, 2e6, 1.5], [1e6, 2e6 + 1, 0.75]])
    a, b, c = plane_of(corners)
    assert [a, b] == pytest.approx([0.5, -0.25])
    assert a * 1e6 + b * 2e6 + c == pytest.approx(1.0, abs=1e-9)


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


@pytest.mark.parametrize("highest", [True, False])
def test_of_overlapping_facets_one_stays(*, highest: bool) -> None:
    """Two planes that cross in the middle of a square: a valley or a ridge."""
    planes = np.array([[0.5, 0.0, 0.0], [-0.5, 0.0, 1.0]])
    facets, left = envelope(np.array([SQUARE, SQUARE]), planes, highest=highest)
    assert shapely.area(facets).tolist() == pytest.approx([2.0, 2.0])
    assert shapely.union_all(facets).area == pytest.approx(4.0)
    top = slope_of(facets, left)
    ends = top.height(np.array([[0.0, 1.0], [2.0, 1.0], [1.0, 1.0]]))
    assert ends == pytest.approx([1.0, 1.0, 0.5] if highest else [0.0, 0.0, 0.5])
    assert list(top.creases.values()) == [highest]


def test_facets_of_a_curve_are_one_group() -> None:
    """Four that turn by 3 degrees each, then one that turns by 20."""
    angles = np.radians([0.0, 3.0, 6.0, 9.0, 29.0])
    facets = shapely.box(np.arange(5.0), 0.0, np.arange(5.0) + 1.0, 1.0)
    gradients = 0.1 * np.column_stack([np.cos(angles), np.sin(angles)])
    top = slope_of(facets, np.column_stack([gradients, np.zeros(5)]))
    assert top.group[4] not in top.group[:3]
    assert len(top.creases) == 1
    assert len(set(top.group[:3].tolist())) == 1


def test_the_lowest_place_of_a_top_is_a_corner_of_it() -> None:
    """Of its region or of a facet within it."""
    top = plane_slope(SQUARE, np.array([0.25, 0.0, -1.0]))
    assert top.lowest(shapely.box(0.5, 0.5, 1.0, 1.0)) == pytest.approx(-0.875)
