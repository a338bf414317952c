"""Smooth closed plan curves, known by their derivatives; for the second opinion only.

A curve runs anticlockwise, so its left normal points into the water and its curvature is
positive where the outline is convex. Between two knots it has all its derivatives, so that
Gauss quadrature on each span converges.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from poolgeo.arrays import Floats

Point = Sequence[float]

ORDER = 32
"""Gauss points on each span: integrands are smooth there, so the rest is rounding."""


@dataclass(frozen=True)
class Curve:
    """A closed plan curve.

    Args:
        knots: (k,) Rising parameters from 0; the last one is the first point again.
        at: Derivative of the given order (0 to 2) at parameters (n,), as (n, 2) [m].
    """

    knots: Floats
    at: Callable[[Floats, int], Floats]

    def point(self, u: float, offset: float = 0.0) -> Floats:
        """Return the point at ``u``, moved square to the curve into the water [m]."""
        here = np.array([u])
        moved: Floats = (self.at(here, 0) + offset * self.normal(here))[0]
        return moved

    def speed(self, u: Floats) -> Floats:
        """Return ds/du."""
        d = self.at(u, 1)
        return np.hypot(d[:, 0], d[:, 1])

    def normal(self, u: Floats) -> Floats:
        """Return the unit normal into the water, (n, 2)."""
        d = self.at(u, 1)
        return np.column_stack([-d[:, 1], d[:, 0]]) / self.speed(u)[:, None]

    def curvature(self, u: Floats) -> Floats:
        """Return the curvature, positive where the outline is convex [1/m]."""
        return cross(self.at(u, 1), self.at(u, 2)) / self.speed(u) ** 3

    def nodes(self, start: float | None = None, end: float | None = None) -> tuple[Floats, Floats]:
        """Return Gauss nodes and weights in u, split at the knots.

        The stretch runs anticlockwise and may pass the first point.
        """
        period = float(self.knots[-1])
        start = 0.0 if start is None else start
        end = period if end is None else end
        end += period * (end <= start)
        both = np.concatenate([self.knots, self.knots[1:] + period])
        marks = np.concatenate([[start], both[(both > start) & (both < end)], [end]])
        u, w = gauss(marks)
        return u % period, w

    def nearest(self, point: Point) -> float:
        """Return the parameter of the curve's nearest point."""
        there = np.array(point)

        def slope(u: float) -> float:
            return float(np.dot(self.point(u) - there, self.at(np.array([u]), 1)[0]))

        period = float(self.knots[-1])
        u = np.linspace(0.0, period, 60 * len(self.knots))
        best = u[np.argmin(np.sum((self.at(u, 0) - there) ** 2, axis=1))]
        return float(brentq(slope, best - u[1], best + u[1], xtol=1e-14)) % period

    def crossings(self, sign: Callable[[Floats], Floats], offset: float = 0.0) -> list[float]:
        """Return the parameters where a function of the (offset) curve's points is zero.

        Args:
            sign: Smooth function of plan points (n, 2).
            offset: Distance of the offset curve into the water [m].
        """

        def value(u: float) -> float:
            return float(sign(self.point(u, offset)[None, :])[0])

        u = np.linspace(0.0, self.knots[-1], 60 * len(self.knots))
        found = sign(self.at(u, 0) + offset * self.normal(u))
        spans = zip(u[:-1], u[1:], found[:-1], found[1:], strict=True)
        return [float(brentq(value, a, b, xtol=1e-14)) for a, b, fa, fb in spans if fa * fb < 0]


def gauss(marks: Floats) -> tuple[Floats, Floats]:
    """Return Gauss nodes and weights on every span between rising marks."""
    x, w = np.polynomial.legendre.leggauss(ORDER)
    half = np.diff(marks)[:, None] / 2
    middle = (marks[1:] + marks[:-1])[:, None] / 2
    return (middle + half * x).ravel(), (half * w).ravel()


def cross(a: Floats, b: Floats) -> Floats:
    """Return the plan cross product of rows."""
    product: Floats = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return product


