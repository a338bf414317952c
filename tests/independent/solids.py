"""Plans and profiles as loops of edges for the B-rep kernel.

Three facts about the kernel that this module works around:

* a closed spline held as one edge is integrated wrongly, so each span between knots is an edge;
* at a toe it ends two coves otherwise than where their surfaces meet (up to 1e-4 m3 off along a
  curved wall), and calls the result valid; so `shelves` gives each floor between two toes a body
  of water of its own, and the pool's water is what these share;
* at an outside plan corner and at a brow it prolongs both coves until they meet instead of
  rolling the ball about the edge, and calls the result valid. Where a cove is wanted such an edge
  first gets a small radius, which makes the ball roll.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from poolgeo.arrays import Floats

from . import occ
from .breaks import Profile
from .curves import Curve, Point, spline
from .quadrature import corner_turns

CORNER = 1e-5
"""Radius given to an outside corner so that the ball rolls about it [m]."""
BROW = 3e-3
"""The same for a brow, whose angle is small, so that less of it is lost [m]."""
DEGREE = 11
"""Of the Bezier edges that stand for a parallel of a spline; good to about 1e-9 m."""
ROOM = 1.0
"""How far tools reach beyond what they cut [m]."""
BEHIND = 0.25
"""The same for a bench, behind the wall: below every outside radius of the outline [m]."""


@dataclass(frozen=True)
class Circle:
    """A circle [m]."""

    centre: Point
    radius: float


@dataclass(frozen=True)
class Spline:
    """A closed periodic C2 cubic spline with chord-length parameter [m]."""

    points: Sequence[Point]


@dataclass(frozen=True)
class Polygon:
    """An anticlockwise polygon, corners rounded by one radius or sharp [m]."""

    points: Sequence[Point]
    corner_radius: float = 0.0


@dataclass(frozen=True)
class Band:
    """The strip along a stretch of a smooth curve, its ends square to the curve.

    Args:
        curve: The outline.
        start: Parameter where the stretch starts; it runs anticlockwise.
        end: Parameter where it ends.
        width: Into the water [m].
    """

    curve: Curve
    start: float
    end: float
    width: float


Plan = Circle | Spline | Polygon | Band


@dataclass(frozen=True)
class Flight:
    """A straight flight, concrete below every tread.

    Args:
        at: Plan point on the outline, in the middle of the flight.
        direction: Way down, from x [deg].
        width: [m].
        going: [m].
        levels: Height of each tread, the top one first [m].
    """

    at: Point
    direction: float
    width: float
    going: float
    levels: Sequence[float]


# --- plan loops ----------------------------------------------------------------------------


def _edges(plan: Plan, z: float, cove: float) -> list[Any]:
    """Return a plan's edges at the height ``z``, anticlockwise."""
    if isinstance(plan, Circle):
        return occ.circle((plan.centre[0], plan.centre[1], z), plan.radius)
    if isinstance(plan, Spline):
        curve = spline(plan.points)
        return [_span(curve, a, b, 0.0, z, 3) for a, b in pairwise(curve.knots.tolist())]
    if isinstance(plan, Band):
        return _band(plan, z)
    return _corners(plan, z, cove)


def _span(curve: Curve, a: float, b: float, offset: float, z: float, degree: int) -> Any:
    """Return a parallel of one span as a Bezier edge through Chebyshev points."""
    x = (1 - np.cos(np.pi * np.arange(degree + 1) / degree)) / 2
    u = a + (b - a) * x
    u[-1] = b
    xy = curve.at(u, 0) + (offset * curve.normal(u) if offset else 0.0)
    i = np.arange(degree + 1)
    choose = np.array([math.comb(degree, k) for k in i])
    bernstein = choose * x[:, None] ** i * (1 - x[:, None]) ** (degree - i)
    poles = np.linalg.solve(bernstein, xy)
    poles[0], poles[-1] = xy[0], xy[-1]
    return occ.bezier([(float(px), float(py), z) for px, py in poles])


