"""A cutting plan: how runs of tape are cut from rolls of one length.

A run laid in ``m`` pieces takes its length and ``m - 1`` laps. A run longer than a roll is laid in
as few pieces as it takes: whole rolls and what remains. Where joins are allowed, shorter runs may
be laid in several pieces too, but only where that saves a roll.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, fsum, isfinite
from typing import Any

from ..errors import BadValueError
from .joining import Joining, Laid, length_in
from .packing import SLACK, Lengths, fullest, longest_first, pack, priced, rolls_for


@dataclass(frozen=True)
class Need:
    """What a run takes.

    Args:
        name: Its number, such as ``P5.236``.
        length: Of tape, with what corners take [m].
    """

    name: str
    length: float


@dataclass(frozen=True)
class Piece:
    """One piece of a run, cut from one roll.

    Args:
        name: The run's number.
        length: Of the piece, with its laps [m].
        index: Which piece of the run it is, from 1.
        of: In how many pieces the run is laid.
    """

    name: str
    length: float
    index: int
    of: int

    def as_dict(self) -> dict[str, Any]:
        """Return the piece as JSON has it (SI units)."""
        return {"run": self.name, "length_m": self.length, "piece": self.index, "of": self.of}


@dataclass(frozen=True)
class Roll:
    """What is cut from one roll.

    Args:
        pieces: The longest first.
        offcut: What is left [m].
    """

    pieces: tuple[Piece, ...]
    offcut: float

    def as_dict(self) -> dict[str, Any]:
        """Return the roll as JSON has it (SI units)."""
        return {"pieces": [piece.as_dict() for piece in self.pieces], "offcut_m": self.offcut}


@dataclass(frozen=True)
class CuttingPlan:
    """How runs are cut from rolls.

    Args:
        length: Of a roll [m].
        lap: Of a join [m].
        rolls: The fullest first.
        bound: No plan under the same rules needs fewer rolls.
        uncut: Runs longer than a roll that cannot be laid without too short a piece; they are in
            no roll.
    """

    length: float
    lap: float
    rolls: tuple[Roll, ...]
    bound: int
    uncut: tuple[Need, ...] = ()

    @property
    def joins(self) -> int:
        """How many joins there are, in runs longer than a roll and in others."""
        return sum(piece.index > 1 for roll in self.rolls for piece in roll.pieces)

    @property
    def laps(self) -> float:
        """What all laps take [m]."""
        return self.joins * self.lap

    @property
    def waste(self) -> float:
        """Share of the rolls that is left over."""
        whole = len(self.rolls) * self.length
        return fsum(roll.offcut for roll in self.rolls) / whole if whole else 0.0

    def as_dict(self) -> dict[str, Any]:
        """Return the plan as JSON has it (SI units)."""
        return {
            "roll_m": self.length,
            "lap_m": self.lap,
            "rolls": [roll.as_dict() for roll in self.rolls],
            "bound": self.bound,
            "uncut": [{"run": need.name, "length_m": need.length} for need in self.uncut],
            "totals": {
                "rolls": len(self.rolls),
                "joins": self.joins,
                "laps_m": self.laps,
                "offcuts_m": fsum(roll.offcut for roll in self.rolls),
                "waste": self.waste,
            },
        }


def cutting_plan(
    needs: Iterable[Need], roll: float, *, lap: float = 0.0, least: float = 0.0, joins: bool = False
) -> CuttingPlan:
    """Cut runs from the fewest rolls and, among such plans, with few joins.

    Args:
        needs: The runs.
        roll: Length of a roll [m].
        lap: Length that a join takes; 0 for pieces that butt [m].
        least: Shortest piece of a run laid in several [m].
        joins: Whether a run that fits into a roll may be laid in several pieces.

    Returns:
        The plan. It does not depend on the order of the runs. A length that is none, or a lap as
        long as a roll, raises `poolgeo.errors.BadValueError`.

    Example:
        >>> plan = cutting_plan([Need("P1.0", 6.0), Need("P1.60", 4.0)], 10.0)
        >>> len(plan.rolls), plan.joins, plan.rolls[0].offcut
        (1, 0, 0.0)
    """
    needs = sorted(needs, key=lambda need: (-need.length, need.name))
    _check(needs, roll, lap, least)
    split = [_forced(need.length, roll, lap, least) for need in needs]
    uncut = tuple(need for need, sizes in zip(needs, split, strict=True) if not sizes)
    needs = [need for need, sizes in zip(needs, split, strict=True) if sizes]
    split = [sizes for sizes in split if sizes]
    parts = [(run, size) for run, sizes in enumerate(split) for size in sizes]
    packing = pack([size for _, size in parts], roll)
    laid = [[parts[i] for i in cut] for cut in packing.rolls]
    if joins:
        # A join that leaves less than a lap on either side would lie on its neighbour alone.
        joining = Joining(roll, lap, max(least, 2 * lap))
        laid, bound = _joined(laid, [need.length for need in needs], joining, least)
    else:
        bound = _unjoined_bound(split, packing.bound, roll, lap, [n.length for n in needs])
    return CuttingPlan(roll, lap, _named(laid, needs, roll), bound, uncut)


def _check(needs: Sequence[Need], roll: float, lap: float, least: float) -> None:
    """Raise `BadValueError` for a length that is none, or a lap as long as a roll."""
    for name, value in (("roll", roll), *((need.name, need.length) for need in needs)):
        if not (isfinite(value) and value > 0):
            rule = f"the length of {name} must be above 0"
            raise BadValueError(rule, f"{value} m")
    for name, value in (("lap", lap), ("least piece", least)):
        if not (isfinite(value) and value >= 0):
            rule = f"the {name} must be a length, 0 or more"
            raise BadValueError(rule, f"{value} m")
    if lap >= roll:
        rule = "a lap must be shorter than a roll"
        raise BadValueError(rule, f"{lap} m of {roll} m")


def _fewest_pieces(length: float, roll: float, lap: float) -> int:
    if length <= roll * (1 + SLACK):
        return 1
    return max(2, ceil((length - lap) / (roll - lap) - SLACK))


def _forced(length: float, roll: float, lap: float, least: float) -> list[float]:
    """Return the pieces of a run: whole rolls and what remains [m]; none when it cannot be laid."""
    count = _fewest_pieces(length, roll, lap)
    if count == 1:
        return [length]
    rest = length + (count - 1) * lap - (count - 1) * roll
    if rest >= least:
        return [roll] * (count - 1) + [rest]
    # More pieces would each be shorter still: where the fewest do not go, none do.
    before = roll - (least - rest)
    return [roll] * (count - 2) + [before, least] if before >= least else []


def _unjoined_bound(
    split: Sequence[Sequence[float]], bound: int, roll: float, lap: float, runs: Sequence[float]
) -> int:
    """Return the fewest rolls without joins but those that a roll's end forces.

    Whole rolls and a remainder are never worse than other cuts: what lies beside the pieces of one
    run, in as many rolls, fits beside its remainder. Where the least piece forbids a remainder,
    that is no longer sure, and the bound is that of the remainder as it would be.
    """
    freely = [_forced(length, roll, lap, 0.0) for length in runs]
    if all(len(a) == len(b) and a == list(b) for a, b in zip(freely, split, strict=True)):
        return bound
    return pack([size for sizes in freely for size in sizes], roll).bound


def _joined(laid: Laid, runs: Sequence[float], joining: Joining, least: float) -> tuple[Laid, int]:
    """Return a plan with joins where they save rolls, and a bound for any such plan."""
    roll, lap = joining.roll, joining.lap
    forced = [length + (_fewest_pieces(length, roll, lap) - 1) * lap for length in runs]
    bound = rolls_for(fsum(forced), roll)
    if len(laid) > bound:
        bound = max(bound, _joined_bound(runs, forced, joining, least))
        laid = joining.improved(laid, bound)
    return laid, bound


def _joined_bound(
    runs: Sequence[float], forced: Sequence[float], joining: Joining, least: float
) -> int:
    """Return a number of rolls that no plan with joins goes below.

    Two arguments. A roll that shares no run with another holds no more than the fullest roll of
    whole runs; of rolls that do, ``c`` hang together by ``c - 1`` laps at least, so half a lap of
    each is no run's. And a run too short for two pieces lies whole: patterns of such runs, with
    all others cut at will.
    """
    roll, lap = joining.roll, joining.lap
    whole = [length for length in runs if length <= roll * (1 + SLACK)]
    lost = min(roll - fullest(whole, roll), lap / 2) if lap else 0.0
    bound = rolls_for(fsum(runs), roll - max(lost, 0.0))
    stiff = [length for length in whole if lap <= least and length + lap < 2 * least - SLACK]
    if stiff:
        lengths = Lengths.of(stiff, roll)
        loose = fsum(forced) - fsum(stiff)
        bound = priced(lengths, longest_first(lengths), bound, loose)[1]
    return bound


def _named(laid: Laid, needs: Sequence[Need], roll: float) -> tuple[Roll, ...]:
    """Return rolls, the fullest first, with each run's pieces numbered."""
    laid = sorted(
        (sorted(cut, key=lambda part: (-part[1], part[0])) for cut in laid),
        key=lambda cut: (-length_in(cut), cut),
    )
    places: list[list[tuple[int, int]]] = [[] for _ in needs]
    for row, cut in enumerate(laid):
        for column, (run, _) in enumerate(cut):
            places[run].append((row, column))
    # A run's pieces are numbered from the longest: whole rolls, then what remains.
    number = {
        place: index
        for own in places
        for index, place in enumerate(sorted(own, key=lambda p: -laid[p[0]][p[1]][1]), 1)
    }
    return tuple(
        Roll(
            tuple(
                Piece(needs[run].name, size, number[row, column], len(places[run]))
                for column, (run, size) in enumerate(cut)
            ),
            max(roll - length_in(cut), 0.0),
        )
        for row, cut in enumerate(laid)
    )
