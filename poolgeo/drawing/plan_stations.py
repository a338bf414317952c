"""Running dimensions of the plan: what a setting-out needs of corners, arcs and fittings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from ..jointing.rows import FinishJoints
from ..model import Body, Model
from ..placed import SLANT
from ..quantities import Takeoff
from .contents import Content
from .measuring import running
from .plan_lines import Place, PlanLine, Projection
from .radii import radii_of
from .view import Ordinate

CORNER = 0.01
"""[m] How far off a body's outlines its corners may lie."""


def stations(
    model: Model, takeoff: Takeoff, joints: FinishJoints | None, bodies: Sequence[Body],
    lines: Mapping[Content, Sequence[PlanLine]],
    projection: Projection, height: float,
) -> tuple[Place, list[Ordinate]]:  # fmt: skip
    """Return what the plan's running dimensions are counted from, and them.

    Args:
        model: The pool.
        takeoff: Its fittings.
        joints: Movement joints of the finish, if any: these are counted from their origin, else
            from the first point of the pool's outline.
        bodies: Bodies of water that are shown.
        lines: That are drawn.
        projection: To drawing units.
        height: Of text, in drawing units.

    Returns:
        The origin; places of corners of outlines, steps and benches, of centres of arcs, and of
        fittings that lie, below the plan and on its left.
    """
    names = {body.name for body in bodies}
    regions = [shapely.Polygon(line).buffer(CORNER) for (name, role), line in model.outlines.items()
               if name in names and role in {"water", "shell"}]  # fmt: skip
    corners = model.corners[shapely.contains_xy(shapely.union_all(regions), model.corners)]
    places = [
        *corners.tolist(),
        *(arc.centre for arc in radii_of(model) if arc.body in names),
        *(item.point[:2] for item in takeoff.fittings if item.normal[2] > SLANT),
    ]
    drawn = np.array([point for found in lines.values() for line in found for point in line.points])
    (left, low), (right, top) = drawn.min(axis=0).tolist(), drawn.max(axis=0).tolist()
    inside = [
        place for place in places
        if left <= projection.length(place[0]) <= right
        and low <= projection.length(place[1]) <= top
    ]  # fmt: skip
    x, y = model.outlines["pool", "water"][0].tolist() if joints is None else joints.origin
    units = model.design.pool.units
    found: list[Ordinate] = []
    for axis, start, edge in ((0, x, low), (1, y, left)):
        along = [place[axis] for place in inside]
        found += running([start, *along], axis, start, edge, -1.0,
                         projection=projection, height=height, units=units)  # fmt: skip
    return projection.place((x, y)), found
