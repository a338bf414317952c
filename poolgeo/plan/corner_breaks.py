"""Where two coves meet over a break of the floor at an outside plan corner.

There the seam lies on either wall or in the pivot, or runs from one into the next. So both walls
and the pivot are taken as one side (`Swing`). Each cove is a height over the plan; the seam is
where both are equally high, looked for ring by ring along the cove that reaches out less far on the
floor. Either cove ends there in a **patch**: rows of points from a plain section to the seam.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .breaks import NO_FLAP, on_break
from .mitre import TAIL, NoMitreError, Patch, zipped
from .stations import LEAST_STEP
from .swing import Swing
from .triangles import triangulate

Window = tuple[float, float]
"""From where to where something is looked for [m]."""

CLOSE = 1.2
"""[-] So many radii beside a corner the ball goes over a break at the corner."""

LOOKS = (49, *[9] * 6)
"""Places at which a sign is looked at, ever closer: to less than a tenth of a micrometre, between
which what is looked at is straight."""

WINDOW = 1.5
"""[-] So many radii beyond where the ball goes over, and beyond the corner, the seam is found."""

NO_TAIL = 5e-4
"""[m] Two coves whose feet stand nearer to each other than this end in one point."""


MARGIN = 0.25
"""[-] So many radii off the seam, or beyond the corner, the plain section stands at most."""

LEAST_MARGIN = 0.05
"""[-] It stands at least so many radii off the seam and off either end of the pivot."""


@dataclass(frozen=True)
class Seam:
    """Where two coves meet, as one of them sees it.

    Args:
        points: (k, 3) from the wall to the floor [m].
        s: (j,) parameters on this cove [m]: all, or fewer where there is a flap.
        share: (j,) shares of its section.
        tail: How many of the last lie in the other's floor.
        flap: Where its own floor goes on beyond the seam, up to the points beyond the j-th: the
            parameter at which its foot crosses the break line [m].
    """

    points: Floats
    s: Floats
    share: Floats
    tail: int = 0
    flap: float | None = None

    @property
    def reach(self) -> Floats:
        """Parameters between which a whole section would run into it, or into its flap [m]."""
        return self.s if self.flap is None else np.append(self.s, self.flap)


def seams_at(swings: tuple[Swing, Swing], at: float, rings: int) -> tuple[Seam, Seam]:
    """Return the seam of two coves as either of them sees it.

    Args:
        swings: The ball over the piece before the break, and over that after it.
        at: Where it goes over from one to the other [m].
        rings: J, parts of the section.

    Returns:
        As the cove before the break sees it, and as that after it does.

    Raises:
        NoMitreError: They do not meet near there.
    """
    floor, side = swings[0].canal.floor, swings[0].side
    pieces = (swings[0].piece, swings[1].piece)
    reach = WINDOW * swings[0].radius
    window = (
        max(min(at, 0.0) - reach, float(side.s[0])),
        min(max(at, swings[0].pivot) + reach, side.length),
    )
    start = side.at(np.array([at]))[0][0]
    ends, feet = zip(*(_foot(swing, pieces, at, window) for swing in swings), strict=True)
    outs = [math.dist(foot[:2], start) for foot in feet]
    low = int(outs[1] < outs[0])  # the cove that reaches out less far on the floor
    high = 1 - low
    has_tail = outs[high] - outs[low] > NO_TAIL and not swings[0].canal.straight
    grid = np.linspace(0.0, 1.0, rings + 1)
    own = _level_with(swings[low], swings[high], grid[1:] if has_tail else grid[1:-1], at, window)
    points = swings[low].points(own, grid[1 : len(own) + 1])
    other, share = _seen_by(swings[high], points[:, :2], own, window)
    if has_tail:
        beyond = np.linspace(share[-1], 1.0, TAIL + 1)[1:-1]
        tail = _on_floor(swings[high], swings[low], beyond, float(other[-1]), window)
        points = np.vstack([points, swings[high].points(tail, beyond)])
        other, share = np.append(other, tail), np.append(share, beyond)
    else:  # both end at one point on the floor
        own = np.append(own, ends[low])
    foot = on_break(floor, feet[high] if has_tail else (feet[0] + feet[1]) / 2.0, pieces)
    walls = (at, at) if swings[0].off(at) > 0.0 else (0.0, swings[1].pivot)
    heights = [float(swing.height(s)) for swing, s in zip(swings, walls, strict=True)]
    seam = np.vstack([[*start, sum(heights) / 2.0], points, foot])
    share = np.concatenate([[0.0], share, [1.0]])
    if np.any(np.diff(share) <= 0.0):
        raise NoMitreError
    flap, apart = None, np.abs(floor.off_break(seam[rings:, :2], pieces)[0])
    if apart.max() < NO_FLAP:
        seam[rings:, 2] = floor.height_of(seam[rings:, :2], pieces[low])
    elif has_tail and not floor.creases.get((min(pieces), max(pieces)), True):
        flap = ends[low]
    own, other = np.append(at, own), np.concatenate([[at], other, [ends[high]]])
    found = {
        low: Seam(seam if flap is not None else seam[: rings + 1], own, grid, flap=flap),
        high: Seam(seam, other, share, TAIL if has_tail and flap is None else 0),
    }
    return found[0], found[1]


def _foot(swing: Swing, pieces: tuple[int, int], at: float, window: Window) -> tuple[float, Floats]:
    """Return the parameter at which a cove's foot crosses a break line, and the foot (3,) there."""

    def off(s: Floats) -> Floats:
        return swing.canal.floor.off_break(swing.foot(s)[..., :2], pieces)[0]

    s = _roots(off, window, np.array([at]))
    return float(s[0]), swing.foot(s)[0]


