"""Developed walls are as long as the walls: unrolling along an upright wall keeps lengths."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
import shapely
import shapely.affinity

from poolgeo.arrays import Floats
from poolgeo.drawing import contents
from poolgeo.drawing.developed import Development, Edge, Line, developments
from poolgeo.drawing.developed_view import developed_view, strips
from poolgeo.drawing.plan_lines import Projection
from poolgeo.drawing.sheet import Plot
from poolgeo.quantities import Run

from ..drawn_samples import NAMES, sample

NEAR = 1e-6
"""[m] What is nearer to an outline lies on it."""

LENGTH = 1e-3
"""[m] What a length may be off by."""

LEAN = 0.3
"""[m] No wall of the samples leans by more from top to foot, or is thicker."""

LONGEST = (2.5, 7.0, 1000.0)
"""[m] Strips are cut no longer than these: in many, in a few, not at all."""


@cache
def walls_of(name: str) -> list[Development]:
    """Return the developed walls of a sample."""
    found = sample(name)
    return list(developments(found.model, found.takeoff, found.joints))


def length(points: Floats) -> float:
    """Return the length of a polyline."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def distances(wall: Development, points: Floats) -> Floats:
    """Return how far points (k, 3) lie off the outline of a developed wall in plan."""
    ring = shapely.LinearRing(wall.outline)
    found: Floats = shapely.distance(ring, shapely.points(points[:, :2]))
    return found


def upright(wall: Development) -> list[Edge]:
    """Return what a developed wall shows of runs that lie on its outline in plan, all along."""
    return [edge for edge in wall.edges if distances(wall, edge.run.points).max() < NEAR]


@pytest.mark.parametrize("name", NAMES)
def test_a_developed_wall_is_as_long_as_its_outline(name: str) -> None:
    """Of a body's own walls, and of islands', that is the model's."""
    developed, model = walls_of(name), sample(name).model
    known = [shapely.LinearRing(line).length for line in model.outlines.values()]
    assert developed
    for wall in developed:
        assert wall.length == pytest.approx(shapely.LinearRing(wall.outline).length, abs=NEAR)
        if "dam wall" not in wall.body:
            assert min(abs(length - wall.length) for length in known) < NEAR


@pytest.mark.parametrize("name", NAMES)
def test_a_run_at_an_upright_wall_keeps_its_length(name: str) -> None:
    edges = [edge for wall in walls_of(name) for edge in upright(wall)]
    assert edges
    off = {
        edge.run.number: (length(edge.points), edge.run.length) for edge in edges
        if abs(length(edge.points) - edge.run.length) > LENGTH
    }  # fmt: skip
    assert off == {}


@pytest.mark.parametrize("name", NAMES)
def test_a_run_at_an_upright_wall_keeps_its_heights(name: str) -> None:
    for wall in walls_of(name):
        for edge in upright(wall):
            assert edge.points[:, 1] == pytest.approx(edge.run.points[:, 2], abs=NEAR)


@pytest.mark.parametrize("longest", LONGEST)
@pytest.mark.parametrize("name", NAMES)
def test_strips_join_up_wherever_walls_stand(name: str, longest: float) -> None:
    """Between two of them lies nothing, or a gap of more than a metre without a wall."""
    for wall in walls_of(name):
        own = list(strips([wall], longest))
        assert [strip.number for strip in own] == list(range(1, own[0].count + 1))
        gaps = [other.start - one.end for one, other in pairwise(own)]
        assert all(gap == 0.0 or gap > 1.0 for gap in gaps)
        assert all(0.0 < strip.end - strip.start <= longest + LENGTH for strip in own)
        held = sum(length(part) for rim in wall.rims for strip in own
                   for part in strip.clipped(rim.points))  # fmt: skip
        whole = sum(length(rim.points) for rim in wall.rims)
        twice = sum(length(rim.points) for rim in wall.rims if is_upright(rim.points))
        assert whole - LENGTH <= held <= whole + twice + LENGTH


def is_upright(points: Floats) -> bool:
    """Tell whether a line on a developed wall stands upright: two strips may hold it."""
    return float(np.ptp(points[:, 0])) < NEAR


@pytest.mark.parametrize("longest", LONGEST)
@pytest.mark.parametrize("name", NAMES)
def test_strips_together_hold_the_whole_of_each_run(name: str, longest: float) -> None:
    """By the way along the outline: what stands upright where two strips meet is in both."""
    for wall in walls_of(name):
        own = list(strips([wall], longest))
        for edge in upright(wall):
            held = [part for strip in own for part in strip.clipped(edge.points)]
            along = sum(float(np.abs(np.diff(part[:, 0])).sum()) for part in held)
            whole = float(np.abs(np.diff(edge.points[:, 0])).sum())
            assert along == pytest.approx(whole, abs=LENGTH), edge.run.number


@pytest.mark.parametrize("name", NAMES)
def test_what_a_developed_wall_shows_stands_at_it(name: str) -> None:
    """No farther off its outline than a wall leans, or is thick where it ends."""
    far = [
        (wall.body, edge.run.number, float(off.max()))
        for wall in walls_of(name) for edge in wall.edges
        for off in [distances(wall, edge.run.points)] if off.max() > LEAN
    ]  # fmt: skip
    assert far == []


@pytest.mark.parametrize("name", ["freeform-spa", "two-spas"])
def test_a_dam_wall_is_developed_along_its_own_face(name: str) -> None:
    edges = [
        edge for wall in walls_of(name) for edge in wall.edges
        if isinstance(edge.run, Run) and edge.run.kind == "dam wall face/dam wall top"
    ]  # fmt: skip
    assert edges
    shown = {edge.run.number: length(edge.points) for edge in edges}
    assert shown == pytest.approx({edge.run.number: edge.run.length for edge in edges}, abs=LENGTH)


