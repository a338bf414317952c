"""Developed walls as views: cut into strips that fit a sheet, with the runs and their numbers."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from ..arrays import Floats
from ..design.lengths import Units
from ..quantities import JointRun, Run
from . import contents
from .contents import Content
from .developed import Development, Edge, is_between_walls
from .labels import Label, placed
from .measuring import running, strokes_of, texts_of
from .plan_lines import Drawn, Piece, Place, PlanLine, Projection, clipped, joined
from .positions import along, around, text_width
from .sheet import Plot
from .view import Ordinate, Text, View


@dataclass(frozen=True)
class Strip:
    """A part of a developed wall.

    Args:
        wall: The wall.
        start: Where it begins, along the outline, and
        end: where it ends [m].
        number: Of the strip, from 1 on.
        count: Of strips of that wall.
    """

    wall: Development
    start: float
    end: float
    number: int
    count: int

    def clipped(self, points: Floats) -> list[Floats]:
        """Return what of a polyline (k, 2) lies in it, wherever its turn about the pool began."""
        turns = [np.array([turn * self.wall.length, 0.0]) for turn in (-1.0, 0.0, 1.0)]
        found = [part for turn in turns for part in clipped(points + turn, self.start, self.end)]
        return [part for part in found if np.ptp(part, axis=0).max() > SHORT]

    def has(self, place: float) -> bool:
        """Tell whether a place along the outline is in it."""
        return self.start - SHORT <= place <= self.end + SHORT


GAP = 1.0
"""[m] Where no wall stands for longer, a strip ends."""

SHORT = 1e-6
"""[m] What is shorter is not drawn."""


def strips(walls: Sequence[Development], longest: float) -> Iterator[Strip]:
    """Cut developed walls into even strips, at their corners where there are some in reach.

    Args:
        walls: Developed.
        longest: That a strip may be [m].

    Yields:
        Strips, wall after wall.
    """
    for wall in walls:
        found = [
            ends for span in _spans(wall)
            for ends in pairwise((span[0], *_ends(wall, *span, longest)))
        ]  # fmt: skip
        for number, (start, end) in enumerate(found, 1):
            yield Strip(wall, start, end, number, len(found))


def _spans(wall: Development) -> list[tuple[float, float]]:
    """Return from where to where along an outline walls stand, with short gaps between them."""
    spans: list[tuple[float, float]] = []
    for start, end in sorted(
        (float(part[:, 0].min()), float(part[:, 0].max()))
        for rim in wall.rims for turn in (-1.0, 0.0, 1.0)
        for part in clipped(rim.points + np.array([turn * wall.length, 0.0]), 0.0, wall.length)
    ):  # fmt: skip
        if spans and start - spans[-1][1] < GAP:
            spans[-1] = spans[-1][0], max(spans[-1][1], end)
        else:
            spans.append((start, end))
    ends = [(max(start, 0.0), min(end, wall.length)) for start, end in spans]
    return [(start, end) for start, end in ends if end - start > SHORT]


def _ends(wall: Development, start: float, end: float, longest: float) -> Iterator[float]:
    """Yield where strips end: as few as will do, even but for a corner that is near.

    A cut is moved to a corner by half an even part at most, so that no part is a sliver.
    """
    at = start
    for left in range(math.ceil((end - start - SHORT) / longest), 1, -1):
        even = (end - at) / left
        wanted, reach = at + even, even / 2.0
        low = max(wanted - reach, end - (left - 1) * longest)
        high = min(wanted + reach, at + longest)
        corners = [place for place in wall.corners if low <= place <= high]
        at = min(corners, key=lambda place: abs(place - wanted), default=wanted)
        yield at
    yield end


def developed_view(strip: Strip, projection: Projection, plot: Plot, units: Units) -> View:
    """Lay a strip of a developed wall out.

    Args:
        strip: Of the wall.
        projection: To drawing units.
        plot: Scale and height of text.
        units: Of the pool file.

    Returns:
        The view; its places are along the outline from its first point, as seen from the water, and
        heights.
    """
    wall, height = strip.wall, projection.length(plot.text)
    lines = _lines(strip, projection)
    ordinates = list(_running(strip, projection, height, units))
    title = f"Walls of {wall.body} developed, seen from the water"
    if strip.count > 1:
        title += f", {strip.number} of {strip.count}"
    if wall.lean:
        title += "; heights are true, not up the slope"
    view = View(
        f"walls of {wall.body}" + (f" {strip.number}" if strip.count > 1 else ""),
        title, plot.ratio, plot.scale, height, lines,
        ordinates=ordinates, zero=(0.0, projection.length(wall.level)),
    )  # fmt: skip
    wanted = list(_labels(strip, projection, height))
    obstacles = [line for found in lines.values() for line in found]
    obstacles += strokes_of((), ordinates)
    taken = texts_of((), ordinates, height)
    positions = placed([label for _, label in wanted], obstacles, height, taken)
    texts = [
        Text(content, label.text, at)
        for (content, label), at in zip(wanted, positions, strict=True)
    ]
    return replace(view, texts=texts)


def _content(item: Edge) -> Content:
    if isinstance(item.run, Run):
        return contents.EDGE_CONTENTS[item.run.sense]
    return contents.JOINTS if isinstance(item.run, JointRun) else contents.COVE


def _all_lines(strip: Strip) -> Iterator[tuple[Content, Floats]]:
    """Yield every line with its content [m]."""
    wall = strip.wall
    level = np.array([[strip.start, wall.level], [strip.end, wall.level]])
    yield contents.WATER_LEVEL, level
    for rim in wall.rims:
        yield contents.WALL_LINES, rim.points
    corners = [
        float(edge.points[0, 0]) for edge in wall.edges
        if is_between_walls(edge.run) and np.ptp(edge.points[:, 0]) < SHORT
    ]  # fmt: skip
    for place in (*corners, strip.start, strip.end):
        yield from ((contents.WALL_LINES, line) for line in wall.upright(place))
    for edge in wall.edges:
        yield _content(edge), edge.points
    for stretch in wall.joints:
        is_across = stretch.joint.is_across
        yield contents.FINISH_JOINTS if is_across else contents.FINISH_EDGES, stretch.points
    for _, ring in wall.fittings:
        yield contents.FITTINGS, ring.points


def _lines(strip: Strip, projection: Projection) -> dict[Content, list[PlanLine]]:
    """Return the lines of a strip by their content, none of them twice."""
    drawn: dict[Content, Drawn] = defaultdict(Drawn)
    lines: dict[Content, list[PlanLine]] = defaultdict(list)
    ends: set[Piece] = set()
    for content, points in _all_lines(strip):
        for part in strip.clipped(points):
            if (line := projection.line(part)) is None:
                continue
            if content == contents.WALL_LINES:
                ends |= {(min(piece), max(piece)) for piece in line.pieces}
            else:
                lines[content] += drawn[content].fresh(line)
    lines[contents.WALL_LINES] = joined(ends)
    return {content: found for content, found in lines.items() if found}


def _labels(strip: Strip, projection: Projection, height: float) -> Iterator[tuple[Content, Label]]:
    """Number the runs, joints and fittings of a strip: runs that stand at one place together."""
    standing: dict[tuple[Content, Place], list[str]] = defaultdict(list)
    for edge in strip.wall.edges:
        content, number = contents.NUMBERS, edge.run.number
        if isinstance(edge.run, JointRun):
            content = contents.JOINT_NUMBERS
        parts = strip.clipped(edge.points)
        if not parts:
            continue
        line = projection.line(max(parts, key=lambda part: float(np.ptp(part[:, 0]))))
        if line is None:
            continue
        if np.ptp(edge.points[:, 0]) < SHORT:
            standing[content, line.points[0]].append(number)
        else:
            yield content, Label(number, tuple(along(line, text_width(number, height), height)))
    for (content, place), numbers in standing.items():
        text = ", ".join(numbers)
        yield content, Label(text, tuple(around(place, text_width(text, height), height)))
    yield from _finish_labels(strip, projection, height)
    for number, ring in strip.wall.fittings:
        if strip.has(float(ring.points[:, 0].mean())):
            place = projection.place(ring.points.mean(axis=0))
            label = Label(number, tuple(around(place, text_width(number, height), height)))
            yield contents.FITTING_NUMBERS, label


def _finish_labels(
    strip: Strip, projection: Projection, height: float
) -> Iterator[tuple[Content, Label]]:
    """Number the joints across the finish, each once where it crosses a strip."""
    seen: set[tuple[str, float]] = set()
    for stretch in strip.wall.joints:
        if not stretch.joint.is_across:
            continue
        for part in strip.clipped(stretch.points):
            number, key = stretch.joint.number, round(float(part[:, 0].mean()), 1)
            line = projection.line(part)
            if line is not None and (number, key) not in seen:
                seen.add((number, key))
                label = Label(number, tuple(along(line, text_width(number, height), height)))
                yield contents.FINISH_NUMBERS, label


def _running(
    strip: Strip, projection: Projection, height: float, units: Units
) -> Iterator[Ordinate]:
    """Yield places along the outline below, and levels from the water level on the right."""
    wall = strip.wall
    fittings = [(float(np.ptp(r.points[:, 0]) / 2 + r.points[:, 0].min()),
                 float(np.ptp(r.points[:, 1]) / 2 + r.points[:, 1].min()))
                for _, r in wall.fittings]  # fmt: skip
    joints = [
        float(item.points[:, 0].mean()) for item in wall.joints
        if item.joint.is_across and np.ptp(item.points[:, 0]) < SHORT
    ]  # fmt: skip
    at = [*wall.corners, *joints, *(place for place, _ in fittings)]
    places = [strip.start, strip.end, *(place for place in at if strip.has(place))]
    levels = [wall.low, wall.level, wall.high]
    levels += [level for place, level in fittings if strip.has(place)]
    yield from running(places, 0, 0.0, projection.length(wall.low), -1.0,
                       projection=projection, height=height, units=units)  # fmt: skip
    yield from running(levels, 1, wall.level, projection.length(strip.end), 1.0,
                       projection=projection, height=height, units=units)  # fmt: skip
