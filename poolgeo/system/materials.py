"""Materials: what technical data sheets say of them, and how they are sold."""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

from pydantic import Field, ValidationInfo, field_validator

from ..design.outlines import Part
from ..design.quantities import Density, Duration, Film, Mass, Share, Stress, Temperature, Volume
from ..design.values import Name, Positive, WhenLeftOut
from ..errors import BadValueError

Role = Literal[
    "primer",
    "repair mortar",
    "fillet mortar",
    "membrane",
    "protection coat",
    "reinforcement",
    "bond breaker",
    "sealant",
    "backer rod",
    "hydrophilic strip",
    "corner piece",
    "collar",
]
"""What a material is for."""

Immersion = Literal["permanent", "splash", "none"]
"""The wettest service that its data sheet allows: under water for good, splashed, or dry."""

Substrate = Literal["dry", "damp", "any"]
"""What concrete, or layer below, it wants."""

Price = Annotated[float, Field(ge=0, le=1e7)]
"""In the currency of the system file or of the price book."""

Times = 20
"""Most rows of a table by temperature."""


class Lasting(Part):
    """A row of a table by temperature: how long something lasts or takes."""

    at: Temperature = Field(description="Temperature of material, air and substrate.")
    takes: Duration = Field(description="How long it lasts or takes there.")


class Recoat(Part):
    """A row of the recoat window: when the next coat or layer may come."""

    at: Temperature = Field(description="Temperature of air and substrate.")
    earliest: Duration = Field(description="The least wait.")
    latest: Annotated[Duration | None, WhenLeftOut("no end")] = Field(
        default=None, validate_default=True, description="The longest wait without abrading."
    )

    @field_validator("latest")
    @classmethod
    def _after(cls, latest: float | None, info: ValidationInfo) -> float | None:
        earliest = info.data.get("earliest")
        if latest is not None and earliest is not None and latest <= earliest:
            rule = "must be later than 'earliest'"
            raise BadValueError(rule, f"{latest / 3600:g} h")
        return latest


Row = TypeVar("Row", Lasting, Recoat)


class KitPart(Part):
    """One part of a pack that is mixed from several."""

    name: Name = Field(description="What it is: powder, base, hardener.")
    mass: Annotated[Mass | None, WhenLeftOut("not given")] = Field(
        default=None, description="Its mass."
    )
    volume: Annotated[Volume | None, WhenLeftOut("not given")] = Field(
        default=None, validate_default=True, description="Its volume; either this or its mass."
    )

    @field_validator("volume")
    @classmethod
    def _one_size(cls, volume: float | None, info: ValidationInfo) -> float | None:
        return _one_size(volume, info)


class Pack(Part):
    """A pack as it is sold: of one part, or a kit of parts that are mixed whole."""

    name: Name = Field(description="What one is called: kit, bag, cartridge.")
    mass: Annotated[Mass | None, WhenLeftOut("not given")] = Field(
        default=None, description="Mass of what is in it."
    )
    volume: Annotated[Volume | None, WhenLeftOut("not given")] = Field(
        default=None, description="Volume of what is in it."
    )
    parts: Annotated[tuple[KitPart, ...], Field(max_length=10)] = Field(
        default=(),
        validate_default=True,
        description="The parts of a kit, all by mass or all by volume; in place of 'mass' and"
        " 'volume'.",
    )
    price: Annotated[Price | None, WhenLeftOut("not priced")] = Field(
        default=None, description="Price of one pack."
    )

    @field_validator("parts")
    @classmethod
    def _one_measure(cls, parts: tuple[KitPart, ...], info: ValidationInfo) -> tuple[KitPart, ...]:
        if not {"mass", "volume"} <= info.data.keys():
            return parts
        given = [key for key in ("mass", "volume") if info.data[key] is not None]
        given += ["parts"] if parts else []
        if len(given) != 1:
            rule = "must stand in a pack that gives either 'mass', 'volume' or 'parts'"
            raise BadValueError(rule, ", ".join(given) or "none of them")
        if parts and len({part.mass is None for part in parts}) == 2:
            rule = "must give all parts by mass or all by volume"
            raise BadValueError(rule, remedy="convert by the density of each part")
        return parts

    def volume_at(self, density: float) -> float:
        """Return the volume of what it mixes to [m3], at a density [kg/m3]."""
        items = self.parts or (self,)
        if items[0].mass is not None:
            return sum(item.mass or 0.0 for item in items) / density
        return sum(item.volume or 0.0 for item in items)


class _Material(Part):
    """What all materials say."""

    role: Role = Field(description="What it is for.")
    family: Annotated[Name | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Its chemistry in a word: cementitious, epoxy, polyurethane."
    )
    immersion: Annotated[Immersion | None, WhenLeftOut("not stated")] = Field(
        default=None, description="The wettest service that its data sheet allows."
    )
    not_beside: Annotated[tuple[Name, ...], Field(max_length=50)] = Field(
        default=(), description="Families that it must not touch."
    )
    source: Annotated[Name | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Where its data come from: data sheet and date."
    )


