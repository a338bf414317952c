"""Where the surface is curved and where it slopes, so that more tiles are cut.

* **sloping**: the normal lies off plumb and off level, either by more than 1:200.
* **curved**: a connected piece that bends smoothly, as a round wall or a cove does, is curved as a
  whole; of another one as large a share as that of its border that follows a curve: all of the
  floor of a round pool, little of one with a rounded corner.

A **connected piece** is of one patch and ends at corners too: the straight walls of a pool with one
round end are straight.
"""

from __future__ import annotations

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..measure.chains import chains_of
from ..mesh import Mesh
from ..model import Model
from ..plan.arrangement import components
from .curves import CORNER, LEAST_TURN, polyline

SLOPE = 1.0 / 200.0
"""[-] What leans less counts as level or plumb: within what is made level or plumb on site. Common
practice, no source."""

NARROW = 2e-2
"""[m] A triangle narrower than this over an edge tells no small angle there; the border of what is
bent so sharply tells that it is."""


def is_sloping(mesh: Mesh) -> Bools:
    """Return which triangles (m,) are neither level nor plumb."""
    x, y, z = mesh.doubled_areas.T
    flat, up = np.hypot(x, y), np.abs(z)
    found: Bools = (flat > SLOPE * up) & (up > SLOPE * flat)
    return found


def curved_share(model: Model) -> Floats:
    """Return which share of each triangle (m,) of a model's surface counts as curved."""
    mesh = model.surface
    ends, (one, other) = mesh.pairs
    turn, broad = _turns(mesh, ends, one, other)
    same = (mesh.patch[one] == mesh.patch[other]) & ((turn < CORNER) | ~broad)
    piece = components(len(mesh.triangles), one[same], other[same])
    found = _round_border(mesh, piece, model.design.pool.tolerance)
    found[piece[one[same & broad & (turn > LEAST_TURN)]]] = 1.0
    return found[piece]


def border_of(mesh: Mesh, face: Ints) -> Ints:
    """Return the half-edges (k,) with triangles of their face on one side only.

    Args:
        mesh: The surface.
        face: (m,) the face of each triangle, not negative; a negative one is of no interest.
    """
    half = np.flatnonzero(np.repeat(face >= 0, 3))
    if not len(half):
        return half
    _, key = np.unique(mesh.edge_keys()[half], return_inverse=True)
    place = key.ravel() * (int(face.max()) + 1) + face[half // 3]
    _, place, count = np.unique(place, return_inverse=True, return_counts=True)
    found: Ints = half[count[place.ravel()] == 1]
    return found


def ends_of(mesh: Mesh, half: Ints) -> Ints:
    """Return the vertices (k, 2) of half-edges (k,)."""
    after = np.where(half % 3 == 2, half - 2, half + 1)
    corners = mesh.triangles.ravel()
    return np.column_stack([corners[half], corners[after]])


def _turns(mesh: Mesh, ends: Ints, one: Ints, other: Ints) -> tuple[Floats, Bools]:
    """Return by how much faces turn at edges (e,) [rad], and where that is sound."""
    size = np.linalg.norm(mesh.vertices[ends[0]] - mesh.vertices[ends[1]], axis=1)
    broad = 2.0 * np.minimum(mesh.areas[one], mesh.areas[other]) > NARROW * size
    unit = mesh.doubled_areas / np.maximum(2.0 * mesh.areas, 1e-16)[:, None]
    apart = np.linalg.norm(unit[one] - unit[other], axis=1)
    turn: Floats = 2.0 * np.arctan2(apart, np.linalg.norm(unit[one] + unit[other], axis=1))
    return turn, broad


def _round_border(mesh: Mesh, piece: Ints, tolerance: float) -> Floats:
    """Return which share of the border of each piece (m,) follows a curve."""
    half = border_of(mesh, piece)
    ends = ends_of(mesh, half)
    whole, curved = (np.zeros(len(mesh.triangles)) for _ in range(2))
    for chain in chains_of(ends, piece[half // 3], mesh.vertices, np.pi):
        line = polyline(mesh.vertices[chain.vertices])
        whole[chain.sort] += line.steps.sum()
        if line.has_curve(tolerance):
            curved[chain.sort] += line.steps[line.chords(tolerance)].sum()
    found: Floats = np.divide(curved, whole, out=np.zeros_like(whole), where=whole > 0.0)
    return found
