"""What stands in the pool before a weir, higher than its crest: it stands in the overflow."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...arrays import Floats
from ..floor import Floor
from ..layers import Layer
from ..slope import Slope
from ..tolerances import SAME_HEIGHT
from .part import Part
from .site import Site

BESIDE = 1e-3
"""[m] What lies nearer to a weir than this stands before it."""


def check_crests(site: Site, overflowing: Sequence[Part], standing: Sequence[Part]) -> None:
    """Warn of benches, ledges and treads that stand higher than the crest of the weir behind them.

    Args:
        site: The pool.
        overflowing: Weirs among other things.
        standing: What stands on the pool's floor.
    """
    for weir in (item for part in overflowing for item in part.layers if item.kind == "weir top"):
        crest = _highest(weir, shapely.get_coordinates(weir.region))
        near = shapely.buffer(weir.region, BESIDE, quad_segs=1)
        for layer in (item for part in standing for item in part.layers):
            before = shapely.get_coordinates(shapely.intersection(layer.region, near))
            above = _highest(layer, before) - crest if len(before) else 0.0
            if above > SAME_HEIGHT:
                site.findings.warn(
                    (*weir.key[:2], "crest"),
                    f"lies below '{layer.feature}' before it, which stands in the overflow",
                    f"{above:.3f} m lower",
                    f"end '{layer.feature}' beside the weir, lower it, or raise the crest",
                )


def _highest(layer: Layer, xy: Floats) -> float:
    """Return the greatest height of a layer at plan points (k, 2) [m]."""
    if isinstance(layer.height, Floor | Slope):
        return float(np.max(layer.height.height(xy)))
    return layer.level
