"""How far collars stay from edges and from each other, each in the plane that it lies in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..placed import Placed
from .borders import Borders

TOUCH = 1e-4
"""[m] Collars may reach over an edge, or over each other, by less: they touch."""

SAME_FACE = 0.7
"""[-] Cosine of the angle between two fittings that can be in each other's way."""

ARC_STEPS = 32
"""Chords in a quarter of a round collar, when it is compared with a rectangular one."""


@dataclass(frozen=True)
class Frames:
    """The planes of fittings: middles, and unit vectors across, upward and out of each.

    Args:
        centre: (k, 3) [m].
        axes: (k, 3, 3) unit vectors as rows.
        half: (k, 2) half of the collars' sizes [m].
        is_round: (k,).
    """

    centre: Floats
    axes: Floats
    half: Floats
    is_round: Bools

    @property
    def reach(self) -> Floats:
        """(k,) Largest distance of a collar's edge from its middle [m]."""
        found: Floats = np.where(self.is_round, self.half[:, 0], np.hypot(*self.half.T))
        return found

    def seen(self, rows: Ints, points: Floats) -> Floats:
        """Return points (p, 3) in the planes of fittings (p,), laid flat where those are curved.

        On a curved face the way to a point is about as long as the chord to it.

        Returns:
            (p, 3) across, upward, and out of the plane [m].
        """
        u, v, w = np.einsum("pij,pj->ip", self.axes[rows], points - self.centre[rows])
        return np.column_stack([np.copysign(np.hypot(u, w), u), v, w])


def frames_of(fittings: Sequence[Placed]) -> Frames:
    """Return the planes of fittings."""
    return Frames(
        np.array([item.point for item in fittings]),
        np.array([[item.across, item.upward, item.normal] for item in fittings]),
        np.array([item.half for item in fittings]),
        np.array([item.is_round for item in fittings]),
    )


def over_edges(
    frames: Frames, patch: Ints, borders: Borders
) -> list[tuple[int, int, float, Floats]]:
    """Find collars that reach over edges of the face that they lie on.

    Args:
        frames: Of the fittings.
        patch: (k,) the patch of each.
        borders: Edges of these patches.

    Returns:
        For each fitting and each patch beyond an edge that it reaches over: number of the fitting,
        of that patch, how far [m], and where (3,).
    """
    middle = borders.ends.mean(axis=1)
    half = np.linalg.norm(borders.ends[:, 1] - borders.ends[:, 0], axis=1) / 2.0
    mine = (borders.patches[:, 0] == patch[:, None]) | (borders.patches[:, 1] == patch[:, None])
    away = np.linalg.norm(frames.centre[:, None] - middle, axis=2)
    rows, edge = np.nonzero(mine & (away < frames.reach[:, None] + half))
    ends = borders.ends[edge]
    start, stop = (frames.seen(rows, ends[:, i]) for i in (0, 1))
    share, over = _deepest(start, stop - start, frames.half[rows], frames.is_round[rows])
    out = start[:, 2] + share * (stop - start)[:, 2]
    kept = np.flatnonzero((over > TOUCH) & (np.abs(out) < frames.reach[rows]))
    places = ends[:, 0] + share[:, None] * (ends[:, 1] - ends[:, 0])
    pair = borders.patches[edge]
    beyond = np.where(pair[:, 0] == patch[rows], pair[:, 1], pair[:, 0])
    worst: dict[tuple[int, int], int] = {}
    for i in kept[np.argsort(over[kept])].tolist():
        worst[int(rows[i]), int(beyond[i])] = i
    return [(k, n, float(over[i]), places[i]) for (k, n), i in sorted(worst.items())]


def _deepest(start: Floats, way: Floats, half: Floats, is_round: Bools) -> tuple[Floats, Floats]:
    """Return where segments come farthest into collars about the origin, and how far.

    Args:
        start: (p, 3) where each starts; the first two coordinates count [m].
        way: (p, 3) from there to its end.
        half: (p, 2) half of the collar's sizes.
        is_round: (p,).

    Returns:
        (p,) share of the segment, (p,) how far into the collar it comes [m]; below 0 outside.
    """
    (x, y, _), (dx, dy, _), (a, b) = start.T, way.T, half.T
    square = np.maximum(dx * dx + dy * dy, 1e-30)
    foot = np.clip(-(x * dx + y * dy) / square, 0.0, 1.0)
    # of the four sides' distances two are equal at the deepest place, or it is an end
    with np.errstate(divide="ignore", invalid="ignore"):
        meets = [-x / dx, -y / dy, (a - b - x + y) / (dx - dy), (a - b + x - y) / (dy - dx),
                 (a - b - x - y) / (dx + dy), (b - a - x - y) / (dx + dy)]  # fmt: skip
    shares = np.clip(np.nan_to_num(np.stack([*meets, 0.0 * x, 0.0 * x + 1.0])), 0.0, 1.0)
    into = np.minimum(a - np.abs(x + shares * dx), b - np.abs(y + shares * dy))
    best = np.argmax(into, axis=0)
    rows = np.arange(len(x))
    share = np.where(is_round, foot, shares[best, rows])
    depth = np.where(is_round, a - np.hypot(x + foot * dx, y + foot * dy), into[best, rows])
    return share, depth


def overlaps(frames: Frames) -> list[tuple[int, int]]:
    """Return the pairs of fittings whose collars overlap, the earlier first."""
    apart = np.linalg.norm(frames.centre[:, None] - frames.centre, axis=2)
    near = apart < frames.reach[:, None] + frames.reach
    near &= frames.axes[:, 2] @ frames.axes[:, 2].T > SAME_FACE
    one, other = np.nonzero(np.triu(near, 1))
    if not len(one):
        return []
    u, v, w = frames.seen(one, frames.centre[other]).T
    level = np.abs(w) < np.minimum(frames.reach[one], frames.reach[other])
    both = frames.is_round[one] & frames.is_round[other]
    gap = np.hypot(u, v) - frames.half[one, 0] - frames.half[other, 0]
    for i in np.flatnonzero(level & ~both).tolist():
        mine, theirs = _outline(frames, one[i]), _outline(frames, other[i])
        turned = frames.axes[other[i], :2] @ frames.axes[one[i], :2].T
        turned /= np.linalg.norm(turned, axis=1)[:, None]
        shapes = shapely.Polygon(mine), shapely.Polygon([u[i], v[i]] + theirs @ turned)
        shared = shapely.intersection(*shapes)
        box = shared.bounds if not shared.is_empty else (0.0, 0.0, 0.0, 0.0)
        gap[i] = -min(box[2] - box[0], box[3] - box[1])
    found = level & (gap < -TOUCH)
    return list(zip(one[found].tolist(), other[found].tolist(), strict=True))


def _outline(frames: Frames, k: int) -> Floats:
    """Return the outer edge of a collar about its middle (n, 2) [m]."""
    if frames.is_round[k]:
        turn = np.linspace(0.0, 2.0 * np.pi, 4 * ARC_STEPS, endpoint=False)
        return np.asarray(frames.half[k, 0] * np.column_stack([np.cos(turn), np.sin(turn)]))
    return np.asarray(frames.half[k] * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]], dtype=float))
