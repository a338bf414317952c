"""Small pools with finishes, whose quantities can be worked out by head."""

from __future__ import annotations

from typing import Any

import poolgeo
from poolgeo.design.load import design_from
from poolgeo.finishing.rows import CopingRow, FinishTakeoff, Supplies
from poolgeo.finishing.takeoff import take_off_finishes

TILE = {
    "name": "tile", "type": "tile", "joint": 0.003,
    "tile": {"length": 0.247, "width": 0.247, "thickness": 0.008},
}  # fmt: skip
"""A module of 0.25 m either way."""

MOSAIC = {
    "name": "mosaic", "type": "mosaic", "joint": 0.002,
    "tile": {"length": 0.02, "width": 0.02, "thickness": 0.004},
    "sheet": {"length": 0.33, "width": 0.33}, "where": {"zones": ["waterline band"]},
}  # fmt: skip
"""A module of 22 mm either way, 15 by 15 of them on a sheet."""

STONES = {"length": 0.495, "width": 0.3, "joint": 0.005}
"""A module of 0.5 m."""

BOX = {
    "name": "Box", "units": "m", "freeboard": 0.15,
    "outline": {"shape": "rectangle", "length": 6, "width": 3},
    "floor": {"shape": "level", "depth": 1.5},
}  # fmt: skip
"""6 m by 3 m, 1.5 m deep; its waterline band reaches 75 mm up and down."""


def rectangle(length: float, width: float, **more: Any) -> dict[str, Any]:
    """Return an outline."""
    return {"shape": "rectangle", "length": length, "width": width, **more}


def taken_off(*finishes: dict[str, Any], **changes: Any) -> FinishTakeoff:
    """Return the takeoff of the finishes of a box with changes."""
    model = poolgeo.build(design_from({**BOX, "finishes": list(finishes), **changes}))
    found = take_off_finishes(model, poolgeo.measure(model))
    assert found is not None
    return found


def supplies(*finishes: dict[str, Any], **changes: Any) -> Supplies:
    """Return what the first finish takes."""
    return taken_off(*finishes, **changes).supplies[0]


def coping(**changes: Any) -> tuple[CopingRow, ...]:
    """Return the stones of a box with changes."""
    return taken_off(coping={"stones": STONES}, **changes).coping
