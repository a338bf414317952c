"""Strips of a cove: how rolls of a wall line join, smoothly or in a mitre.

Mitres stand at inside corners and over breaks of the floor.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from .breaks import break_ends, hip_ends
from .canal import Canal
from .mitre import End, NoMitreError, corner_ends, leaning_ends, plain_end
from .rolled import CoveMisfitError, Roll


@dataclass(frozen=True)
class Strip:
    """A roll with its two ends."""

    roll: Roll
    first: End
    last: End


def section(canal: Canal, item: Roll, s: Floats) -> Floats:
    """Return the sections (c, J + 1, 3) of a roll at parameters (c, J + 1)."""
    if item.swing is not None:
        return item.swing.columns(item.side, s, item.piece)
    share = np.broadcast_to(np.linspace(0.0, 1.0, s.shape[1]), s.shape)
    square = bool((s == s[:, :1]).all())  # then one wall point makes a whole section
    points = canal.points(*item.side.at(s[:, :1] if square else s), item.piece, share)
    for corner, swing in item.beside:
        near = np.abs(s[:, 0] - corner) < 1.2 * float(canal.radius_at(swing.corner)[0])
        points[near] = swing.columns(item.side, s[near], item.piece)
    return points


def join(canal: Canal, rolls: list[Roll], rings: int, *, closed: bool) -> list[Strip]:
    """Join rolls end to end.

    Args:
        canal: The ball on its floor.
        rolls: In order.
        rings: J, parts of the section.
        closed: Whether the last joins the first; else both end in plain sections.

    Returns:
        Strips in the same order.

    Raises:
        CoveMisfitError: Two joints run over each other, or a mitre finds no room.
    """
    firsts: dict[int, End] = {}
    lasts: dict[int, End] = {}
    count = len(rolls)
    for i in range(count if closed else count - 1):
        j = (i + 1) % count
        lasts[i], firsts[j] = _joint(canal, rolls[i], rolls[j], rings)
    if not closed:
        first, last = rolls[0], rolls[-1]
        firsts[0] = _plain(canal, first, first.start, rings)
        lasts[count - 1] = _plain(canal, last, last.stop, rings)
    strips = [Strip(item, firsts[i], lasts[i]) for i, item in enumerate(rolls)]
    for strip in strips:
        if np.any(strip.last.s - strip.first.s < -1e-9):
            item = strip.roll
            place = item.side.at(np.array([(item.start + item.stop) / 2.0]))[0][0]
            reason = "corners and break lines of the floor stand too close together for it"
            raise CoveMisfitError(reason, place)
    return strips


def _plain(canal: Canal, item: Roll, s: float, rings: int) -> End:
    return plain_end(s, section(canal, item, np.full((1, rings + 1), s))[0])


def _joint(canal: Canal, here: Roll, there: Roll, rings: int) -> tuple[End, End]:
    """Return the end of one roll and the start of the next."""
    goes_on = here.side is there.side and here.stop == there.start
    if not here.mitred or (goes_on and not rings):  # without a cove nothing meets in a break
        if there.swing is not None:
            shared = _plain(canal, there, there.start, rings)
        else:
            shared = _plain(canal, here, here.stop, rings)
        return plain_end(here.stop, shared.column), plain_end(there.start, shared.column)
    try:
        if here.side.turn <= 0.0 or goes_on:
            reason = "a break line of the floor leaves no room for its mitre"
            return break_ends(canal, here.side, here.stop, here.piece, there.piece, rings)
        reason = "an inside corner leaves no room for its mitre"
        feet = (here.stop, there.start)
        if here.piece == there.piece:
            ends = leaning_ends if canal.batter.lean else corner_ends
            return ends(canal, here.side, there.side, feet, here.piece, rings)
        reason = "a break line of the floor runs too close to an inside corner"
        return hip_ends(canal, (here.side, there.side), feet, (here.piece, there.piece), rings)
    except NoMitreError as error:
        raise CoveMisfitError(reason, here.side.at(np.array([here.stop]))[0][0]) from error
