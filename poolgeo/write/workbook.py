"""The workbook: takeoff, details and materials as an estimator goes on with them."""

from __future__ import annotations

import os
from pathlib import Path

from ..design.scale import scale_of
from ..model import Model
from ..quantities import Takeoff
from ..works import Works
from .atomic import whole_file
from .book_bill import (
    BILL,
    bill_columns,
    finding_columns,
    summary_columns,
    write_bill,
    write_findings,
    write_summary,
)
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
from .sheets import Sheet, Styles

THREE = (
    "Three figures are kept apart: net geometry, what rules of measurement give, what is ordered."
)
LIVE = "Yellow figures may be changed; all that hangs on them is calculated again."


def write_workbook(
    model: Model, takeoff: Takeoff, works: Works, path: str | os.PathLike[str]
) -> None:
    """Write a workbook (XLSX).

    Args:
        model: The pool.
        takeoff: Measured on it.
        works: Its waterproofing.
        path: The file.
    """
    import xlsxwriter

    scale = scale_of(model.design.pool.units)
    with whole_file(Path(os.fsdecode(path))) as file:
        book = xlsxwriter.Workbook(str(file), {"strings_to_formulas": False,
                                               "strings_to_urls": False})  # fmt: skip
        book.set_properties({"title": model.design.pool.name})
        book.set_calc_mode("auto")
        styles = Styles(book)
        summary = Sheet(book, styles, "Summary", THREE, summary_columns())
        write_areas(Sheet(book, styles, "Areas", "Net, of the geometry.", area_columns(scale)),
                    takeoff, scale)  # fmt: skip
        write_runs(Sheet(book, styles, "Runs", "With the numbers of the drawing.",
                         run_columns(scale)), takeoff, scale)  # fmt: skip
        write_details(Sheet(book, styles, "Details", "What is done, run by run.",
                            detail_columns(scale)), works, scale)  # fmt: skip
        write_layers(Sheet(book, styles, LAYERS, LIVE, layer_columns(scale)), works, scale)
        cells = write_materials(Sheet(book, styles, MATERIALS, LIVE, material_columns()),
                                works, scale)  # fmt: skip
        if any(is_chosen(works, order) for order in works.supply.orders):
            write_packs(Sheet(book, styles, PACKS, "Packs of several sizes: the cheapest choice, of"
                              " equal ones the fewest packs.", pack_columns()),
                        works, scale, cells.packs)  # fmt: skip
        write_rolls(Sheet(book, styles, "Cutting plan", "What is cut from each roll.",
                          roll_columns(scale)), works, scale)  # fmt: skip
        write_mixes(Sheet(book, styles, "Mixes", "At the temperature and with the crew of the pool"
                          " file.", mix_columns(scale)), works, scale)  # fmt: skip
        totals = write_bill(Sheet(book, styles, BILL, LIVE, bill_columns(works.bill.currency)),
                            works, scale, cells)  # fmt: skip
        write_record(Sheet(book, styles, "Film record", "To be filled in on site.",
                           record_columns(scale)), works, scale)  # fmt: skip
        write_findings(Sheet(book, styles, "Findings", "What the review finds, and what is to be"
                             " known of the pool.", finding_columns()), works, takeoff)  # fmt: skip
        write_summary(summary, model, takeoff, works, scale, totals)
        book.close()
