"""Which rolls of a cove are one face of it, and which one face of a leaning wall."""

from __future__ import annotations

from dataclasses import replace

from .rolled import Roll


def part_single_mitre(rolls: list[Roll]) -> list[Roll]:
    """Part a closed line that has one mitre only into three groups.

    So the two groups that meet in the mitre meet nowhere else.

    Returns:
        The same rolls, the longest in three parts where that is needed.
    """
    if sum(item.mitred for item in rolls) != 1:
        return rolls
    longest = max(range(len(rolls)), key=lambda i: rolls[i].stop - rolls[i].start)
    item = rolls[longest]
    inner = item.side.s[(item.side.s > item.start) & (item.side.s < item.stop)]
    if len(inner) < 2:
        return rolls
    a, b = (float(inner[k]) for k in (len(inner) // 3, 2 * len(inner) // 3))
    parts = [
        replace(item, stop=a, mitred=False),
        replace(item, start=a, stop=b, mitred=False, fresh=True),
        replace(item, start=b, fresh=True),
    ]
    return [*rolls[:longest], *parts, *rolls[longest + 1 :]]


def number_walls(rolls: list[Roll], walls: int, *, closed: bool) -> int:
    """Number the faces of walls that lean, each from inside corner to inside corner.

    Args:
        rolls: Of one line.
        walls: The first number.
        closed: Whether the line is closed.

    Returns:
        The next free number.
    """
    number = walls
    for i, item in enumerate(rolls):
        before = rolls[i - 1]
        if i and before.side is not item.side and before.side.turn > 0.0:
            number += 1
        item.wall = number
    first, last = rolls[0], rolls[-1]
    if closed and number > walls and not (last.side.turn > 0.0 and last.side is not first.side):
        for item in rolls:
            if item.wall == number:
                item.wall = walls
        number -= 1
    return number + 1


def number_groups(rolls: list[Roll], groups: int, *, closed: bool) -> int:
    """Number the groups of one line, from ``groups`` up; return the next free number."""
    number = groups
    for i, item in enumerate(rolls):
        before = rolls[i - 1]
        turned = before.side.pivot and not item.side.pivot
        if i and (before.mitred or turned or item.fresh):
            number += 1
        item.group = number
    first, last = rolls[0], rolls[-1]
    smooth = first.side is last.side and first.piece == last.piece and not last.mitred
    if closed and number > groups and smooth and not first.side.pivot:
        # a smooth closed line that happens to start in mid-roll
        for item in rolls:
            if item.group == number:
                item.group = groups
        number -= 1
    return number + 1
