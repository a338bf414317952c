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

from pydantic import Field

from .arris import Arris, ArrisElsewhere
from .benches import Beach, Bench, FollowingLedge, Ledge, OutlinedLedge
from .coves import Batter, BatterStretch, Cove, CoveStretch, Deepening, Foot
from .drawings import CutLine, Drawings, Revision
from .finishes import CopingStones, Finish, Tile
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
from .joints import Joint
from .movement import Drawn, DrawnLine, DrawnRing, MovementJoints
from .outlines import (
    Circle,
    Combined,
    Drawing,
    Ellipse,
    Operation,
    Outline,
    Part,
    PointList,
    Polygon,
    Polyline,
    Rectangle,
    Shape,
    Spline,
    Traced,
)
from .overflow import Basin, Channel, Overflow, Weir
from .shell import Beam, Footing, Recess, Setting, Shell, ThickenedEdge, WallStretch
from .spas import Seat, Spa, Spillway, Well
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
    Name,
    Point,
    Positive,
    Station,
    Tolerance,
    WhenLeftOut,
)
from .waterline import Coping, Waterline
from .waterproofing import Waterproofing

__all__ = [
    "ArcFlight",
    "Arris",
    "ArrisElsewhere",
    "Basin",
    "Batter",
    "BatterStretch",
    "Beach",
    "Beam",
    "Bench",
    "Break",
    "BrokenFloor",
    "Channel",
    "Circle",
    "Combined",
    "Coping",
    "CopingStones",
    "CornerFlight",
    "Cove",
    "CoveStretch",
    "CutLine",
    "Deepening",
    "Descent",
    "DishedFloor",
    "Drain",
    "DrainedFloor",
    "Drawing",
    "Drawings",
    "Drawn",
    "DrawnLine",
    "DrawnRing",
    "Ellipse",
    "EndFlight",
    "Finish",
    "Fitting",
    "Flight",
    "Floor",
    "FollowingFlight",
    "FollowingLedge",
    "Foot",
    "Footing",
    "Hopper",
    "Island",
    "IslandFlight",
    "Joint",
    "Ledge",
    "LevelFloor",
    "MovementJoints",
    "Operation",
    "Outline",
    "OutlinedFlight",
    "OutlinedLedge",
    "Overflow",
    "Part",
    "PlaneFloor",
    "Point",
    "PointList",
    "Polygon",
    "Polyline",
    "Pool",
    "Recess",
    "Rectangle",
    "Revision",
    "Seat",
    "Setting",
    "Shape",
    "Shell",
    "Side",
    "SideFlight",
    "Spa",
    "Spillway",
    "Spline",
    "SpotFloor",
    "SpotLevel",
    "Station",
    "Steps",
    "ThickenedEdge",
    "Tile",
    "Traced",
    "WallStretch",
    "Waterline",
    "Waterproofing",
    "Weir",
    "Well",
    "WindingFlight",
]


class Island(Part):
    """A column of concrete that stands in the water, its walls upright like the pool's."""

    outline: Outline = Field(description="Plan shape of the island.")
    name: Name | None = Field(default=None, description="Name of the island in reports.")
    top: Annotated[Positive | None, WhenLeftOut("the freeboard")] = Field(
        default=None, description="Height of its top above the water."
    )


class Pool(Part):
    """A whole pool file."""

    name: Name = Field(description="Name of the pool, for titles.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare numbers.")
    tolerance: Tolerance = Field(
        default=0.001, description="No chord is further from its curve than this."
    )
    freeboard: Positive = Field(
        default=0.15,
        description="Height of the wall's top above the water level."
        " The default is common practice, no source.",
    )
    outline: Outline = Field(
        description="Plan shape, at the face of the walls; of walls that lean, at their top."
    )
    floor: Floor = Field(description="Depths of the floor.")
    hopper: tuple[Hopper, ...] = Field(default=(), description="Deeper parts sunk into the floor.")
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Cove, or fillet of mortar, where walls and floor meet."
    )
    batter: Annotated[Batter | None, WhenLeftOut("none")] = Field(
        default=None, description="How the walls lean."
    )
    bench: tuple[Bench, ...] = Field(default=(), description="Benches along the walls.")
    ledges: tuple[Ledge, ...] = Field(
        default=(), description="Ledges: benches that slope, run down as a beach, or stand free."
    )
    steps: tuple[Steps, ...] = Field(default=(), description="Flights of steps.")
    spas: tuple[Spa, ...] = Field(default=(), description="Spas in the pool or beside it.")
    overflows: tuple[Overflow, ...] = Field(
        default=(), description="Stretches of the wall that the pool spills over, into a basin."
    )
    channels: tuple[Channel, ...] = Field(
        default=(), description="Deck-level channels that the pool spills into."
    )
    islands: tuple[Island, ...] = Field(
        default=(), description="Columns of concrete in the water, clear of the walls."
    )
    fittings: Annotated[tuple[Fitting, ...], Field(max_length=1000)] = Field(
        default=(), description="Fittings through the shell, numbered in this order."
    )
    joints: Annotated[tuple[Joint, ...], Field(max_length=100)] = Field(
        default=(),
        description="Movement joints of the structure: straight lines at which it is parted.",
    )
    walls: tuple[WallStretch, ...] = Field(
        default=(), description="Stretches of wall that are higher, lower, thicker or thinner."
    )
    recess: tuple[Recess, ...] = Field(
        default=(), description="Recesses in the wall at the waterline."
    )
    shell: Shell = Field(default=Shell(), description="The concrete.")
    setting: Annotated[Setting | None, WhenLeftOut("not stated")] = Field(
        default=None, description="How the shell stands: in the ground, or free below."
    )
    arris: Annotated[Arris | None, WhenLeftOut("not stated")] = Field(
        default=None, description="How external edges are finished."
    )
    waterline: Waterline = Field(
        default=Waterline(),
        description="Extent of the waterline band of every body of water; one that is dry at rest"
        " has none.",
    )
    coping: Coping = Field(default=Coping(), description="What lies under the coping.")
    finishes: Annotated[
        tuple[Finish, ...] | None, Field(max_length=100), WhenLeftOut("not stated")
    ] = Field(
        default=None,
        description="What goes on to the membrane, the first that matches a surface; an empty list"
        " where nothing does.",
    )
    movement_joints: Annotated[MovementJoints | None, WhenLeftOut("not stated")] = Field(
        default=None, description="How the movement joints of the finish are set out."
    )
    drawings: Drawings = Field(
        default=Drawings(), description="Sheets, layers, sections and title block of its drawings."
    )
    waterproofing: Annotated[Waterproofing | None, WhenLeftOut("none")] = Field(
        default=None, description="The waterproofing: its system, the site, the programme."
    )
    rules: Annotated[Name | None, WhenLeftOut("none")] = Field(
        default=None,
        description="Table of limits to compare the pool with: its name, or a YAML file.",
    )
