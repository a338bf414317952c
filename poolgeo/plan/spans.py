"""Which upright boxes overlap: by the spans that they cover along each axis."""

from __future__ import annotations

from typing import Literal

import numpy as np

from ..arrays import Floats, Ints


def boxes_meet(low: Floats, high: Floats, lows: Floats, highs: Floats) -> tuple[Ints, Ints]:
    """Return the pairs of boxes that overlap or touch.

    Of two spans that overlap, one begins within the other: spans sorted by where they begin tell
    the pairs that overlap in x, and of these few are far apart in y.

    Args:
        low: (2, k) lower corners of the ones.
        high: (2, k) their upper corners.
        lows: (2, m) lower corners of the others.
        highs: (2, m) their upper corners.

    Returns:
        The number of the one and of the other of each pair.
    """
    i, j = _begin_within(low[0], high[0], lows[0], "left")
    more = _begin_within(lows[0], highs[0], low[0], "right")
    i, j = np.concatenate([i, more[1]]), np.concatenate([j, more[0]])
    near = (low[1][i] <= highs[1][j]) & (high[1][i] >= lows[1][j])
    return i[near], j[near]


def _begin_within(
    low: Floats, high: Floats, begin: Floats, side: Literal["left", "right"]
) -> tuple[Ints, Ints]:
    """Return the pairs of a span (k,) and of another that begins within it.

    One that begins where the span does counts for ``left``, and not for ``right``.
    """
    order = np.argsort(begin)
    ordered = begin[order]
    first = np.searchsorted(ordered, low, side)
    count = np.searchsorted(ordered, high, "right") - first
    total = np.cumsum(count)
    span = np.repeat(np.arange(len(low)), count)
    return span, order[np.arange(len(span)) + np.repeat(first - total + count, count)]
