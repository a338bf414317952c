"""The radius of coves against a limit, along the outline stretch by stretch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..design import schema
from ..errors import Key
from .asked import Asked
from .canal import Size
from .features.along import Along
from .features.part import numbered_name
from .features.site import Site
from .shapes import nearest_on, rings_of

AT_WALL = 1e-4
"""[m] A line of the floor that ends nearer to a wall than this ends at it."""


@dataclass(frozen=True)
class _Cove:
    """A cove of one size.

    Args:
        key: In the pool file.
        name: For findings.
        size: Its radius over the height from the water, which is negative.
        number: Of the stretch that it lies along; 0 for where none is.
    """

    key: Key
    name: str
    size: Size
    number: int


def cove_radius(asked: Asked, pool: schema.Pool) -> None:
    """Leave a warning for every cove along the walls of the pool or of a spa that passes a limit.

    Args:
        asked: The limit.
        pool: From the pool file.
    """
    if pool.cove is not None:
        feet = _feet(asked.site, pool.cove, asked.limit.shallower_than)
        for cove in _sizes(pool.cove, ("cove",), "the cove"):
            _ask(asked, cove, feet)
    for i, spa in enumerate(pool.spas):
        if spa.cove is None:
            continue
        name = numbered_name("spa", i, spa.name)
        for cove in _sizes(spa.cove, ("spas", i, "cove"), f"the cove of the {name}"):
            radius = float(cove.size.at(np.array([-spa.depth]))[0])
            if asked.worst([radius], [spa.depth]) is not None:
                value = f"{radius:.3f} m; the {name} is {spa.depth:.3f} m deep"
                asked.warn((*cove.key, "radius"), cove.name, value, asked.bound(radius))


def _sizes(cove: schema.Cove, key: Key, name: str) -> Iterator[_Cove]:
    """Yield a cove, and what stands in its place along its stretches."""
    size = Size(cove.radius)
    if cove.deepens is not None:
        size = Size(cove.radius, cove.deepens.radius, (-cove.deepens.start, -cove.deepens.end))
    yield _Cove(key, name, size, 0)
    for k, item in enumerate(cove.stretches):
        if item.radius > 0.0:  # else there is none
            yield _Cove(
                (*key, "stretches", k), f"{name} along the stretch", Size(item.radius), k + 1
            )


def _feet(site: Site, cove: schema.Cove, below: float | None) -> tuple[Floats, Floats, Ints]:
    """Return the foot of the walls in steps along which the floor is even.

    Returns:
        Their ends (n, 2, 2), the depths there (n, 2) [m], and which stretch each lies on (n,).
        They end where the water is as deep as the limit or the cove says.
    """
    along = Along.of(site, cove.stretches, ("cove",))
    rings = rings_of(site.water)
    levels = [] if below is None else [site.level - below]
    if cove.deepens is not None:
        levels += [site.level - cove.deepens.start, site.level - cove.deepens.end]
    lines = [site.floor.contour_within(item, rings) for item in levels]
    lines.append(site.floor.lines_within(rings, 0.0))
    ends = np.concatenate(lines).reshape(-1, 2)
    steps, numbers = [], []
    for ring in site.rings:
        points = np.concatenate([ends, along.ends]) if ring is site.ring else ends
        edge, share, away = nearest_on(ring.points, points)
        near = away < AT_WALL
        edge = np.concatenate([np.arange(len(ring.points)), edge[near]])
        share = np.concatenate([np.zeros(len(ring.points)), share[near]])
        points = np.concatenate([ring.points, points[near]])[np.lexsort((share, edge))]
        steps.append(np.stack([points, np.roll(points, -1, axis=0)], axis=1))
        number = along.at(steps[-1].mean(axis=1))[0]
        numbers.append(number if ring is site.ring else np.zeros(len(points), dtype=np.int64))
    found = np.concatenate(steps)
    return found, site.depth(found.reshape(-1, 2)).reshape(-1, 2), np.concatenate(numbers)


def _ask(asked: Asked, cove: _Cove, feet: tuple[Floats, Floats, Ints]) -> None:
    """Ask at both ends of each step; in one that grows deeper the limit holds up to its end."""
    ends, depths, number = feet
    own = number == cove.number
    places, deep = ends[own].reshape(-1, 2), depths[own].reshape(-1)
    least = np.repeat(depths[own].min(axis=1), 2)
    radii = cove.size.at(-deep)
    at = asked.worst(radii.tolist(), least.tolist())
    if at is None:
        return
    same = np.flatnonzero(np.isclose(radii, radii[at]))
    at = int(same[np.argmin(deep[same])])
    (x, y), key = places[at], (*cove.key, "radius")
    if cove.size.heights is not None and radii[at] != cove.size.radius:
        key = (*cove.key, "deepens")
    value = f"{radii[at]:.3f} m; at ({x:.3f}, {y:.3f}) m {deep[at]:.3f} m deep"
    asked.warn(key, cove.name, value, asked.bound(float(radii[at])))
