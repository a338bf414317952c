"""Corner coves in plan: the inside corners of an outline rounded by arcs tangent to both sides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from ..errors import Finding, Key, PoolFileError
from .curves import Arc, Piece
from .ring import signed_area
from .rounds import Round
from .tolerances import CORNER

CLOSE = 1e-10
"""[m] The centres that two sides give for one arc agree when they are nearer than this."""

MOST_STEPS = 50
"""[-] Newton finds the place of an arc in a few steps; where it takes more there is none."""

HALVINGS = 24
"""[-] Of the radius, in search of the largest that fits: to a millionth of it."""


@dataclass(frozen=True)
class Corners:
    """What is wanted in the inside corners of an outline.

    Args:
        radius: Of the arcs [m].
        key: The radius's key, for findings.
        straight: Whether the corners are cut off from place to place at which the arcs touch.
    """

    radius: float
    key: Key = ("cove", "corners")
    straight: bool = False


def rounded(
    loop: Sequence[Piece], corners: Corners, tolerance: float, *, is_hole: bool = False
) -> tuple[list[Piece], list[Piece], tuple[Round, ...]]:
    """Round the inside corners of a closed chain of pieces.

    ::

        ______          inside: the water is within the angle
        |   .'          the arc touches both sides, straight or curved
        | .'  water

    Args:
        loop: Its pieces, either way round.
        corners: What is wanted in its corners.
        tolerance: Largest distance of a chord from its curve [m].
        is_hole: Whether the water lies outside.

    Returns:
        The pieces with the arcs, or their chords, among them; all of the loop, parted where these
        touch it; and the corner coves.

    Raises:
        PoolFileError: An arc does not fit its sides.
    """
    points = np.concatenate([piece.flatten(tolerance).points[:-1] for piece in loop])
    inside = (1.0 if signed_area(points) > 0.0 else -1.0) * (-1.0 if is_hole else 1.0)
    at = [k for k in range(len(loop)) if inside * _turn(loop[k - 1], loop[k]) >= CORNER - 1e-9]
    radius = corners.radius
    bad = _misfit(loop, at, radius)
    if bad is not None:
        low, high = 0.0, radius
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            fits = _misfit(loop, at, middle) is None
            low, high = (middle, high) if fits else (low, middle)
        x, y = bad
        most = math.floor(low * 1000.0) / 1000.0
        rule = f"must fit the sides of the corner near ({x:.3f}, {y:.3f}) m"
        remedy = f"use at most {most:.3f} m" if most > 0.0 else "leave the corners sharp"
        raise PoolFileError([Finding(corners.key, rule, f"{radius:.3f} m", remedy)])
    spans = _spans(loop, at, radius)
    pieces: list[Piece] = []
    whole: list[Piece] = []
    found: list[Round] = []
    for k, piece in enumerate(loop):
        if k in at:
            arc = _arc(loop[k - 1], spans[k - 1][1], piece, spans[k][0], radius)
            found.append(Round(arc, corners.straight))
            pieces.append(found[-1].piece)
        (low, high), (first, last) = piece.domain, spans[k]
        pieces.append(piece.part(first, last))
        parts = ((low, first), (first, last), (last, high))
        whole += [piece.part(*item) for item in parts if item[1] > item[0]]
    return pieces, whole, tuple(found)


def _tangent(piece: Piece, at: float) -> Floats:
    velocity = piece.at(np.array([at]), 1)[0]
    found: Floats = velocity / np.hypot(*velocity)
    return found


def _turn(before: Piece, after: Piece) -> float:
    """Return the turn from the end of one piece to the start of the next, left positive [rad]."""
    a, b = _tangent(before, before.domain[1]), _tangent(after, after.domain[0])
    return math.atan2(a[0] * b[1] - a[1] * b[0], float(a @ b))


def _centre(piece: Piece, at: float, offset: float) -> tuple[Floats, Floats]:
    """Return the point at a distance to the left of a piece, and how it moves with the place."""
    t = np.array([at])
    point, velocity, bend = (piece.at(t, order)[0] for order in (0, 1, 2))
    speed = np.hypot(*velocity)
    left = np.array([-velocity[1], velocity[0]]) / speed
    curvature = (velocity[0] * bend[1] - velocity[1] * bend[0]) / speed**3
    return point + offset * left, velocity * (1.0 - offset * curvature)


def _places(before: Piece, after: Piece, radius: float) -> tuple[float, float] | None:
    """Return where the arc touches two pieces, by Newton's method; None where it does nowhere."""
    turn = _turn(before, after)
    offset = math.copysign(radius, turn)
    cut = radius * math.tan(abs(turn) / 2.0)
    a, b = before.domain[1], after.domain[0]
    a -= cut / float(np.hypot(*before.at(np.array([a]), 1)[0]))
    b += cut / float(np.hypot(*after.at(np.array([b]), 1)[0]))
    for _ in range(MOST_STEPS):
        (one, one_moves), (other, other_moves) = (
            _centre(before, a, offset), _centre(after, b, offset),
        )  # fmt: skip
        apart = other - one
        if np.hypot(*apart) < CLOSE:
            return a, b
        moves = np.column_stack([one_moves, -other_moves])
        if abs(np.linalg.det(moves)) < CLOSE:
            return None
        step = np.linalg.solve(moves, apart)
        a, b = a + float(step[0]), b + float(step[1])
    return None


def _spans(
    loop: Sequence[Piece], corners: Sequence[int], radius: float
) -> list[tuple[float, float]]:
    """Return the places between which each piece is left; nan where an arc fits nowhere."""
    bounds = [list(piece.domain) for piece in loop]
    for k in corners:
        bounds[k - 1][1], bounds[k][0] = _places(loop[k - 1], loop[k], radius) or (
            math.nan, math.nan,
        )  # fmt: skip
    return [(start, end) for start, end in bounds]


def _misfit(loop: Sequence[Piece], corners: Sequence[int], radius: float) -> Floats | None:
    """Return a corner whose arc does not fit its sides (2,) [m]; None where all do."""
    spans = _spans(loop, corners, radius)
    for k in corners:
        for side in (k - 1, k):
            (start, end), (low, high) = spans[side], loop[side].domain
            if not (low <= start < end <= high):
                point: Floats = loop[k].at(np.array([loop[k].domain[0]]))[0]
                return point
    return None


def _arc(before: Piece, leaves: float, after: Piece, arrives: float, radius: float) -> Arc:
    """Return the arc from a place on one piece to a place on the next."""
    offset = math.copysign(radius, _turn(before, after))
    centre, _ = _centre(before, leaves, offset)
    start, end = (
        math.atan2(*(piece.at(np.array([at]))[0] - centre)[::-1])
        for piece, at in ((before, leaves), (after, arrives))
    )
    sweep = (end - start) % (2.0 * math.pi)
    return Arc(centre, radius, start, sweep if offset > 0.0 else sweep - 2.0 * math.pi)
