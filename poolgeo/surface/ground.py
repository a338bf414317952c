"""The faces of the concrete towards the ground between two pieces of it."""

from __future__ import annotations

import numpy as np

from ..arrays import Ints
from ..mesh import Patch
from ..plan.layers import Gap
from ..plan.planmap import PlanMap
from .columns import Columns
from .faces import Faces, cancelled
from .labels import Labels, patch_of
from .neighbours import plan_edges

OUTER_WALL = Patch("pool", "outer wall", "")
FOOTING_SIDE = Patch("pool", "footing side", "")


def roof_patch(n: int, gap: Gap) -> Patch:
    """Return the label of the concrete above a gap, the number of which is told."""
    return Patch(gap.high.body, gap.high.kind, f"over the ground {n + 1}")


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
        beneath = [
            labels.number(patch_of(between.gaps[gap].low, piece))
            for gap, piece in zip(between.gap.tolist(), between.piece.tolist(), strict=True)
        ]
        over = [labels.number(roof_patch(n, item)) for n, item in enumerate(between.gaps)]
        return [
            (low[part.corners], np.array(beneath, dtype=np.int64)[part.owner]),
            (high[part.corners][:, ::-1], np.array(over)[between.gap][part.owner]),
        ]

    def opened(self, faces: Faces, labels: Labels) -> Faces:
        """Take the ground's open sides out of vertical faces, and add the wall behind it."""
        if self.between is None:
            return faces
        below, above = (self.columns.numbers(item) for item in self.tickets)
        edges, outer = self.edges, self.edges.outer
        floor, roof = below[edges.at_left[outer]], above[edges.at_left[outer]]
        border = Faces(edges.ends[outer], floor, roof, np.zeros(int(outer.sum()), dtype=np.int64))
        wall, side = labels.number(OUTER_WALL), labels.number(FOOTING_SIDE)
        rest, behind = cancelled(faces, border.turned(wall), side)
        return Faces.joined([rest, behind])

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
