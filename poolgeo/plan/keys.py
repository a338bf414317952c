"""Integers that stand for places and for pairs: what is the same has the same key."""

from __future__ import annotations

import numpy as np

from ..arrays import Bools, Floats, Ints
from .tolerances import GRID


def grid_keys(xy: Floats) -> Ints:
    """Return one integer per plan point (k, 2): the same for points on one grid place.

    Holds within 2 km of the origin.
    """
    place = np.rint(xy / GRID).astype(np.int64)
    keys: Ints = place[:, 0] * (1 << 32) + place[:, 1]
    return keys


def pair_keys(one: Ints, other: Ints, count: int) -> Ints:
    """Return one integer per pair of numbers below ``count`` (k,), whichever comes first.

    `numpy.divmod` by ``count`` gives the lower and the higher number back.
    """
    keys: Ints = np.minimum(one, other) * count + np.maximum(one, other)
    return keys


def numbered(keys: Ints) -> tuple[Ints, Ints]:
    """Number equal keys (n,) alike, rising with the key.

    As `np.unique` with both indices, which sorts several times more slowly to keep an order.

    Returns:
        (k,) the first place of each number, and (n,) the number of each key.
    """
    order = np.argsort(keys)
    ordered = keys[order]
    fresh = np.ones(len(keys), dtype=bool)
    fresh[1:] = ordered[1:] != ordered[:-1]
    number = np.empty(len(keys), dtype=np.int64)
    number[order] = np.cumsum(fresh) - 1
    starts = np.flatnonzero(fresh)
    first = np.minimum.reduceat(order, starts) if len(keys) else order
    return first, number


def are_in(keys: Ints, table: Ints) -> Bools:
    """Return which keys (n,) are in a table (k,)."""
    if not len(table):
        return np.zeros(len(keys), dtype=bool)
    ordered = np.sort(table)
    found: Bools = ordered[np.searchsorted(ordered[:-1], keys)] == keys
    return found


def among(segments: Floats, others: Floats) -> Bools:
    """Return which plan segments (k, 2, 2) are among others (m, 2, 2), either way round."""
    keys = grid_keys(np.concatenate([others, segments]).reshape(-1, 2))
    _, place = numbered(keys)
    pair = pair_keys(place[::2], place[1::2], len(keys))
    return are_in(pair[len(others) :], pair[: len(others)])
