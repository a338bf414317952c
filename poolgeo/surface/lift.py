"""Lifting: from the painted plan to labelled triangles.

Every face of the plan is concrete between its **soffit** and its **top**. Where two neighbours
differ, a vertical face stands; where a face meets nothing, the outer wall does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..errors import GeometryError
from ..mesh import Mesh, Patch
from ..plan.levels import ABOVE_WATER, RETURN, WALL_TOP, WALL_TOPS, ZONE_OF_STAGE, Levels, stages
from ..plan.planmap import PlanMap
from ..plan.rounds import Round
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
        zone: (m,) the zone of each, a number of `poolgeo.mesh.ZONES`.
        wetted: What each body's water touches, and its open sides; normals out of the water.
    """

    shell: Mesh
    surface: Mesh
    wet: Bools
    zone: Ints
    wetted: dict[str, Mesh]


def lift(plan: PlanMap, levels: Sequence[Levels], rounds: Sequence[Round] = ()) -> Lifted:
    """Raise the plan to solids.

    Args:
        plan: The painted plan.
        levels: Where the surface of each body of water is split.
        rounds: Where corner coves stand.

    Returns:
        All solids.

    `GeometryError` is raised where one of them is not closed; DEVELOPERS.md names the
    known case.
    """
    return _Lift(plan, {item.body: item for item in levels}, rounds).run()


@dataclass(frozen=True)
class _Standing:
    """Mesh vertices between which vertical faces stand, each at both ends of an edge.

    Args:
        tops: (e, 2) tops of the left and of the right face of each edge.
        cuts: (e, 2) levels that split the face on each edge, rising; -1 where none is needed.
        waters: (e, 2) water levels of the left and of the right face; -1 likewise.
        outer_soffits: (k, 2) soffits below outer edges.
        soffits: (s, 2) those of the left and of the right face of the underside's inner edges.
    """

    tops: tuple[Ints, Ints]
    cuts: tuple[Ints, ...]
    waters: tuple[Ints, ...]
    outer_soffits: Ints
    soffits: tuple[Ints, Ints]


