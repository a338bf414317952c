"""Places within a region of the plan: those with most room about them."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely

from ..arrays import Bools, Floats
from ..mesh import Mesh
from .plan_lines import Place

FINE = 0.02
"""[-] How finely the place with most room is sought, as a share of the region's size."""


def plan_region(mesh: Mesh, rows: Bools) -> shapely.Geometry:
    """Return what some triangles (m,) that do not overlap cover in plan [m]."""
    corners = mesh.vertices[mesh.triangles[rows], :2]
    whole = shapely.coverage_union_all(shapely.polygons(corners))
    return whole if whole.is_valid else shapely.make_valid(whole)


def roomy(region: shapely.Geometry, count: int) -> Iterator[tuple[Place, float]]:
    """Yield places within a region with the radius of what is free about them [m].

    Args:
        region: In plan.
        count: How many; each keeps clear of the circles about those before.

    Yields:
        Those with most room first.
    """
    for _ in range(count):
        part = largest(region)
        if part.is_empty:
            return
        size = math.sqrt(part.area)
        ray = shapely.maximum_inscribed_circle(part, tolerance=FINE * size)
        (x, y), (u, v) = shapely.get_coordinates(ray).tolist()
        radius = math.dist((x, y), (u, v))
        if radius <= 0.0:
            return
        yield (x, y), radius
        region = shapely.difference(region, shapely.Point(x, y).buffer(radius))


def largest(region: shapely.Geometry) -> shapely.Polygon:
    """Return the largest polygon of a region; an empty one where it has none."""
    parts = [item for item in shapely.get_parts(region) if item.geom_type == "Polygon"]
    return max(parts, key=lambda item: item.area, default=shapely.Polygon())


def chord(region: shapely.Geometry, place: Place, way: Floats) -> tuple[float, float]:
    """Return how far a region goes on from a place against a unit vector (2,), and along it [m]."""
    reach = 2.0 * math.hypot(*np.ptp(np.reshape(region.bounds, (2, 2)), axis=0))
    at = np.array(place)
    found = []
    for sign in (-1.0, 1.0):
        ray = shapely.LineString([at, at + sign * reach * way])
        inside = shapely.get_parts(shapely.intersection(region, ray))
        near = [item for item in inside if shapely.dwithin(item, shapely.Point(at), 1e-6)]
        found.append(max((item.length for item in near), default=0.0))
    return found[0], found[1]
