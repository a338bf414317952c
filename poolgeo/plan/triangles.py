"""Triangulation of one region of the plan, every vertex kept."""

from __future__ import annotations

import math
from collections.abc import Sequence

import manifold3d
import numpy as np
from mapbox_earcut import triangulate_float64

from ..arrays import Bools, Floats, Ints
from .tolerances import GRID, WELD

ROUNDS = 20
"""Most rounds of turning sides; needles beside needles take their turns."""

FLAT = GRID * GRID / 1e3
"""[m] A triangle lower than this has no area: of others on the grid none is so low."""

NEEDLE = 3.0 * WELD
"""[m] A triangle lower than this, on its longest side, is a needle along it: noding has moved a
vertex off a line. Where it can be, the side is turned."""


def triangulate(vertices: Floats, faces: Sequence[Sequence[Ints]], leans: np.ndarray) -> Ints:
    """Triangulate polygons with holes.

    Args:
        vertices: (n, 2) [m].
        faces: For each its rings of vertex numbers; outer anticlockwise, holes clockwise.
        leans: For each whether it slopes: then needles are turned, else only what has no area.

    Returns:
        (t, 3) vertex numbers, anticlockwise; all vertices are kept.
    """
    parts = [
        (_sure if sloping else _quick)(vertices, rings)
        for rings, sloping in zip(faces, leans.tolist(), strict=True)
    ]
    doubtful = leans.copy()
    for i in _wrong(vertices, faces, parts).tolist():
        parts[i], doubtful[i] = _sure(vertices, faces[i]), True
    owner = np.repeat(np.arange(len(faces)), [len(part) for part in parts])
    found = np.concatenate([np.zeros((0, 3), dtype=np.int64), *parts])
    least, asked = np.where(leans, NEEDLE, FLAT), np.flatnonzero(doubtful[owner])
    needles = asked[_needles(vertices[found[asked]], least[owner[asked]])]
    for face in sorted(set(owner[needles].tolist())):
        mine = owner == face
        found[mine] = _without_needles(vertices, found[mine], float(least[face]))
    return found


def _quick(vertices: Floats, rings: Sequence[Ints]) -> Ints:
    """Triangulate a polygon ten times as fast, with more needles, if it turns out well."""
    ids = np.concatenate(rings)
    ends = np.cumsum([len(ring) for ring in rings], dtype=np.uint32)
    found: Ints = ids[triangulate_float64(vertices[ids], ends).reshape(-1, 3)]
    return found


def _wrong(vertices: Floats, faces: Sequence[Sequence[Ints]], parts: Sequence[Ints]) -> Ints:
    """Return the faces of which the triangles (t, 3) are not what they ought to be.

    As many as keep every vertex, all anticlockwise, and together as large as the face.
    """
    count = len(faces)
    rings = [ring for face in faces for ring in face]
    of_ring = np.repeat(np.arange(count), [len(face) for face in faces])
    size = np.array([len(ring) for ring in rings], dtype=np.int64)
    many = np.array([len(part) for part in parts], dtype=np.int64)
    wrong = many != np.bincount(of_ring, size + 2, count) - 4
    owner = np.repeat(np.arange(count), many)
    areas = _doubled_areas(vertices[np.concatenate([np.zeros((0, 3), dtype=np.int64), *parts])])
    wrong[owner[areas < GRID * GRID / 2.0]] = True  # on the grid an area is none or larger
    whole = np.bincount(of_ring, [_doubled_area(vertices[ring]) for ring in rings], count)
    wrong |= np.abs(np.bincount(owner, areas, count) - whole) > GRID
    found: Ints = np.flatnonzero(wrong)
    return found


def _sure(vertices: Floats, rings: Sequence[Ints]) -> Ints:
    """Triangulate a polygon with few needles; its rings may touch in vertices."""
    ids = np.concatenate(rings)
    found: Ints = ids[manifold3d.triangulate([vertices[ring] for ring in rings], GRID / 4.0)]
    # triangles without area may join rings that touch
    places = vertices[found]
    real: Ints = found[(places != np.roll(places, 1, axis=1)).any(axis=2).all(axis=1)]
    return real


def is_convex(vertices: Floats, quads: Ints) -> Bools:
    """Tell which quadrilaterals (k, 4), anticlockwise, may be cut along their first diagonal."""
    p = vertices[quads]
    d = np.roll(p, -1, axis=1) - p
    e = np.roll(d, 1, axis=1)
    turns = e[..., 0] * d[..., 1] - e[..., 1] * d[..., 0]
    convex: Bools = np.all(turns > GRID * GRID, axis=1)
    return convex


def _without_needles(vertices: Floats, triangles: Ints, least: float) -> Ints:
    """Turn the longest side of needles, so that they do not stand on a border of their own."""
    found = triangles.copy()
    asked = np.arange(len(found))
    for _ in range(ROUNDS):
        needles = asked[_needles(vertices[found[asked]], least)]
        turned = {j for i in needles.tolist() for j in _turn(vertices, found, i)}
        if not turned:
            break
        asked = np.array(sorted(turned.union(needles.tolist())))
    return found


def _turn(vertices: Floats, triangles: Ints, i: int) -> tuple[int, ...]:
    """Turn the longest side of one triangle, in place, if that makes the smaller of two larger.

    Returns:
        The triangles that are new.
    """
    ids = triangles[i].tolist()
    points = vertices[ids].tolist()
    k = max(range(3), key=lambda j: math.dist(points[j], points[j - 2]))
    u, v, x = (ids[(k + j) % 3] for j in range(3))
    corners = triangles.ravel()
    behind = [
        (row, int(triangles[row, (j + 2) % 3]))
        for row, j in (divmod(at, 3) for at in np.flatnonzero(corners == v).tolist())
        if triangles[row, (j + 1) % 3] == u
    ]
    if not behind:
        return ()
    row, y = behind[0]
    turned = [(u, y, x), (y, v, x)]
    if y == x or _smallest(vertices, turned) <= _smallest(vertices, [(u, v, x), (v, u, y)]):
        return ()
    triangles[i], triangles[row] = turned
    return i, row


def _smallest(vertices: Floats, triangles: Sequence[tuple[int, int, int]]) -> float:
    """Return the least doubled area of triangles [m2]."""
    areas: list[float] = []
    for ids in triangles:
        (ax, ay), (bx, by), (cx, cy) = vertices[list(ids)].tolist()
        areas.append((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
    return min(areas)


def _doubled_area(ring: Floats) -> float:
    x, y = (ring - ring[0]).T
    return float(x[:-1] @ y[1:] - x[1:] @ y[:-1])


def _doubled_areas(corners: Floats) -> Floats:
    d, e = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    doubled: Floats = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    return doubled


def _needles(corners: Floats, least: float | Floats) -> Ints:
    """Return which triangles (k, 3, 2) are needles, the longest first."""
    sides = np.roll(corners, -1, axis=1) - corners
    longest = np.sqrt((sides[..., 0] ** 2 + sides[..., 1] ** 2).max(axis=1))
    height = _doubled_areas(corners) / longest
    low = np.flatnonzero(height < least)
    order: Ints = low[np.argsort(-longest[low])]
    return order
