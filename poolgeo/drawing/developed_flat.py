"""Unrolling along an outline, and the faces of walls that are unrolled."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats
from ..measure.chains import along_outline, step_lengths

SHORT = 1e-6
"""[m] Places on a developed wall that are nearer are one."""


class Flat:
    """Unrolls along an outline so that the wall is seen from the water, left to right.

    Seen from inside a ring that goes anticlockwise its stations run to the left.

    Args:
        outline: (n, 2) anticlockwise [m].
        seen_from_inside: Whether the water is inside.
    """

    def __init__(self, outline: Floats, *, seen_from_inside: bool) -> None:
        self._outline = outline
        self._way = -1.0 if seen_from_inside else 1.0
        self.length = float(step_lengths(np.concatenate([outline, outline[:1]])).sum())

    def of(self, points: Floats) -> Floats:
        """Return points (k, 3) as places along it and heights (k, 2) [m], running on at its end."""
        at = self._way * along_outline(self._outline, points[:, :2])[0]
        steps = np.diff(at)
        steps -= self.length * np.round(steps / self.length)
        stations = at[0] + np.concatenate([[0.0], np.cumsum(steps)])
        stations -= self.length * np.floor((stations.mean() + 1e-9) / self.length)
        return np.column_stack([stations, points[:, 2]])

    def faces(self, corners: Floats) -> Floats:
        """Return triangles (m, 3, 3) as (m, 3, 2), each running on at the outline's end."""
        at = self._way * along_outline(self._outline, corners.reshape(-1, 3)[:, :2])[0]
        at = at.reshape(-1, 3)
        at -= self.length * np.round((at - at[:, :1]) / self.length)
        at -= self.length * np.floor((at.mean(axis=1, keepdims=True) + 1e-9) / self.length)
        return np.stack([at, corners[..., 2]], axis=2)


def stands_at(faces: Floats, place: float) -> list[Floats]:
    """Return where a wall stands at a place: upright lines (2, 2) from foot to top, rising.

    Args:
        faces: (m, 3, 2) Its triangles, developed [m].
        place: Along the outline [m].

    Example:
        >>> triangles = np.array([[[0.0, -1.0], [2.0, -2.0], [1.0, 0.0]]])
        >>> [line.round(6).tolist() for line in stands_at(triangles, 1.0)]
        [[[1.0, -1.5], [1.0, 0.0]]]
        >>> stands_at(triangles, 3.0)
        []
    """
    low, high = faces[..., 0].min(axis=1) - SHORT, faces[..., 0].max(axis=1) + SHORT
    mine = faces[(low <= place) & (place <= high)]
    spans: list[tuple[float, float]] = []
    for foot, top in sorted(_heights(triangle, place) for triangle in mine):
        if spans and foot <= spans[-1][1] + SHORT:
            spans[-1] = spans[-1][0], max(spans[-1][1], top)
        else:
            spans.append((foot, top))
    return [np.array([[place, foot], [place, top]]) for foot, top in spans if top - foot > SHORT]


def _heights(triangle: Floats, place: float) -> tuple[float, float]:
    """Return the lowest and the highest point (of 3, 2) at a place that a triangle reaches."""
    start, end = triangle, np.roll(triangle, -1, axis=0)
    way = end[:, 0] - start[:, 0]
    flat = np.abs(way) < SHORT
    share = np.clip((place - start[:, 0]) / np.where(flat, 1.0, way), 0.0, 1.0)
    at = start + share[:, None] * (end - start)
    near = np.abs(at[:, 0] - place) <= 2.0 * SHORT
    found = np.concatenate(
        [at[near & ~flat, 1], triangle[np.abs(triangle[:, 0] - place) <= 2.0 * SHORT, 1]]
    )
    return (float(found.min()), float(found.max())) if len(found) else (np.inf, -np.inf)
