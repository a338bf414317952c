"""Which lines of the plan are seen, which are hidden, which are overhead."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

import numpy as np
import pytest
from shapely import LinearRing, LineString, MultiLineString, box, union_all

import poolgeo
from poolgeo.drawing import contents
from poolgeo.drawing.base_lines import BaseLine
from poolgeo.drawing.contents import Content
from poolgeo.drawing.plan_lines import PlanLine
from poolgeo.drawing.plan_sight import HIDDEN, OVERHEAD, PIECE, SEEN, _stretches, seen_from_above
from poolgeo.model import Model

from .pools import METRES, built, shell

STONES = {"length": 0.495, "width": 0.3, "overhang": 0.04}
"""Coping stones that stand out over the water by 40 mm."""


def plan_of(model: Model) -> dict[Content, list[PlanLine]]:
    """The lines of a plan by their content."""
    found = defaultdict(list)
    for content, line in seen_from_above(model, poolgeo.measure(model), METRES):
        found[content].append(line)
    return found


def plan(**changes: Any) -> dict[Content, list[PlanLine]]:
    """The lines of the plan of a box with changes."""
    return plan_of(built(**changes))


def geometry(line: PlanLine) -> LineString:
    """A line as a shape."""
    return LinearRing(line.points) if line.closed else LineString(line.points)


def bounds(line: PlanLine) -> list[float]:
    """What a line reaches."""
    return list(geometry(line).bounds)


def states(model: Model, *sides: Any, cut: float = 0.0, outside: bool = False) -> list[int]:
    """The states of the stretches of lines between two places each."""
    line = BaseLine(contents.SHELL, np.array(sides, float), cut, is_outside=outside)
    return [int(state) for state in _stretches(model, [line]).state]


def test_a_plain_pool_has_nothing_hidden_and_its_outlines_whole() -> None:
    found = plan(cove={"radius": 0.1})
    assert contents.HIDDEN not in found
    assert contents.OVERHEAD not in found
    (outline,), (wall,) = found[contents.OUTLINE], found[contents.SHELL]
    assert outline.closed
    assert len(outline.points) == len(wall.points) == 4
    assert bounds(wall) == [-0.25, -0.25, 6.25, 3.25]


def test_a_footing_is_hidden_in_the_ground() -> None:
    (footing,) = plan(shell=shell(footing={"projection": 0.3, "thickness": 0.25}))[contents.HIDDEN]
    assert footing.closed
    assert bounds(footing) == pytest.approx([-0.55, -0.55, 6.55, 3.55])


def test_the_wall_below_a_beam_is_hidden() -> None:
    found = plan(shell=shell(beam={"width": 0.4, "depth": 0.3}))
    (wall,), (beam,) = found[contents.HIDDEN], found[contents.SHELL]
    assert bounds(wall) == pytest.approx([-0.25, -0.25, 6.25, 3.25])
    assert bounds(beam) == pytest.approx([-0.4, -0.4, 6.4, 3.4])
    assert wall.closed


def test_a_beam_all_above_the_water_is_overhead_and_the_wall_below_it_is_cut() -> None:
    found = plan(freeboard=0.5, shell=shell(beam={"width": 0.4, "depth": 0.3}))
    (beam,), (wall,) = found[contents.OVERHEAD], found[contents.SHELL]
    assert bounds(beam) == pytest.approx([-0.4, -0.4, 6.4, 3.4])
    assert bounds(wall) == pytest.approx([-0.25, -0.25, 6.25, 3.25])
    assert contents.HIDDEN not in found


def test_a_footing_under_a_beam_is_hidden_on_both_sides_of_its_edge() -> None:
    """The footing's edge lies within the beam, on its own line; the wall on a third one."""
    parts = {"footing": {"projection": 0.1, "thickness": 0.25},
             "beam": {"width": 0.45, "depth": 0.3}}  # fmt: skip
    found = plan(shell=shell(**parts))
    lines = sorted(found[contents.HIDDEN], key=lambda line: line.length)
    assert [bounds(line)[0] for line in lines] == pytest.approx([-0.25, -0.35])


def test_a_recess_is_seen_through_the_cut() -> None:
    """It is open up to the wall top: its lower edge and its back are seen, nothing is overhead."""
    recess = {"start": [0, 0], "end": [6, 0], "width": 0.06, "depth": 0.2}
    found = plan(recess=[recess])
    assert contents.OVERHEAD not in found
    assert contents.HIDDEN not in found
    reach = MultiLineString([geometry(line) for line in found[contents.RECESSES]]).bounds
    assert reach == pytest.approx((0.0, -0.06, 6.0, 0.0))


def test_a_battered_wall_is_seen_to_its_foot() -> None:
    found = plan(batter={"slope": 0.1}, cove={"radius": 0.1})
    assert contents.HIDDEN not in found
    assert contents.OVERHEAD not in found
    (water,) = found[contents.WATER]
    assert bounds(water) == pytest.approx([0.015, 0.015, 5.985, 2.985], abs=1e-3)


def test_stones_that_stand_out_over_the_water_are_overhead() -> None:
    found = plan(coping={"stones": STONES})
    (stones,) = found[contents.OVERHEAD]
    assert stones.closed
    assert bounds(stones) == pytest.approx([0.04, 0.04, 5.96, 2.96])


def test_stones_about_an_island_stand_out_from_it() -> None:
    outline = {"shape": "polygon", "points": [[2, 1], [3, 1], [3, 2], [2, 2]]}
    found = plan(coping={"stones": STONES}, islands=[{"outline": outline}])
    reaches = sorted(bounds(line)[0] for line in found[contents.OVERHEAD])
    assert reaches == pytest.approx([0.04, 1.96])


