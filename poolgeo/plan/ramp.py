"""Facets of tops that slope along or across what they follow.

A top that falls **across** has a height for each distance from the line that it follows. Where
that turns, facets of its two sides meet in a mitre; where they overlap, the nearer side counts.
One that falls **along** has a height for each place along the line: it stays level across, and
is level in corners, where one of its two borders does not advance.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from ..arrays import Floats
from .curves import turn_between
from .envelope import envelope
from .ring import signed_area
from .shapes import crossings, parallel, up_to_folds
from .slope import LEAST, Slope, plane_of, slope_of
from .stretch import Baseline, rails
from .tolerances import GRID, OUTLINE_TURN, SHARP_TURN, WELD

FLUSH = 1e-7
"""[m] Four corners whose fourth lies nearer to the plane of the others are one facet."""

ADVANCE = 1e-6
"""[m] A border that goes on by less does not advance."""

THIN = 2.0 * WELD
"""[m] What sticks out by less, or is thinner, comes of rounding."""


class FoldedError(ValueError):
    """A top that falls along its line folds over itself.

    Args:
        place: (2,) where [m].
    """

    def __init__(self, place: Floats) -> None:
        self.place = (float(place[0]), float(place[1]))
        super().__init__(f"near ({self.place[0]:.3f}, {self.place[1]:.3f}) m")


def across(
    baseline: Baseline,
    offsets: Sequence[float],
    heights: Sequence[float],
    inside: shapely.Geometry | None = None,
) -> Slope:
    """Return a top with a height for each distance from a line.

    Args:
        baseline: What it follows.
        offsets: Distances, rising from 0, or falling from 0 on the other side of it [m].
        heights: The height at each; they all rise or all fall [m].
        inside: The plan of the top, of a line that has ends. Where one side of it reaches beyond an
            end, that end is the nearest place of the line. None for a closed line.
    """
    facets, planes = [], []
    every = [_lines(baseline, offsets)]
    if inside is not None:
        every += _ends(baseline, offsets, inside)
    for near, far, low, high in (
        (*pair, *levels)
        for lines in every
        for pair, levels in zip(pairwise(lines), pairwise(heights), strict=True)
    ):
        corners = np.stack([near[:-1], near[1:], far[1:], far[:-1]], axis=1)
        z = np.broadcast_to([low, low, high, high], corners.shape[:2])
        for item in _unfolded(np.concatenate([corners, z[..., None]], axis=2), offsets[-1]):
            for part in _flat(item):
                facets.append(shapely.Polygon(part[:, :2]))
                planes.append(plane_of(part[:3]))
    shapes = shapely.orient_polygons(np.array(facets))
    falls = heights[-1] < heights[0]
    highest, of_highest = envelope(shapes, np.array(planes), highest=falls)
    return slope_of(*_clipped(highest, of_highest, inside))


def _ends(
    baseline: Baseline, offsets: Sequence[float], inside: shapely.Geometry
) -> list[list[Floats]]:
    """Return lines as of `_lines` about the ends of a line, each sector that a plan reaches into.

    Without them a top would jump where the side that an end belongs to ends.
    """
    points, before, after = baseline
    reached = shapely.buffer(inside, -THIN, join_style="mitre")
    shapely.prepare(reached)
    turns = np.linspace(0.0, np.pi, int(np.ceil(np.pi / OUTLINE_TURN)) + 1)
    found = []
    for end, normal, way in ((points[0], after[0], turns[::-1]), (points[-1], before[-1], -turns)):
        angle = np.arctan2(normal[1], normal[0]) + way
        rays = np.column_stack([np.cos(angle), np.sin(angle)])
        far = end + offsets[-1] * rays
        near = np.broadcast_to(end, far[1:].shape)
        sectors = shapely.polygons(np.stack([near, far[:-1], far[1:]], axis=1))
        found += [
            [end + offset * rays[k : k + 2] for offset in offsets]
            for k in np.flatnonzero(shapely.intersects(reached, sectors)).tolist()
        ]
    return found


def _clipped(
    facets: np.ndarray, planes: Floats, inside: shapely.Geometry | None
) -> tuple[np.ndarray, Floats]:
    """Return what of facets (k,), and their planes (k, 3), lies inside; no slivers along it."""
    if inside is None:
        return facets, planes
    beyond = shapely.difference(facets, shapely.buffer(inside, THIN, join_style="mitre"))
    out = shapely.area(beyond) > LEAST
    parts, of = shapely.get_parts(shapely.intersection(facets[out], inside), return_index=True)
    thick = ~shapely.is_empty(shapely.buffer(parts, -THIN / 2.0))
    left = np.concatenate([facets[~out], parts[thick]])
    return left, np.concatenate([planes[~out], planes[out][of[thick]]])


def along(baseline: Baseline, width: float, first: float, last: float) -> Slope:
    """Return a top that falls evenly from the start of a line to its end.

    Args:
        baseline: What it follows.
        width: How wide the top is [m].
        first: Height at the start [m].
        last: Height at the end [m].

    Raises:
        FoldedError: The line turns more tightly than the top is wide.
    """
    near, far = rails(*_with_feet(*baseline, width), width)
    steps, on = np.diff(near, axis=0), np.diff(far, axis=0)
    back = np.sum(steps * on, axis=1) < -GRID
    if back.any():
        raise FoldedError(near[int(np.argmax(back))])
    for i in np.flatnonzero(np.hypot(*on.T) < ADVANCE).tolist():
        far[i + 1] = far[i]  # about one point, as where the line's radius is the width
    advance = np.minimum(np.hypot(*steps.T), np.hypot(*on.T))
    advance[advance < ADVANCE] = 0.0
    share = np.concatenate([[0.0], np.cumsum(advance)]) / advance.sum()
    z = first + share * (last - first)
    corners, _, _ = up_to_folds(near, far)
    heights = np.stack([z[:-1], z[1:], z[1:], z[:-1]], axis=1)
    # it turns sharply where it begins to fall, and where it ceases
    section = np.cumsum(np.diff(advance > 0.0, prepend=advance[0] > 0.0))
    facets, planes, of = [], [], []
    for k, item in enumerate(np.concatenate([corners, heights[..., None]], axis=2)):
        for part in _flat(item):
            facets.append(shapely.Polygon(part[:, :2]))
            planes.append(plane_of(part[:3]))
            of.append(section[k])
    shapes = shapely.orient_polygons(np.array(facets))
    whole = shapely.area(shapes) > GRID * ADVANCE
    return slope_of(shapes[whole], np.array(planes)[whole], np.array(of)[whole])


def _lines(baseline: Baseline, offsets: Sequence[float]) -> list[Floats]:
    """Return a line and its parallels; beyond the line (below 0) their corners are mitred."""
    points = baseline[0]
    if offsets[-1] < 0.0:
        return [parallel(*baseline, offset)[0] if offset else points for offset in offsets]
    near = rails(*baseline, offsets[-1])[0]
    return [rails(*baseline, offset)[1] if offset else near for offset in offsets]


def _unfolded(quads: Floats, side: float) -> list[Floats]:
    """Return quadrilaterals (k, 4, 3) that run the right way round on their side of the line.

    Of those that fold, what lies before the fold.
    """
    a, b, c, d = (quads[:, i, :2] for i in range(4))
    folds, t, u = crossings(a, d - a, b, c - b)
    found = []
    for i, item in enumerate(quads):
        corners = item
        if folds[i]:
            tip = item[0] + t[i] * (item[3] - item[0])
            tip[2] += (u[i] - t[i]) * (item[3, 2] - item[0, 2]) / 2.0
            corners = np.array([item[0], item[1], tip])
        if signed_area(corners[:, :2]) * np.sign(side) > LEAST:
            found.append(corners)
    return found


def _flat(item: Floats) -> list[Floats]:
    """Return a quadrilateral (4, 3) whole where it is flat, else as two triangles."""
    if len(item) == 3:
        return [item]
    triangles = [item[[0, 1, 2]], item[[0, 2, 3]]]
    real = [part for part in triangles if shapely.Polygon(part[:, :2]).area > LEAST]
    if len(real) < 2:
        return real
    plane = plane_of(item[:3])
    off = plane[0] * item[3, 0] + plane[1] * item[3, 1] + plane[2] - item[3, 2]
    return [item] if abs(off) < FLUSH else real


def _with_feet(
    points: Floats, before: Floats, after: Floats, width: float
) -> tuple[Floats, Floats, Floats]:
    """Add the feet of a parallel's inside corners to a line: between them the top is level."""
    turns = turn_between(before, after)
    inner, _ = parallel(points, before, after, width)
    at = np.flatnonzero(turns > SHARP_TURN)
    new = np.concatenate([inner[at] - width * before[at], inner[at] - width * after[at]])
    place = np.concatenate([at, at + 1])
    return (
        np.insert(points, place, new, axis=0),
        np.insert(before, place, np.concatenate([before[at], after[at]]), axis=0),
        np.insert(after, place, np.concatenate([before[at], after[at]]), axis=0),
    )
