"""Dimensions: running ones along a side of a view, single ones, and how wide their texts are."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from ..design.lengths import Units, format_length
from .plan_lines import PlanLine, Projection
from .positions import Position
from .set_out import APART, spread
from .view import Dimension, Ordinate

OFF = 2.0
"""Between what is drawn and a row of dimensions, in text heights."""


def says(metres: float, units: Units) -> str:
    """Return a length as dimensions write it: without its unit where that is metric.

    Example:
        >>> says(1.25, "mm"), says(1.25, "m")
        ('1250', '1.250')
    """
    text = format_length(metres, units)
    return text.removesuffix(f" {units}")


def running(
    places: Sequence[float], axis: int, origin: float, base: float, side: float, *,
    projection: Projection, height: float, units: Units,
) -> Iterator[Ordinate]:  # fmt: skip
    """Yield running dimensions along a side of a view, from one origin, so that no error adds up.

    Args:
        places: What is dimensioned, along the axis [m].
        axis: 0 for places along x, 1 for heights.
        origin: That they are counted from [m].
        base: Where what is drawn ends across the axis, in drawing units.
        side: 1 where they stand beyond that, -1 where before.
        projection: To drawing units.
        height: Of text, in drawing units.
        units: That they are written in.
    """
    said = {says(place - origin, units): round(place, 4) for place in sorted(places, reverse=True)}
    own = sorted(said.values())
    at = [projection.length(place) for place in own]
    far = base + side * (OFF + 2.0) * height
    for metres, start, end in zip(own, at, spread(at, APART * height), strict=True):
        text = says(metres - origin, units)
        ends = (start, base + side * 0.5 * height), (end, far)
        if axis == 1:
            ends = ends[0][::-1], ends[1][::-1]
        yield Ordinate(axis, *ends, text)


def texts_of(
    dimensions: Iterable[Dimension], ordinates: Iterable[Ordinate], height: float,
    direction: float = 0.0,
) -> list[tuple[str, Position]]:  # fmt: skip
    """Return the texts of dimensions, and where they stand."""
    found = [(item.text, item.text_at(height)) for item in dimensions]
    return found + [(item.text, item.text_at(height, direction)) for item in ordinates]


def strokes_of(
    dimensions: Iterable[Dimension], ordinates: Iterable[Ordinate]
) -> Iterator[PlanLine]:
    """Yield the lines of dimensions, for labels to keep clear of."""
    for item in dimensions:
        turn = math.radians(item.angle)
        left = -math.sin(turn), math.cos(turn)
        ends = [
            (x + off * left[0], y + off * left[1])
            for x, y in (item.start, item.end)
            for off in [(item.through[0] - x) * left[0] + (item.through[1] - y) * left[1]]
        ]
        yield PlanLine((item.start, *ends, item.end))
    for ordinate in ordinates:
        yield PlanLine((ordinate.start, ordinate.end))
