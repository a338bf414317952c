"""Where true curves cross, and where one ends on another: by Newton's method, not on chords."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats
from .curves import Piece
from .tolerances import WELD

DETECT = 1e-5
"""[m] Chords this near to the curves tell where to look for a crossing."""

MEET = 1e-8
"""[m] Two places of two curves nearer than this are one."""

SLIGHT = 1e-4
"""[-] Curves that cross at a smaller angle (sine) do not cross: they touch, or run together."""

MOST_STEPS = 40
"""Most steps of Newton's method; a crossing that is not slight needs less than ten."""


@dataclass(frozen=True)
class Fine:
    """The chords of several pieces, fine enough to look for crossings.

    Args:
        pieces: The curves.
        segments: (k, 2, 2) all their chords [m].
        piece: (k,) the piece of each.
        places: (k, 2) parameters of its ends on it.
    """

    pieces: Sequence[Piece]
    segments: Floats
    piece: np.ndarray
    places: Floats

    @classmethod
    def of(cls, pieces: Sequence[Piece]) -> Fine:
        """Flatten pieces."""
        flat = [item.flatten(DETECT) for item in pieces]
        counts = [len(item.lengths) for item in flat]
        return cls(
            pieces,
            np.concatenate([np.stack([c.points[:-1], c.points[1:]], axis=1) for c in flat]),
            np.repeat(np.arange(len(pieces)), counts),
            np.concatenate([np.column_stack([c.places[:-1], c.places[1:]]) for c in flat]),
        )

    @classmethod
    def joined(cls, parts: Sequence[Fine]) -> Fine:
        """Return the chords of several lots of pieces as one."""
        first = np.cumsum([0, *(len(item.pieces) for item in parts)])
        return cls(
            [piece for item in parts for piece in item.pieces],
            np.concatenate([item.segments for item in parts]),
            np.concatenate([item.piece + k for item, k in zip(parts, first, strict=False)]),
            np.concatenate([item.places for item in parts]),
        )


def cuts_of(fine: Fine, shape: np.ndarray) -> list[Floats]:
    """Find the places of each piece at which a piece of another shape crosses it or ends on it.

    Args:
        fine: Pieces of several shapes.
        shape: (pieces,) the shape that each belongs to.

    Returns:
        For each piece the parameters at which to cut it, its two ends included, rising. Places of
        which the points are nearer to each other than `WELD` are one, an end if one is an end.
    """
    lines = shapely.linestrings(fine.segments)
    one, other = shapely.STRtree(lines).query(lines, predicate="dwithin", distance=3.0 * DETECT)
    apart = shape[fine.piece[one]] != shape[fine.piece[other]]
    one, other = one[apart], other[apart]
    found: list[list[float]] = [[] for _ in fine.pieces]
    for i, j in zip(one[one < other].tolist(), other[one < other].tolist(), strict=True):
        if (meeting := _crossing(fine, i, j)) is not None:
            for k, place in zip((i, j), meeting, strict=True):
                found[fine.piece[k]].append(place)
    _add_ends(fine, one, other, found)
    return [_spread(piece, item) for piece, item in zip(fine.pieces, found, strict=True)]


def _crossing(fine: Fine, i: int, j: int) -> tuple[float, float] | None:
    """Return where two pieces cross, at or near two of their chords; None where they do not."""
    a, b = (fine.pieces[fine.piece[k]] for k in (i, j))
    low = np.array([fine.places[i, 0], fine.places[j, 0]])
    span = np.array([fine.places[i, 1], fine.places[j, 1]]) - low
    domain = np.array([a.domain, b.domain])
    x = low + span / 2.0
    for _ in range(MOST_STEPS):
        p, q = a.at(x[:1])[0], b.at(x[1:])[0]
        u, v = a.at(x[:1], 1)[0], b.at(x[1:], 1)[0]
        cross = u[0] * v[1] - u[1] * v[0]
        if abs(cross) <= SLIGHT * np.hypot(*u) * np.hypot(*v):
            return None
        gap = q - p
        step = np.array([gap[0] * v[1] - gap[1] * v[0], gap[0] * u[1] - gap[1] * u[0]]) / cross
        x = np.clip(x + step, domain[:, 0], domain[:, 1])
        if np.all(np.abs(step) < 1e-14 * np.maximum(1.0, np.abs(x))):
            break
    near = np.abs(x - low - span / 2.0) <= 1.5 * np.abs(span)
    if not near.all() or np.hypot(*(a.at(x[:1]) - b.at(x[1:]))[0]) > MEET:
        return None
    return float(x[0]), float(x[1])


def _add_ends(fine: Fine, one: np.ndarray, other: np.ndarray, found: list[list[float]]) -> None:
    """Add to each piece the places on which pieces of other shapes end."""
    for end in (0, 1):
        at_end = fine.places[one, end] == np.array(
            [fine.pieces[k].domain[end] for k in fine.piece[one]]
        )
        for i, j in zip(one[at_end].tolist(), other[at_end].tolist(), strict=True):
            piece = fine.pieces[fine.piece[j]]
            place = _foot(piece, fine.segments[i, end], float(fine.places[j].mean()))
            if place is not None:
                found[fine.piece[j]].append(place)


def _foot(piece: Piece, point: Floats, place: float) -> float | None:
    """Return the place of a piece at which a point lies on it; None where it does not."""
    t = np.array([place])
    low, high = piece.domain
    for _ in range(MOST_STEPS):
        away, speed, bend = piece.at(t)[0] - point, piece.at(t, 1)[0], piece.at(t, 2)[0]
        slope = speed @ speed + away @ bend
        step = (away @ speed) / (slope if slope > 0.0 else speed @ speed)
        t = np.clip(t - step, low, high)
        if abs(step) < 1e-14 * max(1.0, abs(t[0])):
            break
    return float(t[0]) if np.hypot(*(piece.at(t)[0] - point)) < WELD / 2.0 else None


def _spread(piece: Piece, found: Sequence[float]) -> Floats:
    """Return places in order, with both ends and without those too near to the one before."""
    low, high = piece.domain
    places = np.array([low, *sorted(found), high])
    points = piece.at(places)
    kept = [0]
    for i in range(1, len(places) - 1):
        if min(np.hypot(*(points[i] - points[k])) for k in (kept[-1], -1)) > WELD:
            kept.append(i)
    return places[[*kept, len(places) - 1]]
