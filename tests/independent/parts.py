"""What concrete standing in a pool takes from a bare basin on a level floor, by quadrature.

A part's plan is a closed curve; what of it lies outside the outline does not count. Everything
near the wall follows from one function: the length l(d) of the wall's parallel at distance d that
lies inside the part. Over the cove, d = r (1 - cos a) and the mortar stands
h(d) = r - sqrt(r^2 - (r - d)^2) = r (1 - sin a) high, so

* the cove's surface inside the part is the integral of r l da,
* the mortar inside it that of h l dd, the strip of plan under the cove that of l dd.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq

from poolgeo.arrays import Floats

from .curves import Curve, Point, circle, cross, gauss, polygon
from .quadrature import SECTION, SECTION_MOMENT, length, turn


@dataclass(frozen=True)
class Taken:
    """A part's share of a level basin.

    Args:
        plan: Area of its plan inside the outline [m2].
        wall: Length of the wall inside it [m].
        strip: Plan area of the cove inside it [m2].
        cove: Cove surface inside it [m2].
        mortar: Mortar inside it [m3].
        sides: For each side: its length inside the outline [m], and what of an upright face on
            it the mortar hides [m2].
    """

    plan: float
    wall: float
    strip: float
    cove: float
    mortar: float
    sides: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Part:
    """A convex plan: its edge, and a function of plan points (n, 2), positive outside it."""

    edge: Curve
    outside: Callable[[Floats], Floats]


def disc(centre: Point, radius: float) -> Part:
    """Return a circular part [m]."""

    def outside(xy: Floats) -> Floats:
        away = xy - np.array(centre)
        far: Floats = np.hypot(away[:, 0], away[:, 1]) - radius
        return far

    return Part(circle(radius, centre), outside)


def block(at: Point, direction: float, span: tuple[float, float], width: float) -> Part:
    """Return a rectangle across a direction; sides: right flank, front, left flank, back.

    Args:
        at: Point on its middle line [m].
        direction: Of the middle line, from x [deg].
        span: Where it starts and ends along that line, from ``at`` [m].
        width: [m].
    """
    turned = math.radians(direction)
    way = np.array([math.cos(turned), math.sin(turned)])
    left = np.array([-way[1], way[0]])
    near, far = span
    corners = [(near, -1), (far, -1), (far, 1), (near, 1)]
    points = [np.array(at) + s * way + side * width / 2 * left for s, side in corners]

    def outside(xy: Floats) -> Floats:
        s, q = (xy - np.array(at)) @ way, (xy - np.array(at)) @ left
        far_out: Floats = np.maximum(
            np.abs(q) - width / 2, np.abs(s - (near + far) / 2) - (far - near) / 2
        )
        return far_out

    return Part(polygon([tuple(p.tolist()) for p in points]), outside)


def taken(wall: Curve, part: Part, radius: float) -> Taken:
    """Return what a part takes from a level basin with a cove.

    Args:
        wall: The pool's outline.
        part: The part; the outline crosses its edge, if at all, at clear angles.
        radius: The cove's [m].
    """
    cuts = wall.crossings(part.outside)
    sides, area = [], sum(_swept(wall, a, b) for a, b in _inside(wall, part, 0.0))
    on_edge = sorted(part.edge.nearest(wall.point(u).tolist()) for u in cuts)
    for a, b in pairwise(part.edge.knots.tolist()):
        marks = [a, *(u for u in on_edge if a < u < b), b]
        run = hidden = 0.0
        for u, v in pairwise(marks):
            if _depth(wall, part.edge.point((u + v) / 2)) > 0:
                area += _swept(part.edge, u, v)
                run += _length(part.edge, u, v)
                hidden += _hidden(wall, part.edge, (u, v), radius)
        sides.append((run, hidden))
    strip = cove = mortar = 0.0
    angles, weights = gauss(np.array([0.0, math.pi / 2]))
    for angle, weight in zip(angles.tolist(), weights.tolist(), strict=True):
        d = radius * (1 - math.cos(angle))
        run = sum(_length(wall, a, b) - d * turn(wall, a, b) for a, b in _inside(wall, part, d))
        dd = weight * radius * math.sin(angle)
        cove += weight * radius * run
        strip += dd * run
        mortar += dd * run * radius * (1 - math.sin(angle))
    along = sum(_length(wall, a, b) for a, b in _inside(wall, part, 0.0))
    return Taken(area, along, strip, cove, mortar, tuple(sides))


def bench(wall: Curve, start: float, end: float, width: float, radius: float) -> Taken:
    """Return what a bench along a stretch takes; its sides: front and the two ends.

    Closed form: l(d) = L - d T, and each end hides the whole section of the mortar.

    Args:
        wall: The pool's outline.
        start: Parameter where the stretch starts, anticlockwise.
        end: Parameter where it ends.
        width: Above the cove's radius, below every inside radius of the stretch [m].
        radius: The cove's [m].
    """
    run, turned = length(wall, start, end), turn(wall, start, end)
    end_face = (width, SECTION * radius**2)
    return Taken(
        plan=width * run - width**2 / 2 * turned,
        wall=run,
        strip=radius * run - radius**2 / 2 * turned,
        cove=math.pi / 2 * radius * run - (math.pi / 2 - 1) * radius**2 * turned,
        mortar=SECTION * radius**2 * run - SECTION_MOMENT * radius**3 * turned,
        sides=((run - width * turned, 0.0), end_face, end_face),
    )


def _inside(wall: Curve, part: Part, offset: float) -> list[tuple[float, float]]:
    """Return the stretches of the wall's parallel inside a part."""
    cuts = wall.crossings(part.outside, offset)
    period = float(wall.knots[-1])
    spans = pairwise([*cuts, cuts[0] + period]) if cuts else []
    return [
        (a, b)
        for a, b in spans
        if part.outside(wall.point((a + b) / 2 % period, offset)[None, :])[0] < 0
    ]


