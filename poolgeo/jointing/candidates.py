"""Candidates: loops in planes of the frame, on grid lines of the tile where there is a grid."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .frame import ALONG, UP
from .ground import EdgeSamples, Ground, laid_of
from .near import AT_A_JOINT, distance_to, fitting_distance, reach_along
from .planes import Section, section_at
from .windows import Strip

FINEST, LEAST_STEP = 1.0 / 60.0, 0.1
"""[-], [m] Planes of candidates lie no nearer to each other than this share of the longest bay, and
than this length; of a finer grid some lines are taken."""

OVER = 2e-3
"""[m] How much farther off a fitting than asked a plane is laid beside it."""

TOO_NEAR = 1000.0
"""[m] What a joint too near to a fitting or an edge counts more: it is taken only where there is no
other."""


@dataclass(frozen=True)
class Candidate:
    """A loop that may be a joint.

    Args:
        section: What of a section it follows.
        length: [m].
        near: Whether it comes too near to a fitting, or runs along an edge.
    """

    section: Section
    length: float
    near: bool

    @property
    def cost(self) -> float:
        """What it counts: its length, more where it comes too near to something [m]."""
        return self.length + TOO_NEAR * self.near


@dataclass(frozen=True)
class Planes:
    """The planes of one axis that may hold joints.

    Args:
        ground: What they cut.
        axis: Which coordinate they hold.
        at: Their values there, rising (n,) [m].
        keys: (c,) rising, for each triangle that a plane crosses: plane times triangles, and it.
        numbers: (c,) the candidate that runs there; -1 where that is barred.
    """

    ground: Ground
    axis: int
    at: Floats
    keys: Ints
    numbers: Ints

    def crossings(self, strip: Strip) -> tuple[Floats, Ints]:
        """Return where candidates cross a strip (c,) [m], and which (c,)."""
        value = self.ground.frame.coordinates(strip.points)[:, self.axis]
        low, high = np.minimum(value[:-1], value[1:]), np.maximum(value[:-1], value[1:])
        first = np.searchsorted(self.at, low, "right")
        count = np.maximum(np.searchsorted(self.at, high, "left") - first, 0)
        step = np.repeat(np.arange(len(count)), count)
        plane = np.arange(len(step)) - np.repeat(np.cumsum(count) - count, count) + first[step]
        key = plane * len(self.ground.mesh.triangles) + strip.triangles[step]
        row = np.minimum(np.searchsorted(self.keys, key), max(len(self.keys) - 1, 0))
        if not len(self.keys) or not len(step):
            return np.zeros(0), np.zeros(0, dtype=np.int64)
        number = np.where(self.keys[row] == key, self.numbers[row], -1)
        kept = number >= 0
        step, plane = step[kept], plane[kept]
        share = (self.at[plane] - value[step]) / (value[step + 1] - value[step])
        return strip.start[step] + share * np.diff(strip.start)[step], number[kept]


def grid_of(ground: Ground) -> tuple[float, float]:
    """Return the module of the tile grid along the rows and across [m]; 0 where there is none.

    The grid is that of the first tile among the finishes, else of the first mosaic.
    """
    found = sorted(laid_of(ground.finishes), key=lambda item: item.type != "tile")
    if not found or found[0].tile is None:
        return 0.0, 0.0
    tile, joint = found[0].tile, found[0].joint or 0.0
    return tile.length + joint, tile.width + joint


def planes_of(ground: Ground, axis: int, candidates: list[Candidate]) -> Planes:
    """Return the planes of one axis that may hold joints.

    Args:
        ground: What they cut.
        axis: Which coordinate they hold.
        candidates: Theirs are added to these.
    """
    along, across = grid_of(ground)
    at = _values(ground, axis, along if axis == ALONG else across)
    edges = ground.samples[axis]
    joints = np.concatenate([ground.keys_of(ground.edges), ground.rim])
    keys, numbers = [np.zeros(0, dtype=np.int64)], [np.zeros(0, dtype=np.int64)]
    for k, value in enumerate(at.tolist()):
        section = _followed(ground, section_at(ground, axis, value))
        barred, near = _clearances(ground, section, edges)
        if axis == UP:
            barred |= _loose(ground, section, joints)
        own = []
        for part in range(int(section.part.max(initial=-1)) + 1):
            if part in barred:
                own.append(-1)
                continue
            own.append(len(candidates))
            mine = np.flatnonzero(section.part == part)
            loop, length = section.of(mine), float(section.lengths[mine].sum())
            candidates.append(Candidate(loop, length, part in near))
        keys.append(k * len(ground.mesh.triangles) + section.triangles)
        numbers.append(np.array(own, dtype=np.int64)[section.part])
    key, number = np.concatenate(keys), np.concatenate(numbers)
    order = np.argsort(key)
    return Planes(ground, axis, at, key[order], number[order])


def _values(ground: Ground, axis: int, module: float) -> Floats:
    """Return where planes may lie: evenly, and just clear of each fitting [m].

    Args:
        ground: What they cut.
        axis: Which coordinate they hold.
        module: Of the grid whose lines they keep to; 0 for none [m].
    """
    finest = max(FINEST * ground.rules.bays.longest, LEAST_STEP)
    step = module * math.ceil(finest / module - 1e-9) if module else finest
    used = ground.points[np.unique(ground.mesh.triangles), axis]
    low, high = float(used.min()), float(used.max())
    found = [np.arange(math.ceil(low / step), math.floor(high / step) + 1) * step]
    beside = []
    for item in ground.takeoff.fittings:
        reach = reach_along(item, ground.frame.axes[axis])
        middle = float(ground.frame.coordinates(np.array(item.point))[axis])
        for way in (-1.0, 1.0):
            value = middle + way * (reach + ground.asked.clear_of_fittings + OVER)
            if reach and low < value < high:
                beside.append(way * math.ceil(way * value / module) * module if module else value)
    found.append(np.array(beside))
    return np.unique(np.round(np.concatenate(found), 6))


def _followed(ground: Ground, section: Section) -> Section:
    """Return what of a section a joint may follow: of a level one what stands."""
    if section.axis != UP:
        return section
    return section.of(np.flatnonzero(ground.stands[section.triangles]))


def _loose(ground: Ground, section: Section, lines: Ints) -> set[int]:
    """Return the parts of a level section that end neither at a joint nor at a rim."""
    points, count = np.unique(section.ends, return_counts=True)
    tips = points[count == 1]
    if not len(tips):
        return set()
    ends = np.stack(np.divmod(lines, len(ground.mesh.vertices)), axis=1)
    places = ground.mesh.vertices[ends]
    part_of = dict(zip(section.ends.ravel().tolist(), np.repeat(section.part, 2).tolist(),
                       strict=True))  # fmt: skip
    far = distance_to(places, section.points[tips]) > AT_A_JOINT
    return {part_of[tip] for tip in tips[far].tolist()}


def _clearances(ground: Ground, section: Section, edges: EdgeSamples) -> tuple[set[int], set[int]]:
    """Return the parts of a section that go through fittings, and those too near to something."""
    barred: set[int] = set()
    near: set[int] = set()
    parts = {
        part: section.points[section.ends[section.part == part]]
        for part in np.unique(section.part).tolist()
    }
    for item in ground.takeoff.fittings:
        middle = ground.frame.coordinates(np.array(item.point))[section.axis]
        if (
            abs(float(middle) - section.at)
            > math.hypot(*item.half) + ground.asked.clear_of_fittings
        ):
            continue
        for part, segments in parts.items():
            off = fitting_distance(segments, item)
            if off <= 0.0:
                barred.add(part)
            elif off < ground.asked.clear_of_fittings:
                near.add(part)
    beside = edges.beside(section.at, ground.asked.clear_of_edges)
    if len(beside):
        for part, segments in parts.items():
            if distance_to(segments, beside).min() < ground.asked.clear_of_edges:
                near.add(part)
    return barred, near - barred
