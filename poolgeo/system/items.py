"""Items that a rate can be for: packs of materials, layers, work of details."""

from __future__ import annotations

from collections.abc import Iterator

from .details import CornerRule, EdgeRule, FittingRule
from .methods import Method
from .schema import System

CUSTOMARY_UNITS = {"ft": ("m", 0.3048), "ft2": ("m2", 0.3048**2)}
"""Units that a rate may be for, and the SI unit that it is turned into, with its size."""

Item = tuple[str, str]
"""Name of the item, and its unit: ``m2``, ``m``, ``pieces``, or the pack of a material."""


def packs_in(system: System) -> Iterator[Item]:
    """Yield the packs of all materials."""
    for name, material in system.materials.items():
        yield from ((name, pack) for pack in material.pack_names)


def work_in(system: System) -> Iterator[Item]:
    """Yield what is measured of a system's work, in any method."""
    for layer in system.layers:
        yield layer.name, "m2"
        yield layer.name, "m"
    rules: tuple[EdgeRule | FittingRule | CornerRule, ...]
    rules = (*system.edges, *system.fittings, *system.corners)
    for rule in rules:
        for work in rule.work:
            unit = "pieces" if work.do == "piece" else "m"
            yield f"{rule.name}: {work.name or work.do}", unit


def items_of(system: System, method: Method) -> list[Item]:
    """Return all items that a price book may have a rate for."""
    bands = [
        (f"{layer.name}, {name}", unit)
        for layer in system.layers
        for name, unit in method.band_names
    ]
    return [*packs_in(system), *work_in(system), *bands]
