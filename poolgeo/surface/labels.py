"""Labels: every triangle gets its patch when it is made, from the layers that meet there."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, product

import numpy as np

from ..arrays import Bools, Ints
from ..mesh import Patch
from ..model import Contact
from ..plan.canal import Canal
from ..plan.cells import Cells
from ..plan.floor import Floor
from ..plan.keys import numbered
from ..plan.layers import Layer
from ..plan.linework import AT_FLOOR_LINE, AT_WALL_LINE
from ..plan.planmap import PlanMap
from ..plan.rounds import Round
from ..plan.slope import Slope
from ..quantities import Sense
from .kinds import OUTSIDE_KINDS, OWN_FACES, ROUNDED, WALLS, face_kind
from .neighbours import PlanEdges

BESIDE = 2e-4
"""[m] An edge lies on a flank that it runs nearer to: vertices may have moved on to a cove's, or
off a line that rounding has turned."""

SLANT = 0.1
"""[-] An edge along a flank makes a smaller angle with it (sine), if it is no crumb."""

OF_UPPER = -1
"""Stands for the label of the face above until that is known."""

COVED = (*WALLS, "weir face")
"""Kinds of walls that may stand on a corner cove in plan: there they are that."""


def corner_tangents(rounds: Sequence[Round]) -> frozenset[frozenset[Patch]]:
    """Return the pairs of patches of corner coves and the walls that they leave smoothly."""
    bodies = {item.body for item in rounds if not item.straight}
    return frozenset(
        frozenset({Patch(body, "corner cove", ""), Patch(body, kind, "")})
        for body in bodies
        for kind in COVED
    )


def patch_of(layer: Layer, part: int) -> Patch:
    """Return the label of a layer's upper face over one part of it."""
    feature = layer.feature
    if isinstance(layer.height, Floor):
        feature = f"{feature} piece {part + 1}"
    elif isinstance(layer.height, Cells):
        first = layer.height.walls_from
        if part >= first:
            return Patch(layer.body, "wall", f"batter {part - first + 1} of {feature}")
        feature = f"{feature} group {part + 1}"
    elif isinstance(layer.height, Slope) and layer.height.group.max() > 0:
        feature = f"{feature} group {part + 1}"
    return Patch(layer.body, layer.kind, feature)


def creases_of(plan: PlanMap) -> dict[frozenset[Patch], Sense]:
    """Return the pairs of patches that meet in a crease by design, with its sense.

    Coves that meet in a mitre, and pieces of a floor that meet in a break.
    """
    found: dict[frozenset[Patch], Sense] = {}
    for layer in plan.layers:
        pairs: dict[tuple[int, int], bool] = {}
        if isinstance(layer.height, Cells):
            pairs = layer.height.mitres
        elif isinstance(layer.height, Slope):
            pairs = dict(layer.height.creases)
        elif isinstance(layer.height, Floor):
            pairs = layer.height.creases
        for (a, b), internal in pairs.items():
            pair = frozenset((patch_of(layer, a), patch_of(layer, b)))
            found[pair] = "internal" if internal else "external"
    return found | dict.fromkeys(_between_coves(plan), "internal")


def bends_of(plan: PlanMap) -> dict[frozenset[Patch], float]:
    """Return the pairs of patches of fillets that meet over a break, with their angle [deg]."""
    return {
        frozenset((patch_of(layer, a), patch_of(layer, b))): angle
        for layer in plan.layers
        if isinstance(layer.height, Cells)
        for (a, b), angle in layer.height.bends.items()
    }


def _between_coves(plan: PlanMap) -> set[frozenset[Patch]]:
    """Return the pairs of patches of coves painted on each other: they close towards the water."""
    found = set()
    lofted = [(item, item.height) for item in plan.layers if isinstance(item.height, Cells)]
    for (one, cells), (other, more) in combinations(lofted, 2):
        if other.over != "floor" or one.body != other.body:
            continue
        for a, b in product(_groups(one), _groups(other)):
            # faces of one leaning wall may lie in one plane: what these make of it the angle tells
            if a < cells.walls_from or b < more.walls_from:
                found.add(frozenset((patch_of(one, a), patch_of(other, b))))
    return found


