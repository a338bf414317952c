"""Corner coves: the upright coves in the inside corners of the pool's walls."""

from __future__ import annotations

from itertools import groupby

import numpy as np

from ..mesh import Floats, Ints
from ..model import Model
from ..plan.curves import Arc
from ..plan.features.part import letters
from ..quantities import CoveRun
from .chains import stations_on
from .runs import run_code
from .zones import in_zones

KIND = "corner cove"
"""Kind of their surface, and of their runs."""


def corner_coves_of(model: Model) -> tuple[CoveRun, ...]:
    """Return each corner cove: its area, and its mean height as its length.

    What stands in a corner hides a part of its cove; the length is that of what shows.
    """
    mesh = model.surface
    kinds = np.array([item.kind == KIND for item in mesh.patches])
    mine = np.flatnonzero(kinds[mesh.patch])
    if not len(mine):
        return ()
    corners = mesh.vertices[mesh.triangles[mine]]
    area = mesh.areas[mine]
    which = _nearest(model.rounds, corners.mean(axis=1))
    by_zone = in_zones(which, model.zone[mine], area, len(model.rounds))
    numbers = _numbers(model)
    found = []
    for k, arc in enumerate(model.rounds):
        if not by_zone[k].sum():
            continue
        girth = arc.radius * abs(arc.sweep)
        top = float(corners[which == k][..., 2].max())
        middle = arc.at(np.array([0.5]))[0]
        size = float(by_zone[k].sum())
        line = np.array([[*middle, top], [*middle, top - size / girth]])
        zones = tuple((by_zone[k] / girth).tolist()), tuple(by_zone[k].tolist())
        found.append(
            CoveRun(numbers[k], "pool", KIND, arc.radius, line, size / girth, size, *zones)
        )
    return tuple(found)


def _nearest(rounds: tuple[Arc, ...], points: Floats) -> Ints:
    """Return the arc whose middle is nearest to each point (k, 3), seen from above."""
    middles = np.array([arc.at(np.array([0.5]))[0] for arc in rounds])
    away = points[:, None, :2] - middles
    found: Ints = np.argmin(np.hypot(away[..., 0], away[..., 1]), axis=1)
    return found


def _numbers(model: Model) -> list[str]:
    """Return run numbers: the kind's code, and the station of each arc's middle."""
    middles = np.array([arc.at(np.array([0.5]))[0] for arc in model.rounds])
    at, _ = stations_on(model.outlines["pool", "water"], middles)
    found = [""] * len(middles)
    order = sorted(range(len(middles)), key=lambda k: (at[k], *middles[k].tolist()))
    for station, same in groupby(order, key=lambda k: int(at[k])):
        for n, k in enumerate(same):
            found[k] = f"{model.bodies[0].mark}{run_code(KIND)}.{station}{letters(n)}"
    return found
