"""Slices of the surface by upright or level planes.

Every triangle that the plane passes gives one segment. A vertex in the plane counts as beside it,
always on the same side, so that a slice never ends in a vertex and never lies in a face: of a face
in the plane it takes the line beside.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..mesh import Mesh
from ..plan.keys import numbered, pair_keys
from ..plan.tolerances import GRID


@dataclass(frozen=True)
class Slice:
    """Where a plane cuts a surface.

    Args:
        points: (n, 3) [m].
        ends: (k, 2) segments between these.
        triangles: (k,) the triangle that each lies in.
        keys: (n,) key of the mesh edge that each point lies on, as `Mesh.edge_keys` has it.
    """

    points: Floats
    ends: Ints
    triangles: Ints
    keys: Ints


@dataclass(frozen=True)
class Straight:
    """A straight line in plan.

    Args:
        start: Plan point [m].
        way: Unit vector.
        length: [m].
    """

    start: Floats
    way: Floats
    length: float

    @classmethod
    def of(cls, start: tuple[float, float], end: tuple[float, float]) -> Straight:
        """Return the line from one plan point to another [m]."""
        one, other = np.array(start), np.array(end)
        length = float(np.hypot(*(other - one)))
        return cls(one, (other - one) / length, length)

    def along(self, points: Floats) -> Floats:
        """How far along the line points (..., 2 or 3) lie [m]."""
        found: Floats = (points[..., :2] - self.start) @ self.way
        return found

    def off(self, points: Floats) -> Floats:
        """How far to the left of the line points (..., 2 or 3) lie [m]."""
        found: Floats = (points[..., :2] - self.start) @ np.array([-self.way[1], self.way[0]])
        return found


def slice_at(mesh: Mesh, off: Floats, among: Ints | None = None) -> Slice:
    """Cut a surface with a plane.

    Args:
        mesh: The surface.
        off: (n,) how far to one side of the plane each vertex lies [m].
        among: (m,) triangles, of which those that it cuts are; all where not given.

    Returns:
        The slice.
    """
    triangles = mesh.triangles if among is None else mesh.triangles[among]
    sides = (off > GRID / 2.0)[triangles]
    count = sides[:, 0].astype(np.int8) + sides[:, 1] + sides[:, 2]
    cut = np.flatnonzero((count > 0) & (count < 3))
    rows = cut if among is None else among[cut]
    corners, sides = triangles[cut], sides[cut]
    # the corner that is alone on its side, and its two neighbours
    lone = np.argmax(sides == (sides.sum(axis=1) == 1)[:, None], axis=1)
    a, b, c = ((lone + step) % 3 for step in range(3))
    at = np.arange(len(rows))
    edges = np.stack([corners[at, [a, a]], corners[at, [b, c]]])  # (2, 2, k)
    one, other = edges.min(axis=0).ravel(), edges.max(axis=0).ravel()  # either way the same point
    keys = pair_keys(one, other, len(mesh.vertices))
    first, number = numbered(keys)
    p, q = mesh.vertices[one[first]], mesh.vertices[other[first]]
    d, e = off[one[first]], off[other[first]]
    share = np.clip(d / (d - e), 0.0, 1.0)[:, None]
    return Slice(p + share * (q - p), number.reshape(2, -1).T, rows, keys[first])