def test_stones_lie_where_their_bodies_are() -> None:
    found = plan(coping={"stones": {**STONES, "bodies": ["spa"]}}, spas=[spa()])
    reach = MultiLineString([geometry(line) for line in found[contents.OVERHEAD]]).bounds
    assert reach == pytest.approx((2.2, -0.76, 3.8, 0.0), abs=1e-3)


def spa(**changes: Any) -> dict[str, Any]:
    """A spa astride the pool's edge."""
    outline = {"shape": "circle", "radius": 0.8, "centre": [3, 0]}
    return {"outline": outline, "raised": 0.3, "freeboard": 0.1, "depth": 0.9, "dam_wall": 0.25,
            "spillways": [{"at": [3, 0.8], "width": 0.5}], **changes}  # fmt: skip


def test_a_dam_wall_above_the_water_is_seen() -> None:
    found = plan(spas=[spa()], cove={"radius": 0.1})
    assert contents.OVERHEAD not in found
    assert contents.HIDDEN not in found
    (outline,) = found[contents.OUTLINE]
    assert not outline.closed
    assert outline.length == pytest.approx(18.0 - 2.0 * 1.05, abs=2e-3)


def test_a_footing_ends_at_a_spa() -> None:
    (line,) = plan(
        spas=[spa()], shell=shell(footing={"projection": 0.3, "thickness": 0.25})
    )[contents.HIDDEN]  # fmt: skip
    assert not line.closed
    assert not geometry(line).crosses(box(2.5, -0.8, 3.5, 0.0))


def test_what_stands_over_a_line_hides_only_what_lies_under_it() -> None:
    """A line from the ground outside in under the beam, below it and within the wall."""
    model = built(shell=shell(beam={"width": 0.4, "depth": 0.3}), setting="suspended")
    side = [(1.0, -0.8, -1.0), (1.0, -0.3, -1.0)]
    assert states(model, side, outside=True) == [SEEN, HIDDEN]
    assert states(model, [(1.0, -0.3, -1.0), (2.0, -0.3, -1.0)]) == [HIDDEN]
    assert states(model, [(1.0, -0.4, -0.15), (2.0, -0.4, -0.15)]) == [SEEN]


def test_what_begins_above_the_cut_is_overhead_and_hides_nothing() -> None:
    model = built(freeboard=0.5, shell=shell(beam={"width": 0.4, "depth": 0.3}))
    assert states(model, [(1.0, -0.4, 0.2), (2.0, -0.4, 0.2)]) == [OVERHEAD]
    assert states(model, [(1.0, -0.3, -1.0), (2.0, -0.3, -1.0)]) == [SEEN]
    assert states(model, [(1.0, -0.3, -1.0), (2.0, -0.3, -1.0)], cut=0.3) == [HIDDEN]


EVERYTHING = {
    "cove": {"radius": 0.1},
    "coping": {"stones": STONES},
    "spas": [spa()],
    "walls": [{"name": "high", "start": [6, 3], "end": [0, 3], "height": 0.75}],
    "recess": [{"start": [6, 0.5], "end": [6, 2.5], "width": 0.06, "depth": 0.2}],
    "steps": [{"name": "steps", "shape": "side", "at": [0, 1.5], "width": 1.2, "going": 0.3,
               "risers": 4}],
    "shell": shell(footing={"projection": 0.3, "thickness": 0.25},
                   beam={"width": 0.4, "depth": 0.3}),
}  # fmt: skip
"""Changes that leave hardly anything out."""


def test_no_piece_is_there_twice_nor_under_a_stronger_one() -> None:
    found = plan(**EVERYTHING)
    for lines in found.values():
        pieces = [frozenset(piece) for line in lines for piece in line.pieces]
        assert len(pieces) == len(set(pieces))
    weak = {content: found.pop(content) for content in (contents.HIDDEN, contents.OVERHEAD)}
    seen = MultiLineString([geometry(line) for lines in found.values() for line in lines])
    over, under = (MultiLineString([geometry(line) for line in weak[content]])
                   for content in (contents.OVERHEAD, contents.HIDDEN))  # fmt: skip
    for one, other in ((over, seen), (under, seen), (under, over)):
        assert one.intersection(other.buffer(1e-5)).length < PIECE


def test_no_line_runs_along_another_of_its_content() -> None:
    """Though one of them has other vertices."""
    wall = {"name": "high", "start": [6, 3], "end": [0, 3], "height": 0.75}
    beam = shell(beam={"width": 0.4, "depth": 0.3})
    outline = {"shape": "polyline", "points": [[0, 0], [6, 0], [6, 3, 0.25], [0, 3]]}
    found = plan(outline=outline, walls=[wall], shell=beam)
    for content in (contents.SHELL, contents.OVERHEAD, contents.HIDDEN):
        shapes = [geometry(line) for line in found[content]]
        whole = sum(shape.length for shape in shapes)
        assert union_all([shape.buffer(1e-3, cap_style="flat") for shape in shapes]).area == (
            pytest.approx(2e-3 * whole, rel=1e-2)
        )


def test_the_lines_are_the_same_each_time() -> None:
    assert plan(**EVERYTHING) == plan(**EVERYTHING)


def test_all_that_the_rims_hold_is_there_under_some_content() -> None:
    """No line of the outlines and rims gets lost: each place of theirs lies on some line."""
    model = built(**EVERYTHING)
    found = plan_of(model)
    drawn = MultiLineString([geometry(line) for lines in found.values() for line in lines])
    for role, outline in model.outlines.items():
        if role[1] == "shell" and role[0] != "pool":
            continue
        places = LinearRing(outline).difference(box(1.9, -1.1, 4.1, 1.1))
        assert places.difference(drawn.buffer(1e-4)).length < 1e-6
