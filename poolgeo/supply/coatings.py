"""Layers on surfaces: the net area of each in every zone, and the film that goes on to it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from ..design.places import Places, is_one_of
from ..detailing.detail import zone_of_fitting
from ..detailing.operations import wet_depth
from ..detailing.rows import Detailing
from ..mesh import ZONES, Zones
from ..model import Model
from ..quantities import Takeoff
from ..system.layers import Layer
from ..system.schema import System
from .rows import Coating

EDGES = "arrises and fillets"
"""Kind of surface under which stands what arrises and fillets of the details add or take."""

BAND = ZONES.index("waterline band")

Sizes = dict[tuple[str, str], tuple[Zones, float]]
"""Area in each zone, and under water, by body and kind [m2]."""


def coatings_of(
    model: Model, takeoff: Takeoff, detailing: Detailing, system: System
) -> tuple[Coating, ...]:
    """Return what each layer covers, in the order of the layers.

    Net areas are those of the surface less the openings of fittings; what arrises and fillets of
    the details change is a row of its own, for layers that are not bound to kinds of surface.

    Args:
        model: The pool.
        takeoff: Measured on it.
        detailing: What is done at its edges.
        system: Checked.
    """
    sizes = _net_areas(model, takeoff) | _changes(takeoff, detailing)
    return tuple(row for layer in system.layers for row in _of_layer(layer, sizes, system))


def coats_of(layer: Layer, row: Coating) -> list[float]:
    """Return what goes on to an area in each coat of a layer; the first fills the roughness [m]."""
    film = row.film / layer.coats
    return [film + row.roughness, *[film] * (layer.coats - 1)]


def _of_layer(layer: Layer, sizes: Sizes, system: System) -> Iterator[Coating]:
    material = system.liquid(layer.material)
    film = layer.coats * wet_depth(material, layer)
    roughness = layer.roughness / (material.solids or 1.0)
    for (body, kind), (zones, wet) in sizes.items():
        if kind == EDGES:
            if layer.where.kinds is not None:
                continue
        elif not is_one_of(kind, layer.where.kinds):
            continue
        for zone, area in zip(ZONES, held(zones, wet, body, layer.where), strict=True):
            if area:
                yield Coating(
                    layer.name, layer.material, body, kind, zone, area * layer.share, film,
                    roughness, layer.loss,
                )  # fmt: skip


def held(zones: Zones, wet: float, body: str, where: Places) -> list[float]:
    """Return how much of each zone a layer covers [m2].

    Args:
        zones: Area of a surface in each zone [m2].
        wet: How much of it is under water [m2].
        body: Body of water.
        where: Places of the layer, whatever the kind of surface.
    """
    if where.bodies is not None and body not in where.bodies:
        return [0.0] * len(zones)
    found = []
    for i, (name, area) in enumerate(zip(ZONES, zones, strict=True)):
        under = _under_water(i, zones, wet)
        mine = area if where.wet is None else under if where.wet else area - under
        found.append(mine if where.zones is None or name in where.zones else 0.0)
    return found


def _under_water(zone: int, zones: Zones, wet: float) -> float:
    """Return how much of a zone is under water: all below the band, the rest of it within."""
    if zone > BAND:
        return 0.0
    if zone < BAND:
        return wet if abs(wet) < abs(zones[zone]) else zones[zone]
    return wet - _under_water(zone - 1, zones, wet)


def _net_areas(model: Model, takeoff: Takeoff) -> Sizes:
    """Return the areas less the openings of fittings."""
    holes: dict[tuple[str, str], list[float]] = defaultdict(lambda: [0.0] * len(ZONES))
    drowned: dict[tuple[str, str], float] = defaultdict(float)
    for item in takeoff.fittings:
        place = item.body, item.surface
        for i, share in enumerate(zone_of_fitting(model, item)):
            holes[place][i] += share * item.void_area
        drowned[place] += item.void_area * item.wet
    found: Sizes = {}
    for row in takeoff.areas:
        place = row.body, row.kind
        zones = tuple(a - b for a, b in zip(row.zones, holes[place], strict=True))
        found[place] = zones, row.wet_area - drowned[place]
    return found


def _changes(takeoff: Takeoff, detailing: Detailing) -> Sizes:
    """Return what arrises and fillets change, body by body.

    Where the pool file says how an edge is finished, that counts, not the system's arris.
    """
    zones: Mapping[str, list[float]] = defaultdict(lambda: [0.0] * len(ZONES))
    wet: dict[str, float] = defaultdict(float)
    stated = {row.number for row in takeoff.arrises}
    drowned = {run.number: run.wet_length for run in takeoff.edges}
    for item in detailing.details:
        if not item.widens or (item.do == "arris" and item.number in stated):
            continue
        wet[item.body] += item.widens * item.wet
        for i, size in enumerate(item.zones):
            zones[item.body][i] += item.widens * size / item.length
    for row in takeoff.arrises:
        change = row.net_area * row.left
        wet[row.body] += change * drowned[row.number] / row.length
        for i, size in enumerate(row.zones):
            zones[row.body][i] += change * size / row.length
    return {(body, EDGES): (tuple(sizes), wet[body]) for body, sizes in zones.items()}
