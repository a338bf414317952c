"""Regions: which finish each triangle has."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Bools, Ints
from ..design.finishes import Finish
from ..design.places import holds_at, is_one_of
from ..mesh import ZONES, Mesh

NONE = -1
"""No finish."""


def regions_of(mesh: Mesh, wet: Bools, zone: Ints, finishes: Sequence[Finish]) -> Ints:
    """Return the number of the first finish that holds for each triangle (m,), or `NONE`.

    Args:
        mesh: The surface.
        wet: (m,) whether a triangle is under water.
        zone: (m,) its zone: a number of `ZONES`.
        finishes: In the order of the pool file.
    """
    key = (mesh.patch * len(ZONES) + zone) * 2 + wet
    sorts, which = np.unique(key, return_inverse=True)
    found = np.full(len(sorts), NONE, dtype=np.int64)
    for i, sort in enumerate(sorts.tolist()):
        rest, is_wet = divmod(sort, 2)
        patch, place = divmod(rest, len(ZONES))
        label = mesh.patches[patch]
        for k, item in enumerate(finishes):
            if is_one_of(label.kind, item.where.kinds) and holds_at(
                item.where, label.body, ZONES[place], wet=bool(is_wet)
            ):
                found[i] = k
                break
    regions: Ints = found[which.reshape(-1)]
    return regions
