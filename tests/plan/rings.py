"""Outlines for tests of the plan."""

from __future__ import annotations

import numpy as np

from poolgeo.design import schema
from poolgeo.plan.outline import outline_ring
from poolgeo.plan.ring import Ring


def square(size: float) -> Ring:
    """A square with a corner at the origin, the first vertex."""
    corners = size * np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    outline = schema.Polygon(
        shape="polygon", points=tuple(tuple(item) for item in corners.tolist())
    )
    return outline_ring(outline, 1e-3, ("outline",))


def rounded(size: float, radius: float) -> Ring:
    """A square about the origin with rounded corners."""
    outline = schema.Rectangle(shape="rectangle", length=size, width=size, corner_radius=radius)
    return outline_ring(outline, 1e-3, ("outline",))


BOWED = ((0.0, 0.0, 0.0), (6.0, 0.0, 0.2), (6.0, 4.0, 0.0), (0.0, 4.0, 0.3))


def bowed(*places: tuple[float, float, float]) -> Ring:
    """Sides by bulge; as a rule a rectangle of which two bulge out."""
    outline = schema.Polyline(shape="polyline", points=places or BOWED)
    return outline_ring(outline, 1e-3, ("outline",))
