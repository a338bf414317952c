"""Whole packs of several sizes for an amount: the cheapest, or those with the least left over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from ..system.film import packs_of

LARGEST_RATIO = 30
"""Sizes of packs count as a ratio of whole numbers up to this: 25 kg to 10 kg is 5 to 2."""

EACH = 1e-7
"""What a pack counts beside its cost: of choices that cost the same, the one of fewer packs."""


@dataclass(frozen=True)
class Choice:
    """Packs of all sizes but one are so many; that one holds the rest.

    Args:
        base: Number of the size that holds the rest.
        counts: Of each size; 0 of the base.
    """

    base: int
    counts: tuple[int, ...]

    def filled(self, amount: float, sizes: Sequence[float]) -> list[int]:
        """Return how many packs of each size hold an amount, of this choice."""
        others = sum(count * size for count, size in zip(self.counts, sizes, strict=True))
        counts = list(self.counts)
        counts[self.base] = packs_of(amount - others, sizes[self.base])
        return counts


def choices(sizes: Sequence[float]) -> Iterator[Choice]:
    """Yield the choices among which the cheapest is, whatever the packs cost.

    Where q packs of one size hold as much as p of another that is cheaper for what it holds, no
    cheapest choice has q of the first: so for each size that may be the cheapest so, few counts of
    the others are to be looked at. Sizes in no ratio of small whole numbers are taken to the
    nearest: the choice may then be dearer by the price of one pack.

    Args:
        sizes: What is in each pack, above 0.

    Example:
        >>> [choice.counts for choice in choices([20.0, 5.0])]
        [(0, 0), (0, 1), (0, 2), (0, 3), (0, 0)]
    """
    for base, size in enumerate(sizes):
        few = [
            range(Fraction(size / other).limit_denominator(LARGEST_RATIO).numerator)
            if k != base else range(1)
            for k, other in enumerate(sizes)
        ]  # fmt: skip
        yield from (Choice(base, counts) for counts in product(*few))


def cheapest(amount: float, sizes: Sequence[float], prices: Sequence[float | None]) -> list[int]:
    """Return how many packs of each size hold an amount.

    Args:
        amount: In the unit of the sizes.
        sizes: What is in each pack, above 0.
        prices: Of each; where one is not known, what is in the packs is kept small instead.

    Returns:
        Counts: the least cost; of equal costs the fewest packs.

    Example:
        >>> cheapest(26.0, [20.0, 5.0], [30.0, 10.0]), cheapest(26.0, [20.0, 5.0], [30.0, 20.0])
        ([1, 2], [2, 0])
    """
    costs = costs_of(sizes, prices)
    found = (choice.filled(amount, sizes) for choice in choices(sizes))
    return min(found, key=lambda counts: score(counts, costs))


def costs_of(sizes: Sequence[float], prices: Sequence[float | None]) -> list[float]:
    """Return what is kept small: prices; where one is not known, sizes to the first of them."""
    known = [price for price in prices if price is not None]
    return known if len(known) == len(sizes) else [size / sizes[0] for size in sizes]


def score(counts: Sequence[int], costs: Sequence[float]) -> float:
    """Return what is least for the best choice."""
    cost = sum(count * each for count, each in zip(counts, costs, strict=True))
    return round(cost, 6) + EACH * sum(counts)
