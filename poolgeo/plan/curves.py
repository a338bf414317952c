"""Plan curves: lines, arcs, closed splines and ellipses, and their flattening into chords.

Words: a **piece** is one smooth curve; a **ring** is a closed chain of flattened pieces.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np

from ..arrays import Floats
from .tolerances import OUTLINE_TURN

GAUSS = np.polynomial.legendre.leggauss(6)
"""Nodes and weights of the quadrature that measures chords."""

STILL = 1e-12
"""[m] A curve that moves less than this for a step of its parameter stands still."""

INSIDE = 1e-7
"""[-] Share of its parameter by which a curve that stands still at an end moves in from it."""


@dataclass(frozen=True)
class Chords:
    """A flattened piece.

    Args:
        points: (k + 1, 2) from start to end [m].
        lengths: (k,) true length of the curve over each chord [m].
        tangents: (k + 1, 2) unit tangents at the points.
        places: (k + 1,) parameters of the points.
    """

    points: Floats
    lengths: Floats
    tangents: Floats
    places: Floats


class Piece(Protocol):
    """One smooth plan curve ``t -> point``."""

    @property
    def domain(self) -> tuple[float, float]:
        """Parameters of its start and of its end."""
        ...

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points (k, 2) at parameters (k,) [m], or their first or second derivatives."""
        ...

    def part(self, start: float, end: float) -> Piece:
        """Return what lies between two parameters; it runs backwards when ``start`` is larger."""
        ...

    def flatten(self, tolerance: float) -> Chords:
        """Return chords no further than ``tolerance`` [m] from the curve."""
        ...


def turn_between(a: Floats, b: Floats) -> Floats:
    """Return the angles (k,) from vectors (k, 2) to others, left positive [rad]."""
    turn: Floats = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], np.sum(a * b, axis=1))
    return turn


def unit(degrees: float) -> Floats:
    """Return the unit vector (2,) of a direction, degrees anticlockwise from x."""
    return np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])


def _unit(vector: Floats) -> Floats:
    return vector / np.linalg.norm(vector)


@dataclass(frozen=True)
class Line:
    """A straight piece from ``start`` to ``end``."""

    start: Floats
    end: Floats

    @property
    def domain(self) -> tuple[float, float]:
        """From 0 to 1."""
        return 0.0, 1.0

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        step = self.end - self.start
        if order == 0:
            return self.start + t[:, None] * step
        return np.broadcast_to(step if order == 1 else 0.0 * step, (len(t), 2))

    def part(self, start: float, end: float) -> Line:
        """Return a part of it."""
        a, b = self.at(np.array([start, end]))
        return Line(a, b)

    def flatten(self, tolerance: float) -> Chords:  # noqa: ARG002 - one protocol for all pieces
        """Return the line itself."""
        direction = _unit(self.end - self.start)
        return Chords(
            np.array([self.start, self.end]),
            np.array([np.linalg.norm(self.end - self.start)]),
            np.array([direction, direction]),
            np.array([0.0, 1.0]),
        )


