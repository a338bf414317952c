"""Hoppers: deeper parts with a level bottom, sunk into a floor."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from ...arrays import Floats, Ints
from ...design import schema
from ...errors import Finding, Key, PoolFileError
from ..faceted import Faceted, located, zero_lines
from ..floor import Floor
from ..outline import outline_ring
from ..ring import Ring
from ..surfaces import Plane, Skirt, Surface
from ..tolerances import CORNER, GRID
from .extent import Extent
from .ruled import noded

PLACES = 17
"""[-] Places along either side of a box round it at which a hopper is held against the floor."""

Height = Callable[[Floats], Floats]


@dataclass(frozen=True)
class _Sides:
    """The sides of one hopper and its bottom; the highest of them is the hopper's floor.

    Args:
        surfaces: Each side, smooth between true corners of the contour, and last the bottom.
        first: (k + 1,) first facet of each, and how many facets there are.
        lines: (k, 2, 2) the contour, and what parts the facets up from it [m].
    """

    surfaces: tuple[Surface, ...]
    first: Ints
    lines: Floats

    def height(self, xy: Floats) -> Floats:
        """Return the height at plan points (..., 2) [m]."""
        z: Floats = np.max([item.height(xy) for item in self.surfaces], axis=0)
        return z

    def facet(self, xy: Floats) -> Ints:
        """Return the number of the facet at plan points (k, 2)."""
        highest = np.argmax([item.height(xy) for item in self.surfaces], axis=0)
        found: Ints = self.first[highest]
        for k, item in enumerate(self.surfaces):
            if isinstance(item, Skirt):
                mine = highest == k
                found[mine] += item.chord(xy[mine])
        return found


def with_hoppers(
    base: Floor, hoppers: Sequence[schema.Hopper], extent: Extent, key: Key
) -> Faceted:
    """Return a floor with hoppers sunk into it; a contour that is not convex is refused.

    Args:
        base: The floor.
        hoppers: From the pool file.
        extent: What it has to cover.
        key: Where the hoppers stand in the file.
    """
    every = [_sides(item, extent, (*key, i)) for i, item in enumerate(hoppers)]
    own = base.parts(extent.box)
    surfaces, piece_of, begin = list(own.surfaces), [own.piece_of], []
    for sides in every:
        begin.append(sum(len(item) for item in piece_of))
        numbers = len(surfaces) + np.arange(len(sides.surfaces))
        piece_of.append(np.repeat(numbers, np.diff(sides.first)))
        surfaces += sides.surfaces

    def locate(xy: Floats) -> Ints:
        found, lowest = base.facet(xy), base.height(xy)
        for first, sides in zip(begin, every, strict=True):
            z = sides.height(xy)
            found = np.where(z < lowest, first + sides.facet(xy), found)
            lowest = np.minimum(z, lowest)
        return found

    lines = [own.lines]
    ground: Height = base.height
    for i, sides in enumerate(every):
        _check_sunk(hoppers[i], sides, ground, extent, (*key, i))
        lines.append(sides.lines)
        between = noded(np.concatenate(lines))
        lines.append(zero_lines(extent.box, between, _above(sides, ground)))
        ground = _lower(sides, ground)
    every_line = noded(np.concatenate(lines))
    by_lines = located(every_line, extent.box, locate)
    return Faceted(tuple(surfaces), np.concatenate(piece_of), by_lines, every_line)


def _above(sides: _Sides, ground: Height) -> Height:
    return lambda xy: sides.height(xy) - ground(xy)


def _lower(sides: _Sides, ground: Height) -> Height:
    return lambda xy: np.minimum(sides.height(xy), ground(xy))


def _sides(hopper: schema.Hopper, extent: Extent, key: Key) -> _Sides:
    ring = outline_ring(hopper.contour, extent.tolerance, (*key, "contour"))
    _check_convex(ring, (*key, "contour"))
    count = len(ring.points)
    corners = np.flatnonzero(ring.turns >= CORNER - 1e-9)
    starts = corners if len(corners) else np.zeros(1, dtype=np.int64)
    surfaces: list[Surface] = []
    size, border, ribs = [], [], []
    for k, (a, b) in enumerate(pairwise([*starts.tolist(), int(starts[0]) + count])):
        chords = np.arange(a, b) % count
        points = ring.points[np.append(chords, b % count)]
        outward = -np.vstack([ring.chord_normals[chords, 0], ring.chord_normals[chords[-1:], 1]])
        slope = hopper.slope[k] if isinstance(hopper.slope, tuple) else hopper.slope
        straight = len(chords) == 1
        surfaces.append(
            Plane.through(points[0], -hopper.depth, slope * outward[0])
            if straight
            else Skirt(points, outward, -hopper.depth, slope)
        )
        size.append(len(chords))
        border.append(np.stack([points[:-1], points[1:]], axis=1))
        inner = slice(0 if not len(corners) else 1, -1)
        ribs.append(np.stack([points, points + extent.reach * outward], axis=1)[inner])
    lines = [*border, *ribs, _hips(ring, corners, surfaces, extent)]
    surfaces.append(Plane(np.zeros(2), -hopper.depth))
    return _Sides(tuple(surfaces), np.cumsum([0, *size, 1]), np.concatenate(lines))


def _check_sunk(
    hopper: schema.Hopper, sides: _Sides, ground: Height, extent: Extent, key: Key
) -> None:
    """Refuse a hopper that makes no place of the pool deeper."""
    ring = outline_ring(hopper.contour, extent.tolerance, (*key, "contour"))
    pool = extent.ring.polygon
    bottom = _places(shapely.intersection(ring.polygon, pool))
    whole = np.concatenate([bottom, _places(pool)])
    if np.any(sides.height(whole) < ground(whole) - GRID):
        return
    xy = bottom if len(bottom) else whole
    floor = ground(xy)
    at = int(np.argmax(floor))
    raise PoolFileError(
        [
            Finding(
                (*key, "depth"),
                "must lie below the floor that the hopper is sunk into",
                f"{hopper.depth:.3f} m; the floor is {-floor[at]:.3f} m deep and more, the least"
                f" at ({xy[at, 0]:.3f}, {xy[at, 1]:.3f}) m",
                "make it deeper, or leave the hopper out",
            )
        ]
    )


def _places(shape: shapely.Geometry) -> Floats:
    """Return places (k, 2) all over a shape and along its border [m]."""
    if shape.is_empty:
        return np.empty((0, 2))
    x0, y0, x1, y1 = shape.bounds
    x, y = np.meshgrid(np.linspace(x0, x1, PLACES), np.linspace(y0, y1, PLACES))
    border = shapely.segmentize(shape, max(x1 - x0, y1 - y0) / PLACES)
    inside = shapely.contains_xy(shape, x, y)
    return np.concatenate(
        [np.column_stack([x[inside], y[inside]]), shapely.get_coordinates(border)]
    )


def _check_convex(ring: Ring, key: Key) -> None:
    chords = np.roll(ring.points, -1, axis=0) - ring.points
    after = np.roll(chords, -1, axis=0)
    turn = chords[:, 0] * after[:, 1] - chords[:, 1] * after[:, 0]
    if turn.min() < -1e-9:
        x, y = ring.points[(int(np.argmin(turn)) + 1) % len(ring.points)]
        rule = "must be convex: beside a corner that points inwards its slopes would cross"
        came = f"a corner that points inwards at ({x:.3f}, {y:.3f}) m"
        raise PoolFileError([Finding(key, rule, came, "use two hoppers")])


def _hips(ring: Ring, corners: Ints, sides: Sequence[Surface], extent: Extent) -> Floats:
    """Return the lines in which two sides meet, up from each true corner of the contour."""
    found = []
    for k, corner in enumerate(corners.tolist()):
        at = ring.points[corner]
        before, after = (sides[i].gradient(at) for i in (k - 1, k))
        apart = after - before
        along = np.array([-apart[1], apart[0]]) / np.hypot(*apart)
        way = along if along @ (before + after) > 0.0 else -along
        found.append([at, at + extent.reach * way])
    return np.array(found).reshape(-1, 2, 2)