def drawn_on(wall: Development, longest: float) -> list[Floats]:
    """Return the wall lines of the strips of a developed wall, piece by piece [m]."""
    metres = Projection(1.0, 6)
    views = [
        developed_view(strip, metres, Plot("A3", 50, "1:50", 0.0025), "m")
        for strip in strips([wall], longest)
    ]
    return [np.array(piece) for view in views for line in view.lines[contents.WALL_LINES]
            for piece in line.pieces]  # fmt: skip


def area_of(wall: Development) -> shapely.Geometry:
    """Return what a developed wall covers, on every turn about the pool."""
    areas = shapely.polygons(wall.faces)
    once = shapely.union_all(shapely.buffer(areas, 2e-5, cap_style="square", join_style="mitre"))
    turns = [shapely.affinity.translate(once, turn * wall.length) for turn in (-1.0, 0.0, 1.0)]
    return shapely.union_all(turns)


@pytest.mark.parametrize("name", NAMES)
def test_walls_are_drawn_only_where_they_stand(name: str) -> None:
    """Corners and the ends of strips too reach from the foot to the top that are there."""
    for wall in walls_of(name):
        lines = shapely.linestrings(drawn_on(wall, LONGEST[0]))
        assert len(lines)
        beyond = shapely.length(shapely.difference(lines, area_of(wall)))
        assert beyond.max() < LENGTH, lines[beyond.argmax()].wkt


@pytest.mark.parametrize("name", NAMES)
def test_a_corner_edge_stands_where_the_wall_does(name: str) -> None:
    """From foot to top: no corner of an upright wall sticks out of it."""
    for wall in walls_of(name):
        for edge in upright(wall):
            if is_upright(edge.points):
                (foot, top), place = np.sort(edge.points[:, 1])[[0, -1]], edge.points[0, 0]
                spans = [line[:, 1] for line in wall.upright(float(place))]
                assert any(low - NEAR <= foot and top <= high + NEAR for low, high in spans)


@pytest.mark.parametrize("longest", [2.5, 4.0, 7.0, 12.919])
@pytest.mark.parametrize("name", NAMES)
def test_a_wall_is_cut_into_few_strips_and_none_is_a_sliver(name: str, longest: float) -> None:
    for wall in walls_of(name):
        spans, end = list[list[float]](), math.nan
        for strip in strips([wall], longest):
            if spans and strip.start == end:
                spans[-1].append(strip.end - strip.start)
            else:
                spans.append([strip.end - strip.start])
            end = strip.end
        for parts in spans:
            assert len(parts) == math.ceil((sum(parts) - NEAR) / longest)
            assert min(parts) > 0.15 * max(parts)


@pytest.mark.parametrize(
    ("corners", "ends"),
    [
        ((), [10.0, 20.0]),
        ((8.5, 13.0), [8.5, 20.0]),
        ((7.9, 19.9), [10.0, 20.0]),  # the first would leave more than a strip takes
        ((9.0, 10.5), [10.5, 20.0]),
    ],
)
def test_a_cut_moves_to_the_nearest_corner(corners: tuple[float, ...], ends: list[float]) -> None:
    line = np.array([[0.0, 0.0], [7.0, 0.0], [7.0, 3.0], [0.0, 3.0]])
    rim = Line(np.array([[0.0, -1.0], [20.0, -1.0]]))
    wall = Development("pool", line, 20.0, 0.0, -1.0, 0.0, corners, (rim,), (), ())
    assert [strip.end for strip in strips([wall], 12.0)] == pytest.approx(ends)


def level(points: Floats) -> bool:
    """Tell whether a run is level and straight."""
    return bool(np.ptp(points[:, 2]) < NEAR) and length(points[[0, -1]]) > length(points) - NEAR


@pytest.mark.parametrize("name", ["hopper", "fillet"])
def test_a_level_run_on_a_straight_wall_that_leans_keeps_its_length(name: str) -> None:
    """Up to the corners: there the wall ends nearer, or farther, as it leans."""
    (wall,) = walls_of(name)
    edges = [edge for edge in wall.edges if level(edge.run.points)]
    assert len(edges) > len([edge for edge in upright(wall) if level(edge.run.points)])
    for edge in edges:
        assert length(edge.points) == pytest.approx(edge.run.length, abs=LENGTH), edge.run.number


def test_a_wall_that_leans_ends_on_either_side_of_its_corner() -> None:
    """Two faces of 1:20: at their feet each ends by a twentieth of the height before the corner."""
    (wall,) = walls_of("hopper")
    edges = [edge.points for edge in wall.edges if edge.run.number == "P3.370"]
    assert len(edges) == 2
    ends = sorted(float(points[points[:, 1].argmin(), 0]) for points in edges)
    height = float(np.ptp(edges[0][:, 1]))
    assert [end - 9.0 for end in ends] == pytest.approx([-height / 20, height / 20], abs=1e-4)
    assert 9.0 in [round(place, 6) for place in wall.corners]


def test_walls_that_lean_say_that_heights_are_true() -> None:
    for name, lean in (("hopper", True), ("fillet", True), ("training-pool", False)):
        assert [wall.lean for wall in walls_of(name)] == [lean] * len(walls_of(name))
        titles = [item.view.title for item in sample(name).drawn.views
                  if "developed" in item.view.title]  # fmt: skip
        assert titles
        assert all(("heights are true, not up the slope" in title) == lean for title in titles)
