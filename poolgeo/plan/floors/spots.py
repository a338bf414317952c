"""A floor through spot levels: plane over the triangles between them."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats, Ints
from ...design import schema
from ..faceted import Faceted
from ..surfaces import Plane
from .extent import Extent


def spot_floor(floor: schema.SpotFloor, extent: Extent) -> Faceted:
    """Return the floor through spot levels.

    Beyond the outermost points it runs on at their level.

    Args:
        floor: From the pool file.
        extent: What it has to cover.
    """
    xy = np.array([item.at for item in floor.spots])
    z = -np.array([item.depth for item in floor.spots])
    corners = _triangles(xy, z, extent)
    planes = []
    for (p, q, r), (zp, zq, zr) in zip(corners[..., :2], corners[..., 2], strict=True):
        slope = np.linalg.solve(np.array([q - p, r - p]), np.array([zq - zp, zr - zp]))
        planes.append(Plane.through(p, float(zp), slope))
    tree = shapely.STRtree(shapely.polygons(corners[..., :2]))

    def locate(at: Floats) -> Ints:
        found: Ints = np.asarray(tree.nearest(shapely.points(at)), dtype=np.int64)
        return found

    sides = corners[:, [[0, 1], [1, 2], [2, 0]], :2].reshape(-1, 2, 2)
    low = (sides[:, 0, 0] < sides[:, 1, 0]) | (
        (sides[:, 0, 0] == sides[:, 1, 0]) & (sides[:, 0, 1] < sides[:, 1, 1])
    )
    sides = np.where(low[:, None, None], sides, sides[:, ::-1])
    lines = np.unique(sides.reshape(-1, 4), axis=0).reshape(-1, 2, 2)
    return Faceted(tuple(planes), np.arange(len(planes)), locate, lines)


def _triangles(xy: Floats, z: Floats, extent: Extent) -> Floats:
    """Return triangles (t, 3, 3) through the spots, and beyond them to the border of the extent."""
    inner = shapely.get_parts(shapely.delaunay_triangles(shapely.multipoints(xy)))
    hull = shapely.union_all(inner)
    ring = shapely.get_coordinates(shapely.orient_polygons(hull).exterior)[:-1]
    found = [shapely.get_coordinates(inner).reshape(-1, 4, 2)[:, :3]]
    # beyond the hull: from each of its corners on, half way between what is square to its sides;
    # to one distance from all the sides, else those at a sharp corner have strips that end early
    after = np.roll(ring, -1, axis=0) - ring
    after /= np.hypot(*after.T)[:, None]
    outward = np.column_stack([after[:, 1], -after[:, 0]])
    outward = outward + np.roll(outward, 1, axis=0)
    beyond = extent.reach + float(shapely.distance(hull, extent.box))
    far = ring + 2.0 * beyond * outward / np.sum(outward**2, axis=1)[:, None]
    a, b, c, d = ring, np.roll(ring, -1, axis=0), np.roll(far, -1, axis=0), far
    found += [np.stack([a, d, c], axis=1), np.stack([a, c, b], axis=1)]
    triangles = np.concatenate(found)
    level = {(x, y): height for (x, y), height in zip(xy.tolist(), z.tolist(), strict=True)}
    level |= {(x, y): level[p, q] for (x, y), (p, q) in
              zip(far.tolist(), ring.tolist(), strict=True)}  # fmt: skip
    heights = [level[x, y] for x, y in triangles.reshape(-1, 2).tolist()]
    return np.concatenate([triangles, np.array(heights).reshape(-1, 3, 1)], axis=2)
