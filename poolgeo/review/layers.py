"""Rules about layers: film, primer, neighbours, mixes, and what they leave bare."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..mesh import ZONES
from ..supply.coatings import EDGES
from ..system.layers import Layer
from ..system.materials import Liquid
from .case import DRY_ZONES, Case, Remark, doubt, fault

LEAST_AREA = 1e-6
"""[m2] Less than this is rounding."""

Place = tuple[str, str, str]


def films(case: Case) -> Iterator[Remark]:
    """A membrane is as thick as asked, and no coat of any layer thicker than it may be."""
    for i, layer in enumerate(case.system.layers):
        material = case.system.liquid(layer.material)
        wet = _wet_film(case, layer)
        if wet is None:
            continue
        if material.most_coat is not None and wet / layer.coats > material.most_coat * (1 + 1e-9):
            yield fault(("layers", i, "coats"), "must be more, so that no coat is too thick",
                        f"{wet / layer.coats * 1000:.2f} mm wet a coat; the data sheet allows "
                        f"{material.most_coat * 1000:g} mm")  # fmt: skip
        if material.role == "membrane":
            yield from _dry_film(case, i, layer, material, wet)


def _dry_film(case: Case, i: int, layer: Layer, material: Liquid, wet: float) -> Iterator[Remark]:
    key = ("layers", i, "dry_film" if layer.dry_film is not None else "name")
    if material.solids is None:
        yield doubt(("materials", layer.material, "solids"),
                    "must be stated so that the dry film is known")  # fmt: skip
        return
    dry = wet * material.solids
    came = f"{dry * 1000:.2f} mm dry"
    if material.least_film is not None and dry < material.least_film - 1e-9:
        yield fault(key, f"must be at least {material.least_film * 1000:g} mm dry", came,
                    source=material.source or "data sheet")  # fmt: skip
    known = [item for item in case.requirements.films if item.family == material.family]
    asked = [item for item in known if case.depth > (item.deeper_than or 0.0)]
    for item in asked:
        if dry < item.least - 1e-9:
            yield fault(key, f"must be at least {item.least * 1000:g} mm dry under"
                        f" {case.depth:.3f} m of water", came, source=item.cited)  # fmt: skip
    if not known:
        family = f"'{material.family}'" if material.family else ""
        yield doubt(("materials", layer.material, "family"),
                    "must be one for which the requirements give a least film", family,
                    "add it to a table of requirements of your own")  # fmt: skip


def primers(case: Case) -> Iterator[Remark]:
    """What needs a primer has one under it, on every surface."""
    for i, layer in enumerate(case.system.layers):
        material = case.system.liquid(layer.material)
        if material.role == "primer":
            continue
        if material.needs_primer is None:
            yield doubt(("materials", layer.material, "needs_primer"), "must be stated")
        elif material.needs_primer and layer.share == 1.0:
            primed = _covered(case, case.system.layers[:i], "primer")
            bare = _covered(case, [layer]) - primed
            if bare:
                yield fault(("layers", i, "material"), "must have a primer under it",
                            _places(bare), "add a primer before it, or its places")  # fmt: skip


def neighbours(case: Case) -> Iterator[Remark]:
    """Materials that touch each other get on with each other."""
    pairs = {(a.material, b.material) for a, b in pairwise(case.system.layers)}
    films = [
        layer.material
        for layer in case.system.layers
        if case.system.liquid(layer.material).role in {"primer", "membrane"}
    ]
    by_rule: dict[str, list[str]] = {}
    for item in case.detailing.details:
        by_rule.setdefault(item.rule, []).append(item.material)
    for names in by_rule.values():
        pairs |= {(a, b) for a in names for b in [*names, *films] if a and b and a != b}
    pairs |= {(b, a) for a, b in pairs}
    for one, other in sorted(pairs):
        family = case.system.materials[other].family
        if family is not None and family in case.system.materials[one].not_beside:
            yield fault(("materials", one, "not_beside"),
                        f"must not hold the family of '{other}', which it touches", f"'{family}'",
                        "choose another material, or part them")  # fmt: skip


def mixes(case: Case) -> Iterator[Remark]:
    """A mix can be applied before its pot life ends; what that takes is stated."""
    for mix in case.supply.mixes:
        if mix.coat > 1:
            continue
        i = next(k for k, item in enumerate(case.system.layers) if item.name == mix.layer)
        material = case.system.liquid(mix.material)
        if case.system.layers[i].speed is None:
            yield doubt(("layers", i, "speed"), "must be stated so that mixes can be sized")
        if not material.pot_life:
            yield doubt(("materials", mix.material, "pot_life"), "must be stated")
        elif mix.pot_life is None:
            yield fault(("materials", mix.material, "pot_life"),
                        "must be given for the temperature of the works",
                        f"{case.job.temperature:g} C",
                        "work at another, or ask the maker")  # fmt: skip
        if mix.overrun > 0.0:
            yield fault(("materials", mix.material, "divisible"),
                        f"must be true, or a {mix.pack} be applied before its pot life ends",
                        f"a {mix.pack} takes {1.0 + mix.overrun:.1f} times as long with a crew of "
                        f"{case.job.crew}", "use a larger crew or smaller packs")  # fmt: skip


def bare_surfaces(case: Case) -> Iterator[Remark]:
    """Every wet surface has a membrane."""
    wet = {
        (row.body, row.kind, zone) for row in case.takeoff.areas for zone in _wet_zones(row.zones)
    }
    bare = wet - _covered(case, case.system.layers, "membrane")
    if bare:
        yield fault(("layers",), "must put a membrane on every wet surface", _places(bare))


def coping(case: Case) -> Iterator[Remark]:
    """Heavy or rough coping stones lie on a protection coat, not on the membrane."""
    returns = sum(row.zones[-1] for row in case.takeoff.areas)
    if returns < LEAST_AREA or case.job.heavy_coping is False:
        return
    coated = [
        row.area
        for row in case.supply.coatings
        if (row.zone == "coping return" and row.kind != EDGES)
        and case.system.liquid(row.material).role == "protection coat"
    ]
    if sum(coated) > 0.99 * returns:
        return
    if case.job.heavy_coping:
        yield fault(("layers",), "must put a protection coat under heavy or rough coping stones",
                    remedy="add one with the zone 'coping return'")  # fmt: skip
    else:
        yield doubt(("layers",), "must put a protection coat under the coping if its stones are"
                    " heavy or rough", remedy="state 'heavy_coping' in the pool file")  # fmt: skip


def _wet_film(case: Case, layer: Layer) -> float | None:
    """Return the wet film of all coats of a layer [m]; None where it covers nothing."""
    return next((row.film for row in case.supply.coatings if row.layer == layer.name), None)


def _covered(case: Case, layers: Sequence[Layer], role: str = "") -> set[Place]:
    """Return body, kind and zone of all surfaces that layers of a role cover."""
    names = {
        item.name for item in layers
        if not role or case.system.liquid(item.material).role == role
    }  # fmt: skip
    return {
        (row.body, row.kind, row.zone)
        for row in case.supply.coatings
        if row.layer in names and row.kind != EDGES
    }


def _wet_zones(zones: tuple[float, ...]) -> list[str]:
    return [
        name for name, size in zip(ZONES, zones, strict=True)
        if size > LEAST_AREA and name not in DRY_ZONES
    ]  # fmt: skip


def _places(places: set[Place]) -> str:
    """Name some surfaces, three at most."""
    some = [f"{kind} of the {body}, {zone}" for body, kind, zone in sorted(places)]
    return "; ".join(some[:3]) + (f"; {len(some) - 3} more" if len(some) > 3 else "")
