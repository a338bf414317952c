"""The cove: strips of cells lofted along wall lines.

A **strip** is the cove along one stretch of one side over one piece of the floor: a grid of
columns (sections) by rings (equal shares of the section's angle). Strips join smoothly, or in the
mitre of an inside corner or of a break of the floor. A **group** is a chain of strips that joins smoothly over
one piece of floor along one side; a change of group is where a cove run ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from .canal import Canal, PiecesOverlapError
from .curves import Floats, Ring
from .floor import Floor
from .mitre import End, NoMitreError, corner_ends, corner_foot, plain_end, break_ends
from .path import Side, sides_of
from .swing import Swing
from .tolerances import GRID, SECTION_TURN, grid_keys

Ints = np.ndarray

AT_VERTEX = 5e-6
"""[m] A break met this near to a wall vertex is met in it."""


class CoveMisfitError(ValueError):
    """The ball does not fit: ``str`` says what is in its way, ``place`` where [m]."""

    def __init__(self, reason: str, place: Floats) -> None:
        self.place = (float(place[0]), float(place[1]))
        super().__init__(reason)


@dataclass(frozen=True)
class WallLine:
    """A line that a cove runs along.

    Args:
        points: (n, 2) vertices on the true curve [m].
        normals: (n, 2) left unit normals of the true curve there, nan where they are not known
            or the line turns.
    """

    points: Floats
    normals: Floats


@dataclass(frozen=True)
class Cells:
    """A lofted cove.

    Args:
        vertices: (n, 3) [m].
        triangles: (m, 3) vertex numbers, anticlockwise seen from above.
        group: (m,) group number of each triangle.
        walls: Lines of vertex numbers along the walls, in order (closed: first repeated).
        floors: The same along the floor contact.
        mitres: Pairs of groups that meet in a mitre, smaller first, and whether its crease is
            internal (an inside corner, a toe) or external (a brow).
        radius: [m].
    """

    vertices: Floats
    triangles: Ints
    group: Ints
    walls: tuple[Ints, ...]
    floors: tuple[Ints, ...]
    mitres: dict[tuple[int, int], bool]
    radius: float


@dataclass
class _Stretch:
    """Part of a side over one floor piece, between two joints."""

    side: Side
    start: float
    stop: float
    piece: int
    mitred: bool = False  # whether it ends in a mitre
    first: End | None = None
    last: End | None = None
    group: int = 0
    swing: Swing | None = None  # in a pivot over a sloping floor
    beside: tuple[tuple[float, Swing], ...] = ()  # where such pivots stand on its side
    touches: tuple[float, ...] = ()  # extra columns next to such pivots


def ring_count(radius: float, tolerance: float) -> int:
    """Return the parts of a section: chords within the tolerance and the turn of a section."""
    turn = min(2.0 * math.acos(max(0.0, 1.0 - tolerance / radius)), SECTION_TURN)
    return math.ceil(math.pi / 2.0 / turn)


def cove_cells(
    lines: Sequence[WallLine], floor: Floor, radius: float, tolerance: float, *, closed: bool = True
) -> Cells:
    """Loft the cove along wall lines.

    Args:
        lines: Water on the left; a closed line does not repeat its first point.
        floor: The floor under them.
        radius: Of the ball [m].
        tolerance: Largest distance of a chord from the surface [m].
        closed: Whether the lines are closed. Open ones end in plain sections.

    Raises:
        CoveMisfitError: The ball does not fit somewhere.
    """
    try:
        canal = Canal.on(floor, radius)
    except PiecesOverlapError as error:
        raise CoveMisfitError(str(error), floor.origin) from error
    rings = ring_count(radius, tolerance)
    chains = []
    groups = 0
    for line in lines:
        stretches = _stretches(canal, line, closed=closed)
        if not canal.floor.is_level:
            _set_swings(canal, stretches, tolerance)
        _join(canal, stretches, rings, closed=closed)
        groups = _number(stretches, groups, closed=closed)
        chains.append(stretches)
    _check_room(canal, lines, chains)
    return _Loft(canal, rings, closed).run(chains)


def with_joints(ring: Ring, floor: Floor, radius: float) -> Ring:
    """Return an outline with a vertex, on its true curve, wherever its cove crosses a break.

    So the seams of the cove end in vertices that all that follows the outline shares.
    """
    try:
        canal = Canal.on(floor, radius)
    except PiecesOverlapError:
        return ring
    found = []
    for side in sides_of(ring.points, ring.normals, radius, closed=True):
        inside = _crossings(canal, side, 0.0, side.length)[1:-1] if not side.pivot else []
        s = np.array([at for at in inside if np.abs(side.s - at).min() > 1e-5])
        if len(s):
            found.append(np.hstack(side.at(s)))
    if not found:
        return ring
    return ring.with_points(*np.split(np.concatenate(found), 2, axis=1))


def _stretches(canal: Canal, line: WallLine, *, closed: bool) -> list[_Stretch]:
    sides = sides_of(line.points, line.normals, canal.radius, closed=closed)
    feet = [[0.0, side.length] for side in sides]
    for i, side in enumerate(sides):
        if side.turn > 0.0:
            j = (i + 1) % len(sides)
            try:
                feet[i][1], feet[j][0] = corner_foot(canal, side, sides[j])
            except NoMitreError as error:
                reason = "an inside corner leaves no room for it"
                raise CoveMisfitError(reason, side.p[-1]) from error
    stretches: list[_Stretch] = []
    for side, (start, stop) in zip(sides, feet, strict=True):
        if stop <= start:
            reason = "the side between two inside corners is too short for it"
            raise CoveMisfitError(reason, side.p.mean(axis=0))
        places = _crossings(canal, side, start, stop)
        for a, b in zip(places[:-1], places[1:], strict=True):
            piece = int(canal.piece(*side.at(np.array([(a + b) / 2.0])))[0])
            if stretches and stretches[-1].side is side and stretches[-1].piece == piece:
                stretches[-1].stop = b
                continue
            stretches.append(_Stretch(side, a, b, piece))
        stretches[-1].mitred = side.turn > 0.0
    for i, before in enumerate(stretches):
        if closed or i + 1 < len(stretches):
            before.mitred |= before.piece != stretches[(i + 1) % len(stretches)].piece
    return stretches


def _crossings(canal: Canal, side: Side, start: float, stop: float) -> list[float]:
    """Parameters at which the ball goes over to another floor piece, with both ends."""
    inner = side.s[(side.s > start) & (side.s < stop)]
    s = np.concatenate([[start], inner, [stop]])

    def u_of(at: Floats) -> Floats:
        p, n = side.at(at)
        return canal.floor.along(p + canal.radius * n)

    found: list[float] = []
    u = u_of(s)
    for bound in canal.bounds:
        off = u - bound
        at_vertex = np.abs(off) < AT_VERTEX
        found += s[at_vertex].tolist()
        i = np.flatnonzero((off[1:] > 0.0) != (off[:-1] > 0.0))
        i = i[~at_vertex[i] & ~at_vertex[i + 1]]
        if not len(i):
            continue
        a, b, fa, fb = s[i], s[i + 1], off[i], off[i + 1]
        for _ in range(40):  # regula falsi, the end that stays halved (Illinois)
            at = b - fb * (b - a) / (fb - fa)
            fc = u_of(at) - bound
            if np.abs(fc).max() < 1e-12:
                break
            crossed = (fc > 0.0) != (fb > 0.0)
            a, fa = np.where(crossed, b, a), np.where(crossed, fb, fa / 2.0)
            b, fb = at, np.where(fc == 0.0, 1e-300, fc)
        found += at.tolist()
    inside = sorted({at for at in found if start < at < stop})
    return [start, *inside, stop]


def _set_swings(canal: Canal, stretches: list[_Stretch], tolerance: float) -> None:
    """Give each pivot its swing, and its neighbours a column within the tolerance of the corner.

    On a sloping floor the ball touches the corner's edge over a height: in the mesh the edge has
    one vertex there, and the columns beside it keep what differs within the tolerance.
    """
    count = len(stretches)
    for i, item in enumerate(stretches):
        if not item.side.pivot or item.swing is not None:
            continue
        pivot = [j % count for j in range(i, i + count) if stretches[j % count].side is item.side]
        before, after = stretches[pivot[0] - 1], stretches[(pivot[-1] + 1) % count]
        swing = Swing.about(canal, before.side, item.side, after.side)
        for j in pivot:
            stretches[j].swing = swing
        if before.stop - before.start > 3.0 * tolerance:
            before.touches += (before.stop - tolerance,)
        if after.stop - after.start > 3.0 * tolerance:
            after.touches += (after.start + tolerance,)
        for other in stretches:
            if other.side is before.side:
                other.beside += ((before.side.length, swing),)
            if other.side is after.side:
                other.beside += ((0.0, swing),)


def _section(canal: Canal, item: _Stretch, s: Floats) -> Floats:
    """Return the sections (c, J + 1, 3) of a stretch at parameters (c, J + 1)."""
    if item.swing is not None:
        return item.swing.columns(item.side, s, item.piece)
    share = np.broadcast_to(np.linspace(0.0, 1.0, s.shape[1]), s.shape)
    points = canal.points(*item.side.at(s), item.piece, share)
    for corner, swing in item.beside:
        near = np.abs(s[:, 0] - corner) < 1.2 * canal.radius
        points[near] = swing.columns(item.side, s[near], item.piece)
    return points


def _join(canal: Canal, stretches: list[_Stretch], rings: int, *, closed: bool) -> None:
    """Fill in the ends of all stretches."""
    count = len(stretches)
    for i, here in enumerate(stretches):
        if i + 1 == count and not closed:
            break
        there = stretches[(i + 1) % count]
        if not here.mitred:
            at_pivot = there if there.swing is not None else here
            s = there.start if at_pivot is there else here.stop
            column = _section(canal, at_pivot, np.full((1, rings + 1), s))[0]
            here.last = plain_end(here.stop, column)
            there.first = plain_end(there.start, column)
        elif here.side.turn <= 0.0 or here.side is there.side and here.stop == there.start:
            try:
                here.last, there.first = break_ends(
                    canal, here.side, here.stop, here.piece, there.piece, rings
                )
            except NoMitreError as error:
                place = here.side.at(np.array([here.stop]))[0][0]
                reason = "a break line of the floor leaves no room for its mitre"
                raise CoveMisfitError(reason, place) from error
        elif here.piece != there.piece:
            reason = "a break line of the floor runs too close to an inside corner"
            raise CoveMisfitError(reason, here.side.p[-1])
        else:
            feet = (here.stop, there.start)
            try:
                here.last, there.first = corner_ends(
                    canal, here.side, there.side, feet, here.piece, rings
                )
            except NoMitreError as error:
                reason = "an inside corner leaves no room for its mitre"
                raise CoveMisfitError(reason, here.side.p[-1]) from error
    if not closed:
        first, last = stretches[0], stretches[-1]
        at = np.full((1, rings + 1), first.start)
        first.first = plain_end(first.start, _section(canal, first, at)[0])
        at = np.full((1, rings + 1), last.stop)
        last.last = plain_end(last.stop, _section(canal, last, at)[0])
    for item in stretches:
        assert item.first is not None
        assert item.last is not None
        if np.any(item.last.s - item.first.s < -1e-9):
            place = item.side.at(np.array([(item.start + item.stop) / 2.0]))[0][0]
            reason = "corners and break lines of the floor stand too close together for it"
            raise CoveMisfitError(reason, place)


def _number(stretches: list[_Stretch], groups: int, *, closed: bool) -> int:
    """Number the groups of one line, from ``groups`` up; return the next free number."""
    number = groups
    for i, item in enumerate(stretches):
        before = stretches[i - 1]
        fresh = before.mitred or (before.side.pivot and not item.side.pivot)
        if i and fresh:
            number += 1
        item.group = number
    first, last = stretches[0], stretches[-1]
    wraps = closed and len(stretches) > 1 and number > groups
    if wraps and not last.mitred and first.piece == last.piece and not first.side.pivot:
        if first.side is last.side:  # a smooth closed line that happens to start in mid-stretch
            for item in stretches:
                if item.group == number:
                    item.group = groups
            number -= 1
    return number + 1


def _check_room(canal: Canal, lines: Sequence[WallLine], chains: list[list[_Stretch]]) -> None:
    """Check that the ball touches the walls it rolls along and no other.

    Raises:
        CoveMisfitError: It does not.
    """
    rings = [shapely.LinearRing(line.points) if len(line.points) > 2
             else shapely.LineString(line.points) for line in lines]  # fmt: skip
    walls = shapely.union_all(rings)
    shapely.prepare(walls)
    for chain in chains:
        for item in chain:
            inner = item.side.s[(item.side.s > item.start) & (item.side.s < item.stop)]
            s = np.concatenate([[item.start], inner, [item.stop]])
            p, n = item.side.at(s)
            o = p + canal.radius * n
            if not item.side.pivot:
                steps = np.sum(np.diff(o, axis=0) * np.diff(p, axis=0), axis=1)
                if np.any(steps < 0.0):
                    reason = "the plan curve is tighter than its radius"
                    raise CoveMisfitError(reason, p[int(np.argmin(steps))])
            room = shapely.distance(walls, shapely.points(o))
            if room.min() < canal.radius * 0.985 - 1e-4:
                reason = "the water is too narrow for it"
                raise CoveMisfitError(reason, p[int(np.argmin(room))])


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


class _Loft:
    """Collects vertices, triangles and lines of all strips."""

    def __init__(self, canal: Canal, rings: int, closed: bool) -> None:  # noqa: FBT001
        self.canal, self.rings, self.closed = canal, rings, closed
        self.vertices: list[Floats] = []
        self.count = 0
        self.triangles: list[Ints] = []
        self.group: list[Ints] = []
        self.walls: list[Ints] = []
        self.floors: list[Ints] = []
        self.mitres: dict[tuple[int, int], bool] = {}

    def run(self, chains: list[list[_Stretch]]) -> Cells:
        for chain in chains:
            wall: list[Ints] = []
            floor: list[Ints] = []
            for i, item in enumerate(chain):
                start, body, stop = self._grid(item)
                w0, w1 = item.first.wall_tail, item.last.wall_tail
                f0, f1 = len(start) - item.first.floor_tail, len(stop) - item.last.floor_tail
                wall += [start[w0::-1], body[:, 0], stop[: w1 + 1]]
                # at a flap the contact ends on the break line, in the column before the seam
                floor += [
                    start[f0 - 1 :] if item.first.crossing is None else start[:0],
                    body[:, -1],
                    stop[f1 - 1 :][::-1] if item.last.crossing is None else stop[:0],
                ]
                if item.mitred:
                    there = chain[(i + 1) % len(chain)]
                    pair = sorted((item.group, there.group))
                    rise = self.canal.floor.slopes[max(item.piece, there.piece)]
                    rise -= self.canal.floor.slopes[min(item.piece, there.piece)]
                    self.mitres[pair[0], pair[1]] = bool(rise >= 0.0)
            self.walls.append(np.concatenate(wall))
            self.floors.append(np.concatenate(floor))
        return self._merged()

    def _add(self, points: Floats) -> Ints:
        self.vertices.append(points)
        self.count += len(points)
        return np.arange(self.count - len(points), self.count)

    def _grid(self, item: _Stretch) -> tuple[Ints, Ints, Ints]:
        """Loft one strip; return the vertex numbers of its first, inner and last columns."""
        first, last = item.first, item.last
        assert first is not None
        assert last is not None
        share = self._columns(item, first, last)
        ring = np.linspace(0.0, 1.0, self.rings + 1)
        s = first.s + (last.s - first.s) * share[:, None]
        inner = _section(self.canal, item, s)
        for end, column in ((first, 0), (last, -1)):
            if end.crossing is not None:
                self._flap(end, inner[column, -1], item.group, at_start=end is first)
        start, stop = self._add(first.column), self._add(last.column)
        body = self._add(inner.reshape(-1, 3)).reshape(len(share), self.rings + 1)
        regular = [*body]
        if len(start) == self.rings + 1:
            regular.insert(0, start)
        if len(stop) == self.rings + 1:
            regular.append(stop)
        self._quads(np.array(regular), item.group)
        if len(start) != self.rings + 1:
            after = regular[0] if regular else stop
            self._zip(start, first.share, after, ring, item.group)
        if len(stop) != self.rings + 1 and regular:
            self._zip(regular[-1], ring, stop, last.share, item.group)
        return start, body, stop

    def _columns(self, item: _Stretch, first: End, last: End) -> Floats:
        """Shares of the way between both ends (0 and 1 left out) at which columns stand."""
        side, start, stop = item.side, float(first.s[0]), float(last.s[0])
        margin = 1e-5
        places = np.union1d(side.s, item.touches)
        places = places[(places > start + margin) & (places < stop - margin)]
        share = (places - start) / max(stop - start, 1e-12)
        reach = float(last.s[-1] - first.s[-1])
        crossings = [(end.crossing - float(first.s[-1])) / reach
                     for end in (first, last) if end.crossing is not None]  # fmt: skip
        return np.union1d(share, crossings) if crossings else share

    def _flap(self, end: End, contact: Floats, group: int, *, at_start: bool) -> None:
        """Fill the flap of a floor's plane between a seam's foot and the break line."""
        if end.flap is None:
            return
        ids = self._add(np.vstack([contact, end.flap]))
        fan = np.column_stack([np.full(len(ids) - 2, ids[0]), ids[1:-1], ids[2:]])
        self.triangles.append(fan[:, ::-1] if at_start else fan)
        self.group.append(np.full(len(fan), group))

    def _quads(self, grid: Ints, group: int) -> None:
        if len(grid) < 2:
            return
        a, b = grid[:-1, :-1], grid[1:, :-1]
        c, d = grid[1:, 1:], grid[:-1, 1:]
        both = np.stack([np.stack([a, b, c], -1), np.stack([a, c, d], -1)], 2).reshape(-1, 3)
        self.triangles.append(both)
        self.group.append(np.full(len(both), group))

    def _zip(self, a: Ints, at_a: Floats, b: Ints, at_b: Floats, group: int) -> None:
        """Triangulate between column ``a`` and the next column ``b`` of another count."""
        i = j = 0
        found = []
        while i < len(a) - 1 or j < len(b) - 1:
            if j == len(b) - 1 or (i < len(a) - 1 and at_a[i + 1] <= at_b[j + 1]):
                found.append((a[i], b[j], a[i + 1]))
                i += 1
            else:
                found.append((a[i], b[j], b[j + 1]))
                j += 1
        self.triangles.append(np.array(found))
        self.group.append(np.full(len(found), group))

    def _merged(self) -> Cells:
        """Give coinciding vertices one number and drop the triangles that vanish."""
        vertices = np.concatenate(self.vertices)
        vertices[:, :2] = np.rint(vertices[:, :2] / GRID) * GRID
        keys = grid_keys(vertices[:, :2])
        _, kept, number = np.unique(keys, return_index=True, return_inverse=True)
        triangles = number[np.concatenate(self.triangles)]
        a, b, c = triangles.T
        real = (a != b) & (b != c) & (c != a)
        _check_unfolded(vertices[kept], triangles[real])

        def line(ids: Ints) -> Ints:
            found = number[ids]
            if self.closed:
                found = np.append(found, found[0])
            return found[np.concatenate([[True], found[1:] != found[:-1]])]

        return Cells(
            vertices[kept],
            triangles[real],
            np.concatenate(self.group)[real],
            tuple(line(item) for item in self.walls),
            tuple(line(item) for item in self.floors),
            self.mitres,
            self.canal.radius,
        )
