"""Faces of walls, each unrolled on the stretch of the outline that it stands on.

Where two faces that lean meet at a corner, their common edge has a place on either: drawn flat,
both end there, with a gap between them.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..arrays import Bools, Floats, Ints
from .developed_flat import NONE, Flat

ON = 1e-4
"""[m] What is nearer to an outline, or to a face, lies on it."""

STEEP = 0.005
"""[-] Slope of a wall that leans, at least."""

SOME = 0.01
"""[-] Share of the walls that lean where they are said to, at least."""


class Faces:
    """The triangles of walls along an outline.

    Args:
        flat: Unrolls along it.
        vertices: (n, 3) Of the mesh [m].
        triangles: (m, 3) Their vertex numbers.
        is_round: (m,) Whether it belongs to a cove or fillet in an upright corner, which stands on
            two stretches.
    """

    def __init__(self, flat: Flat, vertices: Floats, triangles: Ints, is_round: Bools) -> None:
        self._flat, self._vertices, self._triangles = flat, vertices, triangles
        self._corners = vertices[triangles]
        start = self._corners[:, 0]
        self._sides = self._corners[:, 1] - start, self._corners[:, 2] - start
        square = np.cross(*self._sides)
        self._area = np.linalg.norm(square, axis=1)
        self._normals = square / np.maximum(self._area, 1e-12)[:, None]
        level = np.linalg.norm(self._normals[:, :2], axis=1)
        normals = self._normals[:, :2] / np.maximum(level, 1e-12)[:, None]
        found = flat.stretches(self._corners.mean(axis=1)[:, :2], normals)
        self._stretch: Ints = np.where(is_round, NONE, found)

    @property
    def developed(self) -> Floats:
        """The triangles on the developed wall (m, 3, 2) [m]."""
        return self._flat.faces(self._corners, self._stretch)

    @property
    def lean(self) -> bool:
        """Whether some of the walls lean."""
        leaning = self._area[np.abs(self._normals[:, 2]) > STEEP].sum()
        return bool(leaning > SOME * self._area.sum())

    def rims(self) -> Iterator[Floats]:
        """Yield where they end (2, 2): sides of one triangle only, and of two leaning faces."""
        sides = self._triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
        _, group, count = np.unique(
            np.sort(sides, axis=1), axis=0, return_inverse=True, return_counts=True
        )
        alone, order = count[group.reshape(-1)] == 1, np.argsort(group.reshape(-1), kind="stable")
        stretch = np.repeat(self._stretch, 3)
        for k in np.flatnonzero(alone).tolist():
            yield self._flat.of(self._vertices[sides[k]], int(stretch[k]))
        for one, other in order[~alone[order]].reshape(-1, 2).tolist():
            if stretch[one] != stretch[other]:
                ends = self._vertices[sides[one]]
                here, there = (self._flat.of(ends, int(stretch[k])) for k in (one, other))
                apart = (here - there)[:, 0] / self._flat.length
                if np.abs(apart - np.round(apart)).max() * self._flat.length > ON:
                    yield from (here, there)

    def corners(self) -> list[float]:
        """Return the places of corners of the outline that the walls reach [m]."""
        places = self._corners.reshape(-1, 3)[:, :2]
        return [
            place for place, corner in zip(*self._flat.corners, strict=True)
            if np.hypot(*(places - corner).T).min() < ON
        ]  # fmt: skip

    def lines(self, points: Floats) -> Iterator[Floats]:
        """Yield a polyline (k, 3) on the walls as they show it (j, 2), part by part.

        In one where it lies on the outline, or on one face; twice where it parts two faces.
        """
        if self._flat.off(points).max() < ON:
            yield self._flat.of(points)
            return
        middles = (points[1:] + points[:-1]) / 2.0
        on = [self._stretches_at(middle) for middle in middles]
        for stretch in sorted(set().union(*on)):
            is_on = np.array([stretch in found for found in on])
            ends = np.flatnonzero(np.diff(np.concatenate([[False], is_on, [False]])))
            for a, b in ends.reshape(-1, 2).tolist():
                yield self._flat.of(points[a : b + 1], stretch)

    def ring(self, middle: Floats, points: Floats) -> Floats:
        """Return a polyline (k, 3) about a point (3,) on a wall, as (k, 2)."""
        return self._flat.of(points, min(self._stretches_at(middle)))

    def _stretches_at(self, point: Floats) -> set[int]:
        """Return the stretches of the faces that a point (3,) lies on, or is nearest to."""
        way = point - self._corners[:, 0]
        height = np.abs(np.einsum("ij,ij->i", way, self._normals))
        one, other = self._sides
        square = self._normals * np.maximum(self._area, 1e-12)[:, None]
        area = np.maximum(self._area, 1e-12) ** 2
        v = np.einsum("ij,ij->i", np.cross(way, other), square) / area
        w = np.einsum("ij,ij->i", np.cross(one, way), square) / area
        outside = np.maximum(0.0, -np.minimum(np.minimum(v, w), 1.0 - v - w))
        away = height + outside * np.sqrt(self._area)
        return set(self._stretch[away <= away.min() + ON].tolist())
