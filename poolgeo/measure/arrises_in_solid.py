"""Arrises in the solid: on which length of a run they are, and what is said of the rest."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Floats, Ints
from ..arris import ArrisRow
from ..errors import Finding, Key
from ..model import LEANS, WHY, Arrises, Model
from ..quantities import Run
from ..surface.finishes import finish_of, group_of
from .chains import step_lengths
from .edges import PLUMB

LEFT = 1e-3
"""[m] So much of a run without its arris is worth a warning."""

NAMED = 6
"""So many runs are named in one warning."""

REASONS = {
    "upright": "stand upright",
    "brow": "are brows of the floor",
    "leans": "lie at a face that leans, or fall along it",
    "low": "lie above a face that is no higher than the arris there",
    "small": "are to take less than 2 mm",
}
"""Why edges stay square in the solid."""


def meshed_lengths(model: Model, runs: Sequence[Run]) -> list[float]:
    """Return the length of each run on which the solid has an arris [m]."""
    if model.arrises is None:
        return [0.0] * len(runs)
    return [float(_steps(model.arrises, run.points)[0].sum()) for run in runs]


def left_square(model: Model, runs: Sequence[Run], rows: Sequence[ArrisRow]) -> list[Finding]:
    """Return a warning for each reason for which arrises of one key are not in the solid.

    Args:
        model: The model.
        runs: Its runs.
        rows: The arrises.
    """
    arris, arrises = model.design.pool.arris, model.arrises
    if arris is None or arrises is None:
        return []
    run_of = {run.number: run for run in runs}
    places: dict[tuple[Key, str], list[tuple[float, str]]] = {}
    for row in rows:
        length = row.length - row.meshed
        if row.form == "square" or length <= LEFT:
            continue
        run = run_of[row.number]
        reason, (x, y, _) = _reason(arrises, run)
        key = finish_of(arris, run.kind, run.patches).key
        text = f"{run.number} over {length:.3f} m near ({x:.3f}, {y:.3f}) m"
        places.setdefault((key, reason), []).append((length, text))
    found = [
        Finding(
            (*key, "mesh") if key == ("arris",) else key,
            f"leaves edges square in the solid that {REASONS[reason]}",
            _longest(where),
            "each one's row says what it changes and how long it is in the solid",
            "warning",
        )
        for (key, reason), where in places.items()
    ]
    return model.design.placed(found)


def _longest(parts: Sequence[tuple[float, str]]) -> str:
    """Return the longest of some parts (their length [m] and text), and how long the others are."""
    ordered = sorted(parts, key=lambda item: -item[0])
    text, others = ", ".join(item[1] for item in ordered[:NAMED]), ordered[NAMED:]
    if not others:
        return text
    return f"{text}, and {len(others)} more over {sum(item[0] for item in others):.3f} m"


def _reason(arrises: Arrises, run: Run) -> tuple[str, Floats]:
    """Return why a run, or its longest part that has none, has no arris, and where that is."""
    meshed, why = _steps(arrises, run.points)
    steps = step_lengths(run.points)
    k = int(np.argmax(steps - meshed))
    place: Floats = (run.points[k] + run.points[k + 1]) / 2.0
    if float(np.hypot(*(run.points[k + 1] - run.points[k])[:2])) < PLUMB:
        return "upright", place
    if group_of(run.kind) == "floor breaks":
        return "brow", place
    return WHY[int(why[k])], place


def _steps(arrises: Arrises, points: Floats) -> tuple[Floats, Ints]:
    """Return for each step of a line (n, 3) the length that has its arris [m], and why not.

    No two edges between a top and a face below it have one middle in plan.
    """
    middles = (points[1:, :2] + points[:-1, :2]) / 2.0
    table, asked = (item[:, 0] + 1j * item[:, 1] for item in (arrises.middles, middles))
    share, why = np.zeros(len(asked)), np.full(len(asked), LEANS)
    if len(table):
        order = np.argsort(table)
        at = order[np.minimum(np.searchsorted(table[order], asked), len(table) - 1)]
        same = table[at] == asked
        share[same], why[same] = arrises.share[at[same]], arrises.why[at[same]]
    return share * step_lengths(points), why
