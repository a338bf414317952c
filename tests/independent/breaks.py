"""Quantities of a basin with depth breaks, by quadrature; walls smooth, break lines parallel.

Each floor panel has its own canal surface along the wall (`canal`). Where two panels meet:

* at a **toe** (the floor rises more, or falls less, beyond it) both canals and both planes run
  on, and the water is what stands above all of them: the coves meet in a mitre;
* at a **brow** (the floor falls more beyond it) the ball pivots about the brow line: its centre
  keeps r from the wall and r from the line, and the section's arc ends on the line.

The wall must cross the breaks well away from where it runs along them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq

from poolgeo.arrays import Floats

from .canal import Path, PathAt, Plane, along_wall, arc_nodes, on_plane
from .curves import Curve, Point, gauss
from .quadrature import Basin

SNAP = 1e-11
"""Nearer to a break than this, a point lies on it [m]."""

Bound = Callable[[float], float]
"""From t (place on the arc) to u (place on the wall) where a piece of cove ends."""


@dataclass(frozen=True)
class Profile:
    """A floor by its heights at parallel break lines, level before the first and after the last.

    Args:
        direction: Of rising ``at``, anticlockwise from x [deg].
        origin: Plan point where ``at`` is 0 [m].
        places: (k,) ``at`` of each break [m].
        heights: (k,) z of each break [m].
    """

    direction: float
    origin: Point
    places: tuple[float, ...]
    heights: tuple[float, ...]

    @property
    def way(self) -> Floats:
        """Return the unit vector of rising ``at``."""
        turned = math.radians(self.direction)
        return np.array([math.cos(turned), math.sin(turned)])

    @property
    def slopes(self) -> tuple[float, ...]:
        """Return dz/ds of the k + 1 panels."""
        inner = np.diff(self.heights) / np.diff(self.places)
        return (0.0, *inner.tolist(), 0.0)

    def along(self, xy: Floats) -> Floats:
        """Return ``at`` of plan points (n, 2) [m]."""
        distance: Floats = (xy - np.array(self.origin)) @ self.way
        return distance

    def at(self, xy: Floats) -> Floats:
        """Return the floor's height at plan points (n, 2) [m]."""
        return np.interp(self.along(xy), self.places, self.heights)

    def stretch(self, xy: Floats) -> Floats:
        """Return true area over plan area at plan points (n, 2)."""
        panel = np.searchsorted(self.places, self.along(xy))
        stretch: Floats = np.sqrt(1 + np.array(self.slopes)[panel] ** 2)
        return stretch

    def panel(self, i: int) -> Plane:
        """Return the plane of panel ``i``, which ends at break ``i``."""
        near = min(i, len(self.places) - 1)
        gradient = self.slopes[i] * self.way
        z0 = self.heights[near] - self.slopes[i] * self.places[near]
        return Plane(z0 - float(gradient @ np.array(self.origin)), tuple(gradient.tolist()))


@dataclass(frozen=True)
class Piece:
    """A piece of cove: the path it is swept along and where it begins and ends."""

    path: PathAt
    start: Bound
    end: Bound


def on_breaks(curve: Curve, floor: Profile, radius: float = 0.0, top: float = 0.0) -> Basin:
    """Return the quantities of a smooth outline on a floor with breaks.

    Args:
        curve: The outline.
        floor: Its heights at the breaks.
        radius: The cove's, below every inside radius of the outline; 0 for a sharp foot [m].
        top: Height of the wall top [m].
    """
    volume, true_floor, wall, foot = _sharp(curve, floor, top)
    if radius == 0:
        return Basin(volume, 0.0, true_floor, wall, 0.0, foot, foot)
    cove = mortar = strip = 0.0
    pieces = _pieces(curve, floor, radius)
    for piece in pieces:
        for t, wt in arc_nodes():
            u, wu = _split(piece, floor, t, curve.knots)
            place, across = piece.path(u).section(t)
            plan, xy = across[:, 2] * wu, place[:, :2]
            cove += wt * float(np.linalg.norm(across, axis=1) @ wu)
            mortar += wt * float((place[:, 2] - floor.at(xy)) @ plan)
            strip += wt * float(floor.stretch(xy) @ plan)
    above = head = 0.0
    for piece in pieces:
        u, wu = _split(piece, floor, 0.0, curve.knots)
        place, along = piece.path(u).head
        above += float((top - place[:, 2]) @ (curve.speed(u) * wu))
        head += float(np.linalg.norm(along, axis=1) @ wu)
    return Basin(volume - mortar, mortar, true_floor - strip, above, cove, head, math.nan)


