"""Layers: what goes on to which surfaces, how thick and in how many coats."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, field_validator, model_validator

from ..design.outlines import Part
from ..design.quantities import Coverage, Depth, Film, Share, Speed
from ..design.values import Name, WhenLeftOut
from ..errors import BadValueError

Zone = Literal["below band", "waterline band", "freeboard", "wall top", "coping return"]
"""Zones of a surface, as `poolgeo.mesh.ZONES` has them."""

Kinds = Annotated[tuple[Name, ...], Field(max_length=200)]
Zones = Annotated[tuple[Zone, ...], Field(min_length=1, max_length=5)]
Bodies = Annotated[tuple[Name, ...], Field(min_length=1, max_length=100)]


FIGURES = ("dry_film", "wet_film", "consumption")
"""How thick a coat is: one of the three is given."""

MOST_LOST = 0.9
"""[-] Guards a division."""


class Places(Part):
    """Where something holds: everywhere, if nothing is said."""

    kinds: Annotated[Kinds | None, WhenLeftOut("all")] = Field(
        default=None,
        description="Kinds of surface such as floor, or of edge such as floor/wall; * stands for"
        " any word.",
    )
    zones: Annotated[Zones | None, WhenLeftOut("all")] = Field(
        default=None, description="Zones of the surface."
    )
    bodies: Annotated[Bodies | None, WhenLeftOut("all")] = Field(
        default=None, description="Bodies of water by their names, such as pool or spa."
    )
    wet: Annotated[bool | None, WhenLeftOut("both")] = Field(
        default=None, description="Only what is under water, or only what is not."
    )


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
