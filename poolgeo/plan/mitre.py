"""Where two coves meet: mitres at inside plan corners and at breaks of the floor.

Both canal surfaces go on past their last section until they meet. The **seam** is the line in
which they do, shared vertex by vertex. Where one cove reaches higher up the wall (or further out
on the floor) than the other, its last part ends on the other's wall (or floor): the **tail**.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from .canal import Canal
from .curves import Floats
from .path import Side

TAIL = 3
"""Points in a tail: it is some millimetres long."""

NO_TAIL = 2e-4
"""[m] Two coves whose contacts differ by less than this end in one point."""


class NoMitreError(ValueError):
    """The two coves do not meet within their sides."""


@dataclass(frozen=True)
class End:
    """How one strip ends at a joint.

    Args:
        s: (J + 1,) parameter on the side at which each ring ends, ring 0 on the wall [m].
        column: (k, 3) the vertices of its end, from the wall to the floor; k = J + 1 where there
            is no tail [m].
        share: (k,) angle of each as a share of phi: for zipping.
        wall_tail: How many vertices from the first on lie on the other side's wall.
        floor_tail: How many vertices up to the last lie on the other piece of the floor.
    """

    s: Floats
    column: Floats
    share: Floats
    wall_tail: int = 0
    floor_tail: int = 0
    crossing: float | None = None
    flap: Floats | None = None


def plain_end(s: float, column: Floats) -> End:
    """Return the end of a strip in one section ``column`` (J + 1, 3) at parameter ``s``."""
    rings = len(column) - 1
    return End(np.full(rings + 1, s), column, np.linspace(0.0, 1.0, rings + 1))


def corner_foot(canal: Canal, before: Side, after: Side) -> tuple[float, float]:
    """Return the parameters on both sides of an inside corner where the ball touches both walls.

    Raises:
        NoMitreError: It does not fit between the ends of the sides.
    """
    reach = canal.radius * math.tan(before.turn / 2.0)
    found = np.array([before.length - reach, reach])

    def gap(s: Floats) -> Floats:
        (pa, na), (pb, nb) = before.at(s[:1]), after.at(s[1:])
        return (pa + canal.radius * na - pb - canal.radius * nb)[0]

    for _ in range(30):
        value = gap(found)
        if np.abs(value).max() < 1e-10:
            break
        columns = [(gap(found + step) - value) / 1e-7 for step in np.eye(2) * 1e-7]
        matrix = np.column_stack(columns)
        if abs(np.linalg.det(matrix)) < 1e-9:
            raise NoMitreError
        found = found - np.linalg.solve(matrix, value)
    else:
        raise NoMitreError
    if found[0] < 0.0 or found[1] > after.length:
        raise NoMitreError
    return float(found[0]), float(found[1])


def corner_ends(
    canal: Canal, before: Side, after: Side, feet: tuple[float, float], piece: int, rings: int
) -> tuple[End, End]:
    """Return the ends of the two strips in the mitre of an inside corner.

    Ring by ring both surfaces are cut by the plane parallel to the floor at the same angle from
    the floor contact: there the seam is where two plan curves cross, found by Newton's method.

    Args:
        canal: The ball on its floor.
        before: Side that ends in the corner.
        after: Side that starts there.
        feet: From `corner_foot`.
        piece: The floor piece under the corner.
        rings: J, parts of the section.

    Raises:
        NoMitreError: The seam cannot be found within the sides.
    """
    sides = (before, after)
    corner_s = (before.length, 0.0)
    phi = [float(_opening(canal, side, np.array([s]), piece)[0]) for side, s in
           zip(sides, corner_s, strict=True)]  # fmt: skip
    low = int(phi[1] < phi[0])  # the side whose cove reaches less high
    high = 1 - low
    tail = TAIL if canal.radius * (phi[high] - phi[low]) > NO_TAIL else 0
    seam_share = np.linspace(0.0, 1.0, rings + 1)[:-1]  # of the low side's phi; top point apart
    tail_share = np.linspace(0.0, 1.0, tail + 1)[1:-1] if tail else np.zeros(0)
    rise = np.concatenate([seam_share, [1.0] * bool(tail), np.ones(len(tail_share))])
    beyond = np.concatenate([np.zeros(len(seam_share)), [0.0] * bool(tail), tail_share])

    def points(s: Floats) -> tuple[Floats, Floats]:
        a, b = s[:, low], s[:, high]
        phi_low = _opening(canal, sides[low], a, piece)
        phi_high = _opening(canal, sides[high], b, piece)
        up = rise * phi_low + beyond * (phi_high - phi_low)
        at_low = canal.points(
            *sides[low].at(a), piece, np.clip(1.0 - up / phi_low, 0.0, 1.0)
        )
        at_high = canal.points(
            *sides[high].at(b), piece, np.clip(1.0 - up / phi_high, 0.0, 1.0)
        )
        return at_low, at_high

    start = np.empty((len(rise), 2))
    share = (1.0 - rise * phi[low] / phi[high]) * (1.0 - beyond)
    out = 1.0 - np.cos(share * phi[high])
    for i in range(2):
        start[:, i] = corner_s[i] + (feet[i] - corner_s[i]) * out / max(out[0], 1e-12)
    s, seam = _solve(points, start)
    top = np.array([*before.p[-1], canal.points(
        *sides[high].at(np.array([corner_s[high]])), piece, np.zeros(1))[0, 2]])  # fmt: skip
    seam = np.vstack([seam, top])[::-1]
    s = np.vstack([s, corner_s])[::-1]
    ends: list[End | None] = [None, None]
    count = len(seam)
    grid = np.linspace(0.0, 1.0, rings + 1)
    ends[low] = End(s[tail:, low], seam[tail:], grid)
    if tail:
        phi_high = _opening(canal, sides[high], s[:, high], piece)
        up = np.concatenate([[phi[high]], (rise * phi[low] + beyond * (phi[high] - phi[low]))[::-1]])
        high_share = np.clip(1.0 - up / phi_high, 0.0, 1.0)
        high_share[0], high_share[-1] = 0.0, 1.0
        own = np.interp(grid, high_share, s[:, high])
        ends[high] = End(own, seam, high_share, wall_tail=tail)
    else:
        ends[high] = End(s[:, high], seam, grid)
    assert count == rings + 1 + tail
    first, second = ends
    assert first is not None
    assert second is not None
    return first, second


def _opening(canal: Canal, side: Side, s: Floats, piece: int) -> Floats:
    return canal.opening(side.at(s)[1], piece)


def _solve(points, start: Floats) -> tuple[Floats, Floats]:  # type: ignore[no-untyped-def]
    """Solve for the parameter pairs at which both strips' points have the same plan place."""
    s, step = start.copy(), 1e-7
    for _ in range(40):
        a, b = points(s)
        gap = (a - b)[:, :2]
        if np.abs(gap).max() < 1e-9:
            return s, b
        jacobian = np.empty((len(s), 2, 2))
        for i in range(2):
            moved = s.copy()
            moved[:, i] += step
            c, d = points(moved)
            jacobian[:, :, i] = ((c - d)[:, :2] - gap) / step
        flat = np.abs(np.linalg.det(jacobian)) < 1e-12
        jacobian[flat] += 1e-6 * np.eye(2)
        s = s - np.linalg.solve(jacobian, gap[:, :, None])[:, :, 0]
    raise NoMitreError