def _sharp(curve: Curve, floor: Profile, top: float) -> tuple[float, float, float, float]:
    """Return volume, true floor area, wall area and foot length without a cove.

    By Green's theorem in (s, q), q square to s: the integral of f(s) over the plan is that of
    its antiderivative over dq along the outline.
    """
    marks = _crossings(curve, floor, 0.0)
    first = marks[0][0] if marks else 0.0
    u, w = curve.nodes(first, first)
    ends = [*(m[0] for m in marks), first + float(curve.knots[-1])]
    inner = [k for k in (*curve.knots, *(curve.knots + curve.knots[-1])) if first < k < ends[-1]]
    u, w = gauss(np.unique([first, *ends, *inner]))
    xy, d = curve.at(u, 0), curve.at(u, 1)
    s, dq = floor.along(xy), (d[:, 1] * floor.way[0] - d[:, 0] * floor.way[1]) * w
    places, slopes = np.array(floor.places), np.array(floor.slopes)
    panel = np.searchsorted(places, s)
    near = np.clip(panel, 0, len(places) - 1)
    span, middle = s - places[near], np.interp(s, places, floor.heights)
    known = np.concatenate([[0.0], np.cumsum(np.diff(places) * _mean(floor.heights))])
    depth = known[near] + span * (middle + np.array(floor.heights)[near]) / 2
    stretch = np.sqrt(1 + slopes**2)
    run = np.concatenate([[0.0], np.cumsum(np.diff(places) * stretch[1:-1])])
    true = run[near] + span * stretch[panel]
    steep = slopes[panel] * (d @ floor.way)
    foot = float(np.sqrt(curve.speed(u) ** 2 + steep**2) @ w)
    volume = top * float(s @ dq) - float(depth @ dq)
    return volume, float(true @ dq), float((top - middle) @ (curve.speed(u) * w)), foot


def _mean(heights: tuple[float, ...]) -> Floats:
    return np.array([(a + b) / 2 for a, b in pairwise(heights)])


def _crossings(curve: Curve, floor: Profile, offset: float) -> list[tuple[float, int, int]]:
    """Return (u, break, +1 when ``at`` rises there) along the wall's parallel, in order."""
    found = []
    for k, place in enumerate(floor.places):
        if math.isclose(floor.slopes[k], floor.slopes[k + 1], abs_tol=1e-12):
            continue  # flush: no edge, one canal

        def sign(xy: Floats, place: float = place) -> Floats:
            return floor.along(xy) - place

        for u in curve.crossings(sign, offset):
            step = np.array([u - 1e-6, u + 1e-6])
            moved = floor.along(curve.at(step, 0) + offset * curve.normal(step))
            found.append((u, k, 1 if moved[1] > moved[0] else -1))
    return sorted(found)


def _pieces(curve: Curve, floor: Profile, radius: float) -> list[Piece]:
    """Return the cove all round: panels, and a pivot at each brow."""
    marks = _crossings(curve, floor, radius)
    period = float(curve.knots[-1])
    if not marks:
        here = int(np.searchsorted(floor.places, floor.along(curve.at(np.zeros(1), 0))[0]))
        path = on_plane(curve, floor.panel(here), radius)
        return [Piece(path, lambda _: 0.0, lambda _: period)]
    pieces = []
    for (u, k, rise), (u_next, k_next, rise_next) in pairwise([*marks, marks[0]]):
        panel = k + (rise > 0)
        wrap = period * (u_next <= u)
        path = on_plane(curve, floor.panel(panel), radius)
        start = _bound(curve, floor, radius, (u, k, rise), leaving=False)
        end = _bound(curve, floor, radius, (u_next, k_next, rise_next), leaving=True)
        pieces.append(Piece(path, start, _later(end, wrap)))
        if floor.slopes[k] > floor.slopes[k + 1]:
            before = _bound(curve, floor, radius, (u, k, rise), leaving=True)
            pieces.append(Piece(_about_brow(curve, floor, radius, k), before, start))
    return pieces


