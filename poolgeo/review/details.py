"""Rules about details: tapes wide enough, every edge and fitting decided on, rolls that cut."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ..detailing.operations import FORMS
from ..sections import section
from ..system.details import EdgeRule
from ..system.work import FilletWork, StripWork
from .case import MOST_NAMED, Case, Remark, doubt, fault


def tapes(case: Case) -> Iterator[Remark]:
    """A tape over a fillet reaches far enough on to firm ground at either side."""
    used = {item.rule for item in case.detailing.details}
    for i, rule in enumerate(case.system.edges):
        if rule.name not in used:
            continue
        girth = _widest(case, rule)
        for k, work in enumerate(rule.work):
            if isinstance(work, StripWork):
                yield from _tape(case, work, girth, ("edges", i, "work", k, "material"))


def _tape(
    case: Case, work: StripWork, girth: float, key: tuple[str | int, ...]
) -> Iterator[Remark]:
    roll = case.system.roll(work.material)
    if roll.role != "reinforcement":
        return
    if roll.width is None or roll.least_bond is None:
        missing = "width" if roll.width is None else "least_bond"
        yield doubt(("materials", work.material, missing), "must be stated for a tape")
        return
    least = girth + 2.0 * roll.least_bond + 2.0 * work.offset
    if roll.width < least - 1e-9:
        parts = f"{girth * 1000:.0f} mm across the fillet or cove" if girth else "the edge"
        wide = math.ceil(least * 1000 - 1e-6)
        yield fault(key, f"must be a tape at least {wide} mm wide",
                    f"{roll.width * 1000:.0f} mm: {parts} and {roll.least_bond * 1000:.0f} mm at "
                    "either side", "take a wider tape or a smaller fillet")  # fmt: skip


def _widest(case: Case, rule: EdgeRule) -> float:
    """Return the largest way across a fillet or cove of a rule, over what it is for [m]."""
    mine = {item.number for item in case.detailing.details if item.rule == rule.name}
    if rule.where.of == "cove":
        coves = [cove for cove in case.takeoff.coves if cove.number in mine]
        return max((cove.area / cove.length for cove in coves), default=0.0)
    angles = [run.angle for run in case.takeoff.edges if run.number in mine]
    if not angles:
        return 0.0
    phi = np.radians(np.minimum(angles, 360.0 - np.array(angles)))
    fillets = [work for work in rule.work if isinstance(work, FilletWork)]
    return max((float(section(FORMS[w.section], w.size, phi).girth.max()) for w in fillets),
               default=0.0)  # fmt: skip


def undecided(case: Case) -> Iterator[Remark]:
    """Every edge, cove, joint and fitting has a rule, if only that nothing is done there."""
    kinds: dict[tuple[str, str], list[str]] = {}
    for place, number, kind in case.detailing.bare:
        key = "fittings" if place == "fitting" else "edges"
        kinds.setdefault((key, kind), []).append(number)
    for (key, kind), numbers in kinds.items():
        some = ", ".join(numbers[:MOST_NAMED]) + (", ..." if len(numbers) > MOST_NAMED else "")
        yield fault((key,), f"must have a rule for {kind}", some,
                    "add one; an empty 'work' where nothing is to be done")  # fmt: skip
    lone = [item.number for item in case.detailing.corners if not item.rule]
    if lone:
        some = ", ".join(lone[:MOST_NAMED]) + (", ..." if len(lone) > MOST_NAMED else "")
        yield doubt(("corners",), "should have a rule for every corner", some,
                    "add one; an empty 'work' where the tapes are folded")  # fmt: skip


def rolls(case: Case) -> Iterator[Remark]:
    """Every length can be cut without too short a piece."""
    for name, plan in case.supply.plans.items():
        for need in plan.uncut:
            yield fault(("materials", name, "least_piece"), "must let every run be cut",
                        f"{need.name}, {need.length:.3f} m", "take another roll")  # fmt: skip


def movement(case: Case) -> Iterator[Remark]:
    """A sealant in a movement joint states what movement it takes."""
    for order in case.supply.orders:
        material = case.system.materials[order.material]
        if material.role == "sealant" and material.form == "liquid" and material.movement is None:
            yield doubt(("materials", order.material, "movement"), "must be stated for a sealant")
