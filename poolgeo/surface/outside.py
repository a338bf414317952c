"""Labels of the outside of the shell, and the faces of the ground between pieces of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model import Bools, Ints, Patch
from ..plan.keys import pair_keys
from ..plan.planmap import PlanMap
from .columns import Columns
from .labels import Labels, patch_of
from .neighbours import plan_edges

OUTER_WALL = Patch("pool", "outer wall", "")
FOOTING_SIDE = Patch("pool", "footing side", "")


def soffit_labels(plan: PlanMap, labels: Labels) -> Ints:
    """Return the labels (f,) of the faces of the underside."""
    under = plan.under
    found = np.empty(len(under.zone), dtype=np.int64)
    pairs = under.zone * (int(under.piece.max(initial=0)) + 1) + under.piece
    for key in np.unique(pairs).tolist():
        mine = pairs == key
        n, is_level = divmod(int(under.zone[mine][0]), 2)
        item = under.undersides[n]
        feature = f"{n + 1}" if is_level else f"{n + 1} piece {int(under.piece[mine][0]) + 1}"
        found[mine] = labels.number(Patch(item.body, item.kind, f"{item.kind} {feature}"))
    return found


def outer_labels(plan: PlanMap, labels: Labels, faces: Ints) -> Ints:
    """Return the labels (k,) of the vertical faces on the outside of everything.

    Args:
        plan: The painted plan.
        labels: Where to number them.
        faces: (k,) the faces of the plan that they stand below.
    """
    top = plan.top[faces]
    number = np.zeros(len(plan.layers), dtype=np.int64)
    for n in np.unique(top).tolist():
        item = plan.layers[n]
        kind = "footing side" if item.kind == "footing top" else "outer wall"
        number[n] = labels.number(Patch(item.body, kind, ""))
    return number[top]


def hung_labels(plan: PlanMap, labels: Labels, faces: Ints) -> Ints:
    """Return the labels (k,) of the vertical faces at which the underside steps.

    Args:
        plan: The painted plan.
        labels: Where to number them.
        faces: (k,) the faces of the underside above them.
    """
    under = plan.under.zone[faces] // 2
    number = np.zeros(len(plan.under.undersides), dtype=np.int64)
    for n in np.unique(under).tolist():
        item = plan.under.undersides[n]
        kind = "outer wall" if item.kind == "beam underside" else "soffit step"
        number[n] = labels.number(Patch(item.body, kind, ""))
    return number[under]


class GroundFaces:
    """The faces of the concrete towards the ground between pieces of it."""

    def __init__(self, plan: PlanMap, columns: Columns) -> None:
        """Ask for the vertices; without ground there are none."""
        self.between, self.columns = plan.between, columns
        if self.between is None:
            return
        part, gap = self.between.partition, self.between.gap
        self.tickets = [
            columns.ask(part.vertex, heights[gap[part.face], part.vertex])
            for heights in (self.between.low, self.between.high)
        ]
        self.edges = plan_edges(part)

    def flat(self, labels: Labels) -> list[tuple[Ints, Ints]]:
        """Return the triangles above and below the ground, and their labels."""
        if self.between is None:
            return []
        low, high = (self.columns.numbers(item) for item in self.tickets)
        part, between = self.between.partition, self.between
        names = [
            [self._low_patch(int(gap), int(piece)) for gap, piece in zip(between.gap,
             between.piece, strict=True)],
            [Patch(between.gaps[gap].high.body, between.gaps[gap].high.kind, f"over the ground {gap}")
             for gap in between.gap.tolist()],
        ]  # fmt: skip
        numbers = [np.array([labels.number(item) for item in row]) for row in names]
        return [
            (low[part.corners], numbers[0][part.owner]),
            (high[part.corners][:, ::-1], numbers[1][part.owner]),
        ]

    def _low_patch(self, gap: int, piece: int) -> Patch:
        layer = self.between.gaps[gap].low if self.between is not None else None
        return patch_of(layer, piece) if layer is not None else OUTER_WALL

    def opened(self, faces: Faces, labels: Labels) -> Faces:
        """Take the ground's open sides out of vertical faces, and add the wall behind it."""
        if self.between is None:
            return faces
        below, above = (self.columns.numbers(item) for item in self.tickets)
        edges, outer = self.edges, self.edges.outer
        floor, roof = below[edges.at_left[outer]], above[edges.at_left[outer]]
        border = Faces(edges.ends[outer], floor, roof, np.zeros(int(outer.sum()), dtype=np.int64))
        mine, theirs, low, high = _shared(faces, border)
        wall, side = labels.number(OUTER_WALL), labels.number(FOOTING_SIDE)
        rest = faces.less(mine, low, high, side)
        closed = np.ones(len(border.ends), dtype=bool)
        closed[theirs] = False
        return Faces.joined([rest, border.only(closed).turned(wall)])

    def steps(self, labels: Labels) -> list[Faces]:
        """Return the vertical faces at which what lies above the ground steps."""
        if self.between is None:
            return []
        above, edges, inner = self.columns.numbers(self.tickets[1]), self.edges, ~self.edges.outer
        found = []
        for one, other, turn in (("at_left", "at_right", -1), ("at_right", "at_left", 1)):
            higher, lower = (above[getattr(edges, name)[inner]] for name in (one, other))
            real = np.flatnonzero(np.any(higher > lower, axis=1))
            ends = edges.ends[inner][real][:, ::turn]
            label = np.full(len(real), labels.number(OUTER_WALL))
            found.append(Faces(ends, lower[real][:, ::turn], higher[real][:, ::turn], label))
        return found


