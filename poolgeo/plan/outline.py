"""From the outline of a pool file to its ring."""

from __future__ import annotations

import math

import numpy as np
import shapely

from ..design import schema
from ..errors import Finding, Key, PoolFileError
from .curves import Arc, ClosedSpline, Floats, FullEllipse, Line, Piece
from .ring import Ring, ring_of, turns_of

SAME_POINT = 1e-4
"""[m] Two listed points nearer than this are one point listed twice."""


def outline_ring(outline: schema.Outline, tolerance: float, key: Key) -> Ring:
    """Return the outline as a ring.

    It is refused with a `PoolFileError` where it crosses itself, lists a point twice or encloses
    nothing, or where a corner radius does not fit its sides.

    Args:
        outline: From the pool file.
        tolerance: Largest distance of a chord from the curve [m].
        key: Where the outline stands in the file, for findings.
    """
    ring = ring_of(_pieces(outline, key), tolerance)
    _check_simple(ring, key)
    return ring


def _pieces(outline: schema.Outline, key: Key) -> list[Piece]:
    match outline:
        case schema.Polygon():
            points = np.array(outline.points)
            _check_points(points, (*key, "points"))
            return _rounded(points, _corner_radii(outline), (*key, "corner_radius"))
        case schema.Rectangle():
            half = np.array([outline.length, outline.width]) / 2.0
            corners = half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
            points = _turned(corners, outline.rotation) + np.array(outline.centre)
            return _rounded(points, np.full(4, outline.corner_radius), (*key, "corner_radius"))
        case schema.Polyline():
            points = np.array([item[:2] for item in outline.points])
            _check_points(points, (*key, "points"))
            bulges = [item[2] if len(item) == 3 else 0.0 for item in outline.points]
            ends = np.roll(points, -1, axis=0)
            return [
                Arc.by_bulge(a, b, bulge) if abs(bulge) > 1e-9 else Line(a, b)
                for a, b, bulge in zip(points, ends, bulges, strict=True)
            ]
        case schema.Spline():
            points = np.array(outline.points)
            _check_points(points, (*key, "points"))
            return [ClosedSpline(points)]
        case schema.Ellipse():
            semi = (outline.length / 2.0, outline.width / 2.0)
            return [FullEllipse(np.array(outline.centre), semi, math.radians(outline.rotation))]
        case schema.Circle():
            return [Arc(np.array(outline.centre), outline.radius, 0.0, 2.0 * math.pi)]


def _turned(points: Floats, degrees: float) -> Floats:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    turned: Floats = points @ np.array([[c, s], [-s, c]])
    return turned


def _corner_radii(outline: schema.Polygon) -> Floats:
    return np.broadcast_to(np.asarray(outline.corner_radius, dtype=float), len(outline.points))


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


def _check_simple(ring: Ring, key: Key) -> None:
    if not ring.polygon.is_valid:
        reason = shapely.is_valid_reason(ring.polygon)
        place = reason[reason.find("[") + 1 : -1].split()
        where = f" near ({float(place[0]):.3f}, {float(place[1]):.3f}) m" if len(place) > 1 else ""
        raise PoolFileError(
            [
                Finding(
                    key,
                    "must not cross or touch itself",
                    f"a crossing{where}",
                    "check the order of the points and the size of the bulges",
                )
            ]
        )
    if ring.polygon.area < 0.01:
        raise PoolFileError(
            [
                Finding(
                    key,
                    "must enclose at least 0.01 m2",
                    f"{ring.polygon.area:.6f} m2",
                    "check the units and the points",
                )
            ]
        )
