"""One side of the concrete: its strands and the faces between them, before anything is painted."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from .arrangement import Arrangement, arrange
from .coverage import coverage, ends_of
from .keys import numbered, pair_keys
from .linework import Linework
from .noding import Strands
from .tolerances import GRID, WELD

INSIDE = WELD, 2e-4
"""[m] How far inside a face a point is taken that stands for it: no face is thinner than the first,
and noding has moved none of its edges by more than a part of the second."""


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

    @cached_property
    def area(self) -> Floats:
        """The area of each face (faces + 1,), the outside last [m2]."""
        plan = self.plan
        p, q = self.strands.vertices[plan.edges.T]
        cross = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]
        left, right = ends_of(plan)
        size = plan.count + 1
        found: Floats = (np.bincount(left, cross, size) - np.bincount(right, cross, size)) / 2.0
        return found

    @cached_property
    def inner(self) -> Floats:
        """A plan point just inside each face (faces + 1, 2), the outside last [m].

        It lies beside the middle of the face's longest edge, no further off than a quarter of how
        wide the face is on the whole.
        """
        plan, vertices = self.plan, self.strands.vertices
        start, stop = plan.edges.ravel(), plan.edges[:, ::-1].ravel()
        p, along = vertices[start], vertices[stop] - vertices[start]
        size = np.hypot(along[:, 0], along[:, 1])
        face = plan.face % (plan.count + 1)
        longest = np.zeros(plan.count + 1, dtype=np.int64)
        by_size = np.argsort(size)
        longest[face[by_size]] = by_size
        along, size = along[longest], np.maximum(size[longest], GRID)
        off = np.clip(self.area / (4.0 * size), *INSIDE)
        off = np.minimum(off / size, 0.1)[:, None]
        found: Floats = (
            p[longest] + along / 2.0 + off * np.column_stack([-along[:, 1], along[:, 0]])
        )
        return found
