"""Edge runs and cove runs, with their stable numbers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from itertools import groupby
from string import ascii_letters, ascii_lowercase
from typing import TypeVar

import numpy as np
import shapely

from ..arrays import Floats, Ints
from ..mesh import ZONES, Mesh
from ..model import Model
from ..plan.arrangement import components
from ..plan.canal import Canal
from ..plan.features.part import letters
from ..plan.keys import are_in, numbered
from ..plan.tolerances import CORNER, GRID
from ..quantities import CoveRun, Run, Sense
from ..surface.kinds import KINDS, ROUNDED, pair_code
from .chains import Chain, chains_of, stations_on, step_lengths
from .edges import AT_WALL, PLUMB, UPRIGHT, Edges, is_lofted
from .zones import in_zones, zones_of

R = TypeVar("R", Run, CoveRun)

COMMON = (
    "floor/floor", "floor/wall", "wall/wall", "wall/wall top", "floor/riser", "floor/step side",
    "wall/tread", "tread/riser", "tread/step side", "riser/step side", "wall/riser",
    "wall/step side", "floor/bench face", "wall/bench top", "bench top/bench face",
    "wall/bench face", "bench face/bench face", "floor/dam wall face", "wall/dam wall face",
    "dam wall face/dam wall top", "spa wall/dam wall top", "spa floor/spa wall",
    "spa wall/seat top", "seat top/seat face", "spa floor/seat face", "spa wall/spillway",
    "dam wall face/spillway", "dam wall top/spillway", "cove/cove", "cove/riser",
    "cove/step side", "cove/bench face", "cove/dam wall face", "spa wall/wall top", "cove",
    "fillet",
    "wall/wall end", "wall top/wall end", "wall/recess", "tread/recess", "step side/recess",
    "spa wall/recess", "riser/recess", "spa wall/wall end",
    "wall/weir top", "weir top/weir face", "weir top/weir top", "weir face/basin floor",
    "basin floor/basin wall", "basin wall/basin wall", "basin wall/wall top",
    "weir face/channel floor", "channel floor/channel wall", "channel wall/channel wall",
    "channel wall/wall top", "cove/weir face", "weir face/weir face", "weir face/basin wall",
    "weir face/channel wall", "corner cove/wall top", "cove/corner cove", "corner cove",
    "corner cove/bench top", "corner cove/tread", "corner cove/riser", "corner fillet",
    "wall/corner fillet", "fillet/corner fillet", "corner fillet/wall top",
)  # fmt: skip
"""Kinds of runs by their code, 1 first. New ones go to the end: a run's number never changes."""


LEAST_RUN = 5e-3
"""[m] Shorter runs are crumbs (a cut that grazes a corner, the end of a mitre) and are left out."""


def run_code(kind: str) -> int:
    """Return the number that stands for a kind of run in run numbers."""
    if kind in COMMON:
        return COMMON.index(kind) + 1
    return pair_code(kind)


def runs_of(model: Model, edges: Edges) -> tuple[Run, ...]:
    """Chain the edges into numbered runs."""
    mesh = model.surface
    levels = _levels(model)
    rows = np.flatnonzero(edges.counts)
    one, other = edges.patches[rows].T  # patches know their kinds
    _, sort = numbered((one * len(mesh.patches) + other) * 2 + edges.external[rows])
    lines = _Lines(mesh, chains_of(edges.ends[rows], sort, mesh.vertices, CORNER))
    first = rows[lines.edges[lines.first]]  # an edge of each run tells what meets there
    kinds, patches = edges.kinds[first].tolist(), edges.patches[first].tolist()
    rank = {body: k for k, body in enumerate(levels)}
    bodies = [
        _body(rank, mesh.patches[i].body, mesh.patches[j].body, *pair)
        for (i, j), pair in zip(patches, kinds, strict=True)
    ]
    names = [f"{KINDS[i]}/{KINDS[j]}" for i, j in kinds]
    cuts = lines.of_steps([levels[body] for body in bodies])
    middle = lines.middle_heights
    wet = middle < cuts[:, 1] - GRID
    zone = zones_of(middle, cuts, model.zone[edges.triangles[rows[lines.edges]]])
    wet_length = lines.sums(lines.steps * wet).tolist()
    by_zone = lines.in_zones(zone).tolist()
    angle = (lines.sums(edges.angle[rows[lines.edges]] * lines.steps) / lines.length).tolist()
    external, length = edges.external[first].tolist(), lines.length.tolist()
    runs = []
    for body in dict.fromkeys(bodies):
        mine = [i for i, item in enumerate(bodies) if item == body and length[i] > LEAST_RUN]
        numbers = _numbers(model, body, [names[i] for i in mine], lines, mine)
        for i, number in zip(mine, numbers, strict=True):
            sense: Sense = "external" if external[i] else "internal"
            steps, zones = lines.steps_of(i), tuple(by_zone[i])
            what = number, body, sense, names[i], lines.points_of(i), wet[steps], zone[steps]
            meet = tuple(mesh.patches[k] for k in patches[i])
            runs.append(Run(*what, length[i], wet_length[i], zones, angle[i], meet))
    return _in_order(model, runs)


