"""A takeoff small enough to check its tables by eye."""

from __future__ import annotations

import numpy as np

from poolgeo.errors import Finding
from poolgeo.quantities import AreaRow, CoveRun, Run, Takeoff

NONE = (0.0, 0.0, 0.0, 0.0)
"""Nothing above the band."""


def small_takeoff() -> Takeoff:
    """Two surfaces, two edges, one cove, two bodies of water, one warning."""
    line = np.array([(0, 0, 0), (0, 4, 0)], float)
    under = np.array([True])
    below, rim = np.array([0]), np.array([3])
    return Takeoff(  # noqa: S604 - this shell is of concrete
        areas=(
            AreaRow("pool", "floor", 32.5, 32.5, 32.0, (32.5, *NONE)),
            AreaRow("spa", "spa wall", 7.25, 6.0, 0.0, (5.0, 2.0, 0.25, 0.0, 0.0)),
        ),
        edges=(
            Run(
                "P1.1",
                "pool",
                "internal",
                "floor/wall",
                line,
                under,
                below,
                4.0,
                4.0,
                (4.0, *NONE),
                90.0,
            ),
            Run(
                "P2.1",
                "pool",
                "external",
                "wall/wall top",
                line,
                ~under,
                rim,
                4.0,
                0.0,
                (0.0, 0.0, 0.0, 4.0, 0.0),
                270.0,
            ),
        ),
        coves=(
            CoveRun(
                "P3.1",
                "pool",
                "cove",
                0.15,
                line,
                4.0,
                0.9425,
                (4.0, *NONE),
                (0.9425, *NONE),
                0.0193,
            ),  # 4 m of 0.15^2 (1 - pi / 4)
        ),
        water={"pool": 48.0, "spa": 2.0},
        shell=12.3456789,
        bands={"pool": (-0.075, 0.075), "spa": (0.225, 0.375)},
        warnings=(
            Finding(
                ("bench", 0, "width"), "is narrow", "200 mm", "widen it", "warning", "p.yaml", 7
            ),
        ),
    )
