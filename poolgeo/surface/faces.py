"""Vertical faces between columns, before they are triangulated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Ints
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


def cancelled(faces: Faces, others: Faces, lower_label: int | None = None) -> tuple[Faces, Faces]:
    """Take out of faces, and of others that look the other way, what both have in common.

    That is where nothing is on either side of them.

    Args:
        faces: Vertical faces.
        others: Others.
        lower_label: Label of what is left of a face below that, its own where None.

    Returns:
        What is left of the faces, and of the others.
    """
    while True:
        mine, theirs = _meeting(faces, others)
        if not len(mine):
            return faces, others
        turn = (others.ends[theirs, 0] != faces.ends[mine, 0])[:, None]
        low, high, bottom, top = (
            np.where(turn, item[rows][:, ::-1], item[rows])
            for item, rows in (
                (others.low, theirs), (others.high, theirs), (faces.low, mine), (faces.high, mine),
            )
        )  # fmt: skip
        faces, others = faces.less(mine, low, high, lower_label), others.less(theirs, bottom, top)


def _meeting(faces: Faces, others: Faces) -> tuple[Ints, Ints]:
    """Return pairs of faces and others that have some height in common on one edge, each once."""
    none = np.zeros(0, dtype=np.int64)
    if not len(others.ends) or not len(faces.ends):
        return none, none
    far = 1 + max(int(faces.ends.max()), int(others.ends.max()))
    key, other_key = (pair_keys(item.ends[:, 0], item.ends[:, 1], far) for item in (faces, others))
    order = np.argsort(other_key)
    first, last = (np.searchsorted(other_key[order], key, side=side) for side in ("left", "right"))
    count = last - first
    mine = np.repeat(np.arange(len(key)), count)
    if not len(mine):
        return none, none
    step = np.arange(len(mine)) - np.repeat(np.cumsum(count) - count, count)
    theirs = order[first[mine] + step]
    turn = (others.ends[theirs, 0] != faces.ends[mine, 0])[:, None]
    low, high = (
        np.where(turn, item[theirs][:, ::-1], item[theirs]) for item in (others.low, others.high)
    )
    common = np.minimum(faces.high[mine], high) > np.maximum(faces.low[mine], low)
    meets = common.any(axis=1)
    mine, theirs = mine[meets], theirs[meets]
    _, once = np.unique(mine, return_index=True)
    mine, theirs = mine[once], theirs[once]
    _, once = np.unique(theirs, return_index=True)
    return mine[once], theirs[once]
