"""What an upright plane cuts of a closed mesh, by Green's theorem over its triangles."""

from __future__ import annotations

import numpy as np

from poolgeo.arrays import Bools, Floats
from poolgeo.mesh import Mesh
from poolgeo.surface.slices import Straight

FLAT = 1e-9
"""[m] Corners nearer to a plane than this lie in it."""


def cut_area(mesh: Mesh, line: Straight) -> float:
    """Return the area that an upright section cuts of a solid [m2].

    In each cut triangle the boundary runs from the side where its outline comes over to the left
    of the plane to the side where it goes back; so all of them run round the solid one way. What
    lies before the line's start, or beyond its end, is pressed flat there and adds nothing.

    Args:
        mesh: Closed; its triangles turn one way.
        line: Of the section in plan.
    """
    corners = mesh.vertices[mesh.triangles]
    off = (corners[..., :2] - line.start) @ np.array([-line.way[1], line.way[0]])
    along = np.stack([(corners[..., :2] - line.start) @ line.way, corners[..., 2]], axis=-1)
    left = off >= 0.0
    onward = np.roll(left, -1, axis=1)
    starts, ends = _crossings(along, off, ~left & onward), _crossings(along, off, left & ~onward)
    return abs(_under(starts, ends, line.length))


def in_plane(mesh: Mesh, line: Straight) -> float:
    """Return the area of the triangles that lie in the plane of an upright section [m2]."""
    corners = mesh.vertices[mesh.triangles]
    off = (corners[..., :2] - line.start) @ np.array([-line.way[1], line.way[0]])
    flat = corners[np.abs(off).max(axis=1) < FLAT]
    across = np.cross(flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0])
    return float(np.linalg.norm(across, axis=1).sum() / 2.0)


def _under(starts: Floats, ends: Floats, length: float) -> float:
    """Return the area between pieces (k, 2) and the level 0, from place 0 to a length [m2]."""
    way = ends - starts
    steps = np.where(way[:, 0] == 0.0, 1.0, way[:, 0])
    slope = way[:, 1] / steps
    near, far = (np.clip(points[:, 0], 0.0, length) for points in (starts, ends))
    rise = 2.0 * starts[:, 1] + slope * (near + far - 2.0 * starts[:, 0])
    return float(np.sum((far - near) * rise) / 2.0)


def _crossings(along: Floats, off: Floats, sides: Bools) -> Floats:
    """Return where some sides (m, 3) of triangles cross the plane, at most one of each (k, 2)."""
    row, side = np.nonzero(sides)
    onward = (side + 1) % 3
    share = off[row, side] / (off[row, side] - off[row, onward])
    one, other = along[row, side], along[row, onward]
    places: Floats = one + share[:, None] * (other - one)
    return places
