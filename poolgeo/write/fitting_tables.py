"""Tables of fittings on a terminal: each, by size, and what their openings take."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from poolgeo.placed import Placed, voids_of

from ..design.numbers import Numbers
from .table_parts import table_of, total

if TYPE_CHECKING:
    from rich.table import Table


def fittings_table(fittings: Sequence[Placed], numbers: Numbers) -> Table:
    """Return the table of all fittings, with their sums."""
    opening = f"opening in {numbers.small_area_unit}"
    words = ("no.", "fitting", "body", "surface", "water")
    table = table_of("Fittings", words, ("depth", "collar edge", opening))
    for item in fittings:
        name = item.kind if item.name == item.kind else f"{item.name} ({item.kind})"
        table.add_row(
            item.number,
            name,
            item.body,
            item.surface,
            "wet" if item.wet else "dry",
            numbers.length(item.depth),
            numbers.length(item.collar_perimeter),
            numbers.small_area(item.void_area),
        )
    total(
        table,
        numbers.length(sum(item.collar_perimeter for item in fittings)),
        numbers.small_area(sum(item.void_area for item in fittings)),
        word=f"{len(fittings)} in all",
    )
    return table


def sizes_table(fittings: Sequence[Placed], numbers: Numbers) -> Table:
    """Return the table of fittings by kind and size, as they are ordered."""
    alike: dict[tuple[str, str, str], list[str]] = {}
    for item in fittings:
        width, height = map(numbers.length, item.size)
        opening = f"dia. {width}" if item.is_round else f"{width} x {height}"
        collar = numbers.length(item.collar) if item.collar else "none"
        alike.setdefault((item.kind, opening, collar), []).append(item.number)
    table = table_of("Sizes of fittings", ("fitting", "opening", "collar", "numbers"), ("count",))
    for size, same in alike.items():
        table.add_row(*size, ", ".join(same), str(len(same)))
    return table


def voids_table(fittings: Sequence[Placed], numbers: Numbers) -> Table:
    """Return what the openings take off each surface."""
    figures = ("fittings", "collar edges", f"openings in {numbers.area_unit}")
    table = table_of("Openings, not taken off the areas above", ("body", "surface"), figures)
    for row in voids_of(fittings):
        lengths = numbers.length(row.collar_perimeter), numbers.fine_area(row.void_area)
        table.add_row(row.body, row.surface, str(row.count), *lengths)
    return table
