"""Where sections are cut, on the plan: strokes at both ends, arrows, letters."""

from __future__ import annotations

from ..surface.slices import Straight
from . import contents
from .plan_lines import PlanLine, Projection
from .positions import Position
from .view import Text

STROKE, ARROW = 4.0, 3.0
"""Length of the stroke at each end, and of its arrow, in text heights."""

HEAD, SLIM = 1.0, 0.3
"""Length of an arrow's head, and half of its width, in text heights."""


def cut_line(
    name: str, line: Straight, projection: Projection, height: float
) -> tuple[list[PlanLine], list[Text]]:
    """Return the strokes and the letters of a section on the plan.

    It is seen from the right of the line: arrows point to the left.

    Args:
        name: Of the section.
        line: Along which it is cut.
        projection: To drawing units.
        height: Of text, in drawing units.

    Returns:
        Strokes, and a letter beyond each end.
    """
    way = float(line.way[0]), float(line.way[1])
    lines, texts = [], []
    ends = (line.start, 1.0), (line.start + line.length * line.way, -1.0)
    for point, inward in ends:
        x, y = projection.place(point)

        def at(along: float, up: float, x: float = x, y: float = y) -> tuple[float, float]:
            along, up = along * height, up * height
            place = x + along * way[0] - up * way[1], y + along * way[1] + up * way[0]
            return round(place[0], projection.decimals), round(place[1], projection.decimals)

        tip, neck = at(0.0, ARROW), ARROW - HEAD
        lines += [
            PlanLine((at(inward * STROKE, 0.0), at(0.0, 0.0), tip)),
            PlanLine((at(-SLIM, neck), tip, at(SLIM, neck))),
        ]
        beyond = at(-inward * 0.7 * max(1.0, 0.5 * len(name)), -0.9)
        texts.append(Text(contents.CUT_LINES, name, Position(beyond, 0.0, 0.0)))
    return lines, texts


def letter(number: int) -> str:
    """Return the name of a section by its number from 0 on: A to Z, AA, AB ...

    Example:
        >>> letter(0), letter(27)
        ('A', 'AB')
    """
    first, last = divmod(number, 26)
    return (letter(first - 1) if first else "") + chr(ord("A") + last)
