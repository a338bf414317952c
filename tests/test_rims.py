"""What a plan shows of the surfaces whose rims have a layer."""

from __future__ import annotations

import math

import pytest

from poolgeo.drawing import contents
from poolgeo.drawing.contents import Content
from poolgeo.drawing.plan_lines import PlanLine, Projection
from poolgeo.drawing.plan_view import plan_view
from poolgeo.drawing.sheet import Plot
from poolgeo.measure.takeoff import measure

from .measure.quantities import level, model_of, pool, rectangle


def total(lines: list[PlanLine]) -> float:
    """The length of all lines."""
    return sum(line.length for line in lines)


def shown(**more: object) -> dict[Content, list[PlanLine]]:
    """The lines of a pool 8 by 4."""
    model = model_of(pool(rectangle(8.0, 4.0), level(1.5), **more))
    return plan_view(model, measure(model), Projection(1.0, 6), Plot("A3", 40, "1:40", 0.1)).lines


def test_a_fillet_shows_both_its_edges() -> None:
    """Along the wall, and 0.2 m from it along the floor; 0.2 m across in the four mitres.

    Each fillet patch has its rims: mitres are rims of none, for one kind is shown as one.
    """
    lines = shown(cove={"radius": 0.2, "form": "fillet"})[contents.COVE]
    assert total(lines) == pytest.approx(2 * (8 + 4) + 2 * (7.6 + 3.6))


def test_a_corner_cove_shows_on_the_layer_of_coves() -> None:
    """Four quarters of a circle, and the rounded rectangle that the cove leaves of the floor."""
    lines = shown(cove={"radius": 0.1, "corners": 0.3})[contents.COVE]
    straight, round_off = 2 * (7.4 + 3.4), 2 * math.pi * 0.3
    floor = straight + 2 * math.pi * 0.2
    assert total(lines) == pytest.approx(straight + round_off + floor, rel=1e-3)


def test_a_recess_has_a_layer_of_its_own() -> None:
    """A shelf 3 m long and 0.05 m wide behind the wall's face."""
    recess = {"start": [-1.5, -2], "end": [1.5, -2], "width": 0.05, "depth": 0.2}
    lines = shown(recess=[recess])[contents.RECESSES]
    assert total(lines) == pytest.approx(2 * (3.0 + 0.05))
