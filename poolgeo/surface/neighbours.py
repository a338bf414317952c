"""Neighbours: the edges of a partition, with the face on either side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model import Bools, Ints
from ..plan.arrangement import NOWHERE
from ..plan.partition import Partition


@dataclass(frozen=True)
class PlanEdges:
    """Edges of the partition.

    Args:
        ends: (e, 2) plan vertices; the left face is concrete.
        left: (e,) face on the left.
        right: (e,) face on the right, `NOWHERE` where no concrete is.
    """

    ends: Ints
    left: Ints
    right: Ints

    @property
    def outer(self) -> Bools:
        """(e,) Whether an edge is on the outside of everything."""
        found: Bools = self.right == NOWHERE
        return found


def plan_edges(plan: Partition) -> PlanEdges:
    """Turn the edges of a partition so that the outside is on their right."""
    turned = plan.left == NOWHERE
    return PlanEdges(
        np.where(turned[:, None], plan.edges[:, ::-1], plan.edges),
        np.where(turned, plan.right, plan.left),
        np.where(turned, NOWHERE, plan.right),
    )


def matched(edges: PlanEdges, others: PlanEdges) -> Ints:
    """Return for each outer edge (k,) the face of another partition on the same edge's left."""
    far = 1 + max(int(edges.ends.max(initial=0)), int(others.ends.max(initial=0)))
    mine, theirs = (item.ends[item.outer] @ np.array([far, 1]) for item in (edges, others))
    order = np.argsort(theirs)
    found: Ints = others.left[others.outer][order][np.searchsorted(theirs[order], mine)]
    return found
