"""The waterline band of each body of water, and with it where its surface is split."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from ...arrays import Floats
from ...design import schema
from ...errors import Findings, Key
from ..cells import Cells
from ..floor import Floor
from ..layers import Layer
from ..levels import WALL_TOPS, Levels
from .part import Water

NEAR = 1e-3
"""[m] An edge of the waterline band that lies nearer than this to the height of something level (a
bench top, a sill, a line of a cove, the water) lies at it. Nobody marks a wall more finely, and a
lower strip at the top of a cove is thinner in plan than what is welded there."""

LEVEL_LINES = 64
"""[-] A cove of fewer heights is level: its lines are, one above the other."""


def levels_of(
    pool: schema.Pool,
    waters: Sequence[Water],
    layers: Sequence[Layer],
    findings: Findings,
) -> tuple[Levels, ...]:
    """Return where the surface of each body of water is split; a dry one has no band.

    Args:
        pool: From the pool file.
        waters: The bodies of water.
        layers: All layers: at their heights the band's edges may lie.
        findings: Where to leave findings.
    """
    heights = np.unique(list(_heights(layers)))
    found = []
    for water in waters:
        body, level = water.name, water.level
        if water.is_dry:  # at its lowest place: all of it is freeboard
            found.append(Levels(body, level, level, level))
            continue
        key, band = _waterline(pool, water)
        own = [item.level for item in layers if item.body == body and item.kind in WALL_TOPS]
        wall_top = max(own, default=np.inf)
        if level + band.above > wall_top + NEAR and "above" in band.model_fields_set:
            findings.warn(
                (*key, "above"),
                f"reaches over the top of the {body}'s wall, and the band ends there",
                f"{band.above:.3f} m; the wall ends {wall_top - level:.3f} m above the water",
                "reduce it, or raise the freeboard",
            )
        edges = (level - band.below, min(level + band.above, wall_top))
        bottom, top = (_snapped(z, np.append(heights, level)) for z in edges)
        found.append(Levels(body, bottom, level, top))
    return tuple(found)


def _waterline(pool: schema.Pool, water: Water) -> tuple[Key, schema.Waterline]:
    """Return the extent of a body's band, and its key."""
    if water.key[:1] == ("spas",) and isinstance(water.key[1], int):
        own = pool.spas[water.key[1]].waterline
        if own is not None:
            return (*water.key, "waterline"), own
    return ("waterline",), pool.waterline


def _heights(layers: Sequence[Layer]) -> Iterator[float]:
    """Yield the heights [m] of what is level, and of the lines of coves."""
    for layer in layers:
        match layer.height:
            case float():
                yield layer.height
            case Floor() if layer.height.is_level:
                yield float(layer.height.height(np.zeros(2)))
            case Cells():
                heights = np.unique(np.round(layer.height.vertices[:, 2], 9))
                if len(heights) < LEVEL_LINES:
                    yield from heights[:-1].tolist()
                yield layer.height.extent[1]  # not a hair below it


def _snapped(z: float, heights: Floats) -> float:
    """Return the nearest of some heights where it is near, or else the height itself [m]."""
    nearest = float(heights[np.argmin(np.abs(heights - z))])
    return nearest if abs(nearest - z) < NEAR else z
