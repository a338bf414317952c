"""The partition of the plan: faces that differ in what they stand for, and their triangles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .arrangement import NOWHERE, Arrangement, arrange
from .triangles import is_convex, triangulate


@dataclass(frozen=True)
class Partition:
    """Non-overlapping faces that share their vertices.

    The borders of all faces stand one after the other in one array: a **place** in it is a vertex
    as one face has it.

    Args:
        edges: (e, 2) vertex numbers of the edges between faces.
        left: (e,) face on the left of each edge, `NOWHERE` outside.
        right: (e,) face on its right.
        at_left: (e, 2) places of its ends in the border of the left face, -1 outside.
        at_right: (e, 2) the same in that of the right face.
        rings: For each face its borders as places: outer anticlockwise, holes clockwise.
        vertex: (p,) vertex number at each place.
        face: (p,) the face that each place belongs to.
        corners: (t, 3) places: triangles of all faces that are not hollow, anticlockwise.
    """

    edges: Ints
    left: Ints
    right: Ints
    at_left: Ints
    at_right: Ints
    rings: tuple[tuple[Ints, ...], ...]
    vertex: Ints
    face: Ints
    corners: Ints

    @property
    def triangles(self) -> Ints:
        """(t, 3) The triangles as vertex numbers."""
        found: Ints = self.vertex[self.corners]
        return found

    @property
    def owner(self) -> Ints:
        """(t,) The face of each triangle."""
        found: Ints = self.face[self.corners[:, 0]]
        return found


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
    loops = joined.loops()
    loops = [loops[i] for i in real.tolist()]
    halves = np.concatenate([joined.face[:0], *(loop for face in loops for loop in face)])
    place = np.full(len(joined.following), NOWHERE)
    place[halves] = np.arange(len(halves))
    stop = np.where(place == NOWHERE, NOWHERE, place[joined.following])
    rings = tuple(tuple(place[loop] for loop in face) for face in loops)
    vertex, face = joined.start[halves], number[joined.face[halves]]
    solid = np.arange(len(real)) if hollow is None else np.flatnonzero(~hollow[origin[real]])
    leans = np.zeros(len(solid), dtype=bool) if sloping is None else sloping[origin[real[solid]]]
    corners = _triangulate(vertices[vertex], [rings[i] for i in solid.tolist()], leans)
    return (
        Partition(
            joined.edges,
            number[joined.left],
            number[joined.right],
            np.column_stack([place[::2], stop[::2]]),
            np.column_stack([stop[1::2], place[1::2]]),
            rings,
            vertex,
            face,
            corners,
        ),
        origin[real],
    )


def _triangulate(vertices: Floats, faces: Sequence[Sequence[Ints]], leans: np.ndarray) -> Ints:
    """Triangulate faces; those of three and four corners without further ado."""
    count = np.array([len(loops[0]) if len(loops) == 1 else 0 for loops in faces])
    three, four = np.flatnonzero(count == 3), np.flatnonzero(count == 4)
    triangles = np.array([faces[i][0] for i in three.tolist()], dtype=np.int64).reshape(-1, 3)
    quads = np.array([faces[i][0] for i in four.tolist()], dtype=np.int64).reshape(-1, 4)
    fan = is_convex(vertices, quads)
    is_other = np.ones(len(faces), dtype=bool)
    is_other[three] = is_other[four[fan]] = False
    others = np.flatnonzero(is_other)
    found = triangulate(vertices, [faces[face] for face in others.tolist()], leans[others])
    return np.concatenate([triangles, quads[fan][:, [0, 1, 2]], quads[fan][:, [0, 2, 3]], found])
