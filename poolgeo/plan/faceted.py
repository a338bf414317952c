"""Floors of pieces of any outline and form, flattened into facets."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .floor import Floor, Parts
from .shapes import lines_of, segments_of, sides_across
from .surfaces import Lowered, Plane, Surface
from .tolerances import GRID

Locate = Callable[[Floats], Ints]
"""Returns the facet number under each plan point (k, 2)."""

STEPS = 40
"""Most steps in which a zero is looked for."""

AT_ZERO = 1e-9
"""[m] A height nearer to zero than this is none."""

BESIDE = 1e-4
"""[m] A point this far off a line tells what lies beside it."""

MOVED = 2.0 * BESIDE
"""[m] Noding moves a vertex of a line no further off it."""

BEYOND = 0.1
"""[m] Between the ends of its lines no floor is higher or lower than at them by more: twice the
largest tolerance of chords."""

TOUCH = 1e-5
"""[m] Lines that reach into a box by less do not run through it."""

SAME_PLANE = 1e-9
"""[-] Gradients that differ by less meet in no crease."""


@dataclass(frozen=True)
class Faceted(Floor):
    """A floor in facets.

    Args:
        surfaces: (p,) what each piece is.
        piece_of: (f,) the piece of each facet.
        locate: Tells the facet under a plan point.
        lines: (k, 2, 2) what parts the facets, noded [m].
        torn: Whether pieces differ in height at breaks: there the lowest counts.
    """

    surfaces: tuple[Surface, ...]
    piece_of: Ints
    locate: Locate
    lines: Floats
    torn: bool = False

    @property
    def is_level(self) -> bool:
        """Whether it is one level plane: never."""
        return False

    @property
    def is_plane(self) -> bool:
        """Whether it is one plane: never."""
        return False

    def facet(self, xy: Floats) -> Ints:
        """Return the facet number under each plan point (..., 2)."""
        return self.locate(xy.reshape(-1, 2)).reshape(xy.shape[:-1])

    def piece(self, xy: Floats) -> Ints:
        """Return the piece number under each plan point (..., 2)."""
        return self.piece_of_facet(self.facet(xy))

    def piece_of_facet(self, facet: Ints) -> Ints:
        """Return the pieces (...) of facets (...)."""
        found: Ints = self.piece_of[facet]
        return found

    def height(self, xy: Floats) -> Floats:
        """Return the floor's height at plan points (..., 2) [m]."""
        return self.span(xy)[0]

    def span(self, xy: Floats) -> tuple[Floats, Floats]:
        """Return the lowest and the highest beside plan points (..., 2) [m]."""
        if not self.torn:
            height = self._height_at(xy, self.piece(xy))
            return height, height
        ways = MOVED * np.array([[1, 1], [1, -1], [-1, -1], [-1, 1]])
        pieces = self.piece(xy + ways.reshape(4, *[1] * (xy.ndim - 1), 2))
        every = self._height_at(np.broadcast_to(xy, (4, *xy.shape)), pieces)
        return every.min(axis=0), every.max(axis=0)

    def _height_at(self, xy: Floats, pieces: Ints) -> Floats:
        z = np.empty(pieces.shape)
        for k in np.unique(pieces).tolist():
            mine = pieces == k
            z[mine] = self.surfaces[k].height(xy[mine])
        return z

    def height_of(self, xy: Floats, piece: int) -> Floats:
        """Return the height of one piece, carried on, at plan points (..., 2) [m]."""
        return self.surfaces[piece].height(xy)

    def gradient_of(self, xy: Floats, piece: int) -> Floats:
        """Return the gradient of one piece, carried on, at plan points (..., 2) [-]."""
        return self.surfaces[piece].gradient(xy)

    @cached_property
    def breaks(self) -> tuple[Floats, Ints]:
        """Lines between pieces: segments (k, 2, 2) [m], and the pieces left and right (k, 2)."""
        along = self.lines[:, 1] - self.lines[:, 0]
        size = np.maximum(np.hypot(*along.T), 1e-12)[:, None]
        left = np.column_stack([-along[:, 1], along[:, 0]]) / size * BESIDE
        middle = self.lines.mean(axis=1)
        beside = np.column_stack([self.piece(middle + left), self.piece(middle - left)])
        real = np.flatnonzero(beside[:, 0] != beside[:, 1])
        return self.lines[real], beside[real]

    @cached_property
    def creases(self) -> dict[tuple[int, int], bool]:
        """Pieces that meet in a break, smaller first, and whether it is internal."""
        segments, pieces = self.breaks
        middles = segments.mean(axis=1)
        along = segments[:, 1] - segments[:, 0]
        left = np.column_stack([-along[:, 1], along[:, 0]])
        rise: dict[tuple[int, int], float] = {}
        bend: dict[tuple[int, int], float] = {}  # one that turns both ways evenly is one, too
        for a, b in sorted(set(map(tuple, pieces.tolist()))):
            mine = (pieces == (a, b)).all(axis=1)
            turn = self.gradient_of(middles[mine], a) - self.gradient_of(middles[mine], b)
            up = (turn * left[mine]).sum(axis=1)
            pair = (min(a, b), max(a, b))
            rise[pair] = rise.get(pair, 0.0) + float(up.sum())
            bend[pair] = bend.get(pair, 0.0) + float(np.abs(up).sum())
        return {pair: up > 0.0 for pair, up in rise.items() if bend[pair] > SAME_PLANE}

    @cached_property
    def _uprights(self) -> list[Floats | None]:
        """Upward unit normal (3,) of each piece that is a plane."""
        found: list[Floats | None] = []
        for item in self.surfaces:
            if isinstance(item, Plane):
                normal = np.array([*-item.slope, 1.0])
                found.append(normal / np.sqrt(1.0 + item.slope[0] ** 2 + item.slope[1] ** 2))
            else:
                found.append(None)
        return found

    def upright_of(self, piece: int) -> Floats | None:
        """Return the upward unit normal (3,) of a piece that is a plane, None of another."""
        return self._uprights[piece]

    def is_flat(self, piece: int) -> bool:
        """Whether a piece is a plane."""
        return isinstance(self.surfaces[piece], Plane)

    def lines_within(self, rings: Sequence[Floats], snap: float) -> Floats:
        """Return what of the lines between facets lies inside rings."""
        if not rings or not len(self.lines):
            return np.zeros((0, 2, 2))
        inside = segments_of(shapely.intersection(lines_of(self.lines), _even_odd(rings)))
        corners = np.concatenate(rings)
        tree = shapely.STRtree(shapely.points(corners))
        ends = inside.reshape(-1, 2)
        if snap and len(ends):
            at, near = tree.query_nearest(
                shapely.points(ends), max_distance=snap, all_matches=False
            )
            ends[at] = corners[near]
        real = np.hypot(*(inside[:, 1] - inside[:, 0]).T) > 0.0
        found: Floats = inside[real]
        return found

    def contour_within(self, z: float, rings: Sequence[Floats]) -> Floats:
        """Return where inside rings the floor passes a height, straight over each facet."""
        if not rings:
            return np.zeros((0, 2, 2))
        corners = np.concatenate(rings)
        near = (self.lines.min(axis=1) < corners.max(axis=0) - TOUCH).all(axis=1)
        near &= (self.lines.max(axis=1) > corners.min(axis=0) + TOUCH).all(axis=1)
        heights = np.concatenate([self.height(corners), self._on_lines[near].ravel()])
        if heights.min() > z + BEYOND or heights.max() < z - BEYOND:
            return np.zeros((0, 2, 2))
        return zero_lines(_even_odd(rings), self.lines, lambda xy: self.height(xy) - z)

    @cached_property
    def _on_lines(self) -> Floats:
        """Heights (k, 2) beside the ends of the lines, where it is plain in which facet [m]."""
        return self.height(self.lines + BESIDE * np.array([1.0, 0.4]))

    def facets(self, region: shapely.Geometry) -> tuple[np.ndarray, Floats]:
        """Return the facets that lie in a region's box, in triangles."""
        corners = _triangles(shapely.box(*shapely.bounds(region)), self.lines)
        z = self.height(corners)
        d, e = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        rise, run = z[:, 1] - z[:, 0], z[:, 2] - z[:, 0]
        area = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
        a = (rise * e[:, 1] - run * d[:, 1]) / area
        b = (run * d[:, 0] - rise * e[:, 0]) / area
        c = z[:, 0] - a * corners[:, 0, 0] - b * corners[:, 0, 1]
        return shapely.polygons(corners), np.column_stack([a, b, c])

    def parts(self, box: shapely.Polygon) -> Parts:  # noqa: ARG002 - its lines end beyond it
        """Return the floor's pieces, facets and the lines between these."""
        return Parts(self.surfaces, self.piece_of, self.lines)

    def lowered(self, by: float) -> Faceted:
        """Return the floor moved down square to itself [m].

        The lines between its facets stay where they are in plan, so next to a break the concrete
        is a little thicker than that.
        """
        surfaces = tuple(Lowered(item, by) for item in self.surfaces)
        return Faceted(surfaces, self.piece_of, self.locate, self.lines, torn=True)


