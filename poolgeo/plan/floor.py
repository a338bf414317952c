r"""The floor: a profile drawn along a direction, and its offsets.

Every floor of the pool file is one profile: height against distance ``u`` along a plan direction,
straight between breaks and beyond the ends. ::

    z
    |____
    |    \        pieces are numbered from the left; a break is where two pieces meet
    |     \____   toe: the floor turns up (internal); brow: it turns down (external)
    +------------ u
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ..design import schema
from .curves import Floats


@dataclass(frozen=True)
class Floor:
    """A piecewise-plane floor.

    Args:
        direction: (2,) unit plan vector along which the profile is drawn.
        origin: (2,) plan point where u = 0 [m].
        breaks: (k - 1,) u of the breaks, rising [m].
        slopes: (k,) dz/du of each piece [-].
        intercepts: (k,) height of each piece's line at u = 0 [m].
    """

    direction: Floats
    origin: Floats
    breaks: Floats
    slopes: Floats
    intercepts: Floats

    def along(self, xy: Floats) -> Floats:
        """Return u of plan points (..., 2) [m]."""
        u: Floats = (xy - self.origin) @ self.direction
        return u

    def piece(self, xy: Floats) -> np.ndarray:
        """Return the piece number under each plan point (..., 2)."""
        return np.searchsorted(self.breaks, self.along(xy))

    def height(self, xy: Floats) -> Floats:
        """Return the floor's height at plan points (..., 2) [m]."""
        u = self.along(xy)
        k = np.searchsorted(self.breaks, u)
        z: Floats = self.intercepts[k] + self.slopes[k] * u
        return z

    def normal(self, piece: int) -> Floats:
        """Return the upward unit normal of a piece (3,)."""
        m = float(self.slopes[piece])
        return np.array([*(-m * self.direction), 1.0]) / math.hypot(1.0, m)

    def lines_within(self, u: Floats, rings: Sequence[Floats], snap: float) -> Floats:
        """Return what of the lines square to the direction at each u lies inside rings.

        Args:
            u: Where the lines stand [m].
            rings: Closed polylines, first point repeated (even-odd where there are several) [m].
            snap: A line that passes a vertex nearer than this ends in it [m].

        Returns:
            Segments (k, 2, 2) [m].
        """
        found = [np.zeros((0, 2, 2))]
        start = np.concatenate([ring[:-1] for ring in rings])
        stop = np.concatenate([ring[1:] for ring in rings])
        across = np.array([-self.direction[1], self.direction[0]])
        for place in u:
            a, b = self.along(start) - place, self.along(stop) - place
            a[np.abs(a) < snap], b[np.abs(b) < snap] = 0.0, 0.0
            met = np.flatnonzero((a < 0.0) != (b < 0.0))
            share = a[met] / (a[met] - b[met])
            ends = start[met] + share[:, None] * (stop[met] - start[met])
            ends = ends[np.argsort(ends @ across)]
            found.append(ends.reshape(-1, 2, 2))
        return np.concatenate(found)

    def offset(self, distance: float) -> Floor:
        """Return the profile moved square to itself, up if positive, its breaks mitred [m].

        A piece that the offset swallows is left out.
        """
        slopes = list(self.slopes)
        intercepts = list(self.intercepts + distance * np.hypot(1.0, self.slopes))
        while True:
            rise, run = np.diff(intercepts), np.diff(slopes)
            breaks = -rise / run if len(run) else np.zeros(0)
            folded = np.flatnonzero(np.diff(breaks) <= 0.0)
            if not len(folded):
                break
            del slopes[folded[0] + 1], intercepts[folded[0] + 1]
        return Floor(self.direction, self.origin, breaks, np.array(slopes), np.array(intercepts))

    def level_at(self, z: float) -> Floats:
        """Return every u at which a sloping piece passes the height ``z`` [m]."""
        found = []
        edges = np.concatenate([[-np.inf], self.breaks, [np.inf]])
        for k, (m, a) in enumerate(zip(self.slopes, self.intercepts, strict=True)):
            if abs(m) > 1e-12 and edges[k] < (z - a) / m < edges[k + 1]:
                found.append((z - a) / m)
        return np.array(found)

    def facets(self, region: shapely.Geometry) -> tuple[np.ndarray, Floats]:
        """Return the pieces that lie in a region's box: polygons (k,) and planes (k, 3).

        The height over each is a x + b y + c.
        """
        box = shapely.box(*shapely.bounds(region))
        u = self.along(shapely.get_coordinates(box))
        across = np.array([-self.direction[1], self.direction[0]])
        size = float(np.ptp(shapely.get_coordinates(box), axis=0).sum()) + 1.0
        middle = (shapely.get_coordinates(shapely.centroid(box))[0] - self.origin) @ across
        edges = np.concatenate([[u.min() - 1.0], self.breaks, [u.max() + 1.0]])
        polygons, planes = [], []
        for k, (m, z) in enumerate(zip(self.slopes, self.intercepts, strict=True)):
            low, high = max(edges[k], edges[0]), min(edges[k + 1], edges[-1])
            if high <= low:
                continue
            ends = [self.origin + v * self.direction for v in (low, high)]
            left, right = ((middle + side * size) * across for side in (1.0, -1.0))
            polygons.append([ends[0] + right, ends[1] + right, ends[1] + left, ends[0] + left])
            planes.append([*(m * self.direction), z - m * (self.origin @ self.direction)])
        strips = shapely.polygons(np.array(polygons))
        return shapely.intersection(strips, box), np.array(planes)

    @cached_property
    def is_level(self) -> bool:
        """Whether the floor is one level plane."""
        return len(self.slopes) == 1 and self.slopes[0] == 0.0


def floor_of(floor: schema.Floor, datum: float = 0.0) -> Floor:
    """Return the profile of a floor from the pool file.

    Args:
        floor: Depths count down from the datum.
        datum: Height of the water level that depths count from [m].
    """
    match floor:
        case schema.LevelFloor():
            return level_floor(datum - floor.depth)
        case schema.PlaneFloor():
            return Floor(
                _unit(floor.direction),
                np.array(floor.at),
                np.zeros(0),
                np.array([-floor.fall]),
                np.array([datum - floor.depth]),
            )
        case schema.BrokenFloor():
            u = np.array([item.at for item in floor.breaks])
            z = datum - np.array([item.depth for item in floor.breaks])
            slopes = np.concatenate([[0.0], np.diff(z) / np.diff(u), [0.0]])
            intercepts = np.concatenate([[z[0]], z[1:] - slopes[1:-1] * u[1:], [z[-1]]])
            real = np.abs(np.diff(slopes)) > 1e-9
            kept = np.concatenate([[True], real])
            return Floor(
                _unit(floor.direction),
                np.array(floor.origin),
                u[real],
                slopes[kept],
                intercepts[kept],
            )


def level_floor(height: float) -> Floor:
    """Return a floor that is level at ``height`` [m]."""
    return Floor(np.array([1.0, 0.0]), np.zeros(2), np.zeros(0), np.zeros(1), np.array([height]))


def _unit(degrees: float) -> Floats:
    return np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])
