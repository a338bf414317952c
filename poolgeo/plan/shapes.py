"""Plan shapes: what overlay operations leave behind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from .curves import Floats

SHARPEST = 0.05
"""[-] A parallel's vertex stands off its line at most by the inverse of this times its distance."""


def polygons_only(shape: shapely.Geometry) -> shapely.Geometry:
    """Drop the points and lines of a mixed result."""
    if shape.geom_type in ("Polygon", "MultiPolygon"):
        return shape
    parts = [item for item in shapely.get_parts(shape) if item.geom_type == "Polygon"]
    return shapely.MultiPolygon(parts)


def within(region: shapely.Geometry, water: shapely.Geometry) -> shapely.Geometry:
    """Return what of a region, valid or not, lies in a body's plan."""
    whole = region if region.is_valid else shapely.make_valid(region)
    return polygons_only(shapely.intersection(polygons_only(whole), water))


def part_at(shape: shapely.Geometry, xy: Floats) -> shapely.Geometry:
    """Return the polygon of a shape that holds a point or lies nearest to it."""
    parts = shapely.get_parts(shape)
    if len(parts) < 2:
        return shape
    return parts[int(np.argmin(shapely.distance(parts, shapely.Point(xy))))]


def rings_of(regions: shapely.Geometry | Sequence[shapely.Geometry]) -> list[Floats]:
    """Return the closed rings (k, 2) on which a region, or several, end [m]."""
    rings = shapely.get_rings(shapely.get_parts(regions))
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    return np.split(xy, np.searchsorted(ring, np.arange(1, len(rings)))) if len(rings) else []


def borders_of(regions: Sequence[shapely.Geometry]) -> list[Floats]:
    """Return for each region the segments (k, 2, 2) of its border [m]."""
    parts, of_part = shapely.get_parts(np.array(regions), return_index=True)
    rings, of_ring = shapely.get_rings(parts, return_index=True)
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    inner = np.flatnonzero(ring[1:] == ring[:-1])
    segments = np.stack([xy[inner], xy[inner + 1]], axis=1)
    owner = of_part[of_ring[ring[inner]]]
    return np.split(segments, np.searchsorted(owner, np.arange(1, len(regions))))


def segments_of(lines: shapely.Geometry | np.ndarray) -> Floats:
    """Return the segments (k, 2, 2) of any line geometry, or array of them [m]."""
    parts = shapely.get_parts(shapely.get_parts(lines))
    coords, index = shapely.get_coordinates(parts, return_index=True)
    same = index[1:] == index[:-1]
    return np.stack([coords[:-1][same], coords[1:][same]], axis=1)


def lines_of(segments: Floats) -> shapely.Geometry:
    """Return segments (k, 2, 2) as one line geometry [m]."""
    lines: shapely.Geometry = shapely.multilinestrings(shapely.linestrings(segments))
    return lines


def crossings(a: Floats, d: Floats, p: Floats, e: Floats) -> tuple[np.ndarray, Floats, Floats]:
    """Find which segments cross their partners, ends not counted.

    Args:
        a: (k, 2) where each segment starts [m].
        d: (k, 2) from there to its end [m].
        p: (k, 2) where its partner starts [m].
        e: (k, 2) from there to the partner's end [m].

    Returns:
        (k,) whether they cross, and (k,) the shares of the segment and of its partner there.
    """
    cross = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    w = p - a
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (w[:, 0] * e[:, 1] - w[:, 1] * e[:, 0]) / cross
        u = (w[:, 0] * d[:, 1] - w[:, 1] * d[:, 0]) / cross
    return (t > 0.0) & (t < 1.0) & (u > 0.0) & (u < 1.0), t, u


def nearest_on(line: Floats, points: Floats) -> tuple[np.ndarray, Floats, Floats]:
    """Find the places of a closed line that are nearest to points.

    Args:
        line: (n, 2) its vertices, the first not repeated [m].
        points: (k, 2) [m].

    Returns:
        (k,) the edge of the line, (k,) how far along it as a share, and (k,) how far away [m].
    """
    share, away = feet_on(line, points)
    edge = np.argmin(away, axis=1)
    rows = np.arange(len(points))
    return edge, share[rows, edge], away[rows, edge]


def feet_on(line: Floats, points: Floats) -> tuple[Floats, Floats]:
    """Find the place of each edge of a closed line that is nearest to each point.

    Args:
        line: (n, 2) its vertices, the first not repeated [m].
        points: (k, 2) [m].

    Returns:
        (k, n) how far along each edge it is as a share, and (k, n) how far away [m].
    """
    step = np.roll(line, -1, axis=0) - line
    x, y = (points[:, i, None] - line[:, i] for i in (0, 1))
    share = (x * step[:, 0] + y * step[:, 1]) / (step[:, 0] ** 2 + step[:, 1] ** 2)
    share = np.minimum(np.maximum(share, 0.0), 1.0)
    return share, np.hypot(x - share * step[:, 0], y - share * step[:, 1])


def parallel(points: Floats, before: Floats, after: Floats, off: float) -> tuple[Floats, Floats]:
    """Move the vertices of a line so that its steps run parallel.

    Args:
        points: (k, 2) [m].
        before: (k, 2) unit normals of what comes before each vertex.
        after: (k, 2) and of what comes after it.
        off: How far, along the normals [m].

    Returns:
        (k, 2) the vertices, and (k,) the cosine of half of each one's turn; where that is less
        than `SHARPEST` a vertex stays nearer.
    """
    middle = before + after
    middle /= np.hypot(*middle.T)[:, None]
    half_turn = np.sum(middle * before, axis=1)
    return points + off * middle / np.maximum(half_turn, SHARPEST)[:, None], half_turn
