"""One row of the CSV."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from poolgeo.mesh import ZONES, Zones


@dataclass(frozen=True)
class Quantity:
    """One row of the CSV; SI units."""

    section: str
    body: str
    measure: str
    value: float
    unit: str
    number: str = ""
    kind: str = ""
    sense: str = ""
    note: str = ""
    zone: str = ""


def in_zones(whole: Quantity, zones: Zones) -> Iterator[Quantity]:
    """Yield the parts of a quantity zone by zone, where there are any."""
    for zone, value in zip(ZONES, zones, strict=True):
        if value:
            yield replace(whole, value=value, zone=zone)
