"""Slivers: faces as thin as the grid, left where two lines run along each other."""

from __future__ import annotations

import numpy as np

from .noding import Partition
from .tolerances import GRID

Ints = np.ndarray

THIN = 3.0 * GRID
"""[m] A face thinner than this (area over half its perimeter) is a sliver."""


def absorb_slivers(plan: Partition, top: Ints, part: Ints, is_zone: np.ndarray) -> None:
    """Give each sliver the label of the neighbour with which it shares most of its border.

    Args:
        plan: The partition.
        top: (f,) layer of each face; changed in place.
        part: (f,) piece or group of each face; changed in place.
        is_zone: (f,) whether it is filled by whole cells; such a label cannot be taken over.
    """
    start, stop, owner = plan.start, plan.stop, plan.face
    length = np.hypot(*(plan.vertices[stop] - plan.vertices[start]).T)
    around = np.bincount(owner, length, minlength=len(plan.rings))
    thin = 2.0 * plan.area < THIN * around
    if not thin.any():
        return
    count = len(plan.vertices)
    key, back = start * count + stop, stop * count + start
    order = np.argsort(key)
    at = np.minimum(np.searchsorted(key[order], back), len(key) - 1)
    other = np.where(key[order][at] == back, owner[order][at], -1)
    for _ in range(3):  # a sliver may lie between slivers
        mine = np.flatnonzero(thin[owner] & (other >= 0))
        mine = mine[~thin[other[mine]] & ~is_zone[other[mine]]]
        if not len(mine):
            return
        pairs, which = np.unique(
            np.column_stack([owner[mine], other[mine]]), axis=0, return_inverse=True
        )
        shared = np.bincount(which.ravel(), length[mine])
        best = np.lexsort((shared, pairs[:, 0]))
        last = np.append(np.diff(pairs[best, 0]) != 0, True)
        face, giver = pairs[best[last]].T
        top[face], part[face], is_zone[face] = top[giver], part[giver], False
        thin[face] = False
