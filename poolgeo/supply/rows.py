"""What supply comes to: typed rows that the bill, reports and the check read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Coating:
    """What one layer takes on one kind of surface of one body in one zone.

    Args:
        layer: Name of the layer.
        material: Name of the material.
        body: Body of water.
        kind: Kind of surface; `EDGES` for what arrises and fillets of the details add or take.
        zone: Zone.
        area: Net area that it covers [m2].
        film: Volume by area of the mixed material in place, all coats together [m3/m2].
        roughness: Volume by area that fills the roughness [m3/m2].
        loss: Share of what is bought that does not end up in place.
    """

    layer: str
    material: str
    body: str
    kind: str
    zone: str
    area: float
    film: float
    roughness: float
    loss: float

    @property
    def net(self) -> float:
        """Volume in place [m3]."""
        return self.area * (self.film + self.roughness)

    @property
    def gross(self) -> float:
        """Volume to buy [m3]."""
        return self.net / (1.0 - self.loss)

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "layer": self.layer,
            "material": self.material,
            "body": self.body,
            "kind": self.kind,
            "zone": self.zone,
            "area_m2": self.area,
            "film_m": self.film,
            "roughness_m": self.roughness,
            "loss": self.loss,
            "net_m3": self.net,
            "gross_m3": self.gross,
        }


@dataclass(frozen=True)
class Use:
    """What a layer or a detail takes of a material, over all places.

    Args:
        material: Name of the material.
        use: Name of the layer, or of the detail and its work.
        is_layer: Whether it is a layer.
        amount: What ends up in place [unit].
        unit: ``m3``, ``m`` or ``pieces``.
        loss: Share of what is bought that does not.
        gross: What is bought for it, before packs: amount / (1 - loss) [unit].
        extent: Area covered by a layer or a coat [m2], length otherwise [m]; pieces: their number.
        measure: ``m2``, ``m`` or ``pieces``: of the extent.
    """

    material: str
    use: str
    is_layer: bool
    amount: float
    unit: str
    loss: float
    gross: float
    extent: float
    measure: str

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "use": self.use,
            "amount": self.amount,
            "unit": self.unit,
            "loss": self.loss,
            "gross": self.gross,
            "extent": self.extent,
            "measure": self.measure,
        }


@dataclass(frozen=True)
class PackCount:
    """How many of one pack are ordered.

    Args:
        name: Of the pack.
        size: What is in it [unit of the order].
        count: How many.
        price: Of one; None where none is known.
    """

    name: str
    size: float
    count: int
    price: float | None


@dataclass(frozen=True)
class Order:
    """What is ordered of one material.

    Args:
        material: Its name.
        role: What it is for.
        unit: ``m3``, ``m`` or ``pieces``.
        net: What ends up in place [unit].
        gross: What is bought, before packs [unit].
        packs: In whole packs, largest first.
        uses: What it is for.
        density: Of a liquid [kg/m3]; None for others.
    """

    material: str
    role: str
    unit: str
    net: float
    gross: float
    packs: tuple[PackCount, ...]
    uses: tuple[Use, ...]
    density: float | None = None

    @property
    def ordered(self) -> float:
        """What is in the packs [unit]."""
        return sum(item.size * item.count for item in self.packs)

    @property
    def cost(self) -> float | None:
        """Of all packs; None where one of them has no price."""
        prices = [item.price for item in self.packs if item.count]
        if any(price is None for price in prices):
            return None
        return sum((item.price or 0.0) * item.count for item in self.packs)

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "material": self.material,
            "role": self.role,
            "unit": self.unit,
            "net": self.net,
            "gross": self.gross,
            "ordered": self.ordered,
            "density_kg_m3": self.density,
            "packs": [
                {"name": item.name, "size": item.size, "count": item.count, "price": item.price}
                for item in self.packs
            ],
            "cost": self.cost,
            "uses": [use.as_dict() for use in self.uses],
        }


@dataclass(frozen=True)
class Mixing:
    """How one coat of a layer is mixed and applied.

    Args:
        layer: Name of the layer.
        coat: Number of the coat, from 1.
        material: Name of the material.
        area: That the coat covers [m2].
        wet_film: To comb off, thinner in it [m]; without what fills the roughness.
        spread: Area by volume of mixed material, loss and roughness taken off [m2/m3].
        pot_life: At the temperature of the works [s]; None where it is not stated.
        pack: Name of the pack that is mixed.
        volume: Of one mix [m3]: a pack, or what can be applied before its pot life ends.
        mix_area: Area that one mix covers [m2].
        limit: What limits a mix: ``pack`` or ``pot life``.
        batches: How many mixes the coat takes.
        overrun: How much longer than its pot life one whole pack takes to apply, as a share of it;
            0 where it does not.
    """

    layer: str
    coat: int
    material: str
    area: float
    wet_film: float
    spread: float
    pot_life: float | None
    pack: str
    volume: float
    mix_area: float
    limit: str
    batches: int
    overrun: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "layer": self.layer,
            "coat": self.coat,
            "material": self.material,
            "area_m2": self.area,
            "wet_film_m": self.wet_film,
            "spread_m2_m3": self.spread,
            "pot_life_s": self.pot_life,
            "pack": self.pack,
            "mix_m3": self.volume,
            "mix_area_m2": self.mix_area,
            "limit": self.limit,
            "batches": self.batches,
        }


@dataclass(frozen=True)
class FilmCheck:
    """Readings of the film of one layer on one body.

    Args:
        layer: Name of the layer.
        body: Body of water.
        area: [m2].
        spots: Where readings are taken.
        each: Readings at each spot.
        dry_film: What they should give at least, all coats together [m]; None where it is not
            stated.
        wet_film: Of one coat, thinner in it [m].
    """

    layer: str
    body: str
    area: float
    spots: int
    each: int
    dry_film: float | None
    wet_film: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "layer": self.layer,
            "body": self.body,
            "area_m2": self.area,
            "spots": self.spots,
            "readings_each": self.each,
            "dry_film_all_coats_m": self.dry_film,
            "wet_film_each_coat_m": self.wet_film,
        }
