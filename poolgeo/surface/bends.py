"""How far faces turn at an edge: one answer for all who ask.

What a face was made as tells how it lies (`poolgeo.surface.lies`); of others their triangles do. A
needle leans anyhow, so that its neighbour speaks for it.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..mesh import Bools, Floats, Ints, Mesh, Patch
from ..model import Lie

LEAST_BEND = 10.0
"""[deg] Faces of one label at a plan corner must turn by this as built: a corner of 15 degrees
does, facets of a flattened curve do not."""

FLUSH = 1.0
"""[deg] Faces of different labels nearer to flat than this are flush: no edge. Two that stand on
one curve turn by up to `LEAST_BEND`."""

NARROW = 1e-4
"""[m] A triangle narrower than this over an edge tells no angle there."""

LEAST_AREA = 1e-16
"""[m2] A triangle smaller than this faces nowhere; no angle is taken against it."""

INSIDE = 1e-3
"""[m] How a face lies at an edge is asked this far inside it."""


def turns(mesh: Mesh, ends: Ints, sides: Ints, lies: Mapping[Patch, Lie]) -> tuple[Floats, Bools]:
    """Dihedral angles [deg] through what is not concrete, and whether both faces face anywhere.

    Args:
        mesh: The surface.
        ends: (2, e) vertices.
        sides: (2, e) triangles.
        lies: How patches lie, as far as that is known.

    Returns:
        (e,) angles, (e,) whether they are sound.
    """
    step = (mesh.vertices.take(ends[1], axis=0) - mesh.vertices.take(ends[0], axis=0)).T
    size = np.sqrt(np.einsum("ij,ij->j", step, step))
    one, other = (
        mesh.doubled_areas.take(side, axis=0).T.copy() for side in _broad(mesh, sides, size)
    )
    _as_made(mesh, ends, sides, lies, (one, other))
    # sine and cosine of the turn, both times the sizes of the normals and the edge's length
    sine = (one[1] * other[2] - one[2] * other[1]) * step[0]
    sine += (one[2] * other[0] - one[0] * other[2]) * step[1]
    sine += (one[0] * other[1] - one[1] * other[0]) * step[2]
    cosine = np.einsum("ij,ij->j", one, other) * size
    least = (2.0 * LEAST_AREA) ** 2
    sound = np.einsum("ij,ij->j", one, one) >= least
    sound &= np.einsum("ij,ij->j", other, other) >= least
    turn: Floats = np.degrees(np.arctan2(sine, cosine))
    return 180.0 + turn, sound


def is_standing(mesh: Mesh, sides: Ints) -> Bools:
    """Return whether triangles (...) stand: those between two columns do so exactly."""
    stands: Bools = mesh.doubled_areas[sides, 2] == 0.0
    return stands


def _as_made(
    mesh: Mesh, ends: Ints, sides: Ints, lies: Mapping[Patch, Lie], normals: tuple[Floats, Floats]
) -> None:
    """Put in the normals (3, e) of faces on both sides of edges that are known from what they are.

    The first side lies on the left of an edge seen from outside the concrete, the second on its
    right.
    """
    ways: dict[Lie, list[int]] = {}
    for number, patch in enumerate(mesh.patches):
        if patch in lies:
            ways.setdefault(lies[patch], []).append(number)
    way = np.full(len(mesh.patches), -1)
    for k, numbers in enumerate(ways.values()):
        way[numbers] = k
    up = np.sign(np.bincount(mesh.patch, mesh.doubled_areas[:, 2], len(mesh.patches)))
    start, stop = (mesh.vertices[item, :2] for item in ends)
    step = stop - start
    left = np.column_stack([-step[:, 1], step[:, 0]])
    left *= INSIDE / np.maximum(np.hypot(*step.T), INSIDE)[:, None]
    for normal, side, turn in zip(normals, sides, (1.0, -1.0), strict=True):
        patch = mesh.patch[side]
        known = np.flatnonzero((way[patch] >= 0) & ~is_standing(mesh, side))
        known = known[np.argsort(way[patch[known]], kind="stable")]
        faces_up = up[patch[known]]
        inside = (start[known] + stop[known]) / 2.0 + (turn * faces_up)[:, None] * left[known]
        bounds = np.cumsum(np.bincount(way[patch[known]], minlength=len(ways)))[:-1]
        slopes = [lie(xy) for lie, xy in zip(ways, np.split(inside, bounds), strict=True)]
        if slopes:
            normal[:, known] = faces_up * np.vstack(
                [-np.concatenate(slopes).T, np.ones(len(known))]
            )


def _broad(mesh: Mesh, sides: Ints, size: Floats) -> Ints:
    """Return triangles (2, e) beside edges of a size; for narrow ones the largest beside them.

    That is one of the same patch; where none is larger a triangle speaks for itself.
    """
    narrow = 2.0 * mesh.areas[sides] < NARROW * size
    if not narrow.any():
        return sides
    asked = np.zeros(len(mesh.triangles), dtype=bool)
    asked[sides[narrow]] = True
    _, (one, other) = mesh.pairs
    near = (asked[one] | asked[other]) & (mesh.patch[one] == mesh.patch[other])
    own = np.concatenate([one[near], other[near]])
    beside = np.concatenate([other[near], one[near]])
    order = np.argsort(mesh.areas[beside], kind="stable")
    largest = np.arange(len(asked))
    largest[own[order]] = beside[order]  # of several the last counts
    return np.where(narrow, largest[sides], sides)
