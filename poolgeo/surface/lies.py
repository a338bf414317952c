"""How faces lie by what made them: level, as a piece of a floor, or as the underside of one."""

from __future__ import annotations

from functools import partial

from ..mesh import Patch
from ..model import Lie
from ..plan.planmap import PlanMap
from .ground import roof_patch
from .labels import floors_of, level_tops_of
from .outside import soffit_patch


def lies_of(plan: PlanMap) -> dict[Patch, Lie | None]:
    """Return how patches lie where that is known, not of coves and sloping tops; None is level."""
    found: dict[Patch, Lie | None] = dict.fromkeys(level_tops_of(plan))
    for patch, (floor, piece) in floors_of(plan).items():
        found[patch] = partial(floor.gradient_of, piece=piece)
    under = plan.under
    for zone, piece in set(zip(under.zone.tolist(), under.piece.tolist(), strict=True)):
        n, is_level = divmod(zone, 2)
        slope = partial(under.undersides[n].gradient_of, piece=piece)
        found[soffit_patch(under, zone, piece)] = None if is_level else slope
    gaps = () if plan.between is None else plan.between.gaps
    return found | dict.fromkeys(roof_patch(n, item) for n, item in enumerate(gaps))
