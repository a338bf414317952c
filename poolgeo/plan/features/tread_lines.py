"""The lines of a tread: where the next one stands on it, and where one steps down from it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from ...arrays import Floats
from ..layers import Layer
from ..tolerances import WELD
from .wall_lines import CROWD

SAME_LINE = 3.0 * WELD
"""[m] A riser's border that runs nearer than this to its tread's is a flank of both: rounding has
moved them apart."""

ASIDE = math.cos(math.radians(45.0))
"""[-] Of treads whose sides are not known, a border that leaves the end of a riser more squarely
than this is one; the cove ends on it. One that leaves it flatter is a nosing that runs out."""

BESIDE = 1e-4
"""[m] On which side of a riser its tread lies is asked this near to it."""


def feet_on(
    deeper: Layer, higher: Layer, region: shapely.Geometry, least: float
) -> list[shapely.LineString]:
    """Return the lines on which a tread stands on the deeper one, that on their left; no flanks.

    Args:
        deeper: The tread below.
        higher: The one above it.
        region: What shows of the tread below.
        least: Shorter ones are none [m].
    """
    border = shapely.boundary(higher.region)
    flanks = shapely.buffer(shapely.boundary(deeper.region), SAME_LINE, quad_segs=1)
    corners = shapely.get_coordinates(border)
    found = []
    for part in shapely.get_parts(shapely.line_merge(shapely.difference(border, flanks))):
        points = shapely.get_coordinates(part)
        for end, inner in ((0, 1), (-1, -2)):
            points[end] = _corner_ahead(points[inner], points[end], corners)
        line = shapely.remove_repeated_points(shapely.LineString(points), CROWD)
        if line.length >= max(least, CROWD):
            found.append(_with_tread_left(line, region))
    return found


def _corner_ahead(start: Floats, stop: Floats, corners: Floats) -> Floats:
    """Return the corner, straight on, from which a buffer of `SAME_LINE` has pushed a line off."""
    along = (stop - start) / np.hypot(*(stop - start))
    away = corners - stop
    ahead = away @ along
    off = np.abs(away[:, 0] * along[1] - away[:, 1] * along[0])
    near = np.flatnonzero((ahead > 0.0) & (ahead < 4.0 * SAME_LINE) & (off < WELD))
    if not len(near):
        return stop
    found: Floats = corners[near[np.argmin(off[near])]]
    return found


def _with_tread_left(foot: shapely.LineString, region: shapely.Geometry) -> shapely.LineString:
    """Return the foot of a riser with the tread on its left."""
    points = shapely.get_coordinates(foot)
    d = points[1] - points[0]
    left = np.array([-d[1], d[0]]) / np.hypot(*d) * BESIDE
    on_left = shapely.contains_xy(region, *((points[0] + points[1]) / 2.0 + left))
    return foot if on_left else shapely.reverse(foot)


def nosing_of(
    deeper: Layer, higher: Layer, walls: shapely.Geometry, feet: Sequence[shapely.LineString]
) -> shapely.Geometry:
    """Return the lines over which one steps down from a tread: no walls, and none of its sides.

    Args:
        deeper: The tread.
        higher: The one above it.
        walls: What lies at the pool's walls.
        feet: The lines on which the higher one stands on it, the tread on their left.
    """
    others = [walls, shapely.buffer(shapely.boundary(higher.region), SAME_LINE, quad_segs=1)]
    if deeper.flanks is not None:
        sides = shapely.multilinestrings(shapely.linestrings(deeper.flanks))
        others.append(shapely.buffer(sides, SAME_LINE, quad_segs=1))
    front = shapely.difference(shapely.boundary(deeper.region), shapely.union_all(others))
    lines = [
        line
        for line in shapely.get_parts(shapely.line_merge(front))
        if line.geom_type == "LineString"
    ]
    for foot in feet if deeper.flanks is None else ():
        points = shapely.get_coordinates(foot)
        for end, inner in ((0, 1), (-1, -2)):
            along = (points[end] - points[inner]) / np.hypot(*(points[end] - points[inner]))
            left = np.array([-along[1], along[0]]) * (1.0 if end else -1.0)
            lines = [part for line in lines for part in _without_side(line, points[end], left)]
    return shapely.MultiLineString(lines)


def _without_side(
    line: shapely.LineString, end: Floats, left: Floats
) -> Iterator[shapely.LineString]:
    """Yield a line, less how far it leaves the end of a foot squarely enough."""
    points = shapely.get_coordinates(line)
    for _ in range(2):
        if np.hypot(*(points[0] - end)) < 4.0 * SAME_LINE:
            steps = np.diff(points, axis=0)
            goes_on = steps @ left > ASIDE * np.hypot(*steps.T)
            points = points[int(np.argmin(np.append(goes_on, False))) :]
        points = points[::-1]
        if len(points) < 2:
            return
    yield shapely.LineString(points)
