"""One side of the concrete: its strands and the faces between them, before anything is painted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .arrangement import Arrangement, arrange
from .coverage import coverage
from .keys import numbered, pair_keys
from .linework import Linework
from .noding import Strands

Ints = np.ndarray


@dataclass(frozen=True)
class Side:
    """The upper or the lower side.

    Args:
        work: What the lines stand for.
        strands: All noded lines.
        plan: The faces between those of this side.
        mine: (k,) the strands of this side.
        edge: (k,) the edge of the plan on which each of them lies.
    """

    work: Linework
    strands: Strands
    plan: Arrangement
    mine: Ints
    edge: Ints

    @classmethod
    def of(cls, work: Linework, strands: Strands, side: int) -> Side:
        """Arrange the strands of one side (`linework.TOP` or `UNDER`)."""
        mine = np.flatnonzero(work.segments.side[strands.parent] == side)
        ends = strands.ends[mine]
        first, edge = numbered(pair_keys(ends[:, 0], ends[:, 1], len(strands.vertices)))
        plan = arrange(strands.vertices, np.sort(ends[first], axis=1))
        return cls(work, strands, plan, mine, edge)

    def covers(self, count: int) -> np.ndarray:
        """Return which of so many regions hold each face: (count, faces + 1), the outside last."""
        border = self.work.border[self.strands.parent[self.mine]]
        on = border >= 0
        return coverage(self.strands.vertices, self.plan, self.edge[on], border[on], count)

    def middles(self) -> np.ndarray:
        """Return the mean of each face's vertices (faces + 1, 2), the outside last [m]."""
        return np.column_stack([self.plan.mean(self.strands.vertices[:, i]) for i in range(2)])
