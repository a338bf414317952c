"""Corner coves: what the pool file asks for in the upright inside corners of walls."""

from __future__ import annotations

import numpy as np

from ...design import schema
from ...errors import Key
from ..rounding import Corners
from .along import Along
from .site import Site

ALONG = np.linspace(0.02, 0.98, 25)
"""[-] Places on a corner cove, as shares of its girth, at which walls are asked whether they lean;
its ends belong to the walls beside it too."""


def corners_in(cove: schema.Cove | None, key: Key) -> Corners | None:
    """Return what a cove asks for in inside plan corners; None for nothing.

    Args:
        cove: Of a body of water.
        key: Of that body in the pool file.
    """
    if cove is None or cove.corners is False:
        return None
    radius = cove.radius if cove.corners is True else cove.corners
    return Corners(radius, (*key, "cove", "corners"), cove.form == "fillet")


def check_corners(site: Site, pool: schema.Pool) -> None:
    """Leave a finding where walls lean at a corner cove.

    Inside a leaning corner the walls come nearer to each other the deeper it is, but a cove keeps
    its radius: it does not follow from an arc in plan.
    """
    if pool.batter is None or not site.ring.rounds:
        return
    slopes = np.array([pool.batter.slope, *(item.slope for item in pool.batter.stretches)])
    along = Along.of(site, pool.batter.stretches, ("batter",))
    for item in site.ring.rounds:
        lean = slopes[along.at(item.piece.at(ALONG))[0]]
        if lean.any():
            x, y = item.middle
            site.findings.error(
                ("cove", "corners"),
                f"must stand where the walls are plumb: they lean at the corner near"
                f" ({x:.3f}, {y:.3f}) m",
                f"a slope of {lean.max():.3f}",
                "give 'batter' a stretch of slope 0 there, or leave the corners sharp",
            )
            return
