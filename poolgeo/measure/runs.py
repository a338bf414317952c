"""Edge runs and cove runs, with their stable numbers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from itertools import groupby
from string import ascii_letters, ascii_lowercase
from typing import TypeVar

import numpy as np
import shapely

from ..model import CoveRun, Floats, Ints, Mesh, Model, Run, Sense
from ..plan.arrangement import components
from ..plan.keys import are_in, numbered
from ..plan.shapes import nearest_on
from ..plan.tolerances import CORNER, GRID
from ..surface.kinds import KINDS
from .chains import Chain, chains_of, step_lengths
from .edges import COVE, UPRIGHT, Edges, is_upright

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
    "wall/weir top", "weir top/weir face", "weir top/weir top", "weir face/basin floor",
    "basin floor/basin wall", "basin wall/basin wall", "basin wall/wall top",
    "weir face/channel floor", "channel floor/channel wall", "channel wall/channel wall",
    "channel wall/wall top", "cove/weir face", "weir face/weir face", "weir face/basin wall",
    "weir face/channel wall",
)  # fmt: skip
"""Kinds of runs by their code, 1 first. New ones go to the end: a run's number never changes."""


LEAST_RUN = 5e-3
"""[m] Shorter runs are crumbs (a cut that grazes a corner, the end of a mitre) and are left out."""


def run_code(kind: str) -> int:
    """Return the number that stands for a kind of run in run numbers."""
    if kind in COMMON:
        return COMMON.index(kind) + 1
    first, second = (KINDS.index(part) for part in kind.split("/"))
    return 100 + len(KINDS) * first + second


def runs_of(model: Model, edges: Edges) -> tuple[Run, ...]:
    """Chain the edges into numbered runs."""
    mesh = model.surface
    levels = {body.name: body.level for body in model.bodies}
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
    level = np.repeat([levels[body] for body in bodies], lines.count)
    z = lines.points[:, 2]
    wet = (z[lines.start] + z[lines.start + 1]) / 2.0 < level - GRID
    wet_length = lines.sums(lines.steps * wet).tolist()
    angle = (lines.sums(edges.angle[rows[lines.edges]] * lines.steps) / lines.length).tolist()
    external, length = edges.external[first].tolist(), lines.length.tolist()
    runs = []
    for body in dict.fromkeys(bodies):
        mine = [i for i, item in enumerate(bodies) if item == body and length[i] > LEAST_RUN]
        numbers = _numbers(model, body, [names[i] for i in mine], lines, mine)
        for i, number in zip(mine, numbers, strict=True):
            sense: Sense = "external" if external[i] else "internal"
            points, is_wet = lines.points_of(i), wet[lines.steps_of(i)]
            sizes = length[i], wet_length[i], angle[i]
            runs.append(Run(number, body, sense, names[i], points, is_wet, *sizes))
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
        begins = self.first + np.arange(len(chains))
        total = np.add.reduceat(self.points, begins) if len(chains) else self.points
        self.middles = total / (self.count + 1)[:, None]  # mean of the points of each

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
    outline = model.outlines[body]
    starts = lines.first[mine] + mine
    lengths = step_lengths(np.concatenate([outline, outline[:1]]))
    edge, share, away = nearest_on(outline, lines.points[starts, :2])
    at = (np.cumsum(lengths) - lengths)[edge] + share * lengths[edge]
    stations, away = np.rint(at * 10.0).astype(int), np.round(away, 3)
    middles = np.round(lines.middles[mine], 3)
    mark = next(item.mark for item in model.bodies if item.name == body)
    codes = np.array([run_code(kind) for kind in kinds], dtype=np.int64)
    order = np.lexsort((middles[:, 1], middles[:, 0], middles[:, 2], away, stations, codes))
    found = [""] * len(mine)
    for (code, station), same in groupby(order.tolist(), key=lambda i: (codes[i], stations[i])):
        for k, i in enumerate(same):
            found[i] = f"{mark}{code}.{station}{_letters(k)}"
    return found


def _letters(k: int) -> str:
    """Return nothing for the first, then b, c, ... z, ab, ac, ..."""
    if k == 0:
        return ""
    high, low = divmod(k, 26)
    return (chr(ord("a") + high - 1) if high else "") + chr(ord("a") + low)


