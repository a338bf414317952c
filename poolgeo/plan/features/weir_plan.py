r"""Weirs: stretches of the pool's wall lowered to a crest, with a top that is flat or falls.

::

      fall > 0       fall = 0       fall < 0
    crest_           ____             _crest
      |  `-_        |    |         _-' |          the pool is on the left; `face` is the outer face
    __|     |     __|    |      __|    |

A weir stands on the bare outline; corner coves on its stretch end level with its inner edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ...arrays import Floats, Ints
from ..courses import Course
from ..ring import MITRE
from ..shapes import SMOOTH, parallel_arcs, swept
from ..stretch import Stretch

NOTHING = shapely.Polygon()
"""No plan."""


@dataclass(frozen=True)
class WeirPlan:
    """A weir.

    Args:
        stretch: Where it stands on the pool's outline.
        thickness: Of the wall there [m].
        inner: Height of its top at its inner edge [m].
        face: Height of its top at its outer face [m].
        foot: How far inside the pool's outline its inner edge stands, where the wall leans [m].
        filled: What corner coves fill along it.
        hips: Where its inner edge meets the leaning walls before and after it, as shares of the
            chords on which it begins and ends.
    """

    stretch: Stretch
    thickness: float
    inner: float
    face: float
    foot: float = 0.0
    filled: shapely.Geometry = NOTHING
    hips: tuple[float, float] = (0.0, 1.0)

    @property
    def lowest(self) -> float:
        """Height of its lowest place [m]."""
        return min(self.inner, self.face)

    @property
    def crest(self) -> float:
        """Height of its crest [m]."""
        return max(self.inner, self.face)

    @cached_property
    def region(self) -> shapely.Polygon:
        """What it takes of the plan."""
        return self.band(-self.foot, self.thickness)

    def line(self, off: float) -> Floats:
        """Return the parallel (k, 2) of its stretch ``off`` outside the outline [m].

        It ends on the chords of the outline's own parallel; inside the outline, not beyond where
        its leaning wall meets the next. Where it would fold, at an outside corner that is rounded
        more tightly, it has the corner in which its sides meet.
        """
        points, moved = self._moved(off)
        if off <= 0.0 or not len(_folds(points, moved)):
            return moved
        shape = swept(points, moved)
        parts = shapely.get_parts(shape)
        border = shapely.get_coordinates(parts[int(np.argmax(shapely.area(parts)))].exterior)[:-1]
        first, last = (int(np.argmin(np.hypot(*(border - end).T))) for end in moved[[0, -1]])
        if self.stretch.start is None:
            border = np.roll(border, -first, axis=0)
            return np.concatenate([border, border[:1]])
        ways = [np.roll(border, -i, axis=0)[: (j - i) % len(border) + 1]
                for i, j in ((first, last), (last, first))]  # fmt: skip
        middle = points[len(points) // 2]
        away = [np.hypot(*(way - middle).T).min() for way in ways]
        found: Floats = ways[0] if away[0] > away[1] else ways[1][::-1]
        return found

    def _moved(self, off: float) -> tuple[Floats, Floats]:
        """Return the vertices (k, 2) of its stretch, and where each is ``off`` outside [m]."""
        points, before, after = self.stretch.baseline()
        moved, _ = parallel_arcs(points, before, after, -off)
        if self.stretch.start is not None and self.stretch.end is not None:
            ring = self.stretch.ring
            chords = Course.along(ring, off).chords
            for end, chord in zip((0, -1), self.stretch.end_chords, strict=True):
                a, b = chords[chord]
                share = ((moved[end] - a) @ (b - a)) / ((b - a) @ (b - a))
                if off < 0.0:
                    share = min(share, self.hips[1]) if end else max(share, self.hips[0])
                moved[end] = a + (b - a) * share
        return points, moved

    def band(self, near: float, far: float) -> shapely.Polygon:
        """Return what lies between two parallels outside the outline [m]."""
        inside, outside = self.line(near), self.line(far)
        if self.stretch.start is None:
            return shapely.Polygon(outside[:-1], [inside[:-1]])
        return shapely.Polygon(np.concatenate([inside, outside[::-1]]))

    def fold(self, off: float) -> Floats | None:
        """Return a place (2,) at which a parallel outside folds, None if nowhere [m]."""
        points, moved = self._moved(off)
        folds = _folds(points, moved)
        return points[folds[0]] if len(folds) else None

    def no_room(self, far: float) -> Floats | None:
        """Return a place (2,) at which there is no band out to a parallel, None if there is all.

        There is none at a sharp corner, nor where the parallel folds nearer to a corner than that.
        """
        points, before, after = self.stretch.baseline()
        moved, half_turn = parallel_arcs(points, before, after, -far)
        folds, corners = _folds(points, moved), points[half_turn < SMOOTH]
        away = np.hypot(*np.moveaxis(points[folds][:, None] - corners, 2, 0))
        crowded = folds[(away < far).any(axis=1)]
        if half_turn.min() < 1.0 / MITRE or len(crowded):
            at: Floats = points[[*crowded, int(np.argmin(half_turn))][0]]
            return at
        band = self.band(0.0, far)
        if not band.is_valid:
            reason = shapely.is_valid_reason(band)
            return np.array(reason[reason.find("[") + 1 : -1].split(), dtype=float)
        return None


def _folds(points: Floats, moved: Floats) -> Ints:
    """Return the chords on which a parallel runs back."""
    return np.flatnonzero(np.sum(np.diff(moved, axis=0) * np.diff(points, axis=0), axis=1) <= 0.0)
