"""Joints and fittings in a section: what is crossed, what is seen, what is hidden."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

import poolgeo
from poolgeo.drawing import contents
from poolgeo.drawing.contents import Content
from poolgeo.drawing.section import section_of
from poolgeo.drawing.section_marks import Mark, finish_marks, fitting_marks, joint_marks
from poolgeo.drawing.section_view import section_view
from poolgeo.drawing.sheet import Plot
from poolgeo.drawing.view import View
from poolgeo.jointing.rows import FinishJoint, FinishJoints, JointKind
from poolgeo.model import Model
from poolgeo.quantities import JointRun
from poolgeo.surface.slices import Straight

from .pools import METRES, built

PLOT = Plot("A3", 50, "1:50", 0.125)

ALONG = Straight.of((-1.0, 1.3), (7.0, 1.3))

JOINT = {"name": "joint", "start": [2, -0.1], "end": [2, 3.1], "width": "20 mm"}


def seen(model: Model, line: Straight = ALONG) -> View:
    """Lay a section out."""
    section = section_of(model, poolgeo.measure(model), "A", line)
    return section_view(model, section, METRES, PLOT)


def numbers(view: View, content: Content) -> list[str]:
    """Return what texts of a content say."""
    return sorted(text.text for text in view.texts if text.content == content)


def test_a_joint_of_the_structure_parts_the_slab() -> None:
    view = seen(built(joints=[JOINT]))
    (line,) = view.lines[contents.JOINTS]
    assert sorted(line.points) == [(3.0, -1.7), (3.0, -1.5)]
    assert numbers(view, contents.JOINT_NUMBERS) == ["J1"]


def test_a_joint_parts_a_wall_that_is_cut_along_from_its_top_to_its_foot() -> None:
    view = seen(built(joints=[JOINT]), Straight.of((-1.0, -0.125), (7.0, -0.125)))
    (line,) = view.lines[contents.JOINTS]
    assert sorted(line.points) == [(3.0, -1.7), (3.0, 0.15)]


def test_a_joint_crossed_askew_stands_where_the_lines_meet() -> None:
    askew = {**JOINT, "start": [1, -0.1], "end": [3, 3.1]}
    view = seen(built(joints=[askew]))
    (line,) = view.lines[contents.JOINTS]
    assert line.points[0][0] == pytest.approx(1.0 + 1.0 + 1.4 * 2.0 / 3.2)


def test_a_joint_beside_the_section_is_not_drawn() -> None:
    view = seen(built(joints=[JOINT]), Straight.of((2.5, -1.0), (2.5, 4.0)))
    assert contents.JOINTS not in view.lines


def inlet(*at: float) -> dict[str, object]:
    """Return a return inlet in a wall."""
    return {"kind": "return inlet", "at": list(at), "depth": 0.5}


def fittings(model: Model, line: Straight = ALONG) -> dict[str, Mark]:
    """Return the marks of fittings by their numbers."""
    section = section_of(model, poolgeo.measure(model), "A", line)
    return {mark.number: mark for mark in fitting_marks(model, section, PLOT.text)}


def test_fittings_are_seen_in_the_wall_beyond_alone() -> None:
    model = built(fittings=[inlet(2, 3), inlet(4, 0)])
    marks = fittings(model)
    assert list(marks) == ["F1"]
    assert marks["F1"].at == pytest.approx((3.0, -0.5), abs=0.02)
    (ring,) = marks["F1"].lines
    half = model.fittings[0].half
    assert np.ptp(ring, axis=0) == pytest.approx([2 * half[0], 2 * half[1]], abs=1e-3)
    view = seen(model)
    assert numbers(view, contents.FITTING_NUMBERS) == ["F1"]
    assert len(view.lines[contents.FITTINGS]) == 1


def test_a_fitting_behind_a_block_is_hidden() -> None:
    island = {"outline": {"shape": "rectangle", "length": 1.0, "width": 0.6, "centre": [2, 2]}}
    assert fittings(built(fittings=[inlet(2, 3)], islands=[island])) == {}
    assert list(fittings(built(fittings=[inlet(4, 3)], islands=[island]))) == ["F1"]


def test_a_fitting_in_the_plane_is_cut() -> None:
    drain = {"kind": "main drain", "point": [4, 1.3], "width": 0.4, "height": 0.4,
             "protection": "two drains far apart"}  # fmt: skip
    marks = fittings(built(fittings=[inlet(0, 1.3), drain]))
    across, *sides = marks["F1"].lines
    assert across[:, 0] == pytest.approx(1.0)
    assert across[:, 1].mean() == pytest.approx(-0.5)
    assert all(side[1, 0] < side[0, 0] for side in sides)  # into the wall
    across, *sides = marks["F2"].lines
    assert across[:, 1] == pytest.approx(-1.5)
    assert all(side[1, 1] < -1.5 for side in sides)
    assert sorted(side[0, 0] for side in sides) == pytest.approx([4.8, 5.2])


def across(kind: JointKind, number: str, surface: str, points: list[list[float]]) -> FinishJoint:
    """Return a movement joint of the finish."""
    run = JointRun(number, kind, 0.01, "pool", surface, np.array(points), 1.0, 1.0, (0.0,) * 5)
    return FinishJoint(number, kind, kind, 0, 0.0, 0.01, 0.0, 0.0, 0.01, 0.01, (run,))


def test_joints_of_the_finish_are_ticked_where_they_are_crossed() -> None:
    found = (
        across("intermediate", "M1", "floor", [[2.0, 0.0, -1.5], [2.0, 3.0, -1.5]]),
        across("intermediate", "M2", "wall", [[6.0, 0.0, -0.4], [6.0, 3.0, -0.4]]),
        across("change of plane", "P1", "floor/wall", [[0.0, 0.0, -1.5], [0.0, 3.0, -1.5]]),
        across("intermediate", "M3", "floor", [[2.0, 2.0, -1.5], [2.0, 3.0, -1.5]]),
        across("round fitting", "F1", "floor", [[3.0, 0.0, -1.5], [3.0, 3.0, -1.5]]),
    )
    model = built()
    section = section_of(model, poolgeo.measure(model), "A", ALONG)
    joints = object.__new__(FinishJoints)
    object.__setattr__(joints, "joints", found)
    marks = list(finish_marks(joints, section, PLOT.text))
    assert [mark.content for mark in marks] == [
        contents.FINISH_JOINTS, contents.FINISH_JOINTS, contents.FINISH_EDGES,
    ]  # fmt: skip
    assert [mark.number for mark in marks] == ["M1", "M2", ""]
    assert [mark.at for mark in marks] == [(3.0, -1.5), (7.0, -0.4), (1.0, -1.5)]
    floor, wall, _ = (mark.lines[0] for mark in marks)
    assert np.ptp(floor, axis=0) == pytest.approx([0.0, PLOT.text])
    assert np.ptp(wall, axis=0) == pytest.approx([PLOT.text, 0.0])


def test_traces_lie_in_the_concrete() -> None:
    model = built(joints=[JOINT])
    section = section_of(model, poolgeo.measure(model), "A", ALONG)
    for mark in joint_marks(model, section):
        for line in mark.lines:
            assert section.concrete.buffer(1e-6).covers(shapely.LineString(line))
