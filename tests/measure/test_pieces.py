"""Pieces of the surface: how many there are, and how wide each is as a strip."""

from __future__ import annotations

import math

import pytest

from poolgeo.measure.pieces import Piece, pieces_of

from .quantities import PoolDict, circle, level, model_of, pool, rectangle

ROOM = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2)
FLIGHT = {"name": "flight", "shape": "side", "at": [4.0, 0.0], "width": 1.2, "going": 0.3,
          "risers": 4}  # fmt: skip


def pieces(file: PoolDict, kind: str) -> list[Piece]:
    """Return the pieces of one kind of surface."""
    return [item for item in pieces_of(model_of(file)) if item.patch.kind == kind]


def test_the_areas_of_all_pieces_are_those_of_the_surface() -> None:
    """Floor 8 x 4, walls 24 x 1.7, their top 24.5 x 0.25 and four squares less a corner each."""
    found = pieces_of(model_of(ROOM))
    assert {item.patch.kind: item.area for item in found} == pytest.approx(
        {"floor": 32.0, "wall": 24.0 * 1.7, "wall top": 8.5 * 4.5 - 32.0}
    )
    assert {item.patch.kind: item.wet_area for item in found} == pytest.approx(
        {"floor": 32.0, "wall": 24.0 * 1.5, "wall top": 0.0}, abs=1e-9
    )
    assert all(sum(item.zones) == pytest.approx(item.area) for item in found)


def test_a_floor_is_as_wide_as_its_shorter_side() -> None:
    (floor,) = pieces(ROOM, "floor")
    assert floor.width == pytest.approx(4.0)
    assert floor.length == pytest.approx(8.0)


@pytest.mark.parametrize("width", [0.3, 0.45, 0.7])
def test_a_straight_bench(width: float) -> None:
    """A rectangle of 4 m by its width; its front 1 m high about three sides."""
    bench = [{"start": [-2, -2], "end": [2, -2], "width": width, "depth": 0.5}]
    (top,) = pieces(ROOM | {"bench": bench}, "bench top")
    assert top.width == pytest.approx(width)
    assert top.length == pytest.approx(4.0)
    (face,) = pieces(ROOM | {"bench": bench}, "bench face")
    assert face.width == pytest.approx(1.0)
    assert face.length == pytest.approx(4.0 + 2 * width)


def test_a_bench_about_a_corner() -> None:
    """It turns by a right angle: outer and inner border together are twice the middle's length."""
    bench = [{"start": [2, -2], "end": [4, 1], "width": 0.5, "depth": 0.5}]
    (top,) = pieces(ROOM | {"bench": bench}, "bench top")
    assert top.width == pytest.approx(0.5)
    assert top.length == pytest.approx(1.75 + 2.75)


def test_a_bench_along_an_arc() -> None:
    """A quarter of a ring between 2.0 and 1.6; its ends are square to the wall."""
    bench = [{"start": [2, 0], "end": [0, 2], "width": 0.4, "depth": 0.5}]
    (top,) = pieces(pool(circle(2.0), level(1.5), bench=bench), "bench top")
    assert top.width == pytest.approx(0.4, rel=2e-3)
    assert top.length == pytest.approx(math.pi / 2 * 1.8, rel=2e-3)


def test_treads_and_risers_of_a_flight() -> None:
    """Treads of 0.3 by 1.2, risers of 1.5 / 5 by 1.2."""
    for kind in ("tread", "riser"):
        found = pieces(ROOM | {"steps": [FLIGHT]}, kind)
        assert [item.width for item in found] == pytest.approx([0.3] * 4)
        assert [item.length for item in found] == pytest.approx([1.2] * 4)


class TestRings:
    """Strips that close on themselves: they have no ends."""

    def test_a_bench_all_round(self) -> None:
        """Between radii 2.0 and 1.55."""
        file = pool(circle(2.0), level(1.5), bench=[{"width": 0.45, "depth": 0.5}])
        (top,) = pieces(file, "bench top")
        assert top.width == pytest.approx(0.45, rel=2e-3)
        (face,) = pieces(file, "bench face")
        assert face.width == pytest.approx(1.0, rel=2e-3)
        assert face.length == pytest.approx(2 * math.pi * 1.55, rel=2e-3)

    def test_the_top_of_a_wall_all_round(self) -> None:
        """A frame of 0.25 m; its middle runs 2 (8.25 + 4.25)."""
        (top,) = pieces(ROOM, "wall top")
        assert top.width == pytest.approx(0.25)
        assert top.length == pytest.approx(25.0)

    def test_the_wall_of_a_box(self) -> None:
        """The wall of a box."""
        (wall,) = pieces(ROOM, "wall")
        assert wall.width == pytest.approx(1.7)
        assert wall.length == pytest.approx(24.0)


def test_a_disc_is_taken_as_a_square() -> None:
    """What is rounder than a square has no longer side."""
    block = {"name": "block", "outline": circle(0.5), "top": 0.3}
    file = pool(rectangle(8.0, 4.0), level(1.5), islands=[block])
    (top,) = [item for item in pieces(file, "wall top") if item.patch.feature == "block"]
    assert top.width == pytest.approx(math.sqrt(math.pi) / 2, rel=1e-3)


def test_what_does_not_hang_together_is_two_pieces() -> None:
    """A flight from wall to wall would part a floor; two benches are two tops."""
    bench = [{"start": [-3, -2], "end": [-1, -2], "width": 0.4, "depth": 0.5},
             {"start": [1, -2], "end": [3, -2], "width": 0.5, "depth": 0.5}]  # fmt: skip
    found = pieces(ROOM | {"bench": bench}, "bench top")
    assert sorted(item.width for item in found) == pytest.approx([0.4, 0.5])
    assert [item.length for item in found] == pytest.approx([2.0, 2.0])