def _groups(layer: Layer) -> list[int]:
    """Return the numbers of a cove's groups."""
    cells = layer.height
    return np.unique(cells.group).tolist() if isinstance(cells, Cells) else []


def floors_of(plan: PlanMap) -> dict[Patch, tuple[Floor, int]]:
    """Return for each patch of a floor that shows the floor, and the number of its piece."""
    shown = [(plan.layers, plan.top, plan.part)]
    if (ground := plan.between) is not None:
        shown.append((tuple(item.low for item in ground.gaps), ground.gap, ground.piece))
    return {
        patch_of(layers[n], piece): (height, piece)
        for layers, top, part in shown
        for n, piece in sorted(set(zip(top.tolist(), part.tolist(), strict=True)))
        if isinstance(height := layers[n].height, Floor)
    }


def level_tops_of(plan: PlanMap) -> frozenset[Patch]:
    """Return the patches that are level by design."""
    made: dict[bool, set[Patch]] = {True: set(), False: set()}
    for n, piece in set(zip(plan.top.tolist(), plan.part.tolist(), strict=True)):
        layer = plan.layers[n]
        made[isinstance(layer.height, float)].add(patch_of(layer, piece))
    return frozenset(made[True] - made[False])


def canals_of(plan: PlanMap) -> dict[Patch, Canal]:
    """Return for each patch of a cove the ball that made it."""
    return {
        patch_of(layer, group): layer.height.canal
        for layer in plan.layers
        if isinstance(layer.height, Cells)
        for group in _groups(layer)
    }


def contacts_of(plan: PlanMap) -> tuple[Contact, ...]:
    """Return where each cove that shows meets its walls and its floor."""
    found = []
    owner, place = plan.contact_of.T
    for n in np.unique(owner).tolist():
        layer = plan.layers[n]
        patches = frozenset(patch_of(layer, group) for group in _groups(layer))
        walls, floors = (
            plan.vertices[plan.contact[(owner == n) & (place == at)]]
            for at in (AT_WALL_LINE, AT_FLOOR_LINE)
        )
        tangent = isinstance(layer.height, Cells) and layer.height.tangent
        found.append(Contact(patches, walls, floors, tangent))
    return tuple(found)


def tangents_of(plan: PlanMap) -> frozenset[frozenset[Patch]]:
    """Return the pairs of patches that meet smoothly.

    A cove and the face of its leaning wall, and parts of a sloping top round a curve.
    """
    found = set()
    for layer in plan.layers:
        pairs: list[tuple[int, int]] = []
        if isinstance(layer.height, Slope):
            pairs = list(layer.height.joints)
        elif isinstance(layer.height, Cells) and layer.height.tangent:
            first = layer.height.walls_from
            groups = _groups(layer)
            pairs = [(a, b) for a in groups for b in groups if a < first <= b]
        found |= {frozenset((patch_of(layer, a), patch_of(layer, b))) for a, b in pairs}
    return frozenset(found)


