"""Small pools whose plans can be told by head."""

from __future__ import annotations

from typing import Any

import poolgeo
from poolgeo.design.load import design_from
from poolgeo.drawing.plan_lines import Projection
from poolgeo.model import Model

METRES = Projection(1.0, 6)

BOX = {
    "name": "Box", "units": "m", "freeboard": 0.15,
    "outline": {"shape": "rectangle", "length": 6, "width": 3, "centre": [3, 1.5]},
    "floor": {"shape": "level", "depth": 1.5},
    "shell": {"wall": 0.25, "floor": 0.2},
}  # fmt: skip
"""6 m by 3 m from the origin, 1.5 m deep; its wall top 150 mm above the water."""


def built(**changes: Any) -> Model:
    """Return a box with changes."""
    return poolgeo.build(design_from({**BOX, **changes}))


def shell(**changes: Any) -> dict[str, Any]:
    """Return the shell of the box with more."""
    return {"wall": 0.25, "floor": 0.2, **changes}
