"""Strips of a cove: how rolls of a wall line join, smoothly or in a mitre.

Mitres stand at inside corners and over breaks of the floor.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NoReturn

import numpy as np

from ..arrays import Floats
from .breaks import break_ends, hip_ends
from .canal import Canal
from .corner_breaks import CLOSE, patch_of, seams_at, section_beside
from .mitre import End, NoMitreError, corner_ends, leaning_ends, plain_end
from .rolled import CoveMisfitError, Roll
from .swing import BESIDE, Swing


@dataclass(frozen=True)
class Strip:
    """A roll with its two ends."""

    roll: Roll
    first: End
    last: End


def section(canal: Canal, item: Roll, s: Floats) -> Floats:
    """Return the sections (c, J + 1, 3) of a roll at parameters (c, J + 1)."""
    share = np.broadcast_to(np.linspace(0.0, 1.0, s.shape[1]), s.shape)
    if item.side.pivot and item.swings:
        return item.swings[0][1].points(s, share)
    square = bool((s == s[:, :1]).all())  # then one wall point makes a whole section
    points = canal.points(*item.side.at(s[:, :1] if square else s), item.piece, share)
    for shift, swing in item.swings:
        near = swing.off(s[:, 0] + shift) < BESIDE
        points[near] = swing.points(s[near] + shift, share[near])
    return points


def join(canal: Canal, rolls: list[Roll], rings: int, *, closed: bool) -> list[Strip]:
    """Join rolls end to end.

    Args:
        canal: The ball on its floor.
        rolls: In order.
        rings: J, parts of the section.
        closed: Whether the last joins the first; else both end in plain sections.

    Returns:
        Strips in the same order; what the patches at a corner cover has none of its own.

    `CoveMisfitError` is raised where two joints run over each other, or a mitre finds no room.
    """
    firsts: dict[int, End] = {}
    lasts: dict[int, End] = {}
    count = len(rolls)
    joints = [(i, (i + 1) % count) for i in range(count if closed else count - 1)]
    gone: set[int] = set()
    for i, j in joints if rings else ():
        corner = _corner_beside(rolls[i], rolls[j])
        if corner is not None:
            found = _at_corner(canal, rolls, (i, j), corner, rings)
            (before, lasts[before]), (after, firsts[after]) = found
            gone |= {(before + k) % count for k in range(1, (after - before) % count)}
    if gone & (lasts.keys() | firsts.keys()):
        _refuse_crowd(rolls[min(gone)])
    for i, j in joints:
        if not gone & {i, j} and i not in lasts:
            lasts[i], firsts[j] = _joint(canal, rolls[i], rolls[j], rings)
    if not closed:
        first, last = rolls[0], rolls[-1]
        firsts[0] = _plain(canal, first, first.start, rings)
        lasts[count - 1] = _plain(canal, last, last.stop, rings)
    kept = [(i, item) for i, item in enumerate(rolls) if i not in gone]
    strips = [Strip(item, firsts[i], lasts[i]) for i, item in kept]
    for strip in strips:
        if np.any(strip.last.s - strip.first.s < -1e-9):
            _refuse_crowd(strip.roll)
    return strips


def _refuse_crowd(item: Roll) -> NoReturn:
    place = item.side.at(np.array([(item.start + item.stop) / 2.0]))[0][0]
    reason = "corners and break lines of the floor stand too close together for it"
    raise CoveMisfitError(reason, place)


def _corner_beside(here: Roll, there: Roll) -> tuple[float, Swing] | None:
    """Return the outside corner at which the ball goes over to another piece of the floor.

    Returns:
        The parameter there and its swing; None where it does so elsewhere.
    """
    if here.piece == there.piece or (here.side.turn > 0.0 and here.side is not there.side):
        return None
    places = [(here.stop + shift, swing) for shift, swing in here.swings]
    at, swing = min(places, key=lambda item: float(item[1].off(item[0])), default=(0.0, None))
    return (at, swing) if swing is not None and swing.off(at) < CLOSE else None


def _at_corner(
    canal: Canal,
    rolls: list[Roll],
    joint: tuple[int, int],
    corner: tuple[float, Swing],
    rings: int,
) -> list[tuple[int, End]]:
    """Join two coves over a break of the floor at an outside corner.

    Returns:
        The roll before the seam, with its end, and the roll after it, with its start: those
        between are in the patches.

    Raises:
        CoveMisfitError: The two meet in no seam there, or no plain section stands beside it.
    """
    at, swing = corner
    swings = (swing.on(rolls[joint[0]].piece), swing.on(rolls[joint[1]].piece))
    try:
        seams = seams_at(swings, at, rings)
    except NoMitreError as error:
        reason = "a break line of the floor runs along its foot beside a corner"
        raise CoveMisfitError(reason, swing.side.at(np.array([at]))[0][0]) from error
    found = []
    for own, seam, k, way in zip(swings, seams, joint, (-1, 1), strict=True):
        place = section_beside(own, seam, way)
        holder, s = _holder(rolls, k, way, own, place)
        end = _plain(canal, rolls[holder], s, rings)
        found.append((holder, replace(end, patch=patch_of(own, seam, end.column, place))))
    rolls[found[0][0]].mitred = True
    return found


def _holder(rolls: list[Roll], k: int, way: int, swing: Swing, place: float) -> tuple[int, float]:
    """Return which roll has a place of a swing, from the k-th on, and its parameter there.

    `CoveMisfitError` is raised where another joint comes first.
    """
    while True:
        item = rolls[k]
        shifts = [shift for shift, other in item.swings if other.side is swing.side]
        if not shifts or item.piece != swing.piece:
            _refuse_crowd(item)
        # where one side goes from the corner to the corner, its near end counts
        s = place - shifts[0 if place < 0.0 else -1]
        if s > item.start if way < 0 else s < item.stop:
            return k, s
        if rolls[k - 1 if way < 0 else k].mitred:
            _refuse_crowd(item)
        k = (k + way) % len(rolls)


def _plain(canal: Canal, item: Roll, s: float, rings: int) -> End:
    return plain_end(s, section(canal, item, np.full((1, rings + 1), s))[0])


def _joint(canal: Canal, here: Roll, there: Roll, rings: int) -> tuple[End, End]:
    """Return the end of one roll and the start of the next."""
    goes_on = here.side is there.side and here.stop == there.start
    if not here.mitred or (goes_on and not rings):  # without a cove nothing meets in a break
        if there.side.pivot and there.swings:
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
