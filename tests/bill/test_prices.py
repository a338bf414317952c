"""Price books: read with commas or semicolons, and everything wrong with them at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from poolgeo.errors import PoolFileError
from poolgeo.system.prices import read_prices

from ..review.sound import works_of
from .test_measured import method

KNOWN = [
    ("slurry", "kit"), ("slurry", "small kit"), ("membrane", "m2"), ("membrane", "m"),
    ("inner, dry: tape", "m"),
]  # fmt: skip


def read(folder: Path, text: str | bytes) -> dict[tuple[str, str], float]:
    """Read a price book."""
    path = folder / "prices.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    rates, _ = read_prices(path, KNOWN)
    return rates


def refusal(folder: Path, text: str | bytes) -> list[tuple[int | None, str]]:
    """Return line and words of all that is wrong with a price book."""
    with pytest.raises(PoolFileError) as caught:
        read(folder, text)
    assert {item.file for item in caught.value.findings} == {str(folder / "prices.csv")}
    return [
        (item.line, " | ".join(filter(None, (item.rule, item.value, item.remedy))))
        for item in caught.value.findings
    ]


@pytest.mark.parametrize(
    "text",
    [
        'item,unit,rate\nslurry,kit,98.5\n"inner, dry: tape",m,8\n',
        "item;unit;rate\nslurry;kit;98,5\ninner, dry: tape;m;8\n",
        "item;unit;rate\nslurry;kit;98,5\ninner, dry: tape;m;8,00\n",
        "item\tunit\trate\nslurry\tkit\t98.5\ninner, dry: tape\tm\t8\n",
        'rate,item,note,unit\n98.5,slurry,per kit,kit\n8,"inner, dry: tape",,m\n',
        "\ufeffitem;unit;rate\r\nslurry;kit;98,5\r\ninner, dry: tape;m;8\r\n",
        "# yearly\n\nitem; unit; rate\n\n slurry ; kit ; 9,85e1\n# dry\ninner, dry: tape;m;8",
    ],
)
def test_commas_semicolons_tabs(tmp_path: Path, text: str) -> None:
    assert read(tmp_path, text) == {("slurry", "kit"): 98.5, ("inner, dry: tape", "m"): 8.0}


def test_a_decimal_comma_among_commas_is_no_rate(tmp_path: Path) -> None:
    assert refusal(tmp_path, 'item,unit,rate\nslurry,kit,"98,5"\n') == [
        (2, "a rate must be a number, 0 or more | '98,5'")
    ]


def test_everything_at_once_with_its_line(tmp_path: Path) -> None:
    text = """\
# rates of this year
item,unit,rate
slurry,kit,98

