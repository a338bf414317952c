"""The takeoff for other programs: as CSV and as JSON, in SI units always.

CSV: one row for each quantity of each thing, so that a spreadsheet can filter and add up.

===========  =====================================================================================
``section``  ``area``, ``edge``, ``cove``, ``water``, ``shell`` or ``warning``
``number``   number of the run, as in the drawing; empty for what has none
``body``     ``pool``, ``spa``, ``basin``, ``channel``, ``spa 2`` ... or a given name
``kind``     kind of surface, or what meets what; of a warning the key in the pool file
``sense``    ``internal`` or ``external``; edges only
``measure``  what was measured: ``area``, ``wet area``, ``plan area``, ``length``, ``wet length``,
             ``angle``, ``radius``, ``volume``
``value``    number, to six decimals
``unit``     ``m``, ``m2``, ``m3`` or ``deg``
``note``     the text of a warning
===========  =====================================================================================
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass

from poolgeo.errors import key_text
from poolgeo.model import Takeoff

COLUMNS = ("section", "number", "body", "kind", "sense", "measure", "value", "unit", "note")


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


def quantities(takeoff: Takeoff) -> Iterator[Quantity]:
    """Yield every quantity of a takeoff, in the order of its tables."""
    for row in takeoff.areas:
        for measure, value in (
            ("area", row.area),
            ("wet area", row.wet_area),
            ("plan area", row.plan_area),
        ):
            yield Quantity("area", row.body, measure, value, "m2", kind=row.kind)
    for run in takeoff.edges:
        for measure, value, unit in (
            ("length", run.length, "m"),
            ("wet length", run.wet_length, "m"),
            ("angle", run.angle, "deg"),
        ):
            yield Quantity("edge", run.body, measure, value, unit, run.number, run.kind, run.sense)
    for cove in takeoff.coves:
        for measure, value, unit in (
            ("length", cove.length, "m"),
            ("area", cove.area, "m2"),
            ("radius", cove.radius, "m"),
        ):
            yield Quantity("cove", cove.body, measure, value, unit, cove.number, "cove")
    for body, volume in takeoff.water.items():
        yield Quantity("water", body, "volume", volume, "m3")
    yield Quantity("shell", "", "volume", takeoff.shell, "m3")


def csv_text(takeoff: Takeoff) -> str:
    """Return the takeoff as CSV (columns: see the top of this module), lines ending in LF."""
    sheet = io.StringIO()
    rows = csv.writer(sheet, lineterminator="\n")
    rows.writerow(COLUMNS)
    for item in quantities(takeoff):
        value = f"{item.value:.6f}".rstrip("0").rstrip(".")
        rows.writerow(
            [
                item.section,
                item.number,
                item.body,
                item.kind,
                item.sense,
                item.measure,
                "0" if value == "-0" else value,
                item.unit,
                "",
            ]
        )
    for finding in takeoff.warnings:
        rows.writerow(["warning", "", "", key_text(finding.key), "", "", "", "", str(finding)])
    return sheet.getvalue()


def json_text(takeoff: Takeoff) -> str:
    """Return the takeoff as JSON, the documented contract of `Takeoff.as_dict`, in SI units."""
    return json.dumps(takeoff.as_dict(), indent=2, ensure_ascii=False) + "\n"
