"""Dished and crowned floors: paraboloids, and troughs of parabolic section."""

from __future__ import annotations

import math

import numpy as np

from ...arrays import Floats, Ints
from ...design import schema
from ..curves import unit
from ..faceted import Faceted
from ..floor import Floor, level_floor
from ..surfaces import Bowl
from .extent import Extent
from .ruled import noded

FACET = 5e-4
"""[-] Most that a facet may stand off its floor, as a share of the water's depth in the middle and
at the reach: what of it counts at the wall stays well within 0.1 % of its area."""

FINEST = 0.25
"""[-] Share of the tolerance that facets are held to over the shallowest water: finer ones would
take seconds."""

MEAN = 2.0 / 3.0
"""[-] The mean distance of a parabola from its chords, as a share of the largest."""


def dished_floor(floor: schema.DishedFloor, extent: Extent) -> Floor:
    """Return a dished or crowned floor.

    Facets with their corners on a dished floor would all stand above it, and take of the water
    wherever they are. So the corners stand off the floor by the mean distance of the facets from
    their corners' surface, and the volume is that of the floor itself.

    Args:
        floor: From the pool file.
        extent: What it has to cover.
    """
    middle = np.array(floor.at)
    bend = (floor.depth - floor.edge_depth) / floor.reach**2
    if bend == 0.0:
        return level_floor(-floor.depth)
    across = unit(0.0 if floor.direction is None else floor.direction + 90.0)
    along = np.array([across[1], -across[0]])
    form = bend * (np.eye(2) if floor.direction is None else np.outer(across, across))
    # facets of side h stand off by bend h^2 / 4 along each direction in which the floor bends
    axes = [across] if floor.direction is not None else [across, along]
    shallow = min(floor.depth, floor.edge_depth)
    tolerance = extent.tolerance * min(max(FACET * shallow / extent.tolerance, FINEST), 1.0)
    step = math.sqrt(4.0 * tolerance / (abs(bend) * len(axes)))
    cuts, off = [], 0.0
    for axis in axes:
        low, high = extent.spans(middle, axis)
        count = max(math.ceil((high - low) / step), 1)
        cuts.append(np.linspace(low, high, count + 1))
        off += MEAN * bend * ((high - low) / count) ** 2 / 4.0
    wide = extent.reach
    lines = []
    for axis, cut in zip(axes, cuts, strict=True):
        other = np.array([-axis[1], axis[0]])
        at = middle + cut[:, None] * axis
        lines.append(np.stack([at - wide * other, at + wide * other], axis=1))
    width = len(cuts[-1]) + 1

    def locate(xy: Floats) -> Ints:
        found = np.zeros(len(xy), dtype=np.int64)
        for axis, cut in zip(axes, cuts, strict=True):
            found = found * width + np.searchsorted(cut, (xy - middle) @ axis)
        return found

    facets = math.prod(len(cut) + 1 for cut in cuts)
    piece_of = np.zeros(max(facets, width * width), dtype=np.int64)
    surface = Bowl(middle, -floor.depth - off, form)
    return Faceted((surface,), piece_of, locate, noded(np.concatenate(lines)))
