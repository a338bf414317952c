"""Where the foot of a riser has room for a cove: as far as the tread is as deep as the cove.

Treads by their outlines may taper, and winders run out to nothing at their pivot. Where a tread is
narrower than the cove that would lie on it, the cove ends, square to the riser, and the foot stays
sharp.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.ops import substring

from ...arrays import Bools, Floats
from ..rolled import WallLine
from ..tolerances import WELD

PACE = 0.25
"""[-] The room is looked at no further apart than this share of the radius."""

FAN = math.radians(15.0)
"""[rad] And in no larger steps about a riser's outside corner."""

INTO_WALLS = 2.0
"""[-] Radii that the cove of a flight from wall to wall runs on into the walls."""

PAST_SIDES = 0.25
"""[-] Radii that it runs on past a flight's sides and is cut there: where a curved riser ends it
stands square to a chord, and they to the curve."""

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

    @property
    def cut_ends(self) -> Floats:
        """Its ends (k, 2) at which the foot goes on [m]."""
        ends = shapely.get_coordinates(self.line)[[0, -1]]
        cut: Floats = ends[~np.array(self.own_ends)]
        return cut

    def wall_line(self, radius: float, *, has_sides: bool) -> WallLine:
        """Return it as a line for a cove that runs on beyond the foot's own ends.

        Args:
            radius: Of the cove [m].
            has_sides: Whether the flight ends in sides of its own, and not in walls.
        """
        points = shapely.get_coordinates(self.line)[: -1 if self.line.is_closed else None]
        line = WallLine(points, np.full_like(points, np.nan))
        if self.line.is_closed:
            return line
        beyond = radius * (PAST_SIDES if has_sides else INTO_WALLS)
        before, after = (beyond * own for own in self.own_ends)
        return line.run_on(before, after)


def roomy_parts(foot: shapely.LineString, nosing: shapely.Geometry, radius: float) -> list[Roomy]:
    """Return the parts of a foot over which a tread is as deep as a cove.

    Args:
        foot: The line, the tread on its left.
        nosing: Where that ends in front.
        radius: Of the cove [m].
    """
    shapely.prepare(nosing)
    line = foot
    at, facing, is_bad = _looked_at(line, nosing, radius)
    if not is_bad.any():
        return [Roomy(foot, (True, True))]
    if foot.is_closed:
        start = float(at[np.argmax(is_bad)])
        spans = (start, foot.length), (0.0, start)
        ahead, behind = (shapely.get_coordinates(substring(foot, *ends)) for ends in spans)
        line = shapely.LineString(np.vstack([ahead, behind[1:]]) if start else ahead)
        at, facing, is_bad = _looked_at(line, nosing, radius)
    edges = np.flatnonzero(is_bad[1:] != is_bad[:-1])
    low, high = at[edges], at[edges + 1]
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        places = shapely.get_coordinates(shapely.line_interpolate_point(line, middle))
        beyond = _too_narrow(places, facing[edges + 1], nosing, radius) != is_bad[edges]
        low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
    cuts = np.where(is_bad[edges], high, low).tolist()
    cuts = [0.0] * (not is_bad[0]) + cuts + [line.length] * (not is_bad[-1])
    found = []
    for first, last in zip(cuts[::2], cuts[1::2], strict=True):
        if last - first >= radius:
            own = (line is foot and first == 0.0, line is foot and last == line.length)
            found.append(Roomy(substring(line, first, last), own))
    return found


def _looked_at(
    line: shapely.LineString, nosing: shapely.Geometry, radius: float
) -> tuple[Floats, Floats, Bools]:
    """Return stations (k,) along a line [m], in order, which way one looks, and where it is narrow.

    Between two stations one looks as at the second.
    """
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
    return at[order], angle[order], _too_narrow(origin, angle, nosing, radius)[order]


def _too_narrow(origin: Floats, angle: Floats, nosing: shapely.Geometry, radius: float) -> Bools:
    """Return whether the nosing is nearer than a radius, from points (k, 2) in directions [rad]."""
    ends = origin + (radius - WELD) * np.column_stack([np.cos(angle), np.sin(angle)])
    found: Bools = shapely.intersects(nosing, shapely.linestrings(np.stack([origin, ends], axis=1)))
    return found
