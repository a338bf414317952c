"""Where faces end: the edges that a collar must not reach over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh, Patch
from ..model import Lie
from ..plan.keys import are_in, numbered
from ..surface.bends import FLUSH, LEAST_BEND, turns
from ..surface.kinds import EASING

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


def borders_of(mesh: Mesh, patches: Ints, lies: Mapping[Patch, Lie | None]) -> Borders:
    """Find the segments in which some patches of a surface end.

    A cove or a corner cove leaves its faces along smooth lines that count as well: a flange does
    not bend.

    Args:
        mesh: The surface.
        patches: Numbers of the patches.
        lies: How patches lie, as far as that is known.

    Returns:
        Edges towards other faces, corners, and where the surface ends.
    """
    mine = np.zeros(len(mesh.patches), dtype=bool)
    mine[patches] = True
    ends, sides = mesh.pairs
    pair = mesh.patch[sides]
    kept = np.flatnonzero(mine[pair].any(axis=0))
    same = pair[0, kept] == pair[1, kept]
    angle, _ = turns(mesh, ends[:, kept], sides[:, kept], lies)
    bend = np.abs(180.0 - angle)
    both = (np.abs(mesh.doubled_areas[:, 2]) < mesh.areas)[sides[:, kept]].all(axis=0)
    corner = same & both & (bend > LEAST_BEND)
    eases = np.array([item.kind in EASING for item in mesh.patches])
    flush = np.where(both, LEAST_BEND, FLUSH)
    edge = ~same & ((bend > flush) | eases[pair[:, kept]].any(axis=0))
    found = kept[corner | edge]
    rims, owners = _open(mesh, mine[mesh.patch], ends)
    return Borders(
        np.concatenate([mesh.vertices[ends[:, found].T], mesh.vertices[rims]]),
        np.concatenate([pair[:, found].T, np.column_stack([owners, np.full(len(owners), OPEN)])]),
    )


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
