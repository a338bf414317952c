"""Walls that lean take no weir, no recess, and no wall top lower than where they begin to lean.

A leaning wall fills the foot of the plumb one from the wall's top down, within the outline. Cut
down to a crest or set back for a recess, the plumb wall would leave that filling standing.
"""

from __future__ import annotations

import numpy as np

from ...design import schema
from ...errors import Key
from ..curves import Floats
from ..stretch import Stretch
from .along import Along
from .bench import stretch_on
from .site import Site

PACE = 0.02
"""[m] Whether a wall leans is looked at no further apart than this."""


def check_plumb(site: Site, pool: schema.Pool) -> None:
    """Leave a finding for each weir, recess and lowered wall on a stretch that leans."""
    if pool.batter is None:
        return
    lower = [(k, item) for k, item in enumerate(pool.walls)
             if item.height is not None and site.level + item.height < site.wall_top]  # fmt: skip
    found: list[tuple[Key, schema.Weir | schema.Recess | schema.WallStretch]] = [
        *((("overflows", k), item) for k, item in enumerate(pool.overflows)),
        *((("channels", k), item) for k, item in enumerate(pool.channels)),
        *((("recess", k), item) for k, item in enumerate(pool.recess)),
        *((("walls", k), item) for k, item in lower),
    ]
    along = Along.of(site, pool.batter.stretches, ("batter",))
    slopes = np.array([pool.batter.slope, *(item.slope for item in pool.batter.stretches)])
    for key, item in found:
        points = _paced(stretch_on(site, item.start, item.end, key))
        lean = slopes[along.at(points)[0]]
        if not lean.any():
            continue
        x, y = points[int(np.argmax(lean > 0.0))]
        site.findings.error(
            key,
            f"must lie where the wall is plumb: it leans near ({x:.3f}, {y:.3f}) m",
            f"a slope of {lean.max():.3f}",
            "give 'batter' a stretch of slope 0 there, or move it",
        )


def _paced(stretch: Stretch) -> Floats:
    """Return points (k, 2) on a stretch, its ends left out, no further apart than `PACE` [m]."""
    points, _, _ = stretch.course()
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    count = max(1, int(np.ceil(at[-1] / PACE)))
    middles = (np.arange(count) + 0.5) / count * at[-1]
    return np.column_stack([np.interp(middles, at, points[:, i]) for i in range(2)])
