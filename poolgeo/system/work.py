"""Work at edges, coves, joints, fittings and corners: operations, one after the other."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ..design.outlines import Part
from ..design.quantities import Share
from ..design.values import Name, NotNegative, Positive, WhenLeftOut
from .layers import Thickness


class _Work(Part):
    name: Annotated[Name | None, WhenLeftOut("what is done")] = Field(
        default=None, description="Name of it in reports."
    )


class ArrisWork(_Work):
    """An external edge is taken off before anything is coated."""

    do: Literal["arris"] = Field(description="What is done.")
    section: Literal["rounded", "chamfered"] = Field(description="How it is taken off.")
    size: Positive = Field(description="Radius, or what it takes of either face.")


class FilletWork(_Work):
    r"""An internal edge is filled with mortar or sealant.

    ::

        |\          |
        | \  leg    (   radius
        |__\        |`-.___
    """

    do: Literal["fillet"] = Field(description="What is done.")
    material: Name = Field(description="A liquid among the materials.")
    section: Literal["triangular", "hollow"] = Field(
        default="triangular", description="Straight face, or hollow: a part of a circle."
    )
    size: Positive = Field(
        description="Leg along either face; of a hollow one its radius: it touches both faces."
    )
    loss: Share = Field(default=0.0, description="Share of what is bought that is lost.")


class StripWork(_Work):
    """A tape, a bond breaker or a sheet of reinforcement is laid along an edge."""

    do: Literal["strip"] = Field(description="What is done.")
    material: Name = Field(description="A roll among the materials.")
    offset: NotNegative = Field(
        default=0.0,
        description="How far its middle lies off the edge; 0 where half of it lies on either face.",
    )
    at_ends: NotNegative = Field(
        default=0.0, description="Length that it runs on at either end of the edge: corners."
    )
    bed: Annotated[Bedding | None, WhenLeftOut("none")] = Field(
        default=None, description="What it is bedded in, over its width."
    )


class Bedding(Thickness):
    """The extra coat in which a strip is bedded."""

    material: Name = Field(description="A liquid among the materials.")
    loss: Share = Field(default=0.0, description="Share of what is bought that is lost.")
    beyond: NotNegative = Field(
        default=0.0, description="How far the coat goes beyond the strip at either side."
    )


class CoatWork(Thickness):
    """An extra coat of a stated width along an edge, or about a fitting."""

    do: Literal["coat"] = Field(description="What is done.")
    name: Annotated[Name | None, WhenLeftOut("what is done")] = Field(
        default=None, description="Name of it in reports."
    )
    material: Name = Field(description="A liquid among the materials.")
    width: Positive = Field(description="Its width, over both faces.")
    loss: Share = Field(default=0.0, description="Share of what is bought that is lost.")


class BeadWork(_Work):
    """A bead of sealant, or a joint filled with it."""

    do: Literal["bead"] = Field(description="What is done.")
    material: Name = Field(description="A liquid among the materials.")
    section: Literal["rectangular", "triangular"] = Field(
        default="rectangular", description="In a joint, or in a corner with equal legs."
    )
    width: Annotated[Positive | None, WhenLeftOut("the joint's")] = Field(
        default=None, description="Width of the joint, or leg of the triangle."
    )
    depth: Annotated[Positive | None, WhenLeftOut("half the width")] = Field(
        default=None, description="Depth of the sealant."
    )
    loss: Share = Field(default=0.0, description="Share of what is bought that is lost.")


class RodWork(_Work):
    """A backer rod or a hydrophilic strip is laid."""

    do: Literal["rod"] = Field(description="What is done.")
    material: Name = Field(description="A roll among the materials.")


class PieceWork(_Work):
    """A preformed piece is set: a corner, a collar."""

    do: Literal["piece"] = Field(description="What is done.")
    material: Name = Field(description="A piece among the materials.")
    count: Annotated[int, Field(ge=1, le=100)] = Field(
        default=1, description="How many at each place."
    )


Work = Annotated[
    ArrisWork | FilletWork | StripWork | CoatWork | BeadWork | RodWork | PieceWork,
    Field(discriminator="do"),
]
"""One operation."""

EDGE_WORK = frozenset({"arris", "fillet", "strip", "coat", "bead", "rod"})
FITTING_WORK = frozenset({"strip", "coat", "bead", "rod", "piece"})
CORNER_WORK = frozenset({"piece"})
"""Which operations go where."""

StripWork.model_rebuild()