def cove_runs_of(model: Model, edges: Edges) -> tuple[CoveRun, ...]:
    """Measure each stretch of cove along its upper line (its lower where that is hidden)."""
    mesh = model.surface
    patches, ends, triangles = _cove_lines(edges)
    chains = chains_of(ends, patches, mesh.vertices, np.pi)
    lines = _Lines(mesh, chains)
    kept = np.flatnonzero(lines.length > LEAST_RUN).tolist()
    shares = _shared_out(mesh, edges.joined, [chains[i] for i in kept], triangles).tolist()
    sizes = dict(zip(kept, shares, strict=True))
    body_of = {i: mesh.patches[chains[i].sort].body for i in kept}
    found = []
    for body in sorted(set(body_of.values())):
        mine = [i for i in kept if body_of[i] == body]
        numbers = _numbers(model, body, ["cove"] * len(mine), lines, mine)
        for i, number in zip(mine, numbers, strict=True):
            if sizes[i] == 0.0:
                continue  # a line of crumbs: its cells count to the run beside it
            radius, length = model.cove_radii[body], float(lines.length[i])
            found.append(CoveRun(number, body, radius, lines.points_of(i), length, sizes[i]))
    return _in_order(model, found)


def _cove_lines(edges: Edges) -> tuple[Ints, Ints, Ints]:
    """Return the lines that measure coves.

    A patch is measured where it meets what stands, or along its floor where it meets nothing that
    stands.

    Returns:
        The cove's patch (e,), vertices (e, 2) and the cove's triangle (e,) of each edge.
    """
    is_cove = edges.kinds == COVE
    rows = np.flatnonzero(~edges.counts & (is_cove[:, 0] | is_cove[:, 1]))
    side = np.where(is_cove[rows, 0], 0, 1)
    patch = edges.patches[rows, side]
    other = edges.kinds[rows, 1 - side]
    upper = is_upright(other)
    lower = ~upper & (other != COVE) & ~are_in(patch, patch[upper])
    kept = upper | lower
    rows, side = rows[kept], side[kept]
    return patch[kept], edges.ends[rows], edges.triangles[rows, side]


def _shared_out(mesh: Mesh, joined: Ints, lines: Sequence[Chain], triangles: Ints) -> Floats:
    """Return the area of the coves that each line measures [m2].

    What hangs together along one line is its; along several, each triangle goes to the nearest;
    a crumb without a line of its own goes to the nearest of its body.
    """
    is_cove = np.array([item.kind == "cove" for item in mesh.patches])
    mine = np.flatnonzero(is_cove[mesh.patch])
    number = np.full(len(mesh.triangles), -1)
    number[mine] = np.arange(len(mine))
    piece = components(len(mine), *number[joined].T)
    normals = mesh.doubled_areas[mine]
    area = np.sqrt(np.einsum("ij,ij->i", normals, normals)) / 2.0
    along: dict[int, set[int]] = defaultdict(set)
    for i, line in enumerate(lines):
        for at in np.unique(piece[number[triangles[line.edges]]]).tolist():
            along[at].add(i)
    sizes = np.zeros(len(lines))
    for at in piece[numbered(piece)[0]].tolist():
        here = np.flatnonzero(piece == at)
        body = mesh.patches[mesh.patch[mine[here[0]]]].body
        near = sorted(along[at]) or [
            i for i, line in enumerate(lines) if mesh.patches[line.sort].body == body
        ]
        if len(near) == 1:
            sizes[near[0]] += area[here].sum()
        elif near:
            centres = mesh.vertices[mesh.triangles[mine[here]]].mean(axis=1)
            which = _nearest(mesh.vertices, [lines[i].vertices for i in near], centres)
            sizes += np.bincount(np.array(near)[which], area[here], minlength=len(lines))
    return sizes


def _nearest(vertices: Floats, lines: list[Ints], centres: Floats) -> Ints:
    """Which line each point lies nearest to, in plan."""
    tree = shapely.STRtree([shapely.LineString(vertices[line, :2]) for line in lines])
    nearest: Ints = np.asarray(tree.nearest(shapely.points(centres[:, :2])), dtype=np.int64)
    return nearest


def _in_order(model: Model, runs: Sequence[R]) -> tuple[R, ...]:
    """Sort runs as reports list them: body, kind, station, letter."""
    rank = {body.name: k for k, body in enumerate(model.bodies)}

    def order(run: Run | CoveRun) -> tuple[int, int, int, str]:
        head, _, tail = run.number.partition(".")
        code, station = head.lstrip(ascii_letters), tail.rstrip(ascii_lowercase)
        return rank[run.body], int(code), int(station), tail[len(station) :]

    return tuple(sorted(runs, key=order))
