"""What stands on the plan."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from poolgeo.arrays import Floats
from poolgeo.drawing import contents
from poolgeo.drawing.legend import legend_rows
from poolgeo.drawing.plan_lines import PlanLine, Projection
from poolgeo.drawing.plan_view import plan_view
from poolgeo.drawing.sheet import Plot
from poolgeo.drawing.view import View
from poolgeo.mesh import Mesh
from poolgeo.model import Body, Model
from poolgeo.plan.features.part import Role
from poolgeo.quantities import CoveRun, Takeoff

from ..write.hand_made import as_it_is

NONE = (0.0, 0.0, 0.0, 0.0)
"""Lengths or areas in zones that do not matter."""


def square(x: float, y: float, half: float) -> Floats:
    """The corners of a square about a point."""
    return np.array(
        [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
    )


def view(model: Model, takeoff: Takeoff, **spa: Floats) -> View:
    """The plan, with outlines of a spa; the shell is 0.25 outside the pool, 8 by 4."""
    water = model.bodies[0].wetted
    none = Mesh(water.vertices[:0], water.triangles[:0], water.patch[:0], ())
    roles: dict[str, Role] = {"spa": "water", "spa_shell": "shell"}
    names = {("spa", roles[name]): outline for name, outline in spa.items()}
    bodies = (
        (*model.bodies, Body("spa", 0.0, (0.0, 0.0), none, as_it_is, "S"))
        if names
        else model.bodies
    )
    changed = replace(model, bodies=bodies, outlines={**model.outlines, **names})
    return plan_view(changed, takeoff, Projection(1.0, 6), Plot("A3", 40, "1:40", 0.1))


def total(lines: list[PlanLine]) -> float:
    """The length of all lines."""
    return sum(line.length for line in lines)


def test_a_spa_inside_the_pool_leaves_the_outlines_whole(model: Model, takeoff: Takeoff) -> None:
    plan = view(model, takeoff, spa=square(4, 2, 0.8), spa_shell=square(4, 2, 1.0))
    (pool,), (shell,) = plan.lines[contents.OUTLINE], plan.lines[contents.SHELL]
    assert pool.closed is True
    assert pool.length == pytest.approx(24)
    assert shell.closed is True
    assert shell.length == pytest.approx(26)
    assert total(plan.lines[contents.SPA]) == pytest.approx(4 * 1.6)


def test_the_pool_s_outline_ends_at_a_spa_astride_it(model: Model, takeoff: Takeoff) -> None:
    """The spa's wall takes up x from 3 to 5 of the side y = 4; the shells are one."""
    plan = view(model, takeoff, spa=square(4, 4, 0.8), spa_shell=square(4, 4, 1.0))
    (pool,), (shell,) = plan.lines[contents.OUTLINE], plan.lines[contents.SHELL]
    assert pool.closed is False
    assert pool.length == pytest.approx(24 - 2)
    assert shell.closed is True
    assert shell.length == pytest.approx(26 + 2 * 0.75)


def test_a_spa_that_stands_apart_has_a_shell_of_its_own(model: Model, takeoff: Takeoff) -> None:
    plan = view(model, takeoff, spa=square(12, 2, 0.8), spa_shell=square(12, 2, 1.0))
    assert sorted(line.length for line in plan.lines[contents.SHELL]) == pytest.approx([8, 26])
    assert len(plan.lines[contents.OUTLINE]) == 1


def test_marks_stand_where_upright_runs_are(model: Model, takeoff: Takeoff) -> None:
    assert view(model, takeoff).marks == {contents.INTERNAL: [(0, 0), (8, 0), (0, 4), (8, 4)]}


def test_upright_coves_have_marks_and_numbers(model: Model, takeoff: Takeoff) -> None:
    """A corner cove is a point from above."""
    upright = np.array([[0.1, 0.1, 0.15], [0.1, 0.1, -0.9]])
    run = CoveRun("P62.1", "pool", "corner cove", 0.1, upright, 1.05, 0.16, NONE, NONE)
    plan = view(model, replace(takeoff, coves=(*takeoff.coves, run)))
    assert plan.marks[contents.COVE] == [(0.1, 0.1)]
    (text,) = [item for item in plan.texts if item.text == "P62.1"]
    assert text.content == contents.NUMBERS
    assert "Cove or fillet that stands upright" in [row.says for row in legend_rows([plan])]


def test_spots_stand_where_the_model_has_them(model: Model, takeoff: Takeoff) -> None:
    assert view(model, takeoff).spots == [(0.5, 2), (1.5, 2), (3.5, 2), (7.8, 2)]
