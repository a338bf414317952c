"""Details, materials and the bill as tables on a terminal."""

from __future__ import annotations

import io
from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from poolgeo.design.lengths import Units
from poolgeo.works import Works

from ..design.numbers import Numbers
from ..design.scale import Scale, scale_of
from .table_parts import table_of

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

STYLES = {"error": "red", "warning": "yellow", "note": "dim"}


def works_text(works: Works, units: Units, width: int = 100) -> str:
    """Return details, materials, bill and findings as plain text.

    Args:
        works: Worked out.
        units: Units of the pool file.
        width: Of the text, in characters.

    Returns:
        Tables.
    """
    from rich.console import Console

    paper = io.StringIO()
    print_works(works, units, Console(file=paper, width=width, no_color=True))
    return "\n".join(line.rstrip() for line in paper.getvalue().splitlines()) + "\n"


def print_works(works: Works, units: Units, console: Console) -> None:
    """Print details, materials, bill and findings on a console."""
    scale, numbers = scale_of(units), Numbers(units)
    for table in (
        _layers(works, scale),
        *_details(works, scale, numbers),
        _materials(works, scale),
        *_rolls(works, numbers),
        _mixes(works, scale),
        _measured(works, scale),
        _bill(works, scale),
    ):
        console.print(table)
    for remark in works.remarks:
        style = STYLES[remark.finding.severity]
        console.print(str(remark), style=style, markup=False, soft_wrap=True)


def _layers(works: Works, scale: Scale) -> Table:
    figures = [scale.area, "coats", f"wet film, {scale.film}", scale.volume, "with loss"]
    table = table_of(f"Layers of {works.source.system.name}", ["layer", "material"], figures)
    for layer in works.source.system.layers:
        rows = [row for row in works.supply.coatings if row.layer == layer.name]
        if not rows:
            continue
        area, net, gross = (
            sum(size) for size in zip(*((r.area, r.net, r.gross) for r in rows), strict=True)
        )
        table.add_row(
            layer.name, layer.material, f"{area / scale.square_metres:.2f}", str(layer.coats),
            f"{rows[0].film / layer.coats / scale.film_metres:.2f}",
            f"{net / scale.cubic_metres:.1f}", f"{gross / scale.cubic_metres:.1f}",
        )  # fmt: skip
    return table


def _details(works: Works, scale: Scale, numbers: Numbers) -> Iterator[Table]:
    sums: dict[tuple[str, str, str, str], list[float]] = defaultdict(lambda: [0.0] * 3)
    for item in works.detailing.details:
        row = sums[item.rule, item.name, item.material, item.unit]
        row[0] += 1
        row[1] += item.length
        row[2] += item.quantity
    if not sums:
        return
    table = table_of("Details", ["detail", "work", "material"], ["places", "length", "takes"])
    for (rule, name, material, unit), (count, length, quantity) in sums.items():
        called, size = scale.of(unit)
        takes = f"{quantity:.0f} pieces" if unit == "pieces" else f"{quantity / size:.2f} {called}"
        table.add_row(rule, name, material, f"{count:.0f}",
                      numbers.length(length) if length else "-", takes)  # fmt: skip
    yield table


def _materials(works: Works, scale: Scale) -> Table:
    figures = ["net", "with loss", "to order", "packs"]
    table = table_of("Materials", ["material"], figures)
    for order in works.supply.orders:
        unit, size = scale.of(order.unit)
        packs = ", ".join(f"{item.count} x {item.name}" for item in order.packs if item.count)
        table.add_row(order.material, f"{order.net / size:.2f} {unit}",
                      f"{order.gross / size:.2f} {unit}", f"{order.ordered / size:.2f} {unit}",
                      packs)  # fmt: skip
    return table


def _rolls(works: Works, numbers: Numbers) -> Iterator[Table]:
    if not works.supply.plans:
        return
    figures = ["runs", "roll", "rolls", "no fewer than", "joins", "left over"]
    table = table_of("Cutting plan", ["material"], figures)
    for name, plan in works.supply.plans.items():
        runs = {piece.name for roll in plan.rolls for piece in roll.pieces}
        table.add_row(name, str(len(runs)), numbers.length(plan.length), str(len(plan.rolls)),
                      str(plan.bound), str(plan.joins), f"{plan.waste:.0%}")  # fmt: skip
    yield table


def _mixes(works: Works, scale: Scale) -> Table:
    figures = [f"comb, {scale.film}", f"mix, {scale.volume}", f"covers, {scale.area}", "mixes"]
    title = f"Mixes at {scale.temperature(works.job.temperature)}, a crew of {works.job.crew}"
    table = table_of(title, ["layer", "coat", "limited by"], figures)
    for mix in works.supply.mixes:
        table.add_row(mix.layer, str(mix.coat), mix.limit,
                      f"{mix.wet_film / scale.film_metres:.2f}",
                      f"{mix.volume / scale.cubic_metres:.2f}",
                      f"{mix.mix_area / scale.square_metres:.2f}", str(mix.batches))  # fmt: skip
    return table


def _measured(works: Works, scale: Scale) -> Table:
    title = f"Measured by: {works.method.name}"
    table = table_of(title, ["item", "width", "why otherwise"], ["net", "measured", "unit"])
    for row in works.measured:
        unit, size = scale.of(row.unit)
        table.add_row(row.item, row.band, row.reason, f"{row.net / size:.2f}",
                      f"{row.quantity / size:.2f}", unit)  # fmt: skip
    return table


def _bill(works: Works, scale: Scale) -> Table:
    bill = works.bill
    title = f"Bill, {bill.currency}" if bill.currency else "Bill"
    table = table_of(title, ["item", "unit"], ["quantity", "rate", "amount"])
    for line in bill.lines:
        unit, size = scale.of(line.unit) if line.part == "work" else (line.unit, 1.0)
        rate = "-" if line.rate is None else f"{line.rate * size:.2f}"
        amount = "-" if line.rate is None else f"{line.amount:.2f}"
        table.add_row(line.item, unit, f"{line.quantity / size:.2f}", rate, amount)
    for what, value in (
        ("work", bill.subtotal("work")),
        ("materials", bill.subtotal("materials")),
        ("  of these not in place", bill.waste),
        (f"tax, {bill.tax * 100:.4g} %", bill.taxes),
    ):
        table.add_row(what, "", "", "", f"{value:.2f}")
    missing = (
        f", without the items that have no rate: {len(bill.unpriced)}" if bill.unpriced else ""
    )
    table.add_row(f"total{missing}", "", "", "", f"{bill.total:.2f}", style="bold")
    return table
