"""Rules about layers: film, primer, neighbours, mixes, and what they leave bare."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from ..errors import Key
from ..mesh import ZONES
from ..supply.coatings import EDGES
from ..system.layers import Layer
from ..system.materials import Liquid
from .case import DRY_ZONES, Case, Remark, Surface, doubt, fault

LEAST_AREA = 1e-6
"""[m2] Less than this is rounding."""

BAND_ZONE = "waterline band"

LEAST_OVERRUN = 0.005
"""Share of a pot life; less is rounding."""


def films(case: Case) -> Iterator[Remark]:
    """A membrane is as thick as asked, and no coat of any layer thicker than it may be."""
    wet = _wet_films(case)
    for i, layer in enumerate(case.system.layers):
        most = case.system.liquid(layer.material).most_coat
        if i in wet and most is not None and wet[i] / layer.coats > most * (1.0 + 1e-9):
            came = f"{wet[i] / layer.coats * 1000:.2f} mm wet a coat"
            yield fault(("layers", i, "coats"), "must be more, so that no coat is too thick",
                        f"{came}; the data sheet allows {most * 1000:g} mm")  # fmt: skip
    membranes: dict[str, list[int]] = {}
    for i in wet:
        name = case.system.layers[i].material
        if case.system.liquid(name).role == "membrane":
            membranes.setdefault(name, []).append(i)
    for name, layers in membranes.items():
        yield from _dry_film(case, name, layers, wet)


def _wet_films(case: Case) -> dict[int, float]:
    """Return the wet film of each layer that is used, all its coats together [m]."""
    films = {row.layer: row.film for row in case.supply.coatings}
    return {
        i: films[layer.name] for i, layer in enumerate(case.system.layers) if layer.name in films
    }


def _dry_film(
    case: Case, name: str, layers: Sequence[int], wet: Mapping[int, float]
) -> Iterator[Remark]:
    """Compare the dry film of a membrane, of all its layers together, where it is thinnest."""
    material, first = case.system.liquid(name), case.system.layers[layers[0]]
    given = next(key for key in ("dry_film", "wet_film", "consumption") if getattr(first, key))
    key: Key = ("layers", layers[0], given)
    if material.solids is None:
        yield doubt(("materials", name, "solids"),
                    "must be stated so that the dry film is known")  # fmt: skip
        return
    thinnest: dict[str, float] = {}
    for (body, _, zone), stack in case.stacks.items():
        mine = [wet[i] for i in stack if i in layers]
        if mine and zone not in DRY_ZONES:
            dry = sum(mine) * material.solids
            thinnest[body] = min(thinnest.get(body, dry), dry)
    least = material.least_film
    dry = min(thinnest.values(), default=math.inf)
    if least is not None and dry < least - 1e-9:
        yield fault(key, f"must be at least {least * 1000:g} mm dry", f"{dry * 1000:.2f} mm dry",
                    source=material.source or "data sheet")  # fmt: skip
    known = [item for item in case.requirements.films if item.family == material.family]
    for item in known:
        deep = {body: case.depths.get(body, 0.0) for body, dry in thinnest.items()
                if dry < item.least - 1e-9}  # fmt: skip
        depth = max(deep.values(), default=0.0)
        if deep and depth > (item.deeper_than or 0.0):
            dry = min(thinnest[body] for body in deep)
            yield fault(key, f"must be at least {item.least * 1000:g} mm dry under"
                        f" {depth:.3f} m of water", f"{dry * 1000:.2f} mm dry",
                        source=item.cited)  # fmt: skip
    if not known:
        family = f"'{material.family}'" if material.family else ""
        yield doubt(("materials", name, "family"),
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
    material = [layer.material for layer in case.system.layers]
    pairs = {(material[i], material[k]) for i, k in case.touching}
    films = {
        layer.material
        for layer in case.system.layers
        if case.system.liquid(layer.material).role in {"primer", "membrane"}
    }
    by_rule: dict[str, set[str]] = {}
    for item in case.detailing.details:
        if item.material:
            by_rule.setdefault(item.rule, set()).add(item.material)
    for names in by_rule.values():
        pairs |= {(a, b) for a in names for b in names | films if a != b}
    pairs |= {(b, a) for a, b in pairs}
    for one, other in sorted(pairs):
        family = case.system.materials[other].family
        if family is not None and family in case.system.materials[one].not_beside:
            yield fault(("materials", one, "not_beside"),
                        f"must not hold the family of '{other}', which it touches", f"'{family}'",
                        "choose another material, or part them")  # fmt: skip


def mixes(case: Case) -> Iterator[Remark]:
    """A mix can be applied before its pot life ends; what that takes is stated."""
    for name, group in groupby(case.supply.mixes, lambda mix: mix.layer):
        coats = list(group)
        mix, i = max(coats, key=lambda mix: mix.overrun), case.numbers[name]
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
        if mix.overrun > LEAST_OVERRUN:
            yield fault(("materials", mix.material, "divisible"),
                        f"must be true, or a {mix.pack} be applied before its pot life ends",
                        f"a {mix.pack} takes {1.0 + mix.overrun:.2g} times as long with a crew of "
                        f"{case.job.crew}", "use a larger crew or smaller packs")  # fmt: skip
    yield from _leftovers(case)


def _leftovers(case: Case) -> Iterator[Remark]:
    """Find packs that cannot be divided, of which each coat leaves a rest that nobody can use."""
    for order in case.supply.orders:
        material = case.system.materials[order.material]
        if not isinstance(material, Liquid) or material.divisible or not material.pot_life:
            continue
        mixed = sum(mix.batches for mix in case.supply.mixes if mix.material == order.material)
        packs = sum(pack.count for pack in order.packs)
        if mixed > packs:
            yield doubt(("materials", order.material, "divisible"), "should be true, or more packs"
                        " be ordered: what a coat leaves of its last one sets",
                        f"{packs} ordered, {mixed} mixed", "order for each coat")  # fmt: skip


def bare_surfaces(case: Case) -> Iterator[Remark]:
    """Every wet surface has a membrane."""
    wet = {
        (row.body, row.kind, zone) for row in case.takeoff.areas for zone in _wet_zones(row.zones)
    }
    bare = wet - _covered(case, case.system.layers, "membrane")
    if bare:
        yield fault(("layers",), "must put a membrane on every wet surface", _places(bare))
    for i, layer in enumerate(case.system.layers):
        if case.system.liquid(layer.material).role == "membrane" and layer.where.wet:
            others = [item for item in case.system.layers if item.where.wet is None]
            band = {place for place in _covered(case, [layer]) if place[2] == BAND_ZONE}
            if band - _covered(case, others, "membrane"):
                yield doubt(("layers", i, "where", "wet"), "should go on above the water: splashes"
                            " wet the upper half of the waterline band too")  # fmt: skip


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


def _covered(case: Case, layers: Sequence[Layer], role: str = "") -> set[Surface]:
    """Return body, kind and zone of all surfaces that layers, or those of a role, cover wholly."""
    wanted = {
        case.numbers[item.name] for item in layers
        if not role or (item.share == 1.0 and case.system.liquid(item.material).role == role)
    }  # fmt: skip
    return {place for place, stack in case.stacks.items() if wanted & set(stack)}


def _wet_zones(zones: tuple[float, ...]) -> list[str]:
    return [
        name for name, size in zip(ZONES, zones, strict=True)
        if size > LEAST_AREA and name not in DRY_ZONES
    ]  # fmt: skip


def _places(places: set[Surface]) -> str:
    """Name some surfaces, three at most."""
    some = [f"{kind} of the {body}, {zone}" for body, kind, zone in sorted(places)]
    return "; ".join(some[:3]) + (f"; {len(some) - 3} more" if len(some) > 3 else "")
