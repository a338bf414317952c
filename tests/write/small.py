"""A takeoff small enough to check its tables by eye."""

from __future__ import annotations

import numpy as np

from poolgeo.errors import Finding
from poolgeo.model import AreaRow, CoveRun, Run, Takeoff


def small_takeoff() -> Takeoff:
    """Two surfaces, two edges, one cove, two bodies of water, one warning."""
    line = np.array([(0, 0, 0), (0, 4, 0)], float)
    under = np.array([True])
    return Takeoff(  # noqa: S604 - this shell is of concrete
        areas=(
            AreaRow("pool", "floor", 32.5, 32.5, 32.0),
            AreaRow("spa", "spa wall", 7.25, 6.0, 0.0),
        ),
        edges=(
            Run("P1.1", "pool", "internal", "floor/wall", line, under, 4.0, 4.0, 90.0),
            Run("P2.1", "pool", "external", "wall/wall top", line, ~under, 4.0, 0.0, 270.0),
        ),
        coves=(CoveRun("P3.1", "pool", "cove", 0.15, line, 4.0, 0.9425),),
        water={"pool": 48.0, "spa": 2.0},
        shell=12.3456789,
        warnings=(
            Finding(
                ("bench", 0, "width"), "is narrow", "200 mm", "widen it", "warning", "p.yaml", 7
            ),
        ),
    )
