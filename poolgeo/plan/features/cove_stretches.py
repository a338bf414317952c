"""Feet of walls that change along the outline: stretches with a cove or a batter of their own.

The wall lines are cut where either changes. Each part is lofted by itself and runs on beyond an
inside corner into the next wall; where two parts meet the higher shows. On a wall or at an outside
corner a part ends square to the wall, in an upright face.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ...arrays import Floats, Ints
from ..canal import Batter, Size
from ..ring import Ring, turns_of
from ..rolled import WallLine
from ..tolerances import SHARP_TURN
from .along import ON_WALL, Along

NO_COVE = Size(0.0)
"""Where a wall has no cove."""


@dataclass(frozen=True)
class FootRun:
    """What is lofted at once: a part of a wall line along which nothing changes, or whole lines.

    Args:
        lines: The part, run on beyond inside corners, or the lines.
        size: Of the cove's ball.
        batter: How the wall leans.
        run_on: How far it runs on at its start and at its end [m].
        closed: Whether the lines are whole, and closed.
    """

    lines: Sequence[WallLine]
    size: Size
    batter: Batter
    run_on: tuple[float, float] = (0.0, 0.0)
    closed: bool = False


@dataclass(frozen=True)
class Feet:
    """What stands at the feet of the walls.

    Args:
        sizes: Along which stretch which cove; the first where no stretch lies and off the outline.
        batters: The same for how the walls lean; off the outline they are plumb.
        size_of: Radius of the cove, and of that of each stretch.
        batter_of: The same for the batters.
        lowest: Of the floor [m].
    """

    sizes: Along
    batters: Along
    size_of: tuple[Size, ...]
    batter_of: tuple[Batter, ...]
    lowest: float

    @property
    def changes(self) -> bool:
        """Whether anything changes along the outline."""
        return bool(self.sizes.stretches or self.batters.stretches)

    @property
    def are_sharp(self) -> bool:
        """Whether the walls are plumb everywhere and have a cove nowhere."""
        leans = any(item.lean for item in self.batter_of)
        return not leans and not any(item.largest for item in self.size_of)

    def ring(self) -> Ring:
        """Return the outline with vertices where something changes."""
        ring = self.sizes.ring
        points = np.concatenate([self.sizes.ends, self.batters.ends])
        tree = shapely.STRtree(shapely.points(ring.points))
        known, _ = tree.query(shapely.points(points), predicate="dwithin", distance=ON_WALL)
        _, once = np.unique(np.round(points / ON_WALL), axis=0, return_index=True)
        fresh = points[np.setdiff1d(once, known)]
        return ring.with_points(fresh) if len(fresh) else ring

    def runs(self, lines: Sequence[WallLine], sag: float) -> list[FootRun]:
        """Cut wall lines where something changes.

        Args:
            lines: Closed, water on the left.
            sag: How far their chords may be from the outline [m].

        Returns:
            The parts that have a cove or lean.
        """
        return [item for line in lines for item in self._runs(line, sag)]

    def _runs(self, line: WallLine, sag: float) -> Iterator[FootRun]:
        size = np.maximum(self.sizes.numbers(line.points, sag), 0)
        lean = self.batters.numbers(line.points, sag)
        # nothing changes where two stretches have the same
        size = np.array([self.size_of.index(item) for item in self.size_of])[size]
        same = np.array([self.batter_of.index(item) for item in self.batter_of])
        lean = np.where(lean < 0, -1, same[lean])
        number = size * (len(self.batter_of) + 1) + lean
        turns, count = turns_of(line.points), len(number)
        begins = np.flatnonzero(number != np.roll(number, 1))
        whole = not len(begins)
        if whole:
            begins = np.zeros(1, dtype=np.int64)
        for k, first in enumerate(begins.tolist()):
            batter = Batter() if lean[first] < 0 else self.batter_of[lean[first]]
            ball = self.size_of[size[first]]
            if not batter.lean and not ball.largest:
                continue
            if whole:
                yield FootRun((line,), ball, batter, closed=True)
                return
            steps = (begins[(k + 1) % len(begins)] - first) % count or count
            ids = (first + np.arange(steps + 1)) % count
            width = ball.largest + batter.lean * (batter.top - self.lowest)
            yield _run(line, ids, turns, ball, batter, width)


def _run(
    line: WallLine, ids: Ints, turns: Floats, size: Size, batter: Batter, width: float
) -> FootRun:
    """Return a part of a line, run on beyond inside corners at its ends, for a foot of a width."""
    before, after = (_reach(float(turns[ids[end]]), size.largest, width) for end in (0, -1))
    part = WallLine(line.points[ids], line.normals[ids]).run_on(before, after)
    return FootRun((part,), size, batter, (before, after))


def _reach(turn: float, radius: float, width: float) -> float:
    """Return how far a foot of a width runs on beyond a corner that turns so far [rad]."""
    if turn <= SHARP_TURN:
        return 0.0
    # a foot meets a bare wall r / tan(turn) beyond the corner: far, where that is blunt
    bare = radius / math.tan(turn) if turn < math.pi / 2.0 else 0.0
    return max(width * (1.0 + math.tan(turn / 2.0)), bare + width)
