"""Schedules: the rows of the takeoff, in blocks that fit a sheet."""

from __future__ import annotations

import pytest

import poolgeo
from poolgeo.design.lengths import format_length
from poolgeo.drawing.schedules import schedule_views, schedules
from poolgeo.drawing.sheet import Plot
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from .pools import METRES, built

PLOT = Plot("A3", 50, "1:50", 0.125)


@pytest.fixture(scope="module")
def stepped() -> tuple[Model, Takeoff]:
    steps = [{"shape": "side", "at": [0, 1.5], "width": 2.0, "going": 0.3, "risers": 4}]
    drains = [{"kind": "main drain", "point": [4, 1], "width": 0.3, "height": 0.3,
               "protection": "two drains far apart"},
              {"kind": "main drain", "point": [4, 2], "width": 0.3, "height": 0.3,
               "protection": "two drains far apart"}]  # fmt: skip
    model = built(steps=steps, cove={"radius": 0.1}, fittings=drains)
    return model, poolgeo.measure(model)


def test_every_run_area_and_fitting_has_its_row(stepped: tuple[Model, Takeoff]) -> None:
    takeoff = stepped[1]
    tables = {table.name: table for table in schedules(takeoff, None, "m")}
    edges = [*tables["External edges"].rows, *tables["Internal edges"].rows]
    assert {row[0] for row in edges} == {run.number for run in takeoff.edges}
    lengths = {row[0]: row[4] for row in edges}
    for run in takeoff.edges:
        assert lengths[run.number] == format_length(run.length, "m")
    assert len(tables["Areas in m2"].rows) == len(takeoff.areas)
    assert [row[0] for row in tables["Fittings"].rows] == ["F1", "F2"]


def test_the_foot_is_the_sum_of_the_takeoff(stepped: tuple[Model, Takeoff]) -> None:
    takeoff = stepped[1]
    tables = {table.name: table for table in schedules(takeoff, None, "m")}
    totals = takeoff.totals()
    assert tables["Internal edges"].foot[4] == format_length(totals["internal_m"], "m")
    assert tables["External edges"].foot[4] == format_length(totals["external_m"], "m")
    assert tables["Areas in m2"].foot[2] == f"{totals['area_m2']:.2f}"


@pytest.mark.parametrize("tallest", [2.0, 4.0, 40.0])
def test_blocks_are_no_taller_than_asked_and_lose_no_row(
    stepped: tuple[Model, Takeoff], tallest: float
) -> None:
    tables = list(schedules(stepped[1], None, "m"))
    views = list(schedule_views(tables, METRES, PLOT, tallest))
    for view in views:
        (_, low), (_, top) = view.reach
        assert top - low <= tallest + 1e-9
    for table in tables:
        said = [note.text for view in views if view.title.startswith(table.name)
                for note in view.notes]  # fmt: skip
        for row in table.rows:
            assert row[0] in said
        assert said.count(table.head[0]) == sum(v.title.startswith(table.name) for v in views)


def test_texts_stand_in_their_cells(stepped: tuple[Model, Takeoff]) -> None:
    """Between the upright lines of the table, and none over another."""
    for view in schedule_views(schedules(stepped[1], None, "m"), METRES, PLOT, 40.0):
        lines = [line.points for found in view.lines.values() for line in found]
        upright = sorted({a[0] for a, b in lines if a[0] == b[0]})
        _, *cells = list(view.boxes)  # the first is the title
        for corners in cells:
            xs = [x for x, _ in corners]
            left = max(x for x in upright if x <= min(xs))
            right = min(x for x in upright if x > left)
            assert max(xs) <= right
