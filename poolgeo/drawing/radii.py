"""Radii of the arcs of the outlines.

The arcs are those that the pool file draws, and corner coves, as far as an outline follows them. An
outline that the file does not draw, such as that of a basin along the pool's wall, is asked for its
own: vertices that follow each other on one circle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats
from ..design import schema
from ..errors import Key
from ..model import Model
from ..plan.curves import Arc, turn_between
from ..plan.outline import pieces_of
from ..plan.tolerances import CORNER
from .plan_lines import Place

ON = 1e-5
"""[m] A vertex nearer than this to an arc lies on it."""

ALIKE = 1e-3
"""[m] Radii, or centres, that differ by less are one."""

FEWEST = 4
"""Vertices that make an arc where the file has none."""

LEAST_SWEEP = math.radians(20.0)
"""[rad] Where the file has no arc, a shorter one may be a piece of another curve."""


@dataclass(frozen=True)
class ArcRadius:
    """The radius of an arc.

    Args:
        body: Of water, or the island, that the arc is an outline of.
        centre: Of the arc, in plan [m].
        at: The middle of what the outline follows of it [m].
        radius: [m].
    """

    body: str
    centre: Place
    at: Place
    radius: float


def radii_of(model: Model) -> list[ArcRadius]:
    """Return the radii of the outlines' arcs, each once for a body, the largest first.

    Args:
        model: The pool.
    """
    drawn = _arcs(model)
    by_hand = {"pool", *(name for (name, role) in model.outlines if role == "island")}
    by_hand |= {body.name for body in model.bodies if body.mark.startswith("S")}
    hidden = shapely.union_all([
        shapely.Polygon(model.outlines[body.name, "shell"])
        for body in model.bodies if body.mark.startswith("S")
    ])  # fmt: skip
    shapely.prepare(hidden)
    found = []
    for (name, role), outline in model.outlines.items():
        if role in {"water", "island", "hole"}:
            free = np.ones(len(outline), dtype=bool)
            if name == "pool":  # its outline ends at a spa
                free = ~shapely.contains_xy(hidden, outline)
            arcs = [*drawn, *([] if name in by_hand else _fitted(outline))]
            found += _once(_on(arcs, name, outline, free))
    return found


def _arcs(model: Model) -> list[Arc]:
    """Return all arcs that the pool file draws as outlines, and the corner coves."""
    pool = model.design.pool
    outlines: list[tuple[schema.Outline | None, Key]] = [(pool.outline, ("outline",))]
    outlines += [(item.outline, ("spas", k, "outline")) for k, item in enumerate(pool.spas)]
    outlines += [(item.outline, ("islands", k, "outline")) for k, item in enumerate(pool.islands)]
    outlines += [
        (item.basin.outline, ("overflows", k, "basin", "outline"))
        for k, item in enumerate(pool.overflows)
    ]
    found = [
        piece
        for outline, key in outlines if outline is not None
        for loop in pieces_of(outline, pool.tolerance, key)
        for piece in loop if isinstance(piece, Arc)
    ]  # fmt: skip
    return [*found, *(item.arc for item in model.rounds if not item.straight)]


def _on(arcs: Sequence[Arc], name: str, outline: Floats, free: Bools) -> Iterator[ArcRadius]:
    """Yield the arcs that an outline (n, 2) follows, where it is free (n,)."""
    for arc in arcs:
        ray = outline - arc.centre
        near = np.abs(np.hypot(*ray.T) - arc.radius) < ON
        sign = math.copysign(1.0, arc.sweep)
        slack = ON / arc.radius
        turn = (sign * (np.arctan2(ray[:, 1], ray[:, 0]) - arc.start) + slack) % math.tau - slack
        within = near & (turn < abs(arc.sweep) + slack)
        if within.sum() > 2 and (within & free).any():
            own = np.flatnonzero(within & free)
            middle = own[np.argsort(turn[own])[len(own) // 2]]
            yield ArcRadius(name, _place(arc.centre), _place(outline[middle]), arc.radius)


def _once(found: Iterator[ArcRadius]) -> list[ArcRadius]:
    """Return one arc of each radius, the largest first."""
    kept: list[ArcRadius] = []
    for item in sorted(found, key=lambda item: (-round(item.radius / ALIKE), item.at)):
        if not kept or kept[-1].radius - item.radius > ALIKE:
            kept.append(item)
    return kept


def _fitted(outline: Floats) -> Iterator[Arc]:
    """Yield the arcs that vertices of an outline (n, 2) lie on, one after the other."""
    count = len(outline)
    centres = _centres(outline)
    step = np.hypot(*(np.roll(centres, -1, axis=0) - centres).T)
    same = np.isfinite(step) & (step < ALIKE)
    start = 0 if same.all() else int(np.flatnonzero(~same)[0]) + 1
    k = 0
    while k < count:
        run = k
        while run < count and same[(start + run) % count]:
            run += 1
        # circles about k .. run go through the vertices from one before to one after these
        at = (start + np.arange(k - 1, run + 2)) % count
        if run > k and len(at) >= FEWEST:
            arc = _arc(outline[at], centres[at[1:-1]].mean(axis=0))
            if abs(arc.sweep) >= LEAST_SWEEP:
                yield arc
        k = run + 1


def _arc(points: Floats, centre: Floats) -> Arc:
    """Return the arc about a centre from the first to the last of points (k, 2) [m]."""
    ray = points - centre
    angle = np.unwrap(np.arctan2(ray[:, 1], ray[:, 0]))
    radius = float(np.hypot(*ray.T).mean())
    return Arc(centre, radius, float(angle[0]), float(angle[-1] - angle[0]))


def _centres(outline: Floats) -> Floats:
    """Return the centres (n, 2) of circles through vertices and their neighbours; nan at corners.

    Args:
        outline: (n, 2) [m].
    """
    a, b = np.roll(outline, 1, axis=0) - outline, np.roll(outline, -1, axis=0) - outline
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    p, q = np.sum(a * a, axis=1), np.sum(b * b, axis=1)
    flat = np.abs(turn_between(-a, b)) > CORNER
    flat |= np.abs(cross) < 1e-9 + 1e-4 * np.sqrt(p * q)
    twice = 2.0 * np.where(flat, np.nan, cross)
    x = (b[:, 1] * p - a[:, 1] * q) / twice
    y = (a[:, 0] * q - b[:, 0] * p) / twice
    found: Floats = outline + np.column_stack([x, y])
    return found


def _place(point: Floats) -> Place:
    return float(point[0]), float(point[1])
