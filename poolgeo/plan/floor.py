r"""The floor: smooth pieces that meet in breaks.

Most floors are one profile, drawn along a plan direction: height against distance ``u``, straight
between breaks and beyond the ends. ::

    z
    |____
    |    \        pieces are numbered from the left; a break is where two pieces meet
    |     \____   toe: the floor turns up (internal); brow: it turns down (external)
    +------------ u

The others are `Faceted`: pieces of any outline, each a smooth surface, flattened into **facets**.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .curves import unit
from .shapes import rings_of
from .surfaces import Plane, Surface

FAR = 1e4
"""[m] No pool reaches so far from the origin of its floor."""


@dataclass(frozen=True)
class Parts:
    """What a floor is made of.

    Args:
        surfaces: (p,) what each piece is.
        piece_of: (f,) the piece of each facet.
        lines: (k, 2, 2) what parts the facets [m].
    """

    surfaces: tuple[Surface, ...]
    piece_of: Ints
    lines: Floats


class Floor(ABC):
    """A continuous height over the plan, in smooth pieces."""

    @property
    @abstractmethod
    def is_level(self) -> bool:
        """Whether the floor is one level plane."""

    @property
    @abstractmethod
    def is_plane(self) -> bool:
        """Whether the floor is one plane."""

    @property
    @abstractmethod
    def creases(self) -> dict[tuple[int, int], bool]:
        """Pieces that meet in a break, smaller first, and whether it is internal (a toe)."""

    @property
    @abstractmethod
    def breaks(self) -> tuple[Floats, Ints]:
        """Lines between pieces: segments (k, 2, 2) [m], and the pieces left and right (k, 2)."""

    @abstractmethod
    def piece(self, xy: Floats) -> Ints:
        """Return the piece number under each plan point (..., 2)."""

    @abstractmethod
    def facet(self, xy: Floats) -> Ints:
        """Return the facet number under each plan point (..., 2)."""

    def piece_of_facet(self, facet: Ints) -> Ints:
        """Return the pieces (k,) of facets (k,)."""
        return facet

    @abstractmethod
    def height(self, xy: Floats) -> Floats:
        """Return the floor's height at plan points (..., 2) [m]."""

    def span(self, xy: Floats) -> tuple[Floats, Floats]:
        """Return the lowest and the highest beside plan points (..., 2): the same, unless torn."""
        height = self.height(xy)
        return height, height

    @abstractmethod
    def height_of(self, xy: Floats, piece: int) -> Floats:
        """Return the height of one piece, carried on, at plan points (..., 2) [m]."""

    @abstractmethod
    def gradient_of(self, xy: Floats, piece: int) -> Floats:
        """Return the gradient of one piece, carried on, at plan points (..., 2) [-]."""

    @abstractmethod
    def is_flat(self, piece: int) -> bool:
        """Whether a piece is a plane."""

    @abstractmethod
    def lines_within(self, rings: Sequence[Floats], snap: float) -> Floats:
        """Return what of the lines between facets lies inside rings.

        Args:
            rings: Closed polylines, first point repeated (even-odd where there are several) [m].
            snap: A line that passes a vertex nearer than this ends in it [m].

        Returns:
            Segments (k, 2, 2) [m].
        """

    @abstractmethod
    def contour_within(self, z: float, rings: Sequence[Floats]) -> Floats:
        """Return where inside rings the floor passes a height [m], as segments (k, 2, 2) [m]."""

    @abstractmethod
    def facets(self, region: shapely.Geometry) -> tuple[np.ndarray, Floats]:
        """Return the facets that lie in a region's box: polygons (k,) and planes (k, 3).

        The height over each is a x + b y + c.
        """

    @abstractmethod
    def parts(self, box: shapely.Polygon) -> Parts:
        """Return the floor's pieces, facets and the lines between these, to beyond a box."""

    @abstractmethod
    def lowered(self, by: float) -> Floor:
        """Return the floor moved down square to itself [m]."""

    @abstractmethod
    def upright_of(self, piece: int) -> Floats | None:
        """Return the upward unit normal (3,) of a piece that is a plane, None of another."""

    def normal_of(self, xy: Floats, piece: int) -> Floats:
        """Return the upward unit normal of one piece at plan points (..., 3)."""
        slope = self.gradient_of(xy, piece)
        up = 1.0 / np.sqrt(1.0 + slope[..., 0] ** 2 + slope[..., 1] ** 2)
        return np.stack([-slope[..., 0] * up, -slope[..., 1] * up, up], axis=-1)

    def off_break(self, xy: Floats, pair: tuple[int, int]) -> tuple[Floats, Floats]:
        """Return how far points (..., 2) stand off the break of two pieces, and the way there.

        Returns:
            (...) distance to where both pieces are equally high, to first order, above 0 where the
            first is higher [m]; (..., 2) unit vectors in which it grows.
        """
        turn = self.gradient_of(xy, pair[0]) - self.gradient_of(xy, pair[1])
        size = np.maximum(np.hypot(turn[..., 0], turn[..., 1]), 1e-12)
        apart = self.height_of(xy, pair[0]) - self.height_of(xy, pair[1])
        return apart / size, turn / size[..., None]


