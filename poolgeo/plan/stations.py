"""Stations: where along a strip of a cove its columns stand."""

from __future__ import annotations

import numpy as np

from .curves import Floats
from .mitre import End
from .rolled import CoveMisfitError, Stretch
from .tolerances import WELD

CROWD = 3.0 * WELD
"""[m] Places of one ring nearer to each other than this become one: a line of another feature would
have to weld to both."""

EVEN = np.array([0.0, 1.0])
"""[-] Shares of the way from end to end, of the wall's top and of what lies below alike."""


def stations(item: Stretch, first: End, last: End, *, leans: bool) -> tuple[Floats, Floats]:
    """Return the shares of the way between both ends (0 and 1 left out) at which columns stand.

    Args:
        item: The stretch.
        first: Where it begins.
        last: Where it stops.
        leans: Whether its wall leans, so that both ends have the wall's top before all else.

    Returns:
        Those along the wall's top, and those of all that lies below it.

    Raises:
        CoveMisfitError: The seam over a break line has no room before the next one.
    """
    top, below = _fall_lines(first, last) if leans else (EVEN, EVEN)
    side, start, stop = item.side, float(first.s[0]), float(last.s[0])
    reach = float(last.s[-1] - first.s[-1])
    least = CROWD / max(stop - start, 1e-12)  # nearer ones may be welded to the end
    found, plain = np.zeros(0), np.zeros(0)
    for end in (first, last):
        at = np.array([(at - float(first.s[-1])) / max(reach, 1e-12) for at in end.near])
        at = np.interp(at[(at > 0.0) & (at < 1.0)], below, top)
        if end.flap is None:
            plain = np.append(plain, at)
        elif len(at):
            found = np.append(found, at)
        else:
            reason = "a break line of the floor runs too close to a corner for it"
            raise CoveMisfitError(reason, side.at(first.s[:1])[0][0])
    # a vertex of the wall goes before what a joint laid there, which moves with the chords
    for more in (side.s, np.array(item.touches)):
        at = (more - start) / max(stop - start, 1e-12)
        found = _with_room(found, at[(at > least) & (at < 1.0 - least)], least)
    found = _with_room(found, plain, least)
    return found, np.interp(found, top, below)


def _fall_lines(first: End, last: End) -> tuple[Floats, Floats]:
    """Return shares of the way at a wall's top, and those straight below them.

    A wall that leans is ruled by the lines of its fall. In a corner its top ends elsewhere
    than its foot; what that shifts them by is lost again at twice that from the corner.
    """
    (u0, w0), (u1, w1) = first.s[:2], last.s[:2]
    full = np.array([u0, u0 + 2.0 * abs(w0 - u0), u1 - 2.0 * abs(w1 - u1), u1])
    if full[1] >= full[2]:
        return EVEN, EVEN
    foot = np.array([w0, full[1], full[2], w1])
    return (full - u0) / (u1 - u0), (foot - w0) / (w1 - w0)


def _with_room(found: Floats, more: Floats, least: float) -> Floats:
    """Return rising numbers (k,) with those of others that stand further than that from all."""
    if len(found) and len(more):
        after = np.searchsorted(found, more)
        behind = np.abs(more - found[np.maximum(after - 1, 0)])
        ahead = np.abs(found[np.minimum(after, len(found) - 1)] - more)
        more = more[np.minimum(behind, ahead) > least]
    whole = np.union1d(found, more)
    return whole[np.diff(whole, prepend=-1.0) > least]