def _band(plan: Band, z: float) -> list[Any]:
    """Return a strip's loop; behind the wall it reaches on, so that no faces coincide."""
    curve, period = plan.curve, float(plan.curve.knots[-1])
    end = plan.end + period * (plan.end <= plan.start)
    both = np.concatenate([curve.knots, curve.knots[1:] + period])
    inner = both[(both > plan.start + 1e-9) & (both < end - 1e-9)]
    marks = np.concatenate([[plan.start], inner, [end]])
    front = [_span(curve, a, b, plan.width, z, DEGREE) for a, b in pairwise(marks.tolist())]
    behind = [_span(curve, a, b, -BEHIND, z, DEGREE) for a, b in pairwise(marks.tolist())]
    tail, tip = (
        occ.line(*((*curve.point(u, d).tolist(), z) for d in (-BEHIND, plan.width)))
        for u in (plan.start, end)
    )
    return [*front, tip, *reversed(behind), tail]


def _corners(plan: Polygon, z: float, cove: float) -> list[Any]:
    """Return a polygon's loop; with a cove, outside corners get the radius `CORNER`."""
    turns = corner_turns(plan.points)
    radii = [plan.corner_radius or (CORNER if cove and t < 0 else 0.0) for t in turns]
    corners = [(float(p[0]), float(p[1]), z) for p in plan.points]
    return [edge for edge, _ in _rounded(corners, radii)]


def _rounded(points: Sequence[occ.Vertex], radii: Sequence[float]) -> list[tuple[Any, int]]:
    """Return the edges of a flat polygon, some corners rounded, with the point each starts at."""
    p = np.array(points)
    ends = []
    for i, radius in enumerate(radii):
        back, ahead = _unit(p[i - 1] - p[i]), _unit(p[(i + 1) % len(p)] - p[i])
        half = math.acos(float(np.clip(-back @ ahead, -1.0, 1.0))) / 2  # half the turn
        cut = radius * math.tan(half)
        middle = p[i] + radius * (1 / math.cos(half) - 1) * _unit(back + ahead) if radius else p[i]
        ends.append((_xyz(p[i] + cut * back), _xyz(middle), _xyz(p[i] + cut * ahead)))
    found = []
    for i, (a, middle, b) in enumerate(ends):
        if radii[i]:
            found.append((occ.arc(a, middle, b), i))
        found.append((occ.line(b, ends[(i + 1) % len(ends)][0]), i))
    return found


def _unit(vector: Floats) -> Floats:
    unit: Floats = vector / np.linalg.norm(vector)
    return unit


def _xyz(point: Floats) -> occ.Vertex:
    x, y, z = point.tolist()
    return (x, y, z)


# --- solids --------------------------------------------------------------------------------


def upright(plan: Plan, low: float, high: float, side: str, top: str, cove: float) -> occ.Labelled:
    """Return the upright prism on a plan; its lower face is called ``floor``."""
    edges = [(edge, side) for edge in _edges(plan, low, cove)]
    return occ.prism(edges, (0.0, 0.0, high - low), "floor", top)


def shelves(floor: Profile, plan: Plan) -> list[Profile]:
    """Split a floor at its toes into floors without, each prolonged at both ends.

    Args:
        floor: The floor.
        plan: The plan above it; toes beyond it do not count.

    Raises:
        ValueError: When the floor is not the highest of them everywhere.
    """
    far, s, slopes = 100.0, floor.along(_outer(plan)), floor.slopes
    low, high = s.min(), s.max()
    places = (floor.places[0] - far, *floor.places, floor.places[-1] + far)
    heights = (floor.heights[0], *floor.heights, floor.heights[-1])
    inner = [i for i in range(1, len(places) - 1) if low < places[i] < high]
    toes = [i for i in inner if slopes[i - 1] < slopes[i]]
    found = []
    for a, b in pairwise([0, *toes, len(places) - 1]):
        on = (places[a] - far, *places[a + 1 : b], places[b] + far)
        z = (heights[a] - far * slopes[a], *heights[a + 1 : b], heights[b] + far * slopes[b - 1])
        found.append(Profile(floor.direction, floor.origin, on, z))
    seen = [low, *(places[i] for i in inner), high]
    highest = np.max([np.interp(seen, part.places, part.heights) for part in found], axis=0)
    if not np.allclose(highest, np.interp(seen, places, heights), rtol=0, atol=1e-9):
        msg = "a floor that falls again beyond a toe is more than this kernel part does"
        raise ValueError(msg)
    return found


