"""Floors between parallel break lines: a profile, or ruled where a line has two depths."""

from __future__ import annotations

import math

import numpy as np
import shapely

from ...arrays import Floats, Ints
from ...design import schema
from ..curves import unit
from ..faceted import Faceted
from ..floor import Floor, Profile
from ..shapes import segments_of
from ..surfaces import Plane, Saddle, Surface
from ..tolerances import GRID
from .extent import Extent

NO_TURN = 1e-9
"""[-] Slopes that differ by less meet in no break."""


def broken_floor(floor: schema.BrokenFloor, extent: Extent) -> Floor:
    """Return the floor between break lines.

    Args:
        floor: From the pool file.
        extent: What it has to cover.
    """
    direction, origin = unit(floor.direction), np.array(floor.origin)
    u = np.array([item.at for item in floor.breaks])
    if not any(isinstance(item.depth, tuple) for item in floor.breaks):
        return _profile(direction, origin, u, -np.array([item.depth for item in floor.breaks]))
    across = np.array([-direction[1], direction[0]])
    lines = []
    for item in floor.breaks:
        right, left = item.depth if isinstance(item.depth, tuple) else (item.depth,) * 2
        low, high = extent.chord(origin + item.at * direction, across) or (0.0, 1.0)
        tilt = (right - left) / (high - low)
        lines.append((-right - tilt * low, tilt))
    return _ruled(direction, origin, u, np.array(lines), extent)


def _profile(direction: Floats, origin: Floats, u: Floats, z: Floats) -> Profile:
    slopes = np.concatenate([[0.0], np.diff(z) / np.diff(u), [0.0]])
    intercepts = np.concatenate([[z[0]], z[1:] - slopes[1:-1] * u[1:], [z[-1]]])
    real = np.abs(np.diff(slopes)) > NO_TURN
    kept = np.concatenate([[True], real])
    return Profile(direction, origin, u[real], slopes[kept], intercepts[kept])


def _ruled(direction: Floats, origin: Floats, u: Floats, lines: Floats, extent: Extent) -> Faceted:
    """Return a ruled floor.

    Args:
        direction: (2,) unit vector of the rulings.
        origin: (2,) where u is 0 [m].
        u: (k,) where the break lines stand [m].
        lines: (k, 2) height of each where v is 0 [m], and its slope along v [-].
        extent: What it has to cover.
    """
    across = np.array([-direction[1], direction[0]])
    first, last = extent.spans(origin, across)
    surfaces: list[Surface] = []
    cuts: list[Floats] = []  # of each piece along u and along v
    for k in range(len(u) + 1):
        (z0, t0), (z1, t1) = lines[max(k - 1, 0)], lines[min(k, len(u) - 1)]
        if k in (0, len(u)):
            slope = t0 * across
            surfaces.append(Plane.through(origin, z0, slope))
            cuts.append(np.zeros(0))
            continue
        a, b = u[k - 1], u[k]
        rise, twist = (z1 - z0) / (b - a), (t1 - t0) / (b - a)
        terms = np.array([z0 - rise * a, rise, t0 - twist * a, twist])
        surfaces.append(Saddle(direction, origin, terms))
        # a cell of a saddle, cut along its diagonal, is off by a quarter of its twist
        count = math.ceil(math.sqrt(abs(twist) * (b - a) * (last - first) / (2 * extent.tolerance)))
        cuts.append(np.linspace(0.0, 1.0, max(count, 1) + 1)[1:-1])
    bounds = np.concatenate([[-np.inf], u, [np.inf]])
    size = [len(item) + 1 for item in cuts]
    begin = np.concatenate([[0], np.cumsum(np.square(size))])

    def locate(xy: Floats) -> Ints:
        along, side = (xy - origin) @ direction, (xy - origin) @ across
        piece = np.searchsorted(u, along)
        found = begin[piece].copy()
        for k in np.flatnonzero(np.array(size) > 1).tolist():
            mine = piece == k
            at = (along[mine] - bounds[k]) / (bounds[k + 1] - bounds[k])
            i = np.searchsorted(cuts[k], at)
            j = np.searchsorted(cuts[k], (side[mine] - first) / (last - first))
            found[mine] += i * size[k] + j
        return found

    piece_of = np.repeat(np.arange(len(u) + 1), np.square(size))
    wide = extent.reach
    cross = [(at, -wide, at, wide) for at in u]
    for k, cut in enumerate(cuts):
        if len(cut):
            a, b = bounds[k], bounds[k + 1]
            cross += [(at, -wide, at, wide) for at in a + cut * (b - a)]
            cross += [(a, at, b, at) for at in first + cut * (last - first)]
    ends = np.array(cross).reshape(-1, 2, 2)
    segments = origin + ends[..., :1] * direction + ends[..., 1:] * across
    return Faceted(tuple(surfaces), piece_of, locate, noded(segments))


def noded(segments: Floats) -> Floats:
    """Return segments (k, 2, 2) on the grid, parted where they cross or touch each other [m]."""
    lines = shapely.multilinestrings(shapely.linestrings(segments))
    return segments_of(shapely.union_all([lines], grid_size=GRID))
