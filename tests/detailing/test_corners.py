"""Corners: where three edges or more that are worked on meet, and what is set there."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from poolgeo.detailing.rows import Detailing

from ..measure.quantities import PoolDict, circle, level, polygon, pool, rectangle
from .systems import TAPE, detailed, done, rule, total

BOX = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2)
BENCH = {"start": [-2, -2], "end": [2, -2], "width": 0.45, "depth": 0.5}
ALL = rule(TAPE, name="all")
INTERNAL = rule(TAPE, name="internal", sense="internal")
PIECE = {"do": "piece", "material": "corner"}


def corners(file: PoolDict, *edges: dict[str, Any], **rules: Any) -> Detailing:
    """Apply rules for edges, all worked on if none is given, and others."""
    return detailed(file, edges=list(edges or (ALL,)), **rules)


def senses(found: Detailing) -> Counter[str]:
    """Count the corners of each sense."""
    return Counter(item.sense for item in found.corners)


class TestBox:
    """8 m by 4 m: four corners at the floor, four at the wall's top."""

    def test_four_inside_corners_of_three_edges(self) -> None:
        """Of each two floor/wall and the upright wall/wall."""
        found = corners(BOX, INTERNAL)
        assert [(item.sense, item.edges) for item in found.corners] == [("inside", 3)] * 4
        assert [item.number for item in found.corners] == ["K1", "K2", "K3", "K4"]
        assert {tuple(round(x, 6) for x in item.junction.point) for item in found.corners} == {
            (x, y, -1.5) for x in (-4, 4) for y in (-2, 2)
        }

    def test_with_the_wall_tops_worked_on_there_are_mixed_ones(self) -> None:
        """With the wall tops worked on there are mixed ones."""
        assert senses(corners(BOX)) == {"inside": 4, "mixed": 4}

    def test_two_worked_edges_make_no_corner(self) -> None:
        """The upright edges have a rule without work, or none at all."""
        foot = rule(TAPE, kinds=["floor/wall"])
        assert corners(BOX, foot).corners == ()
        assert corners(BOX, foot, rule(name="upright", sense="internal")).corners == ()

    def test_an_edge_that_is_worked_on_elsewhere_makes_no_corner(self) -> None:
        """Upright edges are worked on below the band only: at the wall's top two edges are left."""
        found = corners(
            BOX,
            rule(TAPE, name="top", sense="external"),
            rule(TAPE, name="below", kinds=["wall/wall", "floor/wall"], zones=["below band"]),
        )
        assert senses(found) == {"inside": 4}

    def test_their_rule_and_pieces(self) -> None:
        """Two pieces in each of four corners below; the mixed ones above have no rule."""
        inside = {**rule({**PIECE, "count": 2}, sense="inside", edges=3), "name": "inside"}
        found = corners(BOX, corners=[inside])
        assert total(found, "piece") == 8.0
        rows = done(found, "piece")
        assert {(row.place, row.kind, row.rule, row.material, row.unit) for row in rows} == {
            ("corner", "inside corner", "inside", "corner", "pieces")
        }
        assert [row.wet for row in rows] == [1.0] * 4
        assert {row.zones for row in rows} == {(1.0, 0.0, 0.0, 0.0, 0.0)}
        rules = Counter((item.sense, item.rule) for item in found.corners)
        assert rules == {("inside", "inside"): 4, ("mixed", ""): 4}
        assert {row.number for row in rows} == {
            item.number for item in found.corners if item.sense == "inside"
        }

    @pytest.mark.parametrize(
        ("where", "count"),
        [
            ({}, 8),
            ({"sense": "mixed"}, 4),
            ({"sense": "outside"}, 0),
            ({"edges": 3}, 8),
            ({"edges": 4}, 0),
            ({"wet": True}, 4),
            ({"wet": False}, 4),
            ({"zones": ["below band"]}, 4),
            ({"zones": ["waterline band"]}, 0),
            ({"bodies": ["pool"]}, 8),
            ({"bodies": ["spa"]}, 0),
        ],
    )
    def test_a_rule_takes_the_corners_of_its_places(
        self, where: dict[str, Any], count: int
    ) -> None:
        """A rule takes the corners of its places."""
        assert total(corners(BOX, corners=[rule(PIECE, **where)]), "piece") == count

    def test_the_first_rule_holds(self) -> None:
        """The first rule holds."""
        none = {**rule(sense="mixed"), "name": "none"}
        found = corners(BOX, corners=[none, {**rule(PIECE), "name": "rest"}])
        assert total(found, "piece") == 4.0
        assert Counter(item.rule for item in found.corners) == {"none": 4, "rest": 4}

    def test_as_json(self) -> None:
        """As JSON."""
        row = corners(BOX, INTERNAL).corners[0].as_dict()
        assert (row["number"], row["sense"], row["edges"], row["rule"]) == ("K1", "inside", 3, None)
        assert row["point"] == pytest.approx([-4.0, -2.0, -1.5])


def test_a_bench_has_mixed_corners() -> None:
    """Six of the box's foot and the bench's ends inside; two outside at the bench's front.

    Mixed: at each end of the bench one above at the wall and one at the front's foot, and four at
    the wall's top.
    """
    assert senses(corners(BOX | {"bench": [BENCH]})) == {"inside": 6, "outside": 2, "mixed": 8}


def test_a_bench_of_which_only_internal_edges_are_worked_on() -> None:
    """Three internal edges meet at the box's corners and at the foot of the bench's ends alone."""
    assert senses(corners(BOX | {"bench": [BENCH]}, INTERNAL)) == {"inside": 6}


def test_a_flight_has_an_outside_corner_at_each_end_of_a_nosing() -> None:
    """Four treads: eight of them; mixed below and above."""
    flight = {"shape": "side", "at": [-4, 0], "width": 1.2, "going": 0.3, "risers": 4}
    found = senses(corners(BOX | {"steps": [flight]}))
    assert found["outside"] == 8
    assert found["inside"] == 4 + 2
    assert found["mixed"] == 4 + 2 + 8


def test_an_island_with_square_corners() -> None:
    """Outside at its top, mixed at its foot."""
    block = {"name": "block", "outline": rectangle(1.0, 1.0), "top": 0.3}
    found = corners(BOX | {"islands": [block]})
    assert senses(found) == {"inside": 4, "mixed": 4 + 4, "outside": 4}
    high = [item for item in found.corners if item.sense == "outside"]
    assert [item.junction.point[2] for item in high] == pytest.approx([0.3] * 4)


def test_an_outside_corner_of_the_plan_is_mixed_at_the_floor() -> None:
    outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
    found = corners(pool(outline, level(1.5)), rule(TAPE, kinds=["wall/wall", "floor/wall"]))
    assert senses(found) == {"inside": 5, "mixed": 1}


def test_a_round_pool_has_none() -> None:
    assert corners(pool(circle(2.0), level(1.5))).corners == ()


def test_a_mitre_of_coves_is_none() -> None:
    """An upright edge and a mitre are two; the cove itself is no edge."""
    found = corners(BOX | {"cove": {"radius": 0.1}}, ALL, rule(TAPE, of="cove", name="cove"))
    assert senses(found) == {"mixed": 4}