class Labels:
    """Numbers the patches of one surface as they come up."""

    def __init__(self, plan: PlanMap, edges: PlanEdges, rounds: Sequence[Round] = ()) -> None:
        """Take the painted plan, its edges, and where corner coves stand."""
        self.plan, self.edges, self.rounds = plan, edges, rounds
        self.patches: dict[Patch, int] = {}
        heights = [item.height for item in plan.layers]
        none = np.iinfo(np.int64).max
        self._walls_from = np.array(
            [item.walls_from if isinstance(item, Cells) else none for item in heights]
        )

    def number(self, patch: Patch) -> int:
        """Return a label's number, a new one if it is new."""
        return self.patches.setdefault(patch, len(self.patches))

    def of_faces(self, faces: Ints) -> Ints:
        """Return the labels of the upper sides of faces."""
        return self._of_parts(self.plan.top[faces], self.plan.part[faces])

    def of_cells(self) -> Ints:
        """Return the labels of the whole cells."""
        return self._of_parts(self.plan.cells.layer, self.plan.cells.part)

    def _of_parts(self, layer: Ints, part: Ints) -> Ints:
        count = int(part.max(initial=0)) + 1
        pair = layer * count + part
        names = np.zeros(len(self.plan.layers) * count, dtype=np.int64)
        for key in np.unique(pair).tolist():
            a, b = divmod(key, count)
            names[key] = self.number(patch_of(self.plan.layers[a], b))
        found: Ints = names[pair]
        return found

    def of_standing(self, rows: Ints, upper: Ints, lower: Ints) -> Ints:
        """Return the labels of the vertical faces on edges.

        Args:
            rows: (k,) edge numbers.
            upper: (k,) the higher face there.
            lower: (k,) the lower face.
        """
        plan = self.plan
        flank = self._on_flank(rows, plan.top[upper])
        count = len(plan.layers)
        leans = plan.part[upper] >= self._walls_from[plan.top[upper]]
        four = ((plan.top[upper] * count + plan.top[lower]) * 2 + flank) * 2 + leans
        first, inverse = numbered(four)
        names = []
        for key in four[first].tolist():
            trio, lean = divmod(key, 2)
            pair, side = divmod(trio, 2)
            a, b = (plan.layers[i] for i in divmod(pair, count))
            face = "wall" if lean else a.face
            kind = face_kind("step side" if side else face, b.on or b.kind, b.wall)
            if kind in ROUNDED:  # an end, or a crumb at the edge of an outside corner
                names.append(OF_UPPER)
                continue
            feature = a.flight if kind == "step side" else a.feature
            body = a.body if kind in OUTSIDE_KINDS else b.body
            names.append(self.number(Patch(body, kind, feature if kind in OWN_FACES else "")))
        labels = np.array(names, dtype=np.int64)[inverse]
        ends = np.flatnonzero(labels == OF_UPPER)
        labels[ends] = self._of_parts(plan.top[upper[ends]], plan.part[upper[ends]])
        if self.rounds:
            self._name_rounds(rows, labels)
        return labels

    def _name_rounds(self, rows: Ints, labels: Ints) -> None:
        """Give walls that stand on corner coves in plan the label of these."""
        ends = self.plan.vertices[self.edges.ends[rows]]
        for item in self.rounds:
            walls = [self.patches.get(Patch(item.body, kind, ""), -1) for kind in COVED]
            mine = np.flatnonzero(np.isin(labels, walls))
            mine = mine[item.holds(ends[mine])]
            if len(mine):
                labels[mine] = self.number(Patch(item.body, item.kind, ""))

    def _on_flank(self, rows: Ints, upper: Ints) -> Bools:
        """Whether each edge lies on a flank of the layer above it."""
        found = np.zeros(len(rows), dtype=bool)
        starts, stops = (self.plan.vertices[ends] for ends in self.edges.ends[rows].T)
        along, middles = stops - starts, (starts + stops) / 2.0
        size = np.hypot(*along.T)
        for n in np.unique(upper):
            flanks = self.plan.layers[n].flanks
            if flanks is None:
                continue
            mine = np.flatnonzero(upper == n)
            for a, b in flanks:
                reach = np.hypot(*(b - a))
                d = (b - a) / reach
                away = middles[mine] - a
                beyond = np.abs(away @ d - reach / 2.0) - reach / 2.0
                off = np.abs(away[:, 0] * d[1] - away[:, 1] * d[0])
                across = np.abs(along[mine, 0] * d[1] - along[mine, 1] * d[0])
                found[mine] |= (np.maximum(off, beyond) < BESIDE) & (
                    across < np.maximum(SLANT * size[mine], BESIDE)
                )
        return found
