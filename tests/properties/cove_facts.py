"""Facts about coves' lengths: none shows without one, and none is measured round its end."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import shapely

from poolgeo.model import Model
from poolgeo.plan.canal import Canal
from poolgeo.plan.slope import facets_of
from poolgeo.quantities import CoveRun, Takeoff

STEEP = 0.6
"""[-] A step that climbs more belongs to a section, where floors fall by less than half of that."""

SHARE = 0.5
"""[-] More of a radius of such steps are one: a whole section has twice as many."""

UPRIGHT = ("corner cove", "corner fillet")
"""Coves that lie on no floor."""

ON_WALL = 1e-4
"""[m] So near to an outline a line goes along it."""

CRUMB = 0.02
"""[m] Lines shorter than this are crumbs at the places where coves cross."""

CRUMBS = 1e-3
"""[m2] The cells of such crumbs."""


def _steepest(model: Model, ball: Canal) -> float:
    """Return the largest slope of the floor that a cove lies on [-]."""
    plan = shapely.box(*shapely.Polygon(model.outlines["pool", "water"]).buffer(1.0).bounds)
    planes = facets_of(ball.floor, plan)[1]
    return float(np.hypot(planes[:, 0], planes[:, 1]).max())


def _balls(model: Model, run: CoveRun) -> list[Canal]:
    """Return the balls of all coves of the kind of a run."""
    found = {
        id(ball): ball
        for patch, ball in model.coves.items()
        if (patch.body, patch.kind) == (run.body, run.kind)
    }
    return list(found.values())


def coves_are_measured_along_their_feet(model: Model, takeoff: Takeoff) -> None:
    """A cove's line climbs no more than its floor: the section in which it ends is none of it."""
    steepest: dict[tuple[str, str], float] = {}
    for run in takeoff.coves:
        if run.kind in UPRIGHT or run.length < CRUMB:
            continue
        like = run.body, run.kind
        if like not in steepest:
            steepest[like] = max(_steepest(model, ball) for ball in _balls(model, run))
        if steepest[like] > STEEP / 2.0:
            continue
        steps = np.diff(run.points, axis=0)
        ahead = np.hypot(steps[:, 0], steps[:, 1])
        is_steep = (np.abs(steps[:, 2]) > STEEP * ahead) & ~_along_wall(model, run)
        climbing = np.hypot(ahead, steps[:, 2])[is_steep].sum()
        assert climbing < SHARE * run.radius, run


def _along_wall(model: Model, run: CoveRun) -> np.ndarray:
    """Return which steps of a run go along an outline: round the tip of an island they may climb.

    There the ball goes farther than the line along the wall that it touches.
    """
    walls = shapely.union_all([shapely.LinearRing(ring) for ring in model.outlines.values()])
    on = shapely.dwithin(walls, shapely.points(run.points[:, :2]), ON_WALL)
    along: np.ndarray = on[:-1] & on[1:]
    return along


def _ends(run: CoveRun) -> list[tuple[float, ...]]:
    """Return the places where a run starts and ends; a closed one has each twice."""
    return [tuple(np.round(run.points[k], 6).tolist()) for k in (0, -1)]


def no_cove_shows_without_a_length(model: Model, takeoff: Takeoff) -> None:
    """Its area is no more than girth times length, and what corners and slanting ends add."""
    most: dict[tuple[str, str], float] = {}
    at = Counter(place for run in takeoff.coves for place in _ends(run))
    steepest: dict[tuple[str, str], tuple[float, float]] = {}
    for run in takeoff.coves:
        if run.kind in UPRIGHT:
            continue
        like = run.body, run.kind
        if like not in steepest:
            balls = _balls(model, run)
            angle = math.pi / 2.0 + max(math.atan(_steepest(model, ball)) for ball in balls)
            uneven = [ball.radius for ball in balls if not ball.is_even]
            steepest[like] = angle, max(uneven, default=0.0)
        angle, least = steepest[like]
        radius = max(run.radius, least)
        heading = np.arctan2(*np.diff(run.points[:, :2], axis=0).T[::-1])
        turns = np.abs(np.remainder(np.diff(heading) + np.pi, 2.0 * np.pi) - np.pi).sum()
        girth = radius * (2.0 * math.tan(angle / 2.0) if run.kind == "fillet" else angle)
        # what hides a cove may cut it aslant, up to 45 degrees each way
        slants = sum(at[place] == 1 for place in _ends(run)) / 2.0
        most[like] = most.get(like, CRUMBS) + girth * (run.length + (turns + slants) * radius)
    for like, size in most.items():
        found = sum(run.area for run in takeoff.coves if (run.body, run.kind) == like)
        assert found <= size * 1.001, (like, found, size)