@dataclass(frozen=True)
class Arc:
    """A circular piece.

    Args:
        centre: (2,) [m].
        radius: [m].
        start: Angle of its start from x [rad].
        sweep: Angle that it runs through, positive anticlockwise [rad].
    """

    centre: Floats
    radius: float
    start: float
    sweep: float

    @classmethod
    def by_bulge(cls, start: Floats, end: Floats, bulge: float) -> Arc:
        """Return the arc between two points whose bulge is tan(included angle / 4).

        Source: DXF reference, LWPOLYLINE group 42; positive is anticlockwise.
        """
        sweep = 4.0 * math.atan(bulge)
        chord = end - start
        left = np.array([-chord[1], chord[0]])
        centre = (start + end) / 2.0 + left * (1.0 - bulge**2) / (4.0 * bulge)
        angle = math.atan2(*(start - centre)[::-1])
        return cls(centre, float(np.linalg.norm(start - centre)), angle, sweep)

    @property
    def domain(self) -> tuple[float, float]:
        """From 0 to 1."""
        return 0.0, 1.0

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        angle = self.start + self.sweep * t + order * math.pi / 2.0
        ray = self.radius * self.sweep**order * np.column_stack([np.cos(angle), np.sin(angle)])
        return self.centre + ray if order == 0 else ray

    def part(self, start: float, end: float) -> Arc:
        """Return a part of it."""
        first = self.start + self.sweep * start
        return Arc(self.centre, self.radius, first, self.sweep * (end - start))

    def flatten(self, tolerance: float) -> Chords:
        """Return equal chords."""
        turn = min(2.0 * math.acos(max(0.0, 1.0 - tolerance / self.radius)), OUTLINE_TURN)
        count = max(2, math.ceil(abs(self.sweep) / turn - 1e-9))
        places = np.linspace(0.0, 1.0, count + 1)
        angles = self.start + self.sweep * places
        rays = np.column_stack([np.cos(angles), np.sin(angles)])
        tangents = np.column_stack([-rays[:, 1], rays[:, 0]]) * math.copysign(1.0, self.sweep)
        return Chords(
            self.centre + self.radius * rays,
            np.full(count, self.radius * abs(self.sweep) / count),
            tangents,
            places,
        )


class Parametric:
    """A curve flattened by its curvature; between its knots it is smooth."""

    least: int = 8
    """Fewest chords."""

    @property
    def knots(self) -> Floats:
        """Parameters between which it is smooth, from its start to its end."""
        raise NotImplementedError

    @property
    def domain(self) -> tuple[float, float]:
        """Parameters of its start and of its end."""
        return float(self.knots[0]), float(self.knots[-1])

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        raise NotImplementedError

    def part(self, start: float, end: float) -> Piece:
        """Return a part of it."""
        return Section(self, start, end)

    def flatten(self, tolerance: float) -> Chords:
        """Return chords that follow the curvature, lengths by Gauss quadrature.

        A chord over curvature k may be min(sqrt(8 tolerance / k), OUTLINE_TURN / k) long; the
        reciprocal, integrated along the curve, counts the chords and places them.
        """
        knots = self.knots
        inner = knots[:-1, None] + np.diff(knots)[:, None] * np.arange(24) / 24.0
        dense = np.append(inner, knots[-1])
        speeds, curvatures = self._bends((dense[1:] + dense[:-1]) / 2.0)
        density = np.maximum(np.sqrt(curvatures / (8.0 * tolerance)), curvatures / OUTLINE_TURN)
        demand = np.concatenate([[0.0], np.cumsum(density * speeds * np.diff(dense))])
        demand += np.linspace(0.0, self.least, len(demand))  # a straight stretch still gets chords
        count = max(self.least, math.ceil(demand[-1]))
        t = np.interp(np.linspace(0.0, demand[-1], count + 1), demand, dense)
        return Chords(self.at(t), self._lengths(t), self._tangents(t), t)

    def _tangents(self, t: Floats) -> Floats:
        """Return unit tangents (k, 2); where the curve stands still at an end, from just inside."""
        low, high = self.domain
        velocity = self.at(t, 1)
        still = np.hypot(*velocity.T) <= STILL
        inside = np.clip(t[still], low + INSIDE * (high - low), high - INSIDE * (high - low))
        velocity[still] = self.at(inside, 1)
        tangents: Floats = velocity / np.hypot(*velocity.T)[:, None]
        return tangents

    def _bends(self, t: Floats) -> tuple[Floats, Floats]:
        """Return speeds and curvatures (k,) at parameters (k,)."""
        velocity, bend = self.at(t, 1), self.at(t, 2)
        speed = np.maximum(np.hypot(*velocity.T), STILL)
        cross = velocity[:, 0] * bend[:, 1] - velocity[:, 1] * bend[:, 0]
        return speed, np.abs(cross) / speed**3

    def _lengths(self, t: Floats) -> Floats:
        nodes, weights = GAUSS
        half = np.diff(t)[:, None] / 2.0
        places = (t[1:] + t[:-1])[:, None] / 2.0 + half * nodes
        speed = np.hypot(*self.at(places.ravel(), 1).T).reshape(places.shape)
        lengths: Floats = np.sum(speed * weights * half, axis=1)
        return lengths


