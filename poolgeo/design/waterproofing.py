"""What waterproofing needs to know of the job: its system, the site, the programme."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .outlines import Part
from .quantities import Duration, Share, Stress, Temperature
from .values import FileName, Length, Name, WhenLeftOut


class Step(Part):
    """One coat of the programme."""

    layer: Name = Field(description="Name of a layer of the system.")
    coat: Annotated[int, Field(ge=1, le=20)] = Field(default=1, description="Which of its coats.")
    starts: Duration = Field(description="When it starts, from the start of the works.")
    takes: Duration = Field(default=0.0, description="How long it takes.")


class Programme(Part):
    """When the coats go on, and when the water comes."""

    coats: Annotated[tuple[Step, ...], Field(max_length=200)] = Field(
        default=(), description="The coats in any order."
    )
    tightness_test: Annotated[Duration | None, WhenLeftOut("not stated")] = Field(
        default=None,
        description="When the bare shell's own tightness test ends, from the start of the works;"
        " 0 where it ends before.",
    )
    filling: Annotated[Duration | None, WhenLeftOut("not stated")] = Field(
        default=None, description="When the pool is filled, from the start of the works."
    )


class Concrete(Part):
    """The concrete that is to be coated."""

    strength: Annotated[Stress | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Characteristic compressive strength."
    )
    moisture: Annotated[Literal["dry", "damp"] | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Whether it is dry or damp when it is coated."
    )


class Waterproofing(Part):
    """The waterproofing: a system, and what holds at this pool."""

    system: Name = Field(
        description="Waterproofing system: the name of one, or a file that ends in .yaml."
    )
    method: Name = Field(
        default="voids-half-a-square-metre",
        description="Rules of measurement: the name of a set, or a file that ends in .yaml.",
    )
    requirements: Name = Field(
        default="pools",
        description="What the system is checked against: the name of a table, or a file that ends"
        " in .yaml.",
    )
    prices: Annotated[FileName | None, WhenLeftOut("those of the system")] = Field(
        default=None, description="Price book: a CSV file beside the pool file."
    )
    tax: Share = Field(default=0.0, description="Tax on the bill.")
    temperature: Temperature = Field(
        default=20.0,
        description="Of air, substrate and material during the works. The default is common"
        " practice for data sheets, no source.",
    )
    crew: Annotated[int, Field(ge=1, le=100)] = Field(
        default=2,
        description="People who apply at one time. The default is common practice, no source.",
    )
    concrete: Concrete = Field(default=Concrete(), description="The concrete to be coated.")
    ground_water: Annotated[Length | None, WhenLeftOut("not stated")] = Field(
        default=None,
        description="Depth of the highest ground water below the pool's water level; negative"
        " above it.",
    )
    heavy_coping: Annotated[bool | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Whether the coping is of heavy or rough stones."
    )
    programme: Annotated[Programme | None, WhenLeftOut("not stated")] = Field(
        default=None, description="When the coats go on, and when the pool is filled."
    )
