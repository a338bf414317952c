"""Walks from place to place, followed all at once in strides that double."""

from __future__ import annotations

import numpy as np

from ..arrays import Bools, Ints


def walk(after: Ints, last: Bools) -> tuple[Ints, Ints]:
    """Find where walks end, and how far that is.

    Args:
        after: (n,) the place after each.
        last: (n,) whether a walk ends there; every walk must come to such a place.

    Returns:
        (n,) the last place of the walk on which each is, and (n,) the steps up to there.
    """
    here = np.arange(len(after))
    end, far = np.where(last, here, after), (~last).astype(np.int64)
    while True:
        ahead = end[end]
        if np.array_equal(ahead, end):
            return end, far
        far = far + far[end]
        end = ahead


def lowest(after: Ints, values: Ints) -> tuple[Ints, Ints]:
    """Find the lowest value on the way from each place on, however far; rings are no trouble.

    Args:
        after: (n,) the place after each; the last of a walk is after itself.
        values: (n,) the value of each.

    Returns:
        (n,) the lowest value, and (n,) the place reached: the last one but in a ring.
    """
    found, ahead = values, after
    for _ in range(max(1, len(after).bit_length())):
        found = np.minimum(found, found[ahead])
        ahead = ahead[ahead]
    return found, ahead
