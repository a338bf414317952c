r"""Notches in walls: where a wall ends lower than its top, a cove must touch it lower still.

::

       wall     recess, weir,       The cove that is asked is the one that is lofted: its stretches,
      |____|    lowered wall        and what makes it grow, are in it.
      |____     its level
      |    |
     (|    |
    __`-___|
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...arrays import Floats
from ..cells import Cells
from ..keys import are_in, pair_keys
from ..layers import Layer
from ..stretch import Stretch
from .part import Notch
from .site import Site

NEAR = 1e-4
"""[m] A cove's vertex nearer to a wall's face than this lies on it: noding moves neither so far."""

TRIM = 2e-4
"""[m] A notch ends so much before its stretch does: beyond `NEAR` of a cove that ends there."""


def line_within(stretch: Stretch) -> shapely.LineString:
    """Return the line of a stretch, a hair shorter at both ends."""
    if stretch.start is None or stretch.end is None:
        return shapely.LineString(stretch.baseline()[0])
    round_ = stretch.ring.perimeter
    ends = (stretch.start + TRIM) % round_, (stretch.end - TRIM) % round_
    return shapely.LineString(Stretch(stretch.ring, *ends).baseline()[0])


def check_notches(site: Site, notches: Sequence[Notch], coves: Sequence[Layer]) -> None:
    """Leave a finding for each notch that cuts into a cove.

    Args:
        site: The body of water that the coves are in.
        notches: In its walls.
        coves: Its layers that are coves, others are passed over.
    """
    cells = [item.height for item in coves if isinstance(item.height, Cells)]
    for notch in notches:
        found = [_touching(item, notch.line) for item in cells if item.canal.radius > 0.0]
        points = np.concatenate([*found, np.zeros((0, 3))])
        if not len(points):
            continue
        x, y, z = points[int(np.argmax(points[:, 2]))].tolist()
        if z >= notch.level:
            site.findings.error(
                notch.key,
                "must leave the cove wall to touch below it",
                f"the cove ends {site.level - z:.3f} m below the water near ({x:.3f}, {y:.3f}) m",
                "use a smaller cove, or move this up",
            )


def _touching(cells: Cells, line: shapely.Geometry) -> Floats:
    """Return places (k, 3) at which a cove ends on the wall along a line [m]."""
    shapely.prepare(line)
    own_points = shapely.points(shapely.get_coordinates(line))
    found = [np.zeros((0, 3))]
    for numbers in cells.walls:
        wall = cells.vertices[numbers]
        on = shapely.dwithin(line, shapely.points(wall[:, :2]), NEAR)
        own = shapely.linestrings(wall[:, :2])
        here = own_points[shapely.dwithin(own, own_points, NEAR)]
        if not on.any() and not len(here):
            continue
        if cells.canal.batter.lean:
            found.append(_leaning(cells, own, line))
            continue
        along = np.append(0.0, np.cumsum(np.hypot(*np.diff(wall[:, :2], axis=0).T)))
        heights = np.interp(shapely.line_locate_point(own, here), along, wall[:, 2])
        found += [wall[on], np.column_stack([shapely.get_coordinates(here), heights])]
    return np.concatenate(found)


def _leaning(cells: Cells, wall: shapely.Geometry, line: shapely.Geometry) -> Floats:
    """Return places (k, 3) at which a cove ends on a wall that leans, inwards of a line [m].

    The lines of such cells run along the wall's top: the cove ends where its face begins.
    """
    rolled = cells.group < cells.walls_from
    below, above = (
        np.sort(cells.triangles[mine][:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
        for mine in (rolled, ~rolled)
    )
    keys, others = (
        pair_keys(item[:, 0], item[:, 1], len(cells.vertices)) for item in (below, above)
    )
    edges = below[are_in(keys, others)]
    ends = cells.vertices[edges]
    corners: Floats = ends.reshape(-1, 3)
    places = shapely.points(corners[:, :2])
    mine = shapely.distance(line, places) < shapely.distance(wall, places) + NEAR
    beside = shapely.linestrings(ends[:, :, :2])
    own = shapely.points(shapely.get_coordinates(line))
    nearest = np.argmin(shapely.distance(own[:, None], beside), axis=1)
    share = shapely.line_locate_point(beside[nearest], own, normalized=True)[:, None]
    between = ends[nearest, 0] * (1.0 - share) + ends[nearest, 1] * share
    return np.concatenate([corners[mine], between])
