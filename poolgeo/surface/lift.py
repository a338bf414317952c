"""Lifting: from the painted plan to labelled triangles.

Every face of the plan is concrete between its **soffit** and its **top**. Where two neighbours
differ, a vertical face stands; where a face meets nothing, the outer wall does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model import Bools, Ints, Mesh, Patch
from ..plan.planmap import PlanMap
from ..plan.tolerances import GRID, SAME_HEIGHT
from .columns import Columns, curtain
from .faces import Faces, cancelled
from .ground import GroundFaces
from .kinds import OUTSIDE_KINDS, WATER_SURFACE
from .labels import Labels
from .manifold import closed
from .neighbours import matched, plan_edges
from .outside import hung_labels, outer_labels, soffit_labels
from .water import check_rim, rim_of


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
        self.ground = GroundFaces(plan, self.columns)
        self.level = np.array([waters[item.body] for item in plan.layers])
        self.body = np.array([list(waters).index(item.body) for item in plan.layers])
        self.watered: list[Ints] = []
        self.cells_at: Ints = np.zeros((0, 3), dtype=np.int64)

    def run(self) -> Lifted:
        """Lift."""
        part = self.plan.partition
        tickets = self._ask()
        self.columns.settle()
        tops, cells, under, *water = (self.columns.numbers(item) for item in tickets)
        standing = self._columns_of(tops, under, water)
        below = self.plan.under.partition
        soffits = soffit_labels(self.plan, self.labels)
        parts = [
            (tops[part.corners], self.labels.of_faces(part.owner)),
            (cells[self.cells_at], self.labels.of_cells()),
            (under[below.corners][:, ::-1], soffits[below.owner]),
            *self.ground.flat(self.labels),
            self._standing(standing),
        ]
        corners = np.concatenate([item[0] for item in parts])
        patch = np.concatenate([item[1] for item in parts])
        names = tuple(self.labels.patches)
        inside = np.array([item.kind not in OUTSIDE_KINDS for item in names])[patch]
        wet = inside & self._under_level(corners, patch, names)
        shell = Mesh(self.columns.vertices, corners, patch, names)
        # its parts take these from it
        _ = shell.doubled_areas, shell.pairs
        wetted = {body: self._wetted(body, shell, wet, standing) for body in self.waters}
        return Lifted(closed(shell), shell.part(inside), wet[inside], wetted)

    # --- water -------------------------------------------------------------------------------

    def _ask(self) -> list[int]:
        """Ask for all vertices.

        Returns:
            Tickets for the tops of the faces at the places of their borders, for the cells, for the
            soffits at theirs, and for the water levels of the left and right faces at the edges
            that may need them.
        """
        plan, under, edges = self.plan, self.plan.under, self.edges
        part, below = plan.partition, under.partition
        tops = plan.heights[plan.top[part.face], part.vertex]
        soffits = under.heights[under.zone[below.face], below.vertex]
        tickets = [
            self.columns.ask(part.vertex, tops),
            self._ask_cells(),
            self.columns.ask(below.vertex, soffits),
        ]
        low = np.minimum(tops[edges.at_left], tops[edges.at_right])
        high = np.maximum(tops[edges.at_left], tops[edges.at_right])
        bodies = self.body[plan.top]
        part_bodies = ~edges.outer & (bodies[edges.left] != bodies[edges.right])
        for face in (edges.left, edges.right):
            level = self.level[plan.top[face]][:, None]
            between = (low < level + SAME_HEIGHT) & (high > level - SAME_HEIGHT)
            rows = np.flatnonzero(~edges.outer & (_any(between) | part_bodies))
            self.watered.append(rows)
            ends = edges.ends[rows]
            tickets.append(self.columns.ask(ends, np.broadcast_to(level[rows], ends.shape)))
        return tickets

    def _columns_of(self, tops: Ints, under: Ints, water: list[Ints]) -> list[Ints]:
        """Return the mesh vertices between which vertical faces stand, each at both ends.

        Returns:
            (e, 2) the tops of the left and of the right faces of edges, (e, 2) the water levels of
            their bodies (-1 where none is needed), (k, 2) the soffits below outer edges, and those
            of the left and right faces of the underside's inner edges.
        """
        edges, below = self.edges, self.under
        levels = [np.full(edges.ends.shape, -1) for _ in water]
        for level, rows, numbers in zip(levels, self.watered, water, strict=True):
            level[rows] = numbers
        inner = ~below.outer
        return [
            tops[edges.at_left],
            tops[edges.at_right],
            *levels,
            under[below.at_left[matched(edges, below)]],
            under[below.at_left[inner]],
            under[below.at_right[inner]],
        ]

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
        if len(sides):
            check_rim(mesh.vertices, rim_of(mesh), self.waters[body])
        else:  # as the whole is closed, it is open where it ends in the whole
            ends, (one, other) = shell.pairs
            check_rim(mesh.vertices, ends[:, mine[one] != mine[other]].T, self.waters[body])
        return mesh

    def _open_side(self, body: str, standing: list[Ints], k: int) -> Ints:
        """Where a body's water stands against air or another water, above both neighbours."""
        plan, edges = self.plan, self.edges
        mine, other = (edges.left, edges.right) if k == 0 else (edges.right, edges.left)
        is_body = self.body == list(self.waters).index(body)
        is_mine = ~edges.outer & is_body[plan.top[mine]] & ~is_body[plan.top[other]]
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
        outer, edges, below = self.edges.outer, self.edges, self.under
        low, high, ends, hangs = [], [], [], []
        inner = ~below.outer
        for lower, higher, over, turn in (
            (left_soffit, right_soffit, below.right[inner], 1),
            (right_soffit, left_soffit, below.left[inner], -1),
        ):
            rows = np.flatnonzero(_any(higher > lower))
            low.append(lower[rows][:, ::turn])
            high.append(higher[rows][:, ::turn])
            ends.append(below.ends[inner][rows][:, ::turn])
            hangs.append(over[rows])
        hung = hung_labels(self.plan, self.labels, np.concatenate(hangs))
        hidden = Faces(np.concatenate(ends), np.concatenate(low), np.concatenate(high), hung)
        border = outer_labels(self.plan, self.labels, edges.left[outer])
        rim = Faces(edges.ends[outer], outer_soffit, left[outer], border)
        upper, under, on = [], [], []
        low, high, ends = [], [], []
        for higher, lower, water, above, beneath, turn in (
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
                under.append(beneath[mine])
                on.append(mine)
                ends.append(edges.ends[mine][:, ::turn])
        shown = self.labels.of_standing(*(np.concatenate(item) for item in (on, upper, under)))
        seen = Faces(np.concatenate(ends), np.concatenate(low), np.concatenate(high), shown)
        hidden = Faces.joined([hidden, *self.ground.steps(self.labels)])
        # where concrete stands wholly above its neighbour, both sides have the air between
        both = cancelled(seen, hidden)
        faces = self.ground.opened(Faces.joined([rim, *both]), self.labels)
        triangles, face = curtain(faces.low, faces.high)
        return triangles, faces.label[face]


def _any(pairs: Bools) -> Bools:
    """Return whether any of two (k, 2) is true; numpy reduces so short an axis slowly."""
    found: Bools = pairs[:, 0] | pairs[:, 1]
    return found
