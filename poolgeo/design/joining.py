"""Join loose chains of sides to closed loops, in any order and direction.

Only the ends of a chain are joined to others; within it (the vertices of a polyline) nothing moves.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from .tracing import XY, BulgedSide, Loop, NurbsSide, Side, ThroughPoints, points_of

SAME = 1e-7
"""[m] Chains whose points are nearer to each other than this are one, drawn twice."""

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
        doubled: How many chains were drawn twice.
    """

    loops: tuple[Loop, ...]
    wrong: tuple[OpenEnd, ...] = ()
    doubled: int = 0


def joined(chains: Sequence[Loop], gap: float) -> Joined:
    """Join chains.

    Ends that meet within the gap are moved to their middle; a chain shorter than the gap goes.

    Args:
        chains: Loose, none of them empty.
        gap: Largest distance of two ends that are joined [m].

    Returns:
        The loops, or the ends that stay open.
    """
    single = list({_print_of(chain): chain for chain in chains}.values())
    doubled = len(chains) - len(single)
    whole = [chain for chain in single if _is_closed(chain)]
    kept = [chain for chain in single if not _is_closed(chain) and _reach(chain) > gap]
    corners = _Corners([end for chain in kept for end in _ends(chain)], gap)
    if wrong := tuple(islice(corners.wrong(), MOST_WRONG)):
        return Joined((), wrong, doubled)
    loops = [
        tuple(
            side
            for k, forward in walk
            for side in _moved(
                kept[k] if forward else _turned(kept[k]),
                corners.place(2 * k + (not forward)),
                corners.place(2 * k + forward),
            )
        )
        for walk in _walks(len(kept), corners.number)
    ]
    return Joined((*whole, *loops), (), doubled)


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


def _walks(count: int, corner: Sequence[int]) -> list[list[tuple[int, bool]]]:
    """Walk from chain to chain; ends 2 k and 2 k + 1 belong to chain k.

    Returns:
        Walks over chains, each with whether it is walked forwards.
    """
    at: dict[int, list[int]] = defaultdict(list)
    for end, number in enumerate(corner):
        at[number].append(end)
    left, walks = set(range(count)), []
    while left:
        end = 2 * min(left)
        walk = []
        while end // 2 in left:
            left.remove(end // 2)
            walk.append((end // 2, end % 2 == 0))
            far = end ^ 1
            one, other = at[corner[far]]
            end = other if one == far else one
        walks.append(walk)
    return walks


def _is_closed(chain: Loop) -> bool:
    return isinstance(chain[0], ThroughPoints) or math.dist(*_ends(chain)) < SAME


def _ends(chain: Loop) -> tuple[XY, XY]:
    return points_of(chain[0])[0], points_of(chain[-1])[-1]


def _reach(chain: Loop) -> float:
    """How far a chain goes away from its start, at least [m]."""
    start = _ends(chain)[0]
    far = max(math.dist(start, point) for side in chain for point in points_of(side))
    bows = [
        abs(side.bulge) * math.dist(side.start, side.end) / 2.0
        for side in chain
        if isinstance(side, BulgedSide)
    ]
    return max(far, *bows, 0.0)


def _turned(chain: Loop) -> Loop:
    return tuple(_turned_side(side) for side in chain[::-1])


def _turned_side(side: Side) -> Side:
    if isinstance(side, BulgedSide):
        return BulgedSide(side.end, side.start, -side.bulge)
    if isinstance(side, NurbsSide):
        span = side.knots[0] + side.knots[-1]
        knots = tuple(span - knot for knot in side.knots[::-1])
        return NurbsSide(side.degree, knots, side.controls[::-1], side.weights[::-1])
    return side


def _moved(chain: Loop, start: XY, end: XY) -> Loop:
    """Return a chain with its ends moved, by less than the gap."""
    first = _with_ends(chain[0], start, points_of(chain[0])[-1])
    chain = (first, *chain[1:])
    return (*chain[:-1], _with_ends(chain[-1], points_of(chain[-1])[0], end))


def _with_ends(side: Side, start: XY, end: XY) -> Side:
    if isinstance(side, BulgedSide):
        return replace(side, start=start, end=end)
    if isinstance(side, NurbsSide):
        return replace(side, controls=(start, *side.controls[1:-1], end))
    return side


def _print_of(chain: Loop) -> tuple[object, ...]:
    """Return what two chains that are drawn twice have in common, either way round."""
    prints = []
    for item in (chain, _turned(chain)):
        numbers = [value for side in item for point in points_of(side) for value in point]
        numbers += [side.bulge for side in item if isinstance(side, BulgedSide)]
        prints.append(tuple(round(value / SAME) for value in numbers))
    return min(prints)
