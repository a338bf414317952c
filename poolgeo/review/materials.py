"""Rules about materials by themselves: immersion, strength, substrate."""

from __future__ import annotations

from collections.abc import Iterator

from ..system.materials import Liquid, Role
from .case import Case, Remark, doubt, fault

MOVING: frozenset[Role] = frozenset({"sealant", "bond breaker", "backer rod"})
"""Roles of what stands in a joint."""

MEGA = 1e6


def immersion(case: Case) -> Iterator[Remark]:
    """Everything under water stands permanent immersion by itself."""
    for name in case.system.materials:
        if name not in case.wet:
            continue
        material = case.system.materials[name]
        key = ("materials", name, "immersion")
        what = f"{material.role} under water" if material.role in MOVING else "material under water"
        if material.immersion is None:
            yield fault(key, f"must be stated for a {what}", remedy="ask for it in writing")
        elif material.immersion != "permanent":
            yield fault(key, f"must be permanent for a {what}", f"'{material.immersion}'",
                        "choose another material: a coat over it does not help")  # fmt: skip


def repair(case: Case) -> Iterator[Remark]:
    """Repair mortar is about as strong as the concrete, and is of a class."""
    concrete = case.job.concrete.strength
    for name, material in _liquids(case, "repair mortar"):
        key = ("materials", name, "strength")
        if material.strength is None:
            yield doubt(key, "must be stated for a repair mortar")
            continue
        came = f"{material.strength / MEGA:g} MPa"
        if concrete is not None and material.strength < concrete:
            yield fault(key, "must not be less than that of the concrete",
                        f"{came}; the concrete has {concrete / MEGA:g} MPa")  # fmt: skip
        yield from _repair_class(case, name, material, material.strength)


def _repair_class(case: Case, name: str, material: Liquid, strength: float) -> Iterator[Remark]:
    """Compare a repair mortar with the best class that its strength and its bond allow."""
    classes = case.requirements.repair
    strong = [item for item in classes if strength >= item.strength]
    if not classes or any((material.bond or 0.0) >= item.bond for item in strong):
        return
    least = min(strong or classes, key=lambda item: (item.bond, item.strength))
    if strong:
        yield from _least_bond(name, material, least.bond, f"class {least.name}", least.cited)
    else:
        yield fault(("materials", name, "strength"),
                    f"must be at least {least.strength / MEGA:g} MPa, class {least.name}",
                    f"{strength / MEGA:g} MPa", source=least.cited)  # fmt: skip


def membranes(case: Case) -> Iterator[Remark]:
    """A membrane under tile bonds and bridges cracks as its standard asks."""
    asked = case.requirements
    if case.model.design.pool.finishes == ():
        return
    for name, material in _liquids(case, "membrane"):
        if asked.bond is not None:
            yield from _least_bond(name, material, asked.bond.least, "a membrane", asked.bond.cited)
        if asked.crack_bridging is None:
            continue
        key, least = ("materials", name, "crack_bridging"), asked.crack_bridging.least
        if material.crack_bridging is None:
            yield doubt(key, "must be stated for a membrane", source=asked.crack_bridging.cited)
        elif material.crack_bridging < least:
            yield fault(key, f"must be at least {least * 1000:g} mm",
                        f"{material.crack_bridging * 1000:g} mm",
                        source=asked.crack_bridging.cited)  # fmt: skip


def substrate(case: Case) -> Iterator[Remark]:
    """What goes on to the concrete first suits its moisture."""
    moisture = case.job.concrete.moisture
    for i, layer in enumerate(case.system.layers):
        material = case.system.liquid(layer.material)
        if material.role not in {"primer", "repair mortar"} and i:
            continue
        key = ("materials", layer.material, "substrate")
        if material.substrate is None:
            yield doubt(key, "must be stated for what goes on to the concrete")
        elif moisture is not None and material.substrate not in {"any", moisture}:
            yield fault(key, "must suit the concrete",
                        f"'{material.substrate}' on {moisture} concrete",
                        "wet or dry the concrete, or choose another material")  # fmt: skip


def _least_bond(
    name: str, material: Liquid, least: float, what: str, source: str
) -> Iterator[Remark]:
    key = ("materials", name, "bond")
    if material.bond is None:
        yield doubt(key, f"must be stated for {what}", source=source)
    elif material.bond < least:
        yield fault(key, f"must be at least {least / MEGA:g} MPa for {what}",
                    f"{material.bond / MEGA:g} MPa", source=source)  # fmt: skip


def _liquids(case: Case, role: Role) -> Iterator[tuple[str, Liquid]]:
    """Yield the liquids of a role that the pool takes."""
    for name, material in case.system.materials.items():
        if isinstance(material, Liquid) and material.role == role and name in case.used:
            yield name, material
