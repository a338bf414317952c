"""Labels that keep clear of lines and of each other.

Each label has a few candidate positions. It takes the one that covers least of other labels and
of lines and is nearest to where it is wanted; then all are gone through again, a few times, since
a later label may have made a better place for an earlier one. No label is ever left out: where
the drawing is crowded, the best position is taken as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from .plan_lines import Place, PlanLine

_ROUNDS = 3
"""Times that all labels are gone through; a fourth changed nothing in any sample."""
_OVERLAP = 12.0
"""Cost of lying wholly on another label, against 1 for the farthest place along the run."""
_CROSSING = 1.0
"""Cost of a line over the label for each text height of it."""
_MARGIN = 0.25
"""Clear space about a label, in text heights."""
_NARROW = {" ": 0.5, ".": 0.4, ",": 0.4, "'": 0.35, '"': 0.5, ":": 0.4, "1": 0.7, "/": 0.6}
"""Advance of narrow characters in cap heights."""
_WIDE = 0.9
"""Advance of any other character in cap heights: no less than common drawing fonts need."""


@dataclass(frozen=True)
class Position:
    """A place for a label.

    Args:
        centre: Middle of the text.
        angle: Of the text [deg]; above -90, up to 90, so that it reads upright.
        cost: How much less wanted it is than the best one; 0 to about 2.
    """

    centre: Place
    angle: float
    cost: float


@dataclass(frozen=True)
class Label:
    """A text and where it could go.

    Args:
        text: What it says.
        positions: Candidates, at least one.
    """

    text: str
    positions: tuple[Position, ...]


def text_width(text: str, height: float) -> float:
    """Return about how wide a text is, on the safe side.

    The machine's fonts are not asked: the drawing would depend on the machine that wrote it.
    """
    return height * sum(_NARROW.get(character, _WIDE) for character in text)


def along(line: PlanLine, width: float, height: float) -> tuple[Position, ...]:
    """Return positions beside a line, along it: near its middle first, on either side.

    Args:
        line: What the label names.
        width: Of the text.
        height: Of the text.
    """
    path = _Path(line)
    return tuple(_along(path, width, height))


def _along(path: _Path, width: float, height: float) -> Iterator[Position]:
    for share in (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9):
        x, y = path.at(share * path.length)
        start = path.at(share * path.length - width / 2)
        end = path.at(share * path.length + width / 2)
        heading = math.atan2(end[1] - start[1], end[0] - start[0])
        for away in (0.95, 2.3):
            for side in (1.0, -1.0):
                shift = side * away * height
                yield Position(
                    (x - shift * math.sin(heading), y + shift * math.cos(heading)),
                    upright(math.degrees(heading)),
                    abs(share - 0.5) + 0.3 * (away > 1) + 0.02 * (side < 0),
                )


def around(place: Place, width: float, height: float) -> tuple[Position, ...]:
    """Return level positions about a point, right of it first."""
    x, y = place
    found = []
    for ring, gap in enumerate((0.7, 1.6, 2.8)):
        dx, dy = width / 2 + gap * height, (0.5 + gap) * height
        for rank, (right, up) in enumerate(
            [(1, 0), (-1, 0), (0, 1), (0, -1), (0.9, 0.9), (0.9, -0.9), (-0.9, 0.9), (-0.9, -0.9)]
        ):
            found.append(Position((x + right * dx, y + up * dy), 0.0, 0.4 * ring + 0.02 * rank))
    return tuple(found)


def upright(angle: float) -> float:
    """Turn a direction [deg] by half a turn where text along it would stand on its head."""
    turned = (angle + 180.0) % 360.0 - 180.0
    if turned > 90.0 + 1e-6:
        turned -= 180.0
    elif turned <= -90.0 + 1e-6:
        turned += 180.0
    return turned


def placed(labels: Sequence[Label], lines: Sequence[PlanLine], height: float) -> list[Position]:
    """Choose a position for each label.

    Args:
        labels: In order of precedence.
        lines: What a label should not lie on.
        height: Of the text.

    Returns:
        One position for each label, in the same order.
    """
    return _Placement(labels, lines, height).run()


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


class _Placement:
    """The search: every candidate of every label as a box, and what it would cost."""

    def __init__(self, labels: Sequence[Label], lines: Sequence[PlanLine], height: float) -> None:
        from shapely import LineString, STRtree

        pieces = {frozenset(piece) for line in lines for piece in line.pieces}
        self._height = height
        self._lines = [LineString(sorted(piece)) for piece in sorted(pieces, key=sorted)]
        self._tree = STRtree(self._lines)
        self._labels = labels
        self._boxes = [
            [_box(at, text_width(label.text, height), height) for at in label.positions]
            for label in labels
        ]
        self._costs = [
            [self._on_lines(box) + at.cost for box, at in zip(boxes, label.positions, strict=True)]
            for boxes, label in zip(self._boxes, labels, strict=True)
        ]

    def run(self) -> list[Position]:
        chosen: dict[int, int] = {}
        for _ in range(_ROUNDS):
            for index in range(len(self._labels)):
                others = [self._boxes[i][k] for i, k in chosen.items() if i != index]
                chosen[index] = self._best(index, others)
        return [label.positions[chosen[i]] for i, label in enumerate(self._labels)]

    def _best(self, index: int, others: list[Any]) -> int:
        """Return the number of the cheapest candidate; the earlier one where two are equal."""
        from shapely import STRtree

        tree = STRtree(others)
        costs = []
        for box, cost in zip(self._boxes[index], self._costs[index], strict=True):
            covered = sum(box.intersection(others[i]).area for i in tree.query(box))
            costs.append(cost + _OVERLAP * covered / box.area)
        return costs.index(min(costs))

    def _on_lines(self, box: Any) -> float:
        """Return the cost of the lines under a box."""
        under = sum(box.intersection(self._lines[i]).length for i in self._tree.query(box))
        return _CROSSING * float(under) / self._height


def _box(at: Position, width: float, height: float) -> Any:
    """Return the rectangle that a text takes up, with its clear margin."""
    from shapely import affinity, box

    half_width, half_height = width / 2 + _MARGIN * height, (0.5 + _MARGIN) * height
    x, y = at.centre
    level = box(x - half_width, y - half_height, x + half_width, y + half_height)
    return affinity.rotate(level, at.angle, origin=at.centre)
