"""Lines of the plan: runs and rims seen from above.

Words used here, and only so:

* **plan line**: a polyline in plan, in drawing units, without repeated or zero-length pieces.
* **rim**: where a kind of surface ends: sides of its triangles that belong to one triangle only.
* **piece**: one straight stretch of a plan line.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from poolgeo.mesh import Mesh

from ..arrays import Floats, Ints

Place = tuple[float, float]
Piece = tuple[Place, Place]

Rings = tuple[tuple[Place, ...], ...]
"""An area by its outlines, the outer one first; none repeats its first place."""

_GRID = 1e-6
"""[m] Points nearer than this are one: the grid of the plan map."""


@dataclass(frozen=True)
class PlanLine:
    """A polyline in plan.

    Args:
        points: In drawing units; a closed line does not repeat its first point.
        closed: True where the last point joins the first.
    """

    points: tuple[Place, ...]
    closed: bool = False

    @property
    def pieces(self) -> list[Piece]:
        """Its straight stretches, in order."""
        ends = self.points[1:] + (self.points[:1] if self.closed else ())
        return list(zip(self.points, ends, strict=False))

    @property
    def length(self) -> float:
        """How long it is."""
        return sum(math.dist(*piece) for piece in self.pieces)


@dataclass(frozen=True)
class Projection:
    """From metres to drawing units, onto a grid, so that the same pool gives the same bytes.

    Args:
        per_metre: Drawing units in a metre.
        decimals: Decimals of a coordinate in drawing units.
    """

    per_metre: float
    decimals: int

    def place(self, point: Iterable[float]) -> Place:
        """Return the plan place of a point [m]."""
        x, y, *_ = point
        return self.length(x), self.length(y)

    def length(self, metres: float) -> float:
        """Return a length in drawing units."""
        return round(float(metres) * self.per_metre, self.decimals) + 0.0

    def line(self, points: Floats, *, closed: bool = False) -> PlanLine | None:
        """Return the plan line of a polyline.

        Args:
            points: (k, 2) or (k, 3) [m].
            closed: True where the last point joins the first without repeating it.

        Returns:
            The line, closed too where it ends at its first point; None for a vertical one.
        """
        places: list[Place] = []
        for point in points:
            place = self.place(point)
            if not places or place != places[-1]:
                places.append(place)
        if len(places) > 1 and places[0] == places[-1]:
            places.pop()
            closed = True
        if len(places) < 2:
            return None
        return PlanLine(tuple(places), closed and len(places) > 2)

    def rings(self, area: shapely.Geometry) -> Iterator[Rings]:
        """Yield the outlines of each part of an area [m]."""
        for part in shapely.get_parts(area):
            if part.geom_type == "Polygon" and part.area > 0.0:
                lines = [
                    self.line(np.array(ring.coords)) for ring in (part.exterior, *part.interiors)
                ]
                yield tuple(line.points for line in lines if line is not None)


class Drawn:
    """What has been drawn on one layer, so that nothing is drawn there twice."""

    def __init__(self) -> None:
        self._drawn: set[frozenset[Place]] = set()

    def fresh(self, line: PlanLine) -> Iterator[PlanLine]:
        """Cut a line down to what is not on this layer yet, and take that as drawn.

        Args:
            line: The line to draw.

        Yields:
            The line itself where all of it is new, else the parts that are.
        """
        new = []
        for piece in line.pieces:
            key = frozenset(piece)
            new.append(key not in self._drawn)
            self._drawn.add(key)
        if all(new):
            yield line
            return
        part: list[Place] = []
        for (start, end), is_new in zip(line.pieces, new, strict=True):
            if is_new:
                part = [*(part or [start]), end]
            elif part:
                yield PlanLine(tuple(part))
                part = []
        if part:
            yield PlanLine(tuple(part))


def rims(mesh: Mesh, kinds: Collection[str], projection: Projection) -> list[PlanLine]:
    """Return the rims of some kinds of surface, each piece once, joined up to junctions.

    Args:
        mesh: The surface; its triangles meet vertex to vertex.
        kinds: Kinds of surface, such as ``tread``.
        projection: To drawing units.

    Returns:
        Lines that end only where three or more pieces meet, or that are closed.
    """
    pieces: set[Piece] = set()
    for side in rim_sides(mesh, kinds)[0]:
        start, end = sorted(projection.place(mesh.vertices[corner]) for corner in side)
        if start != end:
            pieces.add((start, end))
    return joined(pieces)


def rim_sides(mesh: Mesh, kinds: Collection[str]) -> tuple[Ints, Ints]:
    """Return the sides of triangles on the rims of some kinds of surface.

    Args:
        mesh: The surface; its triangles meet vertex to vertex.
        kinds: Kinds of surface.

    Returns:
        (n, 2) vertices of each side, and (n,) the triangle that it belongs to.
    """
    found, owners = [np.zeros((0, 2), np.int64)], [np.zeros(0, np.int64)]
    for kind in kinds:
        members = [n for n, patch in enumerate(mesh.patches) if patch.kind == kind]
        rows = np.flatnonzero(np.isin(mesh.patch, members))
        sides, own = _open_sides(mesh.vertices, mesh.triangles[rows])
        found.append(sides)
        owners.append(rows[own])
    return np.concatenate(found), np.concatenate(owners)


def _open_sides(vertices: Floats, triangles: Ints) -> tuple[Ints, Ints]:
    """Return the sides (n, 2) that belong to one triangle only, and that triangle (n,).

    Vertices at one place and height are one. Plan alone would not do: two treads of one flight
    share a line in plan but no side.

    Args:
        vertices: (k, 3) [m].
        triangles: (m, 3) vertex numbers of one kind.
    """
    used, corner = np.unique(triangles, return_inverse=True)
    _, number = np.unique(np.round(vertices[used] / _GRID), axis=0, return_inverse=True)
    turn = [[0, 1], [1, 2], [2, 0]]
    sides: Ints = triangles[:, turn].reshape(-1, 2)
    ends = np.sort(number.reshape(-1)[corner.reshape(triangles.shape)][:, turn].reshape(-1, 2))
    keys = ends[:, 0] * (len(used) + 1) + ends[:, 1]
    _, first, count = np.unique(keys, return_index=True, return_counts=True)
    kept = np.sort(first[count == 1])
    return sides[kept], kept // 3


def joined(pieces: Collection[Piece]) -> list[PlanLine]:
    """Join pieces end to end, up to the places where more or fewer than two of them meet."""
    near: dict[Place, list[Place]] = defaultdict(list)
    for start, end in sorted(pieces):
        near[start].append(end)
        near[end].append(start)
    left = {frozenset(piece) for piece in pieces}
    junctions = [place for place in sorted(near) if len(near[place]) != 2]
    lines = []
    for start in [*junctions, *sorted(near)]:
        onward = [place for place in near[start] if frozenset((start, place)) in left]
        for second in onward:
            if frozenset((start, second)) in left:  # not taken by a loop back to the start
                lines += [_walk(start, second, near, left)]
    return lines


def _walk(
    start: Place, second: Place, near: dict[Place, list[Place]], left: set[frozenset[Place]]
) -> PlanLine:
    """Follow pieces from ``start`` through ``second`` and take them out of ``left``."""
    points = [start, second]
    left.discard(frozenset((start, second)))
    while points[-1] != start and len(near[points[-1]]) == 2:
        onward = [place for place in near[points[-1]] if frozenset((points[-1], place)) in left]
        if not onward:
            break
        left.discard(frozenset((points[-1], onward[0])))
        points.append(onward[0])
    if points[-1] == start:
        return PlanLine(tuple(points[:-1]), closed=True)
    return PlanLine(tuple(points))


def clipped(points: Floats, start: float, end: float) -> list[Floats]:
    """Return what of a polyline (k, 2) lies between two places along it, piece by piece.

    Example:
        >>> clipped(np.array([[0.0, 1.0], [4.0, 1.0]]), 1.0, 3.0)[0].round(6).tolist()
        [[1.0, 1.0], [3.0, 1.0]]
        >>> clipped(np.array([[5.0, 1.0], [6.0, 1.0]]), 1.0, 3.0)
        []
    """
    if points[:, 0].min() > end or points[:, 0].max() < start:
        return []
    low, high = points[:, 1].min() - 1.0, points[:, 1].max() + 1.0
    found = shapely.LineString(points).intersection(
        shapely.box(start - 1e-9, low, end + 1e-9, high)
    )
    return [
        np.array(part.coords)
        for part in shapely.get_parts(found)
        if part.geom_type == "LineString" and not part.is_empty
    ]
