"""Area tags."""

from __future__ import annotations

from typing import Any

import pytest
from shapely import Point, box

import poolgeo
from poolgeo.drawing.area_tags import area_tags
from poolgeo.drawing.labels import Label
from poolgeo.model import Model

from .pools import METRES, built

HEIGHT = 0.1
"""Of text [m]."""

STEPS = {"name": "steps", "shape": "side", "at": [0, 1.5], "width": 1.2, "going": 0.3, "risers": 4}


def tags(model: Model, height: float = HEIGHT) -> list[Label]:
    """The tags of a pool."""
    return list(area_tags(model, poolgeo.measure(model), METRES, height))


def test_texts_are_the_areas_of_the_table() -> None:
    floor = {"shape": "plane", "depth": 1.2, "at": [6, 0], "fall": 0.1, "direction": 180}
    model = built(steps=[STEPS], floor=floor, cove={"radius": 0.1})
    texts = [label.text for label in tags(model)]
    rows = {row.kind: row.area for row in poolgeo.measure(model).areas}
    assert texts == [
        f"{kind.capitalize()} {rows[kind]:.2f} m2" for kind in ("floor", "tread", "wall top")
    ]


def test_walls_and_coves_have_none() -> None:
    model = built(cove={"radius": 0.3}, batter={"slope": 0.2})
    assert [label.text.split()[0] for label in tags(model)] == ["Floor", "Wall"]
    assert tags(model)[1].text.startswith("Wall top ")


def test_a_file_in_feet_has_square_feet() -> None:
    changes: dict[str, Any] = {
        "units": "ft", "outline": {"shape": "rectangle", "length": 20, "width": 10},
        "floor": {"shape": "level", "depth": 5}, "freeboard": 0.5, "shell": {"wall": 1, "floor": 1},
    }  # fmt: skip
    assert [label.text for label in tags(built(**changes))] == [
        "Floor 200.00 ft2", "Wall top 64.00 ft2"
    ]  # fmt: skip


def test_a_tag_stands_within_its_surface_where_it_fits() -> None:
    floor, wall = tags(built())
    first = floor.positions[0]
    assert first.leader is None
    assert first.centre == pytest.approx((3.0, 1.5), abs=1.5)
    assert box(0, 0, 6, 3).contains(Point(first.centre))
    assert all(item.leader is not None for item in wall.positions), "the wall top is too narrow"


def test_leaders_start_on_the_surface() -> None:
    _, wall = tags(built())
    top = box(-0.25, -0.25, 6.25, 3.25).difference(box(0, 0, 6, 3))
    for item in wall.positions:
        assert item.leader is not None
        assert top.contains(Point(item.leader[0]))


def test_what_is_smaller_than_a_letter_is_left_to_the_table() -> None:
    model = built(steps=[STEPS])
    assert len(tags(model, 0.1)) == 3
    assert len(tags(model, 1.3)) == 2, "1.44 m2 of treads"
