"""Lifting: from the painted plan to labelled triangles.

Every face of the plan is concrete between its **soffit** and its **top**. Where two neighbours
differ, a vertical face stands; where a face meets nothing, the outer wall does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ..model import Mesh, Patch, Sense
from ..plan.cove import Cells
from ..plan.floor import Floor
from ..plan.layers import Layer
from ..plan.planmap import OUTSIDE, PlanMap
from ..plan.soffit import Soffits
from ..plan.tolerances import GRID, SAME_HEIGHT
from .columns import Columns, curtain
from .manifold import parted
from .kinds import OUTSIDE_KINDS, WATER_SURFACE, face_kind

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


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


def lift(plan: PlanMap, soffits: Soffits, waters: Sequence[tuple[str, float]]) -> Lifted:
    """Raise the plan to solids.

    Args:
        plan: The painted plan.
        soffits: The underside of its faces.
        waters: Each body's name and water level [m].
    """
    return _Lift(plan, soffits, dict(waters)).run()


def patch_of(layer: Layer, part: int) -> Patch:
    """Return the label of a layer's upper face over one part of it."""
    feature = layer.feature
    if isinstance(layer.height, Floor):
        feature = f"{feature} piece {part + 1}"
    elif isinstance(layer.height, Cells):
        feature = f"{feature} group {part + 1}"
    return Patch(layer.body, layer.kind, feature)


def creases_of(plan: PlanMap) -> dict[frozenset[Patch], Sense]:
    """Return the pairs of cove patches that meet in a mitre, with the crease's sense."""
    return {
        frozenset((patch_of(layer, a), patch_of(layer, b))): "internal" if internal else "external"
        for layer in plan.layers
        if isinstance(layer.height, Cells)
        for (a, b), internal in layer.height.mitres.items()
    }


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


OWN_FACES = ("riser", "step side", "bench face", "seat face")
"""Kinds of standing faces that are told apart by the feature that they belong to."""


