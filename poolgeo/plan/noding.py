"""Noding: from lines to a partition whose topology is integers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from .curves import Floats
from .cut import lines_of, segments_of
from .tolerances import GRID, grid_keys
from .triangles import is_convex, triangulate

Ints = np.ndarray

ROUNDS = 5
"""Most rounds of weaving; two are usual."""


@dataclass(frozen=True)
class Partition:
    """Non-overlapping faces that share their vertices.

    Args:
        vertices: (n, 2) on the grid [m].
        keys: (n,) grid keys of the vertices, rising.
        rings: For each face its rings of vertex numbers: outer anticlockwise, holes clockwise.
        start: (h,) vertex at which each half-edge of a ring starts; its face is on its left.
        stop: (h,) vertex at which it stops.
        face: (h,) its face.
        triangles: (t, 3) all faces' triangles, anticlockwise.
        owner: (t,) face number of each triangle.
        inside: (f, 2) a point well inside each face [m].
        area: (f,) [m2].
    """

    vertices: Floats
    keys: Ints
    rings: tuple[tuple[Ints, ...], ...]
    start: Ints
    stop: Ints
    face: Ints
    triangles: Ints
    owner: Ints
    inside: Floats
    area: Floats


def partition(
    lines: Sequence[shapely.Geometry], web: Floats, points: Floats, *, thorough: bool
) -> Partition:
    """Node the lines and return the faces between them.

    Args:
        lines: Any line geometries [m].
        web: (k, 2, 2) segments that cross the lines, but never each other [m].
        points: (k, 2) further points that must have a vertex number [m].
        thorough: Whether to round the web together with the lines by snap rounding, which is
            always right but slow, or to weave it into them.

    Returns:
        The partition.
    """
    lines = [*lines, lines_of(web)] if thorough and len(web) else lines
    on_grid = shapely.transform(np.array(lines, dtype=object), lambda xy: np.rint(xy / GRID) * GRID)
    noded = shapely.union_all(on_grid, grid_size=GRID)
    strands = shapely.get_parts(noded)
    if len(web) and not thorough:
        strands = shapely.linestrings(_woven(segments_of(noded), web))
    faces = shapely.get_parts(shapely.polygonize(strands))
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
    start = number[: len(coords)]
    following = np.arange(1, len(coords) + 1)
    following[starts[1:] - 1] = starts[:-1]
    loops = [number[a:b] for a, b in pairwise(starts)]
    grouped: list[list[Ints]] = [[] for _ in faces]
    for loop, face in zip(loops, owner, strict=True):
        grouped[face].append(loop)
    triangles, owners, inside = _triangulate(vertices, grouped)
    return Partition(
        vertices,
        keys,
        tuple(tuple(item) for item in grouped),
        start,
        start[following],
        owner[ring_of],
        triangles,
        owners,
        inside,
        shapely.area(faces),
    )


def _woven(lines: Floats, web: Floats) -> Floats:
    """Node a web with lines that are noded already.

    Rounding a crossing to the grid bends both; so this goes on until nothing new is met.

    Args:
        lines: (m, 2, 2) on the grid [m].
        web: (k, 2, 2) on the grid, noded in itself [m].

    Returns:
        Segments (n, 2, 2), each once [m].
    """
    lines, web = (np.rint(item / GRID) * GRID for item in (lines, web))  # equal to the last bit
    for _ in range(ROUNDS):
        before = len(lines) + len(web)
        lines, web = _woven_once(lines, web)
        if len(lines) + len(web) == before:
            break
    return _each_once(np.concatenate([lines, web]))


def _woven_once(lines: Floats, web: Floats) -> tuple[Floats, Floats]:
    tree = shapely.STRtree(shapely.linestrings(lines))
    w, s = tree.query(shapely.linestrings(web), predicate="dwithin", distance=0.75 * GRID)
    a, b, p, q = web[w, 0], web[w, 1], lines[s, 0], lines[s, 1]
    d, e = b - a, q - p
    cross = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = ((p - a)[:, 0] * e[:, 1] - (p - a)[:, 1] * e[:, 0]) / cross
        u = ((p - a)[:, 0] * d[:, 1] - (p - a)[:, 1] * d[:, 0]) / cross
    meet = (t > 0.0) & (t < 1.0) & (u > 0.0) & (u < 1.0)
    places = np.rint((a[meet] + t[meet, None] * d[meet]) / GRID) * GRID
    on_web, on_lines = [(w[meet], places)], [(s[meet], places)]
    for end in (p, q):
        near = _beside(end, a, d)
        on_web.append((w[near], end[near]))
    for end in (a, b):
        near = _beside(end, p, e)
        on_lines.append((s[near], end[near]))
    return _each_once(_split(lines, on_lines)), _each_once(_split(web, on_web))


def _each_once(segments: Floats) -> Floats:
    """Drop repeated segments and those without length."""
    keys = np.sort(grid_keys(segments.reshape(-1, 2)).reshape(-1, 2), axis=1)
    order = np.lexsort((keys[:, 1], keys[:, 0]))
    keys = keys[order]
    fresh = np.ones(len(keys), dtype=bool)
    fresh[1:] = (keys[1:] != keys[:-1]).any(axis=1)
    kept: Floats = segments[order[fresh & (keys[:, 0] != keys[:, 1])]]
    return kept


def _beside(point: Floats, start: Floats, along: Floats) -> np.ndarray:
    """Whether points lie on the inside of segments, up to the grid."""
    away = point - start
    size = np.maximum(np.sum(along * along, axis=1), 1e-30)
    share = np.sum(away * along, axis=1) / size
    off = np.abs(away[:, 0] * along[:, 1] - away[:, 1] * along[:, 0]) / np.sqrt(size)
    inside: np.ndarray = (off < 0.75 * GRID) & (share > 0.0) & (share < 1.0)
    return inside


def _split(segments: Floats, places: list[tuple[Ints, Floats]]) -> Floats:
    """Split segments at points."""
    index = np.concatenate([item[0] for item in places])
    points = np.concatenate([item[1] for item in places])
    start, along = segments[index, 0], segments[index, 1] - segments[index, 0]
    share = np.sum((points - start) * along, axis=1) / np.sum(along * along, axis=1)
    count = np.arange(len(segments))
    owner = np.concatenate([count, index, count])
    at = np.concatenate([np.full(len(count), -1.0), share, np.full(len(count), 2.0)])
    xy = np.concatenate([segments[:, 0], points, segments[:, 1]])
    order = np.lexsort((at, owner))
    owner, xy = owner[order], xy[order]
    same = owner[1:] == owner[:-1]
    return np.stack([xy[:-1][same], xy[1:][same]], axis=1)


def _triangulate(vertices: Floats, faces: list[list[Ints]]) -> tuple[Ints, Ints, Floats]:
    count = np.array([len(rings[0]) if len(rings) == 1 else 0 for rings in faces])
    three, four = np.flatnonzero(count == 3), np.flatnonzero(count == 4)
    triangles = [np.array([faces[i][0] for i in three], dtype=np.int64).reshape(-1, 3)]
    quads = np.array([faces[i][0] for i in four], dtype=np.int64).reshape(-1, 4)
    fan = is_convex(vertices, quads)
    triangles += [quads[fan][:, [0, 1, 2]], quads[fan][:, [0, 2, 3]]]
    owners = [three, four[fan], four[fan]]
    for face in np.setdiff1d(np.arange(len(faces)), np.concatenate(owners)).tolist():
        found = triangulate(vertices, faces[face])
        triangles.append(found)
        owners.append(np.full(len(found), face))
    merged, owner = np.concatenate(triangles), np.concatenate(owners)
    a, b, c = (vertices[merged[:, i]] for i in range(3))
    area = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    largest = np.lexsort([area, owner])[np.searchsorted(np.sort(owner), np.arange(len(faces)),
                                                        side="right") - 1]  # fmt: skip
    return merged, owner, ((a + b + c) / 3.0)[largest]
