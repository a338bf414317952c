"""Corner coves: the upright coves and fillets in the inside corners of walls."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy as np

from ..arrays import Floats, Ints
from ..model import Body, Model
from ..plan.features.part import letters
from ..plan.rounds import Round
from ..quantities import CoveRun
from .chains import stations_on
from .numbers import run_code
from .zones import in_zones

KINDS = ("corner cove", "corner fillet")
"""Kinds of their surfaces, and of their runs."""


def corner_coves_of(model: Model) -> tuple[CoveRun, ...]:
    """Return each corner cove: its area, and its mean height as its length.

    What stands in a corner hides a part of its cove; the length is that of what shows.
    """
    return tuple(run for body in model.bodies for run in _of_body(model, body))


def _of_body(model: Model, body: Body) -> Iterator[CoveRun]:
    """Yield the corner coves of one body of water."""
    mesh = model.surface
    rounds = [item for item in model.rounds if item.body == body.name]
    named = np.array([item.kind in KINDS and item.body == body.name for item in mesh.patches])
    mine = np.flatnonzero(named[mesh.patch])
    if not len(mine):
        return
    corners = mesh.vertices[mesh.triangles[mine]]
    area = mesh.areas[mine]
    which = _nearest(rounds, corners.mean(axis=1))
    by_zone = in_zones(which, model.zone[mine], area, len(rounds))
    below = _on_floor_coves(model, mine, which)
    numbers = _numbers(model.outlines[body.name, "water"], body.mark, rounds)
    for k, item in enumerate(rounds):
        size = float(by_zone[k].sum())
        if not size:
            continue
        top = float(corners[which == k][..., 2].max())
        line = np.array([[*item.middle, top], [*item.middle, top - size / item.girth]])
        zones = tuple((by_zone[k] / item.girth).tolist()), tuple(by_zone[k].tolist())
        what = numbers[k], body.name, item.kind, item.arc.radius, line
        height = size / item.girth
        mortar = item.section * (height + below.get(k, 0.0))
        yield CoveRun(*what, height, size, *zones, mortar)


def _on_floor_coves(model: Model, mine: Ints, which: Ints) -> dict[int, float]:
    """Return how high corner coves stand above the bare floor that a cove before them hides [m].

    Args:
        model: The model.
        mine: (k,) triangles of corner coves.
        which: (k,) the corner cove of each.
    """
    mesh = model.surface
    number = np.full(len(mesh.triangles), -1)
    number[mine] = which
    ends, sides = mesh.pairs
    found: dict[int, list[float]] = defaultdict(list)
    for one, other in (sides, sides[::-1]):
        for i in np.flatnonzero(number[one] >= 0).tolist():
            ball = model.coves.get(mesh.patches[mesh.patch[other[i]]])
            if ball is not None and number[other[i]] < 0:
                middle = mesh.vertices[[ends[0][i], ends[1][i]]].mean(axis=0)
                floor = float(ball.floor.height(middle[None, :2])[0])
                found[int(number[one[i]])].append(float(middle[2]) - floor)
    return {k: sum(heights) / len(heights) for k, heights in found.items()}


def _nearest(rounds: Sequence[Round], points: Floats) -> Ints:
    """Return the corner cove whose middle is nearest to each point (k, 3), seen from above."""
    middles = np.array([item.middle for item in rounds])
    away = points[:, None, :2] - middles
    found: Ints = np.argmin(np.hypot(away[..., 0], away[..., 1]), axis=1)
    return found


def _numbers(outline: Floats, mark: str, rounds: Sequence[Round]) -> list[str]:
    """Return run numbers: the kind's code, and the station of each corner's middle.

    Args:
        outline: Of the body (n, 2) [m].
        mark: What its numbers begin with.
        rounds: Its corner coves.
    """
    middles = np.array([item.middle for item in rounds])
    at, _ = stations_on(outline, middles)
    found = [""] * len(middles)
    order = sorted(range(len(middles)), key=lambda k: (at[k], *middles[k].tolist()))
    for station, same in groupby(order, key=lambda k: int(at[k])):
        for n, k in enumerate(same):
            found[k] = f"{mark}{run_code(rounds[k].kind)}.{station}{letters(n)}"
    return found
