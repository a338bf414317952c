"""Where two coves meet over a break of the floor: the mitre that goes on with its crease."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from ..arrays import Floats
from .canal import Canal
from .floor import Floor
from .mitre import TAIL, End, NoMitreError, foot_of_corner, solve_in_plan
from .path import Side

SEAM = 2e-5
"""[m] Two coves are found to meet when they are nearer than this; along a face of chords that stand
off its curve, when they are nearer than that makes their walls differ (at a kink between two chords
Newton's method may end, for there the coves meet nowhere, or twice)."""

STUCK = 2.0**-12
"""[-] Where so short a step of Newton's method leads no nearer, none does."""

NO_FLAP = 2e-5
"""[m] A tail that runs nearer than this along the break line of a brow leaves no flap."""

NO_TAIL = 2e-3
"""[m] Two coves whose contacts differ by less than this end in one point: being tangent to the
floor there, neither is off by more than the square of it over twice the radius."""


def break_ends(
    canal: Canal, side: Side, s: float, before: int, after: int, rings: int
) -> tuple[End, End]:
    """Return the ends of the two strips in the mitre over a break of the floor.

    At a toe the surface is the higher of the two coves with their floors, at a brow the lower.
    There the cove with the shorter contact runs over the break line: a flap of its floor's plane.
    Fillets end in one line, from the wall to a foot on the break line half way between their own.

    Args:
        canal: The ball on its floor.
        side: The wall.
        s: Where the ball goes over from one piece to the other [m].
        before: Floor piece of the strip that ends here.
        after: Floor piece of the strip that starts here.
        rings: J, parts of the section.

    Returns:
        End of the strip before, and start of the strip after.
    """
    pieces = (before, after)
    if canal.straight and rings:
        return _straight_ends(canal, side, s, pieces)
    at = side.at(np.array([s]))
    phi = [float(canal.opening(*at, piece)[0]) for piece in pieces]
    low = int(phi[1] < phi[0])  # the side whose cove reaches out less far on the floor
    high = 1 - low
    grid = np.linspace(0.0, 1.0, rings + 1)
    own, other, share, seam = _break_seam(canal, side, s, pieces[low], pieces[high], grid)
    tail = TAIL if canal.radius * (phi[high] - phi[low]) > NO_TAIL else 0
    if tail:
        beyond = np.linspace(share[-1], 1.0, tail + 1)[1:]
        on = _on_plane(canal, side, other[-1], pieces[high], beyond, pieces[low])
        seam = np.vstack([seam, canal.points(*side.at(on), pieces[high], beyond)])
        other, share = np.concatenate([other, on]), np.concatenate([share, beyond])
    share[0], share[-1] = 0.0, 1.0
    seam[-1] = on_break(canal.floor, seam[-1], pieces)
    # without a tail both end at one point on the floor: a section of each keeps that to the break
    reach = canal.radius / 2.0 * (phi[high] > phi[low] and not tail)
    near = [(s + (reach if k else -reach),) if reach else () for k in (low, high)]
    ends = {
        low: End(own, seam[: rings + 1], grid, near=near[0]),
        high: End(np.interp(grid, share, other), seam, share, floor_tail=tail, near=near[1]),
    }
    over = np.abs(canal.floor.off_break(seam[rings:, :2], pieces)[0])
    if over.max() < NO_FLAP:
        seam[rings:, 2] = canal.floor.height_of(seam[rings:, :2], pieces[low])
    elif tail and not canal.floor.creases.get((min(pieces), max(pieces)), True):
        crossing = _contact_on_break(canal, side, s, pieces[low], pieces)
        ends[low] = replace(ends[low], near=(crossing,), flap=seam[rings:])
        ends[high] = replace(ends[high], floor_tail=0)
    return ends[0], ends[1]


def _straight_ends(canal: Canal, side: Side, s: float, pieces: tuple[int, int]) -> tuple[End, End]:
    """Return the ends of two fillets in one line over a break of the floor.

    Each keeps its size to half a leg off that, and from there on goes over into it.
    """
    own = [_contact_on_break(canal, side, s, piece, pieces) for piece in pieces]
    feet = [canal.contact(*side.at(np.array([at])), piece)[0]
            for at, piece in zip(own, pieces, strict=True)]  # fmt: skip
    top = canal.points(*side.at(np.array([s])), pieces[0], np.zeros(1))[0]
    column = np.vstack([top, on_break(canal.floor, (feet[0] + feet[1]) / 2.0, pieces)])
    apart = float(np.hypot(*(feet[1] - feet[0])[:2]))
    reach = canal.radius / 2.0 + apart if apart > NO_FLAP else 0.0
    whole = np.array([0.0, 1.0])
    near = [(at + way,) if way else () for at, way in zip(own, (-reach, reach), strict=True)]
    first, last = (
        End(np.array([s, at]), column, whole, near=places, ruled=True)
        for at, places in zip(own, near, strict=True)
    )
    return first, last


def hip_ends(
    canal: Canal,
    sides: tuple[Side, Side],
    feet: tuple[float, float],
    pieces: tuple[int, int],
    rings: int,
) -> tuple[End, End]:
    """Return the ends of the two strips in an inside corner into which a break of the floor runs.

    There the ball touches both walls and both pieces at once, or nearly so: no tails.

    Args:
        canal: The ball on its floor.
        sides: The one that ends in the corner, and the one that starts there.
        feet: Their parameters where the ball touches both walls.
        pieces: The floor piece under each.
        rings: J, parts of the section.

    Returns:
        End of the strip before, and start of the strip after.

    `NoMitreError` is raised where they do not meet near the corner.
    """
    grid = np.linspace(0.0, 1.0, rings + 1)
    corner = (sides[0].length, 0.0)
    top = np.array(foot_of_corner(canal, sides[0], feet, pieces[0]))
    phi = float(canal.opening(*sides[0].at(np.array([feet[0]])), pieces[0])[0])
    out = (1.0 - np.cos(grid[1:] * phi)) / (1.0 - math.cos(phi))
    unknown = np.column_stack([top + out[:, None] * (np.array(feet) - top), grid[1:]])

    def gap(x: Floats) -> Floats:
        one = canal.points(*sides[0].at(x[..., 0]), pieces[0], grid[1:])
        two: Floats = one - canal.points(*sides[1].at(x[..., 1]), pieces[1], x[..., 2])
        return two

    def at_walls(s: Floats) -> tuple[Floats, Floats]:
        none = np.zeros(1)
        one, two = (canal.points(*sides[i].at(s[..., i]), pieces[i], none) for i in (0, 1))
        return one, two

    def slack(x: Floats) -> Floats:
        return np.abs(sides[0].sags(x[:, 0])) + np.abs(sides[1].sags(x[:, 1]))

    found = _met(gap, unknown, canal.radius, slack)
    seam = canal.points(*sides[0].at(found[:, 0]), pieces[0], grid[1:])
    if canal.batter.lean:
        (top,), (head,) = solve_in_plan(at_walls, top[None])
    else:
        one, two = (canal.centre(*sides[i].at(top[i : i + 1]), pieces[i])[0] for i in (0, 1))
        head = np.array([*sides[0].p[-1], (one[2] + two[2]) / 2.0])
    column = np.vstack([head, seam])
    if pieces[0] != pieces[1]:
        column[-1] = on_break(canal.floor, column[-1], pieces)
    s = np.vstack([top, found[:, :2]])
    first, last = (End(s[:, i], column, grid, crown=corner[i]) for i in (0, 1))
    return first, last


def _break_seam(
    canal: Canal, side: Side, s: float, low: int, high: int, grid: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Find where the canals over two floor pieces meet, ring by ring, by Newton's method.

    It starts from the mitre of two cylinders that are tangent to one straight wall with axes that
    cross: they meet in the plane that halves the angle of their axes, at equal angles from the
    wall contact.

    Returns:
        Parameters on the low and on the high strip (J + 1,), shares of the high strip's phi, and
        the seam's points (J + 1, 3).

    `NoMitreError` is raised where it does not converge.
    """
    p, (n,) = side.at(np.array([s]))
    walk = np.array([n[1], -n[0]])
    at = canal.over(p, n), canal.radius_at(p)
    normals = [canal.rest(*at, k)[1].reshape(3) for k in (low, high)]
    slopes = [-float(normal[:2] @ walk) / normal[2] for normal in normals]
    phi = [float(canal.opening(p, n[None], k)[0]) for k in (low, high)]
    tilt = [math.atan(item) for item in slopes]
    angle = grid[1:] * phi[0]
    lean = canal.radius_at(p)[..., 0] * np.sin(angle)
    half = math.tan((tilt[0] + tilt[1]) / 2.0)
    unknown = np.column_stack([
        s + lean * (half - math.sin(tilt[0])),
        s + lean * (half - math.sin(tilt[1])),
        np.minimum(angle / phi[1], 1.0),
    ])  # fmt: skip

    def gap(x: Floats) -> Floats:
        one = canal.points(*side.at(x[..., 0]), low, grid[1:])
        two: Floats = one - canal.points(*side.at(x[..., 1]), high, x[..., 2])
        return two

    def slack(x: Floats) -> Floats:
        return np.abs(side.sags(x[:, 0]) - side.sags(x[:, 1]))

    unknown = _met(gap, unknown, canal.radius, slack)
    own, other, share = (np.concatenate([[start], unknown[:, i]])
                         for i, start in enumerate((s, s, 0.0)))  # fmt: skip
    return own, other, share, canal.points(*side.at(own), low, grid)


def _met(
    gap: Callable[[Floats], Floats],
    start: Floats,
    reach: float,
    slack: Callable[[Floats], Floats],
) -> Floats:
    """Solve for where two canals meet, from a guess (k, 3), by a damped Newton's method.

    Args:
        gap: How far apart they are, (..., k, 3) of (..., k, 3) parameters [m].
        start: The guess.
        reach: Longest step [m].
        slack: How much further apart than `SEAM` chords let them stay, (k,) of (k, 3) [m].

    Returns:
        The parameters.

    Raises:
        NoMitreError: It does not converge.
    """
    unknown, value = start.copy(), gap(start)
    step, stride = 1e-7, np.ones(len(unknown))
    for k in range(60):
        if np.abs(value).max(initial=0.0) < 1e-8:
            break
        if k % 4 == 0:  # a chord method: the slopes change little from step to step
            slopes = (gap(unknown + step * np.eye(3)[:, None]) - value) / step
            inverse = np.linalg.pinv(np.moveaxis(slopes, 0, 2))
        move = (inverse @ value[:, :, None])[:, :, 0]
        tried = unknown - stride[:, None] * np.minimum(np.maximum(move, -reach), reach)
        there = gap(tried)
        better = np.linalg.norm(there, axis=1) < np.linalg.norm(value, axis=1)
        unknown[better], value[better] = tried[better], there[better]
        stride = np.where(better, np.minimum(2.0 * stride, 1.0), stride / 2.0)
        stuck = (np.abs(value).max(axis=1) > SEAM) & (stride < STUCK)
        if stuck.any() and (np.abs(value).max(axis=1) > SEAM + slack(unknown))[stuck].any():
            break
    off = np.abs(value).max(axis=1)
    if off.max(initial=0.0) > SEAM and (off > SEAM + slack(unknown)).any():
        raise NoMitreError
    return unknown


def _on_plane(canal: Canal, side: Side, s: float, piece: int, share: Floats, plane: int) -> Floats:
    """Return the parameters at which a strip's rings run into the plane of another floor piece.

    Raises:
        NoMitreError: One runs along it.
    """

    def above(at: Floats) -> Floats:
        points = canal.points(*side.at(at), piece, share)
        found: Floats = points[:, 2] - canal.floor.height_of(points[:, :2], plane)
        return found

    at = np.full(len(share), s)
    for _ in range(30):
        value = above(at)
        if np.abs(value).max() < 1e-10:
            break
        rate = (above(at + 1e-6) - value) / 1e-6
        if np.any(rate == 0.0):
            raise NoMitreError
        at = at - np.clip(value / rate, -canal.radius, canal.radius)
    return at


def on_break(floor: Floor, point: Floats, pair: tuple[int, int]) -> Floats:
    """Return a point (3,) near the break of two pieces, put on it [m]."""
    xy = point[:2]
    for _ in range(4):
        off, way = floor.off_break(xy, pair)
        xy = xy - off * way
    return np.array([*xy, float(floor.height_of(xy, pair[0]))])


def _contact_on_break(
    canal: Canal, side: Side, s: float, piece: int, pair: tuple[int, int]
) -> float:
    """Return the parameter near ``s`` at which a piece's floor contact crosses a break line.

    Raises:
        NoMitreError: It runs along the break line.
    """

    def off(at: float) -> float:
        foot = canal.contact(*side.at(np.array([at])), piece)
        return float(canal.floor.off_break(foot[:, :2], pair)[0][0])

    a, b = s, s + 0.01 * canal.radius
    fa, fb = off(a), off(b)
    for _ in range(40):
        if abs(fb) < 1e-12 or fb == fa:
            break
        a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
        fb = off(b)
    if not abs(fb) < SEAM:
        raise NoMitreError
    return b