def located(lines: Floats, box: shapely.Polygon, locate: Locate) -> Locate:
    """Return what tells facets apart by the lines between them, chords as these are.

    Args:
        lines: (k, 2, 2) noded [m].
        box: What they part.
        locate: Tells facets apart by their true borders.
    """
    border = shapely.boundary(box)
    every = shapely.union_all([border, lines_of(lines)], grid_size=GRID)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(every)))
    facets = locate(shapely.get_coordinates(shapely.point_on_surface(faces)))
    shapely.prepare(faces)
    tree = shapely.STRtree(faces)
    shapely.prepare(faces)

    def by_lines(xy: Floats) -> Ints:
        points = shapely.points(xy)
        # a prepared face takes many points faster than a tree of faces takes each
        face, point = shapely.STRtree(points).query(faces, predicate="intersects")
        found = np.zeros(len(xy), dtype=np.int64)
        found[point] = facets[face]
        rest = np.flatnonzero(np.bincount(point, minlength=len(xy)) != 1)  # on lines, or beyond all
        if len(rest):
            found[rest] = facets[tree.nearest(points[rest])]
        return found

    return by_lines


def zero_lines(
    region: shapely.Geometry, lines: Floats, value: Callable[[Floats], Floats]
) -> Floats:
    """Return where a function of the plan that is linear between lines passes zero.

    Args:
        region: Where to look.
        lines: (k, 2, 2) between these it is linear [m].
        value: Returns it at plan points (..., 2).

    Returns:
        Segments (k, 2, 2) [m].
    """
    return _level_lines(_triangles(region, lines), value)


