"""The waterproofing on the command line: of a box 8 m by 4 m, 1.5 m deep, freeboard 0.15 m."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path

import jsonschema
import openpyxl
import pytest
import yaml
from click.testing import Result

from poolgeo.design.tables import FOLDERS, shipped, shipped_text

Run = Callable[..., Result]
SYSTEM = ("--system", "cementitious-slurry")
JOB = "waterproofing: {system: cementitious-slurry, ground_water: 3, prices: book.csv}\n"
WET_EDGES = 2 * (8 + 4) + 4 * 1.5
"""[m] Floor at the walls, and the corners of the walls up to the water."""


def test_tables_end_in_the_bill_and_the_findings(box: Path, poolgeo_run: Run) -> None:
    result = poolgeo_run("takeoff", box, *SYSTEM)
    assert result.exit_code == 0
    names = ("Layers of", "Details", "Materials", "Cutting plan", "Mixes", "Measured by", "Bill")
    places = [result.stdout.index(f"\n{name}") for name in names]
    assert places == sorted(places)
    assert "[common practice, no source]" in result.stdout[places[-1] :]
    assert "grinding concrete makes silica dust" in result.stderr


def test_json_has_the_length_of_the_fillets(box: Path, poolgeo_run: Run) -> None:
    found = json.loads(poolgeo_run("takeoff", box, *SYSTEM, "--format", "json").stdout)
    lengths = [row["length_m"] for row in found["details"] if row["work"] == "fillet"]
    assert sum(lengths) == pytest.approx(WET_EDGES)
    assert {"details", "materials", "rolls", "findings"} <= found.keys()


def test_csv_has_it_too(box: Path, poolgeo_run: Run) -> None:
    text = poolgeo_run("takeoff", box, *SYSTEM, "--format", "csv").stdout
    rows = [row for row in csv.DictReader(io.StringIO(text)) if row["section"] == "detail"]
    lengths = [float(row["value"]) for row in rows
               if row["measure"] == "length" and "fillet mortar" in row["note"]]  # fmt: skip
    assert sum(lengths) == pytest.approx(WET_EDGES)


def test_without_a_system_nothing_is_said_of_it(box: Path, poolgeo_run: Run) -> None:
    assert "details" not in json.loads(poolgeo_run("takeoff", box, "--format", "json").stdout)


def test_a_workbook_needs_a_file(box: Path, tmp_path: Path, poolgeo_run: Run) -> None:
    assert poolgeo_run("takeoff", box, "--format", "xlsx").exit_code == 2
    result = poolgeo_run("takeoff", box, *SYSTEM, "--format", "xlsx", "-o", tmp_path / "b.xlsx")
    assert result.exit_code == 0
    assert "Bill" in openpyxl.load_workbook(tmp_path / "b.xlsx").sheetnames


@pytest.mark.parametrize(
    ("book", "words"),
    [
        (None, "the price book must exist"),
        ("name,price\nslurry,3\n", "must begin with a line that names item, unit, rate"),
        ("item,unit,rate\nslurry,kit,dear\n", "book.csv:2: error: a rate must be a number"),
        ("item,unit,rate\nslurry,bucket,3\n", "book.csv:2: error: the unit of 'slurry' must be"),
    ],
    ids=["no file", "other columns", "no number", "another unit"],
)
def test_a_broken_price_book_leaves_the_output_alone(
    box: Path, book: str | None, words: str, poolgeo_run: Run
) -> None:
    box.write_text(box.read_text() + JOB)
    if book is not None:
        box.with_name("book.csv").write_text(book)
    output = box.with_name("out.csv")
    output.write_text("mine")
    result = poolgeo_run("takeoff", box, "--format", "csv", "-o", output)
    assert (result.exit_code, output.read_text()) == (1, "mine")
    assert words in result.stderr


@pytest.mark.parametrize("key", ["system", "method", "requirements"])
def test_a_name_of_nothing_is_told_at_its_key(box: Path, key: str, poolgeo_run: Run) -> None:
    names = {"system": "cementitious-slurry", key: "nowhere"}
    box.write_text(box.read_text() + yaml.safe_dump({"waterproofing": names}))
    result = poolgeo_run("takeoff", box)
    assert result.exit_code == 1
    assert f"'waterproofing.{key}' must be a name that comes with poolgeo" in result.stderr
    assert "box.yaml:" in result.stderr


def test_a_broken_system_is_told_by_check_with_its_lines(box: Path, poolgeo_run: Run) -> None:
    text = shipped_text("systems", "reaction-resin").replace("coats: 2", "coats: none")
    box.with_name("ours.yaml").write_text(text)
    box.write_text(box.read_text() + "waterproofing: {system: ours.yaml}\n")
    result = poolgeo_run("check", box)
    assert result.exit_code == 1
    line = text.splitlines().index("    coats: none") + 1
    assert f"ours.yaml:{line}: error: 'layers[2].coats' must be a whole number" in result.stderr


def test_a_system_on_the_command_line_counts_from_the_working_folder(
    box: Path, tmp_path: Path, poolgeo_run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "systems"
    folder.mkdir()
    monkeypatch.chdir(folder)
    made = poolgeo_run("new", "--copy", "reaction-resin", "-o", "ours.yaml")
    assert (made.exit_code, made.stderr) == (0, "wrote ours.yaml\n")
    result = poolgeo_run("takeoff", box, "--system", "ours.yaml", "--format", "json")
    assert json.loads(result.stdout)["system"] == "Reaction resin on fleece"


@pytest.mark.parametrize("folder", FOLDERS)
def test_everything_that_comes_with_it_can_be_copied(
    folder: str, tmp_path: Path, poolgeo_run: Run
) -> None:
    for name in shipped(folder):
        poolgeo_run("new", "--copy", name, "-o", tmp_path / f"{name}.yaml")
        assert (tmp_path / f"{name}.yaml").read_text() == shipped_text(folder, name)


def test_a_copy_of_nothing_names_what_there_is(tmp_path: Path, poolgeo_run: Run) -> None:
    result = poolgeo_run("new", "--copy", "nothing", "-o", tmp_path / "a.yaml")
    assert result.exit_code == 2
    assert "cementitious-slurry" in result.stderr


@pytest.mark.parametrize(
    ("of", "folder"),
    [("system", "systems"), ("method", "methods"), ("requirements", "requirements")],
)
def test_schemas_take_what_comes_with_it(of: str, folder: str, poolgeo_run: Run) -> None:
    schema = json.loads(poolgeo_run("schema", "--of", of).stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    for name in shipped(folder):
        jsonschema.validate(yaml.safe_load(shipped_text(folder, name)), schema)
