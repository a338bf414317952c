"""Where straight lines meet the surface: plumb lines from above, level ones out of the wall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh

EDGE = 1e-9
"""[m, -] A line that passes a triangle's edge nearer than this meets it: none slips between two."""

FACING = 1e-6
"""[-] Sine of the least angle between a triangle and a line that meets it."""


@dataclass(frozen=True)
class Hits:
    """What each line meets.

    Args:
        triangle: (k,) number of the triangle; -1 where it meets none.
        at: (k,) height, or how far along the line [m].
    """

    triangle: Ints
    at: Floats


def from_above(mesh: Mesh, places: Floats) -> Hits:
    """Return the highest upper side at each plan point (k, 2)."""
    size = 2.0 * mesh.areas
    rows = np.flatnonzero(mesh.doubled_areas[:, 2] > FACING * size)
    corners = mesh.vertices[mesh.triangles[rows]]
    low, high = corners[..., :2].min(axis=1) - EDGE, corners[..., :2].max(axis=1) + EDGE
    near = np.ones((len(places), len(rows)), dtype=bool)
    for i in (0, 1):
        near &= (places[:, i, None] >= low[:, i]) & (places[:, i, None] <= high[:, i])
    query, row = np.nonzero(near)
    weights, holds = _weights(corners[row, :, :2] - places[query, None])
    heights = np.einsum("ij,ij->i", weights, corners[row, :, 2])
    found = _first(query[holds], -heights[holds], rows[row[holds]], len(places))
    return Hits(found.triangle, -found.at)


def out_of_the_wall(
    mesh: Mesh, places: Floats, inward: Floats, heights: Floats, behind: float
) -> Hits:
    """Return where level lines come out of the concrete first.

    Args:
        mesh: The surface.
        places: (k, 2) plan points of the outline [m].
        inward: (k, 2) unit vectors into the water, in which the lines run.
        heights: (k,) heights of the lines [m].
        behind: How far behind the outline they start [m].

    Returns:
        The first triangle of each line that faces its way; distances are from the outline.
    """
    size = 2.0 * mesh.areas
    rows = np.flatnonzero(np.abs(mesh.doubled_areas[:, 2]) < size * (1.0 - FACING * FACING / 2.0))
    normals = mesh.doubled_areas[rows, :2] / size[rows, None]
    corners = mesh.vertices[mesh.triangles[rows]]
    low, high = corners.min(axis=1) - EDGE, corners.max(axis=1) + EDGE
    middle, half = (low + high)[:, :2] / 2.0, np.hypot(*(high - low)[:, :2].T) / 2.0
    near = (heights[:, None] >= low[:, 2]) & (heights[:, None] <= high[:, 2])
    side = np.column_stack([inward[:, 1], -inward[:, 0]])
    near &= np.abs(side @ middle.T - np.einsum("ij,ij->i", side, places)[:, None]) <= half
    near &= inward @ normals.T > FACING
    query, at_row = np.nonzero(near)
    row = rows[at_row]
    corners = mesh.vertices[mesh.triangles[row]]
    x, y = (corners[..., :2] - places[query, None]).transpose(2, 0, 1)
    a, b = inward[query, 0, None], inward[query, 1, None]
    beside, ahead = b * x - a * y, a * x + b * y
    section = np.stack([beside, corners[..., 2] - heights[query, None]], axis=2)
    weights, holds = _weights(section)
    at = np.einsum("ij,ij->i", weights, ahead)
    holds &= at >= -behind
    return _first(query[holds], at[holds], row[holds], len(places))


def _weights(corners: Floats) -> tuple[Floats, Bools]:
    """Return the origin's weights in plane triangles (p, 3, 2), and which of them hold it."""
    a, b, c = corners.transpose(1, 2, 0)
    parts = np.stack([_cross(b, c), _cross(c, a), _cross(a, b)])
    whole = parts.sum(axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        weights = (parts / whole).T
    return weights, (weights >= -EDGE).all(axis=1)


def _cross(one: Floats, other: Floats) -> Floats:
    found: Floats = one[0] * other[1] - one[1] * other[0]
    return found


def _first(query: Ints, at: Floats, triangle: Ints, count: int) -> Hits:
    """Return the least of each line's hits."""
    order = np.lexsort((triangle, np.round(at, 9), query))
    query, at, triangle = query[order], at[order], triangle[order]
    fresh = np.ones(len(query), dtype=bool)
    fresh[1:] = query[1:] != query[:-1]
    found, places = np.full(count, -1), np.full(count, np.nan)
    found[query[fresh]], places[query[fresh]] = triangle[fresh], at[fresh]
    return Hits(found, places)
