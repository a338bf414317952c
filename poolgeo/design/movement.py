"""Movement joints of the finish, as the pool file asks for them or has them drawn."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from poolgeo.errors import BadValueError

from .joints import APART
from .outlines import Part
from .places import Kinds
from .quantities import Capability, Loss, Share, Temperature, Volume
from .sealant import SealantDepth
from .values import Degrees, JointWidth, Length, Name, NotNegative, Point, WhenLeftOut


class DrawnLine(Part):
    """A joint that somebody drew: a straight line in plan, from wall to wall or shorter."""

    name: Annotated[Name | None, WhenLeftOut("by its number")] = Field(
        default=None, description="Name in reports."
    )
    start: Point = Field(description="Where it starts.")
    end: Point = Field(description="Where it ends.")
    width: JointWidth = Field(description="Width of the joint.")

    @model_validator(mode="after")
    def _apart(self) -> Self:
        if max(abs(a - b) for a, b in zip(self.start, self.end, strict=True)) < APART:
            rule = "must have an 'end' that differs from its 'start'"
            raise BadValueError(rule, remedy="write the other end of the joint")
        return self


class DrawnRing(Part):
    """A joint that somebody drew: level, along walls."""

    name: Annotated[Name | None, WhenLeftOut("by its number")] = Field(
        default=None, description="Name in reports."
    )
    depth: Length = Field(description="Below the pool's water level; negative above it.")
    width: JointWidth = Field(description="Width of the joint.")


class Drawn(Part):
    """A plan of movement joints that somebody drew: it is checked, and nothing is planned."""

    lines: Annotated[tuple[DrawnLine, ...], Field(max_length=200)] = Field(
        default=(), description="Joints that are straight in plan."
    )
    rings: Annotated[tuple[DrawnRing, ...], Field(max_length=50)] = Field(
        default=(), description="Joints that run level along walls."
    )
    edges: Kinds = Field(
        default=(),
        description="Kinds of edge that have a joint, such as floor/wall, and cove for its upper"
        " line; * stands for any word.",
    )
    fittings: bool = Field(default=False, description="Whether fittings have one round them.")
    width: JointWidth = Field(
        default=0.006, description="Width of the joints at edges and fittings."
    )


class Sealant(Part):
    """What movement joints are filled with."""

    name: Name = Field(default="sealant", description="Name of it in reports.")
    capability: Capability = Field(
        default=0.2,
        description="Movement that it bears, as a share of its width. The default is common"
        " practice, no source: the data sheet says how much, under water.",
    )
    depth: SealantDepth = Field(default=SealantDepth(), description="How deep joints are sealed.")
    widest: JointWidth = Field(
        default=0.04,
        description="Widest joint that it fills; what is wider takes a profile. The default is"
        " common practice, no source.",
    )
    rod: Annotated[float, Field(ge=1, le=2)] = Field(
        default=1.25,
        description="Diameter of the backer rod to the joint's width. The default is common"
        " practice, no source.",
    )
    loss: Loss = Field(
        default=0.1, description="Share that is lost. The default is common practice, no source."
    )
    pack: Annotated[Volume | None, WhenLeftOut("not stated")] = Field(
        default=None, description="What one pack holds, such as 600 mL."
    )


class MovementJoints(Part):
    """How the movement joints of the finish are set out."""

    rules: Name = Field(
        default="closed-loops-6-m",
        description="Rules of spacing and width: the name of a table, or a file that ends in"
        " .yaml.",
    )
    origin: Annotated[Point | None, WhenLeftOut("[0, 0]")] = Field(
        default=None, description="Plan point that tile grid and set-out dimensions start from."
    )
    direction: Degrees = Field(default=0.0, description="Of the rows of tiles.")
    clear_of_fittings: NotNegative = Field(
        default=0.05,
        description="How far joints stay from fittings' collars. The default is common practice,"
        " no source.",
    )
    clear_of_edges: NotNegative = Field(
        default=0.05,
        description="How far joints stay from step nosings and all other edges that run along"
        " them. The default is common practice, no source.",
    )
    even_bays: Share = Field(
        default=0.02,
        description="How much more length of joints than the least even bays may take.",
    )
    temperatures: tuple[Temperature, Temperature] = Field(
        default=(5.0, 35.0),
        description="Lowest and highest temperature of the finish, empty or full. The default is"
        " common practice, no source.",
    )
    sealant: Sealant = Field(default=Sealant(), description="What joints are filled with.")
    drawn: Annotated[Drawn | None, WhenLeftOut("poolgeo plans them")] = Field(
        default=None, description="A plan that somebody drew, to be checked."
    )

    @model_validator(mode="after")
    def _rising(self) -> Self:
        low, high = self.temperatures
        if low >= high:
            rule = "must have 'temperatures' that rise"
            raise BadValueError(rule, f"{low:g} C, {high:g} C", "write the lowest one first")
        return self
