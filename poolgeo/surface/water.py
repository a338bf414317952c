"""The free surface of a body of water: made when somebody asks for it.

What the water touches is open at the top, where it meets the water level. Its volume needs no
more; the closed body does.
"""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..errors import GeometryError
from ..mesh import Mesh
from ..plan.arrangement import NOWHERE, arrange
from ..plan.partition import partition
from ..plan.tolerances import SAME_HEIGHT
from .kinds import WATER_SURFACE
from .manifold import closed


def check_rim(vertices: Floats, rim: Ints, level: float) -> None:
    """Check that a wetted surface is open at the water level only.

    Args:
        vertices: (n, 3) [m].
        rim: (k, 2) the edges along which it is open.
        level: Height of the water [m].

    Raises:
        GeometryError: It is open under water.
    """
    off = np.abs(vertices[rim, 2] - level) > SAME_HEIGHT
    if off.any():
        raise GeometryError(vertices[rim[off][0]])


def rim_of(wetted: Mesh) -> Ints:
    """Return the edges (k, 2) along which a wetted surface is open, the water on their left.

    Args:
        wetted: What a body of water touches, normals out of the water.
    """
    start, stop = wetted.triangles.ravel(), wetted.triangles[:, [1, 2, 0]].ravel()
    halves = np.sort(2 * wetted.edge_keys() + (start < stop))
    key, rises = np.divmod(halves, 2)
    first = np.flatnonzero(np.concatenate([[True], key[1:] != key[:-1]]))
    count = np.diff(np.append(first, len(key)))
    odd = count % 2 == 1
    ends = np.column_stack(np.divmod(key[first[odd]], len(wetted.vertices)))
    # the free surface runs along the rim the other way
    turned = (2 * np.add.reduceat(rises, first) > count)[odd] if len(key) else odd
    rim: Ints = np.where(turned[:, None], ends[:, ::-1], ends)
    return rim


def with_free_surface(wetted: Mesh, level: float) -> Mesh:
    """Return a body of water as a closed mesh, normals out of the water.

    Args:
        wetted: What it touches, and its open sides; one of its labels is the water surface's.
        level: Height of its water [m].
    """
    wetted = wetted.compact()
    if not len(wetted.triangles):
        return wetted  # dry at rest
    plan = wetted.vertices[:, :2]
    rim = rim_of(wetted)
    check_rim(wetted.vertices, rim, level)
    faces = arrange(plan, rim)
    under_water = np.full(faces.count + 1, -1)
    under_water[faces.left] = 0
    under_water[NOWHERE] = -1
    lid = partition(plan, faces, under_water)[0].triangles
    label = [item.kind for item in wetted.patches].index(WATER_SURFACE)
    corners = np.concatenate([wetted.triangles, lid])
    patch = np.concatenate([wetted.patch, np.full(len(lid), label)])
    return closed(Mesh(wetted.vertices, corners, patch, wetted.patches))
