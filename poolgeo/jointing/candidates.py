"""Candidates: loops in planes of the frame, on grid lines of the tile where there is a grid."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..placed import Placed
from ..plan.keys import are_in, pair_keys
from .frame import ALONG, UP
from .ground import Ground, laid
from .planes import Section, section_at
from .windows import Strip

FINEST = 1.0 / 30.0
"""[-] Planes of candidates lie no nearer to each other, as a share of the longest bay; of a finer
grid some lines are taken."""

ALONG_PLANE = 0.5
"""[-] An edge runs along a plane where its unit vector goes out of it by less: by 30 degrees."""

SAMPLE = 0.05
"""[m] Edges are looked at so often."""

TOO_NEAR = 1000.0
"""[m] What a joint too near to a fitting or an edge counts more: it is taken only where there is no
other."""


@dataclass(frozen=True)
class Candidate:
    """A loop that may be a joint.

    Args:
        section: What of a section it follows.
        length: [m].
        barred: Whether it goes through a fitting, or ends in the middle of a face.
        near: Whether it comes too near to a fitting, or runs along an edge.
    """

    section: Section
    length: float
    barred: bool
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
    found = sorted(laid(ground.finishes), key=lambda item: item.type != "tile")
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
    module, finest = along if axis == ALONG else across, FINEST * ground.rules.bays.longest
    step = module * math.ceil(finest / module - 1e-9) if module else finest
    used = ground.points[np.unique(ground.mesh.triangles), axis]
    first, last = math.ceil(used.min() / step), math.floor(used.max() / step)
    at = np.arange(first, last + 1) * step
    edges = _edge_samples(ground, axis)
    joints = np.concatenate([ground.keys_of(ground.edges), ground.rim])
    keys, numbers = [np.zeros(0, dtype=np.int64)], [np.zeros(0, dtype=np.int64)]
    for k, value in enumerate(at.tolist()):
        section = _followed(ground, section_at(ground, axis, value))
        barred, near = _clearances(ground, section, edges)
        if axis == UP:
            barred |= _loose(ground, section, joints)
        own = []
        for part in range(int(section.part.max(initial=-1)) + 1):
            mine = np.flatnonzero(section.part == part)
            own.append(-1 if part in barred else len(candidates))
            loop, length = section.of(mine), float(section.lengths[mine].sum())
            candidates.append(Candidate(loop, length, part in barred, part in near))
        keys.append(k * len(ground.mesh.triangles) + section.triangles)
        numbers.append(np.array(own, dtype=np.int64)[section.part])
    key, number = np.concatenate(keys), np.concatenate(numbers)
    order = np.argsort(key)
    return Planes(ground, axis, at, key[order], number[order])


def _followed(ground: Ground, section: Section) -> Section:
    """Return what of a section a joint may follow: of a level one what stands."""
    if section.axis != UP:
        return section
    return section.of(np.flatnonzero(ground.stands[section.triangles]))


def _loose(ground: Ground, section: Section, lines: Ints) -> frozenset[int]:
    """Return the parts of a level section that end neither at a joint nor at a rim."""
    points, count = np.unique(section.ends, return_counts=True)
    tips = points[count == 1]
    if not len(tips):
        return frozenset()
    ends = np.stack(np.divmod(lines, len(ground.mesh.vertices)), axis=1)
    places = ground.mesh.vertices[ends]
    part_of = dict(zip(section.ends.ravel().tolist(), np.repeat(section.part, 2).tolist(),
                       strict=True))  # fmt: skip
    return frozenset(
        part_of[tip]
        for tip in tips.tolist()
        if not len(places) or _distances(places, section.points[tip]).min() > BESIDE_A_JOINT
    )


BESIDE_A_JOINT = 5e-3
"""[m] A joint that ends nearer than this to another ends at it."""


def _distances(segments: Floats, points: Floats) -> Floats:
    """Return how far a point (3,) or points (p, 3) lie from segments (k, 2, 3): (k,) or (p, k)."""
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    square = np.maximum(np.einsum("ij,ij->i", way, way), 1e-18)
    gap = points[..., None, :] - start
    share = np.clip(np.einsum("...ij,ij->...i", gap, way) / square, 0.0, 1.0)
    found: Floats = np.linalg.norm(gap - share[..., None] * way, axis=-1)
    return found


def distance_to(segments: Floats, points: Floats) -> Floats:
    """Return how far points (p, 3) lie from the nearest of some segments (k, 2, 3): (p,) [m]."""
    if not len(segments):
        return np.full(len(points), np.inf)
    return np.concatenate([np.zeros(0), *(
        _distances(segments, chunk).min(axis=1)
        for chunk in np.array_split(points, max(1, len(points) * len(segments) // 2_000_000 + 1))
        if len(chunk)
    )])  # fmt: skip


@dataclass(frozen=True)
class _Samples:
    """Points (p, 3) along edges that run along the planes of an axis, with their values (p,)."""

    points: Floats
    value: Floats


def _edge_samples(ground: Ground, axis: int) -> _Samples:
    """Return points along all edges of the finish that run along the planes of an axis."""
    keys, counts = np.unique(ground.mesh.edge_keys(), return_counts=True)
    found = [np.zeros((0, 3))]
    for run in ground.takeoff.edges:
        line = run.vertices
        pairs = pair_keys(line[:-1], line[1:], len(ground.mesh.vertices))
        own = np.flatnonzero(are_in(pairs, keys[counts > 1]))
        a, b = ground.mesh.vertices[line[own]], ground.mesh.vertices[line[own + 1]]
        length = np.linalg.norm(b - a, axis=1)
        out = np.abs((b - a) @ ground.frame.axes[axis])
        kept = out < ALONG_PLANE * np.maximum(length, 1e-9)
        for p, q, size in zip(a[kept], b[kept], length[kept].tolist(), strict=True):
            count = max(2, math.ceil(size / SAMPLE) + 1)
            found.append(p + np.linspace(0.0, 1.0, count)[:, None] * (q - p))
    points = np.concatenate(found)
    value = ground.frame.coordinates(points)[:, axis]
    order = np.argsort(value)
    return _Samples(points[order], value[order])


def _clearances(
    ground: Ground, section: Section, edges: _Samples
) -> tuple[frozenset[int], frozenset[int]]:
    """Return the parts of a section that go through fittings, and those too near to something."""
    barred: set[int] = set()
    near: set[int] = set()
    segments = section.points[section.ends]
    clear = ground.asked.clear_of_fittings
    for item in ground.takeoff.fittings:
        through, close = fitting_reach(ground, section.axis, section.at, segments, item, clear)
        barred |= set(section.part[through].tolist())
        near |= set(section.part[close].tolist())
    clear = ground.asked.clear_of_edges
    low, high = np.searchsorted(edges.value, [section.at - clear, section.at + clear])
    if high > low and len(segments):
        beside = edges.points[low:high]
        for part in np.unique(section.part).tolist():
            if part not in near:
                mine = segments[section.part == part]
                if distance_to(mine, beside).min() < clear:
                    near.add(part)
    return frozenset(barred), frozenset(near - barred)


def fitting_reach(
    ground: Ground, axis: int, at: float, segments: Floats, item: Placed, clear: float
) -> tuple[Bools, Bools]:
    """Return which segments (k, 2, 3) in a plane of the frame go through a fitting's collar.

    Args:
        ground: Whose frame it is.
        axis: Which coordinate the plane holds.
        at: Its value there [m].
        segments: In the plane [m].
        item: The fitting.
        clear: How far joints stay from its collar [m].

    Returns:
        (k,) which go through it, and (k,) which come nearer than that.
    """
    way = ground.frame.axes[axis]
    point = np.array(item.point)
    across, up = (abs(float(way @ np.array(v))) for v in (item.across, item.upward))
    half = item.half
    reach = half[0] * (np.hypot(across, up) if item.is_round else across) + (
        0.0 if item.is_round else half[1] * up
    )
    none = np.zeros(len(segments), dtype=bool)
    off = abs(float(ground.frame.coordinates(point)[axis]) - at)
    if off >= reach + clear or not len(segments):
        return none, none
    size = half[0] if item.is_round else float(np.hypot(*half))
    near = _distances(segments, point) < np.hypot(size + clear, 0.0) + 1e-9
    return near & (off < reach), near & (off >= reach)
