"""Noding: from lines to a partition whose topology is integers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import manifold3d
import numpy as np
import shapely

from .curves import Floats
from .tolerances import GRID, grid_keys

Ints = np.ndarray


@dataclass(frozen=True)
class Partition:
    """Non-overlapping faces that share their vertices.

    Args:
        vertices: (n, 2) on the grid [m].
        keys: (n,) grid keys of the vertices, rising.
        rings: For each face its rings of vertex numbers: outer anticlockwise, holes clockwise.
        triangles: (t, 3) all faces' triangles, anticlockwise.
        owner: (t,) face number of each triangle.
        inside: (f, 2) a point well inside each face [m].
        area: (f,) [m2].
    """

    vertices: Floats
    keys: Ints
    rings: tuple[tuple[Ints, ...], ...]
    triangles: Ints
    owner: Ints
    inside: Floats
    area: Floats


def partition(lines: Sequence[shapely.Geometry], points: Floats) -> Partition:
    """Node the lines and return the faces between them.

    Args:
        lines: Any line geometries [m].
        points: (k, 2) further points that must have a vertex number [m].
    """
    on_grid = shapely.transform(np.array(lines, dtype=object), lambda xy: np.rint(xy / GRID) * GRID)
    noded = shapely.union_all(on_grid, grid_size=GRID)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    faces = shapely.orient_polygons(faces)
    rings, owner = shapely.get_rings(faces, return_index=True)
    coords, ring_of = shapely.get_coordinates(rings, return_index=True)
    last = np.concatenate([ring_of[1:] != ring_of[:-1], [True]])
    coords, ring_of = coords[~last], ring_of[~last]  # without the repeated last point
    keys, first, number = np.unique(
        np.concatenate([grid_keys(coords), grid_keys(points)]),
        return_index=True, return_inverse=True,
    )  # fmt: skip
    place = np.concatenate([coords, points])[first]
    vertices = np.rint(place / GRID) * GRID
    starts = np.searchsorted(ring_of, np.arange(len(rings) + 1))
    loops = [number[a:b] for a, b in zip(starts[:-1], starts[1:], strict=True)]
    grouped: list[list[Ints]] = [[] for _ in faces]
    for loop, face in zip(loops, owner, strict=True):
        grouped[face].append(loop)
    triangles, owners, inside = _triangulate(vertices, grouped)
    return Partition(
        vertices,
        keys,
        tuple(tuple(item) for item in grouped),
        triangles,
        owners,
        inside,
        shapely.area(faces),
    )


def _triangulate(vertices: Floats, faces: list[list[Ints]]) -> tuple[Ints, Ints, Floats]:
    triangles, owners = [], []
    for face, rings in enumerate(faces):
        if len(rings) == 1 and len(rings[0]) == 3:
            found = rings[0][None]
        else:
            ids = np.concatenate(rings)
            found = ids[manifold3d.triangulate([vertices[ring] for ring in rings], GRID / 4.0)]
            # where a ring touches another in a vertex, triangles without area may join the two
            a, b, c = found.T
            found = found[(a != b) & (b != c) & (c != a)]
        triangles.append(found)
        owners.append(np.full(len(found), face))
    merged, owner = np.concatenate(triangles), np.concatenate(owners)
    a, b, c = (vertices[merged[:, i]] for i in range(3))
    area = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    largest = np.lexsort([area, owner])[np.searchsorted(np.sort(owner), np.arange(len(faces)),
                                                        side="right") - 1]  # fmt: skip
    return merged, owner, ((a + b + c) / 3.0)[largest]