class _Lines:
    """The polylines of chains, one after the other, measured together.

    A chain of k edges has k steps and k + 1 points.
    """

    def __init__(self, mesh: Mesh, chains: Sequence[Chain]) -> None:
        self.count = np.array([len(item.edges) for item in chains], dtype=np.int64)
        self.first = np.cumsum(self.count) - self.count  # first step of each
        self.edges = np.concatenate([self.count[:0], *(item.edges for item in chains)])
        line = np.concatenate([self.count[:0], *(item.vertices for item in chains)])
        self.points = mesh.vertices.take(line, axis=0)
        # the point at which each step starts
        self.start = np.arange(len(self.edges)) + np.repeat(np.arange(len(chains)), self.count)
        self.steps = step_lengths(self.points)[self.start]
        self.length = self.sums(self.steps)
        # mean of the points of each; of upright ones their middle, which no level moves
        self.middles = self.points[:0]
        if len(chains):
            begins = self.first + np.arange(len(chains))
            self.middles = np.add.reduceat(self.points, begins) / (self.count + 1)[:, None]
            low, high = (item.reduceat(self.points, begins) for item in (np.minimum, np.maximum))
            upright = ((high - low)[:, :2] < PLUMB).all(axis=1)
            self.middles[upright, 2] = (low + high)[upright, 2] / 2.0

    @property
    def middle_heights(self) -> Floats:
        """Height of the middle of each step [m]."""
        z = self.points[:, 2]
        found: Floats = (z[self.start] + z[self.start + 1]) / 2.0
        return found

    def of_steps(self, levels: Sequence[tuple[float, ...]]) -> Floats:
        """Return for each step (s, 3) what its chain has."""
        found: Floats = np.repeat(np.reshape(levels, (-1, 3)), self.count, axis=0)
        return found

    def in_zones(self, zone: Ints) -> Floats:
        """Return the length of each chain in each zone (chains, zones), by those of its steps."""
        chain = np.repeat(np.arange(len(self.count)), self.count)
        return in_zones(chain, zone, self.steps, len(self.count))

    def sums(self, values: Floats) -> Floats:
        """Return the sum over each chain of what its steps have."""
        return np.add.reduceat(values, self.first) if len(self.first) else values[:0]

    def steps_of(self, i: int) -> slice:
        """Where the steps of one chain stand."""
        return slice(int(self.first[i]), int(self.first[i] + self.count[i]))

    def points_of(self, i: int) -> Floats:
        """The points of one chain."""
        start = int(self.first[i]) + i
        return self.points[start : start + int(self.count[i]) + 1]


def _body(rank: Mapping[str, int], body: str, other_body: str, kind: int, other_kind: int) -> str:
    """A run belongs to the water of its standing face, or of the first of two."""
    if body == other_body:
        return body
    stands, other_stands = kind in UPRIGHT, other_kind in UPRIGHT
    if other_stands and not stands:
        return other_body
    return min(body, other_body, key=rank.__getitem__) if stands and other_stands else body


def _numbers(
    model: Model, body: str, kinds: Sequence[str], lines: _Lines, mine: Sequence[int]
) -> list[str]:
    """Number the runs of one body by kind and by where they start.

    The number is the station along the body's outline, in decimetres, of the outline point nearest
    to the run's first point; letters tell runs apart that start at one station (nearest to the
    outline first, then lowest). So a number does not move when something else in the pool changes.

    Args:
        model: The model.
        body: The body.
        kinds: Their kinds.
        lines: All lines.
        mine: Which of them the runs are.

    Returns:
        Numbers in the order of the runs.
    """
    starts = lines.first[mine] + mine
    stations, away = stations_on(model.outlines[body, "water"], lines.points[starts, :2])
    away = np.round(away, 3)
    middles = np.round(lines.middles[mine], 3)
    mark = next(item.mark for item in model.bodies if item.name == body)
    codes = np.array([run_code(kind) for kind in kinds], dtype=np.int64)
    order = np.lexsort((middles[:, 1], middles[:, 0], middles[:, 2], away, stations, codes))
    found = [""] * len(mine)
    for (code, station), same in groupby(order.tolist(), key=lambda i: (codes[i], stations[i])):
        for k, i in enumerate(same):
            found[i] = f"{mark}{code}.{station}{letters(k)}"
    return found


