"""A floor that falls to drains from all sides: cones about the drains, and ridges between."""

from __future__ import annotations

import math

import numpy as np
import shapely

from ...design import schema
from ..curves import Floats
from ..faceted import Faceted
from ..shapes import segments_of
from ..surfaces import Cone
from .extent import Extent

Ints = np.ndarray

FEWEST = 24
"""Fewest facets of a cone."""


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

    def locate(xy: Floats) -> Ints:
        away = xy[:, None] - tips
        z = levels + fall * np.hypot(away[..., 0], away[..., 1])
        drain = np.argmin(z, axis=1)
        to = away[np.arange(len(xy)), drain]
        turn = np.arctan2(to[:, 1], to[:, 0]) / (2.0 * math.pi) % 1.0
        sector = np.minimum((turn * count).astype(np.int64), count - 1)
        found: Ints = drain * count + sector
        return found

    shape = shapely.node(shapely.multilinestrings(_lines(tips, levels / fall, count, extent)))
    piece_of = np.repeat(np.arange(len(tips)), count)
    return Faceted(surfaces, piece_of, locate, segments_of(shape))


def _lines(tips: Floats, start: Floats, count: int, extent: Extent) -> np.ndarray:
    """Return the ribs of the cones and the ridges between them.

    On the ridge between two drains the distances from both differ by a constant: a branch of a
    hyperbola, in polar coordinates about one of them (D^2 - k^2) / (2 (k + D cos)), k the
    constant and D their distance.

    Args:
        tips: (d, 2) [m].
        start: (d,) levels over the fall: water's way that a drain is ahead [m].
        count: Ribs of each.
        extent: What to cover.
    """
    found: list[shapely.Geometry] = []
    corners = [math.atan2(y, x) for tip in tips for x, y in
               shapely.get_coordinates(extent.box) - tip]  # fmt: skip
    for d, tip in enumerate(tips):
        ribs = 2.0 * math.pi * np.arange(count) / count
        angle = np.unique(np.concatenate([ribs, np.array(corners) % (2.0 * math.pi)]))
        ray = np.column_stack([np.cos(angle), np.sin(angle)])
        reach = np.full(len(angle), extent.reach)
        partner = np.full(len(angle), -1)
        for e, other in enumerate(tips):
            if e == d:
                continue
            apart, ahead = other - tip, start[d] - start[e]
            size = float(np.hypot(*apart))
            under = 2.0 * (ray @ apart + ahead)
            with np.errstate(divide="ignore"):
                at = np.where(under > 0.0, (size**2 - ahead**2) / under, np.inf)
            nearer = at < reach
            reach[nearer], partner[nearer] = at[nearer], e
        ends = tip + reach[:, None] * ray
        is_rib = np.isin(angle, ribs)
        found += [shapely.LineString([tip, end]) for end in ends[is_rib]]
        # the drain listed first draws a ridge
        around = np.append(np.arange(len(ends)), 0)
        for i, j in zip(around[:-1].tolist(), around[1:].tolist(), strict=True):
            if max(partner[i], partner[j]) >= 0 and (partner[i] > d or partner[j] > d):
                found.append(shapely.LineString([ends[i], ends[j]]))
    return np.array(found)
