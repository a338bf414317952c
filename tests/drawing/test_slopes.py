"""Slopes of floors and the arrows that show them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from shapely import LineString, Point, box

from poolgeo.drawing.slopes import MOST, MOST_OF_ONE, Fall, arrow_of, fall_label, falls_of
from poolgeo.model import Model

from .pools import METRES, built

HEIGHT = 0.1
"""Of text [m]."""

CIRCLE = {"shape": "circle", "radius": 3.0}
"""An outline about the origin."""


def falls(**changes: Any) -> list[Fall]:
    """How the floors of a box with changes fall."""
    return falls_of(built(**changes), HEIGHT)


def height_at(model: Model, place: tuple[float, float]) -> float:
    """The height of the surface at a plan place, from the plane of the triangle there [m]."""
    mesh = model.surface
    for row, corners in enumerate(mesh.vertices[mesh.triangles]):
        normal = mesh.doubled_areas[row]
        if normal[2] > 1e-9 and LineString([*corners[:, :2], corners[0, :2]]).envelope.covers(
            Point(place)
        ):
            a, b, c = corners[:, :2]
            share = np.linalg.solve(np.column_stack([b - a, c - a]), np.array(place) - a)
            if share.min() > -1e-9 and share.sum() < 1.0 + 1e-9:
                return float(corners[0, 2] + share @ (corners[1:, 2] - corners[0, 2]))
    raise AssertionError(place)


def test_a_level_floor_has_no_arrow() -> None:
    assert falls() == []


def test_a_plane_has_one_arrow_with_the_slope_of_the_file() -> None:
    floor = {"shape": "plane", "depth": 1.2, "at": [6, 0], "fall": 0.03, "direction": 180}
    (fall,) = falls(floor=floor)
    assert (fall.body, fall.kind, fall.text) == ("pool", "floor", "3.0 %")
    assert fall.way == pytest.approx((-1.0, 0.0))
    assert fall.slope == pytest.approx(0.03)
    assert fall.length == pytest.approx(6 * HEIGHT)


def test_each_piece_has_its_own_arrow() -> None:
    breaks = [{"at": 1, "depth": 1.0}, {"at": 3, "depth": 1.1}, {"at": 5, "depth": 1.6}]
    found = falls(floor={"shape": "breaks", "direction": 0, "breaks": breaks})
    assert sorted(fall.text for fall in found) == ["1:4", "5.0 %"]


def test_the_head_lies_lower_than_the_tail_by_what_the_text_says() -> None:
    model = built(
        outline=CIRCLE,
        floor={"shape": "dished", "at": [0.4, 0.2], "depth": 1.8, "edge_depth": 1.2, "reach": 4},
    )
    found = falls_of(model, HEIGHT)
    assert 1 < len(found) <= MOST_OF_ONE
    for fall in found:
        high, low = (height_at(model, end) for end in fall.ends)
        assert high - low == pytest.approx(fall.slope * fall.length, rel=1e-6)
        assert high > low


def test_arrows_stay_within_their_pieces_and_are_few() -> None:
    spots = [{"at": [x, y], "depth": 1.2 + 0.1 * ((2 * x + 3 * y) % 5)}
             for x in (1, 3, 5) for y in (0.5, 2.5)]  # fmt: skip
    found = falls(floor={"shape": "spots", "spots": spots})
    assert 1 < len(found) <= MOST
    for fall in found:
        assert box(0, 0, 6, 3).covers(LineString(fall.ends))
    areas = [round(fall.area, 6) for fall in found]
    assert areas == sorted(areas, reverse=True)


def test_a_piece_without_room_has_no_arrow() -> None:
    breaks = [{"at": 2.9, "depth": 1.0}, {"at": 3.1, "depth": 1.05}]
    assert falls(floor={"shape": "breaks", "direction": 0, "breaks": breaks}) == []


@pytest.mark.parametrize(
    ("slope", "text"),
    [(0.02, "2.0 %"), (0.0994, "9.9 %"), (0.1, "1:10"), (1 / 7.5, "1:7.5"), (0.25, "1:4"),
     (1.0, "1:1")],
)  # fmt: skip
def test_gentle_slopes_are_in_per_cent_and_steep_ones_ratios(slope: float, text: str) -> None:
    fall = Fall("pool", "floor", (0.0, 0.0), (1.0, 0.0), slope, 1.0, 1.0)
    assert fall.text == text


def test_an_arrow_is_a_shaft_with_a_head_at_its_lower_end() -> None:
    fall = Fall("pool", "floor", (2.0, 1.0), (0.0, -1.0), 0.05, 1.0, 4.0)
    shaft, head = arrow_of(fall, METRES, HEIGHT)
    assert shaft.points == ((2.0, 1.5), (2.0, 0.5))
    assert head.points[1] == (2.0, 0.5)
    assert [y for _, y in head.points] == [0.58, 0.5, 0.58]


def test_the_text_stands_along_the_shaft_and_reads_upright() -> None:
    fall = Fall("pool", "floor", (2.0, 1.0), (0.0, -1.0), 0.05, 1.0, 4.0)
    label = fall_label(fall, METRES, HEIGHT)
    assert label.text == "5.0 %"
    assert label.positions[0].angle == pytest.approx(90.0)
    assert math.dist(label.positions[0].centre, fall.place) < 2 * HEIGHT
    turned = replace(fall, way=(-1.0, 0.0))
    assert fall_label(turned, METRES, HEIGHT).positions[0].angle == pytest.approx(0.0)
