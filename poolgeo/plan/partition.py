"""The partition of the plan: faces that differ in what they stand for, and their triangles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .arrangement import NOWHERE, Arrangement, arrange
from .curves import Floats
from .triangles import is_convex, triangulate

Ints = np.ndarray


@dataclass(frozen=True)
class Partition:
    """Non-overlapping faces that share their vertices.

    Args:
        edges: (e, 2) vertex numbers of the edges between faces.
        left: (e,) face on the left of each edge, `NOWHERE` outside.
        right: (e,) face on its right.
        loops: For each face its borders as vertex numbers: outer anticlockwise, holes clockwise.
        triangles: (t, 3) triangles of all faces that are not hollow, anticlockwise.
        owner: (t,) face of each triangle.
    """

    edges: Ints
    left: Ints
    right: Ints
    loops: tuple[tuple[Ints, ...], ...]
    triangles: Ints
    owner: Ints


def partition(
    vertices: Floats,
    plan: Arrangement,
    label: Ints,
    hollow: np.ndarray | None = None,
    sloping: np.ndarray | None = None,
) -> tuple[Partition, Ints]:
    """Join the faces of an arrangement that have the same label.

    Args:
        vertices: (n, 2) [m].
        plan: The arrangement.
        label: (faces + 1,) label of each face and of the outside; below 0: nothing is there.
        hollow: (faces + 1,) faces that are not triangulated.
        sloping: (faces + 1,) faces in which a needle of a triangle would lean anyhow.

    Returns:
        The partition, and for each of its faces one that it was joined from.
    """
    kept = np.flatnonzero(label[plan.left] != label[plan.right])
    joined = arrange(vertices, plan.edges[kept])
    halves = np.column_stack([2 * kept, 2 * kept + 1]).ravel()
    origin = np.full(joined.count + 1, NOWHERE)
    origin[joined.face] = plan.face[halves]
    real = np.flatnonzero(label[origin[:-1]] >= 0)
    number = np.full(joined.count + 1, NOWHERE)
    number[real] = np.arange(len(real))
    start = joined.start
    loops = joined.loops()
    faces = [[start[loop] for loop in loops[i]] for i in real.tolist()]
    solid = np.arange(len(real)) if hollow is None else np.flatnonzero(~hollow[origin[real]])
    leans = np.zeros(len(solid), dtype=bool) if sloping is None else sloping[origin[real[solid]]]
    triangles, owner = _triangulate(vertices, [faces[i] for i in solid.tolist()], leans)
    return (
        Partition(
            joined.edges,
            number[joined.left],
            number[joined.right],
            tuple(tuple(item) for item in faces),
            triangles,
            solid[owner],
        ),
        origin[real],
    )


def _triangulate(
    vertices: Floats, faces: Sequence[Sequence[Ints]], leans: np.ndarray
) -> tuple[Ints, Ints]:
    count = np.array([len(loops[0]) if len(loops) == 1 else 0 for loops in faces])
    three, four = np.flatnonzero(count == 3), np.flatnonzero(count == 4)
    triangles = [np.array([faces[i][0] for i in three.tolist()], dtype=np.int64).reshape(-1, 3)]
    quads = np.array([faces[i][0] for i in four.tolist()], dtype=np.int64).reshape(-1, 4)
    fan = is_convex(vertices, quads)
    triangles += [quads[fan][:, [0, 1, 2]], quads[fan][:, [0, 2, 3]]]
    owners = [three, four[fan], four[fan]]
    is_other = np.ones(len(faces), dtype=bool)
    is_other[np.concatenate(owners)] = False
    others = np.flatnonzero(is_other)
    found, which = triangulate(vertices, [faces[face] for face in others.tolist()], leans[others])
    return np.concatenate([*triangles, found]), np.concatenate([*owners, others[which]])
