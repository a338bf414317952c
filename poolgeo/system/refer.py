"""Whether what a system file names is there: materials, kinds of surface, zones of work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fnmatch import fnmatchcase
from typing import get_args

from ..design.fittings import FittingKind
from ..design.guess import guess_or_known
from ..errors import Finding, Key
from ..surface.kinds import KINDS
from .details import EdgeRule
from .items import CUSTOMARY_UNITS, work_in
from .materials import Liquid, Piece, Roll
from .schema import System
from .work import CORNER_WORK, EDGE_WORK, FITTING_WORK, Work

SENSES = {"fillet": "internal", "arris": "external"}
"""The sense of the edges at which work can be done."""

FORMS = {"liquid": Liquid, "roll": Roll, "piece": Piece}


def check_references(system: System) -> list[Finding]:
    """Find names in a system file that stand for nothing, or for a thing of another form.

    Returns:
        Findings without their place in the file.
    """
    return [
        *_layers(system),
        *_edges(system),
        *_fittings(system),
        *_corners(system),
        *_twice(system),
        *_rates(system),
    ]


def _layers(system: System) -> Iterator[Finding]:
    for i, layer in enumerate(system.layers):
        key: Key = ("layers", i)
        yield from _material(system, layer.material, (*key, "material"), "liquid")
        yield from _dry_film(system, layer.material, layer.dry_film, (*key, "dry_film"))
        yield from _kinds(layer.where.kinds, (*key, "where", "kinds"), KINDS)


def _edges(system: System) -> Iterator[Finding]:
    for i, rule in enumerate(system.edges):
        key: Key = ("edges", i)
        yield from _edge_kinds(rule, (*key, "where", "kinds"))
        yield from _works(system, rule.work, key, EDGE_WORK, "an edge")
        yield from _along(rule, key)


def _along(rule: EdgeRule, key: Key) -> Iterator[Finding]:
    """Find what does not go with edges, coves or joints, or with their sense."""
    where = rule.where
    if where.of != "edge" and where.angle is not None:
        yield Finding((*key, "where", "angle"), f"must not be given for a {where.of}")
    if where.of == "joint" and where.sense is not None:
        yield Finding((*key, "where", "sense"), "must not be given for a joint")
    for k, work in enumerate(rule.work):
        here: Key = (*key, "work", k)
        if work.do in SENSES and where.of != "edge":
            yield Finding((*here, "do"), f"must be work that can be done at a {where.of}",
                          f"'{work.do}'")  # fmt: skip
        elif work.do in SENSES and where.sense != SENSES[work.do]:
            yield Finding((*key, "where", "sense"), f"must be '{SENSES[work.do]}' for"
                          f" '{work.do}'", f"'{where.sense}'" if where.sense else "")  # fmt: skip
        if work.do == "bead" and work.width is None and where.of != "joint":
            yield Finding((*here, "width"), f"must be given at a {where.of}: it has no gap")


def _fittings(system: System) -> Iterator[Finding]:
    for i, rule in enumerate(system.fittings):
        key: Key = ("fittings", i)
        yield from _kinds(rule.where.kinds, (*key, "where", "kinds"), get_args(FittingKind))
        yield from _kinds(rule.where.surfaces, (*key, "where", "surfaces"), KINDS)
        yield from _works(system, rule.work, key, FITTING_WORK, "a fitting")
        for k, work in enumerate(rule.work):
            if work.do == "bead" and work.width is None:
                yield Finding((*key, "work", k, "width"), "must be given about a fitting")


def _corners(system: System) -> Iterator[Finding]:
    for i, rule in enumerate(system.corners):
        yield from _works(system, rule.work, ("corners", i), CORNER_WORK, "a corner")


def _works(
    system: System, works: Sequence[Work], key: Key, allowed: frozenset[str], place: str
) -> Iterator[Finding]:
    for k, work in enumerate(works):
        here: Key = (*key, "work", k)
        if work.do not in allowed:
            rule = f"must be work that can be done at {place}"
            yield Finding(
                (*here, "do"), rule, f"'{work.do}'", f"one of {', '.join(sorted(allowed))}"
            )
        if work.do != "arris":
            form = {"strip": "roll", "rod": "roll", "piece": "piece"}.get(work.do, "liquid")
            yield from _material(system, work.material, (*here, "material"), form)
        if work.do == "coat":
            yield from _dry_film(system, work.material, work.dry_film, (*here, "dry_film"))
        if work.do == "strip" and work.bed is not None:
            bed = work.bed
            yield from _material(system, bed.material, (*here, "bed", "material"), "liquid")
            yield from _dry_film(system, bed.material, bed.dry_film, (*here, "bed", "dry_film"))


def _material(system: System, name: str, key: Key, form: str) -> Iterator[Finding]:
    """Find a material that is not there, or of another form."""
    if name not in system.materials:
        remedy = guess_or_known(name, system.materials)
        yield Finding(key, "must be one of the materials", f"'{name}'", remedy)
    elif not isinstance(system.materials[name], FORMS[form]):
        given = system.materials[name].form
        yield Finding(key, f"must be a {form}", f"'{name}', a {given}")


def _dry_film(system: System, name: str, film: float | None, key: Key) -> Iterator[Finding]:
    material = system.materials.get(name)
    if film is not None and isinstance(material, Liquid) and not material.solids:
        rule = "must stand for a material that states its 'solids'"
        yield Finding(key, rule, f"'{name}'", "give its 'solids', or 'wet_film' or 'consumption'")


def _kinds(given: Sequence[str] | None, key: Key, known: Sequence[str]) -> Iterator[Finding]:
    for i, name in enumerate(given or ()):
        if not any(fnmatchcase(item, name) for item in known):
            yield Finding((*key, i), *_unknown(name, known))


def _edge_kinds(rule: EdgeRule, key: Key) -> Iterator[Finding]:
    """Find unknown kinds: of both sides of an edge, of a cove itself, of what a joint crosses."""
    given = rule.where.kinds
    if rule.where.of != "edge":
        yield from _kinds(given, key, KINDS)
        return
    for i, name in enumerate(given or ()):
        sides = name.split("/")
        if len(sides) != 2:
            yield Finding(
                (*key, i),
                "must be two kinds of surface and a stroke",
                f"'{name}'",
                "write floor/wall",
            )
            continue
        for side in sides:
            if not any(fnmatchcase(item, side) for item in KINDS):
                yield Finding((*key, i), *_unknown(side, KINDS))


def _unknown(name: str, known: Sequence[str]) -> tuple[str, str, str]:
    return "must be a kind that poolgeo knows", f"'{name}'", guess_or_known(name, known)


def _twice(system: System) -> Iterator[Finding]:
    """Layers and details are told apart by their names."""
    for group in ("layers", "edges", "fittings", "corners"):
        seen: set[str] = set()
        for i, item in enumerate(getattr(system, group)):
            if item.name in seen:
                rule = "must be another than those before"
                yield Finding((group, i, "name"), rule, f"'{item.name}'")
            seen.add(item.name)


def _rates(system: System) -> Iterator[Finding]:
    """Find rates of nothing: of work that is not done, of a unit that it is not measured in."""
    known, seen = dict(work_in(system)), set()
    for i, rate in enumerate(system.rates):
        of = CUSTOMARY_UNITS.get(rate.unit, (rate.unit, 1.0))[0]
        names = [name for name, unit in work_in(system) if unit == of]
        if (rate.item, of) in seen:
            yield Finding(("rates", i, "item"), "must stand once for each unit", f"'{rate.item}'")
        seen.add((rate.item, of))
        if rate.item in names:
            continue
        key: Key = ("rates", i, "unit" if rate.item in known else "item")
        if rate.item in known:
            yield Finding(key, f"must be '{known[rate.item]}' for '{rate.item}'", f"'{rate.unit}'")
            continue
        yield Finding(key, "must be a layer, or a detail, a colon and its work", f"'{rate.item}'",
                      guess_or_known(rate.item, known))  # fmt: skip
