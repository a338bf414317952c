"""Faces that are tiled in one grid, and where each of their triangles lies in it.

A **face** is what hangs together of one finish, lies or stands as a whole, and turns nowhere by
more than `FOLD`. The grid of what lies is drawn in plan: along and across the rows of the frame.
That of what stands runs along its foot and down from the top of the face: whole tiles at the top.

* Of a plane face along an axis of the frame the grid is that of the frame.
* Any other is unrolled, triangle by triangle, about its upright edges. It starts at its end: the
  right one, seen from the water. One that closes on itself starts anywhere, and the tile that
  closes it is not told.

On leaning walls both the way along and the height are those seen from above and from the side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..jointing.frame import Frame
from ..mesh import Mesh
from ..model import Model
from ..placed import SLANT
from ..plan.arrangement import components
from ..surface.bends import LEAST_AREA, turns

FOLD = 15.0
"""[deg] A surface that turns by more is folded: the grid starts anew."""

PARALLEL = np.radians(0.5)
"""[rad] A wall nearer to an axis of the frame than this runs along it."""


@dataclass(frozen=True)
class Grid:
    """Where triangles lie in the grids of their faces.

    Args:
        face: (m,) the face of each triangle; negative where nothing is tiled.
        lies: (m,) True where its grid lies, False where it stands.
        places: (m, 3, 2) of its corners: along the rows, and across them or up [m].
    """

    face: Ints
    lies: Bools
    places: Floats


def grid_of(model: Model, region: Ints, tiled: Bools, frame: Frame) -> Grid:
    """Lay the grids of tiled faces out.

    Args:
        model: The pool, with square edges.
        region: (m,) number of the finish of each triangle.
        tiled: (m,) which triangles are tiled.
        frame: Of the rows of tiles.

    Returns:
        Faces, and where their triangles lie.
    """
    mesh = model.surface
    lies = _lies(mesh)
    ends, (one, other) = mesh.pairs
    kept = np.flatnonzero(
        tiled[one] & tiled[other] & (region[one] == region[other]) & (lies[one] == lies[other])
    )
    ends, one, other = ends[:, kept], one[kept], other[kept]
    angle, sound = turns(mesh, ends, np.stack([one, other]), model.lies)
    same = (np.abs(angle - 180.0) <= FOLD) | ~sound
    ends, one, other = ends[:, same], one[same], other[same]
    label = components(len(mesh.triangles), one, other)
    face = np.where(tiled, label, -1)
    points = frame.coordinates(mesh.vertices)
    places = points[mesh.triangles][:, :, [0, 1]]
    upright = ~lies & tiled
    if upright.any():
        along, normal = _along(mesh, points)
        stands = upright[one]
        offset = _unrolled(points, along, ends[:, stands], one[stands], other[stands], upright)
        station = np.einsum("ijk,ik->ij", points[mesh.triangles][:, :, :2], along)
        station += offset[:, None]
        station = _from_start(mesh, points, label, normal, station, upright)
        places[upright, :, 0] = station[upright]
        height = points[mesh.triangles][:, :, 2]
        top = np.full(len(mesh.triangles), -np.inf)
        np.maximum.at(top, label, height.max(axis=1))
        places[upright, :, 1] = (height - top[label][:, None])[upright]
    return Grid(face, lies, places)


def _lies(mesh: Mesh) -> Bools:
    """Return which triangles (m,) lie; one that faces nowhere lies as most of its patch does."""
    normals, areas = np.abs(mesh.doubled_areas[:, 2]), 2.0 * mesh.areas
    count = len(mesh.patches)
    ups = np.bincount(mesh.patch, normals, count)
    patches = ups > SLANT * np.bincount(mesh.patch, areas, count)
    found: Bools = np.where(areas > LEAST_AREA, normals > SLANT * areas, patches[mesh.patch])
    return found


def _along(mesh: Mesh, points: Floats) -> tuple[Floats, Floats]:
    """Return unit vectors (m, 2) in the frame: along each triangle, and how it faces in plan."""
    a, b, c = points[mesh.triangles].transpose(1, 0, 2)
    normal = np.cross(b - a, c - a)[:, :2]
    size = np.linalg.norm(normal, axis=1)
    normal = (
        np.where(size[:, None] > LEAST_AREA, normal, 0.0) / np.maximum(size, LEAST_AREA)[:, None]
    )
    return np.column_stack([-normal[:, 1], normal[:, 0]]), normal


def _unrolled(
    points: Floats, along: Floats, ends: Ints, one: Ints, other: Ints, wanted: Bools
) -> Floats:
    """Return what is added to the way along each triangle (m,) so that it goes on over edges [m].

    Args:
        points: (n, 3) vertices in the frame [m].
        along: (m, 2) unit vectors.
        ends: (2, e) vertices of the edges.
        one: (e,) triangles on one side, and
        other: (e,) on the other.
        wanted: (m,) which triangles are asked for.
    """
    middle = (points[ends[0], :2] + points[ends[1], :2]) / 2.0
    step = np.einsum("ij,ij->i", middle, along[one] - along[other])
    order = np.argsort(np.concatenate([one, other]), kind="stable")
    start = np.concatenate([one, other])[order]
    beside = np.concatenate([other, one])[order].tolist()
    steps = np.concatenate([step, -step])[order].tolist()
    first = np.searchsorted(start, np.arange(len(along) + 1)).tolist()
    found = np.full(len(along), np.nan).tolist()
    seen = (~wanted).tolist()
    for seed in np.flatnonzero(wanted).tolist():
        if seen[seed]:
            continue
        seen[seed], found[seed], waiting = True, 0.0, [seed]
        for i in waiting:  # grows: the nearest come first
            for k in range(first[i], first[i + 1]):
                if not seen[beside[k]]:
                    seen[beside[k]] = True
                    found[beside[k]] = found[i] + steps[k]
                    waiting.append(beside[k])
    offset: Floats = np.nan_to_num(np.array(found))
    return offset


def _from_start(
    mesh: Mesh, points: Floats, label: Ints, normal: Floats, station: Floats, upright: Bools,
) -> Floats:  # fmt: skip
    """Return stations (m, 3) of corners that start at the end of each face, or are the frame's."""
    rows = np.flatnonzero(upright)
    _, face = np.unique(label[rows], return_inverse=True)
    face = face.ravel()
    count = int(face.max()) + 1
    weight = mesh.areas[rows]
    mean = np.column_stack([np.bincount(face, weight * normal[rows, k], count) for k in (0, 1)])
    size = np.linalg.norm(mean, axis=1)
    mean = mean / np.maximum(size, LEAST_AREA)[:, None]
    # a plane face: no triangle of a size faces elsewhere
    facing = np.einsum("ij,ij->i", mean[face], normal[rows])
    off = np.bincount(face, weight * (facing < np.cos(PARALLEL)), count)
    plane = off <= 1e-3 * np.bincount(face, weight, count)
    on_axis = plane & (np.abs(mean).min(axis=1) < np.sin(PARALLEL))
    least = np.full(count, np.inf)
    np.minimum.at(least, face, station[rows].min(axis=1))
    found = station.copy()
    found[rows] -= least[face, None]
    axis = np.abs(mean).argmin(axis=1)[face]  # a face that looks along y runs along x
    own = points[mesh.triangles[rows]][np.arange(len(rows)), :, axis]
    found[rows] = np.where(on_axis[face, None], own, found[rows])
    return found
