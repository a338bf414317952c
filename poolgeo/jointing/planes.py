"""Sections of the surface by planes of a frame: each a candidate for a movement joint."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from ..mesh import Mesh
from ..plan.arrangement import components
from ..plan.keys import numbered, pair_keys
from ..plan.tolerances import GRID

UP = 2
"""Number of the axis of heights."""


@dataclass(frozen=True)
class Frame:
    """A set-out frame: origin and direction of the rows of tiles.

    Args:
        origin: Plan point [m].
        direction: Of the first axis, from x [rad].
    """

    origin: tuple[float, float]
    direction: float

    def of(self, points: Floats) -> Floats:
        """Return points (..., 3) in the frame: along the rows, across them, height [m]."""
        cosine, sine = np.cos(self.direction), np.sin(self.direction)
        x, y = points[..., 0] - self.origin[0], points[..., 1] - self.origin[1]
        found: Floats = np.stack(
            [cosine * x + sine * y, cosine * y - sine * x, points[..., 2]], axis=-1
        )
        return found


@dataclass(frozen=True)
class Section:
    """Where a plane of the frame cuts a surface.

    Args:
        axis: Which coordinate it holds: 0, 1 or `UP`.
        at: Its value there [m].
        points: (n, 3) in the frame [m].
        ends: (k, 2) segments between these.
        triangles: (k,) the triangle that each lies in.
    """

    axis: int
    at: float
    points: Floats
    ends: Ints
    triangles: Ints

    @cached_property
    def lengths(self) -> Floats:
        """Length of each segment (k,) [m]."""
        found: Floats = np.linalg.norm(
            self.points[self.ends[:, 1]] - self.points[self.ends[:, 0]], axis=1
        )
        return found

    @cached_property
    def part(self) -> Ints:
        """The connected part that each segment belongs to (k,)."""
        if not len(self.ends):
            return np.zeros(0, dtype=np.int64)
        whole = components(len(self.points), *self.ends.T)
        _, part = np.unique(whole[self.ends[:, 0]], return_inverse=True)
        return part.astype(np.int64)


def section_at(mesh: Mesh, points: Floats, axis: int, at: float) -> Section:
    """Cut a surface with a plane of the frame.

    A vertex in the plane counts as beside it, always on the same side.

    Args:
        mesh: The surface.
        points: Its vertices in the frame (n, 3) [m].
        axis: Which coordinate the plane holds.
        at: Its value there [m].
    """
    off = points[:, axis] - at
    above = off > GRID / 2.0
    sides = above[mesh.triangles]
    rows = np.flatnonzero(sides.any(axis=1) & ~sides.all(axis=1))
    corners, sides = mesh.triangles[rows], sides[rows]
    lone = np.argmax(sides == (sides.sum(axis=1) == 1)[:, None], axis=1)
    a, b, c = ((lone + step) % 3 for step in range(3))
    here = np.arange(len(rows))
    edges = np.stack([corners[here, [a, a]], corners[here, [b, c]]])
    one, other = edges.min(axis=0).ravel(), edges.max(axis=0).ravel()
    first, number = numbered(pair_keys(one, other, len(points)))
    p, q = points[one[first]], points[other[first]]
    d, e = off[one[first]], off[other[first]]
    share = np.clip(d / (d - e), 0.0, 1.0)[:, None]
    return Section(axis, at, p + share * (q - p), number.reshape(2, -1).T, rows)
