"""What a section says of depths, levels and places."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely

import poolgeo
from poolgeo.drawing import contents
from poolgeo.drawing.positions import box_about
from poolgeo.drawing.section import Section, cut_lines_of, section_of
from poolgeo.drawing.section_levels import floor_points, room_for_tags, stations_of
from poolgeo.drawing.section_view import SAID_FROM, section_view
from poolgeo.drawing.sheet import Plot
from poolgeo.drawing.view import View
from poolgeo.model import Model
from poolgeo.surface.slices import Straight

from .pools import METRES, built, shell

SAMPLES = Path(__file__).resolve().parents[2] / "samples"

PLOT = Plot("A3", 50, "1:50", 0.125)

ALONG = (-1.0, 1.3), (7.0, 1.3)

SPA = {"outline": {"shape": "rectangle", "length": 1.6, "width": 1.6, "centre": [2, 1.5]},
       "raised": 0.3, "freeboard": 0.1, "depth": 0.9, "dam_wall": 0.2}  # fmt: skip
"""Its water stands 300 mm over the pool's, its floor 600 mm below that."""


def cut(
    model: Model, start: tuple[float, float] = ALONG[0], end: tuple[float, float] = ALONG[1]
) -> Section:
    """Cut a pool."""
    return section_of(model, poolgeo.measure(model), "A", Straight.of(start, end))


def seen(model: Model) -> View:
    """Lay the section along a box out."""
    return section_view(model, cut(model), METRES, PLOT)


def depths(view: View) -> list[str]:
    """Return the depths that a view says."""
    return sorted(text.text for text in view.texts if text.content == contents.DEPTHS)


def said(view: View, axis: int) -> set[str]:
    """Return running dimensions of a view."""
    return {item.text for item in view.ordinates if item.axis == axis}


def test_depths_of_a_spa_count_from_its_own_water() -> None:
    view = seen(built(spas=[SPA]))
    assert depths(view) == ["0.900 m", "1.500 m", "1.500 m"]
    assert [note.text for note in view.notes] == [SAID_FROM]
    assert {"-1.500", "-0.600", "0.000", "0.150", "0.300", "0.400"} <= said(view, 1)
    assert {"-0.800", "-1.700"} <= said(view, 1)  # undersides


def test_depths_of_a_dry_channel_count_from_the_pool() -> None:
    channel = {"start": [0, 0.5], "end": [0, 2.5], "crest": 0, "width": 0.25, "depth": 0.3,
               "deck": 0.15}  # fmt: skip
    model = built(channels=[channel])
    assert any(body.is_dry for body in model.bodies)
    assert depths(seen(model)) == ["0.300 m", "1.500 m"]


def test_levels_of_one_body_need_no_word() -> None:
    assert seen(built()).notes == []


def test_places_are_the_faces_of_walls_not_where_coves_end() -> None:
    model = built(spas=[SPA], cove={"radius": 0.2, "also_at": ["dam walls"]})
    faces = [0.75, 1.0, 2.0, 2.2, 3.8, 4.0, 7.0, 7.25]
    assert stations_of(cut(model)).tolist() == pytest.approx(faces, abs=1e-6)


def test_a_battered_wall_is_given_at_its_top() -> None:
    leaning = built(batter={"slope": 0.2})
    assert stations_of(cut(leaning))[:2].tolist() == pytest.approx([0.75, 1.0], abs=1e-6)


def test_levels_have_seats_treads_and_both_undersides() -> None:
    model = built(
        shell=shell(floor=0.3),
        floor={"shape": "breaks", "origin": [0, 0],
               "breaks": [{"at": 2, "depth": 1.2}, {"at": 4, "depth": 1.5}]},
        steps=[{"shape": "side", "at": [0, 1.5], "width": 2.0, "going": 0.3, "risers": 3}],
        bench=[{"start": [6, 0], "end": [6, 3], "width": 0.45, "depth": 0.45}],
    )  # fmt: skip
    treads = {"-0.900", "-0.600", "-0.300"}
    rest = {"-1.800", "-1.500", "-1.200", "-0.450", "0.000", "0.150"}
    assert said(seen(model), 1) == treads | rest


def test_a_level_floor_has_one_depth_and_a_slope_two() -> None:
    assert depths(seen(built())) == ["1.500 m"]
    bent = built(floor={"shape": "breaks", "origin": [0, 0],
                        "breaks": [{"at": 2, "depth": 1.0}, {"at": 4, "depth": 1.5}]})  # fmt: skip
    assert depths(seen(bent)) == ["1.000 m", "1.500 m"]
    falling = built(floor={"shape": "plane", "at": [0, 0], "depth": 1.2, "direction": 0,
                           "fall": 0.1})  # fmt: skip
    assert depths(seen(falling)) == ["1.200 m", "1.800 m"]


def test_no_depth_stands_outside_concrete_and_water() -> None:
    model = built(spas=[SPA], floor={"shape": "plane", "at": [0, 0], "depth": 1.2, "direction": 0,
                                     "fall": 0.2})  # fmt: skip
    section = cut(model)
    room = room_for_tags(section)
    for text in section_view(model, section, METRES, PLOT).texts:
        assert room.covers(shapely.Polygon(box_about(text.at, text.text, PLOT.text)))


def test_a_strip_of_floor_too_narrow_for_its_depth_leaves_it_to_the_levels() -> None:
    model = built(spas=[SPA])
    section = cut(model, (2.0, 1.5), (3.2, 1.5))  # from the middle of the spa 200 mm into the pool
    view = section_view(model, section, METRES, PLOT)
    assert depths(view) == ["0.900 m"]
    assert "-1.500" in said(view, 1)


@pytest.mark.parametrize(("name", "most"), [("dished", 3), ("crowned", 9), ("beach", 8)])
def test_a_curved_floor_has_depths_at_its_ends_and_its_lowest_place(name: str, most: int) -> None:
    model = poolgeo.build(poolgeo.load(SAMPLES / f"{name}.yaml"))
    line = cut_lines_of(model)["A"]
    section = section_of(model, poolgeo.measure(model), "A", line)
    points = floor_points(section)
    assert 2 < len(points) <= most
    floors = [cut.points for cut in section.cuts if cut.kind == "floor"]
    assert points[:, 1].min() == pytest.approx(np.concatenate(floors)[:, 1].min(), abs=1e-3)


def test_a_dished_floor_gives_no_place_where_its_cove_begins() -> None:
    model = poolgeo.build(poolgeo.load(SAMPLES / "dished.yaml"))
    for name, line in cut_lines_of(model).items():
        section = section_of(model, poolgeo.measure(model), name, line)
        assert len(stations_of(section)) == 5
