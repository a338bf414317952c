r"""The section of a detail: concrete, what fills its corner or is taken off it, layers over that.

Places are in metres, square to the edge, with the edge in the origin. Leg A runs to the right (and
rises where the water's angle is acute), the water above it; leg B stands at the water's angle to
it. ::

      B |  water                   water     ___ A
        |                                   |
        |_______ A                        B |  concrete

* **profile**: the face of the concrete that is coated, from the far end of leg A to that of leg B.
* **body**: all that is there already; a layer goes over it.
* **band**: a part of the profile, by the distances at which it begins and ends.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..arrays import Floats
from ..sections import Form, section
from .plan_lines import Place

FAR = 50.0
"""[m] Beyond all that a detail shows."""

_CHORDS = 24
"""Chords in an arc of a detail, and in a quarter of a layer's round."""

_SAME = 1e-7
"""[m] Lines nearer than this are one."""

Band = tuple[float, float]


@dataclass(frozen=True)
class CornerPiece:
    """What fills an internal edge, or is taken off an external one.

    Args:
        points: Its face (n, 2), from leg A to leg B [m].
        leg: How far it reaches along either leg [m].
        centre: Of its arc; None where it is straight.
    """

    points: Floats
    leg: float
    centre: Place | None

    @property
    def area(self) -> shapely.Polygon:
        """What it fills or takes off."""
        return shapely.Polygon([(0.0, 0.0), *self.points.tolist()])

    @property
    def girth(self) -> float:
        """The way across its face [m]."""
        return float(np.linalg.norm(np.diff(self.points, axis=0), axis=1).sum())


def directions(angle: float) -> tuple[Floats, Floats]:
    """Return the unit vectors along leg A and leg B.

    Args:
        angle: Between them, through the water [deg].

    Example:
        >>> a, b = directions(60.0)  # leg B stands upright, leg A rises
        >>> a.round(3).tolist(), b.round(3).tolist()
        ([0.866, 0.5], [0.0, 1.0])
    """
    first = math.radians(max(90.0 - angle, 0.0))
    second = first + math.radians(angle)
    return (
        np.array([math.cos(first), math.sin(first)]),
        np.array([math.cos(second), math.sin(second)]),
    )


def corner_piece(form: Form, size: float, angle: float) -> CornerPiece:
    """Return a fillet, or an arris.

    Args:
        form: Straight across, or round.
        size: Leg, or radius [m].
        angle: Of the edge through the water [deg].

    Returns:
        What lies between its face and the edge.
    """
    a, b = directions(angle)
    phi = math.radians(min(angle, 360.0 - angle))
    leg = float(section(form, size, np.array([phi])).leg[0])
    if form == "straight":
        return CornerPiece(np.array([leg * a, leg * b]), leg, None)
    middle = (a + b) / np.linalg.norm(a + b) * size / math.sin(phi / 2.0)
    start, end = leg * a - middle, leg * b - middle
    first = math.atan2(start[1], start[0])
    turn = (math.atan2(end[1], end[0]) - first + math.pi) % math.tau - math.pi
    ways = first + np.linspace(0.0, turn, _CHORDS + 1)
    points = middle + size * np.column_stack([np.cos(ways), np.sin(ways)])
    return CornerPiece(points, leg, (float(middle[0]), float(middle[1])))


@dataclass(frozen=True)
class Ground:
    """What layers go on to.

    Args:
        solid: The concrete with what fills its corner; beyond all that is shown.
        profile: Its face (n, 2) [m].
        middle: The distance along it that details are about [m].
        window: What is shown, as a band.
    """

    solid: BaseGeometry
    profile: Floats
    middle: float
    window: Band

    def at(self, distance: float) -> tuple[Floats, Floats]:
        """Return the place at a distance along the profile, and which way that runs there."""
        steps = np.diff(self.profile, axis=0)
        sizes = np.linalg.norm(steps, axis=1)
        ends = np.cumsum(sizes)
        k = min(int(np.searchsorted(ends, distance)), len(sizes) - 1)
        along = steps[k] / sizes[k]
        return self.profile[k + 1] + (distance - ends[k]) * along, along

    def over(self, band: Band) -> shapely.Polygon:
        """Return all that lies over a band: between the lines square to its ends."""
        whole = shapely.box(-FAR, -FAR, FAR, FAR)
        for distance, sense in zip(band, (1.0, -1.0), strict=True):
            at, along = self.at(distance)
            whole = whole.intersection(_half_plane(at, sense * along))
        return whole

    @property
    def shown(self) -> shapely.Polygon:
        """All that lies over what is shown."""
        return self.over(self.window)