class _Lift:
    """One lifting: asks for all vertices, settles them, then reads triangles off."""

    def __init__(self, plan: PlanMap, soffits: Soffits, waters: dict[str, float]) -> None:
        self.plan, self.soffits, self.waters = plan, soffits, waters
        self.columns = Columns(plan.partition.vertices)
        self.edges = plan_edges(plan)
        self.patches: dict[Patch, int] = {}
        layers = plan.layers
        bodies = [item.body for item in layers]
        self.level = np.array([waters[body] for body in bodies] + [-np.inf])  # last: outside

    def top(self, face: Ints, vertex: Ints) -> Floats:
        """Height of the top of faces at vertices."""
        z: Floats = self.plan.heights[self.plan.top[face], vertex]
        return z

    def soffit(self, face: Ints, vertex: Ints) -> Floats:
        z: Floats = self.soffits.heights[self.soffits.zone[face], vertex]
        return z

    def run(self) -> Lifted:
        plan, part, edges = self.plan, self.plan.partition, self.edges
        solid = plan.top[part.owner] != OUTSIDE
        triangles, owner = part.triangles[solid], part.owner[solid]
        lofted = plan.is_zone[owner]
        ask = self.columns.ask
        flat, flat_owner = triangles[~lofted], owner[~lofted]
        tops = ask(flat, self.top(flat_owner[:, None], flat))
        own, cells_at = np.unique(
            plan.cell_layer[:, None] * len(part.vertices) + plan.cells, return_inverse=True
        )
        layer, vertex = np.divmod(own, len(part.vertices))
        cells = ask(vertex, plan.heights[layer, vertex])
        under = ask(triangles, self.soffit(owner[:, None], triangles))
        wet_face = self._under_water(triangles, owner)
        surfaces = ask(triangles[wet_face], np.broadcast_to(
            self.level[plan.top[owner[wet_face]]][:, None], triangles[wet_face].shape))  # fmt: skip
        ends = edges.ends
        outside = edges.right == OUTSIDE
        right = np.where(outside, edges.left, edges.right)
        sides = [
            (ask(ends, self.top(face[:, None], ends)), ask(ends, self.soffit(face[:, None], ends)))
            for face in (edges.left, right)
        ]
        levels = [
            ask(ends, np.broadcast_to(self._edge_level(face)[:, None], ends.shape))
            for face in (edges.left, right)
        ]
        self.columns.settle()
        number = self.columns.numbers
        parts = [
            (number(tops), self._top_patches(flat_owner)),
            (number(cells)[cells_at], self._cell_patches()),
            (number(under)[:, ::-1], np.full(len(triangles), self._patch("pool", "soffit", ""))),
            *self._standing([tuple(map(number, item)) for item in sides],
                            [number(item) for item in levels], outside),
        ]  # fmt: skip
        corners = np.concatenate([item[0] for item in parts])
        patch = np.concatenate([item[1] for item in parts])
        names = tuple(self.patches)
        wet = self._wet(corners, patch, names)
        shell = Mesh(self.columns.vertices, corners, patch, names)
        free = number(surfaces), plan.top[owner[wet_face]]
        waters = {
            body: self._water(body, shell, wet, free, [number(item[0]) for item in sides],
                              [number(item) for item in levels])
            for body in self.waters
        }  # fmt: skip
        inside = np.array([item.kind not in OUTSIDE_KINDS for item in names])[patch]
        surface = compact(Mesh(shell.vertices, corners[inside], patch[inside], names))
        return Lifted(_closed(shell), surface, wet[inside], waters)

    # --- labels ------------------------------------------------------------------------------

    def _patch(self, body: str, kind: str, feature: str) -> int:
        return self._number(Patch(body, kind, feature))

    def _number(self, patch: Patch) -> int:
        return self.patches.setdefault(patch, len(self.patches))

    def _top_patches(self, owner: Ints) -> Ints:
        return self._labels(self.plan.top[owner], self.plan.part[owner])

    def _cell_patches(self) -> Ints:
        return self._labels(self.plan.cell_layer, self.plan.cell_part)

    def _labels(self, layer: Ints, part: Ints) -> Ints:
        pairs, inverse = np.unique(np.column_stack([layer, part]), axis=0, return_inverse=True)
        names = np.array(
            [self._number(patch_of(self.plan.layers[a], int(b))) for a, b in pairs], dtype=np.int64
        )
        return names[inverse.ravel()] if len(pairs) else np.zeros(0, dtype=np.int64)

    # --- water -------------------------------------------------------------------------------

    def _under_water(self, triangles: Ints, owner: Ints) -> Bools:
        """Whether a plan triangle's top lies under its body's water."""
        z = self.top(owner[:, None], triangles)
        level = self.level[self.plan.top[owner]]
        return np.nanmean(z, axis=1) < level - SAME_HEIGHT

    def _edge_level(self, face: Ints) -> Floats:
        """Water level of each face's body, where its top is under it at both ends; else its top."""
        level = self.level[self.plan.top[face]]
        return level

    def _wet(self, corners: Ints, patch: Ints, names: tuple[Patch, ...]) -> Bools:
        inside = np.array([item.kind not in OUTSIDE_KINDS for item in names])
        level = np.array([self.waters[item.body] for item in names])
        z = self.columns.vertices[corners, 2].mean(axis=1)
        wet: Bools = inside[patch] & (z < level[patch] - GRID)
        return wet

    def _water(
        self,
        body: str,
        shell: Mesh,
        wet: Bools,
        free: tuple[Ints, Ints],
        tops: list[Ints],
        levels: list[Ints],
    ) -> Mesh:
        """Close the wet surface of a body with its free surface and its open sides."""
        bodies = np.array([item.body == body for item in shell.patches])
        mine = wet & bodies[shell.patch]
        layers = np.array([item.body == body for item in self.plan.layers])
        surface = free[0][layers[free[1]]]
        open_sides = [self._open_side(body, tops, levels, k) for k in (0, 1)]
        lid = np.concatenate([surface, *open_sides])
        names = (*shell.patches, Patch(body, WATER_SURFACE, ""))
        corners = np.concatenate([shell.triangles[mine][:, ::-1], lid])
        patch = np.concatenate([shell.patch[mine], np.full(len(lid), len(names) - 1)])
        return _closed(Mesh(shell.vertices, corners, patch, names))

    def _open_side(self, body: str, tops: list[Ints], levels: list[Ints], k: int) -> Ints:
        """Where a body's water stands against air or another water, above both neighbours."""
        plan, edges = self.plan, self.edges
        mine, other = (edges.left, edges.right) if k == 0 else (edges.right, edges.left)
        inside = (mine != OUTSIDE) & (other != OUTSIDE)
        layers = np.array([item.body == body for item in plan.layers] + [False])
        is_mine = inside & layers[plan.top[mine]] & ~layers[plan.top[other]]
        rows = np.flatnonzero(is_mine)
        low = np.maximum(tops[0][rows], tops[1][rows])
        high = levels[k][rows]
        open_ = (low < high).all(axis=1)
        if not open_.any():
            return np.zeros((0, 3), dtype=np.int64)
        low, high = low[open_], high[open_]
        if k:
            low, high = low[:, ::-1], high[:, ::-1]
        return curtain(low, high)[0]

    # --- vertical faces ----------------------------------------------------------------------

    def _standing(
        self, sides: list[tuple[Ints, ...]], levels: list[Ints], outside: Bools
    ) -> list[tuple[Ints, Ints]]:
        """Return the vertical faces: inside ones by neighbour, then the undersides, then outer."""
        (left_top, left_soffit), (right_top, right_soffit) = sides
        inner = ~outside
        found = [self._curtain(left_soffit[outside], left_top[outside], outside.nonzero()[0], None)]
        for higher, lower, flip in ((left_top, right_top, False), (right_top, left_top, True)):
            rise = inner & (higher > lower).any(axis=1)
            rows = np.flatnonzero(rise)
            water = levels[0 if flip else 1][rows]
            low, high = lower[rows], higher[rows]
            split = ((low < water) & (water < high)).all(axis=1)
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
            name = self._patch("pool", "outer wall", "")
            return triangles, np.full(len(triangles), name)
        return triangles, self._face_patches(rows, flip)[which]

    def _face_patches(self, rows: Ints, flip: bool) -> Ints:  # noqa: FBT001
        edges, plan = self.edges, self.plan
        upper, lower = edges.left[rows], edges.right[rows]
        if flip:
            upper, lower = lower, upper
        flank = self._on_flank(rows, plan.top[upper])
        trio = np.column_stack([plan.top[upper], plan.top[lower], flank])
        kinds, inverse = np.unique(trio, axis=0, return_inverse=True)
        names = []
        for high, low, side in kinds:
            a, b = plan.layers[high], plan.layers[low]
            kind = face_kind("step side" if side else a.face, b.kind, b.body)
            if kind == "cove":  # a crumb at the edge of an outside corner
                names.append(self._number(patch_of(a, 0)))
                continue
            feature = a.flight if kind == "step side" else a.feature
            names.append(self._patch(b.body, kind, feature if kind in OWN_FACES else ""))
        return np.array(names, dtype=np.int64)[inverse.ravel()]

    def _on_flank(self, rows: Ints, upper: Ints) -> Bools:
        """Whether each edge lies on a flank of the layer above it."""
        found = np.zeros(len(rows), dtype=bool)
        middles = self.plan.partition.vertices[self.edges.ends[rows]].mean(axis=1)
        for n in np.unique(upper):
            flanks = self.plan.layers[n].flanks
            if flanks is None:
                continue
            mine = np.flatnonzero(upper == n)
            for a, b in flanks:
                d = (b - a) / np.hypot(*(b - a))
                away = middles[mine] - a
                off = np.abs(away[:, 0] * d[1] - away[:, 1] * d[0])
                found[mine] |= off < 5.0 * GRID
        return found
