"""From what layers and details take of each material to whole packs of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from ..detailing.rows import Detailing
from ..rolls.cutting import CuttingPlan
from ..system.film import packs_of, to_buy
from ..system.materials import Liquid, Material, Piece, Roll
from ..system.prices import PriceBook
from ..system.schema import System
from .coatings import coats_of
from .packing import cheapest
from .rows import Coating, Order, PackCount, Use

UNITS = {Liquid: "m3", Roll: "m", Piece: "pieces"}
"""What is counted of a material."""


def orders_of(
    system: System,
    coatings: Sequence[Coating],
    detailing: Detailing,
    plans: Mapping[str, CuttingPlan],
    prices: PriceBook,
) -> tuple[Order, ...]:
    """Return what is ordered of each material that is used, in the order of the system file.

    Args:
        system: Checked.
        coatings: What its layers take.
        detailing: What its details take.
        plans: Cutting plan of each roll by its material.
        prices: Those of packs go before the packs' own.
    """
    uses: dict[str, list[Use]] = defaultdict(list)
    for use in (*_of_layers(coatings), *_of_details(detailing)):
        uses[use.material].append(use)
    return tuple(
        _order(
            name, material, uses[name], plans.get(name), prices, mixed_whole(system, name, coatings)
        )
        for name, material in system.materials.items()
        if uses[name]
    )


def _order(
    name: str, material: Material, uses: Sequence[Use], plan: CuttingPlan | None,
    prices: PriceBook, mixed: int,
) -> Order:  # fmt: skip
    unit = UNITS[type(material)]
    net, gross = sum(use.amount for use in uses), sum(use.gross for use in uses)
    packs = [
        (label, size, prices.rate(name, label, price))
        for label, size, price in sorted(_packs_of(material), key=lambda item: -item[1])
    ]
    if plan is not None:
        counts = [len(plan.rolls)]
    else:
        counts = cheapest(gross, [size for _, size, _ in packs], [price for _, _, price in packs])
        if len(counts) == 1:
            counts = [max(counts[0], mixed)]
    ordered = tuple(
        PackCount(label, size, count, price)
        for (label, size, price), count in zip(packs, counts, strict=True)
    )
    density = material.density if isinstance(material, Liquid) else None
    return Order(name, material.role, unit, net, gross, ordered, tuple(uses), density)


def is_mixed_whole(material: Material) -> bool:
    """Whether it comes in kits of one size that are mixed whole."""
    if not isinstance(material, Liquid) or material.divisible or len(material.packs) > 1:
        return False
    return len(material.packs[0].parts) > 1


def mixed_whole(system: System, name: str, coatings: Sequence[Coating]) -> int:
    """Return how many kits the coats of layers take, if each takes whole kits; else 0.

    What a coat leaves of its last kit sets before the next coat.
    """
    material, found = system.materials[name], 0
    if not isinstance(material, Liquid) or not is_mixed_whole(material):
        return 0
    size = material.packs[0].volume_at(material.density)
    for layer in system.layers:
        rows = [row for row in coatings if (row.layer, row.material) == (layer.name, name)]
        area = sum(row.area for row in rows)
        if area > 0.0:
            for thick in coats_of(layer, rows[0]):
                found += packs_of(to_buy(area * thick, layer.loss), size)
    return found


def _packs_of(material: Material) -> list[tuple[str, float, float | None]]:
    """Return name, size in the unit of the order, and price of each pack."""
    if isinstance(material, Liquid):
        return [
            (pack.name, pack.volume_at(material.density), pack.price) for pack in material.packs
        ]
    size = material.length if isinstance(material, Roll) else float(material.pack)
    return [(material.pack_names[0], size, material.price)]


def _of_layers(coatings: Iterable[Coating]) -> Iterable[Use]:
    found: dict[tuple[str, str, float], list[Coating]] = defaultdict(list)
    for row in coatings:
        found[row.material, row.layer, row.loss].append(row)
    for (material, layer, loss), rows in found.items():
        net, area = sum(row.net for row in rows), sum(row.area for row in rows)
        yield Use(material, layer, True, net, "m3", loss, to_buy(net, loss), area, "m2")


def _of_details(detailing: Detailing) -> Iterable[Use]:
    sums: dict[tuple[str, str, str, str, float], list[float]] = defaultdict(lambda: [0.0] * 3)
    for item in detailing.details:
        if item.material:
            use = f"{item.rule}: {item.name}"
            sizes = sums[item.material, use, item.do, item.unit, item.loss]
            sizes[0] += item.quantity
            sizes[1] += item.area
            sizes[2] += item.length
    for (material, use, do, unit, loss), (amount, area, length) in sums.items():
        measure = {"coat": "m2", "piece": "pieces"}.get(do, "m")
        extent = {"m2": area, "m": length, "pieces": amount}[measure]
        gross = to_buy(amount, loss)
        yield Use(material, use, False, amount, unit, loss, gross, extent, measure)
