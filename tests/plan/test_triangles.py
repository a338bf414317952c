"""Triangulation: every vertex kept, every triangle anticlockwise and with an area."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from poolgeo.arrays import Floats, Ints
from poolgeo.plan.tolerances import GRID
from poolgeo.plan.triangles import triangulate


def numbered(rings: list[Floats]) -> tuple[Floats, list[list[Ints]]]:
    """Return vertices on the grid, and one face of rings of vertex numbers."""
    ends = np.cumsum([0, *map(len, rings)])
    places = np.rint(np.concatenate(rings) / GRID) * GRID
    return places, [[np.arange(a, b) for a, b in pairwise(ends.tolist())]]


def doubled_areas(corners: Floats) -> Floats:
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    areas: Floats = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return areas


def divided(corners: Floats, parts: int) -> Floats:
    """Return a closed line with further vertices on its sides."""
    share = np.arange(parts)[:, None] / parts
    sides = [a + share * (b - a) for a, b in zip(corners, np.roll(corners, -1, 0), strict=True)]
    return np.concatenate(sides)


def star(radii: list[float], turn: float) -> Floats:
    angle = turn + 2.0 * np.pi * np.arange(len(radii)) / len(radii)
    found: Floats = np.array(radii)[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    return found


@pytest.mark.parametrize("leans", [False, True])
@settings(max_examples=60)
@drawn(
    st.lists(st.floats(1.5, 4.0), min_size=4, max_size=9),
    st.floats(0.0, math.pi),
    st.integers(1, 4),
    st.booleans(),
)
def test_polygons_are_filled_and_keep_all_their_vertices(
    leans: bool, radii: list[float], turn: float, parts: int, hole: bool
) -> None:
    """With vertices on straight sides, which lie off them by less than the grid; with a hole."""
    rings = [divided(star(radii, turn), parts)]
    if hole:
        rings.append(divided(star([0.8] * 4, turn)[::-1], parts))
    vertices, faces = numbered(rings)
    found = triangulate(vertices, faces, np.array([leans]))
    assert set(found.ravel().tolist()) == set(range(len(vertices)))
    assert len(found) == len(vertices) - 2 + 2 * hole
    areas = doubled_areas(vertices[found])
    assert areas.min() > GRID * GRID / 2.0
    outline, *holes = (vertices[ring] for ring in faces[0])
    assert areas.sum() / 2.0 == pytest.approx(shapely.Polygon(outline, holes).area, rel=1e-9)


def test_vertices_on_a_side_give_no_flat_triangles() -> None:
    """The side of a flight: its vertices lie on one line to the last digit, and no further."""
    side = [[1.359949, 0.21365], [1.219949, 0.213871], [1.079949, 0.214092],
            [0.939949, 0.214313], [0.799949, 0.214534]]  # fmt: skip
    vertices, faces = numbered([np.array([*side[::-1], [1.4, 0.9], [0.7, 0.9]])])
    found = triangulate(vertices, faces, np.array([False]))
    assert len(found) == 5
    assert doubled_areas(vertices[found]).min() > 1e-6


def test_rings_may_touch_in_a_vertex() -> None:
    """A hole that touches its outline: the two share a place, and no triangle lies there."""
    outline = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]])
    hole = np.array([[0.0, 0.0], [1.0, 2.0], [2.0, 1.0]])
    vertices, faces = numbered([outline, hole])
    found = triangulate(vertices, faces, np.array([False]))
    areas = doubled_areas(vertices[found])
    assert areas.min() > 0.0
    assert areas.sum() / 2.0 == pytest.approx(16.0 - 1.5)
