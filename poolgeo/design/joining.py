"""Join loose sides to closed loops, in any order and direction."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from .tracing import XY, BulgedSide, Loop, NurbsSide, Side, ThroughPoints, points_of

SAME = 1e-7
"""[m] Sides whose ends and middles are nearer to each other than this are one, drawn twice."""

MOST_WRONG = 20
"""Most open ends that are looked for: whoever drew them will see the rest."""


@dataclass(frozen=True)
class OpenEnd:
    """An end at which nothing, or too much, can be joined.

    Args:
        place: Where [m].
        meets: How many ends meet there.
        gap: How far the nearest other end is [m]; infinite where there is none.
    """

    place: XY
    meets: int
    gap: float


@dataclass(frozen=True)
class Joined:
    """What came of it: loops, and the ends that stayed open.

    Args:
        loops: Closed chains.
        wrong: Ends at which a chain stays open or forks; there are no loops then.
        doubled: How many sides were drawn twice.
    """

    loops: tuple[Loop, ...]
    wrong: tuple[OpenEnd, ...] = ()
    doubled: int = 0


def joined(sides: Sequence[Side], gap: float) -> Joined:
    """Join sides.

    Ends that meet within the gap are moved to their middle; a side shorter than the gap goes.

    Args:
        sides: Loose, none of them shorter than nothing.
        gap: Largest distance of two ends that are joined [m].

    Returns:
        The loops, or the ends that stay open.
    """
    whole = [(side,) for side in sides if _is_closed(side)]
    loose = [side for side in sides if not _is_closed(side)]
    single = list({_print_of(side): side for side in loose}.values())
    kept = [side for side in single if math.dist(*_ends(side)) > gap or _bow(side) > gap]
    corners = _Corners([end for side in kept for end in _ends(side)], gap)
    if wrong := tuple(islice(corners.wrong(), MOST_WRONG)):
        return Joined((), wrong, len(loose) - len(single))
    chains = _chains(len(kept), corners.number)
    loops = [
        tuple(
            _moved(side if forward else _turned(side), corners.place(2 * k + (not forward)),
                   corners.place(2 * k + forward))
            for k, forward in chain
            for side in (kept[k],)
        )
        for chain in chains
    ]  # fmt: skip
    return Joined((*whole, *loops), (), len(loose) - len(single))


class _Corners:
    """Ends that lie within a gap of each other are one corner."""

    def __init__(self, ends: list[XY], gap: float) -> None:
        self.ends, self.gap = ends, gap
        self.number = list(range(len(ends)))
        cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        size = max(gap, SAME)
        for i, (x, y) in enumerate(ends):
            cell = math.floor(x / size), math.floor(y / size)
            for near in ((cell[0] + a, cell[1] + b) for a in (-1, 0, 1) for b in (-1, 0, 1)):
                for k in cells.get(near, ()):
                    if math.dist(ends[i], ends[k]) <= gap:
                        self._join(i, k)
            cells[cell].append(i)
        self.number = [self._root(i) for i in range(len(ends))]
        self.members: dict[int, list[int]] = defaultdict(list)
        for i, root in enumerate(self.number):
            self.members[root].append(i)

    def _root(self, i: int) -> int:
        while self.number[i] != i:
            self.number[i] = self.number[self.number[i]]
            i = self.number[i]
        return i

    def _join(self, i: int, k: int) -> None:
        a, b = self._root(i), self._root(k)
        self.number[max(a, b)] = min(a, b)

    def place(self, end: int) -> XY:
        """Return the middle of the corner at which an end lies [m]."""
        mine = [self.ends[i] for i in self.members[self.number[end]]]
        return sum(x for x, _ in mine) / len(mine), sum(y for _, y in mine) / len(mine)

    def wrong(self) -> Iterator[OpenEnd]:
        """Yield the corners that do not join two ends."""
        for mine in self.members.values():
            if len(mine) != 2:
                place = self.ends[mine[0]]
                others = [end for i, end in enumerate(self.ends) if i not in mine]
                gap = min((math.dist(place, end) for end in others), default=math.inf)
                yield OpenEnd(place, len(mine), gap)


def _chains(count: int, corner: Sequence[int]) -> list[list[tuple[int, bool]]]:
    """Walk from side to side; ends 2 k and 2 k + 1 belong to side k.

    Returns:
        Chains of sides, each with whether it is walked forwards.
    """
    at: dict[int, list[int]] = defaultdict(list)
    for end, number in enumerate(corner):
        at[number].append(end)
    left, chains = set(range(count)), []
    while left:
        end = 2 * min(left)
        chain = []
        while end // 2 in left:
            left.remove(end // 2)
            chain.append((end // 2, end % 2 == 0))
            far = end ^ 1
            one, other = at[corner[far]]
            end = other if one == far else one
        chains.append(chain)
    return chains


def _is_closed(side: Side) -> bool:
    if isinstance(side, ThroughPoints):
        return True
    return isinstance(side, NurbsSide) and math.dist(*_ends(side)) < SAME


def _ends(side: Side) -> tuple[XY, XY]:
    points = points_of(side)
    return points[0], points[-1]


def _bow(side: Side) -> float:
    """How far a side goes away from its ends, at least [m]."""
    if isinstance(side, BulgedSide):
        return abs(side.bulge) * math.dist(side.start, side.end) / 2.0
    points = points_of(side)
    return max(math.dist(points[0], point) for point in points)


def _turned(side: Side) -> Side:
    if isinstance(side, BulgedSide):
        return BulgedSide(side.end, side.start, -side.bulge)
    if isinstance(side, NurbsSide):
        span = side.knots[0] + side.knots[-1]
        knots = tuple(span - knot for knot in side.knots[::-1])
        return NurbsSide(side.degree, knots, side.controls[::-1], side.weights[::-1])
    return side


def _moved(side: Side, start: XY, end: XY) -> Side:
    """Return a side with its ends moved, by less than the gap."""
    if isinstance(side, BulgedSide):
        return replace(side, start=start, end=end)
    if isinstance(side, NurbsSide):
        return replace(side, controls=(start, *side.controls[1:-1], end))
    return side


def _print_of(side: Side) -> tuple[object, ...]:
    """Return what two sides that are drawn twice have in common, either way round."""
    prints = []
    for item in (side, _turned(side)):
        numbers: list[float] = [value for end in _ends(item) for value in end]
        if isinstance(item, BulgedSide):
            numbers.append(item.bulge)
        elif isinstance(item, NurbsSide):
            numbers += [value for point in item.controls for value in point]
        prints.append((type(item).__name__, *(round(value / SAME) for value in numbers)))
    return min(prints)
