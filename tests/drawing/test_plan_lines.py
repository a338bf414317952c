"""Runs and rims seen from above."""

from __future__ import annotations

import numpy as np
import pytest

from poolgeo.drawing.plan_lines import Drawn, PlanLine, Projection, joined, rims
from poolgeo.mesh import Mesh, Patch

METRES = Projection(1.0, 6)
SQUARE = PlanLine(((0, 0), (1, 0), (1, 1), (0, 1)), closed=True)


def test_coordinates_are_scaled_and_rounded() -> None:
    assert Projection(1000.0, 3).place((1.23456789, -0.0000001, 5.0)) == (1234.568, 0.0)


def test_the_height_of_a_run_is_left_out_and_repeated_places_are_dropped() -> None:
    path = np.array([(0, 0, 0), (0, 0, -1), (2, 0, -1), (2, 0, -2), (2, 3, -2)], float)
    assert METRES.line(path) == PlanLine(((0, 0), (2, 0), (2, 3)))


def test_an_upright_run_has_no_line() -> None:
    assert METRES.line(np.array([(1, 2, 0), (1, 2, -1)], float)) is None


def test_a_run_that_ends_where_it_began_is_closed() -> None:
    path = np.array([(0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 0)], float)
    assert METRES.line(path) == SQUARE


def test_a_run_there_and_back_is_not_closed() -> None:
    path = np.array([(0, 0, 0), (1, 0, 0), (0, 0, -1)], float)
    assert METRES.line(path) == PlanLine(((0, 0), (1, 0)))


def test_an_outline_is_closed_without_its_first_point_again() -> None:
    assert METRES.line(np.array([(0, 0), (1, 0), (1, 1), (0, 1)], float), closed=True) == SQUARE
    assert SQUARE.length == pytest.approx(4)


def test_what_is_drawn_already_is_not_drawn_again() -> None:
    drawn = Drawn()
    assert list(drawn.fresh(SQUARE)) == [SQUARE]
    assert list(drawn.fresh(SQUARE)) == []
    assert list(drawn.fresh(PlanLine(((1, 1), (1, 0))))) == []


def test_only_the_new_parts_of_a_line_are_drawn() -> None:
    drawn = Drawn()
    list(drawn.fresh(PlanLine(((1, 0), (2, 0)))))
    line = PlanLine(((0, 0), (1, 0), (2, 0), (3, 0), (3, 1)))
    assert list(drawn.fresh(line)) == [
        PlanLine(((0, 0), (1, 0))),
        PlanLine(((2, 0), (3, 0), (3, 1))),
    ]


def test_pieces_are_joined_up_to_where_three_meet() -> None:
    """A square with a line across: two halves and the line, each in one."""
    ring = [(0, 0), (1, 0), (2, 0), (2, 1), (1, 1), (0, 1)]
    pieces = [tuple(sorted(pair)) for pair in zip(ring, ring[1:] + ring[:1], strict=True)]
    lines = joined({(a, b) for a, b in pieces} | {((1, 0), (1, 1))})
    assert sorted(line.length for line in lines) == [1, 3, 3]
    assert not any(line.closed for line in lines)


def test_a_ring_is_joined_into_one_closed_line() -> None:
    (line,) = joined({((0, 0), (1, 0)), ((1, 0), (1, 1)), ((0, 1), (1, 1)), ((0, 0), (0, 1))})
    assert line.closed
    assert sorted(line.points) == [(0, 0), (0, 1), (1, 0), (1, 1)]


def test_a_loop_that_hangs_on_a_junction_is_closed() -> None:
    lines = joined({((0, 0), (1, 0)), ((1, 0), (2, 1)), ((2, 1), (2, -1)), ((1, 0), (2, -1))})
    assert sorted((line.closed, len(line.points)) for line in lines) == [(False, 2), (True, 3)]


def flat(*, heights: tuple[float, float], patches: tuple[Patch, ...], patch: list[int]) -> Mesh:
    """Two unit squares beside each other, the second at a height of its own."""
    low, high = heights
    corners = [(0, 0, low), (1, 0, low), (1, 1, low), (0, 1, low)]
    corners += [(1, 0, high), (2, 0, high), (2, 1, high), (1, 1, high)]
    triangles = [(0, 1, 2), (0, 2, 3), (4, 5, 6), (4, 6, 7)]
    return Mesh(np.array(corners, float), np.array(triangles), np.array(patch, np.int64), patches)


def test_the_line_between_two_treads_is_there_once() -> None:
    patches = (Patch("pool", "tread", "1"), Patch("pool", "tread", "2"))
    lines = rims(flat(heights=(0, -1), patches=patches, patch=[0, 0, 1, 1]), {"tread"}, METRES)
    assert sum(line.length for line in lines) == pytest.approx(7)
    assert len(lines) == 3


def test_the_line_between_two_treads_of_one_patch_is_there_by_their_heights() -> None:
    """One label for a whole flight: the sides are told apart by height."""
    patches = (Patch("pool", "tread", "steps"),)
    mesh = flat(heights=(0, -1), patches=patches, patch=[0, 0, 0, 0])
    assert sum(line.length for line in rims(mesh, {"tread"}, METRES)) == pytest.approx(7)


def test_there_is_no_line_inside_a_patch() -> None:
    patches = (Patch("pool", "tread", "steps"),)
    mesh = flat(heights=(0, 0), patches=patches, patch=[0, 0, 0, 0])
    (line,) = rims(mesh, {"tread"}, METRES)
    assert line.closed
    assert line.length == pytest.approx(6)


def test_there_is_no_line_between_patches_that_run_on() -> None:
    """Two stretches of one kind at one height, such as a cove to the left and right of a cut."""
    patches = (Patch("pool", "cove", "1"), Patch("pool", "cove", "2"))
    (line,) = rims(flat(heights=(0, 0), patches=patches, patch=[0, 0, 1, 1]), {"cove"}, METRES)
    assert line.closed


def test_other_kinds_have_no_rims_here() -> None:
    patches = (Patch("pool", "floor", "floor"),)
    assert rims(flat(heights=(0, 0), patches=patches, patch=[0] * 4), {"tread"}, METRES) == []
