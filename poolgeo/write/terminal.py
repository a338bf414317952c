"""The takeoff as tables on a terminal, in the units of the pool file."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from poolgeo.arris import ArrisRow
from poolgeo.design.lengths import Units
from poolgeo.mesh import ZONES
from poolgeo.quantities import AreaRow, CoveRun, JointRun, OutsideRow, Run, Takeoff

from ..design.numbers import Numbers
from .fitting_tables import fittings_table, sizes_table, voids_table
from .table_parts import or_dash, table_of, total

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table


def takeoff_text(takeoff: Takeoff, units: Units, width: int = 100) -> str:
    """Return the takeoff as plain text.

    Args:
        takeoff: What was measured.
        units: Units of the pool file: lengths in these, areas and volumes in square and cubic
            metres or feet, volumes in US gallons too where the units are ``ft`` or ``in``.
        width: Of the text, in characters.

    Returns:
        Tables of areas, edges, coves and volumes, areas and lengths by zone, totals, warnings.
    """
    from rich.console import Console

    paper = io.StringIO()
    print_takeoff(takeoff, units, Console(file=paper, width=width, no_color=True))
    return "\n".join(line.rstrip() for line in paper.getvalue().splitlines()) + "\n"


def print_takeoff(takeoff: Takeoff, units: Units, console: Console) -> None:
    """Print the takeoff on a console, as `takeoff_text` does, with colours where it has them."""
    for table in _tables(takeoff, Numbers(units)):
        console.print(table)
    for finding in takeoff.warnings:
        console.print(str(finding), style="yellow", markup=False, soft_wrap=True)


def _tables(takeoff: Takeoff, numbers: Numbers) -> Iterator[Table]:
    """Yield the tables in the order in which they are printed; none that would be empty."""
    yield _areas(takeoff.areas, numbers)
    yield _areas_by_zone(takeoff.areas, numbers)
    for sense in ("internal", "external"):
        runs = [run for run in takeoff.edges if run.sense == sense]
        if runs:
            yield _edges(f"{sense.capitalize()} edges", runs, numbers)
    if takeoff.arrises:
        yield _arrises(takeoff.arrises, numbers)
    if takeoff.coves:
        yield _coves(takeoff.coves, numbers)
    if takeoff.joints:
        yield _joints(takeoff.joints, numbers)
    if takeoff.edges or takeoff.coves:
        yield _lengths_by_zone(takeoff, numbers)
    if takeoff.fittings:
        yield fittings_table(takeoff.fittings, numbers)
        yield sizes_table(takeoff.fittings, numbers)
        yield voids_table(takeoff.fittings, numbers)
    if takeoff.outside:
        yield _outside(takeoff.outside, numbers)
    if takeoff.outside_edges:
        yield _outer_edges(takeoff.outside_edges, numbers)
    yield _volumes(takeoff, numbers)


def _areas(rows: Sequence[AreaRow], numbers: Numbers) -> Table:
    figures = ("area", "under water", "in plan")
    table = table_of(f"Areas in {numbers.area_unit}", ("body", "surface"), figures)
    for row in rows:
        values = (row.area, row.wet_area, row.plan_area)
        table.add_row(row.body, row.kind, *map(numbers.area, values))
    total(
        table,
        numbers.area(sum(row.area for row in rows)),
        numbers.area(sum(row.wet_area for row in rows)),
        numbers.area(sum(row.plan_area for row in rows)),
    )
    return table


def _areas_by_zone(rows: Sequence[AreaRow], numbers: Numbers) -> Table:
    table = table_of(f"Areas by zone in {numbers.area_unit}", ("body", "surface"), ZONES)
    for row in rows:
        table.add_row(row.body, row.kind, *or_dash(row.zones, numbers.area))
    sums = [sum(row.zones[i] for row in rows) for i in range(len(ZONES))]
    total(table, *or_dash(sums, numbers.area))
    return table


def _lengths_by_zone(takeoff: Takeoff, numbers: Numbers) -> Table:
    """Edges by body and sense, and coves by body."""
    table = table_of("Lengths by zone", ("body", "what"), ZONES)
    for body in takeoff.water:
        for what, every in (
            *(
                (f"{sense} edges",
                 [run.zones for run in takeoff.edges if (run.body, run.sense) == (body, sense)])
                for sense in ("internal", "external")
            ),
            ("coves", [run.length_zones for run in takeoff.coves if run.body == body]),
            ("joints", [row.zones for row in takeoff.joints if row.body == body]),
        ):  # fmt: skip
            if every:
                sums = [sum(item) for item in zip(*every, strict=True)]
                table.add_row(body, what, *or_dash(sums, numbers.length))
    return table


def _edges(title: str, runs: Sequence[Run], numbers: Numbers) -> Table:
    table = table_of(title, ("no.", "body", "edge"), ("angle", "length", "under water"))
    for run in runs:
        figures = (numbers.length(run.length), numbers.length(run.wet_length))
        table.add_row(run.number, run.body, run.kind, f"{run.angle:.1f} deg", *figures)
    total(
        table,
        numbers.length(sum(run.length for run in runs)),
        numbers.length(sum(run.wet_length for run in runs)),
    )
    return table


def _outside(rows: Sequence[OutsideRow], numbers: Numbers) -> Table:
    title = f"Outside of the shell, areas in {numbers.area_unit}"
    table = table_of(title, ("body", "surface"), ("area", "in plan"))
    for row in rows:
        values = (row.area, row.plan_area)
        table.add_row(row.body or "all", row.kind, *map(numbers.area, values))
    return table


def _outer_edges(runs: Sequence[Run], numbers: Numbers) -> Table:
    title = "Edges of the outside, sense seen from outside the concrete"
    table = table_of(title, ("no.", "body", "edge", "sense"), ("angle", "length"))
    for run in runs:
        figures = (f"{run.angle:.1f} deg", numbers.length(run.length))
        table.add_row(run.number, run.body, run.kind, run.sense, *figures)
    total(table, numbers.length(sum(run.length for run in runs)))
    return table


def _arrises(rows: Sequence[ArrisRow], numbers: Numbers) -> Table:
    """Arrises of external edges: the net area is what they add to that of the square edges."""
    title = f"Arrises, areas in {numbers.area_unit}, what is taken off in {numbers.volume_unit}"
    in_solid = any(row.meshed for row in rows)
    more = ("in solid",) if in_solid else ()
    if in_solid:
        title += "; those in the solid are in its areas and volumes"
    own, off = ("own", "off") if in_solid else ("own area", "off faces")  # as wide as fits
    figures = ("size", "length", *more, own, off, "net", "taken off")
    table = table_of(title, ("no.", "body", "form"), figures)
    for row in rows:
        areas = (row.area, row.taken_area, row.net_area)
        lengths = [numbers.length(row.size) if row.size else "-", numbers.length(row.length)]
        if in_solid:
            lengths.append(numbers.length(row.meshed) if row.meshed else "-")
        sizes = (*map(numbers.fine_area, areas), numbers.fine_volume(row.removed))
        table.add_row(row.number, row.body, row.form, *lengths, *sizes)
    total(
        table,
        numbers.length(sum(row.length for row in rows)),
        *([numbers.length(sum(row.meshed for row in rows))] if in_solid else []),
        numbers.fine_area(sum(row.area for row in rows)),
        numbers.fine_area(sum(row.taken_area for row in rows)),
        numbers.fine_area(sum(row.net_area for row in rows)),
        numbers.fine_volume(sum(row.removed for row in rows)),
    )
    return table


def _coves(coves: Sequence[CoveRun], numbers: Numbers) -> Table:
    area, mortar = f"area in {numbers.area_unit}", f"mortar in {numbers.volume_unit}"
    table = table_of("Coves", ("no.", "body", "form"), ("radius", "length", area, mortar))
    for cove in coves:
        lengths = (numbers.length(cove.radius), numbers.length(cove.length))
        sizes = (numbers.area(cove.area), numbers.fine_volume(cove.mortar))
        table.add_row(cove.number, cove.body, cove.kind, *lengths, *sizes)
    total(
        table,
        numbers.length(sum(cove.length for cove in coves)),
        numbers.area(sum(cove.area for cove in coves)),
        numbers.fine_volume(sum(cove.mortar for cove in coves)),
    )
    return table


def _joints(rows: Sequence[JointRun], numbers: Numbers) -> Table:
    words = ("no.", "joint", "body", "surface")
    table = table_of("Joints of the structure", words, ("width", "length", "under water"))
    for row in rows:
        lengths = (row.width, row.length, row.wet_length)
        table.add_row(row.number, row.name, row.body, row.surface, *map(numbers.length, lengths))
    total(
        table,
        numbers.length(sum(row.length for row in rows)),
        numbers.length(sum(row.wet_length for row in rows)),
    )
    return table


def _volumes(takeoff: Takeoff, numbers: Numbers) -> Table:
    table = table_of("Volumes", ("what",), ("volume", ""))
    water = {f"water, {body}": volume for body, volume in takeoff.water.items()}
    if len(water) > 1:
        water["water, together"] = sum(takeoff.water.values())
    for what, volume in water.items():
        table.add_row(what, numbers.volume(volume), numbers.gallons(volume))
    table.add_row("concrete of the shell", numbers.volume(takeoff.shell), "")
    return table
