"""Whole packs of several sizes for an amount: the cheapest, or those with the least left over."""

from __future__ import annotations

from collections.abc import Sequence

from .film import packs_of

FINENESS = 1e-6
"""An amount that is over by less than this share of the smallest pack is rounding."""


def fewest(amount: float, sizes: Sequence[float], prices: Sequence[float | None]) -> list[int]:
    """Return how many packs of each size hold an amount.

    Args:
        amount: In the unit of the sizes.
        sizes: What is in each pack, above 0.
        prices: Of each; where one is not known, what is in the packs is kept small instead.

    Returns:
        Counts: the least cost; of equal costs the fewest packs.

    Example:
        >>> fewest(26.0, [20.0, 5.0], [30.0, 10.0]), fewest(26.0, [20.0, 5.0], [30.0, 20.0])
        ([1, 2], [2, 0])
    """
    known = [price for price in prices if price is not None]
    costs = known if len(known) == len(sizes) else list(sizes)
    # by cost for what is in it, so that the first good answer bounds the others closely
    order = sorted(range(len(sizes)), key=lambda i: (costs[i] / sizes[i], -sizes[i]))
    best: tuple[float, int, list[int]] | None = None
    waiting: list[tuple[float, float, list[int]]] = [(amount, 0.0, [])]
    while waiting:
        left, cost, counts = waiting.pop()
        i = order[len(counts)]
        # not whole packs of the best of those that are left: no answer from here is cheaper
        bound = cost + max(left, 0.0) / sizes[i] * costs[i]
        if best is not None and bound > best[0] * (1.0 + FINENESS):
            continue
        most = packs_of(left, sizes[i])
        if len(counts) == len(sizes) - 1 or most == 0:
            whole = [*counts, most, *[0] * (len(sizes) - len(counts) - 1)]
            found = (cost + most * costs[i], sum(whole), whole)
            if best is None or found[:2] < best[:2]:
                best = found
            continue
        waiting += [
            (left - k * sizes[i], cost + k * costs[i], [*counts, k]) for k in range(most + 1)
        ]
    counts = [0] * len(sizes)
    for place, count in zip(order, best[2] if best else counts, strict=True):
        counts[place] = count
    return counts
