"""Nosings along external edges, and finishes that hold in the waterline band only."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from ..arrays import Ints
from ..design.finishes import Finish
from ..jointing.regions import finish_at
from ..measure.chains import step_lengths
from ..mesh import ZONES
from ..quantities import Run
from ..surface.finishes import group_of
from ..surface.kinds import STANDING
from .areas import Key
from .rows import BandRow, FinishArea, NosingRow

ALMOST = 1e-9
"""[-] Whole numbers are whole but for rounding."""


def whole(count: float) -> int:
    """Return a number of pieces rounded up."""
    return math.ceil(count - ALMOST)


def nosings_of(runs: Sequence[Run], finishes: Sequence[Finish]) -> Iterator[NosingRow]:
    """Yield the nosings, run by run.

    The finish on top of the edge counts, in the zone and under water or not as the edge is. Each
    piece has a joint of the finish.

    Args:
        runs: Edge runs.
        finishes: In the order of the pool file.
    """
    for run in runs:
        if run.sense != "external" or not _has_nose(run.kind):
            continue
        owner, group, steps = _finishes_along(run, finishes), group_of(run.kind), None
        for i in np.unique(owner[owner >= 0]).tolist():
            item = finishes[i]
            if item.nosing is None or group not in item.nosing.at:
                continue
            steps = step_lengths(run.points) if steps is None else steps
            mine = owner == i
            length = float(steps[mine].sum())
            count = whole(length / (item.nosing.length + (item.joint or 0.0)))
            yield NosingRow(run.number, item.name, run.body, run.kind, length, count)


def _has_nose(kind: str) -> bool:
    """Whether a top ends over a face at an edge, or walls or pieces of the floor meet there."""
    # upright corners of steps, and breaks within a top, take no nosing
    stands = [part in STANDING for part in kind.split("/")]
    return stands[0] != stands[-1] or group_of(kind) in {"wall corners", "floor breaks"}


def _finishes_along(run: Run, finishes: Sequence[Finish]) -> Ints:
    """Return the finishes on top of an edge, beside it where it is upright.

    Args:
        run: Of the edge.
        finishes: In the order of the pool file.

    Returns:
        (k,) their numbers for its segments.
    """
    lying = [kind for kind in run.kind.split("/") if kind not in STANDING]
    kind = (lying or run.kind.split("/"))[0]
    body = next((patch.body for patch in run.patches if patch.kind == kind), run.body)
    places = run.zone * 2 + run.wet
    unique, place = np.unique(places, return_inverse=True)
    found = [
        finish_at(finishes, kind, body, ZONES[key // 2], wet=bool(key % 2))
        for key in unique.tolist()
    ]
    return np.array(found, dtype=np.int64)[place.ravel()]


def bands_of(
    areas: Mapping[Key, FinishArea],
    finishes: Sequence[Finish],
    bands: Mapping[str, tuple[float, float]],
) -> Iterator[BandRow]:
    """Yield what finishes that hold in the waterline band only take, body by body.

    What stands there gives the length: a beach or the floor of a channel may lie in the band too.

    Args:
        areas: Of the finishes.
        finishes: In the order of the pool file.
        bands: Heights of the lower and the upper edge of each body's band [m].

    Yields:
        Rows.
    """
    for body, (low, high) in bands.items():
        for i, item in enumerate(finishes):
            if set(item.where.zones or ()) != {"waterline band"}:
                continue
            mine = [row for key, row in areas.items() if key[0] == i and row.body == body]
            stands = math.fsum(row.area for row in mine if row.kind in STANDING)
            if mine and high > low:
                area = math.fsum(row.area for row in mine)
                yield BandRow(body, item.name, stands / (high - low), high - low, area)
