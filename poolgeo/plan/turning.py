"""Where polylines really turn, looking past what rounding and welding leave."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints

EQUAL = 1e-9
"""[-] A turn whose cosine is larger by less than this is as large."""


def corners_in(points: Floats, last: Ints, window: float, least: float) -> Ints:
    """Return which points of polylines are corners, rising.

    A line that ends where it begins is closed, and its first point may be one. The turn at a point
    is taken over a length either way; of points nearer together than two such lengths, the one
    that sees most of the turn counts.

    Args:
        points: (n, d) of all lines, one after the other, in two or three dimensions [m].
        last: (k,) the last point of each line.
        window: That length [m].
        least: Least turn of a corner [rad].
    """
    first = np.concatenate([[0], last[:-1] + 1])
    closed = (points[first] == points[last]).all(axis=1)
    step = np.diff(points, axis=0)
    length = np.sqrt(np.einsum("ij,ij->i", step, step))
    before, after = np.arange(len(points)) - 1, np.arange(len(points))
    before[first], after[last] = last - 1, 0
    # where the steps are longer than the window, they themselves tell
    bound = np.cos(least) + EQUAL
    straight = _dot(step[before], step[after]) > bound * length[before] * length[after]
    straight &= (length[before] > 2.0 * window) & (length[after] > 2.0 * window)
    straight[last] = True
    straight[first[~closed]] = True
    rows = np.flatnonzero(~straight)
    line = np.searchsorted(last, rows)
    length[last[:-1]] = 1.0  # from line to line
    at = np.concatenate([[0.0], np.cumsum(length)])
    begin, total, is_closed = at[first[line]], at[last[line]] - at[first[line]], closed[line]

    def place(away: float) -> Floats:
        along = at[rows] - begin + away
        along = np.where(is_closed, along % np.maximum(total, window), np.clip(along, 0.0, total))
        return np.column_stack([np.interp(begin + along, at, x) for x in points.T])

    back, on = points[rows] - place(-window), place(window) - points[rows]
    size = np.sqrt(_dot(back, back) * _dot(on, on))
    cosine = _dot(back, on) / np.maximum(size, window * window * EQUAL)
    found = (cosine <= bound) & (total >= 4.0 * window)
    rows, cosine = rows[found], cosine[found]
    group = np.cumsum(np.diff(at[rows], prepend=-np.inf) > 2.0 * window)
    order = np.lexsort((cosine, group))
    sharpest: Ints = rows[order[np.diff(group[order], prepend=0) > 0]]
    return sharpest


def _dot(a: Floats, b: Floats) -> Floats:
    found: Floats = np.einsum("ij,ij->i", a, b)
    return found
