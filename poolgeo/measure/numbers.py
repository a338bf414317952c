"""The stable numbers of runs."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from string import ascii_letters, ascii_lowercase
from typing import TypeVar

import numpy as np

from ..model import Model
from ..plan.features.part import letters
from ..quantities import CoveRun, Run
from ..surface.kinds import pair_code
from .chains import stations_on
from .lines import Lines

R = TypeVar("R", Run, CoveRun)

COMMON = (
    "floor/floor", "floor/wall", "wall/wall", "wall/wall top", "floor/riser", "floor/step side",
    "wall/tread", "tread/riser", "tread/step side", "riser/step side", "wall/riser",
    "wall/step side", "floor/bench face", "wall/bench top", "bench top/bench face",
    "wall/bench face", "bench face/bench face", "floor/dam wall face", "wall/dam wall face",
    "dam wall face/dam wall top", "spa wall/dam wall top", "spa floor/spa wall",
    "spa wall/seat top", "seat top/seat face", "spa floor/seat face", "spa wall/spillway",
    "dam wall face/spillway", "dam wall top/spillway", "cove/cove", "cove/riser",
    "cove/step side", "cove/bench face", "cove/dam wall face", "spa wall/wall top", "cove",
    "fillet",
    "wall/wall end", "wall top/wall end", "wall/recess", "tread/recess", "step side/recess",
    "spa wall/recess", "riser/recess", "spa wall/wall end",
    "wall/weir top", "weir top/weir face", "weir top/weir top", "weir face/basin floor",
    "basin floor/basin wall", "basin wall/basin wall", "basin wall/wall top",
    "weir face/channel floor", "channel floor/channel wall", "channel wall/channel wall",
    "channel wall/wall top", "cove/weir face", "weir face/weir face", "weir face/basin wall",
    "weir face/channel wall", "corner cove/wall top", "cove/corner cove", "corner cove",
    "corner cove/bench top", "corner cove/tread", "corner cove/riser", "corner fillet",
    "wall/corner fillet", "fillet/corner fillet", "corner fillet/wall top",
)  # fmt: skip
"""Kinds of runs by their code, 1 first. New ones go to the end: a run's number never changes."""


def run_code(kind: str) -> int:
    """Return the number that stands for a kind of run in run numbers."""
    if kind in COMMON:
        return COMMON.index(kind) + 1
    return pair_code(kind)


def numbers_of(
    model: Model, body: str, kinds: Sequence[str], lines: Lines, mine: Sequence[int]
) -> list[str]:
    """Number the runs of one body by kind and by where they start.

    The number is the station along the body's outline, in decimetres, of the outline point nearest
    to the run's first point; letters tell runs apart that start at one station (nearest to the
    outline first, then lowest). So a number does not move when something else in the pool changes.

    Args:
        model: The model.
        body: The body.
        kinds: Their kinds.
        lines: All lines.
        mine: Which of them the runs are.

    Returns:
        Numbers in the order of the runs.
    """
    starts = lines.first[mine] + mine
    stations, away = stations_on(model.outlines[body, "water"], lines.points[starts, :2])
    away = np.round(away, 3)
    middles = np.round(lines.middles[mine], 3)
    mark = next(item.mark for item in model.bodies if item.name == body)
    codes = np.array([run_code(kind) for kind in kinds], dtype=np.int64)
    order = np.lexsort((middles[:, 1], middles[:, 0], middles[:, 2], away, stations, codes))
    found = [""] * len(mine)
    for (code, station), same in groupby(order.tolist(), key=lambda i: (codes[i], stations[i])):
        for k, i in enumerate(same):
            found[i] = f"{mark}{code}.{station}{letters(k)}"
    return found


def in_order(model: Model, runs: Sequence[R]) -> tuple[R, ...]:
    """Sort runs as reports list them: body, kind, station, letter."""
    rank = {body.name: k for k, body in enumerate(model.bodies)}

    def order(run: Run | CoveRun) -> tuple[int, int, int, str]:
        head, _, tail = run.number.partition(".")
        code, station = head.lstrip(ascii_letters), tail.rstrip(ascii_lowercase)
        return rank[run.body], int(code), int(station), tail[len(station) :]

    return tuple(sorted(runs, key=order))
