"""The workbook: its figures are the library's; a changed one recalculates as the library would."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ironcalc
import openpyxl
import pytest

import poolgeo
from poolgeo.design.tables import shipped_text
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.works import Works, job_of, waterproof
from poolgeo.write.workbook import write_workbook

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SYSTEM = shipped_text("systems", "reaction-resin").replace("price: 92}", "price: 79}")
"""Small kits of resin for a third and a bit of a large one, so that a price tips the choice."""


@dataclass(frozen=True)
class Change:
    """One figure changed in the system file and in the workbook.

    Args:
        name: What is changed.
        old: In the system file.
        new: There.
        sheet: Of the workbook.
        row: Texts of the row that holds the figure, by their column.
        column: Title of its column begins so.
        value: What is written there.
    """

    name: str
    old: str
    new: str
    sheet: str
    row: dict[str, str]
    column: str
    value: float


LAYER = {"Layer": "membrane"}
CHANGES = (
    Change("price of the large kit", "price: 236", "price: 260", "Materials",
           {"Material": "resin", "Use, or pack": "kit"}, "Price of one", 260.0),
    Change("price of the small kit", "price: 79}", "price: 60}", "Materials",
           {"Material": "resin", "Use, or pack": "small kit"}, "Price of one", 60.0),
    Change("price of a roll", "price: 74", "price: 99", "Materials",
           {"Material": "fleece strip", "Use, or pack": "roll"}, "Price of one", 99.0),
    Change("loss of the membrane", "dry_film: 0.8 mm\n    loss: 6 %",
           "dry_film: 0.8 mm\n    loss: 21 %", "Layers", LAYER, "Loss", 0.21),
    Change("coats of the membrane", "coats: 2", "coats: 3", "Layers", LAYER, "Coats", 3.0),
    Change("dry film of the membrane", "dry_film: 0.8 mm", "dry_film: 1.1 mm", "Layers", LAYER,
           "Dry film a coat", 1.1),
    Change("roughness under the primer", "roughness: 0.1 mm", "roughness: 0.9 mm", "Layers",
           {"Layer": "primer"}, "Roughness", 0.9),
    Change("share that is repaired", "share: 3 %", "share: 11 %", "Layers", {"Layer": "repair"},
           "Share", 0.11),
    Change("wet film of the repair", "wet_film: 10 mm", "wet_film: 25 mm", "Layers",
           {"Layer": "repair"}, "Wet film a coat", 25.0),
    Change("loss of the fillet", "size: 25, loss: 8 %", "size: 25, loss: 60 %", "Materials",
           {"Use, or pack": "internal edge: fillet"}, "Loss", 0.6),
    Change("rate of the membrane", "{item: membrane, unit: m2, rate: 24}",
           "{item: membrane, unit: m2, rate: 31.5}", "Bill", {"Item": "membrane"}, "Rate", 31.5),
)  # fmt: skip


@pytest.fixture(scope="module")
def pool() -> tuple[Model, Takeoff]:
    """The cold pool."""
    model = poolgeo.build(poolgeo.load(SAMPLES / "cold-pool.yaml"))
    return model, poolgeo.measure(model)


def works_of(pool: tuple[Model, Takeoff], folder: Path, system: str) -> Works:
    """Work the cold pool out with a system file, at the system's own prices."""
    path = folder / "system.yaml"
    path.write_text(system)
    job = job_of(pool[0].design, str(path))
    assert job is not None
    return waterproof(*pool, job.model_copy(update={"prices": None}))


@pytest.fixture(scope="module")
def works(pool: tuple[Model, Takeoff], tmp_path_factory: pytest.TempPathFactory) -> Works:
    """Its waterproofing."""
    return works_of(pool, tmp_path_factory.mktemp("system"), SYSTEM)


