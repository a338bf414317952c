"""Every tolerance of the geometry, once, with its unit and its reason."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

GRID = 1e-6
"""[m] Plan coordinates are snapped to this grid once; then topology is integers."""

WELD = 2e-5
"""[m] Plan vertices nearer to each other, and lines nearer to a vertex, become one: some times what
rounding to the grid can move them by, so that regions rounded each on its own still fit."""

SAME_HEIGHT = 2e-5
"""[m] Two heights at one plan point nearer than this are one (grid times the steepest cell)."""

RELATIVE = 4e-4
"""[-] Share of a length or a plan area that the chords of a flattened curve may lose."""

OUTLINE_TURN = math.sqrt(6.0 * RELATIVE)
"""[rad] Largest turn of one chord of a closed outline: chords of turn a lose a^2/6 of its area."""

SECTION_TURN = math.sqrt(24.0 * RELATIVE)
"""[rad] Largest turn of one chord of a cove's section: a chord of turn a loses a^2/24 of length."""

SHARP_TURN = 0.12
"""[rad] Two chords that turn by more than this make a corner in a path; facets turn by less."""

CORNER = math.radians(15.0)
"""[rad] Least deflection of a true curve that counts as a plan corner of an edge run."""


def grid_keys(xy: npt.NDArray[np.float64]) -> npt.NDArray[np.int64]:
    """Return one integer per plan point (k, 2): the same for points on one grid place.

    Holds within 2 km of the origin.
    """
    place = np.rint(xy / GRID).astype(np.int64)
    keys: npt.NDArray[np.int64] = place[:, 0] * (1 << 32) + place[:, 1]
    return keys


def among(
    segments: npt.NDArray[np.float64], others: npt.NDArray[np.float64]
) -> npt.NDArray[np.bool_]:
    """Return which plan segments (k, 2, 2) are among others (m, 2, 2), either way round."""
    keys = grid_keys(np.concatenate([others, segments]).reshape(-1, 2))
    _, place = np.unique(keys, return_inverse=True)
    pairs = place.reshape(-1, 2)
    pair = pairs.min(axis=1) * len(keys) + pairs.max(axis=1)
    found: npt.NDArray[np.bool_] = np.isin(pair[len(others) :], pair[: len(others)])
    return found


def numbered(keys: npt.NDArray[np.int64]) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
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
