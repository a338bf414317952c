"""Labels of the plan: numbers of runs, fittings and joints, depths, the set-out origin."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from ..design.lengths import Units, format_length
from ..jointing.rows import FinishJoints, JointKind
from ..model import Spot
from ..quantities import CoveRun, JointRun, Run
from . import contents
from .contents import Content
from .labels import Label
from .measuring import says
from .plan_lines import Place, Projection
from .positions import Position, along, around, text_width, upright
from .radii import ArcRadius
from .symbols import Insert

ABOVE = 5e-4
"""[m] What is less above the water is at its level."""

BESIDE = 8.0
"""Depths this near to each other, in text heights, are read together."""

RANKS = 5
"""Places on either side of an arc at which its radius may stand."""

Wanted = tuple[Content, Label]
"""A label, and the content that it is part of."""


def depth_text(depth: float, units: Units) -> str:
    """Return a depth as drawings write it: what stands above the water has a plus.

    Example:
        >>> depth_text(1.2, "m"), depth_text(-0.1, "m")
        ('1.200 m', '+0.100 m')
    """
    return f"+{format_length(-depth, units)}" if depth < -ABOVE else format_length(depth, units)


def told_once(spots: Iterable[Spot], text: float, units: Units) -> list[Spot]:
    """Return the spots that say what none beside them says, as the other side of a break does.

    Args:
        spots: In the order in which they are kept.
        text: Height of text [m].
        units: That depths are written in.
    """
    found: list[Spot] = []
    for spot in spots:
        same = [item for item in found if item.body == spot.body
                and depth_text(item.depth, units) == depth_text(spot.depth, units)]  # fmt: skip
        if not any(math.dist(item.point[:2], spot.point[:2]) < BESIDE * text for item in same):
            found.append(spot)
    return found


def depths(
    spots: Iterable[Spot], projection: Projection, height: float, units: Units
) -> Iterator[Wanted]:
    """Give the depths at spots."""
    for spot in spots:
        text = depth_text(spot.depth, units)
        positions = tuple(around(projection.place(spot.point), text_width(text, height), height))
        yield contents.DEPTHS, Label(text, positions)


def fitting_numbers(symbols: Iterable[Insert], height: float) -> Iterator[Wanted]:
    """Number the fittings; those above each other share a label."""
    numbers: dict[Place, list[str]] = defaultdict(list)
    for item in symbols:
        numbers[item.place].append(item.texts["NUMBER"])
    for place, names in numbers.items():
        text = ", ".join(names)
        yield (
            contents.FITTING_NUMBERS,
            Label(text, tuple(around(place, text_width(text, height), height))),
        )


def standing_numbers(
    runs: Iterable[Run | CoveRun], projection: Projection, height: float
) -> Iterator[Wanted]:
    """Number the vertical runs; those that stand at one place share a label."""
    numbers: dict[Place, list[str]] = defaultdict(list)
    for run in runs:
        numbers[projection.place(run.points[0])].append(run.number)
    for place, names in numbers.items():
        text = ", ".join(names)
        positions = tuple(around(place, text_width(text, height), height))
        yield contents.NUMBERS, Label(text, positions)


def lying_numbers(
    runs: Iterable[Run | CoveRun | JointRun],
    projection: Projection,
    height: float,
    content: Content = contents.NUMBERS,
) -> Iterator[Wanted]:
    """Number the other runs, short ones first: they have the least room."""
    found = [(line, run.number) for run in runs if (line := projection.line(run.points))]
    for line, number in sorted(found, key=lambda item: item[0].length):
        positions = tuple(along(line, text_width(number, height), height))
        yield content, Label(number, positions)


def origin(
    joints: FinishJoints | None, projection: Projection, height: float, units: Units
) -> Iterator[Wanted]:
    """Name the set-out origin."""
    if joints is not None:
        x, y = (format_length(value, units) for value in joints.origin)
        text = f"Set-out origin {x}, {y}"
        place = projection.place(joints.origin)
        yield contents.SET_OUT, Label(text, tuple(around(place, text_width(text, height), height)))


def named_runs(joints: FinishJoints | None, *kinds: JointKind) -> list[JointRun]:
    """Return the longest stretch of each joint of some kinds, under the number of the joint."""
    found = () if joints is None else joints.of_kind(*kinds)
    return [
        replace(max(joint.runs, key=_in_plan), number=joint.number)
        for joint in found if joint.runs
    ]  # fmt: skip


def _in_plan(run: JointRun) -> float:
    """Return the length of a run in plan [m]."""
    return float(np.hypot(*np.diff(run.points[:, :2], axis=0).T).sum())


def radius_label(arc: ArcRadius, projection: Projection, height: float, units: Units) -> Label:
    """Give a radius: on the line from the centre through the arc, inside it or beyond."""
    text = f"R{says(arc.radius, units)}"
    (x, y), (u, v) = projection.place(arc.at), projection.place(arc.centre)
    far = math.dist((x, y), (u, v)) or 1.0
    way = (x - u) / far, (y - v) / far
    angle = upright(math.degrees(math.atan2(way[1], way[0])))
    half = text_width(text, height) / 2.0
    found = []
    for rank in range(RANKS):
        off = half + (1.0 + 2.0 * rank) * height
        for side in (-1.0, 1.0):
            if side > 0.0 or off < far:
                place = x + side * off * way[0], y + side * off * way[1]
                found.append(Position(place, angle, 0.15 * rank + 0.05 * (side > 0.0)))
    return Label(text, tuple(found))
