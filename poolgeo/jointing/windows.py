"""Windows: stretches of finish as long as a bay may be, each of which needs a joint."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..measure.chains import chains_of
from .planes import Section

Hit = tuple[int, int, int]
"""A candidate: axis, number of its plane, part of its section."""


@dataclass(frozen=True)
class Planes:
    """The planes of one axis that may hold joints.

    Args:
        axis: Which coordinate they hold.
        at: Their values there, rising (n,) [m].
        parts: For each plane the part of its section that crosses a triangle.
    """

    axis: int
    at: Floats
    parts: Sequence[Mapping[int, int]]


@dataclass(frozen=True)
class Line:
    """A stretch of finish along a scan, between changes of plane.

    Args:
        length: [m].
        places: (k,) how far along it candidates cross it, rising [m].
        hits: The candidate of each place.
        closed: Whether it comes back to its start.
    """

    length: float
    places: Floats
    hits: tuple[Hit, ...]
    closed: bool


def lines_of(scan: Section, face: Ints, planes: Sequence[Planes]) -> Iterator[Line]:
    """Yield the stretches of a scan, with the candidates that cross them.

    Args:
        scan: A section of the surface.
        face: The face of each triangle of the surface: what lies between changes of plane.
        planes: Of the other axes.
    """
    for chain in chains_of(scan.ends, face[scan.triangles], scan.points, np.pi):
        points = scan.points[chain.vertices]
        steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
        start = np.concatenate([[0.0], np.cumsum(steps)])
        found: list[tuple[float, Hit]] = []
        for group in planes:
            found += _crossings(points, start, scan.triangles[chain.edges], group)
        found.sort()
        places = np.array([place for place, _ in found])
        hits = tuple(hit for _, hit in found)
        closed = bool(chain.vertices[0] == chain.vertices[-1])
        yield Line(float(start[-1]), places, hits, closed)


def _crossings(
    points: Floats, start: Floats, triangles: Ints, planes: Planes
) -> list[tuple[float, Hit]]:
    """Return where planes cross a polyline (k + 1, 3) in the frame, and as which candidate."""
    value = points[:, planes.axis]
    low, high = np.minimum(value[:-1], value[1:]), np.maximum(value[:-1], value[1:])
    first, last = np.searchsorted(planes.at, low, "right"), np.searchsorted(planes.at, high, "left")
    found = []
    for i in np.flatnonzero(last > first).tolist():
        for k in range(int(first[i]), int(last[i])):
            part = planes.parts[k].get(int(triangles[i]))
            if part is None:
                continue
            share = (planes.at[k] - value[i]) / (value[i + 1] - value[i])
            place = start[i] + share * (start[i + 1] - start[i])
            found.append((float(place), (planes.axis, k, part)))
    return found


def windows_of(line: Line, limit: float) -> Iterator[frozenset[Hit]]:
    """Yield sets of candidates of each of which one at least must be taken.

    So no bay along the line is longer than the limit. An empty set: no candidate can help.

    Args:
        line: A stretch of finish.
        limit: Longest bay [m].
    """
    if line.length <= limit:
        return
    places, hits = line.places, line.hits
    if line.closed:  # any start will do: once round, and a window more
        places = np.concatenate([places, places + line.length])
        hits = hits + hits
        starts = places[: len(line.places)] if len(line.places) else np.zeros(1)
    else:
        inner = places[places + limit < line.length]
        starts = np.concatenate([[0.0], inner])
    for start in starts.tolist():
        first = int(np.searchsorted(places, start, "right")) if start or line.closed else 0
        last = int(np.searchsorted(places, start + limit, "right"))
        yield frozenset(hits[first:last])