def spline(points: Sequence[Point]) -> Curve:
    """Return the periodic C2 cubic spline through the points, chord length as parameter."""
    given = np.array(points, dtype=float)
    after = np.roll(given, -1, axis=0)
    if cross(given, after).sum() < 0:
        given = np.vstack([given[:1], given[:0:-1]])
    closed = np.vstack([given, given[:1]])
    steps = np.diff(closed, axis=0)
    knots = np.concatenate([[0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))])
    cubic = CubicSpline(knots, closed, bc_type="periodic")
    return Curve(knots, lambda u, order: np.asarray(cubic(u, order)))


def ellipse(length: float, width: float, centre: Point = (0.0, 0.0)) -> Curve:
    """Return an ellipse ``length`` along x by ``width`` along y [m]."""
    half = np.array([length / 2, width / 2])

    def at(u: Floats, order: int) -> Floats:
        turned = u + order * np.pi / 2
        moved = np.array(centre) * (order == 0)
        place: Floats = moved + half * np.column_stack([np.cos(turned), np.sin(turned)])
        return place

    return Curve(np.linspace(0.0, 2 * np.pi, 9), at)


def circle(radius: float, centre: Point = (0.0, 0.0)) -> Curve:
    """Return a circle [m]."""
    return ellipse(2 * radius, 2 * radius, centre)


def rounded(points: Sequence[Point], radius: float) -> Curve:
    """Return a polygon, every corner an arc tangent to both sides.

    The parameter is the length along the outline from where the first corner begins; the knots
    are the tangent points, where the curvature jumps.

    Args:
        points: Anticlockwise corners [m].
        radius: Of every corner, above 0 [m].
    """
    p = np.array(points, dtype=float)
    ahead = np.roll(p, -1, axis=0) - p
    way = np.arctan2(ahead[:, 1], ahead[:, 0])
    corner = (way - np.roll(way, 1) + np.pi) % (2 * np.pi) - np.pi  # turn at each point
    cut = radius * np.tan(np.abs(corner) / 2)
    side = np.hypot(ahead[:, 0], ahead[:, 1]) - cut - np.roll(cut, -1)
    starts, headings, bends, lengths = [], [], [], []
    for i in range(len(p)):
        before = np.array([np.cos(way[i - 1]), np.sin(way[i - 1])])
        starts += [p[i] - cut[i] * before, p[i] + cut[i] * ahead[i] / np.hypot(*ahead[i])]
        headings += [way[i - 1], way[i]]
        bends += [np.sign(corner[i]) / radius, 0.0]
        lengths += [radius * abs(corner[i]), side[i]]
    knots = np.concatenate([[0.0], np.cumsum(lengths)])
    pieces = (np.array(starts), np.array(headings), np.array(bends))
    return Curve(knots, lambda u, order: _lines_and_arcs(knots, pieces, u, order))


def _lines_and_arcs(
    knots: Floats, pieces: tuple[Floats, Floats, Floats], u: Floats, order: int
) -> Floats:
    starts, headings, bends = pieces
    within = u % knots[-1]
    i = np.clip(np.searchsorted(knots, within, side="right") - 1, 0, len(bends) - 1)
    heading = headings[i] + bends[i] * (within - knots[i])
    tangent = np.column_stack([np.cos(heading), np.sin(heading)])
    if order == 1:
        return tangent
    if order == 2:
        turning: Floats = bends[i][:, None] * np.column_stack([-tangent[:, 1], tangent[:, 0]])
        return turning
    half = bends[i] * (within - knots[i]) / 2  # chord of an arc: its length times sinc
    chord = (within - knots[i]) * np.sinc(half / np.pi)
    way = headings[i] + half
    place: Floats = starts[i] + chord[:, None] * np.column_stack([np.cos(way), np.sin(way)])
    return place


def polygon(points: Sequence[Point]) -> Curve:
    """Return an anticlockwise polygon with sharp corners, which are its knots; from its first."""
    p = np.array(points, dtype=float)
    side = np.roll(p, -1, axis=0) - p
    knots = np.concatenate([[0.0], np.cumsum(np.hypot(side[:, 0], side[:, 1]))])
    pieces = (p, np.arctan2(side[:, 1], side[:, 0]), np.zeros(len(p)))
    return Curve(knots, lambda u, order: _lines_and_arcs(knots, pieces, u, order))
