"""Where faces end: the edges that a collar must not reach over."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh
from ..plan.keys import are_in, numbered
from ..surface.bends import FLUSH, LEAST_BEND
from ..surface.kinds import EASING

CRUMB = 1e-4
"""[m] A triangle narrower than this tells no angle."""

OPEN = -1
"""Number of the patch beyond the outer edge of the surface."""


@dataclass(frozen=True)
class Borders:
    """Segments in which faces end.

    Args:
        ends: (e, 2, 3) [m].
        patches: (e, 2) patches on both sides; the second is `OPEN` where the surface ends.
    """

    ends: Floats
    patches: Ints


def borders_of(mesh: Mesh, patches: Ints) -> Borders:
    """Find the segments in which some patches of a surface end.

    A cove or a corner cove leaves its faces along smooth lines that count as well: a flange does
    not bend.

    Args:
        mesh: The surface.
        patches: Numbers of the patches.

    Returns:
        Edges towards other faces, corners, and where the surface ends.
    """
    mine = np.zeros(len(mesh.patches), dtype=bool)
    mine[patches] = True
    ends, sides = mesh.pairs
    pair = mesh.patch[sides]
    kept = np.flatnonzero(mine[pair].any(axis=0))
    same = pair[0, kept] == pair[1, kept]
    normals, size = mesh.doubled_areas, 2.0 * mesh.areas
    one, other = sides[:, kept]
    step = np.diff(mesh.vertices[ends[:, kept]], axis=0)[0]
    narrow = size[sides[:, kept]] < CRUMB * np.sqrt(np.einsum("ij,ij->i", step, step))
    broad = ~narrow.any(axis=0)
    beside = _largest_beside(pair, sides, size)
    turn = _angle(*normals[np.where(narrow, beside[sides[:, kept]], sides[:, kept])])
    stands = np.abs(normals[:, 2]) < size / 2.0
    both = stands[one] & stands[other]
    corner = same & both & broad & (turn > LEAST_BEND)
    eases = np.array([item.kind in EASING for item in mesh.patches])
    flush = np.where(both, LEAST_BEND, FLUSH)
    edge = ~same & ((turn > flush) | eases[pair[:, kept]].any(axis=0))
    found = kept[corner | edge]
    rims, owners = _open(mesh, mine[mesh.patch], ends)
    return Borders(
        np.concatenate([mesh.vertices[ends[:, found].T], mesh.vertices[rims]]),
        np.concatenate([pair[:, found].T, np.column_stack([owners, np.full(len(owners), OPEN)])]),
    )


def _largest_beside(pair: Ints, sides: Ints, size: Floats) -> Ints:
    """Return for each triangle the largest beside it of the same patch (m,), itself where none is.

    Args:
        pair: (2, e) patches on both sides of each edge.
        sides: (2, e) triangles there.
        size: (m,) of the triangles [m2].
    """
    one, other = sides[:, pair[0] == pair[1]]
    own, beside = np.concatenate([one, other]), np.concatenate([other, one])
    order = np.argsort(size[beside], kind="stable")
    found = np.arange(len(size))
    found[own[order]] = beside[order]  # of several the last counts
    return found


def _angle(one: Floats, other: Floats) -> Floats:
    """Angles between vectors (k, 3) of any length [deg]."""
    cross = np.cross(one, other)
    sine = np.sqrt(np.einsum("ij,ij->i", cross, cross))
    angle: Floats = np.degrees(np.arctan2(sine, np.einsum("ij,ij->i", one, other)))
    return angle


def _open(mesh: Mesh, mine: Bools, inner: Ints) -> tuple[Ints, Ints]:
    """Return the edges (k, 2) of some triangles that no other shares, and their patches (k,)."""
    count = len(mesh.vertices)
    keys = mesh.edge_keys().reshape(-1, 3)[mine].ravel()
    owner = np.repeat(mesh.patch[mine], 3)
    first, number = numbered(keys)
    single = first[np.bincount(number) == 1]
    shared = np.minimum(*inner) * count + np.maximum(*inner)
    alone = single[~are_in(keys[single], shared)]
    return np.column_stack(np.divmod(keys[alone], count)), owner[alone]
