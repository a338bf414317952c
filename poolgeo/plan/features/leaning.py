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
from ..stretch import Stretch
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


def _leans(site: Site, batter: schema.Batter, stretch: Stretch) -> tuple[Floats, Floats]:
    """Return points (k, 2) on a stretch [m], and how the walls lean there (k,)."""
    along = Along.of(site, batter.stretches, ("batter",))
    points = _paced(stretch)
    slopes = np.array([batter.slope, *(item.slope for item in batter.stretches)])
    lean: Floats = slopes[along.at(points)[0]]
    return points, lean


def _paced(stretch: Stretch) -> Floats:
    """Return points (k, 2) on a stretch, its ends left out, no further apart than `PACE` [m]."""
    points, _, _ = stretch.baseline()
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    count = max(1, int(np.ceil(at[-1] / PACE)))
    middles = (np.arange(count) + 0.5) / count * at[-1]
    return np.column_stack([np.interp(middles, at, points[:, i]) for i in range(2)])
