"""Rules about the programme: waits between coats, cure before water, the shell's test first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..design.guess import guess_or_known
from ..design.waterproofing import Step
from ..errors import Finding, Key
from ..supply.temperature import at_least, at_most
from ..system.materials import Liquid, Recoat
from ..system.requirements import PRACTICE
from .case import Case, Remark, fault

Placed = tuple[int, Step]
"""A step and its number in the pool file."""

SHARE_OF_TIME = 0.9
"""A coat that takes so much of what the crew would take is not remarked on."""

Steps = dict[tuple[int, int], Placed]
"""By the number of the layer (below 0 where there is none) and the coat."""


def programme(case: Case) -> Iterator[Remark]:
    """The programme holds the recoat windows and cures of the data sheets."""
    plan = case.job.programme
    if plan is None:
        return
    steps: Steps = {}
    for place, step in _steps(case):
        if place in steps:
            yield _at(step[0], "coat", "must stand once in the programme",
                      f"'{step[1].layer}', coat {place[1]}")  # fmt: skip
        steps.setdefault(place, step)
    yield from _unknown(case, steps)
    layers = case.system.layers
    follow = [((i, coat), (i, coat + 1)) for i, layer in enumerate(layers)
              for coat in range(1, layer.coats)]  # fmt: skip
    follow += [((i, layers[i].coats), (k, 1)) for i, k in case.touching]
    for before, after in follow:
        if before in steps and after in steps:
            yield from _wait(case, before[0], steps[before], steps[after])
    yield from _too_quick(case, steps)
    if plan.filling is None:
        rule = "should be stated, to compare the cure with"
        finding = Finding(("waterproofing", "programme", "filling"), rule, severity="warning")
        yield Remark(finding, of_pool=True)
    else:
        for (i, coat), step in steps.items():
            if i >= 0 and coat <= layers[i].coats:
                yield from _cure(case, i, step, plan.filling)
        yield from _cure_of_details(case, plan.filling)
    yield from _test_first(case, list(steps.values()))


def _steps(case: Case) -> Iterator[tuple[tuple[int, int], Placed]]:
    """Yield the steps of the programme by the number of their layer and their coat."""
    plan = case.job.programme
    for n, step in enumerate(plan.coats if plan is not None else ()):
        yield (case.numbers.get(step.layer, -1 - n), step.coat), (n, step)


def _unknown(case: Case, steps: Steps) -> Iterator[Remark]:
    """Find steps of no layer, and coats that stand in no step."""
    for (i, coat), (n, step) in steps.items():
        if i < 0:
            yield _at(n, "layer", "must be a layer of the system", f"'{step.layer}'", "",
                      guess_or_known(step.layer, case.numbers))  # fmt: skip
        elif coat > case.system.layers[i].coats:
            yield _at(n, "coat", "must be a coat of its layer", f"{coat}")
    used = {row.layer for row in case.supply.coatings}
    for i, layer in enumerate(case.system.layers):
        missing = [c for c in range(1, layer.coats + 1) if (i, c) not in steps]
        if missing and layer.name in used:
            coats = f"coat {', '.join(map(str, missing))} of '{layer.name}'"
            yield _of_programme(f"must hold {coats}")


def _too_quick(case: Case, steps: Steps) -> Iterator[Remark]:
    """Compare what a coat takes with what the crew can do."""
    for mix in case.supply.mixes:
        i = case.numbers[mix.layer]
        speed, found = case.system.layers[i].speed, steps.get((i, mix.coat))
        if speed is None or found is None or not found[1].takes:
            continue
        need = mix.area / (speed * case.job.crew)
        if found[1].takes < SHARE_OF_TIME * need:
            finding = Finding(("waterproofing", "programme", "coats", found[0], "takes"),
                              f"should be {need / 3600:.1f} h at the speed of '{mix.layer}' with a"
                              f" crew of {case.job.crew}", f"{found[1].takes / 3600:.1f} h",
                              severity="warning")  # fmt: skip
            yield Remark(finding, of_pool=True)


def _wait(case: Case, i: int, before: Placed, after: Placed) -> Iterator[Remark]:
    """Compare the wait between two steps that touch with the recoat window of the first."""
    (_, one), (n, other) = before, after
    name = case.system.layers[i].material
    material = case.system.liquid(name)
    key: Key = ("materials", name, "recoat")
    if not material.recoat:
        yield fault(key, "must be stated, as another coat follows")
        return
    at = case.job.temperature
    wait = other.starts - (one.starts + one.takes)
    earliest = at_least([(row.at, row.earliest) for row in material.recoat], at)
    source = material.source or "data sheet"
    if earliest is None:
        yield fault(key, "must be given for the temperature of the works", f"{at:g} C")
        return
    coat = f"'{other.layer}', coat {other.coat}"
    if wait < earliest - 1.0:
        yield _at(n, "starts", f"must leave '{one.layer}' {earliest / 3600:.1f} h before {coat}",
                  f"{wait / 3600:.1f} h", source, "start it later")  # fmt: skip
    latest = _latest(material.recoat, at)
    if latest is not None and wait > latest + 1.0:
        yield _at(n, "starts", f"must follow '{one.layer}' within {latest / 3600:.1f} h"
                  f" with {coat}", f"{wait / 3600:.1f} h", source,
                  "start it earlier, or ask the maker how to prepare the surface")  # fmt: skip


def _latest(rows: Sequence[Recoat], at: float) -> float | None:
    """Return the end of the window at a temperature within a table; None where it has none."""
    below = max((row for row in rows if row.at <= at), key=lambda row: row.at)
    above = min((row for row in rows if row.at >= at), key=lambda row: row.at)
    ends = {row.at: row.latest for row in (below, above) if row.latest is not None}
    if len(ends) == 2 or below is above:
        return at_most(list(ends.items()), at)
    # between a row with an end and one without: the end that is known
    return next(iter(ends.values()), None)


def _cure(case: Case, i: int, step: Placed, filling: float) -> Iterator[Remark]:
    """Compare the time until the pool is filled with the cure of a coat."""
    _, coat = step
    name = case.system.layers[i].material
    material = case.system.liquid(name)
    if not material.cure:
        if material.role != "primer":
            yield fault(("materials", name, "cure"), "must be stated, as water follows")
        return
    need = at_least([(row.at, row.takes) for row in material.cure], case.job.temperature)
    if need is None:
        yield fault(("materials", name, "cure"), "must be given for the temperature of the works",
                    f"{case.job.temperature:g} C")  # fmt: skip
    wait = filling - (coat.starts + coat.takes)
    if need is not None and wait < need - 1.0:
        rule = f"must leave '{coat.layer}', coat {coat.coat}, {need / 86400:.1f} d to cure"
        finding = Finding(("waterproofing", "programme", "filling"), rule,
                          f"{wait / 86400:.1f} d", "fill later")  # fmt: skip
        yield Remark(finding, material.source or "data sheet", of_pool=True)


def _cure_of_details(case: Case, filling: float) -> Iterator[Remark]:
    """Compare the time until the pool is filled with the cure of what details take."""
    # the programme does not say when details are done: no earlier than at its start
    layers = {layer.material for layer in case.system.layers}
    for name in sorted({item.material for item in case.detailing.details} - layers - {""}):
        material = case.system.materials[name]
        if not isinstance(material, Liquid):
            continue
        need = at_least([(row.at, row.takes) for row in material.cure], case.job.temperature)
        if need is not None and filling < need - 1.0:
            rule = f"must leave '{name}' {need / 86400:.1f} d to cure"
            finding = Finding(("waterproofing", "programme", "filling"), rule,
                              f"{filling / 86400:.1f} d after the start")  # fmt: skip
            yield Remark(finding, material.source or "data sheet", of_pool=True)


def _test_first(case: Case, steps: list[Placed]) -> Iterator[Remark]:
    """Compare the shell's own tightness test with the first coat."""
    asked, plan = case.requirements.tightness_test_first, case.job.programme
    if asked is None or plan is None or not steps:
        return
    first = min(step.starts for _, step in steps)
    key = ("waterproofing", "programme", "tightness_test")
    if plan.tightness_test is None:
        rule = "should be stated: the bare shell is tested before it is coated"
        yield Remark(Finding(key, rule, severity="warning"), asked.cited, of_pool=True)
    elif plan.tightness_test > first:
        rule = "must end before the first coat"
        hours = f"{plan.tightness_test / 3600:.0f} h; the first coat starts at {first / 3600:.0f} h"
        yield Remark(Finding(key, rule, hours), asked.cited, of_pool=True)


def _at(
    n: int, key: str, rule: str, value: str, source: str = PRACTICE, remedy: str = ""
) -> Remark:
    finding = Finding(("waterproofing", "programme", "coats", n, key), rule, value, remedy)
    return Remark(finding, source, of_pool=True)


def _of_programme(rule: str) -> Remark:
    return Remark(Finding(("waterproofing", "programme", "coats"), rule), of_pool=True)
