"""Mixes: what one pack covers before its pot life ends, and how many of them a coat takes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ..design.waterproofing import Waterproofing
from ..system.film import packs_of, spots_of, spreading_rate
from ..system.layers import Layer
from ..system.materials import Liquid
from ..system.schema import System
from .coatings import coats_of
from .rows import Coating, FilmCheck, Mixing, Order
from .temperature import at_most

MEMBRANES = frozenset({"membrane", "protection coat"})
"""Roles of layers whose film is read."""


def mixes_of(
    system: System, job: Waterproofing, coatings: Sequence[Coating], orders: Sequence[Order]
) -> tuple[Mixing, ...]:
    """Return how each coat is mixed.

    Args:
        system: Checked.
        job: Temperature and crew.
        coatings: What the layers take.
        orders: Packs that are bought: the largest is mixed.
    """
    packs = {order.material: order for order in orders}
    found: list[Mixing] = []
    for layer in system.layers:
        rows = [row for row in coatings if row.layer == layer.name]
        area = sum(row.area for row in rows)
        if area > 0.0:
            order = packs[layer.material]
            found += _of_layer(layer, system.liquid(layer.material), job, order, rows[0], area)
    return tuple(found)


def _of_layer(
    layer: Layer, material: Liquid, job: Waterproofing, order: Order, row: Coating, area: float
) -> Iterator[Mixing]:
    pack = next((item for item in order.packs if item.count), order.packs[0])
    pot_life = at_most([(row.at, row.takes) for row in material.pot_life], job.temperature)
    film = row.film / layer.coats
    for coat, thick in enumerate(coats_of(layer, row), 1):
        spread = (1.0 - layer.loss) * spreading_rate(thick, 1.0)
        covered = pack.size * spread
        reach = math.inf
        if pot_life is not None and layer.speed is not None:
            reach = layer.speed * job.crew * pot_life
        whole = covered <= reach or not material.divisible
        mix = covered if whole else reach
        yield Mixing(
            layer.name, coat, layer.material, area,
            film * (1.0 + layer.thinned), spread, pot_life, pack.name,
            mix / spread, mix, "pack" if whole else "pot life", packs_of(area, mix),
            max(0.0, covered / reach - 1.0) if whole and math.isfinite(reach) else 0.0,
        )  # fmt: skip


def film_checks_of(system: System, coatings: Sequence[Coating]) -> tuple[FilmCheck, ...]:
    """Return the readings of the film, layer by layer and body by body."""
    rule = system.readings
    if rule is None:
        return ()
    found = []
    for layer in system.layers:
        material = system.liquid(layer.material)
        if material.role not in MEMBRANES:
            continue
        rows = [row for row in coatings if row.layer == layer.name]
        for body in dict.fromkeys(row.body for row in rows):
            area = sum(row.area for row in rows if row.body == body)
            dry = None if material.solids is None else rows[0].film * material.solids
            spots = spots_of(area, rule.spots, rule.per)
            wet = rows[0].film / layer.coats * (1.0 + layer.thinned)
            found.append(FilmCheck(layer.name, body, area, spots, rule.each, dry, wet))
    return tuple(found)
