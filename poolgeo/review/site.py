"""Rules about the site: ground water, and what was not stated."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design.finishes import LAID
from ..errors import Finding
from .case import Case, Remark, fault, some_of

HEAD = 9806.65
"""[Pa/m] Pressure of a metre of fresh water."""


def negative_pressure(case: Case) -> Iterator[Remark]:
    """A membrane with ground water behind it is made for that; and an empty pool can float."""
    job, floor = case.job, case.bottom
    if job.ground_water is None:
        setting = case.model.design.pool.setting
        if setting is None or setting == "in ground":
            yield _of_pool("ground_water", "should be stated: a system must stand the pressure of"
                           " ground water from behind, and an emptied pool can float")  # fmt: skip
        return
    head = floor - job.ground_water
    if head <= 0.0:
        return
    yield _of_pool("ground_water", "calls for care: an emptied pool can float, and a membrane be"
                   " pushed off", f"{head:.3f} m above the deepest floor",
                   "have an engineer look after flotation before it is emptied")  # fmt: skip
    for i, layer in enumerate(case.system.layers):
        material = case.system.liquid(layer.material)
        if material.role != "membrane":
            continue
        head = _lowest(case, i) - job.ground_water
        if head <= 0.0:
            continue
        key = ("materials", layer.material, "negative_pressure")
        if material.negative_pressure is None:
            yield fault(key, "must be stated where there is ground water", f"{head:.3f} m of it",
                        "ask for it in writing, or keep the water away")  # fmt: skip
        elif material.negative_pressure < head * HEAD:
            yield fault(("layers", i, "material"), "must stand the ground water behind it",
                        f"{material.negative_pressure / 1000:g} kPa; the water presses with"
                        f" {head * HEAD / 1000:.0f} kPa")  # fmt: skip


def _lowest(case: Case, layer: int) -> float:
    """Return the depth of the lowest place of a layer below the pool's water level [m]."""
    bodies = {body.name: body for body in case.model.bodies}
    depths = [
        case.bottom if zone == "below band" else -bodies[body].band[0]
        for (body, _, zone), stack in case.stacks.items() if layer in stack
    ]  # fmt: skip
    return max(depths, default=-math.inf)


def bedding(case: Case) -> Iterator[Remark]:
    """Tile lies in its adhesive as wet work asks."""
    asked = case.requirements.bedding
    if asked is None:
        return
    for i, item in enumerate(case.model.design.pool.finishes or ()):
        key = ("finishes", i, "bed")
        if item.type in LAID and item.bed.contact < asked.contact:
            rule = f"must hold at least {asked.contact:.0%} of the tile's back"
            finding = Finding((*key, "contact"), rule, f"{item.bed.contact:.0%}",
                              "lay it in more adhesive, back-buttered")  # fmt: skip
            yield Remark(finding, asked.cited, of_pool=True)
        if item.type in LAID and item.bed.thickness < asked.thickness:
            finding = Finding(
                (*key, "thickness"),
                f"must be at least {asked.thickness * 1000:g} mm",
                f"{item.bed.thickness * 1000:g} mm",
                "take a coarser trowel",
            )
            yield Remark(finding, asked.cited, of_pool=True)


def unstated(case: Case) -> Iterator[Remark]:
    """What the job should say is said."""
    job = case.job
    if job.concrete.strength is None:
        yield _of_pool("concrete", "should give its 'strength', to compare the repair mortar with")
    if job.concrete.moisture is None:
        yield _of_pool("concrete", "should give its 'moisture', to compare the primer with")
    if job.programme is None:
        yield _of_pool("programme", "should be given, to compare waits and cure with")
    if case.system.readings is None:
        yield fault(("readings",), "must say how the film is checked")


def unpriced(case: Case) -> Iterator[Remark]:
    """What has no price is not in the total."""
    names = case.bill.unpriced
    if names:
        finding = Finding(("waterproofing", "prices"), "leaves items without a price, which are not"
                          f" in the total: {len(names)}", some_of(names), _otherwise(case),
                          severity="warning")  # fmt: skip
        yield Remark(finding, of_pool=True)


def _otherwise(case: Case) -> str:
    """Return what an item without a rate is measured in, where it has one for another unit."""
    rates = case.prices.rates
    for line in case.bill.lines:
        name = line.item.partition(", ")[0]
        others = [unit for item, unit in rates if item in {line.item, name} and unit != line.unit]
        if line.rate is None and others:
            return f"'{line.item}' is measured in {line.unit}; it has a rate for {others[0]}"
    return "add rates to the system file or the price book"


def cautions(case: Case) -> Iterator[Remark]:
    """What the system file warns those of who apply it."""
    for i, text in enumerate(case.system.cautions):
        yield Remark(Finding(("cautions", i), f"be careful: {text}", severity="note"), "")


def depth_class(case: Case) -> Iterator[Remark]:
    """The class of the basin by its depth."""
    classes = sorted(case.requirements.classes, key=lambda item: item.up_to)
    fitting = [item for item in classes if case.depth <= item.up_to]
    if fitting:
        rule = f"puts the basin in class {fitting[0].name}"
        finding = Finding(("waterproofing",), rule, f"{case.depth:.3f} m deep", severity="note")
        yield Remark(finding, fitting[0].cited, of_pool=True)
    elif classes:
        rule = f"puts the basin beyond class {classes[-1].name}"
        finding = Finding(("waterproofing",), rule, f"{case.depth:.3f} m deep", severity="warning")
        yield Remark(finding, classes[-1].cited, of_pool=True)


def _of_pool(key: str, rule: str, value: str = "", remedy: str = "") -> Remark:
    finding = Finding(("waterproofing", key), rule, value, remedy, severity="warning")
    return Remark(finding, of_pool=True)
