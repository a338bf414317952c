"""Area tags: how much there is of each kind of surface that is seen from above.

A tag stands in the middle of its surface where that has room for it, else beside it with a leader.
It says the true area, as the table of areas does.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..design.scale import scale_of
from ..model import Model
from ..quantities import AreaRow, Takeoff
from ..surface.kinds import EASING, STANDING
from .inside import plan_region, roomy
from .labels import Label
from .plan_lines import Place, Projection
from .positions import Position, around, text_width

FLAT = 0.5
"""[-] What is seen of a surface from above, as a share of it, is at least this: it is no wall."""

ROOM = 12.0
"""[text heights squared] What is smaller in plan has its tag beside it."""

LEAST = 1.0
"""[text heights squared] What is smaller in plan has no tag: the table has it."""

PLACES = 4
"""Places within a surface at which its tag may stand."""

FARTHER = 0.25
"""How much less wanted each next one of them is."""

CLEAR = 0.3
"""Clear space about a tag within its surface, in text heights."""


def area_tags(
    model: Model, takeoff: Takeoff, projection: Projection, height: float
) -> Iterator[Label]:
    """Yield the tags of the surfaces that are seen from above, in the order of the table.

    Args:
        model: The pool.
        takeoff: Its areas.
        projection: To drawing units.
        height: Of text [m].
    """
    mesh = model.square.surface
    bodies = np.array([patch.body for patch in mesh.patches])
    kinds = np.array([patch.kind for patch in mesh.patches])
    for row in takeoff.areas:
        if not is_tagged(row, height):
            continue
        members = np.flatnonzero((bodies == row.body) & (kinds == row.kind))
        rows = np.isin(mesh.patch, members) & (mesh.doubled_areas[:, 2] > 0.0)
        if rows.any():
            text = tag_of(row, model)
            region = plan_region(mesh, rows)
            room = row.plan_area >= ROOM * height**2
            positions = _positions(region, text, projection, height, room=room)
            yield Label(text, tuple(positions))


def is_tagged(row: AreaRow, height: float) -> bool:
    """Tell whether a surface has a tag, at a height of text [m]."""
    lies = row.kind not in STANDING | EASING and row.plan_area >= FLAT * row.area
    return lies and row.plan_area > LEAST * height**2


def tag_of(row: AreaRow, model: Model) -> str:
    """Return what the tag of a surface says, in the units of reports."""
    scale = scale_of(model.design.pool.units)
    return f"{row.kind.capitalize()} {row.area / scale.square_metres:.2f} {scale.area}"


def _positions(
    region: shapely.Geometry, text: str, projection: Projection, height: float, *, room: bool
) -> Iterator[Position]:
    """Yield where a tag may stand: within its surface where it fits, then beside, with a leader."""
    size = height * projection.per_metre
    width = text_width(text, size)
    places = [place for place, _ in roomy(region, PLACES if room else 1)]
    places = places or [tuple(shapely.get_coordinates(shapely.point_on_surface(region))[0])]
    shapely.prepare(region)
    for rank, place in enumerate(places if room else ()):
        if shapely.contains(region, _box(place, width / projection.per_metre, height)):
            yield Position(projection.place(place), 0.0, FARTHER * rank)
    for item in around(projection.place(places[0]), width, size):
        if item.leader is not None:
            yield item


def _box(place: Place, width: float, height: float) -> shapely.Polygon:
    """Return the box about a level text, with what is to be clear about it [m]."""
    (x, y), clear = place, CLEAR * height
    dx, dy = width / 2.0 + clear, height / 2.0 + clear
    return shapely.box(x - dx, y - dy, x + dx, y + dy)
