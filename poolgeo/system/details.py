"""Rules that say what is done where; the first that matches holds."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator

from ..design.outlines import Part
from ..design.places import Bodies, Held, Kinds, Places
from ..design.values import Name, WhenLeftOut
from ..errors import BadValueError
from .work import Work

Angle = Annotated[float, Field(ge=0, le=360)]


class EdgePlaces(Places):
    """Which edges a rule is for."""

    of: Literal["edge", "cove", "joint"] = Field(
        default="edge", description="A sharp edge, a cove or fillet of the pool, a movement joint."
    )
    sense: Annotated[Literal["internal", "external"] | None, WhenLeftOut("both")] = Field(
        default=None, description="Sense of the edge, seen from the water."
    )
    angle: Annotated[tuple[Angle, Angle] | None, WhenLeftOut("all")] = Field(
        default=None, description="Least and largest angle through the water, in degrees."
    )

    @field_validator("angle")
    @classmethod
    def _rising(cls, angle: tuple[float, float] | None) -> tuple[float, float] | None:
        if angle is not None and angle[0] > angle[1]:
            rule = "must be the least angle, then the largest"
            raise BadValueError(rule, f"{angle[0]:g}, {angle[1]:g}")
        return angle


class EdgeRule(Part):
    """What is done along edges."""

    name: Name = Field(description="Name of the detail.")
    where: EdgePlaces = Field(default=EdgePlaces(), description="Which edges it is for.")
    work: Annotated[tuple[Work, ...], Field(max_length=20)] = Field(
        description="What is done, in this order; an empty list where nothing is to be."
    )


class FittingPlaces(Part):
    """Which fittings a rule is for."""

    kinds: Annotated[Kinds | None, WhenLeftOut("all")] = Field(
        default=None, description="Kinds of fitting, such as main drain; * stands for any word."
    )
    surfaces: Annotated[Kinds | None, WhenLeftOut("all")] = Field(
        default=None, description="Kinds of surface that they sit on."
    )
    bodies: Annotated[Bodies | None, WhenLeftOut("all")] = Field(
        default=None, description="Bodies of water by their names."
    )
    wet: Annotated[bool | None, WhenLeftOut("both")] = Field(
        default=None, description="Only those under water, or only those that are not."
    )


class FittingRule(Part):
    """What is done about fittings."""

    name: Name = Field(description="Name of the detail.")
    where: FittingPlaces = Field(default=FittingPlaces(), description="Which fittings it is for.")
    along: Literal["opening", "collar"] = Field(
        default="collar", description="What lengths are measured along: edge of opening or collar."
    )
    work: Annotated[tuple[Work, ...], Field(max_length=20)] = Field(
        description="What is done, in this order; an empty list where nothing is to be."
    )


class CornerPlaces(Held):
    """Which corners a rule is for: places at which edges meet."""

    sense: Annotated[Literal["inside", "outside", "mixed"] | None, WhenLeftOut("all")] = Field(
        default=None,
        description="All edges internal there, all external, or some of either.",
    )
    edges: Annotated[int | None, Field(ge=2, le=20), WhenLeftOut("3 or more")] = Field(
        default=None, description="How many edges meet there."
    )


class CornerRule(Part):
    """What is done where edges meet."""

    name: Name = Field(description="Name of the detail.")
    where: CornerPlaces = Field(default=CornerPlaces(), description="Which corners it is for.")
    work: Annotated[tuple[Work, ...], Field(max_length=20)] = Field(
        description="What is done, in this order; an empty list where nothing is to be."
    )
