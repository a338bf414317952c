"""Plan shapes: what overlay operations leave behind."""

from __future__ import annotations

import numpy as np
import shapely

from .curves import Floats


def polygons_only(shape: shapely.Geometry) -> shapely.Geometry:
    """Drop the points and lines of a mixed result."""
    if shape.geom_type in ("Polygon", "MultiPolygon"):
        return shape
    parts = [item for item in shapely.get_parts(shape) if item.geom_type == "Polygon"]
    return shapely.MultiPolygon(parts)


def within(region: shapely.Geometry, water: shapely.Geometry) -> shapely.Geometry:
    """Return what of a region, valid or not, lies in a body's plan."""
    whole = region if region.is_valid else shapely.make_valid(region)
    return polygons_only(shapely.intersection(polygons_only(whole), water))


def part_at(shape: shapely.Geometry, xy: Floats) -> shapely.Geometry:
    """Return the polygon of a shape that holds a point or lies nearest to it."""
    parts = shapely.get_parts(shape)
    if len(parts) < 2:
        return shape
    return parts[int(np.argmin(shapely.distance(parts, shapely.Point(xy))))]


def segments_of(lines: shapely.Geometry) -> Floats:
    """Return the segments (k, 2, 2) of any line geometry [m]."""
    parts = shapely.get_parts(shapely.get_parts(lines))
    coords, index = shapely.get_coordinates(parts, return_index=True)
    same = index[1:] == index[:-1]
    return np.stack([coords[:-1][same], coords[1:][same]], axis=1)


def lines_of(segments: Floats) -> shapely.Geometry:
    """Return segments (k, 2, 2) as one line geometry [m]."""
    lines: shapely.Geometry = shapely.multilinestrings(shapely.linestrings(segments))
    return lines
