"""Smooth surfaces that floors are put together from: heights and gradients over plan points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from .curves import Floats


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

    def chord(self, xy: Floats) -> np.ndarray:
        """Return the number of the chord of which the curve is nearest to plan points (..., 2)."""
        return self._chord(xy, self._ahead(xy))

    def _chord(self, xy: Floats, every: Floats) -> np.ndarray:
        off = xy @ self.outward.T - np.sum(self.points * self.outward, axis=1)
        vertex = np.argmax(off, axis=-1)  # a convex curve lies nearest where it stands out furthest
        ahead = np.take_along_axis(every, vertex[..., None], axis=-1)[..., 0]
        chord: np.ndarray = vertex - (ahead < 0.0)
        last = len(self.points) - 2
        closed = bool((self.points[0] == self.points[-1]).all())
        return np.where(chord < 0, last if closed else 0, np.minimum(chord, last))

    def _ahead(self, xy: Floats) -> Floats:
        """How far points (...) are ahead of each vertex, along the curve: (..., k + 1) [m]."""
        along = np.column_stack([-self.outward[:, 1], self.outward[:, 0]])
        found: Floats = xy @ along.T - np.sum(self.points * along, axis=1)
        return found

    def _foot(self, xy: Floats) -> tuple[Floats, Floats]:
        """The nearest points of the curve (..., 2), and its outward unit normals there."""
        ahead = self._ahead(xy)
        i = self._chord(xy, ahead)
        start = np.take_along_axis(ahead, i[..., None], axis=-1)[..., 0]
        stop = np.take_along_axis(ahead, i[..., None] + 1, axis=-1)[..., 0]
        share = start / np.maximum(start - stop, 1e-12)
        share = np.minimum(np.maximum(share, 0.0), 1.0)[..., None]
        normal = self.outward[i] * (1.0 - share) + self.outward[i + 1] * share
        normal /= np.hypot(normal[..., 0], normal[..., 1])[..., None]
        a, b = self.points[i], self.points[i + 1]
        turn = np.sum((self.outward[i + 1] - self.outward[i]) * (b - a), axis=-1)[..., None]
        bow = share * (1.0 - share) * turn / 2.0
        return a + share * (b - a) + bow * normal, normal


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
