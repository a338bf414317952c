"""Where a label could stand: along what it names, about it, or apart with a leader."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from .plan_lines import Place, PlanLine

_ADVANCES = (
    (0.4, "'ijl"),
    (0.5, " ,-./:;IJ\\f|"),
    (0.6, "!()[]rt"),
    (0.7, '"*_`'),
    (0.8, "?FLcksz"),
    (1.0, "ABCRVXZ"),
    (1.1, "&DGHNOQU"),
    (1.2, "#+<=>M^w~"),
    (1.4, "%@Wm"),
)
"""Advance in cap heights, and which characters need as much: those of a wide sans serif, rounded
up, so that common drawing fonts need no more."""
_NARROW = {character: advance for advance, text in _ADVANCES for character in text}
_WIDE = 0.9
"""Advance of any other character: figures, most letters."""
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9)
"""Places along a run, as shares of its length, best first."""
_AWAY = ((0.95, 0.0), (2.3, 0.3))
"""Distance of a label's middle from its run in text heights, and what it costs."""
_RINGS = ((0.7, 0.0), (1.6, 0.4))
"""Gap between a point and the label about it in text heights, and what it costs."""
_LEADERS = ((3.0, 0.9), (5.0, 1.1), (7.5, 1.4), (10.5, 1.8), (14.0, 2.3))
"""Length of a leader in text heights, and what it costs."""
_DIRECTIONS = 16
"""Directions in which a leader can go."""
_FARTHEST = 120
"""Lengths of leaders that are tried where nothing nearer is free."""


@dataclass(frozen=True)
class Position:
    """A place for a label.

    Args:
        centre: Middle of the text.
        angle: Of the text [deg], so that it reads from below or from the right.
        cost: How much less wanted it is than the best one; 0 to about 2.
        leader: The line that ties the text to what it names: from there to the text.
    """

    centre: Place
    angle: float
    cost: float
    leader: tuple[Place, Place] | None = None


def text_width(text: str, height: float) -> float:
    """Return about how wide a text is, on the safe side.

    The machine's fonts are not asked: the drawing would depend on the machine that wrote it.
    """
    return height * sum(_NARROW.get(character, _WIDE) for character in text)


def box_about(at: Position, text: str, height: float) -> tuple[Place, ...]:
    """Return the four corners of a text whose middle stands at a position."""
    (x, y), turn = at.centre, math.radians(at.angle)
    along, up = text_width(text, height) / 2.0, height / 2.0
    c, s = math.cos(turn), math.sin(turn)
    return tuple(
        (x + a * c - b * s, y + a * s + b * c)
        for a, b in ((-along, -up), (along, -up), (along, up), (-along, up))
    )


def along(line: PlanLine, width: float, height: float) -> Iterator[Position]:
    """Yield positions beside a line, on either side and near its middle first, then apart.

    Args:
        line: What the label names.
        width: Of the text.
        height: Of the text.

    Yields:
        Positions turned along the line; those apart are level.
    """
    path = _Path(line)
    for share in _SHARES:
        x, y = path.at(share * path.length)
        start = path.at(share * path.length - width / 2)
        end = path.at(share * path.length + width / 2)
        heading = math.atan2(end[1] - start[1], end[0] - start[0])
        for away, cost in _AWAY:
            for side in (1.0, -1.0):
                shift = side * away * height
                yield Position(
                    (x - shift * math.sin(heading), y + shift * math.cos(heading)),
                    upright(math.degrees(heading)),
                    abs(share - 0.5) + cost + 0.02 * (side < 0),
                )
    yield from _apart(path.at(path.length / 2), width, height)


def around(place: Place, width: float, height: float) -> Iterator[Position]:
    """Yield level positions about a point, right of it first, then apart.

    Args:
        place: What the label names.
        width: Of the text.
        height: Of the text.

    Yields:
        Level positions.
    """
    x, y = place
    for gap, cost in _RINGS:
        dx, dy = width / 2 + gap * height, (0.5 + gap) * height
        for rank, (right, up) in enumerate(
            [(1, 0), (-1, 0), (0, 1), (0, -1), (0.9, 0.9), (0.9, -0.9), (-0.9, 0.9), (-0.9, -0.9)]
        ):
            yield Position((x + right * dx, y + up * dy), 0.0, cost + 0.02 * rank)
    yield from _apart(place, width, height)


def _apart(place: Place, width: float, height: float) -> Iterator[Position]:
    """Yield level positions farther off, with a leader to the nearer end of the text."""
    for length, cost in _LEADERS:
        yield from _ring(place, width, height, length, cost)


def _ring(
    place: Place, width: float, height: float, length: float, cost: float
) -> Iterator[Position]:
    """Yield level positions at the ends of leaders as long as some text heights."""
    for number in range(_DIRECTIONS):
        turn = math.tau * number / _DIRECTIONS
        dx, dy = length * height * math.cos(turn), length * height * math.sin(turn)
        end = (place[0] + dx, place[1] + dy)
        if abs(math.cos(turn)) > 0.1:
            centre = (end[0] + math.copysign(width / 2 + 0.3 * height, dx), end[1])
        else:
            centre = (end[0], end[1] + math.copysign(0.8 * height, dy))
        yield Position(centre, 0.0, cost, (place, end))


def farther(place: Place, width: float, height: float) -> Iterator[Position]:
    """Yield level positions ever farther from a point, for where all near ones are taken."""
    for step in range(1, _FARTHEST):
        length = _LEADERS[-1][0] + 2.5 * step
        yield from _ring(place, width, height, length, _LEADERS[-1][1] + 0.2 * step)


STEEP = 5.0
"""[deg] What is as near to upright reads as upright text does."""


def upright(angle: float) -> float:
    """Turn a direction [deg] by half a turn where text along it would stand on its head.

    Returns:
        The direction; what is upright, but for a few degrees, reads from the right. Source: ISO
        129-1 (from memory).
    """
    turned = (angle + 180.0) % 360.0 - 180.0
    if turned > 90.0 + STEEP:
        turned -= 180.0
    elif turned <= -90.0 + STEEP:
        turned += 180.0
    return turned


class _Path:
    """A line by the length along it."""

    def __init__(self, line: PlanLine) -> None:
        self._closed = line.closed
        self._pieces = line.pieces
        self._lengths = [math.dist(*piece) for piece in self._pieces]
        self.length = sum(self._lengths)

    def at(self, distance: float) -> Place:
        """Return the place at a distance from the start; straight on beyond an end."""
        if self._closed:
            distance %= self.length
        index = 0
        while distance > self._lengths[index] and index < len(self._pieces) - 1:
            distance -= self._lengths[index]
            index += 1
        (start, end), length = self._pieces[index], self._lengths[index]
        share = distance / length
        return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