@pytest.fixture(scope="module")
def workbook(
    pool: tuple[Model, Takeoff], works: Works, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """Its workbook."""
    path = tmp_path_factory.mktemp("book") / "pool.xlsx"
    write_workbook(*pool, works, path)
    return path


class Book:
    """A workbook with the figures that are written in it."""

    def __init__(self, path: Path) -> None:
        self.texts = openpyxl.load_workbook(path)
        self.values = openpyxl.load_workbook(path, data_only=True)

    def find(self, sheet: str, row: dict[str, str], column: str) -> tuple[int, int]:
        """Return row and column (from 1) of a figure: the first row that has all the texts."""
        rows = list(self.values[sheet].iter_rows(min_row=4, values_only=True))
        titles = [str(cell or "") for cell in rows[0]]
        at = next(k for k, title in enumerate(titles) if title.startswith(column))
        where = {titles.index(title): text for title, text in row.items()}
        found = next(i for i, cells in enumerate(rows) if i and all(
            cells[k] == text for k, text in where.items()))  # fmt: skip
        return found + 4, at + 1

    def formulas(self) -> Iterator[tuple[int, str, Any]]:
        """Yield number and name of the sheet, and the cell, of each formula."""
        for number, name in enumerate(self.texts.sheetnames):
            for row in self.texts[name].iter_rows():
                yield from ((number, name, cell) for cell in row if cell.data_type == "f")


def total_of(sheet: Any) -> tuple[int, int]:
    """Return row and column of the total on a bill."""
    return next(cell.row for cell in sheet["A"] if cell.value == "total"), 6


def calculated(path: Path, change: Change) -> float:
    """Change a figure and return the total that a formula evaluator gives."""
    book = Book(path)
    names = book.texts.sheetnames
    engine = ironcalc.load_from_xlsx(str(path), "en", "UTC")
    row, column = book.find(change.sheet, change.row, change.column)
    engine.set_user_input(names.index(change.sheet), row, column, repr(change.value))
    engine.evaluate()
    found = engine.get_cell_value(names.index("Bill"), *total_of(book.texts["Bill"]))
    assert isinstance(found, float)
    return found


def test_every_formula_gives_the_figure_that_is_written_beside_it(workbook: Path) -> None:
    book = Book(workbook)
    engine = ironcalc.load_from_xlsx(str(workbook), "en", "UTC")
    engine.evaluate()
    count = 0
    for number, name, cell in book.formulas():
        value = engine.get_cell_value(number, cell.row, cell.column)
        written = book.values[name][cell.coordinate].value
        place = name, cell.coordinate
        if isinstance(written, str) or written is None:  # of a record that is not filled in
            assert (value or "", name) == ("", "Film record"), place
        else:
            assert value == pytest.approx(written, rel=1e-9, abs=1e-9), place
        count += 1
    assert count > 200


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change.name)
def test_a_changed_figure_recalculates_as_the_library_would(
    change: Change, pool: tuple[Model, Takeoff], works: Works, workbook: Path, tmp_path: Path
) -> None:
    assert SYSTEM.count(change.old) >= 1
    wanted = works_of(pool, tmp_path, SYSTEM.replace(change.old, change.new, 1)).bill.total
    assert wanted != pytest.approx(works.bill.total)
    assert calculated(workbook, change) == pytest.approx(wanted, rel=1e-9)


def kits_of(works: Works) -> list[int]:
    """Return how many kits of resin are ordered, large and small."""
    order = next(order for order in works.supply.orders if order.material == "resin")
    return [pack.count for pack in order.packs]


def test_a_changed_price_changes_what_is_ordered(
    pool: tuple[Model, Takeoff], works: Works, tmp_path: Path
) -> None:
    change = CHANGES[1]
    assert kits_of(works_of(pool, tmp_path, SYSTEM.replace(change.old, change.new))) != kits_of(
        works
    )


def test_the_three_figures_stand_apart(works: Works, workbook: Path) -> None:
    book = Book(workbook)
    row, net = book.find("Bill", {"Item": "membrane"}, "Net")
    measured = next(item for item in works.measured if item.item == "membrane")
    sheet = book.values["Bill"]
    assert sheet.cell(row, net).value == pytest.approx(measured.net)
    assert sheet.cell(row, net + 1).value == pytest.approx(measured.quantity)
    order = next(item for item in works.supply.orders if item.material == "resin")
    row, packs = book.find("Materials", {"Material": "resin", "Use, or pack": "kit"}, "Packs")
    assert book.values["Materials"].cell(row, packs).value == order.packs[0].count


def test_every_run_stands_on_the_sheet_of_runs(pool: tuple[Model, Takeoff], workbook: Path) -> None:
    cells = {cell.value for cell in Book(workbook).values["Runs"]["A"]}
    assert {run.number for run in pool[1].edges} <= cells


def test_every_piece_of_every_roll_stands_on_the_cutting_plan(works: Works, workbook: Path) -> None:
    sheet = Book(workbook).values["Cutting plan"]
    lengths = [row[4] for row in sheet.iter_rows(min_row=5, values_only=True) if row[4] is not None]
    pieces = [piece.length for plan in works.supply.plans.values() for roll in plan.rolls
              for piece in roll.pieces]  # fmt: skip
    assert lengths == pytest.approx(pieces)


def test_without_a_system_there_are_areas_and_runs(
    pool: tuple[Model, Takeoff], tmp_path: Path
) -> None:
    write_workbook(*pool, None, tmp_path / "bare.xlsx")
    book = openpyxl.load_workbook(tmp_path / "bare.xlsx", data_only=True)
    assert book.sheetnames == ["Summary", "Areas", "Runs", "Findings"]
    total = next(row for row in book["Areas"].iter_rows(values_only=True) if row[0] == "total")
    assert total[2] == pytest.approx(sum(row.area for row in pool[1].areas))


@pytest.mark.slow
@pytest.mark.parametrize("change", [*CHANGES[:1], *CHANGES[3:5]], ids=lambda change: change.name)
def test_an_office_program_gives_the_same_total(
    change: Change, pool: tuple[Model, Takeoff], workbook: Path, tmp_path: Path
) -> None:
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("no LibreOffice here")
    book = Book(workbook)
    row, column = book.find(change.sheet, change.row, change.column)
    book.texts[change.sheet].cell(row, column).value = change.value
    book.texts.save(tmp_path / "changed.xlsx")  # without the figures of its formulas
    command = [office, f"-env:UserInstallation=file://{tmp_path}/profile", "--headless",
               "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(tmp_path / "out"),
               str(tmp_path / "changed.xlsx")]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=240)
    bill = openpyxl.load_workbook(tmp_path / "out" / "changed.xlsx", data_only=True)["Bill"]
    wanted = works_of(pool, tmp_path, SYSTEM.replace(change.old, change.new, 1)).bill.total
    assert bill.cell(*total_of(bill)).value == pytest.approx(wanted, rel=1e-9)
