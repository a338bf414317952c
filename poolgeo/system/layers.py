"""Layers: what goes on to which surfaces, how thick and in how many coats."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, field_validator, model_validator

from ..design.outlines import Part
from ..design.places import Places
from ..design.quantities import Coverage, Depth, Film, Share, Speed
from ..design.values import Name, WhenLeftOut
from ..errors import BadValueError

FIGURES = ("dry_film", "wet_film", "consumption")
"""How thick a coat is: one of the three is given."""

MOST_LOST = 0.9
"""[-] Guards a division."""


class Thickness(Part):
    """How much of a liquid goes on in one coat: one of three figures."""

    dry_film: Annotated[Film | None, WhenLeftOut("not given")] = Field(
        default=None, description="Thickness of one coat when dry."
    )
    wet_film: Annotated[Film | None, WhenLeftOut("not given")] = Field(
        default=None, description="Thickness of one coat when wet, without thinner; 1 mm is 1 L/m2."
    )
    consumption: Annotated[Coverage | None, WhenLeftOut("not given")] = Field(
        default=None, description="Mass of one coat, of the mixed material."
    )

    @model_validator(mode="after")
    def _one_figure(self) -> Self:
        given = [key for key in FIGURES if getattr(self, key) is not None]
        if len(given) != 1:
            rule = "must give one of 'dry_film', 'wet_film' and 'consumption'"
            raise BadValueError(rule, ", ".join(given) or "none of the three")
        return self


class Layer(Thickness):
    """A layer of the build-up; layers stand in the order in which they go on."""

    name: Name = Field(description="Name of the layer.")
    material: Name = Field(description="A liquid among the materials.")
    where: Places = Field(default=Places(), description="Which surfaces take it.")
    coats: Annotated[int, Field(ge=1, le=20)] = Field(
        default=1, description="Coats in which it goes on."
    )
    share: Share = Field(
        default=1.0,
        description="Share of the surface that takes it: repairs, an allowance.",
    )
    roughness: Depth = Field(
        default=0.0, description="Mean depth of the roughness that its first coat fills."
    )
    loss: Share = Field(
        default=0.0, description="Share of what is bought that does not end up on the surface."
    )
    thinned: Share = Field(
        default=0.0, description="Volume of thinner (or water) to one of the material."
    )
    speed: Annotated[Speed | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Area that one person coats in a time, one coat."
    )

    @field_validator("loss")
    @classmethod
    def _below_one(cls, loss: float) -> float:
        if loss > MOST_LOST:
            rule = f"must be at most {MOST_LOST:.0%}"
            raise BadValueError(rule, f"{loss:.0%}", "a loss is a share of what is bought")
        return loss
