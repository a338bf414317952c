"""Polylines in space by the length along them."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats


def dashes(path: Floats, dash: float, gap: float) -> list[Floats]:
    """Cut a polyline into dashes; it starts and ends with one, and both keep their proportion.

    Args:
        path: (k, 3) [m].
        dash: About the length of a dash [m].
        gap: About the length of a gap [m].

    Returns:
        Polylines (j, 3); the whole path where it is shorter than a dash.
    """
    along = _along(path)
    number = max(1, round((along[-1] + gap) / (dash + gap)))
    scale = along[-1] / (number * dash + (number - 1) * gap)
    starts = (dash + gap) * scale * np.arange(number)
    return [_between(path, along, start, start + dash * scale) for start in starts]


def middle(path: Floats) -> Floats:
    """Return the point half way along a polyline (k, 3) [m]."""
    along = _along(path)
    half: Floats = _between(path, along, along[-1] / 2, along[-1] / 2)[0]
    return half


def _along(path: Floats) -> Floats:
    """Return the length from the start to each point."""
    return np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])


def _between(path: Floats, along: Floats, start: float, end: float) -> Floats:
    """Return the part of a path from one length along it to another."""
    inside = along[(along > start + 1e-9) & (along < end - 1e-9)]
    at = np.array([start, *inside, min(end, along[-1])])
    return np.column_stack([np.interp(at, along, axis) for axis in path.T])
