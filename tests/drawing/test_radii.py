"""Radii of the arcs of outlines."""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.drawing.radii import ArcRadius, radii_of

from .pools import built


def radii(**changes: Any) -> list[ArcRadius]:
    """The radii of a box with changes."""
    return radii_of(built(**changes))


def rectangle(**more: Any) -> dict[str, Any]:
    """The outline of the box."""
    return {"shape": "rectangle", "length": 6, "width": 3, "centre": [3, 1.5], **more}


def test_straight_sides_have_none() -> None:
    assert radii() == []


def test_corners_of_one_radius_have_one() -> None:
    (found,) = radii(outline=rectangle(corner_radius=0.5))
    assert (found.body, found.radius) == ("pool", 0.5)
    assert math.dist(found.centre, found.at) == pytest.approx(0.5, abs=1e-5)
    corner = tuple(round(size, 9) for size in found.centre)
    assert corner in {(0.5, 0.5), (5.5, 0.5), (5.5, 2.5), (0.5, 2.5)}


def test_each_radius_is_there_once_the_largest_first() -> None:
    points = [[0, 0], [6, 0], [6, 3], [0, 3]]
    outline = {"shape": "polygon", "points": points, "corner_radius": [0.3, 1.0, 0.3, 0]}
    assert [item.radius for item in radii(outline=outline)] == [1.0, 0.3]


def test_a_curve_of_changing_radius_has_none() -> None:
    assert radii(outline={"shape": "ellipse", "length": 8, "width": 4}) == []
    spline = {"shape": "spline", "points": [[0, 0], [4, -0.5], [8, 0], [8, 4], [4, 3.5], [0, 4]]}
    assert radii(outline=spline) == []


def test_islands_and_spas_have_their_own() -> None:
    island = {"outline": {"shape": "circle", "radius": 0.4, "centre": [1.5, 1.5]}}
    spa = {"outline": {"shape": "circle", "radius": 0.8, "centre": [4, 1.5]}, "raised": 0.3,
           "freeboard": 0.1, "depth": 0.9, "dam_wall": 0.2}  # fmt: skip
    found = radii(islands=[island], spas=[spa])
    assert {(item.body, item.radius) for item in found} == {("island 1", 0.4), ("spa", 0.8)}


def test_shapes_put_together_have_the_arcs_that_are_left() -> None:
    """A circle about the middle of a short side adds half of itself."""
    parts = [{"add": rectangle()}, {"add": {"shape": "circle", "radius": 1.0, "centre": [6, 1.5]}}]
    (found,) = radii(outline={"shape": "combined", "parts": parts})
    assert found.radius == 1.0
    assert math.dist(found.at, (6.0, 1.5)) == pytest.approx(1.0, abs=1e-5)
    assert found.at[0] > 6.0


def test_an_arc_that_a_spa_takes_up_is_left_out() -> None:
    outline = {"shape": "polygon", "points": [[0, 0], [6, 0], [6, 3], [0, 3]],
               "corner_radius": [0.3, 0, 0, 0]}  # fmt: skip
    spa = {"outline": {"shape": "circle", "radius": 0.8, "centre": [0.2, 0.2]}, "raised": 0.3,
           "freeboard": 0.1, "depth": 0.9, "dam_wall": 0.2}  # fmt: skip
    assert [item.radius for item in radii(outline=outline, spas=[spa])] == [0.8]


def test_a_basin_along_the_wall_has_the_arcs_that_its_vertices_lie_on() -> None:
    outline = {"shape": "polygon", "points": [[0, 0], [6, 0], [6, 3], [0, 3]],
               "corner_radius": [1.0, 0, 0, 0]}  # fmt: skip
    basin = {"width": 0.5, "drop": 0.3, "depth": 0.5, "freeboard": 0.1}
    overflow = {"start": [0, 2.5], "end": [4, 0], "crest": 0, "thickness": 0.2, "basin": basin}
    found = radii(outline=outline, overflows=[overflow])
    assert [(item.body, round(item.radius, 3)) for item in found] == [("pool", 1.0), ("basin", 1.7)]


def test_corner_coves_are_arcs_of_the_outline() -> None:
    (found,) = radii(cove={"radius": 0.1, "corners": 0.2})
    assert found.radius == pytest.approx(0.2)