def _half_plane(at: Floats, along: Floats) -> shapely.Polygon:
    """Return what lies ahead of a place."""
    across = np.array([-along[1], along[0]]) * 4.0 * FAR
    ahead = at + 4.0 * FAR * along
    return shapely.Polygon([at - across, ahead - across, ahead + across, at + across])


def edge_ground(angle: float, piece: CornerPiece | None, reach: float) -> Ground:
    """Return the ground at an edge.

    Args:
        angle: Through the water [deg].
        piece: What fills the edge, or is taken off it.
        reach: Length of either leg that is shown [m].
    """
    a, b = directions(angle)
    first = math.atan2(b[1], b[0])
    ways = first + np.linspace(0.0, math.radians(360.0 - angle), 4 * _CHORDS)
    rim = 2.0 * FAR * np.column_stack([np.cos(ways), np.sin(ways)])
    solid: BaseGeometry = shapely.Polygon([(0.0, 0.0), *rim.tolist()])
    middle = np.zeros((1, 2)) if piece is None else piece.points
    if piece is not None:
        part = piece.area
        solid = solid.union(part.buffer(_SAME)) if angle < 180.0 else solid.difference(part)
    profile = np.concatenate([[FAR * a], middle, [FAR * b]])
    half = float(np.linalg.norm(np.diff(profile, axis=0), axis=1).sum()) / 2.0
    toe = FAR - reach
    return Ground(solid, profile, half, (toe, 2.0 * half - toe))


def flat_ground(left: float, right: float) -> Ground:
    """Return level ground that is shown from one place to another; details are about 0 [m]."""
    profile = np.array([[FAR, 0.0], [-FAR, 0.0]])
    solid = shapely.box(-FAR, -2.0 * FAR, FAR, 0.0)
    return Ground(solid, profile, FAR, (FAR - right, FAR - left))


class Stack:
    """Layers, one over the other.

    Args:
        ground: What they go on to.
    """

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self._body = ground.solid
        self._shown = ground.shown

    def lay(
        self, thickness: float, *bands: Band, off: BaseGeometry | None = None
    ) -> tuple[BaseGeometry, list[Floats]]:
        """Lay a layer over all that is there.

        Args:
            thickness: As it is drawn [m].
            *bands: What it covers; all where none is given.
            off: Where it does not go.

        Returns:
            What of it is shown, and the lines that it ends at.
        """
        grown = self._body.buffer(thickness, quad_segs=_CHORDS)
        layer = grown.difference(self._body)
        if bands:
            layer = layer.intersection(shapely.union_all([self.ground.over(b) for b in bands]))
        if off is not None:
            layer = layer.difference(off)
        before = self._body.boundary.buffer(_SAME)
        # a hair more, so that no gap is left between the two
        self._body = self._body.union(layer.buffer(_SAME / 10.0, join_style="mitre"))
        edge = layer.boundary.difference(before).intersection(self._shown.buffer(-2.0 * _SAME))
        return layer.intersection(self._shown), lines_of(edge)

    def top(self, x: float) -> float:
        """Return how high the layers stand at a place [m]."""
        line = shapely.LineString([(x, -FAR / 2.0), (x, FAR / 2.0)])
        return float(self._body.intersection(line).bounds[3])


def lines_of(shape: BaseGeometry) -> list[Floats]:
    """Return the lines of a shape, each as its points, joined end to end."""
    parts = [part for part in shapely.get_parts(shape) if part.geom_type.startswith("Line")]
    if not parts:
        return []
    merged = shapely.line_merge(shapely.MultiLineString(parts))
    found = [np.array(part.simplify(_SAME).coords) for part in shapely.get_parts(merged)]
    long = [line for line in found if np.linalg.norm(np.diff(line, axis=0), axis=1).sum() > 1e-5]
    return sorted(long, key=lambda line: line.tolist())


def break_line(start: Floats, end: Floats, size: float) -> Floats:
    """Return a line along which something is cut off, with a break of a size in its middle."""
    start, end = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
    way = end - start
    across = np.array([-way[1], way[0]])
    share = min(0.15, size / max(float(np.linalg.norm(way)), 1e-9))
    shape = ((0.0, 0.0), (0.5 - share, 0.0), (0.5 - share / 3.0, 1.2 * share),
             (0.5 + share / 3.0, -1.2 * share), (0.5 + share, 0.0), (1.0, 0.0))  # fmt: skip
    points: Floats = np.array([start + t * way + s * across for t, s in shape])
    return points


def disc(centre: Place, width: float, height: float) -> shapely.Polygon:
    """Return a round area, squeezed where its width is not its height."""
    ways = np.linspace(0.0, math.tau, 2 * _CHORDS, endpoint=False)
    x, y = centre
    return shapely.Polygon(
        np.column_stack([x + width / 2.0 * np.cos(ways), y + height / 2.0 * np.sin(ways)])
    )