@dataclass(frozen=True)
class Faces:
    """Vertical faces, seen from the right of their start to their end.

    Args:
        ends: (k, 2) plan vertices.
        low: (k, 2) lowest mesh vertices.
        high: (k, 2) highest.
        label: (k,) labels.
    """

    ends: Ints
    low: Ints
    high: Ints
    label: Ints

    @classmethod
    def joined(cls, parts: Sequence[Faces]) -> Faces:
        """Return all faces of several."""
        return cls(
            np.concatenate([item.ends for item in parts]),
            np.concatenate([item.low for item in parts]),
            np.concatenate([item.high for item in parts]),
            np.concatenate([item.label for item in parts]),
        )

    def only(self, rows: Bools | Ints) -> Faces:
        """Return some of them."""
        return Faces(self.ends[rows], self.low[rows], self.high[rows], self.label[rows])

    def turned(self, label: int) -> Faces:
        """Return them seen from the other side, under another label."""
        names = np.full(len(self.label), label)
        return Faces(self.ends[:, ::-1], self.low[:, ::-1], self.high[:, ::-1], names)

    def less(self, rows: Ints, low: Ints, high: Ints, lower_label: int | None = None) -> Faces:
        """Take a part of the height out of some of them.

        Args:
            rows: (k,) which, each once.
            low: (k, 2) where that part begins.
            high: (k, 2) where it ends.
            lower_label: Label of what is left below it, their own where None.
        """
        kept = np.ones(len(self.ends), dtype=bool)
        kept[rows] = False
        whole = self.only(rows)
        name = whole.label if lower_label is None else np.full(len(rows), lower_label)
        below = Faces(whole.ends, whole.low, np.minimum(low, whole.high), name)
        above = Faces(whole.ends, np.maximum(high, whole.low), whole.high, whole.label)
        return Faces.joined([self.only(kept), below.standing(), above.standing()])

    def standing(self) -> Faces:
        """Return those that are higher than nothing."""
        return self.only(np.any(self.high > self.low, axis=1))


def _shared(faces: Faces, others: Faces) -> tuple[Ints, Ints, Ints, Ints]:
    """Return where faces and others stand on one edge and have some height in common.

    Returns:
        (k,) numbers of the faces, (k,) of the others, each edge once among these, and (k, 2) from
        where to where the others go, in the direction of the faces.
    """
    far = 1 + max(int(faces.ends.max(initial=0)), int(others.ends.max(initial=0)))
    if not len(others.ends) or not len(faces.ends):
        return (np.zeros(0, dtype=np.int64),) * 2 + (np.zeros((0, 2), dtype=np.int64),) * 2
    key, other_key = (pair_keys(item.ends[:, 0], item.ends[:, 1], far) for item in (faces, others))
    order = np.argsort(other_key)
    place = order[np.minimum(np.searchsorted(other_key[order], key), len(order) - 1)]
    mine = np.flatnonzero(other_key[place] == key)
    theirs = place[mine]
    turn = (others.ends[theirs, 0] != faces.ends[mine, 0])[:, None]
    low, high = (
        np.where(turn, item[theirs][:, ::-1], item[theirs]) for item in (others.low, others.high)
    )
    meets = np.any(
        np.minimum(faces.high[mine], high) > np.maximum(faces.low[mine], low), axis=1
    )
    return mine[meets], theirs[meets], low[meets], high[meets]


def without_membranes(above: Faces, below: Faces) -> Faces:
    """Return the vertical faces of both sides of the concrete, those that cancel left out.

    Where the concrete on one side of an edge stands wholly above that on the other, the upper
    side's face and the lower side's have the air between in common.

    Args:
        above: Of the upper side.
        below: Of the underside.
    """
    mine, theirs, low, high = _shared(above, below)
    if not len(mine):
        return Faces.joined([below, above])
    turn = (below.ends[theirs, 0] != above.ends[mine, 0])[:, None]
    bottom, top = (
        np.where(turn, item[mine][:, ::-1], item[mine]) for item in (above.low, above.high)
    )
    return Faces.joined([below.less(theirs, bottom, top), above.less(mine, low, high)])
