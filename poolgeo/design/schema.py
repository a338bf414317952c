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

from .benches import Beach, Bench, FollowingLedge, Ledge, OutlinedLedge
from .outlines import Circle, Ellipse, Outline, Part, Polygon, Polyline, Rectangle, Spline
from .steps import (
    ArcFlight,
    CornerFlight,
    Descent,
    EndFlight,
    Flight,
    FollowingFlight,
    IslandFlight,
    OutlinedFlight,
    Side,
    SideFlight,
    Steps,
    WindingFlight,
)
from .values import (
    Degrees,
    Length,
    Name,
    NotNegative,
    Point,
    Positive,
    Ratio,
    Station,
    Tolerance,
    WhenLeftOut,
)

__all__ = [
    "ArcFlight",
    "Beach",
    "Bench",
    "Break",
    "BrokenFloor",
    "Circle",
    "CornerFlight",
    "Cove",
    "Descent",
    "Ellipse",
    "EndFlight",
    "Flight",
    "Floor",
    "FollowingFlight",
    "FollowingLedge",
    "Foot",
    "IslandFlight",
    "Ledge",
    "LevelFloor",
    "Outline",
    "OutlinedFlight",
    "OutlinedLedge",
    "Part",
    "PlaneFloor",
    "Point",
    "Polygon",
    "Polyline",
    "Pool",
    "Rectangle",
    "Seat",
    "Shell",
    "Side",
    "SideFlight",
    "Spa",
    "Spillway",
    "Spline",
    "Station",
    "Steps",
    "WindingFlight",
]

# --- floor and cove ------------------------------------------------------------------------


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

Foot = Literal["risers", "bench faces", "dam walls"]


class Cove(Part):
    """A cove (rolling-ball fillet) where wall and floor meet.

    ::

        |          radius: touches the wall and the floor
        |  . c     also_at: the feet that take one too
        |_.
          `-.____
    """

    radius: Positive = Field(description="Radius of the cove.")
    also_at: tuple[Foot, ...] = Field(
        default=(), description="Feet that take the cove as well: risers, bench faces, dam walls."
    )


# --- spa and shell -------------------------------------------------------------------------


class Seat(Part):
    """A seat ring all round the spa: its width, and the depth of its top below the spa water."""

    width: Positive = Field(description="Width in plan.")
    depth: Positive = Field(description="Depth of the seat below the spa water.")


class Spillway(Part):
    """A notch in the dam wall, ``width`` wide, at the outline point nearest to ``at``.

    Its sill stands ``drop`` below the spa's water level (0: the water stands at the sill).
    """

    at: Point = Field(description="Middle of the spillway; the nearest outline point is meant.")
    width: Positive = Field(description="Width of the notch.")
    drop: NotNegative = Field(
        default=0.0, description="How far the sill stands below the spa water."
    )


class Spa(Part):
    """A spa inside the pool, straddling its edge, or free-standing.

    ::

                 _
        |~~~~~~~| |  freeboard: from the spa water up to the top of its walls
        |_seat  | |~~~~~~~     raised: from the pool water up to the spa water
          |_____| |            dam_wall: thickness where the wall stands in the pool
    """

    outline: Outline = Field(description="Inner plan shape of the spa.")
    raised: NotNegative = Field(
        default=0.0, description="Height of the spa water above the pool water; 0 is flush."
    )
    freeboard: Positive = Field(
        default=0.1, description="Height of the spa's wall top and dam wall top above its water."
    )
    depth: Positive = Field(description="Water depth of the spa.")
    seat: Annotated[Seat | None, WhenLeftOut("none")] = Field(
        default=None, description="A seat all round."
    )
    dam_wall: Positive = Field(
        default=0.2, description="Thickness of the wall where it stands in the pool."
    )
    spillway: Annotated[Spillway | None, WhenLeftOut("none")] = Field(
        default=None, description="A notch that the spa spills over into the pool."
    )
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Fillet between the spa's walls and floor."
    )


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
    ledges: tuple[Ledge, ...] = Field(
        default=(), description="Ledges: benches that slope, run down as a beach, or stand free."
    )
    steps: tuple[Steps, ...] = Field(default=(), description="Flights of steps.")
    spa: Annotated[Spa | None, WhenLeftOut("none")] = Field(
        default=None, description="A spa, one at most."
    )
    shell: Shell = Field(default=Shell(), description="Thickness of the concrete.")
    rules: Annotated[Name | None, WhenLeftOut("none")] = Field(
        default=None,
        description="Table of limits to compare the pool with: its name, or a YAML file.",
    )