class _Lift:
    """One lifting: asks for all vertices, settles them, then reads triangles off."""

    def __init__(self, plan: PlanMap, levels: dict[str, Levels], rounds: Sequence[Round]) -> None:
        self.plan, self.levels = plan, levels
        self.columns = Columns(plan.vertices)
        self.edges = plan_edges(plan.partition)
        self.under = plan_edges(plan.under.partition)
        self.labels = Labels(plan, self.edges, rounds)
        self.ground = GroundFaces(plan, self.columns)
        self.cuts = np.array([levels[item.body].cuts for item in plan.layers])
        self.water = np.array([levels[item.body].water for item in plan.layers])
        self.body = np.array([list(levels).index(item.body) for item in plan.layers])
        self.levelled: list[Ints] = []
        self.cells_at: Ints = np.zeros((0, 3), dtype=np.int64)

    def run(self) -> Lifted:
        """Lift."""
        part = self.plan.partition
        tickets = self._ask()
        self.columns.settle()
        tops, cells, under, *asked = (self.columns.numbers(item) for item in tickets)
        standing = self._columns_of(tops, under, asked)
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
        stage = self._stages(corners, patch, names)
        wet = inside & (stage < ABOVE_WATER)
        shell = Mesh(self.columns.vertices, corners, patch, names)
        # its parts take these from it
        _ = shell.doubled_areas, shell.pairs
        wetted = {body: self._wetted(body, shell, wet, standing) for body in self.levels}
        zone = self._zones(stage, patch, names)[inside]
        return Lifted(closed(shell), shell.part(inside), wet[inside], zone, wetted)

    # --- water and zones ---------------------------------------------------------------------

    def _ask(self) -> list[int]:
        """Ask for all vertices.

        Returns:
            Tickets for the tops of the faces at the places of their borders, for the cells, for the
            soffits at theirs, and for levels at edges: those that split the face standing there,
            and the water of the left and of the right face where two bodies meet.
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
        left, right = tops[edges.at_left], tops[edges.at_right]
        low, high = np.minimum(left, right), np.maximum(left, right)
        sides = plan.top[np.stack([edges.left, edges.right])]
        # what stands on an edge is of the body of its lower face
        lower = np.where(left[:, 0] + left[:, 1] < right[:, 0] + right[:, 1], *sides)
        inner = ~edges.outer
        for cut in self.cuts[lower].T:
            between = (low < cut[:, None] + SAME_HEIGHT) & (high > cut[:, None] - SAME_HEIGHT)
            tickets.append(self._ask_level(np.flatnonzero(inner & _any(between)), cut))
        bodies = self.body[sides]
        meet = np.flatnonzero(inner & (bodies[0] != bodies[1]))
        return tickets + [self._ask_level(meet, self.water[side]) for side in sides]

    def _ask_level(self, rows: Ints, levels: Floats) -> int:
        """Ask for levels at some edges; note at which.

        Args:
            rows: (k,) edge numbers.
            levels: (e,) a level at each edge [m].

        Returns:
            The ticket.
        """
        ends = self.edges.ends[rows]
        self.levelled.append(rows)
        return self.columns.ask(ends, np.broadcast_to(levels[rows, None], ends.shape))

    def _columns_of(self, tops: Ints, under: Ints, asked: list[Ints]) -> _Standing:
        """Return the mesh vertices between which vertical faces stand, each at both ends."""
        edges, below = self.edges, self.under
        levels = [np.full(edges.ends.shape, -1) for _ in asked]
        for level, rows, numbers in zip(levels, self.levelled, asked, strict=True):
            level[rows] = numbers
        inner = ~below.outer
        return _Standing(
            (tops[edges.at_left], tops[edges.at_right]),
            tuple(levels[:-2]),
            tuple(levels[-2:]),
            under[below.at_left[matched(edges, below, self.plan.vertices)]],
            (under[below.at_left[inner]], under[below.at_right[inner]]),
        )

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

    def _stages(self, corners: Ints, patch: Ints, names: tuple[Patch, ...]) -> Ints:
        """How many levels of their patch's body triangles lie above."""
        cuts: Floats = np.array([self.levels[item.body].cuts for item in names])
        z = self.columns.vertices[:, 2].copy()
        a, b, c = corners.T
        return stages((z[a] + z[b] + z[c]) / 3.0, list(cuts[patch].T), GRID)

    def _zones(self, stage: Ints, patch: Ints, names: tuple[Patch, ...]) -> Ints:
        """The zone of each triangle; those of the plan's faces come first."""
        plan = self.plan
        is_top = np.array([item.kind in WALL_TOPS for item in names])
        zone = np.where(is_top[patch], WALL_TOP, ZONE_OF_STAGE[stage])
        owner = plan.partition.owner
        faces, dry = zone[: len(owner)], stage[: len(owner)] >= ABOVE_WATER
        # the arris of a wall top lies in the zone of that, but for what of it is wet
        arrised = np.array([item.on in WALL_TOPS for item in plan.layers])[plan.top]
        faces[arrised[owner] & dry] = WALL_TOP
        returned = np.array([item.returned for item in plan.layers])[plan.top]
        faces[returned[owner] & (dry | ~arrised[owner])] = RETURN
        return zone

    def _wetted(self, body: str, shell: Mesh, wet: Bools, standing: _Standing) -> Mesh:
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
            check_rim(mesh.vertices, rim_of(mesh), self.levels[body].water)
        else:  # as the whole is closed, it is open where it ends in the whole
            ends, (one, other) = shell.pairs
            check_rim(mesh.vertices, ends[:, mine[one] != mine[other]].T, self.levels[body].water)
        return mesh

    def _open_side(self, body: str, standing: _Standing, k: int) -> Ints:
        """Where a body's water stands against air or another water, above both neighbours."""
        plan, edges = self.plan, self.edges
        mine, other = (edges.left, edges.right) if k == 0 else (edges.right, edges.left)
        is_body = self.body == list(self.levels).index(body)
        is_body &= np.array([item.kind not in OUTSIDE_KINDS for item in plan.layers])
        is_mine = ~edges.outer & is_body[plan.top[mine]] & ~is_body[plan.top[other]]
        rows = np.flatnonzero(is_mine)
        low = np.maximum(*(item[rows] for item in standing.tops))
        high = standing.waters[k][rows]
        open_ = _any(low < high) & ~_any(low > high)
        if not open_.any():
            return np.zeros((0, 3), dtype=np.int64)
        low, high = low[open_], high[open_]
        if k:
            low, high = low[:, ::-1], high[:, ::-1]
        return curtain(low, high)[0]

    # --- vertical faces ----------------------------------------------------------------------

    def _standing(self, standing: _Standing) -> tuple[Ints, Ints]:
        """Return the vertical faces, inside, outside and underneath, and their labels."""
        (left, right), (left_soffit, right_soffit) = standing.tops, standing.soffits
        outer, edges, below = self.edges.outer, self.edges, self.under
        low, high, ends, hangs, feet = [], [], [], [], []
        inner = ~below.outer
        one, other = below.left[inner], below.right[inner]
        for lower, higher, foot, over, turn in (
            (left_soffit, right_soffit, one, other, 1),
            (right_soffit, left_soffit, other, one, -1),
        ):
            rows = np.flatnonzero(_any(higher > lower))
            low.append(lower[rows][:, ::turn])
            high.append(higher[rows][:, ::turn])
            ends.append(below.ends[inner][rows][:, ::turn])
            hangs.append(over[rows])
            feet.append(foot[rows])
        hung = hung_labels(self.plan, self.labels, np.concatenate(hangs), np.concatenate(feet))
        hidden = Faces(np.concatenate(ends), np.concatenate(low), np.concatenate(high), hung)
        border = outer_labels(self.plan, self.labels, edges.left[outer])
        rim = Faces(edges.ends[outer], standing.outer_soffits, left[outer], border)
        upper, under, on = [], [], []
        low, high, ends = [], [], []
        for higher, lower, above, beneath, turn in (
            (left, right, edges.left, edges.right, 1),
            (right, left, edges.right, edges.left, -1),
        ):
            rows = np.flatnonzero(~outer & _any(higher > lower))
            head = higher[rows]
            bounds = [lower[rows]]
            for cut in standing.cuts:
                bounds.append(np.maximum(bounds[-1], np.minimum(cut[rows], head)))
            for a, b in pairwise([*bounds, head]):  # zone by zone
                part = np.flatnonzero(_any(b > a))
                low.append(a[part][:, ::turn])
                high.append(b[part][:, ::turn])
                upper.append(above[rows[part]])
                under.append(beneath[rows[part]])
                on.append(rows[part])
                ends.append(edges.ends[rows[part]][:, ::turn])
        shown = self.labels.of_standing(*(np.concatenate(item) for item in (on, upper, under)))
        seen = Faces(np.concatenate(ends), np.concatenate(low), np.concatenate(high), shown)
        hidden = Faces.joined([hidden, *self.ground.steps(self.labels)])
        # where concrete stands wholly above its neighbour, both sides have the air between
        both = cancelled(seen, hidden)
        faces = self.ground.opened(Faces.joined([rim, *both]), self.labels)
        if len(crossed := np.flatnonzero(_any(faces.low > faces.high))):
            raise GeometryError(self.plan.vertices[faces.ends[crossed[0], 0]])
        triangles, face = curtain(faces.low, faces.high)
        return triangles, faces.label[face]


def _any(pairs: Bools) -> Bools:
    """Return whether any of two (k, 2) is true; numpy reduces so short an axis slowly."""
    found: Bools = pairs[:, 0] | pairs[:, 1]
    return found
