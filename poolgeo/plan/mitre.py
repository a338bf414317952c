"""Where two coves meet: mitres at inside plan corners and at breaks of the floor.

Both canal surfaces go on past their last section until they meet. The **seam** is the line in
which they do, shared vertex by vertex. Where one cove reaches higher up the wall (or further out
on the floor) than the other, its last part ends on the other's wall (or floor): the **tail**.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from .canal import Canal
from .path import Side
from .tolerances import WELD

STEP = 1e-7
"""[m] Step along a wall over which slopes are taken."""

TAIL = 3
"""Points in a tail: it is some millimetres long."""

SHORT_TAIL = 4e-4
"""[m] A tail on a wall that comes off it by less than this, seen from above, is one line."""

NO_WALL_TAIL = 5.0 * WELD
"""[m] A tail on a wall that comes off it by less than this is left out."""


class NoMitreError(ValueError):
    """The two coves do not meet within their sides."""


@dataclass(frozen=True)
class Patch:
    """What of a cove lies between a plain section and a joint.

    Args:
        vertices: (n, 3) [m].
        triangles: (t, 3) of its vertices, anticlockwise seen from above.
        wall: Its vertices along the wall, in order.
        floor: The same along the floor.
        joint: Wall point and inward normal (1, 2) of the joint [m].
    """

    vertices: Floats
    triangles: np.ndarray
    wall: np.ndarray
    floor: np.ndarray
    joint: tuple[Floats, Floats]


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
        near: Where a plain section must stand before it, as parameters [m].
        crown: At a wall that leans, the parameter at which its top ends; ``s[0]`` where None.
        flap: The flap of this piece's floor beyond the seam, where there is one.
        ruled: Whether its foot lies off the strip's own, so that the cell beside it is warped: it
            bends along its diagonal to that foot.
        patch: What goes on beyond it up to the joint.
    """

    s: Floats
    column: Floats
    share: Floats
    wall_tail: int = 0
    floor_tail: int = 0
    near: tuple[float, ...] = ()
    crown: float | None = None
    flap: Floats | None = None
    ruled: bool = False
    patch: Patch | None = None


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
        apart: Floats = (canal.over(pa, na) - canal.over(pb, nb))[0]
        return apart

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


