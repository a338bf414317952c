"""What the rules of a review look at, and what they leave."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from ..bill.bill import Bill
from ..design.lengths import Units, in_units
from ..design.origin import Origin
from ..design.waterproofing import Waterproofing
from ..detailing.rows import Detailing
from ..errors import Finding, key_text
from ..measure.pieces import Piece
from ..model import Body, Model
from ..quantities import Takeoff
from ..supply.coatings import EDGES
from ..supply.supply import Supply
from ..system.prices import PriceBook
from ..system.requirements import PRACTICE, Requirements
from ..system.schema import System

DRY_ZONES = frozenset({"freeboard", "wall top", "coping return"})
"""Zones that no water stands in."""


Surface = tuple[str, str, str]
"""Body, kind and zone."""

MOST_NAMED = 6
"""Runs, fittings or items that a remark names."""


def some_of(names: Sequence[str]) -> str:
    """Return the first few names, and three points for the others."""
    return ", ".join(names[:MOST_NAMED]) + (", ..." if len(names) > MOST_NAMED else "")


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

    def placed(self, origin: Origin, units: Units) -> Remark:
        """Return it with its file and line, its lengths in some units."""
        said = self.finding.said_by(lambda text: in_units(text, units))
        return replace(self, finding=origin.place(said))

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
        pieces: Of its surface.
        takeoff: Measured on it.
        system: Of the system file.
        job: Of the pool file.
        requirements: To compare with.
        detailing: What is done at its edges.
        supply: What it takes.
        bill: What it costs.
        prices: What it is priced by.
    """

    model: Model
    pieces: tuple[Piece, ...]
    takeoff: Takeoff
    system: System
    job: Waterproofing
    requirements: Requirements
    detailing: Detailing
    supply: Supply
    bill: Bill
    prices: PriceBook

    @cached_property
    def depths(self) -> dict[str, float]:
        """Greatest depth of the water of each body below its own level [m]."""
        return {
            body.name: body.level - self._bottom(body) for body in self.model.bodies
            if len(body.wetted.triangles)
        }  # fmt: skip

    @cached_property
    def depth(self) -> float:
        """Greatest depth of water in any body [m]."""
        return max(self.depths.values(), default=0.0)

    @cached_property
    def bottom(self) -> float:
        """Depth of the lowest floor of all bodies below the pool's water level [m]."""
        bodies = [body for body in self.model.bodies if len(body.wetted.triangles)]
        return max((-self._bottom(body) for body in bodies), default=0.0)

    @staticmethod
    def _bottom(body: Body) -> float:
        return float(body.wetted.vertices[body.wetted.triangles, 2].min())

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Number of each layer by its name."""
        return {layer.name: i for i, layer in enumerate(self.system.layers)}

    @cached_property
    def stacks(self) -> dict[Surface, tuple[int, ...]]:
        """Layers on each surface, from the concrete on, by their numbers."""
        found: dict[Surface, set[int]] = {}
        for row in self.supply.coatings:
            if row.kind != EDGES:
                found.setdefault((row.body, row.kind, row.zone), set()).add(self.numbers[row.layer])
        return {place: tuple(sorted(layers)) for place, layers in found.items()}

    @cached_property
    def touching(self) -> tuple[tuple[int, int], ...]:
        """Pairs of layers of which the second lies on the first somewhere, rising.

        What goes on to a share of the surface lets the next layer through to what is under it.
        """
        pairs = set()
        for stack in self.stacks.values():
            for k, layer in enumerate(stack):
                for under in reversed(stack[:k]):
                    pairs.add((under, layer))
                    if self.system.layers[under].share == 1.0:
                        break
        return tuple(sorted(pairs))

    @cached_property
    def wet(self) -> frozenset[str]:
        """Materials that come to lie under water."""
        dry = {layer.name for layer in self.system.layers if layer.where.wet is False}
        found = {row.material for row in self.supply.coatings
                 if row.zone not in DRY_ZONES and row.layer not in dry}  # fmt: skip
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
