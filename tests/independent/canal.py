"""The cove as a canal surface: what a ball rolling along wall and floor sweeps out.

The ball's centre C runs at plan distance r from the wall and r (square) off the floor. It touches
the wall at C + r a and the floor at C + r b; a and b are unit vectors square to the path, so the
cove's section is the arc between them::

    X(u, t) = C(u) + r slerp(a(u), b(u); t)      t = 0 on the wall, 1 on the floor

Its surface is the integral of ``|X_u x X_t|``; the z component of that product is the plan
Jacobian, which gives volumes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from poolgeo.arrays import Floats

from .curves import Curve, Point, cross, gauss


@dataclass(frozen=True)
class Plane:
    """A floor plane z = z0 + gradient . (x, y) [m, -]."""

    z0: float
    gradient: Point = (0.0, 0.0)

    def at(self, xy: Floats) -> Floats:
        """Return the floor's height at plan points (n, 2) [m]."""
        height: Floats = self.z0 + xy @ np.array(self.gradient)
        return height

    @property
    def stretch(self) -> float:
        """Return true area over plan area."""
        return float(np.sqrt(1 + np.dot(self.gradient, self.gradient)))

    @property
    def down(self) -> Floats:
        """Return the unit normal into the ground."""
        normal: Floats = np.array([*self.gradient, -1.0]) / self.stretch
        return normal


@dataclass(frozen=True)
class Path:
    """The ball's path at parameters (n,): each value (n, 3), with its derivative by u.

    Args:
        radius: The ball's [m].
        centre: Ball centre [m].
        wall: Unit vector from the centre to the wall contact.
        floor: Unit vector from the centre to the floor contact.
        d_centre: By u.
        d_wall: By u.
        d_floor: By u.
    """

    radius: float
    centre: Floats
    wall: Floats
    floor: Floats
    d_centre: Floats
    d_wall: Floats
    d_floor: Floats

    def section(self, t: float) -> tuple[Floats, Floats]:
        """Return the cove's points X(u, t) and ``X_u x X_t``, both (n, 3)."""
        cosine = _dot(self.wall, self.floor)
        angle, sine = np.arccos(cosine), np.sqrt(1 - cosine**2)
        d_angle = -(_dot(self.d_wall, self.floor) + _dot(self.wall, self.d_floor)) / sine
        near, far = (1 - t) * angle, t * angle
        a, b = np.sin(near) / sine, np.sin(far) / sine
        da = ((1 - t) * np.cos(near) - a * cosine) / sine * d_angle
        db = (t * np.cos(far) - b * cosine) / sine * d_angle
        arm = _mix(a, self.wall, b, self.floor)
        by_u = _mix(da, self.wall, db, self.floor) + _mix(a, self.d_wall, b, self.d_floor)
        by_t = _mix(-angle * np.cos(near) / sine, self.wall, angle * np.cos(far) / sine, self.floor)
        across = np.cross(self.d_centre + self.radius * by_u, self.radius * by_t)
        return self.centre + self.radius * arm, across

    @property
    def head(self) -> tuple[Floats, Floats]:
        """Return the wall contact and its derivative by u."""
        r = self.radius
        return self.centre + r * self.wall, self.d_centre + r * self.d_wall

    @property
    def foot(self) -> tuple[Floats, Floats]:
        """Return the floor contact and its derivative by u."""
        r = self.radius
        return self.centre + r * self.floor, self.d_centre + r * self.d_floor


def _dot(a: Floats, b: Floats) -> Floats:
    product: Floats = np.sum(a * b, axis=1)
    return product


def _mix(a: Floats, va: Floats, b: Floats, vb: Floats) -> Floats:
    mixed: Floats = a[:, None] * va + b[:, None] * vb
    return mixed


PathAt = Callable[[Floats], Path]


def along_wall(curve: Curve, radius: float) -> Callable[[Floats], tuple[Floats, ...]]:
    """Return the plan part of the path: centre (n, 2), wall (n, 3), and both by u."""

    def plan(u: Floats) -> tuple[Floats, ...]:
        d = curve.at(u, 1)
        speed = np.hypot(d[:, 0], d[:, 1])[:, None]
        bend = cross(d, curve.at(u, 2))[:, None] / speed**3
        n = np.column_stack([-d[:, 1], d[:, 0]]) / speed
        level = np.zeros(len(u))
        # The normal turns by -curvature along the tangent, so -n turns by plus that.
        wall, d_wall = np.column_stack([-n, level]), np.column_stack([d * bend, level])
        return curve.at(u, 0) + radius * n, d * (1 - radius * bend), wall, d_wall

    return plan


def on_plane(curve: Curve, floor: Plane, radius: float) -> PathAt:
    """Return the path of a ball along the wall on a floor plane."""
    plan = along_wall(curve, radius)

    def path(u: Floats) -> Path:
        xy, d_xy, wall, d_wall = plan(u)
        height = floor.at(xy) + radius * floor.stretch
        return Path(
            radius,
            np.column_stack([xy, height]),
            wall,
            np.broadcast_to(floor.down, wall.shape),
            np.column_stack([d_xy, d_xy @ np.array(floor.gradient)]),
            d_wall,
            np.zeros_like(wall),
        )

    return path


def arc_nodes() -> list[tuple[float, float]]:
    """Return Gauss nodes and weights over the arc, t from 0 to 1."""
    t, w = gauss(np.array([0.0, 1.0]))
    return list(zip(t.tolist(), w.tolist(), strict=True))