def _off_wall(canal: Canal, low: float, high: float) -> float:
    """Return how far off its wall a cove stands where one that reaches less high ends [m].

    It leaves the wall as a parabola, a fillet straight; both open by these angles [rad].
    """
    if canal.straight:
        return canal.radius * (1.0 - (1.0 - math.cos(low)) / (1.0 - math.cos(high)))
    return canal.radius * (high - low) ** 2 / 2.0


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

    Returns:
        End of the strip before, and start of the strip after.
    """
    sides = (before, after)
    corner_s = (before.length, 0.0)
    phi = [float(_opening(canal, side, np.array([s]), piece)[0]) for side, s in
           zip(sides, corner_s, strict=True)]  # fmt: skip
    low = int(phi[1] < phi[0])  # the side whose cove reaches less high
    high = 1 - low
    off = _off_wall(canal, phi[low], phi[high])
    tail = TAIL if off > SHORT_TAIL else int(off > NO_WALL_TAIL)
    rise, beyond = _rises(rings, tail)

    def points(s: Floats) -> tuple[Floats, Floats]:
        a, b = s[..., low], s[..., high]
        phi_low = _opening(canal, sides[low], a, piece)
        phi_high = _opening(canal, sides[high], b, piece)
        up = rise * phi_low + beyond * (phi_high - phi_low)
        at_low = canal.points(*sides[low].at(a), piece, canal.share_at(up, phi_low))
        at_high = canal.points(*sides[high].at(b), piece, canal.share_at(up, phi_high))
        return at_low, at_high

    start = _first_guess(rise * phi[low] / phi[high], beyond, phi[high], corner_s, feet)
    s, seam = solve_in_plan(points, start)
    corner = sides[high].at(np.array([corner_s[high]]))
    height = canal.points(*corner, piece, np.zeros(1))[0, 2]
    seam = np.vstack([seam, [*before.p[-1], height]])[::-1]
    s = np.vstack([s, corner_s])[::-1]
    grid = np.linspace(0.0, 1.0, rings + 1)
    # without a tail both end at one height on the wall: a section of each keeps that to the corner
    inwards = (-canal.radius / 2.0, canal.radius / 2.0)
    near = [(feet[i] + inwards[i],) if off > 0.0 and not tail else () for i in (low, high)]
    ends = {
        low: End(s[tail:, low], seam[tail:], grid, near=near[0]),
        high: End(s[:, high], seam, grid, near=near[1]),
    }
    if tail:
        up = (rise * phi[low] + beyond * (phi[high] - phi[low]))[::-1]
        up = np.concatenate([[phi[high]], up])
        share = canal.share_at(up, _opening(canal, sides[high], s[:, high], piece))
        share[0], share[-1] = 0.0, 1.0
        ends[high] = End(np.interp(grid, share, s[:, high]), seam, share, wall_tail=tail)
    return ends[0], ends[1]


def leaning_ends(
    canal: Canal, before: Side, after: Side, feet: tuple[float, float], piece: int, rings: int
) -> tuple[End, End]:
    """Return the ends in the corner of two walls that lean: from its foot down, without tails.

    Args:
        canal: The ball on its floor.
        before: Side that ends in the corner.
        after: Side that starts there.
        feet: From `corner_foot`.
        piece: The floor piece under the corner.
        rings: J, parts of the section.

    Returns:
        End of the strip before, and start of the strip after.
    """
    sides = (before, after)
    corner = (before.length, 0.0)
    grid = np.linspace(0.0, 1.0, rings + 1)

    def points(s: Floats) -> tuple[Floats, Floats]:
        one, other = (
            canal.points(*side.at(s[..., i]), piece, grid) for i, side in enumerate(sides)
        )
        return one, other

    phi = float(_opening(canal, before, np.array(feet[:1]), piece)[0])
    out = (1.0 - np.cos(grid * phi)) / (1.0 - math.cos(phi))
    ends = np.array([foot_of_corner(canal, before, feet, piece), feet])
    s, seam = solve_in_plan(points, ends[0] + out[:, None] * (ends[1] - ends[0]))
    first, last = (End(s[:, i], seam, grid, crown=corner[i]) for i in (0, 1))
    return first, last


def foot_of_corner(
    canal: Canal, before: Side, feet: tuple[float, float], piece: int
) -> tuple[float, float]:
    """Return where about the line in which two leaning walls meet reaches the cove, on either side.

    Args:
        canal: The ball on its floor.
        before: Side that ends in the corner.
        feet: From `corner_foot`.
        piece: The floor piece under that side.

    Returns:
        Parameters on both sides [m]; those of the corner itself where walls are upright.
    """
    height = canal.points(*before.at(np.array(feet[:1])), piece, np.zeros(1))[0, 2]
    shift = canal.batter.lean * (canal.batter.top - height) * math.tan(before.turn / 2.0)
    return before.length - shift, shift


def _rises(rings: int, tail: int) -> tuple[Floats, Floats]:
    """Return how far up the points of a seam and its tail stand, the top point left out.

    Returns:
        Shares of the lower cove's phi (k,), and of what the higher one has beyond it (k,).
    """
    seam = np.linspace(0.0, 1.0, rings + 1)[:-1]
    along_tail = 1.0 - np.sqrt(1.0 - np.arange(1, tail) / max(tail, 1))  # evenly in plan
    rise = np.concatenate([seam, [1.0] * bool(tail), np.ones(len(along_tail))])
    return rise, np.concatenate([np.zeros(len(seam)), [0.0] * bool(tail), along_tail])


def _first_guess(
    rise: Floats, beyond: Floats, phi: float, corner: tuple[float, float], feet: tuple[float, float]
) -> Floats:
    """Guess the parameters (k, 2) of a corner's seam: from the corner to the feet as the ball."""
    out = 1.0 - np.cos((1.0 - rise) * (1.0 - beyond) * phi)
    share = out / max(float(out[0]), 1e-12)
    ends = np.array([corner, feet])
    guess: Floats = ends[0] + share[:, None] * (ends[1] - ends[0])
    return guess


def _opening(canal: Canal, side: Side, s: Floats, piece: int) -> Floats:
    return canal.opening(*side.at(s), piece)


def solve_in_plan(
    points: Callable[[Floats], tuple[Floats, Floats]], start: Floats
) -> tuple[Floats, Floats]:
    """Solve for the parameter pairs at which both strips' points have the same plan place.

    Args:
        points: The strips' points (..., k, 3) at parameters (..., k, 2) [m].
        start: First guess (k, 2).

    Returns:
        Parameters (k, 2) and the points there (k, 3).

    Raises:
        NoMitreError: Newton's method does not get there.
    """
    s, moves = start, STEP * np.array([[[0.0, 0.0]], [[1.0, 0.0]], [[0.0, 1.0]]])
    for _ in range(40):
        a, b = points(s + moves)
        gap, *moved = (a - b)[..., :2]
        if np.abs(gap).max() < 1e-9:
            return s, b[0]
        jacobian = np.stack([(item - gap) / STEP for item in moved], axis=-1)
        flat = np.abs(np.linalg.det(jacobian)) < 1e-12
        jacobian[flat] += 1e-6 * np.eye(2)
        s = s - np.linalg.solve(jacobian, gap[:, :, None])[:, :, 0]
    raise NoMitreError


def zipped(a: np.ndarray, at_a: Floats, b: np.ndarray, at_b: Floats) -> np.ndarray:
    """Triangulate between two lines of vertex numbers, the second on the right of the first.

    Args:
        a: (k,) vertex numbers.
        at_a: (k,) where each stands along both lines, rising.
        b: (m,) vertex numbers of the other line.
        at_b: (m,) where those stand.

    Returns:
        (k + m - 2, 3) vertex numbers, anticlockwise.
    """
    i = j = 0
    found = []
    while i < len(a) - 1 or j < len(b) - 1:
        if j == len(b) - 1 or (i < len(a) - 1 and at_a[i + 1] <= at_b[j + 1]):
            found.append((a[i], b[j], a[i + 1]))
            i += 1
        else:
            found.append((a[i], b[j], b[j + 1]))
            j += 1
    return np.array(found).reshape(-1, 3)
