"""Hoppers: deeper parts with a level bottom, sunk into a floor."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from ...design import schema
from ...errors import Finding, Key, PoolFileError
from ..curves import Floats
from ..faceted import Faceted, zero_lines
from ..floor import Floor
from ..outline import outline_ring
from ..ring import Ring
from ..surfaces import Funnel, Plane, Surface
from ..tolerances import CORNER
from .extent import Extent
from .ruled import noded

Ints = np.ndarray
Height = Callable[[Floats], Floats]


@dataclass(frozen=True)
class _Sides:
    """The sides and the bottom of one hopper: the highest of their planes.

    Args:
        ring: The contour.
        planes: All sides and, last, the bottom.
        piece: (k + 1,) smooth part of the contour that each side belongs to; the bottom's is last.
    """

    ring: Ring
    planes: Funnel
    piece: Ints


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
    surfaces: list[Surface] = list(own.surfaces)
    piece_of, begin = [own.piece_of], []
    for sides in every:
        begin.append(sum(len(item) for item in piece_of))
        piece_of.append(len(surfaces) + sides.piece)
        for k in range(int(sides.piece[-1]) + 1):
            mine = np.flatnonzero(sides.piece == k)
            slopes, constants = sides.planes.slopes[mine], sides.planes.constants[mine]
            plane = Plane(slopes[0], float(constants[0]))
            surfaces.append(plane if len(mine) == 1 else Funnel(slopes, constants))

    def locate(xy: Floats) -> Ints:
        found, lowest = base.facet(xy), base.height(xy)
        for first, sides in zip(begin, every, strict=True):
            z = sides.planes.height(xy)
            deeper = z < lowest
            found = np.where(deeper, first + sides.planes.facet(xy), found)
            lowest = np.minimum(z, lowest)
        return found

    lines = [own.lines]
    ground: Height = base.height
    for sides in every:
        hips = _hips(sides, extent)
        lines.append(hips)
        between = noded(np.concatenate(lines))
        lines.append(zero_lines(extent.box, between, _above(sides.planes, ground)))
        ground = _lower(sides.planes, ground)
    return Faceted(tuple(surfaces), np.concatenate(piece_of), locate, noded(np.concatenate(lines)))


def _above(planes: Funnel, ground: Height) -> Height:
    return lambda xy: planes.height(xy) - ground(xy)


def _lower(planes: Funnel, ground: Height) -> Height:
    return lambda xy: np.minimum(planes.height(xy), ground(xy))


def _sides(hopper: schema.Hopper, extent: Extent, key: Key) -> _Sides:
    ring = outline_ring(hopper.contour, extent.tolerance, (*key, "contour"))
    chords = np.roll(ring.points, -1, axis=0) - ring.points
    turn = chords[:, 0] * np.roll(chords, -1, axis=0)[:, 1]
    turn -= chords[:, 1] * np.roll(chords, -1, axis=0)[:, 0]
    if turn.min() < -1e-9:
        x, y = ring.points[(int(np.argmin(turn)) + 1) % len(ring.points)]
        rule = "must be convex: from a corner that points inwards the slopes would cross"
        came = f"a corner that points inwards at ({x:.3f}, {y:.3f}) m"
        raise PoolFileError([Finding((*key, "contour"), rule, came, "use two hoppers")])
    outward = np.column_stack([chords[:, 1], -chords[:, 0]]) / np.hypot(*chords.T)[:, None]
    corner = np.abs(ring.turns) >= CORNER
    part = np.cumsum(corner) - 1
    part = np.where(part < 0, max(int(part.max()), 0), part)
    slope = np.asarray(hopper.slope)
    slopes = outward * (slope if slope.ndim == 0 else slope[part % len(slope)][:, None])
    constants = -hopper.depth - np.sum(slopes * ring.points, axis=1)
    planes = Funnel(np.vstack([slopes, np.zeros(2)]), np.append(constants, -hopper.depth))
    return _Sides(ring, planes, np.append(part, part.max() + 1))


def _hips(sides: _Sides, extent: Extent) -> Floats:
    """Return the lines between a hopper's own facets: its contour, and the hips up from it."""
    ring, slopes = sides.ring.points, sides.planes.slopes[:-1]
    apart = slopes - np.roll(slopes, 1, axis=0)
    along = np.column_stack([-apart[:, 1], apart[:, 0]])
    outward = np.sum(along * slopes, axis=1) > 0.0
    along = np.where(outward[:, None], along, -along)
    along /= np.maximum(np.hypot(*along.T), 1e-12)[:, None]
    hips = np.stack([ring, ring + extent.reach * along], axis=1)
    border = np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)
    return np.concatenate([border, hips])
