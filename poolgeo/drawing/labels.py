"""Labels that keep clear of lines and of each other.

Each label has candidate positions (`poolgeo.drawing.positions`). It takes the one that covers least
of other labels and of lines and is most wanted; then all are gone through again, a few times,
since a later label may have made a better place for an earlier one. No label is ever left out, and
none lies on another: where the drawing is crowded, some stand far off at the end of a leader.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from .boxes import Boxes, crossings
from .plan_lines import Place, PlanLine
from .positions import Position, box_about, farther, text_width

_ROUNDS = 4
"""Times that all labels are gone through."""
_OVERLAP = 4.0
"""Cost of another label over the label, for each text height of it; near places cost up to 1."""
_CROSSING = 1.0
"""Cost of a line over the label, for each text height of it."""
_TANGLED = 2.0
"""Cost of each leader that another crosses."""
_MARGIN = 0.25
"""Clear space about a label, in text heights."""


@dataclass(frozen=True)
class Label:
    """A text and where it could go.

    Args:
        text: What it says.
        positions: Candidates, at least one.
    """

    text: str
    positions: tuple[Position, ...]


def placed(
    labels: Sequence[Label],
    lines: Sequence[PlanLine],
    height: float,
    taken: Sequence[tuple[str, Position]] = (),
) -> list[Position]:
    """Choose a position for each label.

    Args:
        labels: In order of precedence.
        lines: What a label should not lie on.
        height: Of the text.
        taken: Texts that stand where they are.

    Returns:
        One position for each label, in the same order: no text lies on another or on a taken one.
    """
    if not labels:
        return []
    fixed = [Label(text, (at,)) for text, at in taken]
    every = [*fixed, *labels]
    found = _Placement(every, lines, height).run()
    return _parted(every, found, height, len(fixed))[len(fixed) :]


def _parted(
    labels: Sequence[Label], found: list[Position], height: float, fixed: int
) -> list[Position]:
    """Move labels that lie on others away from them, as far as need be.

    Args:
        labels: What was placed.
        found: Where.
        height: Of the text.
        fixed: How many of the first ones stay.

    Returns:
        Where they stand.
    """
    boxes = [_box(label.text, at, height) for label, at in zip(labels, found, strict=True)]
    for index in range(len(labels) - 1, fixed - 1, -1):
        if not _covers(boxes[index], boxes, index):
            continue
        label, at = labels[index], found[index]
        width = text_width(label.text, height)
        anchor = label.positions[-1].leader
        start = at.centre if anchor is None else anchor[0]
        for other in (*label.positions, *farther(start, width, height)):
            box = _box(label.text, other, height)
            if not _covers(box, boxes, index):
                found[index], boxes[index] = other, box
                break
    return found


def _box(text: str, at: Position, height: float) -> Floats:
    return np.array(box_about(at, text, height))


def _covers(box: Floats, boxes: Sequence[Floats], own: int) -> bool:
    """Tell whether a box (4, 2) lies on any of others but its own: no side parts them."""
    others = np.array([item for k, item in enumerate(boxes) if k != own]).reshape(-1, 4, 2)
    reach = np.abs(others.mean(axis=1) - box.mean(axis=0)).max(axis=1, initial=0.0)
    size = np.ptp(box, axis=0).max() + np.ptp(others, axis=1).max(axis=1, initial=0.0)
    others = others[reach < size]
    mine = np.broadcast_to(box, others.shape)
    return bool(np.any(_meets(mine, others) & _meets(others, mine)))


def _meets(one: Floats, other: Floats) -> Bools:
    """Tell which of n boxes (n, 4, 2) no side of theirs parts from n others."""
    sides = one[:, 1:3] - one[:, 0:2]
    mine = np.einsum("nij,nkj->nik", sides, one)
    theirs = np.einsum("nij,nkj->nik", sides, other)
    gap = np.maximum(theirs.min(axis=2) - mine.max(axis=2), mine.min(axis=2) - theirs.max(axis=2))
    meets: Bools = (gap < 0.0).all(axis=1)
    return meets


class _Placement:
    """The search: what every candidate of every label covers, and what that costs.

    A text is a box, and strokes through it; a leader is a stroke more. What one label covers of
    another is the length of the other's strokes under its box, and of its strokes under the
    other's box.
    """

    def __init__(self, labels: Sequence[Label], lines: Sequence[PlanLine], height: float) -> None:
        self._labels = labels
        self._height = height
        candidates = [
            (at, text_width(label.text, height)) for label in labels for at in label.positions
        ]
        ends = np.cumsum([len(label.positions) for label in labels])
        self._numbers = np.split(np.arange(len(candidates)), ends[:-1])
        self._boxes = Boxes(
            np.array([at.centre for at, _ in candidates]),
            np.array([math.radians(at.angle) for at, _ in candidates]),
            np.array([(width / 2, height / 2) for _, width in candidates]) + _MARGIN * height,
        )
        self._strokes = np.array([_strokes(*candidate, height) for candidate in candidates])
        pieces = sorted({(min(piece), max(piece)) for line in lines for piece in line.pieces})
        # lower and upper corners of all that a candidate takes up, and of all candidates of a label
        around = self._boxes.around()
        ends = self._strokes.reshape(len(candidates), -1, 2)
        self._reach = np.stack([np.minimum(ends.min(axis=1), around[0]),
                                np.maximum(ends.max(axis=1), around[1])], axis=1)  # fmt: skip
        self._low = [self._reach[mine, 0].min(axis=0) for mine in self._numbers]
        self._high = [self._reach[mine, 1].max(axis=0) for mine in self._numbers]
        self._costs = np.array([at.cost for at, _ in candidates])
        self._costs += _CROSSING * self._under(self._boxes, np.array(pieces).reshape(-1, 2, 2))

    def run(self) -> list[Position]:
        """Let each label choose, a few times over."""
        chosen: dict[int, int] = {}
        for _ in range(_ROUNDS):
            before = dict(chosen)
            for index, mine in enumerate(self._numbers):
                others = np.array([n for i, n in chosen.items() if i != index], np.int64)
                others = others[self._is_near(index, others)]
                costs = self._costs[mine] + _OVERLAP * self._covered(mine, others)
                costs += _TANGLED * _crossed(self._strokes[mine, -1], self._strokes[others, -1])
                chosen[index] = int(mine[np.argmin(np.round(costs, 9))])  # the first of equal ones
            if chosen == before:
                break
        return [
            label.positions[chosen[index] - int(mine[0])]
            for index, (label, mine) in enumerate(zip(self._labels, self._numbers, strict=True))
        ]

    def _is_near(self, index: int, others: Ints) -> Bools:
        """Tell which candidates have anything where some candidate of a label has something."""
        low, high = self._low[index], self._high[index]
        near: Bools = (self._reach[others, 0] <= high).all(axis=1)
        near &= (self._reach[others, 1] >= low).all(axis=1)
        return near

    def _covered(self, mine: Ints, others: Ints) -> Floats:
        """Return how much each of my candidates covers of the others and they of it."""
        strokes, each = self._strokes[mine], self._strokes.shape[1]
        found = crossings(self._boxes.take(others), strokes.reshape(-1, 2, 2))
        by_them = np.bincount(found.piece // each, found.length, minlength=len(mine))
        by_me = self._under(self._boxes.take(mine), self._strokes[others].reshape(-1, 2, 2))
        return by_me + by_them / self._height

    def _under(self, boxes: Boxes, pieces: Floats) -> Floats:
        """Return the length under each box, in text heights."""
        found = crossings(boxes, pieces)
        return np.bincount(found.box, found.length, minlength=len(boxes)) / self._height


def _crossed(mine: Floats, others: Floats) -> Ints:
    """Return how many of some leaders (k, 2, 2) each of others (n, 2, 2) crosses (n,)."""
    a, b, p, q = mine[:, None, 0], mine[:, None, 1], others[:, 0], others[:, 1]
    parts = _side(a, b, p) * _side(a, b, q) < 0.0
    crossed: Ints = (parts & (_side(p, q, a) * _side(p, q, b) < 0.0)).sum(axis=1)
    return crossed


def _side(start: Floats, end: Floats, place: Floats) -> Floats:
    """Return on which side of lines places lie: above 0 on the left, 0 on the line."""
    way, to = end - start, place - start
    found: Floats = way[..., 0] * to[..., 1] - way[..., 1] * to[..., 0]
    return found


def _strokes(at: Position, width: float, height: float) -> list[tuple[Place, Place]]:
    """Return the strokes that stand for a text of some width and for its leader."""
    (x, y), turn = at.centre, math.radians(at.angle)
    dx, dy = width / 2 * math.cos(turn), width / 2 * math.sin(turn)
    lines = []
    for part in (-0.4, 0.0, 0.4):
        up, across = part * height * math.cos(turn), -part * height * math.sin(turn)
        lines.append(((x + across - dx, y + up - dy), (x + across + dx, y + up + dy)))
    return [*lines, at.leader or (at.centre, at.centre)]
