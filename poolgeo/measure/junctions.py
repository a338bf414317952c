"""Junctions: places at which edge runs meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from ..mesh import ZONES
from ..quantities import Run, Sense

PLACE = 1e-6
"""[m] Runs meet where their points agree to this: they are vertices of one mesh."""

FEWEST = 3
"""Two edges that meet are one edge that bends."""


Corner = Literal["inside", "outside", "mixed"]
"""Edges that meet there are all internal, all external, or some of either."""


@dataclass(frozen=True)
class Junction:
    """A place at which edge runs meet.

    Args:
        point: [m].
        body: The body of the first run.
        zone: A number of `ZONES`, the lowest of what meets.
        wet: Whether it is under water.
        runs: Their numbers, each once for every end of it (twice where it goes through).
        senses: Of each of these.
        steps: Of each of these the segment of the run that meets there.
    """

    point: tuple[float, float, float]
    body: str
    zone: int
    wet: bool
    runs: tuple[str, ...]
    senses: tuple[Sense, ...]
    steps: tuple[int, ...]

    @property
    def sense(self) -> Corner:
        """What corner it is."""
        return corner_of(self.senses)

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "point": list(self.point),
            "body": self.body,
            "zone": ZONES[self.zone],
            "wet": self.wet,
            "sense": self.sense,
            "runs": list(self.runs),
        }


def corner_of(senses: Sequence[Sense]) -> Corner:
    """Return what corner edges of such senses make."""
    if "external" not in senses:
        return "inside"
    return "mixed" if "internal" in senses else "outside"


def junctions_of(runs: Sequence[Run]) -> tuple[Junction, ...]:
    """Find the places at which three edges or more meet, in the order of the runs.

    A run has one edge at either of its ends and two at a place that it goes through.

    Args:
        runs: Edge runs.

    Returns:
        The junctions.
    """
    if not runs:
        return ()
    points = np.concatenate([run.points for run in runs])
    run_of = np.repeat(np.arange(len(runs)), [len(run.points) for run in runs])
    place = _places(points)
    # each point of a run but its last begins a step, each but its first ends one
    first = np.flatnonzero(np.diff(run_of, prepend=-1))
    last = np.append(first[1:], len(points)) - 1
    begins, ends = (np.delete(np.arange(len(points)), item) for item in (last, first))
    arms = np.concatenate([begins, ends])
    within = np.arange(len(points)) - first[run_of]
    step = np.concatenate([within[begins], within[ends] - 1])
    step_zone = np.concatenate([run.zone for run in runs])
    zone, wet = np.concatenate([step_zone] * 2), np.concatenate([run.wet for run in runs] * 2)
    order = np.lexsort((arms, place[arms]))
    count = np.bincount(place[arms])
    starts = np.cumsum(count) - count
    found = []
    for at in np.flatnonzero(count >= FEWEST).tolist():
        mine = order[starts[at] : starts[at] + count[at]]
        which = [runs[i] for i in run_of[arms[mine]].tolist()]
        x, y, z = points[arms[mine[0]]].tolist()
        found.append(
            Junction(
                (x, y, z),
                which[0].body,
                int(zone[mine].min()),
                bool(wet[mine].any()),
                tuple(run.number for run in which),
                tuple(run.sense for run in which),
                tuple(step[mine].tolist()),
            )
        )
    return tuple(found)


def _places(points: np.ndarray) -> np.ndarray:
    """Number places (n, 3) so that those that agree have one number."""
    keys = np.rint(points / PLACE).astype(np.int64)
    _, place = np.unique(keys, axis=0, return_inverse=True)
    return place.ravel()
