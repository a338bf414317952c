"""Running dimensions of the plan go to what is to be set out."""

from __future__ import annotations

import poolgeo
from poolgeo.drawing.plan_lines import Projection
from poolgeo.drawing.plan_view import plan_view
from poolgeo.drawing.sheet import Plot

from .pools import built

PLOT = Plot("A3", 50, "1:50", 0.125)


def stations(axis: int, **changes: object) -> list[str]:
    model = built(**changes)
    view = plan_view(model, poolgeo.measure(model), Projection(1.0, 6), PLOT)
    return [item.text for item in view.stations if item.axis == axis]


def test_corners_of_water_and_concrete_are_told_from_the_first_point() -> None:
    """The outline's first point is its lower left corner."""
    assert stations(0) == ["-0.250", "0.000", "6.000", "6.250"]
    assert stations(1) == ["-0.250", "0.000", "3.000", "3.250"]


def test_steps_benches_and_drains_are_told() -> None:
    step = {"shape": "side", "at": [0, 1.5], "width": 2.0, "going": 0.3, "risers": 3}
    drain = {"kind": "main drain", "point": [4.2, 1.1], "width": 0.3, "height": 0.3,
             "protection": "two drains far apart"}  # fmt: skip
    found = stations(0, steps=[step], fittings=[drain, {**drain, "point": [4.2, 2.3]}])
    assert {"0.300", "0.600", "0.900", "4.200"} <= set(found)
    across = stations(1, steps=[step], fittings=[drain, {**drain, "point": [4.2, 2.3]}])
    assert {"0.500", "2.500", "1.100", "2.300"} <= set(across)


def test_centres_of_arcs_are_told() -> None:
    outline = {"shape": "rectangle", "length": 6, "width": 3, "centre": [3, 1.5],
               "corner_radius": 0.8}  # fmt: skip
    found = stations(0, outline=outline)
    assert "0.000" in found
    assert len(found) == len(set(found))
