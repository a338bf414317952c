"""The pool file's schema: closed, frozen, SI.

A design is what the pool file says, checked and in metres, and nothing more: no curve is
flattened here and no height computed. Plan coordinates are x to the right and y up, in metres.
**Depths** count down from the pool's water level (in a spa, from the spa's), **heights** up.
**Directions** are degrees anticlockwise from x. A **station** is a place on the outline: a plan
point ``[x, y]`` (the nearest point of the outline is meant) or a length along the outline,
anticlockwise from its first point. A stretch runs anticlockwise from ``start`` to ``end``.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field, field_validator

from poolgeo.errors import BadValueError

from .coves import Cove, Foot
from .outlines import Circle, Ellipse, Outline, Part, Polygon, Polyline, Rectangle, Spline
from .overflow import Basin, Channel, Overflow, Weir
from .spas import Seat, Spa, Spillway, Well
from .steps import Bench, EndFlight, Flight, FollowingFlight, SideFlight, Steps
from .values import (
    Degrees,
    Length,
    Name,
    Point,
    Positive,
    Ratio,
    Station,
    Tolerance,
    WhenLeftOut,
)

__all__ = [
    "Basin",
    "Bench",
    "Break",
    "BrokenFloor",
    "Channel",
    "Circle",
    "Cove",
    "Ellipse",
    "EndFlight",
    "Flight",
    "Floor",
    "FollowingFlight",
    "Foot",
    "LevelFloor",
    "Outline",
    "Overflow",
    "Part",
    "PlaneFloor",
    "Point",
    "Polygon",
    "Polyline",
    "Pool",
    "Rectangle",
    "Seat",
    "Shell",
    "SideFlight",
    "Spa",
    "Spillway",
    "Spline",
    "Station",
    "Steps",
    "Weir",
    "Well",
]

# --- floor ---------------------------------------------------------------------------------


class LevelFloor(Part):
    """One depth everywhere."""

    shape: Literal["level"]
    depth: Positive = Field(description="Water depth.")


class PlaneFloor(Part):
    """A sloping plane: ``depth`` at the point ``at``, deeper by ``fall`` along ``direction``."""

    shape: Literal["plane"]
    depth: Positive = Field(description="Water depth at the point 'at'.")
    at: Point = Field(description="Plan point where the depth is given.")
    fall: Ratio = Field(description="Slope of the floor, deeper along the direction.")
    direction: Degrees = Field(
        default=0.0, description="Way that the floor falls, degrees anticlockwise from x."
    )


class Break(Part):
    """A break line ``at`` a distance from the floor's origin, square to its direction."""

    at: Length = Field(description="Distance from the origin along the direction.")
    depth: Positive = Field(description="Water depth along the break line.")


class BrokenFloor(Part):
    r"""Depths at parallel break lines, level before the first and beyond the last.

    ::

        origin ----at----> direction
        ______
              \___            depth at each break; straight between two
                  \______
    """

    shape: Literal["breaks"]
    direction: Degrees = Field(
        default=0.0, description="Way that 'at' counts, degrees anticlockwise from x."
    )
    origin: Point = Field(default=(0.0, 0.0), description="Plan point where 'at' is 0.")
    breaks: Annotated[tuple[Break, ...], Field(min_length=2, max_length=100)] = Field(
        description="The break lines, in rising order of 'at'."
    )

    @field_validator("breaks")
    @classmethod
    def _in_order(cls, breaks: tuple[Break, ...]) -> tuple[Break, ...]:
        places = [item.at for item in breaks]
        if any(b <= a for a, b in pairwise(places)):
            rule = "must stand in rising order of 'at', no two at the same place"
            raise BadValueError(rule)
        return breaks


Floor = Annotated[LevelFloor | PlaneFloor | BrokenFloor, Field(discriminator="shape")]

# --- shell and pool ------------------------------------------------------------------------


class Shell(Part):
    """Concrete thickness: walls measured square to the outline, floor square to its slope."""

    wall: Positive = Field(default=0.25, description="Thickness of the walls.")
    floor: Positive = Field(default=0.25, description="Thickness of the floor.")


class Pool(Part):
    """A whole pool file."""

    name: Name = Field(description="Name of the pool, for titles.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare numbers.")
    tolerance: Tolerance = Field(
        default=0.001, description="No chord is further from its curve than this."
    )
    freeboard: Positive = Field(
        default=0.15, description="Distance of the water level below the top of the wall."
    )
    outline: Outline = Field(description="Plan shape, at the face of the walls.")
    floor: Floor = Field(description="Depths of the floor.")
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Fillet between walls and floor."
    )
    bench: tuple[Bench, ...] = Field(default=(), description="Benches along the walls.")
    steps: tuple[Steps, ...] = Field(default=(), description="Flights of steps.")
    spas: tuple[Spa, ...] = Field(default=(), description="Spas in the pool or beside it.")
    overflows: tuple[Overflow, ...] = Field(
        default=(), description="Stretches of the wall that the pool spills over, into a basin."
    )
    channels: tuple[Channel, ...] = Field(
        default=(), description="Deck-level channels that the pool spills into."
    )
    shell: Shell = Field(default=Shell(), description="Thickness of the concrete.")