def _level_with(swing: Swing, other: Swing, share: Floats, at: float, window: Window) -> Floats:
    """Return the parameters (k,) at which rings of a cove are as high as another cove."""

    def over(s: Floats) -> Floats:
        points = swing.points(s, share[:, None])
        found: Floats = points[..., 2] - other.over(points[..., :2])
        return found

    return _roots(over, window, np.full(len(share), at))


def _seen_by(swing: Swing, xy: Floats, near: Floats, window: Window) -> tuple[Floats, Floats]:
    """Return the parameters (k,) of points (k, 2) on a cove, and their shares of its section."""

    def aside(s: Floats) -> Floats:
        p, _ = swing.side.at(s)
        out, to = swing.foot(s)[..., :2] - p, xy[:, None] - p
        found: Floats = out[..., 0] * to[..., 1] - out[..., 1] * to[..., 0]
        return found

    s = _roots(aside, window, near)
    return s, swing.share_of(xy, s)


def _on_floor(swing: Swing, other: Swing, share: Floats, near: float, window: Window) -> Floats:
    """Return the parameters (k,) at which rings of a cove run into the floor of another."""

    def above(s: Floats) -> Floats:
        points = swing.points(s, share[:, None])
        found: Floats = points[..., 2] - swing.canal.floor.height_of(points[..., :2], other.piece)
        return found

    return _roots(above, window, np.full(len(share), near))


def _roots(value: Callable[[Floats], Floats], window: Window, near: Floats) -> Floats:
    """Return where functions change sign, the place nearest to a guess.

    Args:
        value: The functions, (k, m) of (k, m).
        window: From where to where.
        near: (k,) the guesses.

    Raises:
        NoMitreError: One does so nowhere.
    """
    if not len(near):
        return near
    low, high = (np.full(len(near), end) for end in window)
    for looks in LOOKS:
        s = np.linspace(low, high, looks, axis=1)
        v = np.atleast_2d(value(s))
        changes = (v[:, 1:] > 0.0) != (v[:, :-1] > 0.0)
        if not changes.any(axis=1).all():
            raise NoMitreError
        off = np.where(changes, np.abs((s[:, 1:] + s[:, :-1]) / 2.0 - near[:, None]), np.inf)
        rows, k = np.arange(len(near)), off.argmin(axis=1)
        low, high = s[rows, k], s[rows, k + 1]
    a, b = v[rows, k], v[rows, k + 1]
    found: Floats = low + (high - low) * a / (a - b)
    return found