def break_ends(
    canal: Canal, side: Side, s: float, before: int, after: int, rings: int
) -> tuple[End, End]:
    """Return the ends of the two strips in the mitre over a break of the floor.

    Both canals are cylinders tangent to one wall with axes that cross in the ball's centre, so
    they meet in the plane that halves the angle of their axes: ring by ring at one angle from the
    wall contact. (Along a curved wall the two planes of the floor are met exactly, the plane of
    the seam to second order of the seam's own slant: below a tenth of a millimetre.)

    At a toe the surface is the higher of the two coves with their floors, at a brow the lower.
    There the cove with the shorter contact runs over the break line: a flap of its floor's plane.
    """
    p, n = side.at(np.array([s]))
    centre = canal.centre(p, n, before)[0]
    normals = [canal.floor.normal(item) for item in (before, after)]
    inward = np.array([*n[0], 0.0])
    walk = np.array([n[0, 1], -n[0, 0], 0.0])
    downs, axes = [], []
    phis = [float(canal.opening(n, item)[0]) for item in (before, after)]
    for normal in normals:
        slope = -float(normal @ walk) / normal[2]
        axis = (walk + np.array([0.0, 0.0, slope])) / math.hypot(1.0, slope)
        axes.append(axis)
        downs.append((walk * slope - np.array([0.0, 0.0, 1.0])) / math.hypot(1.0, slope))
    middle = downs[0] + downs[1]
    middle *= 2.0 / float(middle @ middle)
    low = int(phis[1] < phis[0])
    high = 1 - low
    grid = np.linspace(0.0, 1.0, rings + 1)
    angle = grid * phis[low]
    seam = centre + canal.radius * (
        -np.cos(angle)[:, None] * inward + np.sin(angle)[:, None] * middle
    )
    tail = TAIL if canal.radius * (phis[high] - phis[low]) > NO_TAIL else 0
    full, column = angle, seam
    if tail:
        beyond = np.linspace(phis[low], phis[high], tail + 1)[1:]
        on_high = centre + canal.radius * (
            -np.cos(beyond)[:, None] * inward + np.sin(beyond)[:, None] * downs[high]
        )
        plane = normals[low]
        contact = centre - canal.radius * plane
        move = ((contact - on_high) @ plane) / float(axes[high] @ plane)
        column = np.vstack([seam, on_high + move[:, None] * axes[high]])
        full = np.concatenate([angle, beyond])
    foot = column[-1]  # on the break line up to rounding, or up to what NO_TAIL neglects
    off = float(canal.floor.along(foot[:2])) - float(canal.floor.breaks[min(before, after)])
    foot[:2] -= off * canal.floor.direction
    foot[2] = canal.floor.height(foot[:2])

    pieces = (before, after)

    def end(which: int, points: Floats, angles: Floats) -> End:
        share = angles / phis[which]
        own = np.full(len(points), s)
        for _ in range(12):  # where the strip's own section passes the seam: a contraction
            found = canal.points(*side.at(own), pieces[which], share)
            own = own + (points - found) @ walk
        return End(np.interp(grid, share, own), points, share, floor_tail=len(share) - len(grid))

    both = {low: end(low, seam, angle), high: end(high, column, full)}
    first, last = min(before, after), max(before, after)
    if tail and canal.floor.slopes[last] < canal.floor.slopes[first]:
        crossing = _contact_on_break(canal, side, s, pieces[low], float(canal.floor.breaks[first]))
        both[low] = replace(both[low], crossing=crossing, flap=column[rings:])
        both[high] = replace(both[high], floor_tail=0)
    return both[0], both[1]


def _contact_on_break(canal: Canal, side: Side, s: float, piece: int, u: float) -> float:
    """Return the parameter near ``s`` at which a piece's floor contact crosses a break line."""
    normal = canal.floor.normal(piece)[:2]

    def off(at: float) -> float:
        p, n = side.at(np.array([at]))
        return float(canal.floor.along(p + canal.radius * (n - normal))[0]) - u

    a, b = s, s + 0.01 * canal.radius
    fa, fb = off(a), off(b)
    for _ in range(40):
        if abs(fb) < 1e-12 or fb == fa:
            break
        a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
        fb = off(b)
    return b