def _later(bound: Bound, by: float) -> Bound:
    return lambda t: bound(t) + by


def _bound(
    curve: Curve, floor: Profile, radius: float, mark: tuple[float, int, int], *, leaving: bool
) -> Bound:
    """Return where the panel before (leaving) or after a break ends at that break."""
    u0, k, rise = mark
    mine = k + (rise > 0) - (rise if leaving else 0)
    other = 2 * k + 1 - mine
    path = on_plane(curve, floor.panel(mine), radius)
    near = 3 * radius / float(curve.speed(np.array([u0]))[0])
    if floor.slopes[k] > floor.slopes[k + 1]:
        limit = brentq(
            lambda u: float(floor.along(path(np.array([u])).foot[0][:, :2])[0]) - floor.places[k],
            u0 - near,
            u0 + near,
            xtol=1e-14,
        )
        return lambda _: limit
    plane, beyond = floor.panel(other), on_plane(curve, floor.panel(other), radius)

    def end(t: float) -> float:
        def clear(u: float) -> float:
            place = path(np.array([u])).section(t)[0]
            if t == 0:  # both canals touch the wall here: the higher contact counts
                return float(place[0, 2] - beyond(np.array([u])).head[0][0, 2])
            return _clearance(place, plane, beyond, u)

        return float(brentq(clear, u0 - near, u0 + near, xtol=1e-13))

    return end


def _clearance(place: Floats, plane: Plane, path: PathAt, u: float) -> float:
    """Return how far a point (1, 3) stands above a panel and its cove (0 on either, signed).

    Args:
        place: The point.
        plane: The panel's.
        path: The ball's along the wall on that panel.
        u: Near the point.
    """
    for _ in range(40):  # the nearest place of the ball, by Gauss-Newton
        here = path(np.array([u]))
        arm, along = (place - here.centre)[0], here.d_centre[0]
        step = float(arm @ along / (along @ along))
        u += step
        if abs(step) < 1e-13:
            break
    wall, floor = here.wall[0], here.floor[0]
    out, cosine = float(arm @ wall), float(wall @ floor)
    if out < here.radius * cosine:  # past the floor contact
        return float(place[0, 2] - plane.at(place[:, :2])[0])
    square = (floor - cosine * wall) / math.sqrt(1 - cosine**2)
    return math.sqrt(max(here.radius**2 - out**2, 0.0)) - float(arm @ square)


def _about_brow(curve: Curve, floor: Profile, radius: float, k: int) -> PathAt:
    """Return the path of a ball that pivots about brow ``k`` along the wall."""
    plan = along_wall(curve, radius)
    way = floor.way

    def path(u: Floats) -> Path:
        xy, d_xy, wall, d_wall = plan(u)
        lean, d_lean = (floor.along(xy) - floor.places[k]) / radius, d_xy @ way / radius
        up = np.sqrt(1 - lean**2)
        d_up = -lean * d_lean / up
        height = floor.heights[k] + radius * up
        return Path(
            radius,
            np.column_stack([xy, height]),
            wall,
            -np.column_stack([lean[:, None] * way, up]),
            np.column_stack([d_xy, radius * d_up]),
            d_wall,
            -np.column_stack([d_lean[:, None] * way, d_up]),
        )

    return path


def _split(piece: Piece, floor: Profile, t: float, knots: Floats) -> tuple[Floats, Floats]:
    """Return nodes along a piece at ``t``, split at knots and where it passes a break."""
    a, b = piece.start(t), piece.end(t)
    marks = [a, b, *(k for k in (*knots, *(knots + knots[-1])) if a < k < b)]

    def along(u: Floats) -> Floats:
        return floor.along(piece.path(u).section(t)[0][:, :2])

    u = np.linspace(a, b, 40)
    for place in floor.places:
        beyond = along(u) - place
        beyond[np.abs(beyond) < SNAP] = 0.0
        marks += [
            brentq(lambda v, p=place: along(np.array([v]))[0] - p, u[i], u[i + 1], xtol=1e-14)
            for i in np.flatnonzero(beyond[:-1] * beyond[1:] < 0)
        ]
    return gauss(np.unique(marks))
