"""Plan shapes: what overlay operations leave behind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from .curves import turn_between
from .tolerances import GRID, WELD

SHARPEST = 0.05
"""[-] A parallel's vertex stands off its line at most by the inverse of this times its distance."""

SMOOTH = 1.0 - 1e-4
"""[-] Cosine of half a turn above which a vertex is no corner: 1.6 degrees."""

MEETING = 8
"""Steps of Newton's method in which parallels of arcs meet."""


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


def sides_across(above: Bools) -> tuple[Ints, Ints]:
    """Return the sides of triangles on which a line runs through them.

    Args:
        above: (t, 3) which corners lie on one side of it; some, not all of them.

    Returns:
        (t,) the corner that is alone on its side, and (2, t) the others.
    """
    lone = above.sum(axis=1) == 1
    apex = np.argmax(above == lone[:, None], axis=1)
    return apex, np.stack([(apex + 1) % 3, (apex + 2) % 3])


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


def parallel_arcs(
    points: Floats, before: Floats, after: Floats, off: float
) -> tuple[Floats, Floats]:
    """Move the vertices of a line of chords of arcs so that its arcs run parallel.

    In a corner towards which they move, two parallels cross before their ends. In the others each
    goes on straight to where they meet, as in `parallel`.

    Args:
        points: (k, 2); a closed line may repeat its first [m].
        before: (k, 2) unit normals of the curve before each vertex, to the left.
        after: (k, 2) and after it.
        off: How far, along the normals [m].

    Returns:
        As of `parallel`.
    """
    moved, half_turn = parallel(points, before, after, off)
    crossing = off * (before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]) > 0.0
    corners = np.flatnonzero(crossing & (half_turn > SHARPEST) & (half_turn < SMOOTH))
    if not off or not len(corners):
        return moved, half_turn
    count = len(points) - int(np.array_equal(points[0], points[-1]))
    arcs = []
    for first, normal in ((corners - 1) % count, before), (corners % count, after):
        a, b = after[first], before[(first + 1) % len(points)]
        chord = points[(first + 1) % len(points)] - points[first]
        bend = turn_between(a, b)
        arcs.append((normal[corners], 2.0 * np.sin(bend / 2.0) / np.hypot(*chord.T)))
    place, start = points[corners], moved[corners]
    x = start.copy()
    for _ in range(MEETING):
        to = x - place
        (a, b), (c, d) = (_left_of_arc(to, *arc) for arc in arcs)
        a, c = a - off, c - off
        det = b[:, 0] * d[:, 1] - b[:, 1] * d[:, 0]
        move = np.column_stack([a * d[:, 1] - c * b[:, 1], c * b[:, 0] - a * d[:, 0]])
        x -= move / np.where(det == 0.0, 1.0, det)[:, None]
    near = np.hypot(*(x - start).T) < abs(off) / 2.0
    moved[corners] = np.where(near[:, None], x, start)
    return moved, half_turn


def up_to_folds(near: Floats, far: Floats) -> tuple[Floats, Bools, Floats]:
    """Return what chords of a line (n, 2) sweep over on the way to another, until it folds.

    Returns:
        (k, 4, 2) quadrangles [m], (k,) whether the sides of each cross, and (k, 2) where they do:
        then the last two corners.
    """
    a, b, c, d = near[:-1], near[1:], far[1:], far[:-1]
    folds, share, _ = crossings(a, d - a, b, c - b)
    tip = a + np.where(folds, share, 0.0)[:, None] * (d - a)
    ends = (np.where(folds[:, None], tip, item) for item in (c, d))
    return np.stack([a, b, *ends], axis=1), folds, tip


def swept(points: Floats, moved: Floats) -> shapely.Geometry:
    """Return what lies between a line and a parallel of it, which may fold.

    Each chord sweeps a quadrangle. Where the parallel folds, because the line is curved more
    tightly than it is far off, the sides of one cross: then it is what lies before they do.

    Args:
        points: (k, 2) vertices of the line; a closed one repeats its first [m].
        moved: (k, 2) where each goes [m].

    Returns:
        A polygon, or several where the line has places without any.
    """
    quads, _, _ = up_to_folds(points, moved)
    x, y = np.moveaxis(quads - quads[:, :1], 2, 0)
    areas = np.sum(x * np.roll(y, -1, axis=1) - y * np.roll(x, -1, axis=1), axis=1)
    return joined(shapely.polygons(quads[areas * areas.sum() > 0.0]))


def joined(pieces: np.ndarray) -> shapely.Geometry:
    """Return the union of polygons (k,) that share sides, without cracks between neighbours."""
    whole = shapely.union_all(pieces, grid_size=GRID)
    for by in (WELD, -WELD):  # rounding leaves cracks
        whole = shapely.buffer(whole, by, join_style="mitre", mitre_limit=10.0)
    # a buffer so narrow may touch itself
    return polygons_only(shapely.make_valid(whole, method="structure", keep_collapsed=False))


def _left_of_arc(to: Floats, normal: Floats, curvature: Floats) -> tuple[Floats, Floats]:
    """Return how far left of an arc points lie (k,) [m], and the gradient of that (k, 2).

    Args:
        to: (k, 2) them, from a point of the arc [m].
        normal: (k, 2) its left unit normal there.
        curvature: (k,) [1/m], above 0 where it turns left.
    """
    left, square = np.sum(to * normal, axis=1), np.sum(to**2, axis=1)
    reach = np.sqrt(np.maximum(1.0 - 2.0 * curvature * left + curvature**2 * square, 1e-9))
    gradient = (normal - curvature[:, None] * to) / reach[:, None]
    return (2.0 * left - curvature * square) / (1.0 + reach), gradient
