"""Tops of benches and ledges: there must be water above and before them, and no floor on them."""

from __future__ import annotations

import numpy as np
import shapely

from ...errors import Key
from ..layers import Layer
from ..slope import Slope
from ..tolerances import SAME_HEIGHT
from .site import Site


def refuse_width(site: Site, width: float, key: Key, name: str) -> None:
    """Leave a finding for a top that leaves no water in front of it."""
    site.findings.error(
        key,
        f"must leave open water in front of the {name}",
        f"{width:.3f} m reaches the other side of the {site.body}",
        "make it narrower",
    )


def check_depth(site: Site, layer: Layer, key: Key, name: str) -> None:
    """The top must lie under the water, and above the floor at least in places."""
    xy = shapely.get_coordinates(layer.region)
    if not len(xy):
        return  # refused
    top = np.full(len(xy), layer.level)
    if isinstance(layer.height, Slope):
        top = layer.height.height(xy)
    ground = site.floor.height(xy)
    if top.max() >= site.level - SAME_HEIGHT:
        x, y = xy[int(np.argmax(top))]
        site.findings.error(
            key,
            f"must put the {name} under the water everywhere",
            f"{site.level - top.max():.3f} m deep at ({x:.3f}, {y:.3f}) m",
            "lower it, or reduce its fall",
        )
    if (top <= ground).all():
        site.findings.error(
            key,
            f"must be less than the depth of the floor under the {name}",
            f"{site.level - top.max():.3f} m; the floor there is "
            f"{site.level - ground.min():.3f} m deep",
            f"raise the {name} or deepen the floor",
        )
    elif (top < ground).any():
        x, y = xy[int(np.argmin(top - ground))]
        site.findings.warn(
            key,
            f"the {name} runs into the floor, which is higher than its top in places",
            f"up to {(ground - top).max():.3f} m higher, at ({x:.3f}, {y:.3f}) m",
        )
