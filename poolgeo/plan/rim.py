"""Parts of the wall's plan: what of a rim round an outline belongs to a stretch of it.

::

       outer border of the rim
      _____________________________
     |      |  the stretch's |     |     cut square to the outline at both ends; at an inside
     |      |      part      |     |     corner of the concrete along the bisector
     +------+----------------+-----+     outline
"""

from __future__ import annotations

import numpy as np
import shapely

from ..arrays import Floats
from .ring import Ring
from .shapes import polygons_only
from .stretch import CRUMB, Stretch, inward_at, point_at
from .tolerances import SHARP_TURN, WELD

STEPS = 64
"""Places at which a cut is asked whether it has come nearer to another part of the outline."""

NEARER = 0.998
"""[-] It has where its distance from the outline is less than this times its length: on a chord, a
true normal leans by so little that it is not."""

BESIDE = 5e-3
"""[m] So far beside its ends a stretch's part must be there, or must not."""


def part_of(rim: shapely.Geometry, stretch: Stretch) -> shapely.Geometry | None:
    """Return what of a rim belongs to a stretch of the outline that it surrounds.

    Args:
        rim: What lies between the outline and a line round it.
        stretch: Of the outline.

    Returns:
        Its part; None where the cuts at its ends do not part the rim, because another wall is
        too near.
    """
    ring = stretch.ring
    if stretch.start is None or stretch.end is None:
        return rim
    outer = polygons_only(shapely.union(rim, ring.polygon, grid_size=0.0))
    points, before, after = stretch.baseline()
    ends = ((points[0], after[0], stretch.start), (points[-1], before[-1], stretch.end))
    cuts = [_cut(ring, outer, *end) for end in ends]
    lines = shapely.union_all([shapely.boundary(rim), *cuts])
    faces = shapely.get_parts(shapely.polygonize([lines]))
    shapely.prepare(rim)
    faces = faces[shapely.contains_properly(rim, shapely.point_on_surface(faces))]
    middle = point_at(ring, (stretch.start + stretch.length / 2.0) % ring.perimeter)
    mine = shapely.union_all(faces[shapely.distance(faces, shapely.Point(middle)) < WELD])
    off = min(BESIDE, stretch.length / 4.0, (ring.perimeter - stretch.length) / 4.0)
    for at, sign in ((stretch.start, -1.0), (stretch.end, 1.0)):
        out, within = (
            shapely.Point(point_at(ring, (at + step) % ring.perimeter))
            for step in (sign * off, -sign * off)
        )
        if shapely.distance(mine, out) < WELD or shapely.distance(mine, within) > WELD:
            return None
    return mine


def _cut(
    ring: Ring, outer: shapely.Geometry, place: Floats, inward: Floats, station: float
) -> shapely.LineString:
    """Return the line from the outline to the outer border at the end of a stretch.

    It goes square to the outline; where it comes nearer to another part of the outline, it goes on
    to the nearest place of the outer border, which is the corner there.
    """
    nearest = int(np.argmin(np.hypot(*(ring.points - place).T)))
    at_corner = bool(np.hypot(*(ring.points[nearest] - place)) < WELD)
    if at_corner and ring.turns[nearest] < -SHARP_TURN:
        inward = inward_at(ring, station)
    border, outline = shapely.boundary(outer), shapely.boundary(ring.polygon)
    size = float(np.hypot(*np.ptp(shapely.get_coordinates(border), axis=0)))
    ray = shapely.LineString([place - CRUMB * inward, place - size * inward])
    met = shapely.get_coordinates(shapely.intersection(ray, border))
    reach = float(np.hypot(*(met - place).T).min()) if len(met) else size
    way = reach * np.arange(1, STEPS + 1) / STEPS
    spots = shapely.points(place - way[:, None] * inward)
    nearer = np.flatnonzero(shapely.distance(outline, spots) < NEARER * way)
    if at_corner:  # through the corner itself, from surely inside
        place = ring.points[nearest]
        middle = ring.chord_normals[nearest - 1, 1] + ring.chord_normals[nearest, 0]
        stop = place - (reach + CRUMB) * inward
        return shapely.LineString([place + CRUMB * middle, place, stop])
    start = place + CRUMB * inward
    if not len(nearer):
        return shapely.LineString([start, place - (reach + CRUMB) * inward])
    low, high = (way[nearer[0]] - reach / STEPS, way[nearer[0]])
    for _ in range(STEPS // 2):
        middle = (low + high) / 2.0
        is_nearer = shapely.distance(outline, shapely.Point(place - middle * inward)) < (
            NEARER * middle
        )
        low, high = (low, middle) if is_nearer else (middle, high)
    turn = place - low * inward
    corner = shapely.get_coordinates(shapely.shortest_line(shapely.Point(turn), border))[1]
    away = (corner - turn) / max(float(np.hypot(*(corner - turn))), CRUMB)
    return shapely.LineString([start, turn, corner + CRUMB * away])
