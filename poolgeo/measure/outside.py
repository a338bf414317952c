"""The outside of the shell: areas by kind, blinding and formwork, and its edges as runs.

Sense and angle of an outer edge are seen from outside the concrete: the foot of the wall on a
footing is *internal*, the wall's arris at the top and the edge of the soffit are *external*.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import groupby

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh, Patch
from ..model import Lie, Model
from ..plan.features.part import letters
from ..plan.keys import numbered
from ..plan.tolerances import CORNER
from ..quantities import OutsideRow, Run, Sense
from ..surface.bends import FLUSH, LEAST_BEND, turns
from ..surface.kinds import KINDS, OUTSIDE_KINDS, pair_code
from .chains import Chain, chains_of, stations_on, step_lengths
from .edges import PLUMB, SLIT
from .lines import LEAST_RUN

ALL = (*KINDS, *OUTSIDE_KINDS)

OUTER_RUNS = (
    "wall top/outer wall", "outer wall/soffit", "outer wall/outer wall", "soffit/soffit",
    "outer wall/footing top", "footing top/footing side", "footing side/soffit",
    "footing side/footing side", "footing top/footing top", "outer wall/beam underside",
    "soffit/soffit step", "soffit step/soffit step", "outer wall/soffit step",
    "wall end/outer wall", "footing side/soffit step", "wall top/beam underside",
    "wall end/beam underside",
)  # fmt: skip
"""Kinds of outer runs by their code, 1 first. New ones go to the end."""

CAST_ON = ("soffit", "soffit step")
"""Kinds that stand on the blinding where the shell is in the ground: they take no formwork."""

FROM_BELOW = ("beam underside", "soffit", "soffit step")
"""Kinds of a suspended shell that are seen, and looked after, from below."""


def outside_areas(model: Model) -> tuple[OutsideRow, ...]:
    """Return the areas of the outside of the shell by body and kind, and what follows from them.

    ``formwork`` is what the outside takes of it, where the pool file says how the shell stands:
    every face that is upright or looks down, less what is cast on the blinding in the ground.
    ``blinding`` follows the soffit; its strip beside the concrete is plan area.
    """
    mesh, setting = model.shell, model.design.pool.setting
    plan = np.abs(mesh.doubled_areas[:, 2]) / 2.0
    count = len(mesh.patches)
    sums = np.stack([np.bincount(mesh.patch, item, minlength=count) for item in (mesh.areas, plan)])
    found = {(body.name, kind): np.zeros(2) for body in model.bodies for kind in OUTSIDE_KINDS}
    for patch, pair in zip(mesh.patches, sums.T, strict=True):
        if patch.kind in OUTSIDE_KINDS:
            found[patch.body, patch.kind] += pair
    rows = [OutsideRow(*name, *pair.tolist()) for name, pair in found.items() if pair[0] > 0.0]
    if setting is None:
        return tuple(rows)
    left_out = ("footing top", *(CAST_ON if setting == "in ground" else ()))
    shown = [row for row in rows if row.kind not in left_out]
    derived = [_sum("formwork", shown)]
    if setting == "in ground":
        derived.append(_blinding(model, rows))
    else:
        derived.append(_sum("seen from below", [row for row in rows if row.kind in FROM_BELOW]))
    return (*rows, *derived)


def _sum(kind: str, rows: list[OutsideRow]) -> OutsideRow:
    """Add rows up."""
    sizes = sum(row.area for row in rows), sum(row.plan_area for row in rows)
    return OutsideRow("", kind, *sizes)


def _blinding(model: Model, rows: list[OutsideRow]) -> OutsideRow:
    """Return the blinding under the soffit, and beside it as far as the pool file says."""
    lines = [
        model.outlines.get((body.name, "base"), model.outlines[body.name, "shell"])
        for body in model.bodies
    ]
    under = shapely.union_all([shapely.Polygon(line) for line in lines])
    grown = shapely.buffer(under, model.design.pool.shell.blinding, join_style="mitre")
    strip = float(grown.area - under.area)
    soffit = _sum("blinding", [row for row in rows if row.kind == "soffit"])
    return OutsideRow("", "blinding", soffit.area + strip, soffit.plan_area + strip)


def outside_runs(model: Model) -> tuple[Run, ...]:
    """Chain the edges of the outside into numbered runs.

    Args:
        model: The model.

    Returns:
        Runs with a face of the inside on one side at most; numbers such as ``PX2.35``. None where
        the pool file does not say how the shell stands: then nobody works on its outside.
    """
    if model.design.pool.setting is None:
        return ()
    mesh = model.shell
    number = {kind: i for i, kind in enumerate(ALL)}
    kind_of = np.array([number[item.kind] for item in mesh.patches])
    ends, kinds, patches, angle = _edges(mesh, model.lies, kind_of)
    _, sort = numbered((patches[0] * len(mesh.patches) + patches[1]) * 2 + (angle > 180.0))
    found = []
    for chain in chains_of(ends.T, sort, mesh.vertices, CORNER):
        steps = step_lengths(mesh.vertices[chain.vertices])
        length = float(steps.sum())
        if length <= LEAST_RUN:
            continue
        first = chain.edges[0]
        pair, sides = kinds[:, first].tolist(), patches[:, first].tolist()
        body = mesh.patches[sides[1 if pair[0] < len(KINDS) else 0]].body
        mean = float(angle[chain.edges] @ steps) / length
        found.append(_run(mesh, chain, body, f"{ALL[pair[0]]}/{ALL[pair[1]]}", length, mean))
    return _with_numbers(model, found)


def _edges(
    mesh: Mesh, lies: Mapping[Patch, Lie | None], kind_of: Ints
) -> tuple[Ints, Ints, Ints, Floats]:
    """Find the edges of the outside.

    Returns:
        (2, e) vertices, (2, e) kinds and (2, e) patches on both sides, lower kinds first, and (e,)
        the angle through what is outside [deg].
    """
    ends, sides = mesh.pairs
    patches = mesh.patch.take(sides)
    kinds = kind_of[patches]
    outside = (kinds >= len(KINDS)).any(axis=0)
    same = patches[0] == patches[1]
    within = np.flatnonzero(outside & same)
    x, y, _ = (mesh.vertices[ends[0, within]] - mesh.vertices[ends[1, within]]).T
    plumb = within[(np.abs(x) < PLUMB) & (np.abs(y) < PLUMB)]
    rows = np.concatenate([np.flatnonzero(outside & ~same), plumb])
    ends, sides, patches, kinds = ends[:, rows], sides[:, rows], patches[:, rows], kinds[:, rows]
    angle, sound = turns(mesh, ends, sides, lies)
    bend = np.abs(180.0 - angle)
    stands = mesh.doubled_areas[:, 2] == 0.0  # between two columns exactly
    least = np.where(stands[sides].all(axis=0), LEAST_BEND, FLUSH)
    kept: Bools = sound & (bend > least) & (bend < SLIT)
    swap = (kinds[0] > kinds[1]) | ((kinds[0] == kinds[1]) & (patches[0] > patches[1]))
    kinds, patches = (np.where(swap, item[::-1], item)[:, kept] for item in (kinds, patches))
    return ends[:, kept], kinds, patches, angle[kept]


def _run(mesh: Mesh, chain: Chain, body: str, kind: str, length: float, angle: float) -> Run:
    """Return the run of a chain, not numbered yet; nothing outside is wet."""
    sense: Sense = "external" if angle > 180.0 else "internal"
    dry = np.zeros(len(chain.edges), dtype=bool)
    points, no_zone = mesh.vertices[chain.vertices], np.zeros(0, dtype=np.int64)
    return Run("", body, sense, kind, points, dry, no_zone, length, 0.0, (), angle)


def _code(kind: str) -> int:
    return OUTER_RUNS.index(kind) + 1 if kind in OUTER_RUNS else pair_code(kind)


def _with_numbers(model: Model, runs: list[Run]) -> tuple[Run, ...]:
    """Number runs by their kind and by where they start, as those inside are."""
    marks = {body.name: body.mark for body in model.bodies}
    keyed = []
    for body in sorted({run.body for run in runs}):
        mine = [run for run in runs if run.body == body]
        starts = np.array([run.points[0, :2] for run in mine])
        stations, away = stations_on(model.outlines[body, "water"], starts)
        for run, station, off in zip(mine, stations.tolist(), away.tolist(), strict=True):
            middle = np.round(run.points.mean(axis=0), 3).tolist()
            place = (body, _code(run.kind), station)
            keyed.append((place, (round(off, 3), middle[2], *middle[:2]), run))
    keyed.sort(key=lambda item: item[:2])
    found = []
    for (body, code, station), same in groupby(keyed, key=lambda item: item[0]):
        for k, (_, _, run) in enumerate(same):
            number = f"{marks[body]}X{code}.{station}{letters(k)}"
            found.append(replace(run, number=number))
    return tuple(found)