slury,kit,none
membrane,m3,1
slurry,bag,1
membrane,m2,-1
membrane,m,two
slurry,small kit
slurry,kit,99
,,
paint,m2,3
"""
    found = refusal(tmp_path, text)
    assert [line for line, _ in found] == [5, 6, 7, 8, 9, 10, 11]
    words = dict(found)
    assert words[5] == "a rate must be a number, 0 or more | 'none'"
    assert words[6] == "the unit of 'membrane' must be m2 or m | 'm3'"
    assert words[7] == "the unit of 'slurry' must be kit or small kit | 'bag'"
    assert words[8] == "a rate must be a number, 0 or more | '-1'"
    assert words[9] == "a rate must be a number, 0 or more | 'two'"
    assert words[10] == "a rate must be a number, 0 or more | 'nothing'"
    assert words[11] == "each item must stand in one line only | slurry, kit"


def test_items_of_another_system_are_noted(tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_text("item,unit,rate\nslury,kit,9\nmembrane,m2,8\n# paint\npaint,m2,3\n")
    rates, notes = read_prices(path, KNOWN)
    assert rates == {("membrane", "m2"): 8.0}
    assert [(item.line, item.severity, item.value, item.remedy) for item in notes] == [
        (2, "warning", "'slury'", "did you mean 'slurry'?"), (5, "note", "'paint'", ""),
    ]  # fmt: skip
    assert {item.rule for item in notes} == {"is not of this system, so not used"}


def test_a_line_of_no_use_stands_among_the_findings() -> None:
    works, _ = works_of({}, prices="item,unit,rate\nmembrane,m2,8\npaint,m2,3\n")
    found = [remark.finding for remark in works.remarks if "'paint'" in remark.finding.value]
    assert [(item.severity, item.line) for item in found] == [("note", 3)]
    assert found[0].file.endswith("prices.csv")


@pytest.mark.parametrize("rate", ["", "nan", "inf", "1 000", "1e400", "0x10", "1_0", "--1", "5 %"])
def test_what_is_no_rate(tmp_path: Path, rate: str) -> None:
    ((line, words),) = refusal(tmp_path, f"item,unit,rate\nmembrane,m2,{rate}\n")
    assert line == 2
    assert words.startswith("a rate must be a number, 0 or more")


def test_a_rate_of_nothing_is_one(tmp_path: Path) -> None:
    assert read(tmp_path, "item,unit,rate\nmembrane,m2,0\n") == {("membrane", "m2"): 0.0}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "must begin with a line that names item, unit, rate | an empty file"),
        ("slurry,kit,98\n", "must begin with a line that names item, unit, rate | slurry,kit,98"),
        ("item,rate\nslurry,98\n", "must begin with a line that names"),
        (b"item,unit,rate\nslurry,kit,\xff\n", "must be UTF-8 text"),
        ('item,unit,rate\n"slurry,kit,98\n' + "x" * 200_000, "must be a CSV file"),
    ],
)
def test_what_is_no_price_book(tmp_path: Path, text: str | bytes, words: str) -> None:
    ((_, found),) = refusal(tmp_path, text)
    assert found.startswith("the price book ")
    assert words in found


def test_a_price_book_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(PoolFileError, match="the price book must exist"):
        read_prices(tmp_path / "none.csv", KNOWN)
    with pytest.raises(PoolFileError, match="the price book must be readable"):
        read_prices(tmp_path, KNOWN)


def test_a_line_after_a_cell_of_two_lines_has_its_own_number(tmp_path: Path) -> None:
    """The note of the first item goes on in the third line of the file."""
    text = 'item,unit,rate,note\nmembrane,m2,1,"by hand\nor by machine"\nmembrane,m,two,\n'
    assert [line for line, _ in refusal(tmp_path, text)] == [4]


def test_a_column_named_twice_is_refused(tmp_path: Path) -> None:
    """Which of the two rates counts would be a guess."""
    with pytest.raises(PoolFileError):
        read(tmp_path, "item,unit,rate,rate\nmembrane,m2,1,2\n")


def test_a_rate_of_what_the_pool_does_not_need_is_no_error() -> None:
    """A price book is for a system, not for one pool: this one has no joint."""
    book = "item,unit,rate\njoint: bead,m,5\nsealant,sausage,12\n"
    works, _ = works_of({"pool.joints": []}, prices=book)
    assert [line.rate for line in works.bill.lines if line.item == "sealant"] == [12.0]


@pytest.mark.parametrize("unit", ["kit", "m2"])
def test_a_name_of_both_a_material_and_a_layer(unit: str) -> None:
    """The primer is a can of the material, and square metres of the layer."""
    book = f"item,unit,rate\nprimer,{'can' if unit == 'kit' else unit},33\n"
    lines = [line for line in works_of({}, prices=book)[0].bill.lines if line.item == "primer"]
    assert [line.rate for line in lines] == ([4.0, 33.0] if unit == "kit" else [33.0, 30.0])


def test_a_rate_by_the_foot_is_one_by_the_metre(tmp_path: Path) -> None:
    rates = read(tmp_path, "item,unit,rate\nmembrane,ft2,2.4\nmembrane,ft,1.5\n")
    assert rates == pytest.approx(
        {("membrane", "m2"): 2.4 / 0.3048**2, ("membrane", "m"): 1.5 / 0.3048}
    )


def test_a_decimal_comma_that_parts_cells_is_not_passed_over(tmp_path: Path) -> None:
    """Read as cells the rate would be 91, not 91,50."""
    ((line, words),) = refusal(tmp_path, "item,unit,rate\nslurry,kit,91,50\n")
    assert line == 2
    assert "must have 3 cells" in words
    assert "semicolons" in words


def test_a_mark_between_thousands_is_not_taken_for_a_decimal_one(tmp_path: Path) -> None:
    """Read as it stands the rate would be 1.09, not 1088."""
    text = "item;unit;rate\nslurry;kit;91,50\nmembrane;m2;1.088\n"
    ((line, words),) = refusal(tmp_path, text)
    assert line == 3
    assert "must have a decimal comma, as others have" in words


def test_an_item_with_a_rate_for_another_unit_says_so() -> None:
    """A layer that is measured by its length needs a rate by the metre."""
    works, _ = works_of(method(girth={"bands": [450], "source": "a book"}))
    (remark,) = [item for item in works.remarks if "without a price" in item.finding.rule]
    assert remark.finding.remedy == (
        "'primer, up to 450 mm wide' is measured in m; it has a rate for m2"
    )
