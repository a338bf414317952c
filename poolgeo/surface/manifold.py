"""Parting a surface where it touches itself.

Two blocks of concrete can touch along one vertical line only (the corners of a bench and of a tread
that meet on the diagonal). Then four triangles share an edge. Parting gives each block vertices
of its own there, so that every edge has two triangles again.
"""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..errors import GeometryError
from ..mesh import Mesh
from ..plan.keys import pair_keys

THIN = 1e-9
"""[m] A triangle whose tip is nearer than this to an edge shows no direction round it."""


def closed(mesh: Mesh) -> Mesh:
    """Return a closed mesh without unused vertices, parted where it touches itself.

    Raises:
        GeometryError: It is not closed.
    """
    if _is_closed(mesh):
        return mesh.compact()
    mesh = mesh.compact()
    mesh = parted(mesh)
    if not _is_closed(mesh):
        raise GeometryError(_gap_in(mesh))
    return mesh


def _is_closed(mesh: Mesh) -> bool:
    """Return whether every edge is shared by two triangles: there are enough pairs, none twice."""
    (one, other), _ = mesh.pairs
    key = pair_keys(one, other, len(mesh.vertices))  # rising
    return 2 * len(key) == 3 * len(mesh.triangles) and bool((key[1:] != key[:-1]).all())


def _gap_in(mesh: Mesh) -> Floats:
    """Return a place (3,) at which an open surface is open [m]."""
    key = mesh.edge_keys()
    order = np.argsort(key, kind="stable")
    _, first, count = np.unique(key[order], return_index=True, return_counts=True)
    place: Floats = mesh.vertices[mesh.triangles.ravel()[order[first[count != 2][0]]]]
    return place


def parted(mesh: Mesh) -> Mesh:
    """Return a closed surface with every edge shared by two triangles, some vertices repeated.

    Args:
        mesh: Closed and consistently wound.
    """
    vertices, triangles, key = mesh.vertices, mesh.triangles, mesh.edge_keys()
    start, stop = triangles.ravel(), triangles[:, [1, 2, 0]].ravel()
    order = np.argsort(key, kind="stable")
    _, first, count = np.unique(key[order], return_index=True, return_counts=True)
    partner = np.arange(len(key))  # half-edge -> the one it is joined to
    pairs = first[count == 2]
    partner[order[pairs]], partner[order[pairs + 1]] = order[pairs + 1], order[pairs]
    for at, many in zip(first[count > 2], count[count > 2], strict=True):
        _pair_round(order[at : at + many], vertices, triangles, start, stop, partner)
    vertices, triangles = _split(vertices, triangles, partner)
    return Mesh(vertices, triangles, mesh.patch, mesh.patches)


def _pair_round(
    halves: Ints, vertices: Floats, triangles: Ints, start: Ints, stop: Ints, partner: Ints
) -> None:
    """Join the triangles round one edge two by two, across the concrete between them."""
    a, b = vertices[start[halves[0]]], vertices[stop[halves[0]]]
    axis = (b - a) / max(float(np.linalg.norm(b - a)), THIN)
    apex = vertices[triangles[halves // 3, (halves % 3 + 2) % 3]] - a
    flat = apex - (apex @ axis)[:, None] * axis
    reach = np.linalg.norm(flat, axis=1)
    first = int(np.argmax(reach > THIN))  # the first triangle that is not thin
    x = flat[first] / max(float(reach[first]), THIN)
    angle = np.arctan2(flat @ np.cross(axis, x), flat @ x) % (2.0 * np.pi)
    # a triangle that runs along the axis has its outside ahead (anticlockwise): concrete behind it
    ahead_is_outside = start[halves] == start[halves[0]]
    ring = np.argsort(angle, kind="stable")
    for i, here in enumerate(ring):
        before = ring[i - 1]
        if ahead_is_outside[here] and not ahead_is_outside[before]:
            partner[halves[here]], partner[halves[before]] = halves[before], halves[here]


def _split(vertices: Floats, triangles: Ints, partner: Ints) -> tuple[Floats, Ints]:
    """Give every fan of joined triangles round a vertex a vertex of its own.

    Half-edge h starts at corner h; its partner stops at another corner of the same fan.

    Returns:
        Vertices, some of them repeated, and triangles.
    """
    neighbour = (partner // 3) * 3 + (partner % 3 + 1) % 3
    fan_of = np.arange(triangles.size)  # corner -> the smallest corner known of its fan
    while True:
        lower = np.minimum(fan_of, fan_of[neighbour])
        np.minimum.at(lower, neighbour, lower)
        if np.array_equal(lower, fan_of):
            break
        fan_of = lower
    fans, number = np.unique(fan_of, return_inverse=True)
    return vertices[triangles.ravel()[fans]], number.reshape(-1, 3)