@dataclass(frozen=True)
class Section(Parametric):
    """The part of a curve between two of its parameters; its own run from 0 to 1."""

    curve: Parametric
    start: float
    end: float
    least: int = 2

    @cached_property
    def knots(self) -> Floats:
        """The curve's knots within, and both ends."""
        inner = (self.curve.knots - self.start) / (self.end - self.start)
        inner = np.sort(inner[(inner > 1e-9) & (inner < 1.0 - 1e-9)])
        return np.concatenate([[0.0], inner, [1.0]])

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        span = self.end - self.start
        return self.curve.at(self.start + span * t, order) * span**order

    def part(self, start: float, end: float) -> Section:
        """Return a part of it."""
        first, last = (self.start + (self.end - self.start) * t for t in (start, end))
        return Section(self.curve, first, last)


@dataclass(frozen=True)
class ClosedSpline(Parametric):
    """A periodic cubic spline, C2 everywhere (its first point included), by chord length.

    Perimeter and area do not depend on which point the file lists first.

    Args:
        points: (n, 2) points that the curve goes through, not repeated at the end [m].
    """

    points: Floats

    @cached_property
    def _coefficients(self) -> tuple[Floats, Floats]:
        """Knots (n + 1,) and second derivatives at the knots (n + 1, 2)."""
        closed = np.vstack([self.points, self.points[:1]])
        spans = np.hypot(*np.diff(closed, axis=0).T)
        slopes = np.diff(closed, axis=0) / spans[:, None]
        n = len(self.points)
        rows = np.arange(n)
        before, after = spans[rows - 1], spans
        matrix = np.zeros((n, n))
        np.add.at(matrix, (rows, rows - 1), before)
        np.add.at(matrix, (rows, rows), 2.0 * (before + after))
        np.add.at(matrix, (rows, (rows + 1) % n), after)
        bends = np.linalg.solve(matrix, 6.0 * (slopes - slopes[rows - 1]))
        return np.concatenate([[0.0], np.cumsum(spans)]), np.vstack([bends, bends[:1]])

    @property
    def knots(self) -> Floats:
        """Parameters of the points."""
        return self._coefficients[0]

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        knots, bends = self._coefficients
        closed = np.vstack([self.points, self.points[:1]])
        span = np.clip(np.searchsorted(knots, t, side="right") - 1, 0, len(knots) - 2)
        width = (knots[span + 1] - knots[span])[:, None]
        b = (t - knots[span])[:, None] / width
        a = 1.0 - b
        p, q, m, k = closed[span], closed[span + 1], bends[span], bends[span + 1]
        if order == 0:
            return a * p + b * q + ((a**3 - a) * m + (b**3 - b) * k) * width**2 / 6.0
        if order == 1:
            chord = (q - p) / width
            return chord + ((1.0 - 3.0 * a**2) * m + (3.0 * b**2 - 1.0) * k) * width / 6.0
        return a * m + b * k


@dataclass(frozen=True)
class FullEllipse(Parametric):
    """An ellipse by its semi-axes, its first axis turned by ``rotation`` from x [rad]."""

    centre: Floats
    semi_axes: tuple[float, float]
    rotation: float

    @property
    def knots(self) -> Floats:
        """Every eighth of a turn."""
        return np.linspace(0.0, 2.0 * math.pi, 9)

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives."""
        phase = t + order * math.pi / 2.0
        x = self.semi_axes[0] * np.cos(phase)
        y = self.semi_axes[1] * np.sin(phase)
        c, s = math.cos(self.rotation), math.sin(self.rotation)
        turned = np.column_stack([c * x - s * y, s * x + c * y])
        return turned + self.centre if order == 0 else turned
