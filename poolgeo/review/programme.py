"""Rules about the programme: waits between coats, cure before water, the shell's test first."""

from __future__ import annotations

from collections.abc import Iterator

from ..design.waterproofing import Step
from ..errors import Finding, Key
from ..supply.temperature import at_least, at_most
from ..system.layers import Layer
from ..system.requirements import PRACTICE
from .case import Case, Remark, fault

Placed = tuple[int, Step]
"""A step and its number in the pool file."""


def programme(case: Case) -> Iterator[Remark]:
    """The programme holds the recoat windows and cures of the data sheets."""
    plan = case.job.programme
    if plan is None:
        return
    steps = dict(_steps(case))
    yield from _unknown(case, steps)
    order = [
        ((i, coat), steps[i, coat])
        for i, layer in enumerate(case.system.layers)
        for coat in range(1, layer.coats + 1)
        if (i, coat) in steps
    ]
    for k in range(1, len(order)):
        yield from _wait(case, order[k - 1], order[k])
    if plan.filling is not None:
        for (i, _), step in order:
            yield from _cure(case, i, step, plan.filling)
    yield from _test_first(case, [step for _, step in order])


def _steps(case: Case) -> Iterator[tuple[tuple[int, int], Placed]]:
    """Yield the steps of the programme by the number of their layer and their coat."""
    plan = case.job.programme
    names = {layer.name: i for i, layer in enumerate(case.system.layers)}
    for n, step in enumerate(plan.coats if plan is not None else ()):
        yield (names.get(step.layer, -1 - n), step.coat), (n, step)


def _unknown(case: Case, steps: dict[tuple[int, int], Placed]) -> Iterator[Remark]:
    """Find steps of no layer, and coats that stand in no step."""
    for (i, coat), (n, step) in steps.items():
        if i < 0:
            yield _at(n, "layer", "must be a layer of the system", f"'{step.layer}'")
        elif coat > case.system.layers[i].coats:
            yield _at(n, "coat", "must be a coat of its layer", f"{coat}")
    used = {row.layer for row in case.supply.coatings}
    for i, layer in enumerate(case.system.layers):
        missing = [c for c in range(1, layer.coats + 1) if (i, c) not in steps]
        if missing and layer.name in used:
            coats = f"coat {', '.join(map(str, missing))} of '{layer.name}'"
            yield _of_programme(f"must hold {coats}")


def _wait(
    case: Case, before: tuple[tuple[int, int], Placed], after: tuple[tuple[int, int], Placed]
) -> Iterator[Remark]:
    """Compare the wait between two steps with the recoat window of the first."""
    (i, _), (_, one) = before
    (_, _), (n, other) = after
    layer = case.system.layers[i]
    if not _touch(case, layer, case.system.layers[after[0][0]]):
        return
    material = case.system.liquid(layer.material)
    key: Key = ("materials", layer.material, "recoat")
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
    name = f"'{other.layer}', coat {other.coat}"
    if wait < earliest - 1.0:
        yield _at(n, "starts", f"must leave '{one.layer}' {earliest / 3600:.1f} h before {name}",
                  f"{wait / 3600:.1f} h", source)  # fmt: skip
    ends = [(row.at, row.latest) for row in material.recoat if row.latest is not None]
    latest = at_most(ends, at) if len(ends) == len(material.recoat) else None
    if latest is not None and wait > latest + 1.0:
        yield _at(n, "starts", f"must follow '{one.layer}' within {latest / 3600:.1f} h"
                  f" with {name}", f"{wait / 3600:.1f} h", source)  # fmt: skip


def _touch(case: Case, one: Layer, other: Layer) -> bool:
    """Whether two layers lie on each other anywhere."""
    places = [
        {(row.body, row.kind, row.zone) for row in case.supply.coatings if row.layer == item.name}
        for item in (one, other)
    ]
    return bool(places[0] & places[1])


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
    wait = filling - (coat.starts + coat.takes)
    if need is not None and wait < need - 1.0:
        rule = f"must leave '{coat.layer}', coat {coat.coat}, {need / 86400:.1f} d to cure"
        finding = Finding(("waterproofing", "programme", "filling"), rule, f"{wait / 86400:.1f} d")
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


def _at(n: int, key: str, rule: str, value: str, source: str = PRACTICE) -> Remark:
    finding = Finding(("waterproofing", "programme", "coats", n, key), rule, value)
    return Remark(finding, source, of_pool=True)


def _of_programme(rule: str) -> Remark:
    return Remark(Finding(("waterproofing", "programme", "coats"), rule), of_pool=True)
