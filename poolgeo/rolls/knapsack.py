"""The search for what best goes into one roll, by branch and bound on true lengths.

A **pattern** says how often each length is cut from one roll: pairs of a length's place in the
list and how often.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

Pattern = tuple[tuple[int, int], ...]
Chain = tuple[int, int, "Chain"] | None
"""What a branch has taken: a length's place, how often, and what it took before."""

EPS = 1e-9
"""What two worths must differ by to count as different."""


@dataclass(frozen=True)
class Fill:
    """The best pattern found.

    Args:
        pattern: Of the roll; empty when none is worth more than asked.
        worth: Of the pattern, or what was asked to be exceeded.
        limit: What no pattern's worth exceeds.
        nodes: How many branches were looked at.
    """

    pattern: Pattern
    worth: float
    limit: float
    nodes: int


def unchain(chain: Chain) -> Pattern:
    """Return a branch's pattern, in the order of its lengths' places."""
    pairs = []
    while chain is not None:
        place, times, chain = chain
        pairs.append((place, times))
    return tuple(sorted(pairs))


def best_fill(
    worth: Sequence[float],
    sizes: Sequence[float],
    counts: Sequence[int],
    room: float,
    above: float,
    nodes: int,
) -> Fill:
    """Search the pattern of most worth.

    Args:
        worth: (k,) of each length.
        sizes: (k,) the lengths [m], above 0.
        counts: (k,) how often each may be taken.
        room: Length of the roll [m].
        above: Only patterns worth more than this are of use.
        nodes: Branches to look at before giving up; the limit then counts the others as well.

    Returns:
        The best pattern found and what is proven about all.
    """
    order = [i for i, size in enumerate(sizes) if worth[i] > EPS and size <= room]
    order.sort(key=lambda i: (-worth[i] / sizes[i], -sizes[i]))
    length_to = [0.0, *accumulate(sizes[i] * counts[i] for i in order)]
    worth_to = [0.0, *accumulate(worth[i] * counts[i] for i in order)]

    def limit(k: int, left: float) -> float:
        # As if the last length taken could be cut: the densest lengths first.
        end = length_to[k] + left
        j = bisect_right(length_to, end) - 1
        sure = worth_to[j] - worth_to[k]
        if j == len(order):
            return sure
        return sure + (end - length_to[j]) * worth[order[j]] / sizes[order[j]]

    best, found = above, None
    stack: list[tuple[int, float, float, Chain]] = [(0, room, 0.0, None)]
    used = 0
    while stack and used < nodes:
        used += 1
        k, left, value, taken = stack.pop()
        if value > best:
            best, found = value, taken
        if k == len(order) or value + limit(k, left) <= best + EPS:
            continue
        i = order[k]
        stack.append((k + 1, left, value, taken))
        stack += [
            (k + 1, left - n * sizes[i], value + n * worth[i], (i, n, taken))
            for n in range(1, min(counts[i], int(left / sizes[i])) + 1)
        ]
    most = max((value + limit(k, left) for k, left, value, _ in stack), default=best)
    return Fill(unchain(found), best, max(best, most) + EPS, used)


def all_patterns(
    sizes: Sequence[float], counts: Sequence[int], room: float, nodes: int
) -> list[Pattern] | None:
    """List every pattern to which no length can be added.

    Args:
        sizes: (k,) the lengths [m], the longest first.
        counts: (k,) how often each may be taken.
        room: Length of the roll [m].
        nodes: Branches to look at before giving up.

    Returns:
        The patterns; None when there are too many to list.
    """
    found = []
    # With each branch the shortest length of which it left one: a pattern must have no room for it.
    stack: list[tuple[int, float, Chain, float]] = [(0, room, None, float("inf"))]
    while stack:
        nodes -= 1
        if nodes < 0:
            return None
        k, left, taken, spared = stack.pop()
        if k == len(sizes):
            if left < spared:
                found.append(unchain(taken))
            continue
        most = min(counts[k], int(left / sizes[k]))
        for n in range(most + 1):
            chain = (k, n, taken) if n else taken
            short = spared if n == counts[k] else sizes[k]
            stack.append((k + 1, left - n * sizes[k], chain, short))
    return found
