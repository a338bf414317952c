"""How far faces turn at an edge: one answer for all who ask.

What a face was made as tells how it lies (`poolgeo.surface.lies`); of others their triangles do. A
needle leans anyhow, so that its neighbour speaks for it.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh, Patch
from ..model import Lie
from ..plan.tolerances import GRID

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


def turns(
    mesh: Mesh, ends: Ints, sides: Ints, lies: Mapping[Patch, Lie | None]
) -> tuple[Floats, Bools]:
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
    normals = mesh.doubled_areas.take(_broad(mesh, sides, size).ravel(), axis=0).T.copy()
    _as_made(mesh, ends, sides, lies, normals)
    one, other = np.split(normals, 2, axis=1)
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


def _as_made(
    mesh: Mesh, ends: Ints, sides: Ints, lies: Mapping[Patch, Lie | None], normals: Floats
) -> None:
    """Put in the normals (3, 2 e) of the faces beside edges of which it is known how they lie.

    The first e are on the left of their edges seen from outside the concrete, the others on the
    right.
    """
    known = [(i, lies[item]) for i, item in enumerate(mesh.patches) if item in lies]
    is_known = np.zeros(len(mesh.patches), dtype=bool)
    is_known[[i for i, _ in known]] = True
    patch = mesh.patch.take(sides.ravel())
    rows = np.flatnonzero(is_known[patch])
    patch = patch[rows]
    up = np.sign(np.bincount(mesh.patch, mesh.doubled_areas[:, 2], len(mesh.patches)))[patch]
    slope = np.zeros((2, len(rows)))
    for i, lie in known:
        if lie is not None and len(mine := np.flatnonzero(patch == i)):
            edge, is_right = rows[mine] % len(ends[0]), rows[mine] >= len(ends[0])
            start, stop = (mesh.vertices[item[edge], :2] for item in ends)
            x, y = (stop - start).T
            off = np.where(is_right, -INSIDE, INSIDE) * up[mine] / np.maximum(np.hypot(x, y), GRID)
            slope[:, mine] = lie((start + stop) / 2.0 + np.column_stack([-y * off, x * off])).T
    normals[:2, rows], normals[2, rows] = -slope * up, up


def _broad(mesh: Mesh, sides: Ints, size: Floats) -> Ints:
    """Return triangles (2, e) beside edges of a size; for narrow ones the largest beside them.

    That is one of the same patch; where there is none, a triangle speaks for itself.
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
