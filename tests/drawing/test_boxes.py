"""How much of the pieces of a plan lies under turned rectangles."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.arrays import Floats
from poolgeo.drawing.boxes import Boxes, crossings

Place = tuple[float, float]
NEAR = st.floats(-3, 3).map(lambda value: round(value, 2))
PLACES = st.tuples(NEAR, NEAR)


def boxes(*turns: float) -> Boxes:
    """Rectangles 4 by 2 about the origin, turned."""
    count = len(turns)
    return Boxes(np.zeros((count, 2)), np.array(turns, float), np.full((count, 2), (2.0, 1.0)))


def under(some: Boxes, *pieces: tuple[Place, Place]) -> Floats:
    """The length under each box."""
    found = crossings(some, np.array(pieces, float).reshape(-1, 2, 2))
    return np.bincount(found.box, found.length, minlength=len(some)).astype(np.float64)


@pytest.mark.parametrize(
    ("ends", "length"),
    [
        (((-5, 0), (5, 0)), 4),
        (((0, -5), (0, 5)), 2),
        (((-1, 0), (1, 0)), 2),
        (((0, 0), (5, 0)), 2),
        (((0, 0), (0, 0)), 0),
        (((-5, 1.5), (5, 1.5)), 0),
        (((3, -5), (3, 5)), 0),
        (((-1, -1), (1, 1)), 2 * math.sqrt(2)),
        (((-2, 2), (3, -3)), 2 * math.sqrt(2)),
    ],
)
def test_a_piece_under_a_level_box(ends: tuple[Place, Place], length: float) -> None:
    assert under(boxes(0.0), ends) == pytest.approx([length])


def test_a_box_that_stands_upright_is_as_wide_as_it_was_high() -> None:
    assert under(boxes(0.0, math.pi / 2), ((-5, 0), (5, 0))) == pytest.approx([4, 2])


def test_a_box_can_be_taken_out_of_many() -> None:
    chosen = boxes(0.0, math.pi / 2, 0.0).take(np.array([1]))
    assert len(chosen) == 1
    assert under(chosen, ((-5, 0), (5, 0))) == pytest.approx([2])


def test_each_piece_keeps_its_number() -> None:
    found = crossings(boxes(0.0), np.array([((9, 9), (9, 8)), ((0, 0), (1, 0))], float))
    assert found.piece.tolist() == [1]
    assert found.length.tolist() == [1.0]


def test_nothing_lies_under_nothing() -> None:
    assert under(boxes(0.0)).tolist() == [0]
    assert under(boxes(), ((0, 0), (1, 0))).tolist() == []


@given(PLACES, st.floats(-math.pi, math.pi), st.lists(PLACES, min_size=2, max_size=6, unique=True))
def test_it_agrees_with_cutting_the_pieces(centre: Place, turn: float, path: list[Place]) -> None:
    box = Boxes(np.array([centre]), np.array([turn]), np.array([(1.5, 0.4)]))
    x, y = centre

    def cut(more: float) -> float:
        level = shapely.box(x - 1.5 - more, y - 0.4 - more, x + 1.5 + more, y + 0.4 + more)
        outline = shapely.affinity.rotate(level, turn, origin=centre, use_radians=True)
        lengths = [outline.intersection(shapely.LineString(pair)).length for pair in pairwise(path)]
        return float(sum(lengths))

    # a piece along the box's very border may count or not
    assert cut(-1e-9) - 1e-6 <= under(box, *pairwise(path))[0] <= cut(1e-9) + 1e-6
