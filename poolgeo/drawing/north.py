"""Titles under views, with their scale; the scale bar and north beside the plan's."""

from __future__ import annotations

import math
from dataclasses import replace

from ..design.lengths import Units
from . import contents
from .plan_lines import Place, PlanLine, Projection
from .positions import text_width
from .view import Note, View

TITLE = 1.4
"""Height of a title, in text heights."""

NICE = (1.0, 2.0, 5.0)
"""Lengths of the parts of a scale bar, times a power of ten."""

PARTS = 5
"""Of a scale bar."""

BAR = 20.0
"""A scale bar is no longer, in text heights."""

UNITS: dict[Units, tuple[str, float]] = {
    "mm": ("m", 1.0), "m": ("m", 1.0), "ft": ("ft", 0.3048), "in": ("ft", 0.3048),
}  # fmt: skip
"""Units of the pool file -> what its scale bar is in, and how long that is [m]."""


def titled(view: View) -> View:
    """Return a view with its title and its scale under it."""
    (left, low), _ = view.reach
    height = view.height
    title = Note(contents.NOTES, view.title, (left, low - 3.2 * height), TITLE)
    scale = Note(contents.NOTES, view.scale, (left, low - 5.0 * height))
    return replace(view, notes=[*view.notes, title, scale])


def with_scale_bar(view: View, projection: Projection, units: Units, north: float | None) -> View:
    """Return a view with a scale bar beside its title, and north where that is known.

    Args:
        view: With its title.
        projection: To drawing units.
        units: Of the pool file.
        north: Its direction, from x [deg].

    Returns:
        The view; both stand to the right of its title.
    """
    height, notes, lines = view.height, list(view.notes), dict(view.lines)
    title = next(note for note in notes if note.text == view.title)
    x, y = title.corner
    x += text_width(title.text, TITLE * height) + 4.0 * height
    unit, metres = UNITS[units]
    part = _part(BAR * height / projection.per_metre / metres / PARTS)
    step = projection.length(part * metres)
    found = _bar((x, y), step, 0.6 * height)
    for number in (0, PARTS):
        text = f"{number * part:g}" + (f" {unit}" if number else "")
        notes.append(Note(contents.NORTH, text, (x + number * step, y + 1.2 * height)))
    if north is not None:
        at = x + PARTS * step + 9.0 * height, y
        found += _arrow(at, north, height)
        tip = _moved(at, north, 3.4 * height)
        corner = tip[0] - 0.45 * height, tip[1] - 0.5 * height
        notes.append(Note(contents.NORTH, "N", corner))
    lines[contents.NORTH] = found
    return replace(view, lines=lines, notes=notes)


def _part(longest: float) -> float:
    """Return the longest round length that is no longer than one.

    Example:
        >>> _part(0.7), _part(3.0)
        (0.5, 2.0)
    """
    power: float = 10.0 ** math.floor(math.log10(longest))
    return max(nice * power for nice in NICE if nice * power <= longest + 1e-12)


def _bar(corner: Place, step: float, high: float) -> list[PlanLine]:
    """Return a bar whose parts have a line through them in turn."""
    x, y = corner
    ends = x + PARTS * step
    lines = [PlanLine(((x, y), (ends, y), (ends, y + high), (x, y + high)), closed=True)]
    for number in range(PARTS):
        left, right = x + number * step, x + (number + 1) * step
        if number:
            lines.append(PlanLine(((left, y), (left, y + high))))
        if number % 2 == 0:
            middle = y + high / 2.0
            lines.append(PlanLine(((left, middle), (right, middle))))
    return lines


def _moved(place: Place, angle: float, by: float) -> Place:
    turn = math.radians(angle)
    return place[0] + by * math.cos(turn), place[1] + by * math.sin(turn)


def _arrow(at: Place, angle: float, height: float) -> list[PlanLine]:
    """Return an arrow that points to the north."""
    tip, tail = _moved(at, angle, 2.4 * height), _moved(at, angle, -2.4 * height)
    sides = [_moved(at, angle + turn, 1.2 * height) for turn in (150.0, -150.0)]
    return [PlanLine((tail, tip)), PlanLine((sides[0], tip, sides[1]))]
