"""Smooth surfaces that floors are put together from: heights and gradients over plan points."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np

from ..arrays import Floats


class Surface(Protocol):
    """A smooth height over the plan."""

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        ...

    def gradient(self, xy: Floats) -> Floats:
        """Return dz/dx and dz/dy at plan points (..., 2) [-]."""
        ...


@dataclass(frozen=True)
class Plane:
    """A plane: z = constant + slope . (x, y).

    Args:
        slope: (2,) its gradient [-].
        constant: Its height at the plan's origin [m].
    """

    slope: Floats
    constant: float

    @classmethod
    def through(cls, point: Floats, height: float, slope: Floats) -> Plane:
        """Return the plane of a gradient (2,) that has a height [m] at a plan point (2,)."""
        return cls(slope, height - float(slope @ point))

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        z: Floats = xy @ self.slope + self.constant
        return z

    def gradient(self, xy: Floats) -> Floats:
        """Return the same gradient everywhere (..., 2) [-]."""
        return np.broadcast_to(self.slope, np.shape(xy))


@dataclass(frozen=True)
class Saddle:
    """A ruled surface between two parallel lines: bilinear along and across a direction.

    z = a + b u + c v + d u v, with u along the direction from the origin and v to its left.

    Args:
        direction: (2,) unit plan vector.
        origin: (2,) where u and v are 0 [m].
        terms: (4,) a [m], b, c [-] and d [1/m].
    """

    direction: Floats
    origin: Floats
    terms: Floats

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        u, v = self._along(xy)
        a, b, c, d = self.terms
        z: Floats = a + b * u + c * v + d * u * v
        return z

    def gradient(self, xy: Floats) -> Floats:
        """Return dz/dx and dz/dy at plan points (..., 2) [-]."""
        u, v = self._along(xy)
        _, b, c, d = self.terms
        x, y = self.direction
        du, dv = b + d * v, c + d * u
        return np.stack([du * x - dv * y, du * y + dv * x], axis=-1)

    def _along(self, xy: Floats) -> tuple[Floats, Floats]:
        away = xy - self.origin
        left = np.array([-self.direction[1], self.direction[0]])
        return away @ self.direction, away @ left


@dataclass(frozen=True)
class Cone:
    """A cone about an upright axis: z = height of its tip + fall times the distance.

    Args:
        tip: (2,) [m].
        level: Height of the tip [m].
        fall: Rise over run, away from the tip [-].
    """

    tip: Floats
    level: float
    fall: float

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        away = xy - self.tip
        z: Floats = self.level + self.fall * np.hypot(away[..., 0], away[..., 1])
        return z

    def gradient(self, xy: Floats) -> Floats:
        """Return dz/dx and dz/dy at plan points (..., 2) [-]; 0 at the tip."""
        away = xy - self.tip
        size = np.hypot(away[..., 0], away[..., 1])[..., None]
        found: Floats = self.fall * away / np.maximum(size, 1e-12)
        return found


@dataclass(frozen=True)
class Bowl:
    """A paraboloid: z = height of its middle + the square form of the way from there.

    Args:
        middle: (2,) [m].
        level: Height of the middle [m].
        form: (2, 2) symmetric; rises where positive [1/m].
    """

    middle: Floats
    level: float
    form: Floats

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        away = xy - self.middle
        z: Floats = self.level + np.einsum("...i,ij,...j", away, self.form, away)
        return z

    def gradient(self, xy: Floats) -> Floats:
        """Return dz/dx and dz/dy at plan points (..., 2) [-]."""
        found: Floats = 2.0 * (xy - self.middle) @ self.form
        return found


@dataclass(frozen=True)
class Skirt:
    """A slope that rises from a smooth convex curve, the same at every distance from it.

    Beyond its ends it goes on as the planes there.

    Args:
        points: (k + 1, 2) vertices on the curve, anticlockwise [m].
        outward: (k + 1, 2) unit normals of the true curve there.
        level: Height of the curve [m].
        slope: Rise over run [-].
    """

    points: Floats
    outward: Floats
    level: float
    slope: float

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        foot, outward = self._foot(xy)
        z: Floats = self.level + self.slope * np.sum((xy - foot) * outward, axis=-1)
        return z

    def gradient(self, xy: Floats) -> Floats:
        """Return dz/dx and dz/dy at plan points (..., 2) [-]."""
        found: Floats = self.slope * self._foot(xy)[1]
        return found

    @cached_property
    def _along(self) -> Floats:
        """(k + 1, 2) Unit tangents of the curve."""
        return np.column_stack([-self.outward[:, 1], self.outward[:, 0]])

    @cached_property
    def _stands(self) -> Floats:
        """(k + 1,) How far out the curve stands at each vertex, along its normal there [m]."""
        found: Floats = np.sum(self.points * self.outward, axis=1)
        return found

    def _ahead(self, xy: Floats, vertex: np.ndarray) -> Floats:
        """Return how far points (..., 2) are ahead of vertices (...), along the curve [m]."""
        to, along = xy - self.points[vertex], self._along[vertex]
        found: Floats = to[..., 0] * along[..., 0] + to[..., 1] * along[..., 1]
        return found

    def chord(self, xy: Floats) -> np.ndarray:
        """Return the number of the chord of which the curve is nearest to plan points (..., 2)."""
        # a convex curve lies nearest where it stands out furthest
        vertex = np.argmax(xy @ self.outward.T - self._stands, axis=-1)
        chord = vertex - (self._ahead(xy, vertex) < 0.0)
        count = len(self.points) - 1
        closed = bool((self.points[0] == self.points[-1]).all())
        # of a closed curve the last vertex is the first again, and rounding tells which is found
        found: np.ndarray = chord % count if closed else np.clip(chord, 0, count - 1)
        return found

    def _foot(self, xy: Floats) -> tuple[Floats, Floats]:
        """The nearest points of the curve (..., 2), and its outward unit normals there."""
        i = self.chord(xy)
        start, stop = self._ahead(xy, i), self._ahead(xy, i + 1)
        share = start / np.maximum(start - stop, 1e-12)
        share = np.minimum(np.maximum(share, 0.0), 1.0)[..., None]
        normal = self.outward[i] * (1.0 - share) + self.outward[i + 1] * share
        normal /= np.hypot(normal[..., 0], normal[..., 1])[..., None]
        return self.points[i] + share * (
            self._steps[i] + (1.0 - share) * self._bow[i] * normal
        ), normal

    @cached_property
    def _steps(self) -> Floats:
        """(k, 2) The chords [m]."""
        return np.diff(self.points, axis=0)

    @cached_property
    def _bow(self) -> Floats:
        """(k, 1) By how much the curve stands off each chord, times 4 in its middle [m]."""
        turn = np.sum(np.diff(self.outward, axis=0) * self._steps, axis=1)
        found: Floats = turn[:, None] / 2.0
        return found


@dataclass(frozen=True)
class Lowered:
    """A surface moved down square to itself, to first order in its curvature.

    Args:
        surface: The surface.
        by: How far [m].
    """

    surface: Surface
    by: float

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        slope = self.surface.gradient(xy)
        lowered = self.by * np.sqrt(1.0 + np.sum(slope * slope, axis=-1))
        z: Floats = self.surface.height(xy) - lowered
        return z

    def gradient(self, xy: Floats) -> Floats:
        """Return dz/dx and dz/dy at plan points (..., 2), as of the surface itself [-]."""
        found: Floats = self.surface.gradient(xy)
        return found
