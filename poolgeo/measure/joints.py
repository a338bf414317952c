"""Movement joints as runs: what of each lies on which kind of surface."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ..model import JointCut, Model
from ..quantities import JointRun
from .chains import chains_of, step_lengths
from .lines import LEAST_RUN
from .zones import in_zones


def joint_runs(model: Model) -> tuple[JointRun, ...]:
    """Return the runs of all movement joints, each in order from its start to its end."""
    movement = {f"J{k}": item.movement for k, item in enumerate(model.design.pool.joints, 1)}
    return tuple(
        replace(run, movement=movement[cut.number])
        for cut in model.joints for run in runs_along(model, cut)
    )  # fmt: skip


def runs_along(model: Model, cut: JointCut) -> list[JointRun]:
    """Return the runs of one joint: maximal polylines over one kind of surface of one body."""
    patches = model.surface.patches
    sorts = sorted({(item.body, item.kind) for item in patches})
    sort_of = np.array([sorts.index((item.body, item.kind)) for item in patches])
    sort = sort_of[model.surface.patch[cut.triangles]]
    wet, zone = model.wet[cut.triangles], model.zone[cut.triangles]
    found = []
    for chain in chains_of(cut.ends, sort, cut.points, np.pi):
        points = cut.points[chain.vertices]
        steps = step_lengths(points)
        length = float(steps.sum())
        if length <= LEAST_RUN:
            continue
        edges = chain.edges
        place = float(cut.place[edges] @ steps) / length
        if cut.place[edges[0]] > cut.place[edges[-1]]:
            points, edges, steps = points[::-1], edges[::-1], steps[::-1]
        (zones,) = in_zones(np.zeros(len(edges), dtype=np.int64), zone[edges], steps, 1).tolist()
        wet_length = float(steps @ wet[edges])
        height = float(points[:, 2].mean())
        sizes = length, wet_length, tuple(zones)
        row = (*sorts[chain.sort], points, *sizes, wet[edges], zone[edges])
        found.append(((round(place, 4), -height), row))
    found.sort(key=lambda item: item[0])
    return [
        JointRun(f"{cut.number}.{n}", cut.name, cut.width, *row)
        for n, (_, row) in enumerate(found, 1)
    ]
