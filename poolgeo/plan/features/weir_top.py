"""The top of a weir: level, or planes that fall across it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely

from ...errors import Key
from ..curves import Floats
from ..floor import Floor, sloping_floor
from ..layers import Layer
from ..shapes import polygons_only
from ..tolerances import GRID
from .weir_plan import WeirPlan

STRAIGHT = 1e-10
"""[-] Normals at the ends of a straight chord have a product that differs from 1 by less."""

FLAT = 1e-9
"""[m3] Four corners of a box smaller than this lie in a plane."""


def weir_tops(plan: WeirPlan, body: str, key: Key, name: str) -> list[Layer]:
    """Return the layers of the top of a weir.

    Args:
        plan: The weir.
        body: The body of water that its top belongs to.
        key: Its key in the pool file.
        name: For labels.
    """
    parts: list[tuple[str, shapely.Geometry, float | Floor]] = []
    if plan.inner == plan.face:
        region = plan.region
        if not plan.filled.is_empty:
            region = polygons_only(shapely.union(region, plan.filled, grid_size=GRID))
        parts.append((name, region, plan.inner))
    else:
        parts += [
            (f"{name} side {side + 1}", shapely.Polygon(corners[:, :2]), _plane(corners))
            for side, corners in _facets(plan)
        ]
        if not plan.filled.is_empty:
            parts.append((f"{name} in corners", plan.filled, plan.inner))
    layers = [
        Layer(body, "weir top", feature, key, region, height, "all", "weir face")
        for feature, region, height in parts
    ]
    if plan.foot:
        line = plan.line(-plan.foot)
        inner = np.column_stack([line, np.full(len(line), plan.inner)])
        layers[0] = replace(layers[0], crest=np.stack([inner[:-1], inner[1:]], axis=1))
    return layers


def _facets(plan: WeirPlan) -> Iterator[tuple[int, Floats]]:
    """Yield the plane pieces of a sloping top: the number of its side, and corners (k, 3) [m].

    A side ends where the outline has a corner. Where it is straight, one piece is all of it; where
    it is curved, one stands on each chord, or two triangles where its corners lie in no plane.
    """
    points, before, after = plan.stretch.course()
    inside = np.column_stack([plan.line(-plan.foot), np.full(len(points), plan.inner)])
    outside = np.column_stack([plan.line(plan.thickness), np.full(len(points), plan.face)])
    corner = np.sum(before * after, axis=1) < 1.0 - STRAIGHT
    side = np.cumsum(corner[:-1]) - int(corner[0])
    if plan.stretch.start is None and not corner[0]:
        side[side == side[-1]] = 0
    straight = np.sum(after[:-1] * before[1:], axis=1) > 1.0 - STRAIGHT
    begin = 0
    for i in range(len(straight)):
        last = i + 1 == len(straight) or corner[i + 1] or not (straight[i] and straight[i + 1])
        if not last:
            continue
        a, b, c, d = inside[begin], inside[i + 1], outside[i + 1], outside[begin]
        begin = i + 1
        if straight[i] or abs(np.linalg.det([d - a, c - a, b - a])) < FLAT:
            yield int(side[i]), np.array([a, d, c, b])
        else:
            yield int(side[i]), np.array([a, d, b])
            yield int(side[i]), np.array([d, c, b])


def _plane(corners: Floats) -> Floor:
    """Return the plane through the first three of some corners (k, 3) [m]."""
    p, q, r = corners[:3]
    normal = np.cross(q - p, r - p)
    slope = -normal[:2] / normal[2]
    return sloping_floor(p[:2], float(p[2]), slope)