def _triangles(region: shapely.Geometry, lines: Floats) -> Floats:
    """Return a region in triangles (t, 3, 2) that no line crosses [m]."""
    every = shapely.union_all([shapely.boundary(region), lines_of(lines)])
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(every)))
    middles = shapely.get_coordinates(shapely.point_on_surface(faces))
    shapely.prepare(region)
    faces = faces[shapely.contains_xy(region, middles)]
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(faces))
    found: Floats = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3]
    return found


def _even_odd(rings: Sequence[Floats]) -> shapely.Geometry:
    """Return what an odd number of closed rings hold."""
    found: shapely.Geometry = shapely.Polygon()
    for ring in rings:
        shape = shapely.Polygon(ring)
        found = shapely.symmetric_difference(
            found, shape if shape.is_valid else shapely.make_valid(shape)
        )
    return found


def _level_lines(corners: Floats, value: Callable[[Floats], Floats]) -> Floats:
    """Return where a function passes zero on triangles (t, 3, 2): segments (k, 2, 2) [m].

    They run straight over each triangle and end where its sides truly pass zero.
    """
    heights = value(corners)
    above = heights > 0.0
    passing = np.flatnonzero(above.any(axis=1) & ~above.all(axis=1))
    xy, h, above = corners[passing], heights[passing], above[passing]
    rows = np.arange(len(passing))
    apex, others = sides_across(above)
    # from above, whichever is the apex, and at once: two triangles find one place on their side
    up = above[rows, apex]
    high, low = np.where(up, apex, others), np.where(up, others, apex)
    ends = ((xy[rows, at], h[rows, at]) for at in (high, low))
    found = _zero(value, *ends).transpose(1, 0, 2)
    real: Floats = found[np.hypot(*(found[:, 1] - found[:, 0]).T) > 0.0]
    return real


def _zero(
    value: Callable[[Floats], Floats], one: tuple[Floats, Floats], other: tuple[Floats, Floats]
) -> Floats:
    """Return where a function passes zero between points (..., 2) at which its signs differ [m]."""
    (a, fa), (b, fb) = one, other
    found: Floats = a
    for _ in range(STEPS):  # regula falsi, the end that stays halved (Illinois)
        share = fa / np.where(fa == fb, 1.0, fa - fb)
        found = a + share[..., None] * (b - a)
        f = value(found)
        if np.abs(f).max(initial=0.0) < AT_ZERO:
            break
        crossed = (f > 0.0) != (fb > 0.0)
        a, fa = np.where(crossed[..., None], b, a), np.where(crossed, fb, fa / 2.0)
        b, fb = found, f
    return found
