"""The workbook: takeoff, details and materials as an estimator goes on with them."""

from __future__ import annotations

import os
from pathlib import Path

from ..design.scale import Scale, scale_of
from ..finishing.finish import Finishing
from ..model import Model
from ..quantities import Takeoff
from ..works import Works
from .atomic import whole_file
from .book_bill import (
    BILL,
    Totals,
    bill_columns,
    finding_columns,
    summary_columns,
    write_bill,
    write_findings,
    write_summary,
    write_sums,
)
from .book_finish import write_finishing
from .book_packs import PACKS, is_chosen, pack_columns, write_packs
from .book_supply import (
    LAYERS,
    MATERIALS,
    layer_columns,
    material_columns,
    write_layers,
    write_materials,
)
from .book_takeoff import (
    area_columns,
    detail_columns,
    mix_columns,
    record_columns,
    roll_columns,
    run_columns,
    write_areas,
    write_details,
    write_mixes,
    write_record,
    write_rolls,
    write_runs,
)
from .sheets import Sheets, Styles

THREE = (
    "Three figures are kept apart: net geometry, what rules of measurement give, what is ordered."
)
LIVE = "Yellow figures may be changed; all that hangs on them is calculated again."
FOUND = "What the review finds, and what is to be known of the pool."
CHOICE = "Packs of several sizes: the cheapest choice, of equal ones the fewest packs."
CUT = "What is cut from each roll; not live: run poolgeo again after a change."
MIXED = "At the temperature and with the crew of the pool file; not live."


def write_workbook(
    model: Model,
    takeoff: Takeoff,
    works: Works | None,
    path: str | os.PathLike[str],
    finishing: Finishing | None = None,
) -> None:
    """Write a workbook (XLSX).

    Args:
        model: The pool.
        takeoff: Measured on it.
        works: Its waterproofing; None leaves the sheets of it out.
        path: The file.
        finishing: Its finish, if any.
    """
    import xlsxwriter

    scale = scale_of(model.design.pool.units)
    with whole_file(Path(os.fsdecode(path))) as file:
        options = {"strings_to_formulas": False, "strings_to_urls": False}
        book = xlsxwriter.Workbook(str(file), options)
        book.set_properties({"title": model.design.pool.name})
        book.set_calc_mode("auto")
        sheets = Sheets(book, Styles(book))
        summary = sheets.add("Summary", THREE, summary_columns())
        write_areas(sheets.add("Areas", "Net, of the geometry.", area_columns(scale)),
                    takeoff, scale)  # fmt: skip
        write_runs(sheets.add("Runs", "With the numbers of the drawing.", run_columns(scale)),
                   takeoff, scale)  # fmt: skip
        totals = None if works is None else _write_works(sheets, works, scale)
        if finishing is not None:
            write_finishing(sheets, finishing, model.design.pool.units, scale)
        write_findings(
            sheets.add("Findings", FOUND, finding_columns()),
            works,
            takeoff,
            () if finishing is None else finishing.remarks,
        )
        write_summary(summary, model, takeoff, scale)
        if works is not None and totals is not None:
            write_sums(summary, works, totals)
        book.close()


def _write_works(sheets: Sheets, works: Works, scale: Scale) -> Totals:
    """Write the sheets of the waterproofing; return where the sums of the bill stand."""
    write_details(sheets.add("Details", "What is done, run by run.", detail_columns(scale)),
                  works, scale)  # fmt: skip
    write_layers(sheets.add(LAYERS, LIVE, layer_columns(scale)), works, scale)
    cells = write_materials(sheets.add(MATERIALS, LIVE, material_columns()), works, scale)
    if any(is_chosen(works, order) for order in works.supply.orders):
        write_packs(sheets.add(PACKS, CHOICE, pack_columns()), works, scale, cells.packs)
    write_rolls(sheets.add("Cutting plan", CUT, roll_columns(scale)), works, scale)
    write_mixes(sheets.add("Mixes", MIXED, mix_columns(scale)), works, scale)
    totals = write_bill(sheets.add(BILL, LIVE, bill_columns(works.bill.currency)), works, scale,
                        cells)  # fmt: skip
    record = sheets.add("Film record", "To be filled in on site.", record_columns(works, scale))
    write_record(record, works, scale)
    return totals
