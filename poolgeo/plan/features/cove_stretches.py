"""Coves that change along the wall: stretches with a radius of their own, or with none.

The wall lines are cut where the radius changes. Each part is lofted by itself and runs on beyond
an inside corner into the next wall; where two parts meet the higher shows. On a wall or at an
outside corner a part ends square to the wall, in an upright face.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..canal import Size
from ..curves import Floats
from ..ring import turns_of
from ..shapes import nearest_on
from ..stretch import Stretch, curve_point_at
from ..strips import WallLine
from ..tolerances import SHARP_TURN
from .bench import stretch_on
from .site import Site

Ints = np.ndarray

ON_WALL = 1e-4
"""[m] A line nearer to the outline than this lies on it."""

BASE, NONE = 0, -1
"""Number of the cove's own radius, and of no cove."""


@dataclass(frozen=True)
class Course:
    """A part of a wall line along which one radius holds.

    Args:
        line: The part, run on beyond inside corners.
        size: Of the ball.
        run_on: How far it runs on at its start and at its end [m].
    """

    line: WallLine
    size: Size
    run_on: tuple[float, float]


@dataclass(frozen=True)
class Plan:
    """Where along the outline which radius holds.

    Args:
        site: The body of water, with vertices where the radius changes.
        stretches: In the order of the file; of two that overlap the later holds.
        sizes: The cove's own radius, and that of each stretch, None where it has none.
    """

    site: Site
    stretches: tuple[Stretch, ...]
    sizes: tuple[Size | None, ...]


def cove_plan(site: Site, cove: schema.Cove, size: Size, key: Key) -> Plan:
    """Return where which radius holds.

    Args:
        site: The body of water.
        cove: From the pool file.
        size: Its own radius.
        key: Its key.
    """
    stretches = [
        stretch_on(site, item.start, item.end, (*key, "stretches", i))
        for i, item in enumerate(cove.stretches)
    ]
    ends = [at for item in stretches for at in (item.start, item.end) if at is not None]
    points = np.array([curve_point_at(site.ring, at) for at in ends]).reshape(-1, 2)
    tree = shapely.STRtree(shapely.points(site.ring.points))
    known = tree.query(shapely.points(points), predicate="dwithin", distance=ON_WALL)[0]
    fresh = np.delete(points, np.unique(known), axis=0)
    ring = site.ring.with_points(fresh) if len(fresh) else site.ring
    sizes = [Size(item.radius) if item.radius > 0.0 else None for item in cove.stretches]
    return Plan(replace(site, ring=ring), tuple(stretches), (size, *sizes))


def courses(plan: Plan, lines: Sequence[WallLine]) -> list[Course]:
    """Cut wall lines where the radius changes.

    Args:
        plan: Where which radius holds.
        lines: Closed, water on the left.

    Returns:
        The parts that have a cove.
    """
    return [item for line in lines for item in _courses(plan, line)]


def _courses(plan: Plan, line: WallLine) -> Iterator[Course]:
    number = _numbers(plan, line.points)
    turns = turns_of(line.points)
    begins = np.flatnonzero(number != np.roll(number, 1))
    count = len(number)
    for k, first in enumerate(begins.tolist()):
        last = begins[(k + 1) % len(begins)]
        size = plan.sizes[number[first]] if number[first] != NONE else None
        if size is None:
            continue
        steps = (last - first) % count or count
        ids = (first + np.arange(steps + 1)) % count
        yield _course(line, ids, turns, size)


def _course(line: WallLine, ids: Ints, turns: Floats, size: Size) -> Course:
    """Return a part of a line, run on beyond inside corners at its ends."""
    points, normals = line.points[ids], line.normals[ids].copy()
    run_on = []
    for end, inner in ((0, 1), (-1, -2)):
        turn = float(turns[ids[end]])
        reach = 0.0
        if turn > SHARP_TURN:
            reach = size.largest * (1.0 + math.tan(turn / 2.0))
            out = points[end] - points[inner]
            extra = (points[end] + reach * out / np.hypot(*out))[None]
            unknown = np.full((1, 2), np.nan)
            points = np.vstack([extra, points] if end == 0 else [points, extra])
            normals = np.vstack([unknown, normals] if end == 0 else [normals, unknown])
        run_on.append(reach)
    return Course(WallLine(points, normals), size, (run_on[0], run_on[1]))


def _numbers(plan: Plan, points: Floats) -> Ints:
    """Return which radius holds along each step (n,) of a closed line."""
    middles = (points + np.roll(points, -1, axis=0)) / 2.0
    ring = plan.site.ring
    edge, share, away = nearest_on(ring.points, middles)
    station = ring.stations[edge] + share * ring.lengths[edge]
    found = np.full(len(points), BASE)
    sag = plan.site.tolerance + ON_WALL
    for k, item in enumerate(plan.stretches, 1):
        if item.start is None or item.end is None:
            inside = np.ones(len(points), dtype=bool)
        else:
            inside = (station - item.start) % ring.perimeter < item.length
        found[inside & (away < sag)] = k
    numbers = np.array([BASE if size is not None else NONE for size in plan.sizes])
    return np.where(numbers[found] == NONE, NONE, found)
