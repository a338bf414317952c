"""What the ball of a cove rolls along: wall lines cut into rolls.

A **roll** is the part of one side along which the ball rests on one piece of the floor.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

import numpy as np
import shapely

from ..arrays import Floats
from .canal import Canal
from .floor import Profile
from .mitre import NoMitreError, corner_foot
from .path import Side, sides_of
from .swing import Swing

SIGHTS = 9
"""Places along a chord of a wall at which a curved floor is looked at."""

FINEST = 0.1
"""[m] Places along a side at which pieces are looked for need not stand closer."""

NEAR = 0.05
"""[m] A break this near to where the ball changes pieces is the one that it changes at."""

AT_VERTEX = 5e-6
"""[m] A break met this near to a wall vertex is met in it."""


class CoveMisfitError(ValueError):
    """The ball does not fit: ``str`` says what is in its way and where, ``place`` where [m]."""

    def __init__(self, reason: str, place: Floats) -> None:
        self.place = (float(place[0]), float(place[1]))
        super().__init__(f"{reason} near ({self.place[0]:.3f}, {self.place[1]:.3f}) m")


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

    def run_on(self, before: float, after: float) -> WallLine:
        """Return it, open, going straight on beyond its start and beyond its end [m]."""
        reach, ends = np.array([before, after])[:, None], self.points[[0, -1]]
        out = ends - self.points[[1, -2]]
        more = ends + reach * out / np.hypot(*out.T)[:, None]
        first, last = slice(0, int(before > 0.0)), slice(1, 1 + int(after > 0.0))
        unknown = np.full((2, 2), np.nan)
        return WallLine(
            np.concatenate([more[first], self.points, more[last]]),
            np.concatenate([unknown[first], self.normals, unknown[last]]),
        )


@dataclass
class Roll:
    """Part of a side over one floor piece, between two joints.

    Args:
        side: The side.
        start: Parameter of its start [m].
        stop: Parameter of its stop [m].
        piece: The floor piece.
        mitred: Whether it stops in a mitre.
        fresh: Whether it starts a group though it joins smoothly.
        group: Number of its group.
        wall: Number of the group of its wall's face, where this leans.
        swings: The ball's way about outside corners, over a sloping floor: in a pivot about it,
            else about those at the ends of its side; each after what the side's parameter lacks
            to that of the swing [m].
        touches: Parameters of extra columns next to such pivots [m].
    """

    side: Side
    start: float
    stop: float
    piece: int
    mitred: bool = False
    fresh: bool = False
    group: int = 0
    wall: int = 0
    swings: tuple[tuple[float, Swing], ...] = ()
    touches: tuple[float, ...] = ()


def rolls_of(canal: Canal, line: WallLine, *, closed: bool) -> list[Roll]:
    """Cut a wall line into rolls.

    Args:
        canal: The ball on its floor.
        line: The wall line.
        closed: Whether it is closed.

    Returns:
        Rolls in order.

    Raises:
        CoveMisfitError: A corner or a short side leaves no room for the ball.
    """
    sides = sides_of(line.points, line.normals, max(canal.radius, FINEST), closed=closed)
    feet = [[0.0, side.length] for side in sides]
    for i, side in enumerate(sides):
        if side.turn > 0.0 and (closed or i + 1 < len(sides)):
            j = (i + 1) % len(sides)
            try:
                feet[i][1], feet[j][0] = corner_foot(canal, side, sides[j])
            except NoMitreError as error:
                reason = "an inside corner leaves no room for it"
                raise CoveMisfitError(reason, side.p[-1]) from error
    rolls: list[Roll] = []
    for side, (start, stop) in zip(sides, feet, strict=True):
        if stop <= start:
            reason = "the side between two inside corners is too short for it"
            raise CoveMisfitError(reason, side.p.mean(axis=0))
        rolls += _on_side(canal, side, start, stop)
    for i, before in enumerate(rolls):
        if closed or i + 1 < len(rolls):
            before.mitred |= before.piece != rolls[(i + 1) % len(rolls)].piece
    return rolls


def _on_side(canal: Canal, side: Side, start: float, stop: float) -> list[Roll]:
    """Cut what the ball rolls along of one side where it goes over to another floor piece."""
    found: list[Roll] = []
    places = crossings(canal, side, start, stop)
    middles = np.array([(a + b) / 2.0 for a, b in pairwise(places)])
    pieces = canal.piece(*side.at(middles)).tolist()
    for (a, b), piece in zip(pairwise(places), pieces, strict=True):
        if found and found[-1].piece == piece:
            found[-1].stop = b
            continue
        if found:
            _check_break(canal, side, a, (found[-1].piece, piece))
        found.append(Roll(side, a, b, piece))
    found[-1].mitred = side.turn > 0.0
    return found


def crossings(canal: Canal, side: Side, start: float, stop: float) -> list[float]:
    """Parameters at which the ball goes over to another floor piece, with both ends."""
    inner = side.s[(side.s > start) & (side.s < stop)]
    s = np.concatenate([[start], inner, [stop]])
    if not canal.is_plain:  # a long side may go over a piece and back again
        count = math.ceil((stop - start) / max(2.0 * canal.radius, FINEST))
        s = np.union1d(s, np.linspace(start, stop, count + 1))
    found: list[float] = []
    for gap in _gaps(canal, side, s):
        off = gap(s)
        at_vertex = np.abs(off) < AT_VERTEX
        found += s[at_vertex].tolist()
        i = np.flatnonzero((off[1:] > 0.0) != (off[:-1] > 0.0))
        i = i[~at_vertex[i] & ~at_vertex[i + 1]]
        if not len(i):
            continue
        a, b, fa, fb = s[i], s[i + 1], off[i], off[i + 1]
        for _ in range(40):  # regula falsi, the end that stays halved (Illinois)
            at = b - fb * (b - a) / np.where(fb == fa, 1e-300, fb - fa)
            fc = gap(at)
            if np.abs(fc).max() < 1e-12:
                break
            crossed = (fc > 0.0) != (fb > 0.0)
            a, fa = np.where(crossed, b, a), np.where(crossed, fb, fa / 2.0)
            b, fb = at, np.where(fc == 0.0, 1e-300, fc)
        found += at.tolist()
    inside = sorted({at for at in found if start < at < stop})
    return [start, *inside, stop]


def _gaps(canal: Canal, side: Side, s: Floats) -> Iterator[Callable[[Floats], Floats]]:
    """Yield functions of the side's parameter that are 0 where the ball changes pieces [m].

    Args:
        canal: The ball on its floor.
        side: The side.
        s: Parameters between which it may do so.
    """
    floor = canal.floor
    if isinstance(floor, Profile) and canal.is_plain:
        for bound in canal.bounds:
            yield partial(_beyond, floor, canal, side, bound)
        return
    path = shapely.LineString(canal.over(*side.at(s)))
    for pair in canal.breaks_along(path):
        yield partial(_higher, canal, side, pair)


def _beyond(floor: Profile, canal: Canal, side: Side, bound: float, s: Floats) -> Floats:
    return floor.along(canal.over(*side.at(s))) - bound


def _higher(canal: Canal, side: Side, pair: tuple[int, int], s: Floats) -> Floats:
    p, n = side.at(s)
    o, radius = canal.over(p, n, pair[0]), canal.radius_at(p)
    turn = canal.floor.gradient_of(o, pair[0]) - canal.floor.gradient_of(o, pair[1])
    apart: Floats = canal.rest(o, radius, pair[0])[0] - canal.rest(o, radius, pair[1])[0]
    return apart / np.maximum(np.hypot(turn[:, 0], turn[:, 1]), 1e-12)


def _check_break(canal: Canal, side: Side, s: float, pieces: tuple[int, int]) -> None:
    """Check that where the ball goes over from one piece to another, these meet in a break.

    Raises:
        CoveMisfitError: They do not: a third piece between them is too narrow for the ball.
    """
    if canal.is_plain:
        return
    p, n = side.at(np.array([s]))
    _, pairs = canal.breaks_near(canal.over(p, n), 2.0 * canal.radius + NEAR)
    if not (pairs == sorted(pieces)).all(axis=1).any():
        reason = "a piece of the floor between two break lines is too narrow for it"
        raise CoveMisfitError(reason, p[0])


def set_swings(canal: Canal, rolls: list[Roll], tolerance: float) -> None:
    """Give each pivot its swing, and its neighbours a column within the tolerance of the corner.

    On a sloping floor the ball touches the corner's edge over a height: in the mesh the edge has
    one vertex there, and the columns beside it keep what differs within the tolerance.
    """
    count = len(rolls)
    for i, item in enumerate(rolls):
        if not item.side.pivot or item.swings:
            continue
        pivot = [j % count for j in range(i, i + count) if rolls[j % count].side is item.side]
        before, after = rolls[pivot[0] - 1], rolls[(pivot[-1] + 1) % count]
        swing = Swing.about(canal, (before.side, item.side, after.side), item.piece, tolerance)
        if before.stop - before.start > 3.0 * tolerance:
            before.touches += (before.stop - tolerance,)
        if after.stop - after.start > 3.0 * tolerance:
            after.touches += (after.start + tolerance,)
        for other in rolls:
            own = swing.on(other.piece)
            if other.side is before.side:
                other.swings += ((-before.side.length, own),)
            if other.side is item.side:
                other.swings += ((0.0, own),)
            if other.side is after.side:
                other.swings += ((swing.pivot, own),)


def bends_of(canal: Canal, item: Roll, tolerance: float) -> tuple[float, ...]:
    """Return where columns must stand because the floor bends along the wall, as parameters [m]."""
    if (item.side.pivot and item.swings) or (canal.is_even and canal.floor.is_flat(item.piece)):
        return ()
    inner = item.side.s[(item.side.s > item.start) & (item.side.s < item.stop)]
    bounds = np.concatenate([[item.start], inner, [item.stop]])
    found: list[float] = []
    begin, end = bounds[:-1], bounds[1:]
    while len(begin):
        s = np.linspace(begin, end, SIGHTS)
        beside = item.side.at(s)
        ends = np.array([canal.contact(*beside, item.piece), canal.centre(*beside, item.piece)])
        share = np.linspace(0.0, 1.0, SIGHTS)[:, None, None]
        off = np.abs(ends - ends[:, :1] * (1.0 - share) - ends[:, -1:] * share).max(axis=(0, 1, 3))
        # a chord of length l stands off by bend l^2 / 8; looked at again, by less
        bends = np.abs(np.diff(ends, 2, axis=1)).max(axis=(0, 1, 3)) * (SIGHTS - 1) ** 2
        count = np.ceil(np.sqrt((off if found else bends / 8.0) / tolerance))
        again = (count > 1.0) & (end - begin > tolerance)
        parts = [
            np.linspace(a, b, int(n) + 1)
            for a, b, n in zip(begin[again], end[again], count[again], strict=True)
        ]
        found += [place for part in parts for place in part[1:-1].tolist()]
        chords = [pair for part in parts for pair in pairwise(part.tolist())]
        begin, end = np.array(chords).reshape(-1, 2).T
    return tuple(sorted(found))
