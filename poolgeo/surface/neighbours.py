"""Neighbours: the edges of a partition, with the face on either side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..errors import GeometryError
from ..plan.arrangement import NOWHERE
from ..plan.partition import Partition


@dataclass(frozen=True)
class PlanEdges:
    """Edges of the partition.

    Args:
        ends: (e, 2) plan vertices; the left face is concrete.
        left: (e,) face on the left.
        right: (e,) face on the right, `NOWHERE` where no concrete is.
        at_left: (e, 2) places of the ends in the left face's border,
        at_right: and in the right face's, or in the left's where no concrete is.
    """

    ends: Ints
    left: Ints
    right: Ints
    at_left: Ints
    at_right: Ints

    @property
    def outer(self) -> Bools:
        """(e,) Whether an edge is on the outside of everything."""
        found: Bools = self.right == NOWHERE
        return found


def plan_edges(plan: Partition) -> PlanEdges:
    """Turn the edges of a partition so that the outside is on their right."""
    turned = plan.left == NOWHERE
    at_left = np.where(turned[:, None], plan.at_right[:, ::-1], plan.at_left)
    outer = turned | (plan.right == NOWHERE)
    return PlanEdges(
        np.where(turned[:, None], plan.edges[:, ::-1], plan.edges),
        np.where(turned, plan.right, plan.left),
        np.where(turned, NOWHERE, plan.right),
        at_left,
        np.where(outer[:, None], at_left, plan.at_right),
    )


def matched(edges: PlanEdges, others: PlanEdges, vertices: Floats) -> Ints:
    """Return for each outer edge (k,) the same edge of another partition of the plan.

    Args:
        edges: Of the one partition.
        others: Of the other.
        vertices: (n, 2) of both [m].

    Raises:
        GeometryError: They do not end on the same edges (no case is known).
    """
    far = 1 + max(int(edges.ends.max(initial=0)), int(others.ends.max(initial=0)))
    mine, theirs = (item.ends[item.outer] @ np.array([far, 1]) for item in (edges, others))
    order = np.argsort(theirs)
    place = np.minimum(np.searchsorted(theirs[order], mine), len(order) - 1)
    if len(lone := np.flatnonzero(theirs[order][place] != mine)):
        raise GeometryError(vertices[edges.ends[edges.outer][lone[0], 0]])
    found: Ints = np.flatnonzero(others.outer)[order][place]
    return found
