"""Arrangement: from noded lines to the faces between them, by integers.

Words: a **half-edge** is an edge walked one way, with a face on its left: half-edge 2 e walks edge
e from its first vertex to its second, 2 e + 1 back. A **cycle** is the closed walk along one
border of a face.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .strides import lowest, walk

NOWHERE = -1
"""Face number of what lies outside everything."""


@dataclass(frozen=True)
class Arrangement:
    """Faces between edges.

    Args:
        edges: (e, 2) vertex numbers.
        face: (2 e,) the face on the left of each half-edge, `NOWHERE` outside.
        outer: (2 e,) whether each half-edge is on its face's outer border, and not round a hole.
        following: (2 e,) the half-edge that goes on along the same border.
        border: (2 e,) the lowest half-edge of that border: it tells one from another.
        count: How many faces there are.
    """

    edges: Ints
    face: Ints
    outer: np.ndarray
    following: Ints
    border: Ints
    count: int

    @property
    def left(self) -> Ints:
        """(e,) The face on the left of each edge."""
        return self.face[::2]

    @property
    def right(self) -> Ints:
        """(e,) The face on the right of each edge."""
        return self.face[1::2]

    @property
    def start(self) -> Ints:
        """(2 e,) The vertex at which each half-edge starts."""
        return self.edges.ravel()

    def mean(self, values: Floats, area: Ints | None = None) -> Floats:
        """Return the mean over the border of each face (faces + 1,) of what vertices (n,) have.

        The last is the outside's; nan counts for nothing.

        Args:
            values: (n,) what the vertices have.
            area: (faces + 1,) which area each face is part of; then the mean is over the borders
                of all the faces of its area. None when each stands for itself.
        """
        return self.mean_at(values[self.start], area)

    def mean_at(self, at: Floats, area: Ints | None = None) -> Floats:
        """Return the mean over the border of each face (faces + 1,) of what half-edges (2 e,) have.

        Args:
            at: (2 e,) what they have at their starts; nan counts for nothing.
            area: As in `mean`.
        """
        known = np.isfinite(at)
        face = self.face[known] % (self.count + 1)
        if area is not None:
            face = area[face]
        total = np.bincount(face, at[known], minlength=self.count + 1)
        times = np.bincount(face, minlength=self.count + 1)
        mean: Floats = np.divide(total, times, out=np.full(len(total), np.nan), where=times > 0)
        return mean if area is None else mean[area]

    def loops(self) -> list[list[Ints]]:
        """Return for each face its borders as half-edges in order, the outer one first."""
        end, far = walk(self.following, self.following == self.border)
        inside = np.flatnonzero(self.face != NOWHERE)
        order = inside[np.lexsort((-far[inside], end[inside]))]
        begins = np.flatnonzero(np.diff(end[order], prepend=-1))
        found: list[list[Ints]] = [[] for _ in range(self.count)]
        for loop in np.split(order, begins[1:]) if len(order) else []:
            borders = found[self.face[loop[0]]]
            borders.insert(0 if self.outer[loop[0]] else len(borders), loop)
        return found


def arrange(vertices: Floats, edges: Ints) -> Arrangement:
    """Find the faces between edges that meet in vertices only.

    Args:
        vertices: (n, 2) [m].
        edges: (e, 2) vertex numbers, each pair once.

    Returns:
        The arrangement.
    """
    start, stop = edges.ravel(), edges[:, ::-1].ravel()
    p, q = vertices[start], vertices[stop]
    d = q - p
    angle = np.arctan2(d[:, 1], d[:, 0])
    order = np.argsort(start * 8.0 + angle)  # a vertex's own range is 2 pi wide
    # the half-edges out of a vertex stand anticlockwise; on arriving, a border turns to the one
    # before its way back
    place = np.empty(len(order), dtype=np.int64)
    place[order] = np.arange(len(order))
    first = np.flatnonzero(np.concatenate([[True], start[order][1:] != start[order][:-1]]))
    last = np.concatenate([first[1:], [len(order)]]) - 1
    before = np.arange(len(order)) - 1
    before[first] = last
    half = np.arange(len(start))
    following = order[before[place[half ^ 1]]]
    border, _ = lowest(following, half)
    cycle = (np.cumsum(border == half) - 1)[border]
    p -= p[0] if len(p) else 0.0
    area = np.bincount(cycle, p[:, 0] * d[:, 1] - p[:, 1] * d[:, 0])
    face_of = np.full(len(area), NOWHERE)
    is_face = area > 0.0
    face_of[is_face] = np.arange(is_face.sum())
    _place_holes(vertices, start, stop, cycle, is_face, face_of)
    return Arrangement(edges, face_of[cycle], is_face[cycle], following, border, int(is_face.sum()))


def components(count: int, a: Ints, b: Ints) -> Ints:
    """Label what hangs together.

    Args:
        count: How many things there are.
        a: (k,) the one, and
        b: (k,) the other of each pair that hangs together.

    Returns:
        (count,) for each thing the lowest number of those that it hangs together with.
    """
    label = np.arange(count)
    while True:
        one, other = label[a], label[b]
        if np.array_equal(one, other):
            return label
        low, high = np.minimum(one, other), np.maximum(one, other)
        np.minimum.at(label, high, low)
        while not np.array_equal(label, label[label]):
            label = label[label]


def _place_holes(
    vertices: Floats, start: Ints, stop: Ints, cycle: Ints, is_face: np.ndarray, face_of: Ints
) -> None:
    """Give each cycle that runs round the outside of something the face that this lies in.

    From the leftmost vertex a ray goes left, just above it: what it meets first bounds that face.
    """
    holes = np.flatnonzero(~is_face)
    if len(holes) < 2:
        return
    mine = np.flatnonzero(~is_face[cycle])
    sort = np.lexsort((vertices[start[mine], 0], cycle[mine]))
    which, first = np.unique(cycle[mine][sort], return_index=True)
    x, y = vertices[start[mine[sort[first]]]].T
    down = vertices[start, 1] > vertices[stop, 1]  # these have their left towards +x
    p, q = vertices[start[down]], vertices[stop[down]]
    halves = np.flatnonzero(down)
    crossed = (q[:, 1] <= y[:, None]) & (p[:, 1] > y[:, None])
    rise = p[:, 1] - q[:, 1]
    lean = (p[:, 0] - q[:, 0]) / rise
    at = q[:, 0] + (y[:, None] - q[:, 1]) * lean
    at = np.where(crossed & (at < x[:, None]), at, -np.inf)
    # of edges that go up from one vertex on the ray, the rightmost
    lean = np.where(at == at.max(axis=1, keepdims=True), (p[:, 0] - q[:, 0]) / rise, -np.inf)
    nearest = np.argmax(lean, axis=1)
    met = np.isfinite(at[np.arange(len(which)), nearest])
    beyond = np.where(met, cycle[halves[nearest]], -1)
    container = dict(zip(which.tolist(), beyond.tolist(), strict=True))
    for hole in which.tolist():
        outer = container[hole]
        while outer >= 0 and not is_face[outer]:
            outer = container[outer]
        if outer >= 0:
            face_of[hole] = face_of[outer]
