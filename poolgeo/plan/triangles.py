"""Triangulation of one region of the plan, every vertex kept."""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from .curves import Floats
from .tolerances import GRID

Ints = np.ndarray

FLAT = 1e-11
"""[m2] A triangle smaller than this is flat: its longest side is turned where it can be."""

TURNS = 50
"""Most sides turned in one region."""


def triangulate(vertices: Floats, rings: Sequence[Ints]) -> Ints:
    """Triangulate a polygon with holes.

    Args:
        vertices: (n, 2) [m].
        rings: Vertex numbers; outer anticlockwise, holes clockwise.

    Returns:
        (t, 3) vertex numbers, anticlockwise; all vertices are kept.
    """
    ids = np.concatenate(rings)
    found: Ints = ids[manifold3d.triangulate([vertices[ring] for ring in rings], GRID / 4.0)]
    # where a ring touches another in a vertex, triangles without area may join the two
    a, b, c = found.T
    return _without_flat(vertices, found[(a != b) & (b != c) & (c != a)])


def is_convex(vertices: Floats, quads: Ints) -> np.ndarray:
    """Tell which quadrilaterals (k, 4), anticlockwise, may be cut along their first diagonal."""
    p = vertices[quads]
    d = np.roll(p, -1, axis=1) - p
    e = np.roll(d, 1, axis=1)
    turns = e[..., 0] * d[..., 1] - e[..., 1] * d[..., 0]
    convex: np.ndarray = (turns > GRID * GRID).all(axis=1)
    return convex


def _without_flat(vertices: Floats, triangles: Ints) -> Ints:
    """Turn the longest side of flat triangles, so that no diagonal runs along a border."""
    found = triangles.copy()
    for _ in range(TURNS):
        p = vertices[found]
        d, e = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
        flat = np.flatnonzero((d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]) / 2.0 < FLAT)
        turned = False
        for i in flat.tolist():
            sides = np.hypot(*np.moveaxis(np.roll(p[i], -1, axis=0) - p[i], 1, 0))
            k = int(np.argmax(sides))
            u, v, x = (int(found[i, (k + j) % 3]) for j in range(3))
            rows, at = np.nonzero((found == v) & (np.roll(found, -1, axis=1) == u))
            y = int(found[rows[0], (at[0] + 2) % 3]) if len(rows) else x
            if y != x:
                found[i], found[rows[0]] = (u, y, x), (y, v, x)
                turned = True
                break
        if not turned:
            break
    return found
