r"""Coping stones along the inner edge of the wall tops.

::

      ________________      A stone stands out over the water by its overhang: its back lies
     |\_______________      width - overhang behind the edge. At a corner stones are mitred. There
     | |   back             a line d behind the edge is d tan(turn / 2) longer in either run about
     | |                    water that is convex, as much shorter about an island's corner.
     | |______ edge         On a curve it is d by the turn longer, or shorter.

All runs are walked with the water on their left. Half of the turn where two runs meet is either's.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..arrays import Floats
from ..design.finishes import CopingStones
from ..quantities import Run
from ..surface.kinds import EASING, STANDING, WALLS
from .curves import CORNER, plan_turns, polyline, thinned
from .edges import whole
from .rows import CopingRow

FACES = frozenset(WALLS) | (STANDING & EASING)
"""Kinds of faces at whose top stones lie."""

SHARPEST = np.radians(150.0)
"""[rad] A mitre is taken as no sharper than this: its point would reach too far."""

TOGETHER = 4
"""[decimals of m] Runs meet where their ends agree as far."""


@dataclass(frozen=True)
class Edge:
    """The inner edge of a wall top, with the water on its left.

    Args:
        run: As measured.
        points: (n, 2) plan points [m].
        closed: Whether it comes back to its start.
        length: True length [m].
        curved: What of it follows a curve [m].
        turns: Turns within it, plus towards the water [rad].
    """

    run: Run
    points: Floats
    closed: bool
    length: float
    curved: float
    turns: Floats


def coping_of(runs: Sequence[Run], stones: CopingStones, tolerance: float) -> Iterator[CopingRow]:
    """Yield the stones, run by run.

    Args:
        runs: Edge runs.
        stones: As the pool file has them.
        tolerance: With which curves are flattened [m].
    """
    edges = stone_edges(runs, stones, tolerance)
    at_ends = _turns_at_ends(edges)
    laid = ordered = 0
    for i, edge in enumerate(edges):
        row = _row(edge, at_ends[i], stones)
        laid += row.stones
        more = whole(laid * (1.0 + stones.waste)) - ordered  # rounded up once, over all runs
        ordered += more
        yield replace(row, ordered=more)


def stone_edges(runs: Sequence[Run], stones: CopingStones, tolerance: float) -> list[Edge]:
    """Return the edges along which stones lie.

    Args:
        runs: Edge runs.
        stones: As the pool file has them.
        tolerance: With which curves are flattened [m].
    """
    return [
        _edge(run, tolerance)
        for run in runs
        if _has_coping(run) and (stones.bodies is None or run.body in stones.bodies)
    ]


def _has_coping(run: Run) -> bool:
    """Whether a wall, or a cove or fillet in its corner, ends at its top along a run."""
    kinds = set(run.kind.split("/"))
    return run.sense == "external" and "wall top" in kinds and bool(kinds & FACES)


def _edge(run: Run, tolerance: float) -> Edge:
    """Return a run as the edge of a wall top.

    The vector half way between the normals of wall and wall top shows on which side the water is.
    """
    plan = run.points[:, :2]
    step = np.diff(plan, axis=0)
    between = run.between[:, :2] if len(run.between) else np.zeros_like(step)
    left = float(np.sum(step[:, 0] * between[:, 1] - step[:, 1] * between[:, 0]))
    closed = len(plan) > 3 and bool(np.array_equal(run.points[0], run.points[-1]))
    plan = plan if left >= 0.0 else plan[::-1]
    line = polyline(run.points)
    curved = min(float(line.steps[line.chords(tolerance)].sum()), run.length)
    return Edge(run, plan, closed, run.length, curved, plan_turns(plan, closed=closed))


def _turns_at_ends(edges: Sequence[Edge]) -> list[list[float]]:
    """Return for each edge the turns at its ends [rad], as far as another one goes on there."""
    starts: dict[tuple[float, ...], list[int]] = defaultdict(list)
    stops: dict[tuple[float, ...], list[int]] = defaultdict(list)
    for i, edge in enumerate(edges):
        if not edge.closed:
            heights = edge.run.points[[0, -1], 2].round(TOGETHER)
            for ends, k in ((starts, 0), (stops, -1)):
                x, y = edge.points[k].round(TOGETHER) + 0.0
                ends[x, y, float(heights[0])].append(i)
    found: list[list[float]] = [[] for _ in edges]
    for place, before in stops.items():
        after = starts.get(place, [])
        if len(before) == len(after) == 1:
            one, other = edges[before[0]], edges[after[0]]
            corner = thinned(one.points)[-2], one.points[-1], thinned(other.points)[1]
            turn = float(plan_turns(np.array(corner), closed=False)[0])
            found[before[0]].append(turn)
            found[after[0]].append(turn)
    return found


def _row(edge: Edge, at_ends: Sequence[float], stones: CopingStones) -> CopingRow:
    """Return the stones of an edge.

    They have to reach along its longest line: along backs that are mitred, else along the edge.
    """
    ends = np.array(at_ends)
    corner, corner_at_end = np.abs(edge.turns) >= CORNER, np.abs(ends) >= CORNER
    smooth = float(edge.turns[~corner].sum() + ends[~corner_at_end].sum() / 2.0)
    mitres = 2.0 * _mitres(edge.turns[corner]) + _mitres(ends[corner_at_end])
    behind = stones.width - stones.overhang
    centre, outer = (
        max(edge.length + off * (smooth + mitres), 0.0)
        for off in (stones.width / 2.0 - stones.overhang, behind)
    )
    module = stones.length + stones.joint
    count = whole((edge.length + max(behind * mitres, 0.0)) / module)
    outside = None
    if edge.curved > 0.0:
        front = max(edge.curved - stones.overhang * smooth, stones.length)
        outside = stones.joint + module * stones.width * smooth / front
    return CopingRow(
        edge.run.number, edge.run.body, edge.length, edge.length - edge.curved, edge.curved,
        centre, outer, float(np.degrees(edge.turns.sum())), count, outside,
        0,
    )  # fmt: skip


def _mitres(turns: Floats) -> float:
    """Return by how much a line is longer at corners, by how far it lies behind the edge [-]."""
    return float(np.tan(np.clip(turns, -SHARPEST, SHARPEST) / 2.0).sum())