@dataclass(frozen=True)
class Profile(Floor):
    """A floor that is a profile along a direction.

    Args:
        direction: (2,) unit plan vector along which the profile is drawn.
        origin: (2,) plan point where u = 0 [m].
        bends: (k - 1,) u of the breaks, rising [m].
        slopes: (k,) dz/du of each piece [-].
        intercepts: (k,) height of each piece's line at u = 0 [m].
    """

    direction: Floats
    origin: Floats
    bends: Floats
    slopes: Floats
    intercepts: Floats

    def along(self, xy: Floats) -> Floats:
        """Return u of plan points (..., 2) [m]."""
        u: Floats = (xy - self.origin) @ self.direction
        return u

    def piece(self, xy: Floats) -> Ints:
        """Return the piece number under each plan point (..., 2)."""
        return np.searchsorted(self.bends, self.along(xy))

    def facet(self, xy: Floats) -> Ints:
        """Return the piece number too: every piece is plane."""
        return self.piece(xy)

    def height(self, xy: Floats) -> Floats:
        """Return the floor's height at plan points (..., 2) [m]."""
        u = self.along(xy)
        k = np.searchsorted(self.bends, u)
        z: Floats = self.intercepts[k] + self.slopes[k] * u
        return z

    def height_of(self, xy: Floats, piece: int) -> Floats:
        """Return the height of one piece, carried on, at plan points (..., 2) [m]."""
        z: Floats = self.intercepts[piece] + self.slopes[piece] * self.along(xy)
        return z

    def gradient_of(self, xy: Floats, piece: int) -> Floats:
        """Return the gradient of one piece at plan points (..., 2) [-]."""
        return np.broadcast_to(self.slopes[piece] * self.direction, np.shape(xy))

    @cached_property
    def _uprights(self) -> Floats:
        """Upward unit normals (k, 3) of the pieces."""
        slope = self.slopes[:, None] * self.direction
        up = 1.0 / np.sqrt(1.0 + slope[:, 0] ** 2 + slope[:, 1] ** 2)
        return np.column_stack([-slope[:, 0] * up, -slope[:, 1] * up, up])

    def upright_of(self, piece: int) -> Floats:
        """Return the upward unit normal (3,) of a piece."""
        found: Floats = self._uprights[piece]
        return found

    def is_flat(self, piece: int) -> bool:  # noqa: ARG002 - all of them are
        """Whether a piece is a plane."""
        return True

    def lines_within(self, rings: Sequence[Floats], snap: float) -> Floats:
        """Return what of the break lines lies inside rings."""
        return self._across(self.bends, rings, snap)

    def contour_within(self, z: float, rings: Sequence[Floats]) -> Floats:
        """Return where inside rings the floor passes a height."""
        found = []
        edges = np.concatenate([[-np.inf], self.bends, [np.inf]])
        for k, (m, a) in enumerate(zip(self.slopes, self.intercepts, strict=True)):
            if abs(m) > 1e-12 and edges[k] < (z - a) / m < edges[k + 1]:
                found.append((z - a) / m)
        return self._across(np.array(found), rings, 0.0)

    def _across(self, u: Floats, rings: Sequence[Floats], snap: float) -> Floats:
        """Return what of the lines square to the direction at each u lies inside rings."""
        found = [np.zeros((0, 2, 2))]
        if not len(u) or not rings:
            return found[0]
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

    def parts(self, box: shapely.Polygon) -> Parts:
        """Return the floor's pieces, facets and the lines between these, to beyond a box."""
        beyond = shapely.buffer(box, 1.0, join_style="mitre")  # ends rounded on it may not reach it
        planes = tuple(
            Plane.through(self.origin, float(z), m * self.direction)
            for z, m in zip(self.intercepts, self.slopes, strict=True)
        )
        return Parts(planes, np.arange(len(planes)), self.lines_within(rings_of(beyond), 0.0))

    def lowered(self, by: float) -> Profile:
        """Return the profile moved down square to itself [m], its breaks mitred.

        A piece that this swallows is left out.
        """
        slopes = list(self.slopes)
        intercepts = list(self.intercepts - by * np.hypot(1.0, self.slopes))
        while True:
            rise, run = np.diff(intercepts), np.diff(slopes)
            bends = -rise / run if len(run) else np.zeros(0)
            folded = np.flatnonzero(np.diff(bends) <= 0.0)
            if not len(folded):
                break
            del slopes[folded[0] + 1], intercepts[folded[0] + 1]
        return Profile(self.direction, self.origin, bends, np.array(slopes), np.array(intercepts))

    @property
    def breaks(self) -> tuple[Floats, Ints]:
        """Lines between pieces, as long as any pool, and the pieces left and right."""
        across = np.array([-self.direction[1], self.direction[0]])
        on = self.origin + self.bends[:, None] * self.direction
        k = np.arange(len(self.bends))
        return np.stack([on - FAR * across, on + FAR * across], 1), np.column_stack([k, k + 1])

    @cached_property
    def creases(self) -> dict[tuple[int, int], bool]:
        """Pieces that meet in a break, and whether it is internal."""
        return {(k, k + 1): bool(up) for k, up in enumerate(np.diff(self.slopes) > 0.0)}

    def facets(self, region: shapely.Geometry) -> tuple[np.ndarray, Floats]:
        """Return the facets that lie in a region's box."""
        box = shapely.box(*shapely.bounds(region))
        u = self.along(shapely.get_coordinates(box))
        across = np.array([-self.direction[1], self.direction[0]])
        size = float(np.ptp(shapely.get_coordinates(box), axis=0).sum()) + 1.0
        middle = (shapely.get_coordinates(shapely.centroid(box))[0] - self.origin) @ across
        edges = np.concatenate([[u.min() - 1.0], self.bends, [u.max() + 1.0]])
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

    @property
    def is_plane(self) -> bool:
        """Whether the floor is one plane."""
        return len(self.slopes) == 1


def level_floor(height: float) -> Profile:
    """Return a floor that is level at ``height`` [m]."""
    return Profile(np.array([1.0, 0.0]), np.zeros(2), np.zeros(0), np.zeros(1), np.array([height]))


def plane_floor(point: Floats, height: float, fall: float, direction: float) -> Profile:
    """Return a floor that is one plane.

    Args:
        point: (2,) plan point at which it has the height [m].
        height: [m].
        fall: How steeply it goes down along the direction [-].
        direction: Degrees anticlockwise from x.
    """
    return Profile(
        unit(direction), np.asarray(point), np.zeros(0), np.array([-fall]), np.array([height])
    )


def sloping_floor(point: Floats, height: float, slope: Floats) -> Profile:
    """Return the plane with a height [m] at a plan point (2,), and a gradient (2,)."""
    size = float(np.hypot(*slope))
    way = slope / size if size else np.array([1.0, 0.0])
    return Profile(way, np.asarray(point), np.zeros(0), np.array([size]), np.array([height]))
