"""Unrolling along an outline, and the faces of walls that are unrolled."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..measure.chains import NOISE, along_outline, step_lengths
from ..plan.shapes import feet_on
from ..plan.tolerances import CORNER
from ..plan.turning import corners_in

SHORT = 1e-6
"""[m] Places on a developed wall that are nearer are one."""


NONE = -1
"""No stretch: each place goes to the nearest place of the whole outline."""

BEYOND = 1.0
"""[m] A stretch of an outline goes on straight for so long past its corners."""

TURNED = 0.5
"""[m] How much farther off a stretch may be that a face looks away from, than one square to it."""


class Flat:
    """Unrolls along an outline so that the wall is seen from the water, left to right.

    Seen from inside a ring that goes anticlockwise its stations run to the left. A face that stands
    on one stretch of the outline, from corner to corner, can be unrolled on that alone: what leans
    keeps its lengths up to the corner.

    Args:
        outline: (n, 2) anticlockwise [m].
        seen_from_inside: Whether the water is inside.
    """

    def __init__(self, outline: Floats, *, seen_from_inside: bool) -> None:
        self._outline = outline
        self._way = -1.0 if seen_from_inside else 1.0
        ring = np.concatenate([outline, outline[:1]])
        steps = step_lengths(ring)
        self._at = np.concatenate([[0.0], np.cumsum(steps)])
        self._along = np.diff(ring, axis=0) / steps[:, None]
        self.length = float(self._at[-1])
        corners = corners_in(ring, np.array([len(outline)]), NOISE, CORNER)
        self._corners = np.unique(corners % len(outline))

    @property
    def corners(self) -> tuple[list[float], Floats]:
        """Places of the corners of the outline along it, and they themselves (k, 2) [m]."""
        places: Floats = (self._way * self._at[self._corners]) % self.length
        return places.tolist(), self._outline[self._corners]

    def off(self, points: Floats) -> Floats:
        """Return how far points (k, 2 or 3) lie off the outline in plan [m]."""
        return along_outline(self._outline, points[:, :2])[1]

    def stretches(self, middles: Floats, normals: Floats) -> Ints:
        """Return the stretch that each of some faces stands on, by its number.

        Args:
            middles: (m, 2) Of the faces [m].
            normals: (m, 2) Into the water, of length 1 in plan.
        """
        if not len(self._corners):
            return np.full(len(middles), NONE)
        _, away = feet_on(self._outline, middles)
        inward = -self._way * np.column_stack([-self._along[:, 1], self._along[:, 0]])
        edge = np.argmin(away + TURNED * (1.0 - normals @ inward.T), axis=1)
        found: Ints = np.searchsorted(self._corners, edge, side="right") - 1
        return found % len(self._corners)

    def of(self, points: Floats, stretch: int = NONE) -> Floats:
        """Return points (k, 3) as places along it and heights (k, 2) [m], running on at its end.

        Args:
            points: In space.
            stretch: That their face stands on.
        """
        at = self._way * self._stations(points[:, :2], stretch)
        steps = np.diff(at)
        steps -= self.length * np.round(steps / self.length)
        stations = at[0] + np.concatenate([[0.0], np.cumsum(steps)])
        stations -= self.length * np.floor((stations.mean() + 1e-9) / self.length)
        return np.column_stack([stations, points[:, 2]])

    def faces(self, corners: Floats, stretches: Ints) -> Floats:
        """Return triangles (m, 3, 3) on stretches (m,) as (m, 3, 2), running on at its end."""
        at = np.zeros(corners.shape[:2])
        for stretch in np.unique(stretches).tolist():
            mine = stretches == stretch
            places = corners[mine].reshape(-1, 3)[:, :2]
            at[mine] = self._way * self._stations(places, stretch).reshape(-1, 3)
        at -= self.length * np.round((at - at[:, :1]) / self.length)
        at -= self.length * np.floor((at.mean(axis=1, keepdims=True) + 1e-9) / self.length)
        return np.stack([at, corners[..., 2]], axis=2)

    def _stations(self, places: Floats, stretch: int) -> Floats:
        """Return how far along the outline places (k, 2) lie, on a stretch of it or on all."""
        if stretch == NONE:
            return along_outline(self._outline, places)[0]
        count = len(self._outline)
        first, last = self._corners[stretch], self._corners[(stretch + 1) % len(self._corners)]
        last += count * (last <= first)
        rows = np.arange(first, last + 1)
        line = self._outline[rows % count]
        before = line[0] - BEYOND * self._along[first]
        after = line[-1] + BEYOND * self._along[(last - 1) % count]
        at = self._at[rows % count] + self.length * (rows // count)
        at = np.concatenate([[at[0] - BEYOND], at, [at[-1] + BEYOND]])
        share, away = feet_on(np.concatenate([[before], line, [after]]), places)
        edge = np.argmin(away[:, :-1], axis=1)  # the last goes back to its start
        found: Floats = at[edge] + share[np.arange(len(places)), edge] * np.diff(at)[edge]
        return found


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
