"""Sloping tops of concrete that stands on the floor, and any surface, in facets.

A **facet** is a plan polygon with a plane over it; a sloping top is a cover of facets that meet
without a jump. A curved top is a fan of facets, one for each chord of what it follows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .arrangement import components
from .cells import Cells
from .floor import Floor
from .shapes import lines_of, segments_of
from .tolerances import SHARP_TURN

LEAST = 1e-9
"""[m2] A facet, or an overlap of two, smaller than this is none."""

TOUCH = 1e-5
"""[m] Facets nearer than this to each other meet."""

MOVED = 2e-4
"""[m] Noding moves no vertex of a facet's border farther than this off it."""

STRIP = 1e-3
"""[m] Which way a top turns at a border is asked this near to it."""

LEAST_SHARED = 1e-3
"""[m] Facets that share less of their borders than this meet in a point."""

FLAT = 1e-6
"""[-] Two facets whose gradients differ by less lie in one plane."""


@dataclass(frozen=True)
class Slope:
    """A piecewise-plane top.

    Args:
        facets: (k,) polygons that do not overlap [m].
        planes: (k, 3) of each: its height is a x + b y + c [-, -, m].
        group: (k,) which facets run on smoothly: one patch of the surface each.
        creases: Pairs of groups that meet in a crease, smaller first, and whether it is internal;
            left out where it is both, in places.
        joints: Pairs of groups that meet smoothly.
    """

    facets: np.ndarray
    planes: Floats
    group: Ints
    creases: Mapping[tuple[int, int], bool]
    joints: frozenset[tuple[int, int]]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self.facets)

    def facet(self, xy: Floats) -> Ints:
        """Return the facet under each plan point (k, 2), or the one nearest to it."""
        if len(self.facets) == 1:
            return np.zeros(len(xy), dtype=np.int64)
        found: Ints = self._tree.query_nearest(shapely.points(xy), all_matches=False)[1]
        return found

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (k, 2) [m]."""
        return heights_on(self.planes[self.facet(xy)], xy)

    def height_on(self, xy: Floats) -> Floats:
        """Return the height at plan points (k, 2), nan where no facet is near [m].

        Where most points are far from all facets, this is many times faster than `height`.
        """
        point, facet = self._tree.query_nearest(
            shapely.points(xy), max_distance=MOVED, all_matches=False
        )
        found = np.full(len(xy), np.nan)
        found[point] = heights_on(self.planes[facet], xy[point])
        return found

    @cached_property
    def extent(self) -> tuple[float, float]:
        """The least and the greatest height of its facets [m]."""
        corners, of = shapely.get_coordinates(self.facets, return_index=True)
        z = heights_on(self.planes[of], corners)
        return float(z.min()), float(z.max())

    def lines(self, region: shapely.Geometry) -> Floats:
        """Return the segments (k, 2, 2) on which facets end, within a region [m]."""
        if len(self.facets) == 1:
            return np.zeros((0, 2, 2))
        borders = lines_of(segments_of(shapely.boundary(self.facets)))
        return segments_of(shapely.intersection(borders, region))

    def lowest(self, region: shapely.Geometry) -> float:
        """Return the least height within a region [m]."""
        corners = shapely.get_coordinates(self.facets)
        near = shapely.dwithin(region, shapely.points(corners), TOUCH)
        places = np.concatenate([shapely.get_coordinates(region), corners[near]])
        return float(self.height(places).min())


def heights_on(planes: Floats, xy: Floats) -> Floats:
    """Return the heights of planes (k, 3) at plan points (k, 2) [m]."""
    found: Floats = planes[:, 0] * xy[:, 0] + planes[:, 1] * xy[:, 1] + planes[:, 2]
    return found


def plane_of(corners: Floats) -> Floats:
    """Return the plane (3,) through three points (3, 3) that do not lie in line in plan."""
    x, y, z = corners.T
    found: Floats = np.linalg.solve(np.column_stack([x - x[0], y - y[0], np.ones(3)]), z)
    found[2] -= found[0] * x[0] + found[1] * y[0]
    return found


def plane_slope(region: shapely.Geometry, plane: Floats) -> Slope:
    """Return a top that is one plane (3,) over a region."""
    hull = shapely.convex_hull(region)
    return Slope(np.array([hull]), plane[None], np.zeros(1, dtype=np.int64), {}, frozenset())


def slope_of(facets: np.ndarray, planes: Floats, section: Ints | None = None) -> Slope:
    """Return facets (k,) put together to a top; where neighbours turn sharply is a crease.

    Args:
        facets: (k,) polygons that do not overlap [m].
        planes: (k, 3) [-, -, m].
        section: (k,) where neighbours turn sharply is known: between two of these.
    """
    one, other = _neighbours(facets)
    turn = np.hypot(*(planes[one, :2] - planes[other, :2]).T)
    if section is None:
        steepest = np.hypot(*planes[:, :2].T).max(initial=0.0)
        sharp = turn > max(SHARP_TURN * steepest, FLAT)
    else:
        sharp = (section[one] != section[other]) & (turn > FLAT)
    group = _groups(len(facets), one, other, sharp, turn < FLAT)
    pairs = np.sort(np.column_stack([group[one], group[other]]), axis=1)
    apart = pairs[:, 0] != pairs[:, 1]
    internal = _turn_up(facets, planes, one, other)
    creases: dict[tuple[int, int], bool] = {}
    both_ways, joints = set(), set()
    for pair, is_sharp, up in zip(
        map(tuple, pairs[apart].tolist()),
        sharp[apart].tolist(),
        internal[apart].tolist(),
        strict=True,
    ):
        if not is_sharp:
            joints.add(pair)
        elif creases.setdefault(pair, up) != up:
            both_ways.add(pair)
    kept = {pair: up for pair, up in creases.items() if pair not in both_ways}
    return Slope(facets, planes, group, kept, frozenset(joints - creases.keys()))


def _turn_up(facets: np.ndarray, planes: Floats, one: Ints, other: Ints) -> np.ndarray:
    """Return whether the top turns up from the one to the other of neighbours (k,)."""
    beside = shapely.intersection(shapely.buffer(facets[one], STRIP, quad_segs=1), facets[other])
    xy = shapely.get_coordinates(shapely.centroid(beside))
    found: np.ndarray = heights_on(planes[other] - planes[one], xy) > 0.0
    return found


def _neighbours(facets: np.ndarray) -> tuple[Ints, Ints]:
    """Return the pairs of facets that share a border."""
    grown = shapely.buffer(facets, TOUCH, quad_segs=1)
    one, other = shapely.STRtree(facets).query(grown)
    one, other = one[one < other], other[one < other]
    shared = shapely.area(shapely.intersection(grown[one], facets[other])) / TOUCH
    kept = shared > LEAST_SHARED
    return one[kept], other[kept]


def _groups(count: int, one: Ints, other: Ints, sharp: np.ndarray, flat: np.ndarray) -> Ints:
    """Return the number of the group of each facet.

    What lies in one plane is one; so is what runs on smoothly, as long as no two groups meet both
    smoothly and in a crease: a crease may die out in a curve that joins its two sides.
    """
    owner = components(count, one[flat], other[flat])
    kinds: dict[int, dict[int, int]] = {int(i): {} for i in np.unique(owner)}
    smooth = []
    for i, j, kind in zip(
        owner[one].tolist(), owner[other].tolist(), np.where(sharp, 1, 2).tolist(), strict=True
    ):
        if i != j:
            kinds[i][j] = kinds[j][i] = kinds[i].get(j, 0) | kind
            if kind == 2:
                smooth.append((i, j))
    into = {i: i for i in kinds}
    for pair in sorted(smooth):
        a, b = (_found(into, i) for i in pair)
        near = (kinds[a].keys() | kinds[b].keys()) - {a, b}
        met = {c: kinds[a].get(c, 0) | kinds[b].get(c, 0) for c in near}
        if a == b or kinds[a][b] != 2 or 3 in met.values():
            continue
        into[b], kinds[a] = a, met
        for c, kind in met.items():
            kinds[c].pop(b, None)
            kinds[c][a] = kind
    _, group = np.unique([_found(into, int(i)) for i in owner], return_inverse=True)
    return group


def _found(into: Mapping[int, int], i: int) -> int:
    """Return what something has gone into at last."""
    while into[i] != i:
        i = into[i]
    return i


def range_of(height: Floor | Cells | Slope, region: shapely.Geometry) -> tuple[float, float]:
    """Return the lowest and the highest place of a surface in the box of a region [m]."""
    facets, planes, _ = facets_of(height, region)
    xy, owner = shapely.get_coordinates(facets, return_index=True)
    z = np.sum(planes[owner, :2] * xy, axis=1) + planes[owner, 2]
    return float(z.min()), float(z.max())


def facets_of(
    height: float | Floor | Cells | Slope, region: shapely.Geometry
) -> tuple[np.ndarray, Floats, Ints]:
    """Return any surface as facets in and about a region.

    Args:
        height: A level [m], a floor, the cells of a cove or a sloping top.
        region: What they must cover.

    Returns:
        (k,) polygons, (k, 3) planes, and (k,) what each comes from (a cell's number).
    """
    if isinstance(height, Slope):
        near = height._tree.query(region, "intersects")  # noqa: SLF001 - its own module
        return height.facets[near], height.planes[near], near
    if isinstance(height, Floor):
        facets, planes = height.facets(region)
        return facets, planes, np.arange(len(facets))
    if isinstance(height, Cells):
        low_x, low_y, high_x, high_y = shapely.bounds(region)
        corners = height.vertices[height.triangles]
        low, high = corners[..., :2].min(axis=1), corners[..., :2].max(axis=1)
        d, e = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        n = np.cross(d, e)
        near = np.flatnonzero(
            (low <= [high_x, high_y]).all(axis=1)
            & (high >= [low_x, low_y]).all(axis=1)
            & (n[:, 2] > LEAST * 1e-3)
        )
        gradient = -n[near, :2] / n[near, 2:]
        c = corners[near, 0, 2] - np.sum(gradient * corners[near, 0, :2], axis=1)
        return shapely.polygons(corners[near, :, :2]), np.column_stack([gradient, c]), near
    box = shapely.box(*shapely.bounds(region))
    return np.array([box]), np.array([[0.0, 0.0, height]]), np.zeros(1, dtype=np.int64)