def _length(curve: Curve, a: float, b: float) -> float:
    return length(curve, a % curve.knots[-1], b if b <= curve.knots[-1] else b % curve.knots[-1])


def _swept(curve: Curve, a: float, b: float) -> float:
    """Return a stretch's share of the area that a closed loop runs round [m2]."""
    u, w = curve.nodes(a, b if b <= curve.knots[-1] else b % curve.knots[-1])
    return float(np.sum(cross(curve.at(u, 0), curve.at(u, 1)) * w) / 2)


def _depth(wall: Curve, point: Floats) -> float:
    """Return how far a plan point lies inside the outline, negative outside [m]."""
    u = wall.nearest(point.tolist())
    return float((point - wall.point(u)) @ wall.normal(np.array([u]))[0])


def _hidden(wall: Curve, edge: Curve, span: tuple[float, float], radius: float) -> float:
    """Return what the mortar hides of an upright face on a stretch of edge inside the outline.

    The mortar's height has a vertical tangent at the wall: u runs from there as x^2.
    """

    def depth(u: float) -> float:
        return _depth(wall, edge.point(u))

    found = 0.0
    a, b = span
    for here, there in ((a, b), (b, a)):
        if abs(depth(here)) > 1e-7:
            continue  # this end of the stretch is no place on the wall
        middle = (a + b) / 2
        away = there if depth(there) > radius else middle
        last = brentq(lambda u: depth(u) - radius, here, away, xtol=1e-14)
        x, w = gauss(np.array([0.0, 1.0]))
        for xi, wi in zip(x.tolist(), w.tolist(), strict=True):
            u = here + (last - here) * xi**2
            gap = radius - depth(u)
            height = radius - math.sqrt(max(radius**2 - gap**2, 0.0))
            speed = float(edge.speed(np.array([u]))[0])
            found += wi * 2 * xi * abs(last - here) * speed * height
    return found
