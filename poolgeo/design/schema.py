"""The pool file's schema: closed, frozen, SI.

A design is what the pool file says, checked and in metres, and nothing more: no curve is
flattened here and no height computed. Plan coordinates are x to the right and y up, in metres.
**Depths** count down from the pool's water level (in a spa, from the spa's), **heights** up.
**Directions** are degrees anticlockwise from x. A **station** is a place on the outline: a plan
point ``[x, y]`` (the nearest point of the outline is meant) or a length along the outline,
anticlockwise from its first point. A stretch runs anticlockwise from ``start`` to ``end``.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .fittings import Fitting
from .floors import (
    Break,
    BrokenFloor,
    DishedFloor,
    Drain,
    DrainedFloor,
    Floor,
    Hopper,
    LevelFloor,
    PlaneFloor,
    SpotFloor,
    SpotLevel,
)
from .outlines import Circle, Ellipse, Outline, Part, Polygon, Polyline, Rectangle, Spline
from .shell import Beam, Footing, Ledge, Setting, Shell, ThickenedEdge, WallStretch
from .steps import Bench, EndFlight, Flight, FollowingFlight, SideFlight, Steps
from .values import (
    Lean,
    Name,
    NotNegative,
    Point,
    Positive,
    Station,
    Tolerance,
    WhenLeftOut,
)
from .waterline import Coping, Waterline

__all__ = [
    "Batter",
    "BatterStretch",
    "Beam",
    "Bench",
    "Break",
    "BrokenFloor",
    "Circle",
    "Coping",
    "Cove",
    "CoveStretch",
    "Deepening",
    "DishedFloor",
    "Drain",
    "DrainedFloor",
    "Ellipse",
    "EndFlight",
    "Fitting",
    "Flight",
    "Floor",
    "FollowingFlight",
    "Foot",
    "Footing",
    "Hopper",
    "Ledge",
    "LevelFloor",
    "Outline",
    "Part",
    "PlaneFloor",
    "Point",
    "Polygon",
    "Polyline",
    "Pool",
    "Rectangle",
    "Seat",
    "Setting",
    "Shell",
    "SideFlight",
    "Spa",
    "Spillway",
    "Spline",
    "SpotFloor",
    "SpotLevel",
    "Station",
    "Steps",
    "ThickenedEdge",
    "WallStretch",
    "Waterline",
]

# --- cove ---------------------------------------------------------------------------------

Foot = Literal["risers", "bench faces", "dam walls"]


class Deepening(Part):
    """A radius that changes with the depth of the floor at the wall, evenly between two depths."""

    start: Positive = Field(description="Depth down to which the cove's own radius holds.")
    end: Positive = Field(description="Depth from which 'radius' holds.")
    radius: Positive = Field(description="Radius in deep water.")

    @field_validator("end")
    @classmethod
    def _deeper(cls, end: float, info: ValidationInfo) -> float:
        start = info.data.get("start")
        if start is not None and end <= start:
            rule = "must be deeper than 'start'"
            raise BadValueError(rule, f"{end:.3f} m; 'start' is {start:.3f} m")
        return end


class CoveStretch(Part):
    """A stretch of the outline along which the cove has another radius, or along which is none."""

    start: Station = Field(description="Where the stretch starts.")
    end: Station = Field(description="Where it ends, anticlockwise from its start.")
    radius: NotNegative = Field(description="Radius of the cove there; 0 for none.")


class Cove(Part):
    """A cove (rolling-ball fillet) where wall and floor meet.

    ::

        |          radius: touches the wall and the floor
        |  . c     also_at: the feet that take one too
        |_.
          `-.____
    """

    form: Literal["cove", "fillet"] = Field(
        default="cove", description="Round, or a fillet of mortar with a straight face."
    )
    radius: Positive = Field(description="Radius of the cove, or leg of the fillet.")
    deepens: Annotated[Deepening | None, WhenLeftOut("none")] = Field(
        default=None, description="How the radius changes with the depth."
    )
    stretches: tuple[CoveStretch, ...] = Field(
        default=(), description="Stretches of the outline with a radius of their own, or with none."
    )
    also_at: tuple[Foot, ...] = Field(
        default=(), description="Feet that take the cove as well: risers, bench faces, dam walls."
    )


class BatterStretch(Part):
    """A stretch of the outline along which the wall leans otherwise."""

    start: Station = Field(description="Where the stretch starts.")
    end: Station = Field(description="Where it ends, anticlockwise from its start.")
    slope: Lean = Field(description="Run over fall of the wall there; 0 is plumb.")


class Batter(Part):
    r"""Walls that lean: wider at the top, where they stand at the outline.

    ::

        |        outline, at the wall top
         \       slope: run over fall, such as 1:10
          \___
    """

    slope: Lean = Field(description="Run over fall of the walls; 0 is plumb.")
    stretches: tuple[BatterStretch, ...] = Field(
        default=(), description="Stretches along which the wall leans otherwise."
    )


# --- spa -----------------------------------------------------------------------------------


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
    waterline: Annotated[Waterline | None, WhenLeftOut("as the pool's")] = Field(
        default=None, description="Extent of the spa's waterline band."
    )


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
    hopper: tuple[Hopper, ...] = Field(default=(), description="Deeper parts sunk into the floor.")
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Fillet between walls and floor."
    )
    batter: Annotated[Batter | None, WhenLeftOut("none")] = Field(
        default=None, description="How the walls lean."
    )
    bench: tuple[Bench, ...] = Field(default=(), description="Benches along the walls.")
    steps: tuple[Steps, ...] = Field(default=(), description="Flights of steps.")
    spa: Annotated[Spa | None, WhenLeftOut("none")] = Field(
        default=None, description="A spa, one at most."
    )
    fittings: Annotated[tuple[Fitting, ...], Field(max_length=1000)] = Field(
        default=(), description="Fittings through the shell, numbered in this order."
    )
    walls: tuple[WallStretch, ...] = Field(
        default=(), description="Stretches of wall that are higher, lower, thicker or thinner."
    )
    ledge: tuple[Ledge, ...] = Field(
        default=(), description="Recesses in the wall at the waterline."
    )
    shell: Shell = Field(default=Shell(), description="The concrete.")
    setting: Annotated[Setting | None, WhenLeftOut("not stated")] = Field(
        default=None, description="How the shell stands: in the ground, or free below."
    )
    waterline: Waterline = Field(
        default=Waterline(), description="Extent of the waterline band, of every body of water."
    )
    coping: Coping = Field(default=Coping(), description="What lies under the coping.")
