"""Choosing candidates: a set cover whose windows are found when a choice does not hold them.

::

    |-----------------strip------------------|     between changes of plane, or rims
    0    c1      c2       c3      c4      length   places at which candidates cross it
    |-----longest-----|                            a window: one of c1, c2 must be taken

Only windows that a choice leaves empty are asked for, until it leaves none: each choice is the
shortest for the windows asked so far, so the last one is for all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..arrays import Floats, Ints
from .candidates import Candidate
from .cover import FAIR, HALF, IN_PART, THOROUGH, Cover, Effort, cover
from .windows import HAIR

FIXED = -1
"""Number of a joint that is there in any case, or of the end of a strip."""

GROUPS = 4
"""Of strips: those that candidates of one axis cross, axis by axis, and the others."""

ONE_SORT = 0.95
"""[-] Strips belong to an axis where candidates of it make up so much of what crosses them."""

HALVINGS = 5
"""Of the span in which the longest, and the shortest, bay is looked for."""

STRIDE = 0.2
"""[-] Windows of a bay that is too long are asked for so often, as a share of their length."""

PART = 1e-6
"""[-] A window holds less than one joint where so much is missing: noise."""

NEARLY = 0.2
"""[-] Windows that hold no more than this beyond one joint are asked for as well, where the
shortest choice is looked for thoroughly: they would be asked for next, one by one."""

ROUNDS = 200
"""Rounds in which windows are added, at most."""


@dataclass(frozen=True)
class Line:
    """A strip with what crosses it.

    Args:
        length: [m].
        closed: Whether it comes back to its start.
        places: (c,) how far along it candidates cross it, rising [m].
        numbers: (c,) the candidate of each place, or `FIXED`.
    """

    length: float
    closed: bool
    places: Floats
    numbers: Ints


@dataclass(frozen=True)
class Bays:
    """Limits of the bays of each group of strips (GROUPS) [m]."""

    longest: tuple[float, ...]
    shortest: tuple[float, ...]

    def changed(self, which: str, group: int, value: float) -> Bays:
        """Return them with one of them changed."""
        own: tuple[float, ...] = getattr(self, which)
        return replace(self, **{which: (*own[:group], value, *own[group + 1 :])})


@dataclass(frozen=True)
class _Window:
    """Candidates of which one is taken, where no bay of a group is longer than a length [m]."""

    own: Ints
    group: int
    length: float

    def holds_for(self, bays: Bays) -> bool:
        """Whether it is asked for with these limits: a longer window holds a shorter one."""
        return self.length >= bays.longest[self.group] - HAIR


class Choice:
    """Chooses candidates so that no bay of some lines is too long.

    Args:
        candidates: To choose from.
        limit: Longest bay [m].
    """

    def __init__(self, candidates: Sequence[Candidate], limit: float) -> None:
        self._candidates = candidates
        self._costs = np.array([item.cost for item in candidates])
        self._axis = np.array([item.section.axis for item in candidates], dtype=np.int64)
        self._limit = limit
        self._asked: dict[bytes, _Window] = {}
        self._known: dict[object, Cover | None] = {}
        self._line = self._groups = self._numbers = self._end = np.zeros(0, dtype=np.int64)
        self._places, self._behind = np.zeros(0), np.zeros(1)
        self._may_fail = np.zeros(0, dtype=bool)

    def learn(self, lines: Sequence[Line]) -> None:
        """Take lines into account that are longer than a bay may be."""
        parts = [_laid_out(line) for line in lines]
        blind = [_is_blind(at, self._limit) for at, _ in parts]
        for line, (at, who) in zip(lines, parts, strict=True):
            if line.closed:  # one joint at least: where it lies, others are measured from
                self._ask(who[at <= at[0] + self._limit + HAIR], GROUPS - 1, self._limit)
        size = np.array([len(at) for at, _ in parts], dtype=np.int64)
        own = len(self._groups) + np.repeat(np.arange(len(parts)), size)
        groups = [_group(self._axis[who[who != FIXED]]) for _, who in parts]
        # all lines lie one behind the other, farther apart than a bay is long
        room = np.array([0.0, *(at[-1] + 2.0 * self._limit for at, _ in parts)])
        behind = self._behind[-1] + np.cumsum(room)
        self._behind = np.concatenate([self._behind[:-1], behind])
        self._end = np.concatenate([self._end, len(self._line) + np.cumsum(size) - 1])
        self._line = np.concatenate([self._line, own])
        self._places = np.concatenate([self._places, *(at for at, _ in parts)])
        self._numbers = np.concatenate([self._numbers, *(who for _, who in parts)])
        self._groups = np.concatenate([self._groups, np.array(groups, dtype=np.int64)])
        self._may_fail = np.concatenate([self._may_fail, np.array(blind, dtype=bool)])

    def least(self) -> Cover:
        """Return the shortest choice."""
        found = self._choose(self._even(), np.inf, THOROUGH)
        return Cover(np.zeros(len(self._costs)), 0.0, 0.0) if found is None else found

    def evened(self, least: Cover, slack: float) -> Cover:
        """Return a choice with the evenest bays.

        First the longest bay is made as short as it can be, then the shortest as long: direction
        after direction, as far as that takes no more length than allowed.

        Args:
            least: The shortest choice.
            slack: Share by which it may be longer.
        """
        if not least.taken:
            return least
        most = least.cost + slack * self.length(least.taken) + HAIR
        best, bays = least, self._even()
        axes = sorted({self._candidates[k].section.axis for k in least.taken})
        for change, ends in (("longest", (0.5 * self._limit, self._limit)),
                             ("shortest", (self._limit, 0.0))):  # fmt: skip
            for axis in axes:
                bad, good = ends
                for _ in range(HALVINGS):
                    middle = (bad + good) / 2.0
                    tried = bays.changed(change, axis, middle)
                    found = self._choose(tried, most, FAIR)
                    if found is None:
                        bad = middle
                    else:
                        best, bays, good = found, tried, middle
        return best

    def length(self, taken: Iterable[int]) -> float:
        """Length of some candidates [m]."""
        return sum(self._candidates[number].length for number in taken)

    def _even(self) -> Bays:
        return Bays((self._limit,) * GROUPS, (0.0,) * GROUPS)

    def _choose(self, bays: Bays, most: float, effort: Effort) -> Cover | None:
        """Return the shortest choice with bays within some limits, if there is one.

        At first candidates may be taken in part: that costs next to nothing, and finds most of
        the windows that matter.

        Args:
            bays: The limits.
            most: A choice that costs more is none.
            effort: How hard it is looked for.
        """
        longest = np.array(bays.longest)[self._groups][self._line]
        shortest = np.array(bays.shortest)[self._groups][self._line]
        apart: dict[bytes, Ints] = {}
        never = self._too_near_ends(shortest)
        hard = IN_PART
        for _ in range(ROUNDS):
            found = self._covered(bays, apart, never, most, hard)
            if found is None or found.cost > most:
                return None
            added = self._missed(found, longest, shortest, apart)
            if added is None:
                return None
            if not added and hard is effort:
                return found
            if not added:
                hard = effort
                if effort is THOROUGH:
                    self._ask_all(*self._windows(found.share, longest, NEARLY), longest)
        return None

    def _covered(
        self, bays: Bays, apart: dict[bytes, Ints], never: Ints, most: float, effort: Effort
    ) -> Cover | None:
        """Return the shortest choice for what is asked so far; the same is not solved twice."""
        asked = [key for key, item in self._asked.items() if item.holds_for(bays)]
        key = tuple(asked), tuple(apart), never.tobytes(), most, effort
        if key not in self._known:
            windows = [self._asked[name].own for name in asked]
            found = cover(self._costs, windows, [*apart.values()], never, most, effort)
            self._known[key] = found
        return self._known[key]

    def _missed(
        self, choice: Cover, longest: Floats, shortest: Floats, apart: dict[bytes, Ints]
    ) -> int | None:
        """Ask for what a choice leaves too long or too short; None where nothing can help.

        Args:
            choice: The choice.
            longest: Longest bay at each place [m].
            shortest: Shortest bay at each place [m].
            apart: Pairs of which one at most is taken; others are added.

        Returns:
            How much was added.
        """
        after, last = self._windows(choice.share, longest, -PART)
        if np.any((last == after) & ~self._may_fail[self._line[after]]):
            return None
        added = self._ask_all(*self._spread(after, last, longest), longest)
        there = np.flatnonzero(np.append(choice.share, 1.0)[self._numbers] > HALF)
        a, b = there[:-1], there[1:]
        gap = self._places[b] - self._places[a]
        fixed = (self._numbers[a] == FIXED) | (self._numbers[b] == FIXED)
        near = (self._line[a] == self._line[b]) & (gap < shortest[a] - HAIR) & ~fixed
        for i, j in zip(a[near].tolist(), b[near].tolist(), strict=True):
            pair = np.unique(self._numbers[[i, j]])
            if len(pair) > 1:
                added += pair.tobytes() not in apart
                apart[pair.tobytes()] = pair
        return added

    def _windows(self, share: Floats, longest: Floats, more: float) -> tuple[Ints, Ints]:
        """Return windows that hold no more than one joint, or little more.

        Args:
            share: (n,) how much of each candidate is taken.
            longest: Longest bay at each place [m].
            more: How much more than one they hold at most.

        Returns:
            (k,) places behind which they begin, (k,) their last ones.
        """
        reach = self._behind[self._line] + self._places  # rising through all lines
        until = reach + longest + HAIR
        last = np.searchsorted(reach, until, "right") - 1
        held = np.cumsum(np.append(share, 2.0)[self._numbers])  # who holds a fixed one has enough
        few = held[last] - held < 1.0 + more
        after = np.flatnonzero(few & (until < reach[self._end[self._line]]))
        return after, last[after]

    def _spread(self, after: Ints, last: Ints, longest: Floats) -> tuple[Ints, Ints]:
        """Return some windows of many, spread over the lines."""
        line, stretch = self._line[after], np.floor(self._places[after] / (STRIDE * longest[after]))
        fresh = np.any(np.diff([line, stretch], axis=1, prepend=-1), axis=0)
        return after[fresh], last[fresh]

    def _ask_all(self, after: Ints, last: Ints, longest: Floats) -> int:
        """Ask for one joint in each window; return how many were not asked for before."""
        return sum(
            self._ask(self._numbers[i + 1 : j + 1], int(self._groups[self._line[i]]),
                      float(longest[i]))
            for i, j in zip(after.tolist(), last.tolist(), strict=True)
        )  # fmt: skip

    def _ask(self, window: Ints, group: int, length: float) -> bool:
        """Ask for one of the candidates of a window.

        Args:
            window: Numbers of candidates.
            group: Of its strip.
            length: Of the window [m].

        Returns:
            Whether that is new.
        """
        own = np.unique(window[window != FIXED])
        before = self._asked.get(own.tobytes())
        if not len(own) or (before is not None and before.length >= length):
            return False
        self._asked[own.tobytes()] = _Window(own, group, length)
        return True

    def _too_near_ends(self, shortest: Floats) -> Ints:
        """Return the candidates that would leave a shorter bay beside an end or a fixed joint."""
        fixed = np.flatnonzero(self._numbers == FIXED)
        if not len(fixed) or not shortest.any():
            return fixed[:0]
        every = np.arange(len(self._places))
        before = fixed[np.clip(np.searchsorted(fixed, every, "right") - 1, 0, None)]
        after = fixed[np.clip(np.searchsorted(fixed, every), None, len(fixed) - 1)]
        near = np.zeros(len(every), dtype=bool)
        for other in (before, after):
            same = self._line[other] == self._line
            near |= same & (np.abs(self._places - self._places[other]) < shortest - HAIR)
        return np.unique(self._numbers[near & (self._numbers != FIXED)])


def _laid_out(line: Line) -> tuple[Floats, Ints]:
    """Return places and numbers with the ends as fixed joints; a closed line twice round."""
    if not line.closed:
        ends = np.array([0.0]), np.array([line.length])
        places = np.concatenate([ends[0], line.places, ends[1]])
        return places, np.concatenate([[FIXED], line.numbers, [FIXED]])
    if not len(line.places):
        return np.array([0.0, line.length]), np.array([FIXED, FIXED])
    return (
        np.concatenate([line.places, line.places + line.length]),
        np.concatenate([line.numbers, line.numbers]),
    )


def _group(axis: Ints) -> int:
    """Return the group of a line by the axes of what crosses it."""
    share = np.bincount(axis, minlength=3) / max(len(axis), 1)
    return int(share.argmax()) if share.max() >= ONE_SORT else GROUPS - 1


def _is_blind(places: Floats, limit: float) -> bool:
    """Whether some stretch as long as a bay may be holds no place for a joint."""
    return bool(np.diff(places).max(initial=0.0) > limit + HAIR)
