"""All rules of the review, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from . import details, layers, materials, programme, site
from .case import Case, Remark

RULES: tuple[Callable[[Case], Iterator[Remark]], ...] = (
    materials.immersion,
    materials.repair,
    materials.membranes,
    materials.substrate,
    layers.films,
    layers.primers,
    layers.bare_surfaces,
    layers.neighbours,
    layers.mixes,
    layers.coping,
    details.undecided,
    details.bodies,
    details.fillets,
    details.rods,
    details.tapes,
    details.rolls,
    details.movement,
    programme.programme,
    site.negative_pressure,
    site.depth_class,
    site.bedding,
    site.unstated,
    site.unpriced,
    site.cautions,
)
"""A new rule is a function here."""

RANK = {"error": 0, "warning": 1, "note": 2}


def review(case: Case) -> tuple[Remark, ...]:
    """Apply every rule to a case.

    Returns:
        What they find, the worst first; each once.
    """
    found = dict.fromkeys(remark for rule in RULES for remark in rule(case))
    return tuple(sorted(found, key=lambda item: RANK[item.finding.severity]))
