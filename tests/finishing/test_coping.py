"""Coping stones 0.3 m wide in modules of 0.5 m.

About a rectangle the backs are a rectangle too, longer by 2 w on each side: 8 w in all. About a
circle of radius R they lie on a circle of radius R + w.
"""

from __future__ import annotations

import math

import pytest

from .pools import STONES, coping, rectangle, taken_off

ROUND = {"shape": "circle", "radius": 2}


def test_rectangle() -> None:
    rows = coping()
    assert sorted(row.length for row in rows) == pytest.approx([3, 3, 6, 6])
    assert [row.outer_length - row.length for row in rows] == pytest.approx([0.6] * 4)
    assert [row.centre_length - row.length for row in rows] == pytest.approx([0.3] * 4)
    assert sum(row.outer_length for row in rows) == pytest.approx(18 + 8 * 0.3)
    assert [row.curved for row in rows] == [0.0] * 4
    assert [row.joint_outside for row in rows] == [None] * 4
    # the backs count at mitres: 6.6 / 0.5 = 13.2, 3.6 / 0.5 = 7.2
    assert sorted(row.stones for row in rows) == [8, 8, 14, 14]
    # 5 % more of all 44: 46.2
    assert sum(row.ordered for row in rows) == 47


def test_round_pool() -> None:
    (row,) = coping(outline=ROUND)
    # chords stand off the circle by 1 mm at most, so all lengths are a little short
    assert row.length == pytest.approx(2 * math.pi * 2.0, rel=1e-3)
    assert row.curved == pytest.approx(row.length)
    assert row.outer_length == pytest.approx(2 * math.pi * 2.3, rel=1e-3)
    assert row.centre_length == pytest.approx(2 * math.pi * 2.15, rel=1e-3)
    assert row.turn == pytest.approx(360.0)
    assert row.stones == 26  # 12.57 / 0.5 = 25.1
    # a stone with its joint turns by 0.5 / 2 m: its back joint opens by 0.3 m times that
    assert row.joint_outside == pytest.approx(0.005 + 0.3 * 0.5 / 2.0, rel=1e-3)


def test_overhang_moves_the_stones_over_the_water() -> None:
    stones = {**STONES, "overhang": 0.05}
    rows = taken_off(coping={"stones": stones}).coping
    assert sum(row.outer_length for row in rows) == pytest.approx(18 + 8 * 0.25)
    assert sum(row.centre_length for row in rows) == pytest.approx(18 + 8 * 0.10)
    (row,) = taken_off(coping={"stones": stones}, outline=ROUND).coping
    assert row.outer_length == pytest.approx(2 * math.pi * 2.25, rel=1e-3)
    # the inner edge of the stones lies on a circle of 1.95 m
    assert row.joint_outside == pytest.approx(0.005 + 0.3 * 0.5 / 1.95, rel=1e-3)


def test_rounded_corners_part_straight_from_curved() -> None:
    (row,) = coping(outline=rectangle(6, 3, corner_radius=1))
    assert row.straight == pytest.approx(2 * (4 + 1), rel=1e-3)
    assert row.curved == pytest.approx(2 * math.pi, rel=1e-3)
    assert row.outer_length - row.length == pytest.approx(2 * math.pi * 0.3)
    assert row.joint_outside == pytest.approx(0.005 + 0.3 * 0.5 / 1.0, rel=1e-3)


def test_coves_in_corners_carry_stones_too() -> None:
    rows = coping(cove={"radius": 0.1, "corners": True})
    # all in all the backs turn once round: longer by 2 pi w, wherever the turns are
    gain = math.fsum(row.outer_length - row.length for row in rows)
    assert gain == pytest.approx(2 * math.pi * 0.3, rel=2e-3)
    assert math.fsum(row.curved for row in rows) == pytest.approx(2 * math.pi * 0.1, rel=1e-2)


def test_concave_corner_is_shorter_at_the_back() -> None:
    points = [[0, 0], [6, 0], [6, 3], [3, 3], [3, 6], [0, 6]]
    rows = coping(outline={"shape": "polygon", "points": points})
    # five corners gain 2 w each, the one that looks into the water loses as much
    gains = sorted(row.outer_length - row.length for row in rows)
    assert gains == pytest.approx([0, 0, 0.6, 0.6, 0.6, 0.6], abs=1e-9)
    # where nothing is gained the edge itself counts: 3 / 0.5
    assert min(row.stones for row in rows) == 6


@pytest.mark.parametrize("clockwise", [False, True])
def test_island_is_shorter_at_the_back(*, clockwise: bool) -> None:
    points = [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]]
    island = {"outline": {"shape": "polygon", "points": points[::-1] if clockwise else points}}
    rows = coping(islands=[island])
    own = [row for row in rows if row.length < 2.0]
    assert [row.length for row in own] == pytest.approx([1.0] * 4)
    assert [row.outer_length for row in own] == pytest.approx([0.4] * 4)


def test_round_island_turns_the_other_way() -> None:
    rows = coping(islands=[{"outline": {"shape": "circle", "radius": 0.6}}])
    (row,) = [row for row in rows if row.curved]
    assert row.turn == pytest.approx(-360.0)
    assert row.outer_length == pytest.approx(2 * math.pi * 0.3, rel=3e-3)
    assert row.joint_outside == pytest.approx(0.005 - 0.3 * 0.5 / 0.6, rel=3e-3)


def test_an_oblique_corner_is_mitred_at_half_its_turn() -> None:
    # a regular hexagon: six corners of 60 degrees, each longer by 2 w tan(30 deg)
    points = [[2 * math.cos(k * math.pi / 3), 2 * math.sin(k * math.pi / 3)] for k in range(6)]
    rows = coping(outline={"shape": "polygon", "points": points})
    gain = sum(row.outer_length - row.length for row in rows)
    assert gain == pytest.approx(6 * 2 * 0.3 * math.tan(math.pi / 6))


def test_a_run_that_closes_at_a_corner_is_mitred_there() -> None:
    # a drop: tangents from (0, 0) to a circle of 2 m about (4, 0) meet at 60 degrees
    side = math.sqrt(3.0)
    points = [[0, 0], [3, -side, side], [3, side]]
    (row,) = coping(outline={"shape": "polyline", "points": points})
    assert row.turn == pytest.approx(360.0)
    assert row.curved == pytest.approx(2.0 * math.radians(240), rel=1e-2)
    # 240 degrees round, and a corner that turns by 120
    gain = 0.3 * (math.radians(240) + 2 * math.tan(math.radians(60)))
    assert row.outer_length - row.length == pytest.approx(gain, rel=1e-6)


def test_only_bodies_that_are_asked_for() -> None:
    spa = {"name": "tub", "outline": rectangle(1.5, 1.5, centre=[8, 0]), "depth": 0.9,
           "freeboard": 0.2}  # fmt: skip
    rows = taken_off(coping={"stones": {**STONES, "bodies": ["tub"]}}, spas=[spa]).coping
    assert [row.body for row in rows] == ["tub"] * 4
    assert [row.length for row in rows] == pytest.approx([1.5] * 4)
