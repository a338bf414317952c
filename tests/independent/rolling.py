"""The cove by its definition alone, as a third opinion where the first two disagree.

Over a plan point the water ends where the lowest ball that reaches it ends: the least of
``z_c - sqrt(r^2 - d^2)`` over all ball centres at height z_c and plan distance d that keep r from
wall and floor. No canal, no section, no contact curve; round pools and floors without toes only.
"""

from __future__ import annotations

import math

import numpy as np

from poolgeo.arrays import Floats

from .breaks import Profile
from .curves import gauss

AROUND, ACROSS = 400, 3
"""Plan points round the pool; Gauss spans from the wall inwards."""
LOOKS = (61, 21, 21)
"""Ball places looked at, ever closer to the lowest."""


def lowest_centre(floor: Profile, s: Floats, radius: float) -> Floats:
    """Return the least height of a ball centre over places ``s`` along the floor's profile."""
    found = np.full(s.shape, -np.inf)
    for place, height in zip(floor.places, floor.heights, strict=True):
        off = np.abs(s - place)
        over = height + np.sqrt(np.maximum(radius**2 - off**2, 0.0))
        found = np.where(off <= radius, np.maximum(found, over), found)
    ends = [-math.inf, *floor.places, math.inf]
    for i, slope in enumerate(floor.slopes):
        near, stretch = min(i, len(floor.places) - 1), math.hypot(1.0, slope)
        touch = s + radius * slope / stretch
        over = floor.heights[near] + slope * (s - floor.places[near]) + radius * stretch
        on_panel = (touch >= ends[i]) & (touch <= ends[i + 1])
        found = np.where(on_panel, np.maximum(found, over), found)
    return found


def mortar(pool: float, floor: Profile, radius: float) -> float:
    """Return what the cove fills of a round pool about the origin [m3].

    Args:
        pool: The pool's radius [m].
        floor: Its floor, without toes.
        radius: The cove's [m].
    """
    angle = np.arange(AROUND) * 2 * math.pi / AROUND
    root, weight = gauss(np.linspace(0.0, math.sqrt(1.6 * radius), ACROSS + 1))
    total = 0.0
    for x, w in zip(root.tolist(), weight.tolist(), strict=True):
        out = pool - x**2  # plan points this far from the middle; x^2 off the wall
        xy = out * np.column_stack([np.cos(angle), np.sin(angle)])
        bottom = floor.at(xy)
        slope = np.array(floor.slopes)[np.searchsorted(floor.places, floor.along(xy))]
        lean = (radius * slope / np.hypot(1.0, slope))[:, None] * floor.way
        resting = np.hypot(*(xy - lean).T) <= pool - radius  # a ball can lie on the floor there
        held = _lowest_bottom(xy, angle, (pool, radius), floor)
        height = np.where(resting, 0.0, np.maximum(held - bottom, 0.0))
        total += w * 2 * x * out * float(height.sum()) * 2 * math.pi / AROUND
    return total


def _lowest_bottom(xy: Floats, angle: Floats, radii: tuple[float, float], floor: Profile) -> Floats:
    """Return the bottom of the lowest ball against the wall that reaches each plan point."""
    pool, radius = radii
    reach, middle = 2 * radius / pool, angle
    rows = np.arange(len(angle))
    best = np.full(len(angle), np.inf)
    for looks in LOOKS:
        tried = middle[:, None] + np.linspace(-reach, reach, looks)
        centre = (pool - radius) * np.stack([np.cos(tried), np.sin(tried)], axis=-1)
        room = radius**2 - np.sum((xy[:, None, :] - centre) ** 2, axis=-1)
        top = lowest_centre(floor, floor.along(centre.reshape(-1, 2)), radius).reshape(tried.shape)
        ends = np.where(room >= 0, top - np.sqrt(np.maximum(room, 0.0)), np.inf)
        column = ends.argmin(axis=1)
        best, middle = np.minimum(best, ends[rows, column]), tried[rows, column]
        reach *= 3 / looks
    return best
