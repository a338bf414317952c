"""Edge runs and cove runs, with their stable numbers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
import shapely

from ..model import CoveRun, Floats, Ints, Mesh, Model, Run, Sense
from ..plan.arrangement import components
from ..plan.shapes import nearest_on
from ..plan.tolerances import CORNER, GRID
from ..surface.kinds import KINDS
from .chains import Chain, chains_of, step_lengths
from .edges import COVE, UPRIGHT, Edges

COMMON = (
    "floor/floor", "floor/wall", "wall/wall", "wall/wall top", "floor/riser", "floor/step side",
    "wall/tread", "tread/riser", "tread/step side", "riser/step side", "wall/riser",
    "wall/step side", "floor/bench face", "wall/bench top", "bench top/bench face",
    "wall/bench face", "bench face/bench face", "floor/dam wall face", "wall/dam wall face",
    "dam wall face/dam wall top", "spa wall/dam wall top", "spa floor/spa wall",
    "spa wall/seat top", "seat top/seat face", "spa floor/seat face", "spa wall/spillway",
    "dam wall face/spillway", "dam wall top/spillway", "cove/cove", "cove/riser",
    "cove/step side", "cove/bench face", "cove/dam wall face", "spa wall/wall top", "cove",
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


def body_mark(body: str) -> str:
    """Return the letter that stands for a body in run numbers."""
    return body[0].upper()


def runs_of(model: Model, edges: Edges) -> tuple[Run, ...]:
    """Chain the edges into numbered runs."""
    names = model.surface.patches
    levels = {body.name: body.level for body in model.bodies}
    rows = np.flatnonzero(edges.counts)
    one, other = edges.patches[rows].T  # patches know their kinds
    key = (one * (int(other.max(initial=0)) + 1) + other) * 2 + edges.external[rows]
    _, sort = np.unique(key, return_inverse=True)
    found: dict[str, list[_Draft]] = defaultdict(list)
    for chain in chains_of(edges.ends[rows], sort, model.surface.vertices, CORNER):
        points = model.surface.vertices[chain.vertices]
        lengths = step_lengths(points)
        if (length := float(lengths.sum())) > LEAST_RUN:
            mine = rows[chain.edges]
            first, other = edges.kinds[mine[0]].tolist()
            one, two = (names[i].body for i in edges.patches[mine[0]].tolist())
            body = _body(one, two, first, other)
            kind = f"{KINDS[first]}/{KINDS[other]}"
            found[body].append(_Draft(kind, mine, points, lengths, length))
    runs = []
    for body, drafts in found.items():
        kinds = [item.kind for item in drafts]
        numbers = _numbers(model, body, kinds, [item.points for item in drafts])
        runs += [
            _run(edges, item, name, body, levels[body])
            for item, name in zip(drafts, numbers, strict=True)
        ]
    return tuple(sorted(runs, key=_order))


@dataclass(frozen=True)
class _Draft:
    """A run without its number: its kind, its edges, its points, its steps and their sum [m]."""

    kind: str
    edges: Ints
    points: Floats
    steps: Floats
    length: float


def _body(body: str, other_body: str, kind: int, other_kind: int) -> str:
    """A run belongs to the water of its standing face, or of the first of two."""
    if body == other_body:
        return body
    stands, other_stands = kind in UPRIGHT, other_kind in UPRIGHT
    if other_stands and not stands:
        return other_body
    return min(body, other_body) if stands and other_stands else body


def _run(edges: Edges, draft: _Draft, number: str, body: str, level: float) -> Run:
    z, steps = draft.points[:, 2], draft.steps
    wet = z[1:] + z[:-1] < 2.0 * (level - GRID)
    sense: Sense = "external" if edges.external[draft.edges[0]] else "internal"
    mean = float(edges.angle[draft.edges] @ steps) / draft.length
    return Run(number, body, sense, draft.kind, draft.points, wet, draft.length,
               float(wet @ steps), mean)  # fmt: skip


def _numbers(model: Model, body: str, kinds: Sequence[str], points: Sequence[Floats]) -> list[str]:
    """Number the runs of one body by kind and by where they start.

    The number is the station along the body's outline, in decimetres, of the outline point nearest
    to the run's first point; letters tell runs apart that start at one station (nearest to the
    outline first, then lowest). So a number does not move when something else in the pool changes.

    Returns:
        Numbers in the order of the runs.
    """
    outline = model.outlines[body]
    lengths = step_lengths(np.concatenate([outline, outline[:1]]))
    edge, share, away = nearest_on(outline, np.array([item[0, :2] for item in points]))
    at = (np.cumsum(lengths) - lengths)[edge] + share * lengths[edge]
    stations, away = np.rint(at * 10.0).astype(int), np.round(away, 3)
    size = np.array([len(item) for item in points])
    sums = np.add.reduceat(np.concatenate(points), np.cumsum(size) - size)
    middles = np.round(sums / size[:, None], 3)
    codes = np.array([run_code(kind) for kind in kinds])
    order = np.lexsort((middles[:, 1], middles[:, 0], middles[:, 2], away, stations, codes))
    found = [""] * len(points)
    for (code, station), same in groupby(order.tolist(), key=lambda i: (codes[i], stations[i])):
        for k, i in enumerate(same):
            found[i] = f"{body_mark(body)}{code}.{station}{_letters(k)}"
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
    lines = [
        chain for chain in chains_of(ends, patches, mesh.vertices, np.pi)
        if step_lengths(mesh.vertices[chain.vertices]).sum() > LEAST_RUN
    ]  # fmt: skip
    sizes = _shared_out(mesh, edges.joined, lines, triangles)
    found = []
    for body in sorted({mesh.patches[line.sort].body for line in lines}):
        mine_here = [i for i, line in enumerate(lines) if mesh.patches[line.sort].body == body]
        points = [mesh.vertices[lines[i].vertices] for i in mine_here]
        numbers = _numbers(model, body, ["cove"] * len(points), points)
        for i, number_text, line in zip(mine_here, numbers, points, strict=True):
            if sizes[i] == 0.0:
                continue  # a line of crumbs: its cells count to the run beside it
            length = float(step_lengths(line).sum())
            radius = model.cove_radii[body]
            found.append(CoveRun(number_text, body, radius, line, length, float(sizes[i])))
    return tuple(sorted(found, key=_order))


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
    upper = np.isin(other, list(UPRIGHT))
    lower = ~upper & (other != COVE) & ~np.isin(patch, patch[upper])
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
    for at in np.unique(piece).tolist():
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


def _order(run: Run | CoveRun) -> tuple[str, int, int, str]:
    """Return the key that sorts runs as reports list them: body, kind, station, letter."""
    head, _, tail = run.number.partition(".")
    station = tail.rstrip("abcdefghijklmnopqrstuvwxyz")
    return run.body, int(head[1:]), int(station), tail[len(station) :]
