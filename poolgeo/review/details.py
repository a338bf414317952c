"""Rules about details: tapes wide enough, every edge and fitting decided on, rolls that cut."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ..design.guess import guess_or_known
from ..detailing.operations import FORMS
from ..mesh import Patch
from ..sections import section
from ..system.details import EdgeRule
from ..system.work import FilletWork, StripWork
from .case import Case, Remark, doubt, fault, some_of

HAIR = 1e-3
"""[m] Less is rounding."""


def bodies(case: Case) -> Iterator[Remark]:
    """Bodies that a system names are those of the pool."""
    known = [body.name for body in case.model.bodies]
    for group in ("layers", "edges", "fittings", "corners"):
        for i, item in enumerate(getattr(case.system, group)):
            for k, name in enumerate(item.where.bodies or ()):
                if name not in known:
                    yield doubt((group, i, "where", "bodies", k), "is no body of this pool",
                                f"'{name}'", guess_or_known(name, known))  # fmt: skip


def fillets(case: Case) -> Iterator[Remark]:
    """A fillet is no larger than the faces that it stands on."""
    widths: dict[Patch, float] = {}
    for piece in case.pieces:
        widths[piece.patch] = max(piece.width, widths.get(piece.patch, 0.0))
    runs = {run.number: run for run in case.takeoff.edges}
    rules = {rule.name: i for i, rule in enumerate(case.system.edges)}
    for item in case.detailing.details:
        if item.do != "fillet":
            continue
        i, run = rules[item.rule], runs[item.number]
        phi = np.radians([min(run.angle, 360.0 - run.angle)])
        works = [work for work in case.system.edges[i].work if isinstance(work, FilletWork)]
        leg = max(float(section(FORMS[work.section], work.size, phi).leg[0]) for work in works)
        room = min(widths.get(patch, math.inf) for patch in run.patches)
        if leg > room + HAIR:
            yield fault(("edges", i, "work"), f"must have a fillet no larger than the faces at"
                        f" {item.number}", f"{leg:.3f} m on {room:.3f} m")  # fmt: skip
            return


def rods(case: Case) -> Iterator[Remark]:
    """A backer rod is wider than its joint."""
    gaps = {joint.number.partition(".")[0]: joint.width for joint in case.takeoff.joints}
    for item in case.detailing.details:
        if item.do != "rod" or item.place != "joint":
            continue
        roll = case.system.roll(item.material)
        if roll.role != "backer rod":
            continue
        key = ("materials", item.material, "width")
        if roll.width is None:
            yield doubt(key, "must be stated for a backer rod")
        elif roll.width <= gaps[item.number]:
            yield fault(key, f"must be wider than the joint {item.number}",
                        f"{roll.width * 1000:g} mm in {gaps[item.number] * 1000:g} mm",
                        "about a quarter wider")  # fmt: skip


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
        yield fault((key,), f"must have a rule for {kind}", some_of(numbers),
                    "add one; an empty 'work' where nothing is to be done")  # fmt: skip
    lone = [item.number for item in case.detailing.corners if not item.rule]
    if lone:
        yield doubt(("corners",), "should have a rule for every corner", some_of(lone),
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
