"""Vertical faces between columns, before they are triangulated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model import Bools, Ints
from ..plan.keys import pair_keys


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

        Returns:
            All that is left.
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


def shared(faces: Faces, others: Faces) -> tuple[Ints, Ints, Ints, Ints]:
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
    meets = np.any(np.minimum(faces.high[mine], high) > np.maximum(faces.low[mine], low), axis=1)
    return mine[meets], theirs[meets], low[meets], high[meets]


def without_membranes(above: Faces, below: Faces) -> Faces:
    """Return the vertical faces of both sides of the concrete, those that cancel left out.

    Where the concrete on one side of an edge stands wholly above that on the other, the upper
    side's face and the lower side's have the air between in common.

    Args:
        above: Of the upper side.
        below: Of the underside.
    """
    mine, theirs, low, high = shared(above, below)
    if not len(mine):
        return Faces.joined([below, above])
    turn = (below.ends[theirs, 0] != above.ends[mine, 0])[:, None]
    bottom, top = (
        np.where(turn, item[mine][:, ::-1], item[mine]) for item in (above.low, above.high)
    )
    return Faces.joined([below.less(theirs, bottom, top), above.less(mine, low, high)])
