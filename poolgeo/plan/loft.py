"""Lofting: from joined rolls to cells."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ..arrays import Floats, Ints
from .canal import Canal
from .cells import Cells
from .keys import grid_keys, numbered
from .mitre import End, zipped
from .path import Side
from .rolled import CoveMisfitError, Roll
from .stations import LEAST_STEP, stations
from .strips import Strip, section
from .tolerances import GRID

FLAT = 180.0
"""[deg] Angle between faces in one plane."""

STANDS = 5.0 * GRID
"""[m] Feet of a ball nearer to each other than this are one: it stands still."""

NONE = np.zeros(0, dtype=np.int64)
"""No vertices."""


def _check_unfolded(vertices: Floats, triangles: Ints) -> None:
    """Check that every cell faces up.

    Raises:
        CoveMisfitError: Where a joint of one strip runs over a joint of the next.
    """
    a, b, c = (vertices[triangles[:, i], :2] for i in range(3))
    doubled = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    if len(doubled) and doubled.min() < -1e-9:
        reason = "a break line of the floor runs too close to a corner for it"
        raise CoveMisfitError(reason, a[int(np.argmin(doubled))])


def _gather(vertices: Floats, line: Ints) -> None:
    """Bring the feet of a ball that stands still to one place.

    In a corner cove of its own radius a ball touches the floor in one point, but for rounding.

    Args:
        vertices: (n, 3) [m]; those on the line are changed.
        line: (k,) along which the cove meets the floor.
    """
    away = np.diff(vertices[line, :2], axis=0)
    moves = np.hypot(*away.T) > STANDS
    if moves.all():
        return
    group = np.concatenate([[0], np.cumsum(moves)])
    first = line[np.concatenate([[True], moves])]
    last = vertices[first[-1], :2] - vertices[first[0], :2]
    if np.hypot(*last) <= STANDS:
        first[-1] = first[0]
    vertices[line] = vertices[first[group]]


def _thin_out(inner: Floats, first: Floats, last: Floats) -> None:
    """Bring sections that crowd each other near the wall together, ring by ring.

    About an outside corner the first rings are arcs of a fraction of a millimetre.

    Args:
        inner: (c, k, 3) the sections between two ends [m]; changed.
        first: (k', 3) the section at the start.
        last: (k', 3) the section at the end.
    """
    steps = np.hypot(*np.moveaxis(np.diff(inner[..., :2], axis=0), -1, 0))
    crowded = ((steps > 0.0) & (steps < LEAST_STEP)).any(axis=0)
    crowded[[0, -1]] = False  # along the wall and along the floor they are those of the outline
    for ring in np.flatnonzero(crowded).tolist():
        points = inner[:, ring]
        for order, end in ((range(len(points)), first), (range(len(points))[::-1], last)):
            kept = end[ring] if len(end) == inner.shape[1] else points[order[0]]
            for i in order:
                if np.hypot(*(points[i, :2] - kept[:2])) < LEAST_STEP:
                    points[i] = kept
                kept = points[i]


class Loft:
    """Collects vertices, triangles and lines of all strips."""

    def __init__(self, canal: Canal, rings: int, walls_from: int, *, closed: bool) -> None:
        """Start empty.

        Args:
            canal: The ball on its floor.
            rings: J, parts of the section.
            walls_from: First group of the faces of walls that lean.
            closed: Whether the lines are closed.
        """
        self.canal, self.rings, self.closed = canal, rings, closed
        self.leans = canal.batter.lean != 0.0
        self.walls_from = walls_from
        self.vertices: list[Floats] = []
        self.count = 0
        self.triangles: list[Ints] = []
        self.group: list[Ints] = []
        self.walls: list[Ints] = []
        self.floors: list[Ints] = []
        self.sections: list[Ints] = []
        self.mitres: dict[tuple[int, int], bool] = {}
        self.bends: dict[tuple[int, int], float] = {}

    def run(self, chains: list[list[Strip]]) -> Cells:
        """Loft the strips of every wall line.

        Args:
            chains: For each line its strips in order.

        Returns:
            All cells.
        """
        for chain in chains:
            wall: list[Ints] = []
            floor: list[Ints] = []
            columns: list[Ints] = []
            for strip, following in zip(chain, [*chain[1:], chain[0]], strict=True):
                columns += self._lines(strip, wall, floor)
                if strip.roll.mitred:
                    self._note_mitre(strip, following.roll)
            self.walls.append(np.concatenate(wall))
            self.floors.append(np.concatenate(floor))
            if not self.closed:
                self.sections += [columns[0][::-1], columns[-1]]
        return self._merged()

    def _lines(self, strip: Strip, wall: list[Ints], floor: list[Ints]) -> tuple[Ints, Ints]:
        """Loft a strip and add its part to the lines along wall and floor.

        Returns:
            Its first and its last column.
        """
        first, last = strip.first, strip.last
        start, body, stop = self._grid(strip)
        start_wall, start_floor = self._patch(first, strip.roll.group)
        wall.append(start_wall)
        floor.append(start_floor)
        wall += [start[first.wall_tail :: -1], body[:, 0], stop[: last.wall_tail + 1]]
        # at a flap the contact ends on the break line, in the column before the seam
        if first.flap is None:
            floor.append(start[len(start) - first.floor_tail - 1 :])
        floor.append(body[:, -1])
        if last.flap is None:
            floor.append(stop[len(stop) - last.floor_tail - 1 :][::-1])
        stop_wall, stop_floor = self._patch(last, strip.roll.group)
        wall.append(stop_wall)
        floor.append(stop_floor)
        return start, stop

    def _patch(self, end: End, group: int) -> tuple[Ints, Ints]:
        """Add what lies beyond an end; return the vertex numbers along its wall and its floor."""
        if end.patch is None:
            return NONE, NONE
        ids = self._add(end.patch.vertices)
        self.triangles.append(ids[end.patch.triangles])
        self.group.append(np.full(len(end.patch.triangles), group))
        return ids[end.patch.wall], ids[end.patch.floor]

    def _note_mitre(self, strip: Strip, there: Roll) -> None:
        here, patch = strip.roll, strip.last.patch
        low, high = sorted((here.piece, there.piece))
        if here.wall != there.wall:
            one, other = sorted((here.wall, there.wall))
            self.mitres[one, other] = True
        pair = sorted((here.group, there.group))
        internal = low == high or (here.side is not there.side and here.side.turn > 0.0)
        if not internal:  # between curved pieces the break may change
            p, n = here.side.at(np.array([here.stop])) if patch is None else patch.joint
            behind, ahead = (
                self.canal.floor.gradient_of(p + self.canal.radius * n, item.piece)
                for item in (here, there)
            )
            turn = (ahead - behind)[0] @ np.array([n[0, 1], -n[0, 0]])
            internal = bool(turn > 0.0)
            if self.canal.straight and self.rings:
                bend = self._bend(p[0], n[0], (here.piece, there.piece))
                self.bends[pair[0], pair[1]] = bend
                internal = bend < FLAT
        self.mitres[pair[0], pair[1]] = internal

    def _bend(self, p: Floats, n: Floats, pieces: tuple[int, int]) -> float:
        """Return the angle through the water between two fillets over a break [deg].

        A fillet's face looks half way between its wall and its floor.
        """
        side = np.append(n, self.canal.batter.lean) / self.canal.batter.slant
        faces = []
        for piece in pieces:
            over, radius = self.canal.over(p, n, piece), self.canal.radius_at(p)
            faces.append(side + self.canal.rest(over, radius, piece)[1].reshape(3))
        turn = np.cross(faces[0], faces[1])
        size = math.atan2(float(np.linalg.norm(turn)), float(faces[0] @ faces[1]))
        # the line in which they meet runs off the wall
        return FLAT + math.degrees(math.copysign(size, float(turn[:2] @ n)))

    def _add(self, points: Floats) -> Ints:
        self.vertices.append(points)
        self.count += len(points)
        return np.arange(self.count - len(points), self.count)

    def _grid(self, strip: Strip) -> tuple[Ints, Ints, Ints]:
        """Loft one strip; return the vertex numbers of its first, inner and last columns."""
        item = strip.roll
        first, last = (self._crowned(item.side, end) for end in (strip.first, strip.last))
        share, below = stations(item, first, last, leans=self.leans)
        ring = np.linspace(0.0, 1.0, self.rings + 1)
        s = first.s + (last.s - first.s) * below[:, None]
        if self.leans:
            s[:, 0] = first.s[0] + (last.s[0] - first.s[0]) * share
            ring = np.append(-1.0, ring)
            inner = self._with_crowns(item.side, s[:, 0], section(self.canal, item, s[:, 1:]))
        else:
            inner = section(self.canal, item, s)
        _thin_out(inner, first.column, last.column)
        for end, column in ((first, 0), (last, -1)):
            if end.flap is not None:
                self._flap(end, inner[column, -1], item.group, at_start=end is first)
        start, stop = self._add(first.column), self._add(last.column)
        body = self._add(inner.reshape(-1, 3)).reshape(len(share), len(ring))
        regular = [*body]
        if len(start) == len(ring):
            regular.insert(0, start)
        if len(stop) == len(ring):
            regular.append(stop)
        k = int(self.leans)  # a wall that leans has the first two of each column
        if self.leans:
            self._quads(np.array([column[:2] for column in (start, *body, stop)]), item.wall)
        grid = np.array(regular)[:, k:] if regular else body
        if first.ruled:
            self._quads(grid[:2], item.group, to_start=True)
            grid = grid[1:]
        self._quads(grid, item.group)
        if len(start) != len(ring):
            after, share = (regular[0], ring) if regular else (stop, last.share)
            self._zip(start[k:], first.share[k:], after[k:], share[k:], item.group)
        if len(stop) != len(ring) and regular:
            self._zip(regular[-1][k:], ring[k:], stop[k:], last.share[k:], item.group)
        return start, body, stop

    def _with_crowns(self, side: Side, s: Floats, columns: Floats) -> Floats:
        """Put the top of a wall that leans, at parameters (c,), before sections (c, k, 3)."""
        p, _ = side.at(s)
        tops = np.column_stack([p, np.full(len(p), self.canal.batter.top)])
        return np.concatenate([tops[:, None], columns], axis=1)

    def _crowned(self, side: Side, end: End) -> End:
        """Return an end with the top of the wall, where it leans."""
        if not self.leans:
            return end
        at = np.array([end.s[0] if end.crown is None else end.crown])
        (column,) = self._with_crowns(side, at, end.column[None])
        return replace(end, s=np.append(at, end.s), column=column, share=np.append(-1.0, end.share))

    def _flap(self, end: End, contact: Floats, group: int, *, at_start: bool) -> None:
        """Fill the flap of a floor's plane between a seam's foot and the break line."""
        if end.flap is None:
            return
        ids = self._add(np.vstack([contact, end.flap]))
        fan = np.column_stack([np.full(len(ids) - 2, ids[0]), ids[1:-1], ids[2:]])
        self.triangles.append(fan[:, ::-1] if at_start else fan)
        self.group.append(np.full(len(fan), group))

    def _quads(self, grid: Ints, group: int, *, to_start: bool = False) -> None:
        """Split the quadrangles of a grid, each to its foot at its stop, or at its start."""
        if len(grid) < 2:
            return
        a, b = grid[:-1, :-1], grid[1:, :-1]
        c, d = grid[1:, 1:], grid[:-1, 1:]
        halves = ([a, b, d], [b, c, d]) if to_start else ([a, b, c], [a, c, d])
        both = np.stack([np.stack(half, -1) for half in halves], 2).reshape(-1, 3)
        self.triangles.append(both)
        self.group.append(np.full(len(both), group))

    def _zip(self, a: Ints, at_a: Floats, b: Ints, at_b: Floats, group: int) -> None:
        """Triangulate between column ``a`` and the next column ``b`` of another count."""
        self.triangles.append(zipped(a, at_a, b, at_b))
        self.group.append(np.full(len(self.triangles[-1]), group))

    def _merged(self) -> Cells:
        """Give coinciding vertices one number and drop the triangles that vanish."""
        vertices = np.concatenate(self.vertices)
        if self.rings:
            for ids in self.floors:
                _gather(vertices, ids)
        vertices[:, :2] = np.rint(vertices[:, :2] / GRID) * GRID
        keys = grid_keys(vertices[:, :2])
        kept, number = numbered(keys)
        triangles = number[np.concatenate(self.triangles)]
        a, b, c = triangles.T
        real = (a != b) & (b != c) & (c != a)
        _check_unfolded(vertices[kept], triangles[real])

        def along(ids: Ints) -> Ints:
            found = number[ids]
            if self.closed:
                found = np.append(found, found[0])
            line: Ints = found[np.concatenate([[True], found[1:] != found[:-1]])]
            return line

        return Cells(
            vertices[kept],
            triangles[real],
            np.concatenate(self.group)[real],
            tuple(along(item) for item in self.walls),
            tuple(along(item) for item in self.floors),
            tuple(number[item] for item in self.sections),
            self.mitres,
            self.canal,
            self.walls_from,
            self.rings > 1,
            self.bends,
        )
