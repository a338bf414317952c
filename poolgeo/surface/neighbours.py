"""Neighbours: the edges of the partition, with the face on either side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model import Ints
from ..plan.planmap import OUTSIDE, PlanMap


@dataclass(frozen=True)
class PlanEdges:
    """Edges of the partition.

    Args:
        ends: (e, 2) plan vertices; the left face is concrete.
        left: (e,) face on the left.
        right: (e,) face on the right, `OUTSIDE` where no concrete is.
    """

    ends: Ints
    left: Ints
    right: Ints


def plan_edges(plan: PlanMap) -> PlanEdges:
    """Pair the rings of neighbouring faces into edges."""
    part = plan.partition
    concrete = plan.top[part.face] != OUTSIDE
    a, b, f = part.start[concrete], part.stop[concrete], part.face[concrete]
    forward = a < b
    key = np.where(forward, a, b) * len(plan.partition.vertices) + np.where(forward, b, a)
    order = np.lexsort((~forward, key))
    a, b, f, key = a[order], b[order], f[order], key[order]
    twin = np.zeros(len(key), dtype=bool)
    twin[1:] = key[1:] == key[:-1]
    right = np.full(len(key), OUTSIDE)
    right[:-1][twin[1:]] = f[1:][twin[1:]]
    keep = ~twin
    return PlanEdges(np.column_stack([a, b])[keep], f[keep], right[keep])