def above(floor: Profile, plan: Plan, top: float, cove: float) -> occ.Labelled:
    """Return all that stands above a floor, beyond the plan and beyond ``top``.

    Args:
        floor: Its profile.
        plan: The plan to cover.
        top: Height to pass [m].
        cove: Its radius; above 0, each brow gets the radius `BROW` [m].
    """
    across = np.array([-floor.way[1], floor.way[0]])
    xy = _outer(plan)
    s, q = floor.along(xy), (xy - np.array(floor.origin)) @ across
    low, high, q_low, q_high = s.min() - ROOM, s.max() + ROOM, q.min() - ROOM, q.max() + ROOM
    inner = [
        (place, z)
        for place, z in zip(floor.places, floor.heights, strict=True)
        if low < place < high
    ]
    first, last = np.interp([low, high], floor.places, floor.heights)
    line = [(low, first), *inner, (high, last), (high, top + ROOM), (low, top + ROOM)]
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(line[:-2])]
    brows = [a > b for a, b in pairwise(slopes)]
    radii = [0.0, *(BROW if cove and brow else 0.0 for brow in brows), 0.0, 0.0, 0.0]
    base = np.array([*floor.origin, 0.0]) + q_low * np.array([*across, 0.0])
    points = [_xyz(base + np.array([*(place * floor.way), z])) for place, z in line]
    names = ["floor"] * (len(line) - 3) + ["outside"] * 3
    loop = [(edge, names[i]) for edge, i in _rounded(points, radii)]
    return occ.prism(loop, _xyz((q_high - q_low) * np.array([*across, 0.0])), "outside", "outside")


def lowest(floor: Profile, plan: Plan) -> float:
    """Return a height that no point of the floor inside a plan lies below [m]."""
    s = floor.along(_outer(plan))
    ends = np.interp([s.min(), s.max()], floor.places, floor.heights)
    inner = [z for a, z in zip(floor.places, floor.heights, strict=True) if s.min() < a < s.max()]
    return float(min(*ends, *inner))


def stairs(flight: Flight, low: float) -> occ.Labelled:
    """Return the concrete of a straight flight, from behind the wall, down to ``low``."""
    turned = math.radians(flight.direction)
    way = np.array([math.cos(turned), math.sin(turned), 0.0])
    across = np.array([-way[1], way[0], 0.0])
    line, names = [(-ROOM, flight.levels[0])], ["tread"]
    for i, (level, lower) in enumerate(
        zip(flight.levels, (*flight.levels[1:], low), strict=True), 1
    ):
        line += [(i * flight.going, level), (i * flight.going, lower)]
        names += ["riser", "tread"]
    line.append((-ROOM, low))
    names[-1:] = ["outside", "outside"]
    base = np.array([*flight.at, 0.0]) - flight.width / 2 * across
    points = [_xyz(base + s * way + np.array([0.0, 0.0, z])) for s, z in line]
    loop = [(edge, names[i]) for edge, i in _rounded(points, [0.0] * len(points))]
    return occ.prism(loop, _xyz(flight.width * across), "step side", "step side")


def _outer(plan: Plan) -> Floats:
    """Return plan points that no point of the outline lies far beyond."""
    if isinstance(plan, Circle):
        x, y = plan.centre
        r = plan.radius
        return np.array([(x + a * r, y + b * r) for a in (-2, 2) for b in (-2, 2)])
    if isinstance(plan, Spline):
        curve = spline(plan.points)
        return curve.at(np.linspace(0.0, curve.knots[-1], 50 * len(curve.knots)), 0)
    if isinstance(plan, Band):
        msg = "a band is no outline"
        raise TypeError(msg)
    return np.array(plan.points, dtype=float)
