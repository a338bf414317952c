"""What detailing comes to: typed rows that quantities, reports and the check read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from ..measure.junctions import Corner, Junction
from ..mesh import Zones, by_zone

Unit = Literal["m", "m2", "m3", "pieces"]
Place = Literal["edge", "cove", "joint", "fitting", "corner"]


@dataclass(frozen=True)
class Detail:
    """One operation at one place.

    Args:
        place: What it is done at.
        number: Of the run, the fitting or the corner.
        kind: Of that: ``floor/wall``, ``main drain``, ``inside corner``.
        body: Body of water.
        rule: Name of the detail in the system file.
        do: The operation: ``arris``, ``fillet``, ``strip``, ``coat``, ``bead``, ``rod``, ``piece``.
        name: What reports call it.
        material: Name of the material; empty where none is used.
        length: Along which it is done [m]; of a piece 0.
        quantity: How much of the material ends up in place, in ``unit``.
        unit: ``m3`` of a liquid, ``m`` of what is laid, ``pieces``, ``m2`` or ``m`` of work alone.
        loss: Share of what is bought of a liquid that does not end up in place.
        zones: Length in each zone [m]; of a piece or a fitting 1 in its own.
        wet: Share that is under water.
        area: What it coats [m2]; 0 unless it is a coat.
        widens: By how much it makes the surface wider, mostly less than 0 [m2].
        size: Of a fillet or an arris its leg or radius; of a coat or a strip its width [m].
        is_bed: Whether it is the bed of a strip, done with it.
    """

    place: Place
    number: str
    kind: str
    body: str
    rule: str
    do: str
    name: str
    material: str
    length: float
    quantity: float
    unit: Unit
    loss: float
    zones: Zones
    wet: float
    area: float = 0.0
    widens: float = 0.0
    size: float = 0.0
    is_bed: bool = False

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        key = "count" if self.unit == "pieces" else f"quantity_{self.unit}"
        return {
            "at": self.place,
            "number": self.number,
            "kind": self.kind,
            "body": self.body,
            "rule": self.rule,
            "work": self.do,
            "name": self.name,
            "material": self.material or None,
            "length_m": self.length,
            key: self.quantity,
            "size_m": self.size,
            "area_m2": self.area,
            "widens_m2": self.widens,
            "wet_share": self.wet,
            "zones": by_zone(self.zones),
        }


@dataclass(frozen=True)
class Joining:
    """A corner as the rules see it: the edges that meet there and are worked on.

    Args:
        number: ``K1``, the first of the pool.
        junction: The place.
        sense: Of those edges.
        edges: How many of them there are.
        rule: Name of the detail; empty where none matches.
    """

    number: str
    junction: Junction
    sense: Corner
    edges: int
    rule: str

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "number": self.number,
            **self.junction.as_dict(),
            "sense": self.sense,
            "edges": self.edges,
            "rule": self.rule or None,
        }


@dataclass(frozen=True)
class Cut:
    """A length of a roll that one place takes.

    Args:
        material: Of the roll.
        number: Of the run or fitting, with the name of the work where it has several of one roll.
        length: With what runs on at its ends [m].
    """

    material: str
    number: str
    length: float


@dataclass(frozen=True)
class Detailing:
    """All details of a pool.

    Args:
        details: The operations.
        cuts: What they take of rolls.
        corners: Corners, whether anything is done there or not.
        bare: Place, number and kind of runs and fittings for which no rule is.
    """

    details: tuple[Detail, ...]
    cuts: tuple[Cut, ...]
    corners: tuple[Joining, ...]
    bare: tuple[tuple[Place, str, str], ...]
