"""What stands on walls that lean: weirs; no recess, and no wall top below where they begin to lean.

A leaning wall fills the foot of the plumb one from the wall's top down, within the outline. A weir
covers that filling, as far as it stands above its crest; set back for a recess, or cut down, the
plumb wall would leave it standing.
"""

from __future__ import annotations

import numpy as np

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..courses import Course
from ..shapes import crossings
from ..stretch import Stretch
from ..tolerances import SHARP_TURN
from .along import Along
from .on_outline import stretch_on
from .site import Site

PACE = 0.02
"""[m] Whether a wall leans is looked at no further apart than this."""


def check_plumb(site: Site, pool: schema.Pool) -> None:
    """Leave a finding for each recess and lowered wall on a stretch that leans."""
    if pool.batter is None:
        return
    lower = [(k, item) for k, item in enumerate(pool.walls)
             if item.height is not None and site.level + item.height < site.wall_top]  # fmt: skip
    found: list[tuple[Key, schema.Recess | schema.WallStretch]] = [
        *((("recess", k), item) for k, item in enumerate(pool.recess)),
        *((("walls", k), item) for k, item in lower),
    ]
    for key, item in found:
        points, lean = _leans(site, pool.batter, stretch_on(site, item.start, item.end, key))
        if not lean.any():
            continue
        x, y = points[int(np.argmax(lean > 0.0))]
        site.findings.error(
            key,
            f"must lie where the wall is plumb: it leans near ({x:.3f}, {y:.3f}) m",
            f"a slope of {lean.max():.3f}",
            "give 'batter' a stretch of slope 0 there, or move it",
        )


def lean_of(site: Site, batter: schema.Batter | None, stretch: Stretch, key: Key) -> float:
    """Return how the walls lean along a stretch [-]; where that changes a finding is left."""
    if batter is None:
        return 0.0
    points, lean = _leans(site, batter, stretch)
    other = np.flatnonzero(lean != lean[0])
    if len(other):
        x, y = points[other[0]]
        site.findings.error(
            key,
            f"must lie where the walls lean alike: it changes near ({x:.3f}, {y:.3f}) m",
            f"slopes of {lean[0]:.3f} and {lean[other[0]]:.3f}",
            "end it there, or let the stretch of 'batter' begin elsewhere",
        )
    return float(lean[0])


def hips_of(
    site: Site, batter: schema.Batter | None, stretch: Stretch, lean: float, below: float
) -> tuple[float, float]:
    """Return where walls that lean otherwise meet those of a stretch in the corners at its ends.

    Args:
        site: The pool.
        batter: How its walls lean.
        stretch: A part of the outline.
        lean: How its own walls lean [-].
        below: How far below the wall's top [m].

    Returns:
        The shares of the parallel's first and last chord at which the others cut it there.
    """
    if batter is None or stretch.start is None or stretch.end is None:
        return 0.0, 1.0
    ring = stretch.ring
    own = np.array(stretch.end_chords)
    beside = (own + np.array([-1, 1])) % len(ring.points)
    leans = _leans_at(site, batter, Course.along(ring).chords[beside].mean(axis=1))
    corner = np.abs(ring.turns[[own[0], beside[1]]]) > SHARP_TURN
    otherwise = corner & (leans != lean)
    if not otherwise.any():
        return 0.0, 1.0
    mine = Course.along(ring, -lean * below).chords[own]
    others = np.stack([Course.along(ring, -item * below).chords[k]
                       for item, k in zip(leans, beside, strict=True)])  # fmt: skip
    along, across = (chords[:, 1] - chords[:, 0] for chords in (mine, others))
    _, shares, _ = crossings(mine[:, 0], along, others[:, 0], across)
    first, last = np.where(otherwise, shares, [0.0, 1.0]).tolist()
    return first, last


def _leans(site: Site, batter: schema.Batter, stretch: Stretch) -> tuple[Floats, Floats]:
    """Return points (k, 2) on a stretch [m], and how the walls lean there (k,)."""
    points = _paced(stretch)
    return points, _leans_at(site, batter, points)


def _leans_at(site: Site, batter: schema.Batter, points: Floats) -> Floats:
    """Return how the walls lean (k,) at the places of the outline next to plan points (k, 2)."""
    along = Along.of(site, batter.stretches, ("batter",))
    slopes = np.array([batter.slope, *(item.slope for item in batter.stretches)])
    lean: Floats = slopes[along.at(points)[0]]
    return lean


def _paced(stretch: Stretch) -> Floats:
    """Return points (k, 2) on a stretch, its ends left out, no further apart than `PACE` [m]."""
    points, _, _ = stretch.baseline()
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    count = max(1, int(np.ceil(at[-1] / PACE)))
    middles = (np.arange(count) + 0.5) / count * at[-1]
    return np.column_stack([np.interp(middles, at, points[:, i]) for i in range(2)])
