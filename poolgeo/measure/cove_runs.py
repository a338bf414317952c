"""Cove runs: how long each stretch of cove is, and how large."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..model import Model
from ..plan.arrangement import components
from ..plan.canal import Canal
from ..plan.keys import are_in, numbered
from ..quantities import CoveRun
from ..surface.kinds import ROUNDED
from .chains import Chain, chains_of, step_lengths
from .edges import AT_WALL, Edges, is_lofted
from .lines import LEAST_RUN, Lines, levels_of
from .mortar import contacts_of, under_coves
from .numbers import in_order, numbers_of
from .zones import in_zones, zones_of


def cove_runs_of(model: Model, edges: Edges) -> tuple[CoveRun, ...]:
    """Measure each stretch of cove along its upper line (its lower where that is hidden)."""
    mesh, levels = model.surface, levels_of(model)
    patches, ends, triangles, beside, at_wall = _cove_lines(edges)
    chains = chains_of(ends, patches, mesh.vertices, np.pi)
    lines = Lines(mesh, chains)
    kept = np.flatnonzero(lines.length > LEAST_RUN).tolist()
    at, which = _shared_out(model, edges.joined, [chains[i] for i in kept], triangles)
    shares = in_zones(which, model.zone[at], mesh.areas[at], len(kept)).tolist()
    centres = mesh.vertices[mesh.triangles[at]].mean(axis=1)
    upper = np.array([at_wall[chains[i].edges[0]] for i in kept], dtype=bool)
    contacts = contacts_of(centres, which, [lines.points_of(i) for i in kept], upper)
    mortar = np.bincount(which, under_coves(model, at, contacts), len(kept)).tolist()
    sizes = dict(zip(kept, zip(shares, mortar, strict=True), strict=True))
    body_of = [mesh.patches[item.sort].body for item in chains]
    cuts = lines.of_steps([levels[body] for body in body_of])
    zone = zones_of(lines.middle_heights, cuts, model.zone[beside[lines.edges]])
    by_zone = lines.in_zones(zone).tolist()
    found = []
    for body in sorted({body_of[i] for i in kept}):
        mine = [i for i in kept if body_of[i] == body]
        kinds = [mesh.patches[chains[i].sort].kind for i in mine]
        numbers = numbers_of(model, body, kinds, lines, mine)
        for i, kind, number in zip(mine, kinds, numbers, strict=True):
            areas, behind = sizes[i]
            area = sum(areas)
            if area == 0.0:
                continue  # a line of crumbs: its cells count to the run beside it
            zones = tuple(by_zone[i]), tuple(areas)
            points, length = lines.points_of(i), float(lines.length[i])
            radius = _radius(model.coves[mesh.patches[chains[i].sort]], points)
            line = chains[i].vertices if upper[kept.index(i)] else chains[i].vertices[:0]
            what = number, body, kind, radius, points
            found.append(CoveRun(*what, length, area, *zones, behind, line))
    return in_order(model, found)


def _radius(ball: Canal, points: Floats) -> float:
    """Return the mean radius of a cove along a line (k, 3) [m]."""
    if ball.is_even:
        return ball.radius
    steps = step_lengths(points)
    at = ball.radius_at((points[1:, :2] + points[:-1, :2]) / 2.0)[:, 0]
    return float(at @ steps / steps.sum())


def _cove_lines(edges: Edges) -> tuple[Ints, Ints, Ints, Ints, Bools]:
    """Return the lines that measure coves.

    A patch is measured along its wall, or along its floor where its wall is hidden. The sections
    in which an open cove ends are no part of its length.

    Returns:
        The cove's patch (e,), vertices (e, 2), the cove's triangle (e,) and both (e, 2) of each
        edge; whether it lies on a wall (e,).
    """
    rows = np.flatnonzero(edges.along)
    side = np.where(is_lofted(edges.kinds[rows, 0]), 0, 1)
    patch = edges.patches[rows, side]
    upper = edges.along[rows] == AT_WALL
    kept = upper | ~are_in(patch, patch[upper])
    rows, side = rows[kept], side[kept]
    both = edges.triangles[rows]
    return patch[kept], edges.ends[rows], edges.triangles[rows, side], both, upper[kept]


def _shared_out(
    model: Model, joined: Ints, lines: Sequence[Chain], triangles: Ints
) -> tuple[Ints, Ints]:
    """Share the triangles of coves out to the lines that measure them.

    What hangs together along one line is its; along several, each triangle goes to the nearest;
    a crumb without a line of its own goes to the nearest of its body.

    Returns:
        (k,) triangles, and (k,) the line of each.
    """
    mesh = model.surface
    is_cove = np.array([item.kind in ROUNDED for item in mesh.patches])
    mine = np.flatnonzero(is_cove[mesh.patch])
    number = np.full(len(mesh.triangles), -1)
    number[mine] = np.arange(len(mine))
    piece = components(len(mine), *number[joined].T)
    along: dict[int, set[int]] = defaultdict(set)
    for i, line in enumerate(lines):
        for at in np.unique(piece[number[triangles[line.edges]]]).tolist():
            along[at].add(i)
    found = np.full(len(mine), -1)
    for at in piece[numbered(piece)[0]].tolist():
        here = np.flatnonzero(piece == at)
        body = mesh.patches[mesh.patch[mine[here[0]]]].body
        near = sorted(along[at]) or [
            i for i, line in enumerate(lines) if mesh.patches[line.sort].body == body
        ]
        found[here] = near[0] if len(near) == 1 else -1
        if len(near) > 1:
            centres = mesh.vertices[mesh.triangles[mine[here]]].mean(axis=1)
            nearest = _nearest(mesh.vertices, [lines[i].vertices for i in near], centres)
            found[here] = np.array(near)[nearest]
    kept = found >= 0
    return mine[kept], found[kept]


def _nearest(vertices: Floats, lines: list[Ints], centres: Floats) -> Ints:
    """Which line each point lies nearest to, in plan."""
    tree = shapely.STRtree([shapely.LineString(vertices[line, :2]) for line in lines])
    nearest: Ints = np.asarray(tree.nearest(shapely.points(centres[:, :2])), dtype=np.int64)
    return nearest
