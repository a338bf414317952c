"""Sheets of the bill, the findings and the summary."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from ..bill.bill import cents
from ..bill.measured import Measured
from ..design.scale import Scale
from ..errors import key_text
from ..model import Model
from ..quantities import Takeoff
from ..review.case import Remark
from ..review.review import RANK
from ..supply.rows import Order, PackCount
from ..works import Works
from .book_packs import is_chosen
from .book_supply import LAYERS, SHARE, Cells, layer_rows
from .sheets import Cell, Column, Formula, Input, Sheet, at

BILL = "Bill"


@dataclass(frozen=True)
class Totals:
    """Where the sums of the bill stand, for the summary."""

    work: str
    materials: str
    waste: str
    tax: str
    total: str


def bill_columns(currency: str) -> list[Column]:
    """Return the columns of the bill."""
    money = f", {currency}" if currency else ""
    return [
        Column("Item", 46), Column("Unit", 12), Column("Net", 12, "#,##0.00"),
        Column("Measured, or to order", 13, "#,##0.00"), Column(f"Rate{money}", 14, "#,##0.00"),
        Column(f"Amount{money}", 15, "#,##0.00"), Column("In place", 9, "0%"),
        Column("Why measured otherwise", 42),
    ]  # fmt: skip


def write_bill(sheet: Sheet, works: Works, scale: Scale, cells: Cells) -> Totals:
    """Write work as measured, materials as ordered, and the sums; return where these stand."""
    sheet.head()
    first = sheet.row + 1
    rows = {(row.name, row.unit): row for row in works.measured}
    bill = works.bill
    for row in works.measured:
        if not row.quantity:
            unit, size = scale.of(row.unit)
            sheet.add(row.name, unit, row.net / size, 0.0, None, None, None,
                      row.reason)  # fmt: skip
    for line in (item for item in bill.lines if item.part == "work"):
        row = rows[line.item, line.unit]
        unit, size = scale.of(line.unit)
        here = sheet.row + 1
        rate = Input(None if line.rate is None else line.rate * size)
        net, quantity = _measured(works, row, size)
        amount = Formula(f"=ROUND(D{here}*E{here},2)", line.amount)
        sheet.add(line.item, unit, net, quantity, rate, amount, None, row.reason)
    work = _sum(sheet, "work", first, bill.subtotal("work"))
    sheet.gap()
    first = sheet.row + 1
    for order in works.supply.orders:
        for pack in order.packs:
            if pack.count or is_chosen(works, order):
                _write_pack(sheet, order, pack, cells)
    last = sheet.row
    materials = _sum(sheet, "materials", first, bill.subtotal("materials"))
    left = Formula(f"=SUMPRODUCT(F{first}:F{last},1-G{first}:G{last})", bill.waste)
    words = "of these not in place: loss, and what whole packs leave"
    waste = sheet.add(words, "", None, None, None, left)
    sheet.gap()
    both = sheet.add("subtotal", "", None, None, None,
                     Formula(f"=F{work}+F{materials}", bill.subtotal()), bold=True)  # fmt: skip
    tax = sheet.add("tax", "", None, None, Input(bill.tax, "0.0%"),
                    Formula(f"=ROUND(F{both}*E{both + 1},2)", bill.taxes))  # fmt: skip
    total = sheet.add("total", "", None, None, None, Formula(f"=F{both}+F{tax}", bill.total),
                      bold=True)  # fmt: skip
    return Totals(*(at(BILL, 5, row) for row in (work, materials, waste, tax, total)))


def _measured(works: Works, row: Measured, size: float) -> tuple[Cell, Cell]:
    """Return what is net and what is measured; live where a layer is on a share of a surface."""
    layer = next((item for item in works.source.system.layers if item.name == row.item), None)
    if layer is None or layer.share == 1.0:
        return row.net / size, row.quantity / size
    share = at(LAYERS, SHARE, layer_rows(works)[layer.name])
    whole = row.gross / layer.share
    step = works.method.scale.of(row.unit)[1]  # the method rounds in its own units
    rounded = f"ROUND({whole / step!r}*{share},{works.method.decimals})*{step / size!r}"
    return (Formula(f"={row.net / layer.share / size!r}*{share}", row.net / size),
            Formula(f"={rounded}", row.quantity / size))  # fmt: skip


def _write_pack(sheet: Sheet, order: Order, pack: PackCount, cells: Cells) -> None:
    """Write the line of a pack: its figures stand on the sheet of materials."""
    here, pair = sheet.row + 1, (order.material, pack.name)
    used = order.net / order.ordered if order.ordered else 0.0
    sheet.add(
        order.material, pack.name, None, Formula(f"={cells.counts[pair]}", pack.count),
        Formula(f"={cells.prices[pair]}", pack.price or 0.0),
        Formula(f"=ROUND(D{here}*E{here},2)", cents(pack.count * (pack.price or 0.0))),
        Formula(f"={cells.used[pair]}", used),
    )  # fmt: skip


def _sum(sheet: Sheet, what: str, first: int, value: float) -> int:
    """Write the sum of the amounts from a row on; return its row."""
    last = sheet.row
    text = f"=SUM(F{first}:F{last})" if last >= first else "=0"
    return sheet.add(what, "", None, None, None, Formula(text, value), bold=True)


def finding_columns() -> list[Column]:
    """Return the columns of the findings."""
    return [
        Column("Severity", 10), Column("File", 24), Column("Line", 7, "0"), Column("Key", 34),
        Column("What must hold", 48), Column("What is", 34), Column("What to do", 40),
        Column("Source", 34),
    ]  # fmt: skip


def write_findings(
    sheet: Sheet, works: Works | None, takeoff: Takeoff, more: Sequence[Remark]
) -> None:
    """Write what the review and the check of joints find, and what is to be known of the pool."""
    sheet.head()
    remarks = (*(() if works is None else works.remarks), *more)
    found = [(remark.finding, remark.source) for remark in remarks]
    found += [(item, "") for item in takeoff.warnings]
    for item, source in sorted(found, key=lambda row: RANK[row[0].severity]):
        place = Path(item.file).name, item.line, key_text(item.key)
        sheet.add(item.severity, *place, item.rule, item.value, item.remedy, source)


def summary_columns() -> list[Column]:
    """Return the columns of the summary."""
    return [Column("What", 52), Column("Figure", 46, "#,##0.00"), Column("Unit", 18)]


def write_summary(sheet: Sheet, model: Model, takeoff: Takeoff, scale: Scale) -> None:
    """Write the figures of the geometry that are asked for first."""
    sheet.add("Pool", model.design.pool.name)
    sums = takeoff.totals()
    sheet.gap("Geometry, net")
    for what, value, unit, size in (
        ("Surface inside", sums["area_m2"], scale.area, scale.square_metres),
        ("Internal edges", sums["internal_m"], scale.length, scale.metres),
        ("External edges", sums["external_m"], scale.length, scale.metres),
        ("Coves and fillets of the pool", sums["cove_m"], scale.length, scale.metres),
        ("Joints of the structure", sums["joint_m"], scale.length, scale.metres),
        ("Fittings", sums["fittings"], "pieces", 1.0),
    ):
        sheet.add(what, value if isinstance(value, int) else value / size, unit)


def write_sums(sheet: Sheet, works: Works, totals: Totals) -> None:
    """Write the system and the sums of the bill under the figures of the geometry."""
    bill = works.bill
    sheet.gap("Waterproofing")
    sheet.add("System", works.source.system.name)
    sheet.add("Rules of measurement", works.method.name)
    sheet.gap("Bill")
    for what, place, value in (
        ("Work, as measured", totals.work, bill.subtotal("work")),
        ("Materials, as ordered", totals.materials, bill.subtotal("materials")),
        ("of these not in place", totals.waste, bill.waste),
        ("Tax", totals.tax, bill.taxes),
        ("Total", totals.total, bill.total),
    ):
        sheet.add(what, Formula(f"={place}", value), bill.currency, bold=what == "Total")
    sheet.gap("Findings")
    for severity in ("error", "warning", "note"):
        count = sum(remark.finding.severity == severity for remark in works.remarks)
        sheet.add(f"{severity}s of the review", count, "see Findings")
    if bill.unpriced:
        sheet.gap("Without a price when this was written, so not in the total")
        for item in bill.unpriced:
            sheet.add(item)
