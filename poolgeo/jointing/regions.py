"""Which finish holds where."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Bools, Ints
from ..design.finishes import Finish
from ..design.places import holds_at, is_one_of
from ..mesh import ZONES, Mesh

NONE = -1
"""Number of no finish."""


TOPS = frozenset({"wall top", "coping return"})
"""Zones that coping lies on: a finish holds there only if it names zones or kinds of surface."""


def finish_at(finishes: Sequence[Finish], kind: str, body: str, zone: str, *, wet: bool) -> int:
    """Return the number of the first finish that holds somewhere, `NONE` where none does."""
    for i, item in enumerate(finishes):
        if zone in TOPS and item.where.zones is None and item.where.kinds is None:
            continue
        if is_one_of(kind, item.where.kinds) and holds_at(item.where, body, zone, wet=wet):
            return i
    return NONE


def regions_of(mesh: Mesh, wet: Bools, zone: Ints, finishes: Sequence[Finish]) -> Ints:
    """Return the finish of each triangle.

    Args:
        mesh: The inside surface.
        wet: (m,) True where a triangle is under its body's water.
        zone: (m,) its zone: a number of `ZONES`.
        finishes: In the order of the pool file: of several that match the first holds.

    Returns:
        (m,) numbers of finishes, `NONE` where none matches.
    """
    places = (mesh.patch * len(ZONES) + zone) * 2 + wet
    unique, place = np.unique(places, return_inverse=True)
    found = np.full(len(unique), NONE, dtype=np.int64)
    for i, key in enumerate(unique.tolist()):
        patch = mesh.patches[key // 2 // len(ZONES)]
        name = ZONES[key // 2 % len(ZONES)]
        found[i] = finish_at(finishes, patch.kind, patch.body, name, wet=bool(key % 2))
    of_each: Ints = found[place.ravel()]
    return of_each