class Liquid(_Material):
    """What is mixed and applied wet: primers, mortars, membranes, sealants."""

    form: Literal["liquid"] = Field(description="Mixed and applied wet.")
    density: Density = Field(description="Of the mixed material, wet.")
    solids: Annotated[Share | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Share of its volume that stays when it has dried."
    )
    packs: Annotated[tuple[Pack, ...], Field(min_length=1, max_length=4)] = Field(
        description="How it is sold."
    )
    divisible: bool = Field(
        default=False, description="Whether part of a pack may be mixed, weighed out."
    )
    pot_life: Annotated[tuple[Lasting, ...], Field(max_length=Times)] = Field(
        default=(), description="How long a mix can be worked, by temperature."
    )
    recoat: Annotated[tuple[Recoat, ...], Field(max_length=Times)] = Field(
        default=(), description="When the next coat or layer may come, by temperature."
    )
    cure: Annotated[tuple[Lasting, ...], Field(max_length=Times)] = Field(
        default=(), description="How long it takes until it may go under water, by temperature."
    )
    least_film: Annotated[Film | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Least dry film of all coats together."
    )
    most_coat: Annotated[Film | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Thickest wet film of one coat."
    )
    crack_bridging: Annotated[Film | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Widest crack that it bridges."
    )
    strength: Annotated[Stress | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Compressive strength."
    )
    bond: Annotated[Stress | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Tensile bond to what it is applied to."
    )
    movement: Annotated[Share | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Movement capability of a sealant, share of the joint's width."
    )
    negative_pressure: Annotated[Stress | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Pressure of water behind it that it withstands."
    )
    needs_primer: Annotated[bool | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Whether it wants a primer under it."
    )
    substrate: Annotated[Substrate | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Whether what is under it must be dry or damp."
    )

    @field_validator("solids")
    @classmethod
    def _something_stays(cls, solids: float | None) -> float | None:
        if solids == 0.0:
            rule = "must be above 0"
            raise BadValueError(rule, "0", "what leaves nothing behind makes no film")
        return solids

    @field_validator("pot_life", "recoat", "cure")
    @classmethod
    def _each_once(cls, rows: tuple[Row, ...]) -> tuple[Row, ...]:
        degrees = [round(row.at, 6) for row in rows]
        if len(set(degrees)) < len(degrees):
            rule = "must give each temperature once"
            raise BadValueError(rule, ", ".join(f"{item:g} C" for item in degrees))
        return rows

    @property
    def pack_names(self) -> list[str]:
        """What its packs are called."""
        return [pack.name for pack in self.packs]


class Roll(_Material):
    """What is sold by length: tapes, bond breakers, backer rods, hydrophilic strips."""

    form: Literal["roll"] = Field(description="Sold by length.")
    length: Positive = Field(description="Length of one roll.")
    width: Annotated[Positive | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Width of a tape, diameter of a rod."
    )
    lap: Annotated[Positive | None, WhenLeftOut("butted")] = Field(
        default=None, description="Length by which two pieces lap over each other."
    )
    least_piece: Annotated[Positive | None, WhenLeftOut("any")] = Field(
        default=None, description="Shortest piece that may be laid where a run takes several."
    )
    least_bond: Annotated[Positive | None, WhenLeftOut("not stated")] = Field(
        default=None, description="Least width of a tape on firm ground at either side."
    )
    joins: bool = Field(
        default=True,
        description="Whether a run shorter than a roll may be laid in pieces, so that offcuts are"
        " used.",
    )
    price: Annotated[Price | None, WhenLeftOut("not priced")] = Field(
        default=None, description="Price of one roll."
    )

    @field_validator("lap", "least_piece")
    @classmethod
    def _within(cls, size: float | None, info: ValidationInfo) -> float | None:
        length = info.data.get("length")
        if size is not None and length is not None and size >= length:
            rule = "must be shorter than a roll"
            raise BadValueError(rule, f"{size:.3f} m", f"a roll is {length:.3f} m long")
        return size

    @property
    def pack_names(self) -> list[str]:
        """What its packs are called."""
        return ["roll"]


class Piece(_Material):
    """What is sold by the piece: preformed corners, collars."""

    form: Literal["piece"] = Field(description="Sold by the piece.")
    pack: Annotated[int, Field(ge=1, le=10_000)] = Field(
        default=1, description="Pieces in one pack."
    )
    price: Annotated[Price | None, WhenLeftOut("not priced")] = Field(
        default=None, description="Price of one pack."
    )

    @property
    def pack_names(self) -> list[str]:
        """What its packs are called."""
        return ["piece" if self.pack == 1 else f"pack of {self.pack}"]


Material = Annotated[Liquid | Roll | Piece, Field(discriminator="form")]
"""A material by its form."""


def _one_size(volume: float | None, info: ValidationInfo) -> float | None:
    mass = info.data.get("mass")
    if "mass" in info.data and (mass is None) == (volume is None):
        rule = "must stand in a part that gives either 'mass' or 'volume'"
        raise BadValueError(rule, "both" if mass is not None else "none of them")
    return volume
