"""The ground that joints are planned on: the finished surface, its edges, its faces."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import Literal

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..design.finishes import LAID, Finish
from ..design.joint_rules import JointRules
from ..design.movement import MovementJoints
from ..design.places import is_one_of
from ..measure.chains import chains_of
from ..mesh import ZONES, Mesh
from ..model import Model
from ..placed import SLANT, Placed
from ..plan.keys import are_in, pair_keys
from ..plan.tolerances import CORNER
from ..quantities import CoveRun, Run, Takeoff
from .frame import Frame
from .regions import NONE, TOPS, regions_of

EdgeWhat = Literal["change of plane", "perimeter"]

ANOTHER_WAY = 45.0
"""[deg] Where the surface turns by so much, what lies beyond is a bay in another direction, whether
there is a joint or not."""

ALONG_PLANE = 0.5
"""[-] An edge runs along a plane where its unit vector goes out of it by less: by 30 degrees."""

SAMPLE = 0.05
"""[m] Edges are looked at so often."""

ON_TOP = np.array([zone in TOPS for zone in ZONES])
"""Zones that are not finished where the pool file says nothing of finishes."""


@dataclass(frozen=True)
class EdgeSamples:
    """Places along edges that run along the planes of an axis.

    Args:
        points: (p, 3) [m].
        value: (p,) their coordinate on that axis, rising [m].
    """

    points: Floats
    value: Floats

    def beside(self, at: float, clear: float) -> Floats:
        """Return those nearer than some length to a plane (q, 3) [m]."""
        low, high = np.searchsorted(self.value, [at - clear, at + clear])
        return self.points[low:high]


@dataclass(frozen=True)
class EdgeLine:
    """A line along edges that asks for a joint.

    Args:
        number: Of the run, or of its own at the perimeter.
        what: Why it asks.
        kind: Such as ``floor/wall``, ``cove`` or ``perimeter``.
        body: Body of water.
        surface: Kind of surface that it is on, for reports.
        vertices: (k,) of the mesh.
    """

    number: str
    what: EdgeWhat
    kind: str
    body: str
    surface: str
    vertices: Ints


@dataclass(frozen=True)
class Ground:
    """What joints are planned on.

    Args:
        model: The pool, with square edges.
        takeoff: Measured on it.
        mesh: The finished part of its surface; vertices are those of the whole.
        rows: (m,) the triangle of the whole that each is.
        wet: (m,) whether a triangle is under water.
        zone: (m,) its zone.
        asks: (m,) whether the finish there needs its bays limited.
        laid: (m,) whether the finish there is laid piece by piece.
        finishes: Of the pool file.
        rules: That the joints obey.
        asked: What the pool file says of them.
    """

    model: Model
    takeoff: Takeoff
    mesh: Mesh
    rows: Ints
    wet: Bools
    zone: Ints
    asks: Bools
    laid: Bools
    finishes: tuple[Finish, ...]
    rules: JointRules
    asked: MovementJoints

    @cached_property
    def frame(self) -> Frame:
        """The set-out frame."""
        return Frame.of(self.asked)

    @cached_property
    def points(self) -> Floats:
        """Vertices in the frame (n, 3) [m]."""
        return self.frame.coordinates(self.mesh.vertices)

    @cached_property
    def reach(self) -> Floats:
        """Least and largest coordinates of each triangle in the frame (2, m, 3) [m]."""
        corners = self.points[self.mesh.triangles]
        return np.stack([corners.min(axis=1), corners.max(axis=1)])

    @cached_property
    def stands(self) -> Bools:
        """(m,) Whether a triangle stands."""
        found: Bools = np.abs(self.mesh.doubled_areas[:, 2]) < SLANT * 2.0 * self.mesh.areas
        return found

    @cached_property
    def edges(self) -> tuple[EdgeLine, ...]:
        """All lines along edges that ask for a joint."""
        return tuple(_edge_lines(self))

    @cached_property
    def samples(self) -> tuple[EdgeSamples, ...]:
        """Places along edges that run along the planes of each axis."""
        return tuple(_samples(self, axis) for axis in range(3))

    @cached_property
    def rim(self) -> Ints:
        """Keys of the mesh edges at which the finish ends."""
        keys, counts = np.unique(self.mesh.edge_keys(), return_counts=True)
        found: Ints = keys[counts == 1]
        return found

    @cached_property
    def inner(self) -> Ints:
        """(e,) Keys of the mesh edges with finish on both sides, rising, as `Mesh.pairs`."""
        (one, other), _ = self.mesh.pairs
        return pair_keys(one, other, len(self.mesh.vertices))

    @cached_property
    def seams(self) -> Ints:
        """Keys of the mesh edges at which the finish ends or goes on to another patch."""
        one, other = self.mesh.patch[self.mesh.pairs[1]]
        return np.concatenate([self.rim, self.inner[one != other]])

    @property
    def jointed_fittings(self) -> list[Placed]:
        """Fittings that take a joint round their collar."""
        rule = self.rules.fittings
        if rule is None:
            return []
        needs = self.mesh.patch[self.laid]
        places = {(self.mesh.patches[i].body, self.mesh.patches[i].kind) for i in np.unique(needs)}
        return [
            item for item in self.takeoff.fittings
            if is_one_of(item.kind, rule.kinds) and (item.body, item.surface) in places
        ]  # fmt: skip

    def keys_of(self, lines: Sequence[EdgeLine | Run]) -> Ints:
        """Return the keys of all mesh edges along some lines."""
        count = len(self.mesh.vertices)
        found = [pair_keys(line.vertices[:-1], line.vertices[1:], count) for line in lines]
        return np.concatenate([np.zeros(0, dtype=np.int64), *found])

    def zones_along(self, line: EdgeLine) -> Ints:
        """Return the zone of each step of a line along edges (k,): that of a triangle beside it."""
        keys = self.mesh.edge_keys()
        order = np.argsort(keys, kind="stable")
        asked = pair_keys(line.vertices[:-1], line.vertices[1:], len(self.mesh.vertices))
        found: Ints = self.zone[order[np.searchsorted(keys[order], asked)] // 3]
        return found

    def breaks(self, lines: Sequence[EdgeLine]) -> Ints:
        """Return the keys of the mesh edges at which a bay ends.

        Args:
            lines: Those along edges that have a joint.
        """
        turning = [run for run in self.takeoff.edges if abs(180.0 - run.angle) >= ANOTHER_WAY]
        return np.concatenate([self.keys_of(lines), self.keys_of(turning)])


def ground_of(model: Model, takeoff: Takeoff, rules: JointRules, asked: MovementJoints) -> Ground:
    """Return what the movement joints of a pool are planned on.

    Args:
        model: The pool.
        takeoff: Measured on it.
        rules: That its joints obey.
        asked: What the pool file says of them.
    """
    square = model.square
    whole, finishes = square.surface, model.design.pool.finishes or ()
    if finishes:
        region = regions_of(whole, square.wet, square.zone, finishes)
    else:
        region = np.where(ON_TOP[square.zone], NONE, 0)
    rows = np.flatnonzero(region != NONE)
    mesh = Mesh(whole.vertices, whole.triangles[rows], whole.patch[rows], whole.patches)
    needs = np.array([item.type not in rules.bays.exempt for item in finishes] or [True])
    pieces = np.array([item.type in LAID for item in finishes] or [True])
    needed = needs[region[rows]], pieces[region[rows]]
    where = square.wet[rows], square.zone[rows]
    return Ground(square, takeoff, mesh, rows, *where, *needed, finishes, rules, asked)


def laid_of(finishes: Sequence[Finish]) -> list[Finish]:
    """Return the finishes that are laid piece by piece."""
    return [item for item in finishes if item.type in LAID]


def _edge_lines(ground: Ground) -> Iterator[EdgeLine]:
    """Yield the lines along changes of plane, then those of the perimeter."""
    rules, takeoff = ground.rules, ground.takeoff
    if (changes := rules.changes_of_plane) is not None:
        laid = ground.mesh.edge_keys().reshape(-1, 3)[ground.laid]
        inner = np.intersect1d(ground.inner, laid)
        runs: list[Run | CoveRun] = [
            run for run in takeoff.edges if changes.asks(run.kind, run.sense, run.angle)
        ]
        runs += takeoff.coves if changes.at_coves else ()
        for run in runs:
            yield from _within(ground, run, inner)
    if rules.perimeter is not None:
        yield from _perimeter(ground)


def _within(ground: Ground, run: Run | CoveRun, inner: Ints) -> Iterator[EdgeLine]:
    """Yield the stretches of a run that have finish on both sides, laid on one at least."""
    line = run.vertices
    has = are_in(pair_keys(line[:-1], line[1:], len(ground.mesh.vertices)), inner)
    for is_inner, steps in groupby(range(len(has)), key=lambda i: bool(has[i])):
        if is_inner:
            at = list(steps)
            kind = run.kind
            surface = kind if isinstance(run, Run) else f"{kind}/wall"
            part = line[at[0] : at[-1] + 2]
            yield EdgeLine(run.number, "change of plane", kind, run.body, surface, part)


def _perimeter(ground: Ground) -> Iterator[EdgeLine]:
    """Yield the lines at which a finish that is laid ends."""
    mesh = ground.mesh
    keys = mesh.edge_keys()
    first, counts = np.unique(keys, return_index=True, return_counts=True)[1:]
    rows = first[counts == 1]
    rows = rows[ground.laid[rows // 3]]
    after = np.where(rows % 3 == 2, rows - 2, rows + 1)
    corners = mesh.triangles.ravel()
    ends = np.stack([corners[rows], corners[after]], axis=1)
    sorts = sorted({(mesh.patches[i].body, mesh.patches[i].kind) for i in mesh.patch})
    number = {sort: i for i, sort in enumerate(sorts)}
    of_patch = np.array([number.get((item.body, item.kind), -1) for item in mesh.patches])
    chains = chains_of(ends, of_patch[mesh.patch[rows // 3]], mesh.vertices, CORNER)
    for k, chain in enumerate(chains, 1):
        body, kind = sorts[chain.sort]
        yield EdgeLine(f"R{k}", "perimeter", "perimeter", body, kind, chain.vertices)


def _samples(ground: Ground, axis: int) -> EdgeSamples:
    """Return places along all edges of the finish that run along the planes of an axis."""
    vertices = ground.mesh.vertices
    found = [np.zeros((0, 3))]
    for run in ground.takeoff.edges:
        line = run.vertices
        own = np.flatnonzero(are_in(pair_keys(line[:-1], line[1:], len(vertices)), ground.inner))
        a, b = vertices[line[own]], vertices[line[own + 1]]
        length = np.linalg.norm(b - a, axis=1)
        out = np.abs((b - a) @ ground.frame.axes[axis])
        kept = out < ALONG_PLANE * np.maximum(length, 1e-9)
        for p, q, size in zip(a[kept], b[kept], length[kept].tolist(), strict=True):
            count = max(2, math.ceil(size / SAMPLE) + 1)
            found.append(p + np.linspace(0.0, 1.0, count)[:, None] * (q - p))
    points = np.concatenate(found)
    value = ground.frame.coordinates(points)[:, axis]
    order = np.argsort(value)
    return EdgeSamples(points[order], value[order])
