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

from ...design import schema
from ...errors import Key
from ..canal import Batter, Size
from ..curves import Floats
from ..ring import Ring, turns_of
from ..rolled import WallLine
from ..shapes import nearest_on
from ..stretch import Stretch, curve_point_at
from ..tolerances import SHARP_TURN
from .bench import stretch_on
from .site import Site

Ints = np.ndarray

ON_WALL = 1e-4
"""[m] A line nearer to the outline than this lies on it."""

NO_COVE = Size(0.0)
"""Where a wall has no cove."""


@dataclass(frozen=True)
class Course:
    """A part of a wall line along which nothing changes.

    Args:
        line: The part, run on beyond inside corners.
        size: Of the cove's ball.
        batter: How the wall leans.
        run_on: How far it runs on at its start and at its end [m].
        closed: Whether it is the whole of a closed line.
    """

    line: WallLine
    size: Size
    batter: Batter
    run_on: tuple[float, float] = (0.0, 0.0)
    closed: bool = False


@dataclass(frozen=True)
class Along:
    """What holds along which stretch of an outline.

    Args:
        ring: The outline.
        stretches: In the order of the file; of two that overlap the later holds.
    """

    ring: Ring
    stretches: tuple[Stretch, ...]

    @classmethod
    def of(
        cls, site: Site, items: Sequence[schema.CoveStretch | schema.BatterStretch], key: Key
    ) -> Along:
        """Return what holds along the stretches of a list of the pool file."""
        found = [
            stretch_on(site, item.start, item.end, (*key, "stretches", i))
            for i, item in enumerate(items)
        ]
        return cls(site.ring, tuple(found))

    @property
    def ends(self) -> Floats:
        """Plan points (k, 2) at which something changes [m]."""
        at = [at for item in self.stretches for at in (item.start, item.end) if at is not None]
        return np.array([curve_point_at(self.ring, item) for item in at]).reshape(-1, 2)

    def numbers(self, points: Floats, sag: float) -> Ints:
        """Return what holds along each step (n,) of a closed line.

        Args:
            points: (n, 2) [m].
            sag: How far its chords may be from the outline [m].

        Returns:
            0 where no stretch lies, else the number of the stretch from 1, and -1 off the outline.
        """
        middles = (points + np.roll(points, -1, axis=0)) / 2.0
        edge, share, away = nearest_on(self.ring.points, middles)
        station = self.ring.stations[edge] + share * self.ring.lengths[edge]
        found = np.zeros(len(points), dtype=np.int64)
        for k, item in enumerate(self.stretches, 1):
            inside = np.ones(len(points), dtype=bool)
            if item.start is not None:
                inside = (station - item.start) % self.ring.perimeter < item.length
            found[inside] = k
        return np.where(away < sag + ON_WALL, found, -1)


@dataclass(frozen=True)
class Feet:
    """What stands at the feet of the walls.

    Args:
        sizes: Along which stretch which cove; the first where no stretch lies and off the outline.
        batters: The same for how the walls lean; off the outline they are plumb.
        size_of: Radius of the cove, and of that of each stretch.
        batter_of: The same for the batters.
    """

    sizes: Along
    batters: Along
    size_of: tuple[Size, ...]
    batter_of: tuple[Batter, ...]

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

    def courses(self, lines: Sequence[WallLine], sag: float) -> list[Course]:
        """Cut wall lines where something changes.

        Args:
            lines: Closed, water on the left.
            sag: How far their chords may be from the outline [m].

        Returns:
            The parts that have a cove or lean.
        """
        return [item for line in lines for item in self._courses(line, sag)]

    def _courses(self, line: WallLine, sag: float) -> Iterator[Course]:
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
                yield Course(line, ball, batter, closed=True)
                return
            steps = (begins[(k + 1) % len(begins)] - first) % count or count
            ids = (first + np.arange(steps + 1)) % count
            yield _course(line, ids, turns, ball, batter)


def _course(line: WallLine, ids: Ints, turns: Floats, size: Size, batter: Batter) -> Course:
    """Return a part of a line, run on beyond inside corners at its ends."""
    points, normals = line.points[ids], line.normals[ids].copy()
    run_on = []
    for end, inner in ((0, 1), (-1, -2)):
        turn = float(turns[ids[end]])
        reach = 0.0
        if turn > SHARP_TURN:
            width = size.largest + batter.lean * DEEPEST
            # a foot meets a bare wall r / tan(turn) beyond the corner: far, where that is blunt
            bare = size.largest / math.tan(turn) if turn < math.pi / 2.0 else 0.0
            reach = max(width * (1.0 + math.tan(turn / 2.0)), bare + width)
            out = points[end] - points[inner]
            extra = (points[end] + reach * out / np.hypot(*out))[None]
            unknown = np.full((1, 2), np.nan)
            points = np.vstack([extra, points] if end == 0 else [points, extra])
            normals = np.vstack([unknown, normals] if end == 0 else [normals, unknown])
        run_on.append(reach)
    return Course(WallLine(points, normals), size, batter, (run_on[0], run_on[1]))


DEEPEST = 10.0
"""[m] No wall that leans is higher."""
