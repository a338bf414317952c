"""From a shape of the pool file to the pieces of its outline."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ..arrays import Floats
from ..design import schema
from ..design.tracing import BulgedSide, NurbsSide, Side, ThroughPoints
from ..errors import Finding, Key, PoolFileError
from .curves import Arc, ClosedSpline, FullEllipse, Line, Piece
from .nurbs import Nurbs
from .ring import turns_of

SAME_POINT = 1e-4
"""[m] Two listed points nearer than this are one point listed twice."""


def loops_of(shape: schema.Shape, key: Key) -> list[list[Piece]]:
    """Return the closed chains of pieces that a shape of the pool file consists of.

    It is refused with a `PoolFileError` where it lists a point twice, or where a corner radius
    does not fit its sides.

    Args:
        shape: From the pool file.
        key: Where it stands in the file, for findings.
    """
    if isinstance(shape, schema.Traced):
        return [_traced(loop, (*key, "file")) for loop in shape.tracing.loops]
    return [_pieces(shape, key)]


def _traced(loop: Sequence[Side], key: Key) -> list[Piece]:
    """Return the pieces of a loop from another file, those of no length left out."""
    if len(loop) > 2:
        loop = [side for side in loop if not _is_crumb(side)]
    pieces: list[Piece] = []
    for side in loop:
        match side:
            case BulgedSide():
                pieces.append(_bulged(np.array(side.start), np.array(side.end), side.bulge))
            case NurbsSide():
                knots, weights = np.array(side.knots), np.array(side.weights)
                spline = Nurbs(side.degree, knots, np.array(side.controls), weights)
                pieces += spline.smooth_parts()
            case ThroughPoints():
                points = np.array(side.points)
                _check_points(points, key)
                pieces.append(ClosedSpline(points))
    return pieces


def _is_crumb(side: Side) -> bool:
    """Whether a side is too short to count."""
    if not isinstance(side, BulgedSide):
        return False
    length = math.dist(side.start, side.end)
    return max(length, abs(side.bulge) * length / 2.0) < SAME_POINT


def _bulged(start: Floats, end: Floats, bulge: float) -> Piece:
    return Arc.by_bulge(start, end, bulge) if abs(bulge) > 1e-9 else Line(start, end)


def _pieces(shape: schema.Shape, key: Key) -> list[Piece]:
    match shape:
        case schema.Polygon():
            points = np.array(shape.points)
            _check_points(points, (*key, "points"))
            return _rounded(points, _corner_radii(shape), (*key, "corner_radius"))
        case schema.Rectangle():
            half = np.array([shape.length, shape.width]) / 2.0
            corners = half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
            points = _turned(corners, shape.rotation) + np.array(shape.centre)
            return _rounded(points, np.full(4, shape.corner_radius), (*key, "corner_radius"))
        case schema.Polyline():
            points = np.array([item[:2] for item in shape.points])
            _check_points(points, (*key, "points"))
            bulges = [item[2] if len(item) == 3 else 0.0 for item in shape.points]
            ends = np.roll(points, -1, axis=0)
            return [_bulged(a, b, bulge) for a, b, bulge in zip(points, ends, bulges, strict=True)]
        case schema.Spline():
            points = np.array(shape.points)
            _check_points(points, (*key, "points"))
            return [ClosedSpline(points)]
        case schema.Ellipse():
            semi = (shape.length / 2.0, shape.width / 2.0)
            return [FullEllipse(np.array(shape.centre), semi, math.radians(shape.rotation))]
        case schema.Circle():
            return [Arc(np.array(shape.centre), shape.radius, 0.0, 2.0 * math.pi)]
    msg = f"no shape of its own: {shape.shape}"
    raise TypeError(msg)


def _turned(points: Floats, degrees: float) -> Floats:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    turned: Floats = points @ np.array([[c, s], [-s, c]])
    return turned


def _corner_radii(shape: schema.Polygon) -> Floats:
    return np.broadcast_to(np.asarray(shape.corner_radius, dtype=float), len(shape.points))


def _rounded(points: Floats, radii: Floats, key: Key) -> list[Piece]:
    """Straight sides with an arc of the given radius, tangent to both, in each corner."""
    sides = np.roll(points, -1, axis=0) - points
    reach = np.hypot(*sides.T)
    along = sides / reach[:, None]
    before = np.roll(along, 1, axis=0)
    turns = turns_of(points)
    cut = radii * np.tan(np.abs(turns) / 2.0)
    over = cut + np.roll(cut, -1) - reach
    if np.any(over > 1e-9) or not np.all(np.isfinite(cut)):
        side = int(np.argmax(over))
        share = reach[side] / max(float(cut[side] + np.roll(cut, -1)[side]), 1e-12)
        rule = f"must fit its sides: the arcs at the ends of side {side + 1} overlap"
        came = f"{max(radii[side], radii[(side + 1) % len(radii)]):.3f} m"
        fits = share * max(radii[side], radii[(side + 1) % len(radii)])
        raise PoolFileError(
            [Finding(key, rule, came, f"use at most {math.floor(fits * 1e3) / 1e3:.3f} m there")]
        )
    pieces: list[Piece] = []
    for i, point in enumerate(points):
        start, end = point - before[i] * cut[i], point + along[i] * cut[i]
        if cut[i] > 1e-9:
            left = np.array([-before[i][1], before[i][0]]) * math.copysign(1.0, turns[i])
            centre = start + left * radii[i]
            first = math.atan2(*(start - centre)[::-1])
            pieces.append(Arc(centre, float(radii[i]), first, float(turns[i])))
        j = (i + 1) % len(points)
        stop = points[j] - along[i] * cut[j]
        if np.hypot(*(stop - end)) > 1e-9:
            pieces.append(Line(end, stop))
    return pieces


def _check_points(points: Floats, key: Key) -> None:
    gaps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    findings = [
        Finding(
            (*key, int(i)),
            "must differ from the point after it",
            f"({points[i][0]:.3f}, {points[i][1]:.3f}) m twice",
            "list each point once; the outline closes by itself",
        )
        for i in np.flatnonzero(gaps < SAME_POINT)
    ]
    if findings:
        raise PoolFileError(findings)
