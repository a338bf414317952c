"""Depths on the plan: how they are written, and which of them."""

from __future__ import annotations

from pathlib import Path

import poolgeo
from poolgeo.design.load import load
from poolgeo.drawing import contents
from poolgeo.drawing.plan_labels import told_once
from poolgeo.drawing.plan_lines import Projection
from poolgeo.drawing.plan_view import plan_view
from poolgeo.drawing.sheet import Plot
from poolgeo.model import Spot

PLOT = Plot("A3", 50, "1:50", 0.125)


def spot(x: float, depth: float, body: str = "pool") -> Spot:
    return Spot((x, 0.0, -depth), body, "floor", depth)


def test_one_of_two_depths_side_by_side_that_say_the_same_is_told() -> None:
    """Text 0.1 m high: 0.8 m apart they are read together."""
    same, other, far = spot(0.1, 1.2004), spot(0.2, 1.3), spot(0.9, 1.2)
    spa = spot(0.0, 1.2, "spa")
    assert told_once([spot(0.0, 1.2), same, other, far, spa], 0.1, "m") == [
        spot(0.0, 1.2), other, far, spa
    ]  # fmt: skip


def test_a_break_has_its_depth_once_and_a_beach_a_plus(root: Path) -> None:
    """In the sample the break between two warped pieces is level: both have a spot on it."""
    model = poolgeo.build(load(root / "samples" / "beach.yaml"))
    view = plan_view(model, poolgeo.measure(model), Projection(1.0, 6), PLOT)
    said = [item.text for item in view.texts if item.content == contents.DEPTHS]
    assert said.count("0.450 m") == 1
    assert "+0.100 m" in said
    assert len(view.spots) == len(said) < len(model.spots)
