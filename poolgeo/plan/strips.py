"""Strips of a cove: how stretches of a wall line join, smoothly or in a mitre.

Mitres stand at inside corners and over breaks of the floor.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NoReturn

import numpy as np

from .breaks import break_ends, hip_ends
from .canal import Canal
from .corner_breaks import CLOSE, MARGIN, patch_of, seams_at
from .curves import Floats
from .mitre import End, NoMitreError, corner_ends, leaning_ends, plain_end
from .rolled import CoveMisfitError, Stretch
from .swing import BESIDE, Swing


@dataclass(frozen=True)
class Strip:
    """A stretch with its two ends."""

    stretch: Stretch
    first: End
    last: End


def section(canal: Canal, item: Stretch, s: Floats) -> Floats:
    """Return the sections (c, J + 1, 3) of a stretch at parameters (c, J + 1)."""
    share = np.broadcast_to(np.linspace(0.0, 1.0, s.shape[1]), s.shape)
    if item.swing is not None:
        return item.swing.points(s, share)
    square = bool((s == s[:, :1]).all())  # then one wall point makes a whole section
    points = canal.points(*item.side.at(s[:, :1] if square else s), item.piece, share)
    for shift, swing in item.beside:
        near = swing.off(s[:, 0] + shift) < BESIDE
        points[near] = swing.points(s[near] + shift, share[near])
    return points


def join(canal: Canal, stretches: list[Stretch], rings: int, *, closed: bool) -> list[Strip]:
    """Join stretches end to end.

    Args:
        canal: The ball on its floor.
        stretches: In order.
        rings: J, parts of the section.
        closed: Whether the last joins the first; else both end in plain sections.

    Returns:
        Strips in the same order.

    Raises:
        CoveMisfitError: Two joints run over each other, or a mitre finds no room.
    """
    firsts: dict[int, End] = {}
    lasts: dict[int, End] = {}
    count = len(stretches)
    joints = [(i, (i + 1) % count) for i in range(count if closed else count - 1)]
    gone: set[int] = set()
    for i, j in joints if rings else ():
        corner = _corner_beside(stretches[i], stretches[j])
        if corner is not None:
            found = _at_corner(canal, stretches, (i, j), corner, rings)
            (before, lasts[before]), (after, firsts[after]) = found
            gone |= {k % count for k in range(before + 1, before + 1 + (after - before - 1) % count)}
    if gone & (lasts.keys() | firsts.keys()):
        _refuse_crowd(stretches[min(gone)])
    for i, j in joints:
        if not gone & {i, j} and i not in lasts:
            lasts[i], firsts[j] = _joint(canal, stretches[i], stretches[j], rings)
    if not closed:
        first, last = stretches[0], stretches[-1]
        firsts[0] = _plain(canal, first, first.start, rings)
        lasts[count - 1] = _plain(canal, last, last.stop, rings)
    kept = [(i, item) for i, item in enumerate(stretches) if i not in gone]
    strips = [Strip(item, firsts[i], lasts[i]) for i, item in kept]
    for strip in strips:
        if np.any(strip.last.s - strip.first.s < -1e-9):
            _refuse_crowd(strip.stretch)
    return strips


def _refuse_crowd(item: Stretch) -> NoReturn:
    place = item.side.at(np.array([(item.start + item.stop) / 2.0]))[0][0]
    reason = "corners and break lines of the floor stand too close together for it"
    raise CoveMisfitError(reason, place)


def _corner_beside(here: Stretch, there: Stretch) -> tuple[float, Swing] | None:
    """Return the outside corner at which the ball goes over to another piece of the floor.

    Returns:
        Its swing and the parameter there; None where it does so elsewhere.
    """
    if here.piece == there.piece or here.side.turn > 0.0 and here.side is not there.side:
        return None
    ways = [(0.0, here.swing)] if here.swing is not None else here.beside
    found = [(here.stop + shift, swing) for shift, swing in ways
             if swing.off(np.array(here.stop + shift)) < CLOSE]  # fmt: skip
    return min(found, key=lambda item: float(item[1].off(np.array(item[0]))), default=None)


def _at_corner(
    canal: Canal,
    stretches: list[Stretch],
    joint: tuple[int, int],
    corner: tuple[float, Swing],
    rings: int,
) -> tuple[tuple[int, End], tuple[int, End]]:
    """Join two coves over a break of the floor at an outside corner.

    Returns:
        The stretch before, with its end, and the stretch after, with its start.
    """
    at, swing = corner
    swings = tuple(replace(swing, piece=stretches[k].piece) for k in joint)
    try:
        seams = seams_at(swings, at, rings)
    except NoMitreError as error:
        reason = "a break line of the floor leaves no room for its mitre"
        raise CoveMisfitError(reason, swing.side.at(np.array([at]))[0][0]) from error
    margin = MARGIN * float(canal.radius_at(swing.corner)[0])
    low, high = float(seams[0].s.min()), float(seams[1].s.max())
    # beyond the corner, unless there is room before it
    sections = (
        low - margin if low > swing.pivot + 2.0 * margin else min(low, 0.0) - margin,
        high + margin if high < -2.0 * margin else max(high, swing.pivot) + margin,
    )
    found = []
    for own, seam, place, k, way in zip(swings, seams, sections, joint, (-1, 1), strict=True):
        while True:
            item = stretches[k]
            shifts = [0.0] if item.swing is not None else [
                shift for shift, other in item.beside if other.side is swing.side]
            if not shifts or item.piece != own.piece: _refuse_crowd(item)
            # where both walls are one side, that before the corner counts or that after it
            s = place - shifts[0 if place < 0.0 else -1]
            if way < 0 and s > item.start or way > 0 and s < item.stop:
                break
            following = stretches[k-1] if way < 0 else item
            if following.mitred: _refuse_crowd(item)
            k = (k + way) % len(stretches)
        item.mitred |= way < 0
        end = _plain(canal, item, s, rings)
        found.append((k, replace(end, patch=patch_of(own, seam, end.column, place))))
    return found[0], found[1]


def _plain(canal: Canal, item: Stretch, s: float, rings: int) -> End:
    return plain_end(s, section(canal, item, np.full((1, rings + 1), s))[0])


def _joint(canal: Canal, here: Stretch, there: Stretch, rings: int) -> tuple[End, End]:
    """Return the end of one stretch and the start of the next."""
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
