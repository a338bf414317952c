"""Widths of movement joints: what their movement asks, and what the rules ask.

::

    movement = (expansion x range of temperature + swelling) x bay
    width    = movement / capability of the sealant, never less than the rules', nor than the gap
               of a joint of the structure under it
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from ..design.finishes import Finish
from ..design.lengths import Units
from ..design.movement import Sealant
from ..supply.finish import thermal_movement
from .ground import Ground, laid_of
from .rows import FinishJoint, JointKind, SealantRow

INCH = 0.0254

ONE_SIDED: frozenset[JointKind] = frozenset({"perimeter", "round fitting"})
"""Joints that a bay moves from one side only: half of it comes on to them."""

HAIR = 1e-9


@dataclass(frozen=True)
class Sizing:
    """What widths are worked out from.

    Args:
        strain: Of the finish, from cold and dry to warm and wet [-].
        bay: Longest bay [m].
        rule: Least width by the rules [m].
        sealant: That joints are filled with.
        units: Of the pool file: widths are whole millimetres, or sixteenths of an inch.
    """

    strain: float
    bay: float
    rule: float
    sealant: Sealant
    units: Units

    def movement(self, kind: JointKind, structural: float = 0.0) -> float:
        """Return the movement of a joint [m], with that of the structure under it."""
        own = self.strain * self.bay / (2.0 if kind in ONE_SIDED else 1.0)
        return own + structural

    def width(self, movement: float, gap: float = 0.0) -> float:
        """Return the width of a joint [m], over a gap of the structure if any [m]."""
        needed = max(self.rule, movement / self.sealant.capability, gap)
        step = 1e-3 if self.units in {"mm", "m"} else INCH / 16.0
        return math.ceil(needed / step - 1e-6) * step


def sizing_of(ground: Ground, bay: float) -> Sizing:
    """Return what the widths of a pool's joints are worked out from.

    Args:
        ground: That they run over.
        bay: Longest bay between them [m].
    """
    low, high = ground.asked.temperatures
    rule = ground.rules.widths.width_for(bay, high - low)
    units = ground.model.design.pool.units
    return Sizing(strain_of(ground.finishes, high - low), bay, rule, ground.asked.sealant, units)


def strain_of(finishes: Sequence[Finish], temperatures: float) -> float:
    """Return how much the finish that moves most grows, for a range of temperature [K].

    Without finishes the defaults of one are taken.
    """
    fields = Finish.model_fields
    usual = fields["expansion"].default, fields["moisture"].default
    found = [(item.expansion, item.moisture) for item in laid_of(finishes)] or [usual]
    return max(thermal_movement(1.0, temperatures, warm) + wet for warm, wet in found)


def sealing_of(joints: Sequence[FinishJoint], sealant: Sealant) -> tuple[SealantRow, ...]:
    """Add joints up by their section, the narrowest first."""
    groups: dict[tuple[float, ...], list[FinishJoint]] = defaultdict(list)
    for joint in joints:
        groups[round(joint.width, 6), round(joint.depth, 6), round(joint.rod, 6)].append(joint)
    rows = []
    for _, same in sorted(groups.items()):
        length = sum(joint.length for joint in same)
        net = sum(joint.volume for joint in same)
        section = same[0].width, same[0].depth, same[0].rod
        rows.append(SealantRow(*section, length, net, net / (1.0 - sealant.loss)))
    return tuple(rows)


def packs_of(rows: Sequence[SealantRow], sealant: Sealant) -> int | None:
    """Return how many packs of sealant that takes; None where a pack's volume is not given."""
    if sealant.pack is None:
        return None
    return math.ceil(sum(row.gross for row in rows) / sealant.pack - HAIR)