def cove_runs_of(model: Model, edges: Edges) -> tuple[CoveRun, ...]:
    """Measure each stretch of cove along its upper line (its lower where that is hidden)."""
    mesh, levels = model.surface, _levels(model)
    patches, ends, triangles, beside = _cove_lines(edges)
    chains = chains_of(ends, patches, mesh.vertices, np.pi)
    lines = _Lines(mesh, chains)
    kept = np.flatnonzero(lines.length > LEAST_RUN).tolist()
    shares = _shared_out(model, edges.joined, [chains[i] for i in kept], triangles).tolist()
    sizes = dict(zip(kept, shares, strict=True))
    body_of = [mesh.patches[item.sort].body for item in chains]
    cuts = lines.of_steps([levels[body] for body in body_of])
    zone = zones_of(lines.middle_heights, cuts, model.zone[beside[lines.edges]])
    by_zone = lines.in_zones(zone).tolist()
    found = []
    for body in sorted({body_of[i] for i in kept}):
        mine = [i for i in kept if body_of[i] == body]
        kinds = [mesh.patches[chains[i].sort].kind for i in mine]
        numbers = _numbers(model, body, kinds, lines, mine)
        for i, kind, number in zip(mine, kinds, numbers, strict=True):
            area = sum(sizes[i])
            if area == 0.0:
                continue  # a line of crumbs: its cells count to the run beside it
            zones = tuple(by_zone[i]), tuple(sizes[i])
            points, length = lines.points_of(i), float(lines.length[i])
            radius = _radius(model.coves[mesh.patches[chains[i].sort]], points)
            found.append(CoveRun(number, body, kind, radius, points, length, area, *zones))
    return _in_order(model, found)


def _radius(ball: Canal, points: Floats) -> float:
    """Return the mean radius of a cove along a line (k, 3) [m]."""
    if ball.is_even:
        return ball.radius
    steps = step_lengths(points)
    at = ball.radius_at((points[1:, :2] + points[:-1, :2]) / 2.0)[:, 0]
    return float(at @ steps / steps.sum())


def _cove_lines(edges: Edges) -> tuple[Ints, Ints, Ints, Ints]:
    """Return the lines that measure coves.

    A patch is measured along its wall, or along its floor where its wall is hidden. The sections
    in which an open cove ends are no part of its length.

    Returns:
        The cove's patch (e,), vertices (e, 2), the cove's triangle (e,) and both (e, 2) of each
        edge.
    """
    rows = np.flatnonzero(edges.along)
    side = np.where(is_lofted(edges.kinds[rows, 0]), 0, 1)
    patch = edges.patches[rows, side]
    upper = edges.along[rows] == AT_WALL
    kept = upper | ~are_in(patch, patch[upper])
    rows, side = rows[kept], side[kept]
    both = edges.triangles[rows]
    return patch[kept], edges.ends[rows], edges.triangles[rows, side], both


def _shared_out(model: Model, joined: Ints, lines: Sequence[Chain], triangles: Ints) -> Floats:
    """Return the area of the coves that each line measures, in each zone (lines, zones) [m2].

    What hangs together along one line is its; along several, each triangle goes to the nearest;
    a crumb without a line of its own goes to the nearest of its body.
    """
    mesh = model.surface
    is_cove = np.array([item.kind in ROUNDED for item in mesh.patches])
    mine = np.flatnonzero(is_cove[mesh.patch])
    number = np.full(len(mesh.triangles), -1)
    number[mine] = np.arange(len(mine))
    piece = components(len(mine), *number[joined].T)
    area = mesh.areas[mine]
    along: dict[int, set[int]] = defaultdict(set)
    for i, line in enumerate(lines):
        for at in np.unique(piece[number[triangles[line.edges]]]).tolist():
            along[at].add(i)
    zone = model.zone[mine]
    sizes = np.zeros((len(lines), len(ZONES)))
    for at in piece[numbered(piece)[0]].tolist():
        here = np.flatnonzero(piece == at)
        body = mesh.patches[mesh.patch[mine[here[0]]]].body
        near = sorted(along[at]) or [
            i for i, line in enumerate(lines) if mesh.patches[line.sort].body == body
        ]
        which = np.array(near[:1] * len(here), dtype=np.int64)
        if len(near) > 1:
            centres = mesh.vertices[mesh.triangles[mine[here]]].mean(axis=1)
            nearest = _nearest(mesh.vertices, [lines[i].vertices for i in near], centres)
            which = np.array(near)[nearest]
        if near:
            sizes += in_zones(which, zone[here], area[here], len(lines))
    return sizes


def _nearest(vertices: Floats, lines: list[Ints], centres: Floats) -> Ints:
    """Which line each point lies nearest to, in plan."""
    tree = shapely.STRtree([shapely.LineString(vertices[line, :2]) for line in lines])
    nearest: Ints = np.asarray(tree.nearest(shapely.points(centres[:, :2])), dtype=np.int64)
    return nearest


def _levels(model: Model) -> dict[str, tuple[float, float, float]]:
    """Return the levels that split the surface of each body, rising [m]."""
    return {body.name: (body.band[0], body.level, body.band[1]) for body in model.bodies}


def _in_order(model: Model, runs: Sequence[R]) -> tuple[R, ...]:
    """Sort runs as reports list them: body, kind, station, letter."""
    rank = {body.name: k for k, body in enumerate(model.bodies)}

    def order(run: Run | CoveRun) -> tuple[int, int, int, str]:
        head, _, tail = run.number.partition(".")
        code, station = head.lstrip(ascii_letters), tail.rstrip(ascii_lowercase)
        return rank[run.body], int(code), int(station), tail[len(station) :]

    return tuple(sorted(runs, key=order))
