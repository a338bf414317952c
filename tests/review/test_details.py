"""Details: what has no rule is told where the rule must stand; what is asked for is enough."""

from __future__ import annotations

import math
import re

import pytest

from .changes import internal_tape, of
from .said import keys, said
from .sound import GONE, works_of


def test_a_fitting_without_a_rule_is_told_among_the_fittings() -> None:
    changes = {"system.fittings.0.where": {"kinds": ["main drain", "return inlet"]}}
    assert said(changes) == [("fittings", "must have a rule for skimmer (F3)")]


def test_an_edge_with_an_empty_rule_is_decided_on() -> None:
    changes = {"system.edges.4": {"name": "rest", "work": []},
               "system.edges.3.where.kinds": ["floor/wall", "wall/wall"]}  # fmt: skip
    assert said(changes) == []


def test_six_corners_of_ten_are_named() -> None:
    """Of sixteen, six are inside: four of the floor, two where the bench's face meets the wall."""
    ((key, words),) = said({"system.corners.1": GONE}, "warning")
    assert key == "corners"
    assert len(re.findall(r"K\d+", words)) == 6
    assert ", ...)" in words
    corners = works_of({})[0].detailing.corners
    assert [item.rule for item in corners].count("inside") == 6
    assert len(corners) == 16


@pytest.mark.parametrize("size", [20, 30, 40, 50])
def test_a_tape_as_wide_as_is_asked_for_is_wide_enough(size: int) -> None:
    """The least is the leg times the root of two, and 30 mm at either side."""
    fillet = {"system.edges.3.work.0.size": size}
    ((key, words),) = said({**fillet, **internal_tape(61)})
    asked = re.search(r"at least ([\d.]+) mm wide", words)
    assert key == "edges[3].work[1].material"
    assert asked is not None
    assert float(asked[1]) == pytest.approx(size * math.sqrt(2.0) + 60.0, abs=1.0)
    assert said({**fillet, **internal_tape(float(asked[1]))}) == []


@pytest.mark.parametrize(("radius", "least"), [(30, 47.12), (50, 78.54)])
def test_a_hollow_fillet_is_a_quarter_of_a_circle_across(radius: int, least: float) -> None:
    """Pi r / 2 at a right angle."""
    hollow = {"system.edges.3.work.0.size": radius, "system.edges.3.work.0.section": "hollow"}
    assert keys({**hollow, **internal_tape(least + 60.01)}) == []
    assert keys({**hollow, **internal_tape(least + 59.99)}) == ["edges[3].work[1].material"]


def test_a_tape_over_the_pools_own_cove() -> None:
    """A fillet of the pool with legs of 50 mm is 70.71 mm across, so its tape 130.71 mm wide."""
    coved = {
        "pool.cove": {"form": "fillet", "radius": 0.05},
        "pool.fittings": [],
        "system.edges.4": {"name": "cove", "where": {"of": "cove"},
                           "work": [{"do": "strip", "name": "tape", "material": "joint tape"}]},
    }  # fmt: skip
    across = 50.0 * math.sqrt(2.0)
    enough = of("joint tape", width=across + 60.2, least_bond=30)
    assert "edges[4].work[0].material" not in keys({**coved, **enough})
    narrow = of("joint tape", width=across + 59.0, least_bond=30)
    assert "edges[4].work[0].material" in keys({**coved, **narrow})


def test_a_rule_that_is_for_nothing_is_not_looked_at() -> None:
    """There is no cove, so a tape on one may be as narrow as it likes."""
    changes = {"system.edges.4": {"name": "cove", "where": {"of": "cove"},
                                  "work": [{"do": "strip", "material": "breaker"}]},
               **of("breaker", role="reinforcement", least_bond=15)}  # fmt: skip
    assert keys(changes) == []


def test_a_strip_that_may_not_be_joined_is_one_piece() -> None:
    """4 m of wall foot are more than a roll of 3 m: two pieces, lapped by 50 mm."""
    assert keys(of("tape", length="3 m", least_piece=1900)) == []
    plan = works_of(of("tape", length="3 m", least_piece=300))[0].supply.plans["tape"]
    laid = [piece for roll in plan.rolls for piece in roll.pieces if piece.name == "P2.100"]
    assert sum(piece.length for piece in laid) == pytest.approx(4.0 + 0.05 * (len(laid) - 1))
    assert len(laid) == 2
