"""Lifting: from the painted plan to labelled triangles.

Every face of the plan is concrete between its **soffit** and its **top**. Where two neighbours
differ, a vertical face stands; where a face meets nothing, the outer wall does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model import Bools, Floats, Ints, Mesh, Patch
from ..plan.planmap import OUTSIDE, PlanMap
from ..plan.soffit import Soffits
from ..plan.tolerances import GRID, SAME_HEIGHT
from .columns import Columns, curtain
from .kinds import OUTSIDE_KINDS, WATER_SURFACE
from .labels import Labels
from .manifold import parted
from .neighbours import plan_edges


@dataclass(frozen=True)
class Lifted:
    """All solids.

    Args:
        shell: The concrete, closed.
        surface: The part of it that is inside the pool: facing the water, and the wall tops.
        wet: (m,) whether a triangle of ``surface`` is under the water of its patch's body.
        waters: Each body's water, closed, normals out of the water.
    """

    shell: Mesh
    surface: Mesh
    wet: Bools
    waters: dict[str, Mesh]


def lift(plan: PlanMap, soffits: Soffits, waters: Sequence[tuple[str, float]]) -> Lifted:
    """Raise the plan to solids.

    Args:
        plan: The painted plan.
        soffits: The underside of its faces.
        waters: Each body's name and water level [m].

    Returns:
        All solids.
    """
    return _Lift(plan, soffits, dict(waters)).run()


def compact(mesh: Mesh) -> Mesh:
    """Return a mesh without the vertices that no triangle uses."""
    used = np.zeros(len(mesh.vertices), dtype=bool)
    used[mesh.triangles] = True
    number = np.cumsum(used) - 1
    return Mesh(mesh.vertices[used], number[mesh.triangles], mesh.patch, mesh.patches)


def _closed(mesh: Mesh) -> Mesh:
    """Return a closed mesh without unused vertices, parted where it touches itself."""
    mesh = compact(mesh)
    vertices, triangles = parted(mesh.vertices, mesh.triangles)
    return Mesh(vertices, triangles, mesh.patch, mesh.patches)


class _Lift:
    """One lifting: asks for all vertices, settles them, then reads triangles off."""

    def __init__(self, plan: PlanMap, soffits: Soffits, waters: dict[str, float]) -> None:
        self.plan, self.soffits, self.waters = plan, soffits, waters
        self.columns = Columns(plan.partition.vertices)
        self.edges = plan_edges(plan)
        self.outside = self.edges.right == OUTSIDE
        self.labels = Labels(plan, self.edges)
        self.cells_at: Ints = np.zeros(0, dtype=np.int64)
        layers = plan.layers
        bodies = [item.body for item in layers]
        self.level = np.array([waters[body] for body in bodies] + [-np.inf])  # last: outside

    def top(self, face: Ints, vertex: Ints) -> Floats:
        """Height of the top of faces at vertices."""
        z: Floats = self.plan.heights[self.plan.top[face], vertex]
        return z

    def soffit(self, face: Ints, vertex: Ints) -> Floats:
        """Height of the underside of faces at vertices."""
        z: Floats = self.soffits.heights[self.soffits.zone[face], vertex]
        return z

    def run(self) -> Lifted:
        """Lift."""
        plan, part = self.plan, self.plan.partition
        solid = plan.top[part.owner] != OUTSIDE
        triangles, owner = part.triangles[solid], part.owner[solid]
        flat = ~plan.is_zone[owner]
        under_water = self._under_water(triangles, owner)
        asked = self._ask(triangles, owner, flat, under_water)
        self.columns.settle()
        number = self.columns.numbers
        tops, cells, under, surfaces, sides, levels = (
            [number(item) for item in tickets] for tickets in asked
        )
        soffit = self.labels.number(Patch("pool", "soffit", ""))
        parts = [
            (tops[0], self.labels.of_faces(owner[flat])),
            (cells[0][self.cells_at], self.labels.of_cells()),
            (under[0][:, ::-1], np.full(len(triangles), soffit)),
            *self._standing(sides, levels),
        ]
        corners = np.concatenate([item[0] for item in parts])
        patch = np.concatenate([item[1] for item in parts])
        names = tuple(self.labels.patches)
        inside = np.array([item.kind not in OUTSIDE_KINDS for item in names])[patch]
        wet = inside & self._under_level(corners, patch, names)
        shell = Mesh(self.columns.vertices, corners, patch, names)
        free = surfaces[0], plan.top[owner[under_water]]
        waters = {body: self._water(body, shell, wet, free, sides, levels) for body in self.waters}
        surface = compact(Mesh(shell.vertices, corners[inside], patch[inside], names))
        return Lifted(_closed(shell), surface, wet[inside], waters)

    # --- water -------------------------------------------------------------------------------

    def _ask(
        self, triangles: Ints, owner: Ints, flat: Bools, under_water: Bools
    ) -> tuple[list[int], ...]:
        """Ask for all vertices: tops, cells, soffits, water surfaces, edges' sides and levels.

        Sides come as top and soffit of the left face, then of the right; levels as the water level
        of the left face's body, then of the right's.

        Returns:
            Tickets.
        """
        plan, part, ends, ask = self.plan, self.plan.partition, self.edges.ends, self.columns.ask
        own, self.cells_at = np.unique(
            plan.cell_layer[:, None] * len(part.vertices) + plan.cells, return_inverse=True
        )
        layer, vertex = np.divmod(own, len(part.vertices))
        wet, level = triangles[under_water], self.level[plan.top[owner[under_water]]]
        both = (self.edges.left, np.where(self.outside, self.edges.left, self.edges.right))
        return (
            [ask(triangles[flat], self.top(owner[flat][:, None], triangles[flat]))],
            [ask(vertex, plan.heights[layer, vertex])],
            [ask(triangles, self.soffit(owner[:, None], triangles))],
            [ask(wet, np.broadcast_to(level[:, None], wet.shape))],
            [ask(ends, of(face[:, None], ends)) for face in both for of in (self.top, self.soffit)],
            [
                ask(ends, np.broadcast_to(self.level[plan.top[face]][:, None], ends.shape))
                for face in both
            ],
        )

    def _under_water(self, triangles: Ints, owner: Ints) -> Bools:
        """Whether a plan triangle's top lies under its body's water."""
        z = self.top(owner[:, None], triangles)
        level = self.level[self.plan.top[owner]]
        under: Bools = z.mean(axis=1) < level - SAME_HEIGHT
        return under

    def _under_level(self, corners: Ints, patch: Ints, names: tuple[Patch, ...]) -> Bools:
        """Whether triangles lie under the water of their patch's body."""
        level = np.array([self.waters[item.body] for item in names])
        z = self.columns.vertices[corners, 2].mean(axis=1)
        under: Bools = z < level[patch] - GRID
        return under

    def _water(
        self,
        body: str,
        shell: Mesh,
        wet: Bools,
        free: tuple[Ints, Ints],
        sides: list[Ints],
        levels: list[Ints],
    ) -> Mesh:
        """Close the wet surface of a body with its free surface and its open sides."""
        bodies = np.array([item.body == body for item in shell.patches])
        mine = wet & bodies[shell.patch]
        layers = np.array([item.body == body for item in self.plan.layers])
        surface = free[0][layers[free[1]]]
        open_sides = [self._open_side(body, sides, levels, k) for k in (0, 1)]
        lid = np.concatenate([surface, *open_sides])
        names = (*shell.patches, Patch(body, WATER_SURFACE, ""))
        corners = np.concatenate([shell.triangles[mine][:, ::-1], lid])
        patch = np.concatenate([shell.patch[mine], np.full(len(lid), len(names) - 1)])
        return _closed(Mesh(shell.vertices, corners, patch, names))

    def _open_side(self, body: str, sides: list[Ints], levels: list[Ints], k: int) -> Ints:
        """Where a body's water stands against air or another water, above both neighbours."""
        plan, edges = self.plan, self.edges
        mine, other = (edges.left, edges.right) if k == 0 else (edges.right, edges.left)
        inside = (mine != OUTSIDE) & (other != OUTSIDE)
        layers = np.array([item.body == body for item in plan.layers] + [False])
        is_mine = inside & layers[plan.top[mine]] & ~layers[plan.top[other]]
        rows = np.flatnonzero(is_mine)
        low = np.maximum(sides[0][rows], sides[2][rows])
        high = levels[k][rows]
        open_ = (low < high).all(axis=1)
        if not open_.any():
            return np.zeros((0, 3), dtype=np.int64)
        low, high = low[open_], high[open_]
        if k:
            low, high = low[:, ::-1], high[:, ::-1]
        return curtain(low, high)[0]

    # --- vertical faces ----------------------------------------------------------------------

    def _standing(self, sides: list[Ints], levels: list[Ints]) -> list[tuple[Ints, Ints]]:
        """Return the vertical faces: the outer walls, those inside, then those underneath."""
        left_top, left_soffit, right_top, right_soffit = sides
        inner, rows = ~self.outside, np.flatnonzero(self.outside)
        found = [self._curtain(left_soffit[rows], left_top[rows], rows, None)]
        for higher, lower, flip in ((left_top, right_top, False), (right_top, left_top, True)):
            rise = inner & (higher > lower).any(axis=1)
            rows = np.flatnonzero(rise)
            water = levels[0 if flip else 1][rows]
            low, high = lower[rows], higher[rows]
            split = np.asarray(((low < water) & (water < high)).all(axis=1))
            middle = np.where(split[:, None], water, high)
            found.append(self._curtain(low, middle, rows, flip))
            found.append(self._curtain(water[split], high[split], rows[split], flip))
        for lower, higher, flip in (
            (left_soffit, right_soffit, False),
            (right_soffit, left_soffit, True),
        ):
            rows = np.flatnonzero(inner & (higher > lower).any(axis=1))
            found.append(self._curtain(lower[rows], higher[rows], rows, flip, underside=True))
        return found

    def _curtain(
        self, low: Ints, high: Ints, rows: Ints, flip: bool | None, *, underside: bool = False
    ) -> tuple[Ints, Ints]:
        """Triangulate faces on some edges and label them."""
        if flip:
            low, high = low[:, ::-1], high[:, ::-1]
        triangles, which = curtain(low, high)
        if underside or flip is None:
            name = self.labels.number(Patch("pool", "outer wall", ""))
            return triangles, np.full(len(triangles), name)
        return triangles, self.labels.of_standing(rows, flip=flip)[which]
