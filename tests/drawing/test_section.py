"""Sections: what is cut has the areas that it must have, and only what is seen is seen beyond."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

import poolgeo
from poolgeo.drawing import contents
from poolgeo.drawing.section import Section, cut_lines_of, section_of
from poolgeo.drawing.section_levels import floor_points
from poolgeo.drawing.section_view import section_view
from poolgeo.drawing.sheet import Plot
from poolgeo.model import Model
from poolgeo.surface.slices import Straight

from .pools import METRES, built, shell

PLOT = Plot("A3", 50, "1:50", 0.125)


def cut(model: Model, start: tuple[float, float], end: tuple[float, float]) -> Section:
    """Cut a pool."""
    return section_of(model, poolgeo.measure(model), "A", Straight.of(start, end))


def test_concrete_and_water_of_a_box_have_their_areas() -> None:
    """6 m of water 1.5 m deep; walls of 0.25 m up to 1.65 m over a slab of 0.2 m below both."""
    section = cut(built(), (-1.0, 1.3), (7.0, 1.3))
    assert section.concrete.area == pytest.approx(6.5 * 0.2 + 2 * 0.25 * 1.65, abs=1e-6)
    assert section.water["pool"].area == pytest.approx(6.0 * 1.5, abs=1e-6)


@pytest.mark.parametrize("angle", [0.0, 30.0, 77.0])
def test_a_section_askew_is_longer_by_its_angle(angle: float) -> None:
    """Across the box from one long wall to the other: 3 m / cos of the angle."""
    turn = math.radians(angle)
    way = np.array([math.sin(turn), math.cos(turn)])
    middle = np.array([3.0, 1.5])
    length = 3.0 / math.cos(turn)
    if length * math.sin(turn) > 5.0:  # it leaves by the short walls
        length = 6.0 / math.sin(turn)
    (a, b), (c, d) = (middle - 4.0 * way).tolist(), (middle + 4.0 * way).tolist()
    section = cut(built(), (a, b), (c, d))
    assert section.water["pool"].area == pytest.approx(1.5 * length, abs=1e-6)


def test_a_section_is_as_long_as_its_line() -> None:
    section = cut(built(), (2.0, -1.0), (2.0, 1.5))
    assert section.reach == pytest.approx((0.75, -1.7, 2.5, 0.15), abs=1e-6)


def test_a_cove_is_cut_true() -> None:
    """Of a radius of 0.2 m: the corner less the quarter of a circle is more concrete, twice."""
    plain = cut(built(), (-1.0, 1.3), (7.0, 1.3))
    coved = cut(built(cove={"radius": 0.2}), (-1.0, 1.3), (7.0, 1.3))
    more = 2.0 * 0.2**2 * (1.0 - math.pi / 4.0)
    assert coved.concrete.area - plain.concrete.area == pytest.approx(more, rel=0.02)


def test_steps_in_front_hide_what_is_behind_them() -> None:
    """Seen from the south: a step 0.6 m long, its top 0.5 m deep, before a flight of five."""
    first = {"shape": "side", "at": [0, 0.8], "width": 0.8, "going": 0.6, "risers": 2}
    steps = [first, {**first, "at": [0, 2.2], "going": 0.2, "risers": 5}]
    section = cut(built(steps=steps), (-1.0, 0.25), (7.0, 0.25))
    seen = shapely.union_all([shapely.LineString(item.points) for item in section.beyond])
    block = shapely.box(1.001, -1.499, 1.599, -0.501)  # t is x + 1
    assert not seen.intersects(block)
    first_tread = shapely.LineString([(1.0, -0.25), (1.2, -0.25)])
    assert seen.intersection(first_tread.buffer(1e-3)).length > 0.19


def test_nothing_is_seen_before_the_line_or_beside_the_concrete() -> None:
    section = cut(built(), (-1.0, 1.3), (7.0, 1.3))
    left, _, right, _ = section.reach
    for item in section.beyond:
        assert item.points[:, 0].min() >= left - 1e-9
        assert item.points[:, 0].max() <= right + 1e-9
    assert not any(item.kind == "wall/wall" and 1.5 < item.points[0, 0] < 6.5
                   for item in section.beyond)  # fmt: skip


def test_floor_points_are_where_the_floor_begins_bends_and_ends() -> None:
    model = built(floor={"shape": "breaks", "origin": [0, 0],
                         "breaks": [{"at": 2, "depth": 1.0}, {"at": 4, "depth": 1.5}]})  # fmt: skip
    points = floor_points(cut(model, (-1.0, 1.3), (7.0, 1.3)))
    expected = [(1.0, -1.0), (3.0, -1.0), (5.0, -1.5), (7.0, -1.5)]
    assert points == pytest.approx(np.array(expected), abs=1e-6)


def test_the_usual_sections_go_along_and_across_through_the_deepest_place() -> None:
    model = built(floor={"shape": "plane", "at": [0, 0], "depth": 1.2, "direction": 0,
                         "fall": 0.1})  # fmt: skip
    lines = cut_lines_of(model)
    assert list(lines) == ["A", "B"]
    assert np.abs(lines["A"].way) == pytest.approx([1.0, 0.0])
    assert np.abs(lines["B"].way) == pytest.approx([0.0, 1.0])
    assert 5.0 < lines["B"].start[0] < 6.0  # the floor falls to the east


def test_the_pool_file_says_where_sections_are_cut() -> None:
    asked = {"sections": [{"name": "East", "start": [5, -1], "end": [5, 4]}]}
    lines = cut_lines_of(built(drawings=asked))
    assert list(lines) == ["East"]
    assert lines["East"].length == pytest.approx(5.0)


def test_dimensions_of_a_section_measure_what_is_cut() -> None:
    model = built(shell=shell(floor=0.3))
    section = cut(model, (-1.0, 1.3), (7.0, 1.3))
    view = section_view(model, section, METRES, PLOT)
    assert {item.text for item in view.dimensions} == {"6.500", "1.950"}
    levels = {item.text for item in view.ordinates if item.axis == 1}
    assert levels == {"-1.800", "-1.500", "0.000", "0.150"}
    places = {item.text for item in view.ordinates if item.axis == 0}
    assert places == {"0.000", "0.250", "6.250", "6.500"}


def test_depths_stand_in_the_water_rather_than_on_the_hatching() -> None:
    model = built()
    section = cut(model, (-1.0, 1.3), (7.0, 1.3))
    view = section_view(model, section, METRES, PLOT)
    depths = [text for text in view.texts if text.content == contents.DEPTHS]
    assert len(depths) == 1
    for text in depths:
        assert section.water["pool"].contains(shapely.Point(text.at.centre))


def test_what_is_cut_of_the_surface_ends_with_the_line() -> None:
    section = cut(built(), (2.0, -1.0), (2.0, 1.2))
    (floor,) = [item for item in section.cuts if item.kind == "floor"]
    assert (floor.points[:, 0].min(), floor.points[:, 0].max()) == pytest.approx((1.0, 2.2))
