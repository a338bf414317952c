"""Edge runs and cove runs, with their stable numbers."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from ..model import CoveRun, Floats, Ints, Model, Run, Sense
from ..plan.tolerances import CORNER, GRID
from ..surface.kinds import KINDS
from .chains import Chain, chains_of
from .edges import UPRIGHT, Edges

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
    key = np.column_stack([edges.kinds[rows], edges.external[rows], edges.patches[rows]])
    _, sort = np.unique(key, axis=0, return_inverse=True)
    found: dict[tuple[str, str], list[Run]] = defaultdict(list)
    for chain in chains_of(edges.ends[rows], sort.ravel(), model.surface.vertices, CORNER):
        mine = rows[chain.edges]
        kinds, patches = edges.kinds[mine[0]], edges.patches[mine[0]]
        body = _body(names[patches[0]].body, names[patches[1]].body, kinds)
        run = _run(model, edges, chain, mine, body, levels[body])
        if run.length > LEAST_RUN:
            found[body, run.kind].append(run)
    return tuple(run for item in sorted(found) for run in _numbered(item, found[item]))


def _body(first: str, second: str, kinds: Ints) -> str:
    """A run belongs to the water of its standing face, or of the first of two."""
    if first == second:
        return first
    standing = [int(kind) in UPRIGHT for kind in kinds]
    if standing[1] and not standing[0]:
        return second
    return min(first, second) if all(standing) else first


def _run(model: Model, edges: Edges, chain: Chain, mine: Ints, body: str, level: float) -> Run:
    points = model.surface.vertices[chain.vertices]
    lengths = np.sqrt(np.sum(np.diff(points, axis=0) ** 2, axis=1))
    wet = (points[1:, 2] + points[:-1, 2]) / 2.0 < level - GRID
    length = float(lengths.sum())
    sense: Sense = "external" if edges.external[mine[0]] else "internal"
    kind = "/".join(KINDS[i] for i in edges.kinds[mine[0]])
    mean = float(np.dot(edges.angle[mine], lengths)) / max(length, 1e-12)
    return Run("", body, sense, kind, points, wet, length, float(lengths[wet].sum()), mean)


def _numbered(item: tuple[str, str], runs: list[Run]) -> list[Run]:
    body, kind = item
    ordered = sorted(runs, key=lambda run: tuple(np.round(run.points.mean(axis=0), 3).tolist()))
    head = f"{body_mark(body)}{run_code(kind)}"
    return [
        Run(f"{head}.{i + 1}", run.body, run.sense, run.kind, run.points, run.wet, run.length,
            run.wet_length, run.angle)
        for i, run in enumerate(ordered)
    ]  # fmt: skip


def cove_runs_of(model: Model, edges: Edges) -> tuple[CoveRun, ...]:
    """Measure each stretch of cove along its upper line (its lower where that is hidden)."""
    mesh = model.surface
    cove = KINDS.index("cove")
    p, q, r = (mesh.vertices[mesh.triangles[:, i]] for i in range(3))
    area = np.linalg.norm(np.cross(q - p, r - p), axis=1) / 2.0
    found: dict[str, list[CoveRun]] = defaultdict(list)
    for number, patch in enumerate(mesh.patches):
        mine = np.flatnonzero(mesh.patch == number)
        if patch.kind != "cove" or not len(mine):
            continue
        touching = ~edges.counts & (edges.patches == number).any(axis=1)
        other = np.where(edges.kinds[:, 0] == cove, edges.kinds[:, 1], edges.kinds[:, 0])
        upper = touching & np.isin(other, list(UPRIGHT))
        lower = touching & ~upper & (other != cove)
        ends = edges.ends[upper if upper.any() else lower]
        chains = chains_of(ends, np.zeros(len(ends), dtype=np.int64), mesh.vertices, np.pi)
        if not chains:
            continue
        lines = [chain.vertices for chain in chains]
        shares = _nearest(mesh.vertices, lines, (p[mine] + q[mine] + r[mine]) / 3.0)
        for k, line in enumerate(lines):
            points = mesh.vertices[line]
            length = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
            found[patch.body].append(
                CoveRun("", patch.body, model.cove_radii[patch.body], points, length,
                        float(area[mine[shares == k]].sum()))
            )  # fmt: skip
    runs = []
    for body in sorted(found):
        ordered = sorted(found[body], key=lambda run: tuple(np.round(run.points.mean(axis=0), 3)))
        runs += [
            CoveRun(f"{body_mark(body)}{run_code('cove')}.{i + 1}", run.body, run.radius,
                    run.points, run.length, run.area)
            for i, run in enumerate(ordered)
        ]  # fmt: skip
    return tuple(runs)


def _nearest(vertices: Floats, lines: list[Ints], centres: Floats) -> Ints:
    """Which line each point lies nearest to, in plan."""
    if len(lines) == 1:
        return np.zeros(len(centres), dtype=np.int64)
    gaps = [
        np.min(np.sum((centres[:, None, :2] - vertices[line][None, :, :2]) ** 2, axis=2), axis=1)
        for line in lines
    ]
    nearest: Ints = np.argmin(np.array(gaps), axis=0)
    return nearest
