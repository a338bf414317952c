"""The system file: materials, layers, and rules for details."""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

from pydantic import Field

from ..design.outlines import Part
from ..design.quantities import Area
from ..design.sealant import SealantDepth
from ..design.sourced import Sourced
from ..design.values import Name, WhenLeftOut
from .details import CornerRule, EdgeRule, FittingRule
from .layers import Layer
from .materials import Liquid, Material, Piece, Price, Roll

Caution = Annotated[str, Field(min_length=1, max_length=300)]


class Readings(Sourced):
    """How many readings of the film are taken."""

    spots: Annotated[int, Field(ge=1, le=1000)] = Field(description="Spots in each area.")
    per: Area = Field(description="Area of which each has so many spots.")
    each: Annotated[int, Field(ge=1, le=100)] = Field(description="Readings at each spot.")


class Rate(Part):
    """What an item of work costs."""

    item: Name = Field(description="Name of a layer, or of a detail, a colon and its work.")
    unit: Literal["m2", "m", "ft2", "ft", "pieces"] = Field(description="What it is measured in.")
    rate: Price = Field(description="Of one.")


class System(Part):
    """A whole system file."""

    name: Name = Field(description="Name of the system.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare lengths.")
    currency: Annotated[Name | None, WhenLeftOut("not stated")] = Field(
        default=None, description="What its prices are in."
    )
    cautions: Annotated[tuple[Caution, ...], Field(max_length=20)] = Field(
        default=(), description="What can hurt those who apply it; every report has them."
    )
    materials: Annotated[dict[Name, Material], Field(min_length=1, max_length=200)] = Field(
        description="Materials by name."
    )
    layers: Annotated[tuple[Layer, ...], Field(min_length=1, max_length=50)] = Field(
        description="Layers, in the order in which they go on."
    )
    edges: Annotated[tuple[EdgeRule, ...], Field(max_length=200)] = Field(
        default=(), description="Details along edges, coves and joints: the first that matches."
    )
    fittings: Annotated[tuple[FittingRule, ...], Field(max_length=200)] = Field(
        default=(), description="Details about fittings: the first that matches."
    )
    corners: Annotated[tuple[CornerRule, ...], Field(max_length=200)] = Field(
        default=(), description="Details where edges meet: the first that matches."
    )
    rates: Annotated[tuple[Rate, ...], Field(max_length=1000)] = Field(
        default=(), description="What work costs; a price book goes before it."
    )
    sealant: SealantDepth = Field(default=SealantDepth(), description="How deep joints are sealed.")
    readings: Annotated[Readings | None, WhenLeftOut("none")] = Field(
        default=None, description="Readings of the film."
    )

    def liquid(self, name: str) -> Liquid:
        """Return a liquid by its name."""
        return _of_form(self.materials[name], Liquid)

    def roll(self, name: str) -> Roll:
        """Return what is sold by length by its name."""
        return _of_form(self.materials[name], Roll)

    def piece(self, name: str) -> Piece:
        """Return what is sold by the piece by its name."""
        return _of_form(self.materials[name], Piece)


M = TypeVar("M", Liquid, Roll, Piece)


def _of_form(material: Material, form: type[M]) -> M:
    if not isinstance(material, form):
        raise TypeError(material)  # `poolgeo.system.refer` finds it in the file first
    return material