def section_beside(swing: Swing, seam: Seam, way: int) -> float:
    """Return the parameter of the plain section at which a patch begins.

    Args:
        swing: The ball about the corner.
        seam: The seam as this cove sees it.
        way: On which side of the seam it lies: -1 before, 1 after.
    """
    off = -float(seam.reach.min()) if way < 0 else float(seam.reach.max()) - swing.pivot
    for edge in (-swing.pivot, 0.0):  # of the pivot: short of either, if there is room
        if edge - off > 2.0 * LEAST_MARGIN * swing.radius:
            off += min(MARGIN * swing.radius, (edge - off) / 2.0)
            break
    else:
        off = max(off, 0.0) + MARGIN * swing.radius
    return -off if way < 0 else swing.pivot + off


def patch_of(swing: Swing, seam: Seam, column: Floats, at: float) -> Patch:
    """Return what of a cove lies between a plain section and a seam.

    Args:
        swing: The ball about the corner.
        seam: The seam as this cove sees it.
        column: (J + 1, 3) the section [m].
        at: Its parameter [m].
    """
    way = 1 if at < seam.s.min() else -1  # the seam lies ahead of the section, or behind it
    stop = way * seam.s
    across = _columns(swing, seam, way, way * at)
    cells = swing.points(way * across, seam.share[:, None])
    vertices = np.vstack([column, cells.reshape(-1, 3), seam.points])
    number = len(column) + np.arange(cells[..., 0].size).reshape(cells.shape[:2])
    ends = len(column) + number.size + np.arange(len(seam.points))
    rows, along = [], []
    for ids, end, limit in zip(number, ends, stop, strict=False):
        inside = across < limit
        kept = _apart(vertices[np.append(ids[inside], end), :2], way * across == seam.flap)
        rows.append(np.append(ids[inside], end)[kept])
        along.append(np.append(across[inside], limit)[kept])
    first, grid = np.arange(len(column)), np.linspace(0.0, 1.0, len(column))
    triangles = [zipped(first, grid, number[:, 0], seam.share)]
    triangles += [zipped(rows[j], along[j], rows[j - 1], along[j - 1]) for j in range(1, len(rows))]
    foot = np.append(rows[-1], ends[len(rows) - 1 - seam.tail : -1][::-1])
    found = np.vstack(triangles)[:, ::way]
    if seam.flap is not None:
        k = int(np.argmin(np.abs(along[-1] - way * seam.flap)))
        flap = np.append(rows[-1][k:], ends[len(rows) :])[::way]
        found = np.vstack([found, triangulate(vertices[:, :2], [[flap]], np.array([True]))])
        foot = foot[: k + 1]
    wall, floor = (np.append(at_column, line)[::way]
                   for at_column, line in ((0, rows[0]), (len(column) - 1, foot)))  # fmt: skip
    used = np.unique(found)
    triangles_used, wall, floor = (np.searchsorted(used, ids) for ids in (found, wall, floor))
    return Patch(vertices[used], triangles_used, wall, floor, swing.side.at(seam.s[:1]))


def _columns(swing: Swing, seam: Seam, way: int, start: float) -> Floats:
    """Return where columns of a patch stand, the one nearest to the plain section first."""
    places = [*swing.side.s.tolist(), -swing.touch, swing.pivot + swing.touch]
    if seam.flap is not None:
        places.append(seam.flap)
    stop, across = way * seam.s, np.unique(way * np.array(places))
    across = across[(across > start + LEAST_STEP) & (across < stop.max())]
    clear = float((way * seam.reach).min())
    if not len(across) or across[0] > clear - LEAST_STEP:  # every row needs one
        across = np.append((start + clear) / 2.0, across)
    return across


def _apart(points: Floats, needed: Ints) -> list[int]:
    """Return which points (k, 2) of a row to keep: the last, the first, and what is not crowded."""
    kept = [len(points) - 1]
    for k in range(len(points) - 2, -1, -1):
        gap = math.dist(points[k], points[kept[-1]])
        if k == 0 or needed[k] or not 0.0 < gap < LEAST_STEP:
            kept.append(k)
    return kept[::-1]
