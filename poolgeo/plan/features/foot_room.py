"""Where the foot of a riser has room for a cove: as far as the tread is as deep as the cove.

Treads by their outlines may taper, and winders run out to nothing at their pivot. Where a tread is
narrower than the cove that would lie on it, the cove ends, square to the riser, and the foot stays
sharp.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.ops import substring

from ...arrays import Floats, Ints
from ..layers import Layer
from ..tolerances import WELD

SAME_LINE = 3.0 * WELD
"""[m] A riser's border that runs nearer than this to its tread's is a flank of both: rounding has
moved them apart."""

ASIDE = math.cos(math.radians(45.0))
"""[-] Of treads whose sides are not known, a border that leaves the end of a riser more squarely
than this is one; the cove ends on it. One that leaves it flatter is a nosing that runs out."""

PACE = 0.25
"""[-] The room is looked at no further apart than this share of the radius."""

FAN = math.radians(15.0)
"""[rad] And in no larger steps about a riser's outside corner."""

HALVINGS = 40
"""Times that the place where the room ends is brought nearer."""


@dataclass(frozen=True)
class Roomy:
    """A part of a foot with room for a cove.

    Args:
        line: It, the tread on its left.
        own_ends: Whether it starts, and whether it ends, where the foot does.
    """

    line: shapely.LineString
    own_ends: tuple[bool, bool]


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


def roomy_parts(foot: shapely.LineString, nosing: shapely.Geometry, radius: float) -> list[Roomy]:
    """Return the parts of a foot over which a tread is as deep as a cove.

    Args:
        foot: The line, the tread on its left.
        nosing: Where that ends in front.
        radius: Of the cove [m].
    """
    shapely.prepare(nosing)
    line = foot
    at, is_bad = _looked_at(line, nosing, radius)
    if not is_bad.any():
        return [Roomy(foot, (True, True))]
    if foot.is_closed:
        start = float(at[np.argmax(is_bad)])
        spans = (start, foot.length), (0.0, start)
        ahead, behind = (shapely.get_coordinates(substring(foot, *ends)) for ends in spans)
        line = shapely.LineString(np.vstack([ahead, behind[1:]]) if start else ahead)
        at, is_bad = _looked_at(line, nosing, radius)
    edges = np.flatnonzero(is_bad[1:] != is_bad[:-1])
    cuts = [_cut(line, nosing, radius, at[i : i + 2], first_bad=bool(is_bad[i])) for i in edges]
    cuts = [0.0] * (not is_bad[0]) + cuts + [line.length] * (not is_bad[-1])
    found = []
    for first, last in zip(cuts[::2], cuts[1::2], strict=True):
        if last - first >= radius:
            own = (line is foot and first == 0.0, line is foot and last == line.length)
            found.append(Roomy(substring(line, first, last), own))
    return found


def _looked_at(
    line: shapely.LineString, nosing: shapely.Geometry, radius: float
) -> tuple[Floats, Ints]:
    """Return stations (k,) along a line [m], in order, and whether there is too little room."""
    points = shapely.get_coordinates(line)
    steps = np.diff(points, axis=0)
    lengths = np.hypot(*steps.T)
    starts = np.concatenate([[0.0], np.cumsum(lengths)])
    heading = np.arctan2(steps[:, 1], steps[:, 0])
    count = np.maximum(np.ceil(lengths / (PACE * radius)).astype(np.int64), 1) + 1
    edge = np.repeat(np.arange(len(steps)), count)
    share = np.concatenate([np.linspace(0.0, 1.0, k) for k in count.tolist()])
    turns = np.remainder(np.diff(heading) + np.pi, 2.0 * np.pi) - np.pi
    # about an outside corner the ball turns
    fans = np.where(turns < 0.0, np.ceil(-turns / FAN), 0.0).astype(np.int64)
    corner = np.repeat(np.arange(len(turns)), fans)
    part = np.concatenate([np.arange(k) / max(k, 1) for k in [0, *fans.tolist()]])
    at = np.concatenate([starts[edge] + share * lengths[edge], starts[corner + 1]])
    origin = np.concatenate([points[edge] + share[:, None] * steps[edge], points[corner + 1]])
    angle = np.concatenate([heading[edge], heading[corner] + part * turns[corner]]) + np.pi / 2.0
    order = np.argsort(at, kind="stable")
    return at[order], _too_narrow(origin, angle, nosing, radius)[order]


def _too_narrow(origin: Floats, angle: Floats, nosing: shapely.Geometry, radius: float) -> Ints:
    """Return whether the nosing is nearer than a radius, from points (k, 2) in directions [rad]."""
    ends = origin + (radius - WELD) * np.column_stack([np.cos(angle), np.sin(angle)])
    found: Ints = shapely.intersects(nosing, shapely.linestrings(np.stack([origin, ends], axis=1)))
    return found


def _cut(
    line: shapely.LineString,
    nosing: shapely.Geometry,
    radius: float,
    between: Floats,
    *,
    first_bad: bool,
) -> float:
    """Return the station between two at which the room ends or begins [m]."""
    points = shapely.get_coordinates(line)
    steps = np.diff(points, axis=0)
    starts = np.concatenate([[0.0], np.cumsum(np.hypot(*steps.T))])
    low, high = float(between[0]), float(between[1])
    edge = int(np.clip(np.searchsorted(starts, (low + high) / 2.0) - 1, 0, len(steps) - 1))
    angle = np.arctan2(steps[edge, 1], steps[edge, 0]) + np.pi / 2.0
    along = steps[edge] / np.hypot(*steps[edge])
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        place = points[edge] + (middle - starts[edge]) * along
        is_bad = bool(_too_narrow(place[None], np.array([angle]), nosing, radius)[0])
        low, high = (middle, high) if is_bad == first_bad else (low, middle)
    return high if first_bad else low
