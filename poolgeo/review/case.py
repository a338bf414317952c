"""What the rules of a review look at, and what they leave."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from ..bill.bill import Bill
from ..design.waterproofing import Waterproofing
from ..detailing.rows import Detailing
from ..errors import Finding, key_text
from ..model import Model
from ..quantities import Takeoff
from ..supply.supply import Supply
from ..system.requirements import PRACTICE, Requirements
from ..system.schema import System

DRY_ZONES = frozenset({"freeboard", "wall top", "coping return"})
"""Zones that no water stands in."""


MOST_NAMED = 6
"""Runs, fittings or items that a remark names."""


@dataclass(frozen=True)
class Remark:
    """What a review finds.

    Args:
        finding: What, where, how bad and what to do; an error is a fault of the system for this
            pool, a warning wants a decision, a note is good to know.
        source: Where the rule comes from; empty where it is none.
        of_pool: Whether its key is one of the pool file, not of the system file.
    """

    finding: Finding
    source: str = PRACTICE
    of_pool: bool = False

    def __str__(self) -> str:
        """The finding, then its source in brackets."""
        return f"{self.finding} [{self.source}]" if self.source else str(self.finding)

    def as_dict(self) -> dict[str, Any]:
        """Return the remark as JSON has it."""
        item = self.finding
        return {
            "severity": item.severity,
            "file": item.file or None,
            "line": item.line,
            "key": key_text(item.key),
            "rule": item.rule,
            "value": item.value or None,
            "remedy": item.remedy or None,
            "source": self.source or None,
        }


@dataclass(frozen=True)
class Case:
    """A pool with its system, worked out.

    Args:
        model: The pool.
        takeoff: Measured on it.
        system: Of the system file.
        job: Of the pool file.
        requirements: To compare with.
        detailing: What is done at its edges.
        supply: What it takes.
        bill: What it costs.
    """

    model: Model
    takeoff: Takeoff
    system: System
    job: Waterproofing
    requirements: Requirements
    detailing: Detailing
    supply: Supply
    bill: Bill

    @cached_property
    def depth(self) -> float:
        """Greatest depth of water in any body [m]."""
        depths = [
            body.level - float(body.wetted.vertices[body.wetted.triangles, 2].min())
            for body in self.model.bodies
            if len(body.wetted.triangles)
        ]
        return max(depths, default=0.0)

    @cached_property
    def wet(self) -> frozenset[str]:
        """Materials that come to lie under water."""
        found = {row.material for row in self.supply.coatings if row.zone not in DRY_ZONES}
        found |= {item.material for item in self.detailing.details if item.wet > 0.0}
        return frozenset(found - {""})

    @cached_property
    def used(self) -> frozenset[str]:
        """Materials that the pool takes."""
        return frozenset(order.material for order in self.supply.orders)


def fault(key: tuple[str | int, ...], rule: str, value: str = "", remedy: str = "",
          source: str = PRACTICE) -> Remark:  # fmt: skip
    """Return a remark on what is wrong in the system file."""
    return Remark(Finding(key, rule, value, remedy), source)


def doubt(key: tuple[str | int, ...], rule: str, value: str = "", remedy: str = "",
          source: str = PRACTICE) -> Remark:  # fmt: skip
    """Return a remark on what wants a decision, or is not stated, in the system file."""
    return Remark(Finding(key, rule, value, remedy, severity="warning"), source)
