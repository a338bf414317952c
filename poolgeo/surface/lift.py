"""Lifting: from the painted plan to labelled triangles.

Every face of the plan is concrete between its **soffit** and its **top**. Where two neighbours
differ, a vertical face stands; where a face meets nothing, the outer wall does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model import Bools, Floats, Ints, Mesh, Patch
from ..plan.planmap import PlanMap
from ..plan.tolerances import GRID
from .columns import Columns, curtain
from .kinds import OUTSIDE_KINDS, WATER_SURFACE
from .labels import Labels
from .manifold import closed, compact
from .neighbours import matched, plan_edges
from .water import rim_of


@dataclass(frozen=True)
class Lifted:
    """All solids.

    Args:
        shell: The concrete, closed.
        surface: The part of it that is inside the pool: facing the water, and the wall tops.
        wet: (m,) whether a triangle of ``surface`` is under the water of its patch's body.
        wetted: What each body's water touches, and its open sides; normals out of the water.
    """

    shell: Mesh
    surface: Mesh
    wet: Bools
    wetted: dict[str, Mesh]


def lift(plan: PlanMap, waters: Sequence[tuple[str, float]]) -> Lifted:
    """Raise the plan to solids.

    Args:
        plan: The painted plan.
        waters: Each body's name and water level [m].

    Returns:
        All solids.

    `GeometryError` is raised where one of them is not closed; no case is known.
    """
    return _Lift(plan, dict(waters)).run()


class _Lift:
    """One lifting: asks for all vertices, settles them, then reads triangles off."""

    def __init__(self, plan: PlanMap, waters: dict[str, float]) -> None:
        self.plan, self.waters = plan, waters
        self.columns = Columns(plan.vertices)
        self.edges = plan_edges(plan.partition)
        self.under = plan_edges(plan.under.partition)
        self.labels = Labels(plan, self.edges)
        self.level = np.array([waters[item.body] for item in plan.layers])
        self.cells_at: Ints = np.zeros((0, 3), dtype=np.int64)

    def top(self, face: Ints, vertex: Ints) -> Floats:
        """Height of the top of faces at vertices."""
        z: Floats = self.plan.heights[self.plan.top[face], vertex]
        return z

    def soffit(self, face: Ints, vertex: Ints) -> Floats:
        """Height of faces of the underside at vertices."""
        z: Floats = self.plan.under.heights[self.plan.under.zone[face], vertex]
        return z

    def run(self) -> Lifted:
        """Lift."""
        part = self.plan.partition
        asked = self._ask()
        self.columns.settle()
        tops, cells, under, standing = (
            [self.columns.numbers(item) for item in tickets] for tickets in asked
        )
        soffit = self.labels.number(Patch("pool", "soffit", ""))
        parts = [
            (tops[0], self.labels.of_faces(part.owner)),
            (cells[0][self.cells_at], self.labels.of_cells()),
            (under[0][:, ::-1], np.full(len(under[0]), soffit)),
            self._standing(standing),
        ]
        corners = np.concatenate([item[0] for item in parts])
        patch = np.concatenate([item[1] for item in parts])
        names = tuple(self.labels.patches)
        inside = np.array([item.kind not in OUTSIDE_KINDS for item in names])[patch]
        wet = inside & self._under_level(corners, patch, names)
        shell = Mesh(self.columns.vertices, corners, patch, names)
        wetted = {body: self._wetted(body, shell, wet, standing) for body in self.waters}
        surface = compact(Mesh(shell.vertices, corners[inside], patch[inside], names))
        return Lifted(closed(shell), surface, wet[inside], wetted)

    # --- water -------------------------------------------------------------------------------

    def _ask(self) -> tuple[list[int], ...]:
        """Ask for all vertices.

        Returns:
            Tickets for tops, cells and soffits; and for what stands: the tops of the left and right
            faces of edges, the water levels of their bodies, the soffits below outer edges, and
            those of the left and right faces of the underside's edges.
        """
        plan, part, ask = self.plan, self.plan.partition, self.columns.ask
        ends, under = self.edges.ends, plan.under.partition
        left, right = self.edges.left, np.where(self.edges.outer, self.edges.left, self.edges.right)
        outer = ends[self.edges.outer]
        below = matched(self.edges, self.under)
        inner = self.under.ends[~self.under.outer]
        beside = (self.under.left[~self.under.outer], self.under.right[~self.under.outer])
        return (
            [ask(part.triangles, self.top(part.owner[:, None], part.triangles))],
            [self._ask_cells()],
            [ask(under.triangles, self.soffit(under.owner[:, None], under.triangles))],
            [
                *(ask(ends, self.top(face[:, None], ends)) for face in (left, right)),
                *(ask(ends, np.broadcast_to(self.level[plan.top[face]][:, None], ends.shape))
                  for face in (left, right)),
                ask(outer, self.soffit(below[:, None], outer)),
                *(ask(inner, self.soffit(face[:, None], inner)) for face in beside),
            ],
        )  # fmt: skip

    def _ask_cells(self) -> int:
        """Ask for the vertices of the whole cells, each once; note where each corner finds its own.

        Returns:
            The ticket.
        """
        plan = self.plan
        count = len(plan.vertices)
        corners = plan.cells.layer[:, None] * count + plan.cells.triangles
        used = np.zeros(len(plan.layers) * count, dtype=bool)
        used[corners] = True
        asked = np.flatnonzero(used)
        number = np.empty(len(used), dtype=np.int64)
        number[asked] = np.arange(len(asked))
        self.cells_at = number[corners]
        layer, vertex = np.divmod(asked, count)
        return self.columns.ask(vertex, plan.heights[layer, vertex])

    def _under_level(self, corners: Ints, patch: Ints, names: tuple[Patch, ...]) -> Bools:
        """Whether triangles lie under the water of their patch's body."""
        level = np.array([self.waters[item.body] for item in names])
        z = self.columns.vertices[:, 2].copy()
        a, b, c = corners.T
        under: Bools = z[a] + z[b] + z[c] < 3.0 * (level - GRID)[patch]
        return under

    def _wetted(self, body: str, shell: Mesh, wet: Bools, standing: list[Ints]) -> Mesh:
        """Return the wet surface of a body with its open sides, checked to be open at the top only.

        `GeometryError` is raised where it is open below.
        """
        bodies = np.array([item.body == body for item in shell.patches])
        mine = wet & bodies[shell.patch]
        sides = np.concatenate([self._open_side(body, standing, k) for k in (0, 1)])
        mesh = Mesh(
            shell.vertices,
            np.concatenate([shell.triangles[mine][:, ::-1], sides]),
            np.concatenate([shell.patch[mine], np.full(len(sides), len(shell.patches))]),
            (*shell.patches, Patch(body, WATER_SURFACE, "")),
        )
        rim_of(mesh, self.waters[body])
        return mesh

    def _open_side(self, body: str, standing: list[Ints], k: int) -> Ints:
        """Where a body's water stands against air or another water, above both neighbours."""
        plan, edges = self.plan, self.edges
        mine, other = (edges.left, edges.right) if k == 0 else (edges.right, edges.left)
        layers = np.array([item.body == body for item in plan.layers])
        is_mine = ~edges.outer & layers[plan.top[mine]] & ~layers[plan.top[other]]
        rows = np.flatnonzero(is_mine)
        low = np.maximum(standing[0][rows], standing[1][rows])
        high = standing[2 + k][rows]
        open_ = ~_any(low >= high)
        if not open_.any():
            return np.zeros((0, 3), dtype=np.int64)
        low, high = low[open_], high[open_]
        if k:
            low, high = low[:, ::-1], high[:, ::-1]
        return curtain(low, high)[0]

    # --- vertical faces ----------------------------------------------------------------------

    def _standing(self, standing: list[Ints]) -> tuple[Ints, Ints]:
        """Return the vertical faces, inside, outside and underneath, and their labels."""
        left, right, left_water, right_water, outer_soffit, left_soffit, right_soffit = standing
        outer, edges = self.edges.outer, self.edges
        low, high = [outer_soffit], [left[outer]]
        for lower, higher, turn in (
            (left_soffit, right_soffit, 1),
            (right_soffit, left_soffit, -1),
        ):
            rows = np.flatnonzero(_any(higher > lower))
            low.append(lower[rows][:, ::turn])
            high.append(higher[rows][:, ::turn])
        hidden = sum(len(item) for item in low)
        upper, under, on = [], [], []
        for higher, lower, water, above, below, turn in (
            (left, right, right_water, edges.left, edges.right, 1),
            (right, left, left_water, edges.right, edges.left, -1),
        ):
            rows = np.flatnonzero(~outer & _any(higher > lower))
            a, b, w = (item[rows][:, ::turn] for item in (lower, higher, water))
            split = ~_any((a >= w) | (w >= b))
            low += [a, w[split]]
            high += [np.where(split[:, None], w, b), b[split]]
            for mine in (rows, rows[split]):
                upper.append(above[mine])
                under.append(below[mine])
                on.append(mine)
        triangles, face = curtain(np.concatenate(low), np.concatenate(high))
        shown = self.labels.of_standing(*(np.concatenate(item) for item in (on, upper, under)))
        outside = self.labels.number(Patch("pool", "outer wall", ""))
        return triangles, np.concatenate([np.full(hidden, outside), shown])[face]


def _any(pairs: Bools) -> Bools:
    """Return whether any of two (k, 2) is true; numpy reduces so short an axis slowly."""
    found: Bools = pairs[:, 0] | pairs[:, 1]
    return found
