"""The fewest rolls for pieces that are not to be cut further.

First the longest pieces first, then each roll as full as it gets; where a simple bound does not
prove either best, linear and integer programs over cutting patterns.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, fsum

from .knapsack import EPS, Pattern, all_patterns, best_fill

SLACK = 1e-9
"""Share of a roll by which rounding may overfill it."""
PROVEN = 1e-6
"""Share of a roll by which a computed bound may be too high."""

FILL_NODES = 2000
"""Branches looked at for one full roll."""
LIST_NODES = 20_000
"""Branches looked at for the list of all patterns."""
MOST_LISTED = 3000
"""Patterns in an integer program of all of them."""
SOON_NODES = 300
"""Branches looked at for any new pattern that is of use."""
PRICE_NODES = 20_000
"""Branches looked at for the best new pattern, or for the proof that there is none of use."""
ALL_NODES = 100_000
"""Branches looked at for all new patterns."""
MOST_ROUNDS = 150
"""Linear programs solved for one bound."""
MOST_NEW = 30
"""Patterns added between two of them."""


@dataclass(frozen=True)
class Packing:
    """What lies in each roll.

    Args:
        rolls: Places in the list of pieces, roll by roll.
        bound: No packing of the same pieces needs fewer rolls.
    """

    rolls: list[list[int]]
    bound: int


@dataclass(frozen=True)
class Lengths:
    """Pieces grouped by length, the longest first.

    Args:
        sizes: (k,) the lengths [m].
        counts: (k,) how many pieces have each.
        members: (k,) their places in the list of pieces.
        room: What a roll holds [m].
    """

    sizes: tuple[float, ...]
    counts: tuple[int, ...]
    members: tuple[tuple[int, ...], ...]
    room: float

    @classmethod
    def of(cls, pieces: Sequence[float], roll: float) -> Lengths:
        """Group pieces [m] that differ by rounding only."""
        groups: dict[float, list[int]] = {}
        for place in sorted(range(len(pieces)), key=lambda i: -pieces[i]):
            groups.setdefault(round(pieces[place], 9), []).append(place)
        sizes = tuple(max(pieces[i] for i in group) for group in groups.values())
        members = tuple(tuple(group) for group in groups.values())
        return cls(sizes, tuple(map(len, members)), members, roll * (1 + SLACK))

    def spare(self, pattern: Pattern) -> float:
        """Return the length that a pattern leaves of its roll [m]."""
        return self.room - sum(self.sizes[place] * times for place, times in pattern)

    def laid(self, patterns: Iterable[Pattern]) -> list[list[int]]:
        """Return the pieces in each roll; what patterns hold above the need is left out."""
        left = [list(group) for group in self.members]
        rolls = []
        for pattern in patterns:
            cut: list[int] = []
            for place, times in pattern:
                cut += [left[place].pop() for _ in range(min(times, len(left[place])))]
            rolls.append(cut)
        return [cut for cut in rolls if cut]


def rolls_for(length: float, roll: float) -> int:
    """Return the fewest rolls that hold a length of material; both in [m]."""
    return ceil(length / (roll * (1 + SLACK)) - PROVEN)


def pack(pieces: Sequence[float], roll: float) -> Packing:
    """Lay pieces in the fewest rolls.

    Args:
        pieces: Their lengths [m], none longer than a roll.
        roll: Length of a roll [m].

    Returns:
        The rolls, and a proven bound for their number.
    """
    lengths = Lengths.of(pieces, roll)
    bound = halves_bound(lengths)
    plans = [longest_first(lengths)]
    if len(plans[0]) > bound:
        plans.append(fullest_first(lengths))
    patterns = min(plans, key=len)
    if len(patterns) > bound:
        patterns, bound = _best(lengths, [*plans[0], *plans[1]], patterns, bound)
    return Packing(gathered(lengths.laid(patterns), pieces, lengths.room), bound)


def halves_bound(lengths: Lengths) -> int:
    """Return a number of rolls that no packing goes below.

    Two pieces longer than half a roll never share one. What lies beside them, of the pieces not
    shorter than some length, has only the room that the halves which take such a piece leave.
    """
    room, counted = lengths.room, list(zip(lengths.sizes, lengths.counts, strict=True))
    best = 0
    for least in (0.0, *(size for size in lengths.sizes if size <= room / 2)):
        alone = sum(count for size, count in counted if size > room - least)
        halves = [(s, n) for s, n in counted if room / 2 < s <= room - least]
        small = fsum(size * count for size, count in counted if least <= size <= room / 2)
        small -= fsum((room - size) * count for size, count in halves)
        more = ceil(small / room - PROVEN)
        best = max(best, alone + sum(count for _, count in halves) + max(more, 0))
    return best


def longest_first(lengths: Lengths) -> list[Pattern]:
    """Lay each piece, the longest first, in the first roll that has room for it."""
    rooms: list[float] = []
    rolls: list[dict[int, int]] = []
    for place, (size, count) in enumerate(zip(lengths.sizes, lengths.counts, strict=True)):
        for _ in range(count):
            into = next((i for i, room in enumerate(rooms) if size <= room), len(rooms))
            if into == len(rooms):
                rooms.append(lengths.room)
                rolls.append({})
            rooms[into] -= size
            rolls[into][place] = rolls[into].get(place, 0) + 1
    return [tuple(roll.items()) for roll in rolls]


def fullest_first(lengths: Lengths) -> list[Pattern]:
    """Fill one roll after the other as full as the pieces left allow."""
    left = list(lengths.counts)
    rolls = []
    while any(left):
        # The longest piece left goes in at once: later it would be the hardest to place.
        first = next(place for place, count in enumerate(left) if count)
        left[first] -= 1
        room = lengths.room - lengths.sizes[first]
        pattern = dict(best_fill(lengths.sizes, lengths.sizes, left, room, 0.0, FILL_NODES).pattern)
        for place, times in pattern.items():
            left[place] -= times
        pattern[first] = pattern.get(first, 0) + 1
        rolls.append(tuple(sorted(pattern.items())))
    return rolls


def fullest(pieces: Sequence[float], roll: float) -> float:
    """Return what no roll of uncut pieces holds more of; all lengths in [m]."""
    lengths = Lengths.of(pieces, roll)
    fill = best_fill(lengths.sizes, lengths.sizes, lengths.counts, lengths.room, 0.0, PRICE_NODES)
    return min(fill.limit, roll)


def _best(
    lengths: Lengths, known: list[Pattern], plan: list[Pattern], bound: int
) -> tuple[list[Pattern], int]:
    """Return a plan of the fewest rolls that the programs find, and the bound that they prove."""
    from .programs import whole_rolls

    listed = all_patterns(lengths.sizes, lengths.counts, lengths.room, LIST_NODES)
    if listed is not None and len(listed) <= MOST_LISTED:
        found, proven = whole_rolls(listed, lengths.counts, len(plan) + 1)
        better = found if 0 < len(found) < len(plan) else plan
        return better, len(better) if proven else bound
    known, bound = priced(lengths, known, bound)
    if len(plan) > bound:
        found, _ = whole_rolls(known, lengths.counts, len(plan))
        plan = found or plan
    return plan, bound


def priced(
    lengths: Lengths, known: Iterable[Pattern], bound: int, loose: float = 0.0
) -> tuple[list[Pattern], int]:
    """Add patterns for as long as they lower the linear program's number of rolls.

    Args:
        lengths: What is needed.
        known: Patterns to start from, that cover it together.
        bound: What is proven already; a program that comes as low proves no more.
        loose: Length that may be cut anywhere [m].

    Returns:
        All patterns, and the fewest rolls that the linear program allows. Were the search for
        patterns given up, the bound is what the prices prove all the same: divided by the most
        that any pattern may be worth, they never add up to more than the rolls needed.
    """
    from .programs import Cover

    cover = Cover(lengths.counts, loose)
    patterns = list(dict.fromkeys(tuple(sorted(pattern)) for pattern in (*known, ())))
    for pattern in patterns:
        cover.add(pattern, lengths.spare(pattern))
    best, nodes = 0.0, ALL_NODES
    for _ in range(MOST_ROUNDS):
        rolls, prices, metre = cover.solve()
        rest = metre * lengths.room
        worth = [price - metre * size for price, size in zip(prices, lengths.sizes, strict=True)]
        new, limit, used = _new_patterns(lengths, worth, 1 - rest + EPS)
        nodes -= used
        best = max(best, rolls / max(limit + rest, 1.0))
        if not new or nodes <= 0 or ceil(rolls - PROVEN) <= max(bound, ceil(best - PROVEN)):
            break
        for pattern in new:
            cover.add(pattern, lengths.spare(pattern))
        patterns += new
    return patterns, max(bound, ceil(best - PROVEN))


def _new_patterns(
    lengths: Lengths, worth: Sequence[float], above: float
) -> tuple[list[Pattern], float, int]:
    """Return patterns of use, the limit of any pattern's worth, and the branches looked at.

    One after the other from what the ones before leave: they differ, and whole plans need that.
    """
    sizes, room, left = lengths.sizes, lengths.room, list(lengths.counts)
    first = fill = best_fill(worth, sizes, left, room, above, SOON_NODES)
    used = fill.nodes
    found: list[Pattern] = []
    if not fill.pattern and fill.nodes >= SOON_NODES:
        first = fill = best_fill(worth, sizes, left, room, above, PRICE_NODES)
        used += fill.nodes
    while fill.pattern and len(found) < MOST_NEW:
        found.append(fill.pattern)
        for place, times in fill.pattern:
            left[place] -= times
        fill = best_fill(worth, sizes, left, room, above, SOON_NODES)
        used += fill.nodes
    return found, first.limit, used


def gathered(rolls: list[list[int]], pieces: Sequence[float], room: float) -> list[list[int]]:
    """Move pieces into fuller rolls that have room, so that what is left over lies together."""
    rolls = [list(cut) for cut in rolls]
    filled = [fsum(pieces[i] for i in cut) for cut in rolls]
    for own in sorted(range(len(rolls)), key=lambda i: filled[i]):
        for piece in sorted(rolls[own], key=lambda i: -pieces[i]):
            fits = [
                i for i, fill in enumerate(filled)
                if i != own and fill >= filled[own] and fill + pieces[piece] <= room
            ]  # fmt: skip
            if fits:
                into = max(fits, key=lambda i: filled[i])
                rolls[own].remove(piece)
                rolls[into].append(piece)
                filled[own] -= pieces[piece]
                filled[into] += pieces[piece]
    return [cut for cut in rolls if cut]
