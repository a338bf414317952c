"""Pool quantities by quadrature and closed form, without any kernel or mesh.

Words used here, and only so:

* **turn** T: the angle a wall turns through towards the water; 2 pi for a closed smooth outline.
  A sharp inside corner of turn t counts 2 tan(t / 2) (the two coves meet in a mitre), a sharp
  outside corner -t (the ball rolls about it), so that one formula serves every outline.
* **mortar**: what the cove fills of the sharp corner between wall and floor.

On a level floor the cove's section is a quarter circle; a point of it lies r (1 - cos a) off the
wall, a from 0 to pi / 2, so its surface along a wall of length L and turn T is the integral of
r (L - T r (1 - cos a)) over a: (pi / 2) r L - r^2 T (pi / 2 - 1). The mortar's section is
r^2 (1 - pi / 4), its moment about the wall r^3 / 2 (the square) less pi r^3 / 4 - r^3 / 3 (the
quarter disc): r^3 (5/6 - pi / 4).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from .canal import Plane, arc_nodes, on_plane
from .curves import Curve, Point, cross

SECTION = 1 - math.pi / 4
"""Mortar's section over r^2."""
SECTION_MOMENT = 5 / 6 - math.pi / 4
"""That section's moment about the wall (or the floor) over r^3."""
ARC_MOMENT = math.pi / 2 - 1
"""The arc's moment about the wall (or the floor) over r^2."""


@dataclass(frozen=True)
class Basin:
    """A bare basin with its walls up to ``top``: volumes [m3], areas [m2], lengths [m].

    Args:
        volume: Up to the top.
        mortar: What the cove takes of it.
        floor: True area of the floor inside the cove.
        wall: From the cove to the top.
        cove: Its surface.
        head: Length of the cove's upper line (of the sharp foot, without a cove).
        foot: Length of the cove's lower line (of the sharp foot, without a cove).
    """

    volume: float
    mortar: float
    floor: float
    wall: float
    cove: float
    head: float
    foot: float


def area(curve: Curve) -> float:
    """Return the plan area inside a curve [m2]."""
    u, w = curve.nodes()
    return float(np.sum(cross(curve.at(u, 0), curve.at(u, 1)) * w) / 2)


def length(curve: Curve, start: float | None = None, end: float | None = None) -> float:
    """Return the length of a curve, or of a stretch of it between two parameters [m]."""
    u, w = curve.nodes(start, end)
    return float(np.sum(curve.speed(u) * w))


def turn(curve: Curve, start: float | None = None, end: float | None = None) -> float:
    """Return the angle that a stretch turns through towards the water [rad]."""
    u, w = curve.nodes(start, end)
    return float(np.sum(curve.curvature(u) * curve.speed(u) * w))


def at_length(curve: Curve, distance: float) -> float:
    """Return the parameter at a length along the curve from its first point [m]."""
    end = float(curve.knots[-1])
    return float(brentq(lambda u: length(curve, 0.0, u) - distance, 1e-9, end, xtol=1e-13))


def smallest_radius(curve: Curve) -> float:
    """Return the smallest radius where the outline is convex: no larger cove fits [m]."""
    u = np.linspace(0.0, curve.knots[-1], 400 * len(curve.knots))
    return float(1 / curve.curvature(u).max())


def on_slope(curve: Curve, floor: Plane, radius: float = 0.0, top: float = 0.0) -> Basin:
    """Return the quantities of a smooth outline on a floor plane, with or without a cove.

    The floor contact's plan curve is the wall's parallel at r, moved bodily by the floor
    normal's plan part, so the plan area inside it is A - r L + pi r^2 at any slope.

    Args:
        curve: The outline.
        floor: The floor's plane.
        radius: The cove's, below every inside radius of the outline; 0 for a sharp foot [m].
        top: Height of the wall top [m].
    """
    u, w = curve.nodes()
    path = on_plane(curve, floor, radius)(u)
    surface = mortar = 0.0
    for t, wt in arc_nodes():
        place, across = path.section(t)
        surface += wt * float(np.sum(np.linalg.norm(across, axis=1) * w))
        mortar += wt * float(np.sum((place[:, 2] - floor.at(place[:, :2])) * across[:, 2] * w))
    p, both = curve.at(u, 0), cross(curve.at(u, 0), curve.at(u, 1)) * w
    plan = float(both.sum()) / 2
    middle = (p * both[:, None]).sum(axis=0)[None, :] / 3 / plan
    head, d_head = path.head
    _, d_foot = path.foot
    return Basin(
        volume=plan * (top - float(floor.at(middle)[0])) - mortar,
        mortar=mortar,
        floor=(plan - radius * length(curve) + math.pi * radius**2) * floor.stretch,
        wall=float(np.sum((top - head[:, 2]) * curve.speed(u) * w)),
        cove=surface,
        head=float(np.sum(np.linalg.norm(d_head, axis=1) * w)),
        foot=float(np.sum(np.linalg.norm(d_foot, axis=1) * w)),
    )


def on_level(
    plan: float, perimeter: float, turned: float, depth: float, radius: float = 0.0
) -> Basin:
    """Return the quantities of any outline on a level floor, in closed form.

    Args:
        plan: Area of the outline [m2].
        perimeter: Its length [m].
        turned: Its turn, see the module's docstring [rad].
        depth: From the top to the floor [m].
        radius: The cove's [m].
    """
    r = radius
    mortar = SECTION * r**2 * perimeter - SECTION_MOMENT * r**3 * turned
    return Basin(
        volume=plan * depth - mortar,
        mortar=mortar,
        floor=plan - r * perimeter + r**2 * turned / 2,
        wall=perimeter * (depth - r),
        cove=math.pi / 2 * r * perimeter - ARC_MOMENT * r**2 * turned,
        head=perimeter,
        foot=perimeter - r * turned,
    )


def corner_turns(points: Sequence[Point]) -> list[float]:
    """Return each corner's turn of an anticlockwise polygon, positive at inside corners [rad]."""
    p = np.array(points, dtype=float)
    before, after = p - np.roll(p, 1, axis=0), np.roll(p, -1, axis=0) - p
    along = np.sum(before * after, axis=1)
    return [float(a) for a in np.arctan2(cross(before, after), along)]


def polygon_turn(points: Sequence[Point]) -> float:
    """Return the turn of an outline with sharp corners: mitres inside, pivots outside [rad]."""
    return sum(2 * math.tan(t / 2) if t > 0 else t for t in corner_turns(points))


def polygon_size(points: Sequence[Point]) -> tuple[float, float]:
    """Return area [m2] and perimeter [m] of an anticlockwise polygon."""
    p = np.array(points, dtype=float)
    after = np.roll(p, -1, axis=0)
    sides = after - p
    return float(cross(p, after).sum() / 2), float(np.hypot(sides[:, 0], sides[:, 1]).sum())


def mitre_length(radius: float, corner: float) -> float:
    """Return the length of the edge where two coves meet at an inside corner, level floor [m].

    The mitre plane stands at (pi - corner) / 2 to either wall and cuts each cylinder in a
    quarter of an ellipse with half axes r and r / cos(corner / 2).

    Args:
        radius: The cove's [m].
        corner: Turn of the plan there [rad].
    """
    from scipy.special import ellipe

    return float(radius / math.cos(corner / 2) * ellipe(math.sin(corner / 2) ** 2))
