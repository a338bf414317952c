"""A second way to measure bays: slices of the finished mesh, walked with nothing of the planner's.

A slice by a plane of the frame is walked from mesh edge to mesh edge. It is cut where it crosses an
edge that has a joint, or at which the surface turns by 45 degrees or more, and where a joint of the
plan passes through the plane on it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from poolgeo.arrays import Bools, Floats
from poolgeo.jointing.ground import Ground
from poolgeo.jointing.rows import FinishJoint, FinishJoints

MET = 1e-4
"""[m] A joint crosses a slice where it passes its plane nearer to it than this."""

TURNS = 45.0
"""[deg] What lies beyond such an edge is a bay in another direction."""

STANDS = 0.7
"""[-] A face stands where the height of its unit normal is less."""

Edge = tuple[int, int]


@dataclass(frozen=True)
class Bay:
    """A stretch of finish between joints: how long it is, on what slice, and whence [m]."""

    length: float
    axis: int
    at: float
    start: tuple[float, float, float]


@dataclass(frozen=True)
class Second:
    """A plan, looked at a second time.

    Args:
        ground: What it was made for.
        plan: The joints.
    """

    ground: Ground
    plan: FinishJoints

    @cached_property
    def axes(self) -> Floats:
        """Unit vectors along the rows, across them and up (3, 3)."""
        turn = np.radians(self.plan.direction)
        c, s = np.cos(turn), np.sin(turn)
        return np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])

    def framed(self, points: Floats) -> Floats:
        """Return points (..., 3) from the origin, along the rows, across them and up."""
        moved: Floats = (points - np.array([*self.plan.origin, 0.0])) @ self.axes.T
        return moved

    @cached_property
    def points(self) -> Floats:
        """Vertices in the frame (n, 3)."""
        return self.framed(self.ground.mesh.vertices)

    @cached_property
    def standing(self) -> Bools:
        """(m,) Whether a triangle stands."""
        a, b, c = (self.points[self.ground.mesh.triangles[:, i]] for i in range(3))
        normal = np.cross(b - a, c - a)
        found: Bools = np.abs(normal[:, 2]) < STANDS * np.linalg.norm(normal, axis=1)
        return found

    @cached_property
    def ends_at(self) -> set[Edge]:
        """Mesh edges at which a bay ends."""
        vertex = {point.tobytes(): k for k, point in enumerate(self.ground.mesh.vertices)}
        found: set[Edge] = set()
        for joint in self.plan.of_kind("change of plane", "perimeter"):
            for run in joint.runs:
                at = [vertex[np.ascontiguousarray(point).tobytes()] for point in run.points]
                found.update(map(edge_of, at[:-1], at[1:]))
        for edge in self.ground.takeoff.edges:
            if abs(180.0 - edge.angle) >= TURNS:
                at = edge.vertices.tolist()
                found.update(map(edge_of, at[:-1], at[1:]))
        return found

    @cached_property
    def rim(self) -> Floats:
        """Where the finish ends (k, 2, 3)."""
        count = Counter(
            edge for i, j, k in self.ground.mesh.triangles.tolist()
            for edge in (edge_of(i, j), edge_of(j, k), edge_of(k, i))
        )  # fmt: skip
        edges = [edge for edge, times in count.items() if times == 1]
        return self.ground.mesh.vertices[np.array(edges, dtype=np.int64).reshape(-1, 2)]

    @cached_property
    def across(self) -> Floats:
        """All joints over the surface, in the frame (k, 2, 3)."""
        joints = self.plan.of_kind("over the structure", "intermediate")
        return self.framed(segments_of(joints))

    def bays(self, axis: int, at: float) -> Iterator[Bay]:
        """Yield the bays on a slice that holds a coordinate of the frame."""
        mesh, value = self.ground.mesh, self.points[:, axis] - at
        corners = value[mesh.triangles]
        cut = (corners.min(axis=1) < 0.0) & (corners.max(axis=1) >= 0.0) & self.ground.asks
        if axis == 2:
            cut &= self.standing
        place: dict[Edge, Floats] = {}
        beside: dict[Edge, list[tuple[Edge, int]]] = defaultdict(list)
        for row in np.flatnonzero(cut).tolist():
            i, j, k = mesh.triangles[row].tolist()
            crossed = []
            for edge in (edge_of(i, j), edge_of(j, k), edge_of(k, i)):
                a, b = value[list(edge)]
                if (a < 0.0) != (b < 0.0):
                    p, q = self.points[list(edge)]
                    place[edge] = p + a / (a - b) * (q - p)
                    crossed.append(edge)
            one, other = crossed
            beside[one].append((other, row))
            beside[other].append((one, row))
        marks = self._marks(axis, at)
        for walk in _walks(beside, self.ends_at):
            line = np.array([place[edge] for edge in walk])
            closed = walk[0] == walk[-1] and walk[0] not in self.ends_at
            yield from _between(line, marks, axis, at, closed=closed)

    def _marks(self, axis: int, at: float) -> Floats:
        """Return where joints pass a plane (k, 3)."""
        a, b = self.across[:, 0, axis] - at, self.across[:, 1, axis] - at
        rows = np.flatnonzero((a < 0.0) != (b < 0.0))
        share = (a[rows] / (a[rows] - b[rows]))[:, None]
        found: Floats = self.across[rows, 0] * (1.0 - share) + self.across[rows, 1] * share
        return found


def edge_of(one: int, other: int) -> Edge:
    """Return an edge, its lower vertex first."""
    return (one, other) if one < other else (other, one)


def segments_of(joints: list[FinishJoint]) -> Floats:
    """Return all segments of some joints (k, 2, 3)."""
    runs = [run.points for joint in joints for run in joint.runs]
    found = [np.stack([points[:-1], points[1:]], axis=1) for points in runs]
    return np.concatenate([np.zeros((0, 2, 3)), *found])


def _walks(beside: dict[Edge, list[tuple[Edge, int]]], ends_at: set[Edge]) -> Iterator[list[Edge]]:
    """Yield maximal walks from edge to edge; a closed one repeats its first."""
    done: set[int] = set()
    stops = {edge for edge, ways in beside.items() if len(ways) != 2 or edge in ends_at}
    for start in [*stops, *beside]:
        for way in beside[start]:
            if way[1] in done:
                continue
            walk, (edge, row) = [start, way[0]], way
            done.add(row)
            while edge not in stops and edge != start:
                edge, row = next(item for item in beside[edge] if item[1] != row)
                done.add(row)
                walk.append(edge)
            yield walk


def _between(line: Floats, marks: Floats, axis: int, at: float, *, closed: bool) -> Iterator[Bay]:
    """Yield the bays of a walk (k, 3) between marks on it."""
    way = np.diff(line, axis=0)
    size = np.linalg.norm(way, axis=1)
    start = np.concatenate([[0.0], np.cumsum(size)])
    places = []
    for mark in marks:
        share = np.clip(((mark - line[:-1]) * way).sum(axis=1) / np.maximum(size, 1e-12) ** 2, 0, 1)
        off = np.linalg.norm(line[:-1] + share[:, None] * way - mark, axis=1)
        near = np.flatnonzero(off < MET)
        places += (start[near] + share[near] * size[near]).tolist()
    whole = float(start[-1])
    if closed and places:
        ends = np.sort([*places, min(places) + whole])
    else:
        ends = np.sort([0.0, *places, whole])
    for low, high in zip(ends[:-1].tolist(), ends[1:].tolist(), strict=True):
        x, y, z = (float(np.interp(low % whole, start, line[:, i])) for i in range(3))
        yield Bay(high - low, axis, at, (x, y, z))


def distances(segments: Floats, points: Floats) -> Floats:
    """Return how far points (p, 3) lie from the nearest of some segments (k, 2, 3)."""
    found = np.full(len(points), np.inf)
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    square = np.maximum((way**2).sum(axis=1), 1e-18)
    for k, point in enumerate(points):
        share = np.clip(((point - start) * way).sum(axis=1) / square, 0.0, 1.0)
        off = np.linalg.norm(start + share[:, None] * way - point, axis=1)
        found[k] = off.min(initial=np.inf)
    return found
