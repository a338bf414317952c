"""Laying pieces in fewer rolls by joining: as few rolls as possible are laid anew.

A roll saved costs joins: pieces of ``k`` rolls that go into ``k - 1`` are laid one after the other
and cut where a roll ends. Several small groups of rolls need fewer joins than one large one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from random import Random

Part = tuple[int, float]
"""A piece: the place of its run in the list, and its length [m]."""
Laid = list[list[Part]]
"""Pieces, roll by roll."""

SHUFFLES = 12
"""Orders tried at random, where the pieces sorted by length do not go in."""
MOST_MORE = 6
"""Rolls added to a group that holds little enough, one by one, before all are tried."""
MOST_TRIES = 150
"""Groups laid anew before the plan is taken as it is."""


@dataclass
class Joining:
    """How pieces may be joined.

    Args:
        roll: Length of a roll [m].
        lap: Length that a join takes [m].
        least: Shortest piece that a join may make [m].
        tries: Groups that may still be laid anew.
    """

    roll: float
    lap: float
    least: float
    tries: int = MOST_TRIES

    @property
    def room(self) -> float:
        """What a roll holds, with what rounding may overfill it [m]."""
        return self.roll * (1 + 1e-9)

    def improved(self, rolls: Laid, bound: int) -> Laid:
        """Lay rolls anew until they are as few as the bound, or none can be saved.

        Args:
            rolls: Pieces that are not joined.
            bound: No plan needs fewer rolls.

        Returns:
            The plan of fewest rolls found.
        """
        full = [cut for cut in rolls if length_in(cut) >= self.roll]
        rolls = sorted((cut for cut in rolls if length_in(cut) < self.roll), key=length_in)
        bound -= len(full)
        groups = self._groups(rolls, len(rolls) - bound)
        for fewer in range(len(rolls) - bound, 0, -1):
            for taken in range(min(fewer, len(groups)), -1, -1):
                done = groups[:taken]
                used = {i for members, _ in done for i in members}
                left = [cut for i, cut in enumerate(rolls) if i not in used]
                rest = self._saved(left, fewer - taken)
                if rest is not None:
                    return [cut for _, laid in done for cut in laid] + rest + full
        return rolls + full

    def _groups(self, rolls: Laid, most: int) -> list[tuple[list[int], Laid]]:
        """Return groups that save one roll each: which rolls, and how they are laid anew."""
        left = list(range(len(rolls)))
        groups: list[tuple[list[int], Laid]] = []
        while len(groups) < most:
            for size in range(2, len(left) + 1):
                members = left[:size]
                laid = self._anew([rolls[i] for i in members], size - 1)
                if laid is not None:
                    break
            else:
                break
            groups.append(self._fuller(rolls, members, laid, left))
            left = [i for i in left if i not in groups[-1][0]]
        return groups

    def _fuller(
        self, rolls: Laid, members: list[int], laid: Laid, left: list[int]
    ) -> tuple[list[int], Laid]:
        """Exchange a group's rolls for fuller ones: the emptiest are kept for groups to come."""
        for place in range(len(members)):
            for other in reversed(left):
                if other in members:
                    continue
                trial = [*members[:place], other, *members[place + 1 :]]
                if not self._holds([rolls[i] for i in trial], len(trial) - 1):
                    continue
                found = self._anew([rolls[i] for i in trial], len(trial) - 1)
                if found is not None:
                    members, laid = trial, found
                break
        return members, laid

    def _saved(self, rolls: Laid, fewer: int) -> Laid | None:
        """Return rolls, the emptiest first, laid in fewer; None when that is not found."""
        if fewer == 0:
            return rolls
        more = 0
        for size in range(fewer + 1, len(rolls) + 1):
            if not self._holds(rolls[:size], size - fewer):
                continue
            more += 1
            if more > MOST_MORE and size < len(rolls):
                continue
            laid = self._anew(rolls[:size], size - fewer)
            if laid is not None:
                return laid + rolls[size:]
        return None

    def _holds(self, rolls: Laid, count: int) -> bool:
        return fsum(map(length_in, rolls)) <= count * self.room

    def _anew(self, rolls: Laid, count: int) -> Laid | None:
        """Lay the pieces of some rolls in a given number of rolls, if that is found."""
        if not self._holds(rolls, count) or self.tries <= 0:
            return None
        self.tries -= 1
        pieces = sorted((part for cut in rolls for part in cut), key=lambda part: -part[1])
        laid = self._sorted_in(pieces, count)
        order, chance = list(pieces), Random(0)  # noqa: S311 - the same orders each time
        for _ in range(SHUFFLES):
            if laid is not None:
                break
            chance.shuffle(order)
            laid = self._in_order(order, count)
        return laid

    def _sorted_in(self, pieces: list[Part], count: int) -> Laid | None:
        """Fill rolls with whole pieces, the longest first; cut a long one where a roll ends."""
        # A piece goes in whole only where it fills the roll or leaves enough to cut another for.
        left, rolls = list(pieces), Laid([[]])
        room = self.room
        while left:
            fits = (
                i for i, (_, size) in enumerate(left)
                if size <= room and (room - size >= self.least or room - size <= self.roll * 1e-6)
            )  # fmt: skip
            place = next(fits, None)
            if place is None:
                rest = whole_in(left, self.room, count - len(rolls))
                if rest is not None:
                    return rolls + rest
                place = next((i for i, (_, size) in enumerate(left) if size <= room), 0)
                if self._cut(left[0][1], room) is not None:
                    place = 0
            room = self._lay(rolls, left.pop(place), room)
            if len(rolls) > count:
                return None
        return rolls

    def _in_order(self, pieces: Sequence[Part], count: int) -> Laid | None:
        """Lay pieces one after the other, cut wherever a roll ends."""
        rolls, room = Laid([[]]), self.room
        for part in pieces:
            room = self._lay(rolls, part, room)
        return rolls if len(rolls) <= count else None

    def _lay(self, rolls: Laid, part: Part, room: float) -> float:
        """Lay a piece in the last roll, in two, or in a new one; return what room is left [m]."""
        run, size = part
        if size <= room:
            rolls[-1].append(part)
            return room - size
        first = self._cut(size, room)
        if first is None:
            rolls.append([part])
            return self.room - size
        rolls[-1].append((run, first))
        rolls.append([(run, size + self.lap - first)])
        return self.room - rolls[-1][0][1]

    def _cut(self, size: float, room: float) -> float | None:
        """Return how much of a piece goes into what room is left, None when too little [m]."""
        first = min(room, self.roll, size + self.lap - self.least)
        return first if first >= self.least else None


def length_in(cut: Sequence[Part]) -> float:
    """Return the length of the pieces in a roll [m]."""
    return fsum(size for _, size in cut)


def whole_in(pieces: Sequence[Part], room: float, count: int) -> Laid | None:
    """Lay pieces, the longest first, uncut in a number of new rolls; None when they need more."""
    if length_in(pieces) > count * room:
        return None
    rolls: Laid = []
    rooms: list[float] = []
    for part in pieces:
        into = next((i for i, left in enumerate(rooms) if part[1] <= left), None)
        if into is None:
            if len(rolls) == count:
                return None
            rolls.append([part])
            rooms.append(room - part[1])
        else:
            rolls[into].append(part)
            rooms[into] -= part[1]
    return rolls
