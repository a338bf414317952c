"""Finishes, as the pool file writes them: what people see and touch, on top of the membrane."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from poolgeo.errors import BadValueError

from .arris import EdgeGroup
from .outlines import Part
from .places import Places
from .quantities import Density, Expansion, Loss, Share
from .values import JointWidth, Name, NotNegative, Positive, WhenLeftOut

FinishType = Literal["tile", "mosaic", "render", "pebble", "plaster"]

LAID: frozenset[FinishType] = frozenset({"tile", "mosaic"})
"""Types that are laid piece by piece, with joints; the others are thrown on or trowelled."""


class Tile(Part):
    r"""One tile, or one piece of a mosaic.

    ::

         _____________   _
        |             |  | width     between two tiles: the joint
        |_____________|  |           module = tile + joint, either way
         <-- length -->
    """

    length: Positive = Field(description="Along the rows.")
    width: Positive = Field(description="Across the rows; up a wall.")
    thickness: Positive = Field(description="Of the tile; the joints are grouted as deep.")


class Sheet(Part):
    """A sheet on which a mosaic comes, with one joint either way."""

    length: Positive = Field(description="Along the rows, with a joint.")
    width: Positive = Field(description="Across the rows, with a joint.")


class Waste(Part):
    """What is bought more than is laid; the defaults are common practice, no source."""

    straight: Share = Field(
        default=0.05, description="Where surface and border are straight, level or plumb."
    )
    curved: Share = Field(
        default=0.12, description="Where the surface or its border follows a curve."
    )
    sloping: Share = Field(default=0.03, description="More than that, where the surface slopes.")


class Bed(Part):
    """The adhesive that tiles or sheets lie in."""

    thickness: Positive = Field(
        default=0.004, description="Mean thickness when laid. The default is common practice."
    )
    contact: Share = Field(
        default=0.95,
        description="Share of the tile's back that it holds. The default is that of ANSI A108.5,"
        " 2.2.2, for wet work.",
    )
    density: Annotated[Density | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Of the mixed adhesive, to give its mass too."
    )


class Nosing(Part):
    """Pieces made for the edges of steps and the like."""

    length: Positive = Field(description="Of one piece, without its joint.")
    at: Annotated[tuple[EdgeGroup, ...], Field(min_length=1, max_length=8)] = Field(
        default=("steps",), description="External edges that take them."
    )


class Finish(Part):
    """One finish; of several that match a surface the first holds."""

    name: Name = Field(description="Name of it in reports.")
    type: FinishType = Field(description="What it is.")
    where: Places = Field(default=Places(), description="Which surfaces take it.")
    tile: Annotated[Tile | None, WhenLeftOut("none")] = Field(
        default=None, description="Of tile or mosaic: its size."
    )
    joint: Annotated[JointWidth | None, WhenLeftOut("none")] = Field(
        default=None, description="Of tile or mosaic: width of its grout joints."
    )
    sheet: Annotated[Sheet | None, WhenLeftOut("none")] = Field(
        default=None, description="Of mosaic: the sheets that it comes on."
    )
    bed: Bed = Field(default=Bed(), description="Of tile or mosaic: its adhesive.")
    thickness: Annotated[Positive | None, WhenLeftOut("none")] = Field(
        default=None, description="Of render, pebble or plaster."
    )
    nosing: Annotated[Nosing | None, WhenLeftOut("none")] = Field(
        default=None, description="Pieces along external edges."
    )
    waste: Waste = Field(default=Waste(), description="What is bought more of tiles or sheets.")
    loss: Loss = Field(
        default=0.1,
        description="Share of adhesive, grout or plaster that is lost. The default is common"
        " practice, no source.",
    )
    expansion: Expansion = Field(
        default=7e-6,
        description="Thermal expansion along it. The default is common practice for ceramic tile,"
        " no source.",
    )
    moisture: Share = Field(
        default=0.0003,
        description="Swelling from dry to wet, such as 0.3 mm/m. The default is common practice,"
        " no source.",
    )

    @model_validator(mode="after")
    def _fits_its_type(self) -> Self:
        laid = self.type in LAID
        wanted = ("tile", "joint") if laid else ("thickness",)
        barred = ("thickness",) if laid else ("tile", "joint", "sheet", "nosing")
        missing = [f"'{key}'" for key in wanted if getattr(self, key) is None]
        if missing:
            rule = f"must give {' and '.join(missing)} for {self.type}"
            raise BadValueError(rule, "not given")
        there = [f"'{key}'" for key in barred if getattr(self, key) is not None]
        if there:
            rule = f"must not give {', '.join(there)} for {self.type}"
            raise BadValueError(rule, remedy="leave it out")
        if self.type == "tile" and self.sheet is not None:
            rule = "must not give 'sheet' for tile"
            raise BadValueError(rule, remedy="write type: mosaic, or leave it out")
        return self


class CopingStones(Part):
    r"""Stones along the inner edge of the wall tops.

    ::

        |<- width ->|
         ___________ ___________      laid along the edge, one joint between two;
        |   stone   |   stone   |     on a curve the joints widen outwards
        ------- inner edge -------
    """

    length: Positive = Field(description="Of one stone, along the inner edge.")
    width: Positive = Field(description="Across the wall top.")
    joint: NotNegative = Field(default=0.005, description="Between two stones, at the inner edge.")
    overhang: NotNegative = Field(default=0.0, description="What it stands out over the water.")
    bodies: Annotated[tuple[Name, ...] | None, WhenLeftOut("all")] = Field(
        default=None, description="Bodies of water that have it."
    )
    waste: Share = Field(
        default=0.05, description="What is bought more. The default is common practice, no source."
    )
