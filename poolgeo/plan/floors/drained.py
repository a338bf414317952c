"""A floor that falls to drains from all sides: cones about the drains, and ridges between."""

from __future__ import annotations

import math

import numpy as np
import shapely

from ...arrays import Floats, Ints
from ...design import schema
from ..faceted import Faceted, located
from ..shapes import segments_of
from ..surfaces import Cone
from .extent import Extent
from .ruled import noded

FEWEST = 24
"""Fewest facets of a cone."""

SIGHTS = 1440
"""Directions in which a drain's area is looked for."""


def drained_floor(floor: schema.DrainedFloor, extent: Extent) -> Faceted:
    """Return the floor that falls to drains.

    Args:
        floor: From the pool file.
        extent: What it has to cover.
    """
    fall = floor.fall
    tips = np.array([item.at for item in floor.drains])
    levels = -np.array([item.depth for item in floor.drains])
    # what drains to another drain although it lies above this one's tip leaves it no area
    apart = np.hypot(*(tips[:, None] - tips).transpose(2, 0, 1))
    lower = levels[:, None] > levels + fall * apart + 1e-9
    kept = np.flatnonzero(~lower.any(axis=1))
    tips, levels = tips[kept], levels[kept]
    # a chord over an angle a lies fall * distance * (1 - cos(a / 2)) off the cone
    sag = min(extent.tolerance / (fall * extent.reach), 1.0)
    count = max(FEWEST, math.ceil(math.pi / math.acos(1.0 - sag)))
    surfaces = tuple(Cone(tip, float(level), fall) for tip, level in zip(tips, levels, strict=True))
    areas = [_area(tips, levels / fall, d, extent) for d in range(len(tips))]

    def locate(xy: Floats) -> Ints:
        away = xy[:, None] - tips
        z = levels + fall * np.hypot(away[..., 0], away[..., 1])
        drain = np.argmin(z, axis=1)
        to = away[np.arange(len(xy)), drain]
        turn = np.arctan2(to[:, 1], to[:, 0]) / (2.0 * math.pi) % 1.0
        sector = np.minimum((turn * count).astype(np.int64), count - 1)
        found: Ints = drain * count + sector
        return found

    turn = 2.0 * math.pi * np.arange(count) / count
    far = extent.reach * np.column_stack([np.cos(turn), np.sin(turn)])
    lines = []
    for d, area in enumerate(areas):  # the drain that is listed first draws a ridge
        earlier = shapely.union_all(areas[:d])
        beside = shapely.buffer(earlier, extent.tolerance)
        own = shapely.difference(shapely.boundary(area), beside)
        ends = shapely.get_parts(shapely.boundary(shapely.line_merge(own)))
        gaps = shapely.shortest_line(ends, shapely.boundary(earlier))
        lines += [own, *gaps[shapely.length(gaps) < 2.0 * extent.tolerance]]
    for tip, area in zip(tips, areas, strict=True):
        ribs = shapely.linestrings(np.stack([np.broadcast_to(tip, far.shape), tip + far], axis=1))
        wide = shapely.buffer(area, 2.0 * extent.tolerance, join_style="mitre")
        lines += shapely.intersection(ribs, wide).tolist()
    parts = shapely.get_parts(shapely.get_parts(np.array(lines)))
    piece_of = np.repeat(np.arange(len(tips)), count)
    every = noded(segments_of(parts))
    return Faceted(surfaces, piece_of, located(every, extent.box, locate), every)


def _area(tips: Floats, start: Floats, d: int, extent: Extent) -> shapely.Polygon:
    """Return the area that drains to one drain.

    On the ridge between two drains the distances from both differ by a constant: a branch of a
    hyperbola, in polar coordinates about one of them (D^2 - k^2) / (2 (k + D cos)), k the
    constant and D their distance.

    Args:
        tips: (d, 2) [m].
        start: (d,) levels over the fall: water's way that a drain is ahead [m].
        d: Which drain.
        extent: What to cover.
    """
    angle = np.linspace(0.0, 2.0 * math.pi, SIGHTS, endpoint=False)
    ray = np.column_stack([np.cos(angle), np.sin(angle)])
    reach = np.full(len(angle), 2.0 * extent.reach)
    for e, other in enumerate(tips):
        if e != d:
            apart, ahead = other - tips[d], start[d] - start[e]
            under = 2.0 * (ray @ apart + ahead)
            with np.errstate(divide="ignore"):
                at = np.where(under > 0.0, (apart @ apart - ahead**2) / under, np.inf)
            reach = np.minimum(reach, at)
    whole = shapely.simplify(shapely.Polygon(tips[d] + reach[:, None] * ray), extent.tolerance / 4)
    area: shapely.Polygon = shapely.intersection(whole, extent.box)
    return area
