"""Read the rows of a CSV file."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Sequence
from pathlib import Path

from poolgeo.errors import BadValueError

LARGEST_TABLE = 2_000_000
"""[bytes] The largest file."""

Row = tuple[int, list[str]]
"""Line in the file, counted from 1, and its cells."""


def rows_of(path: Path) -> tuple[str, list[Row]]:
    """Read the rows of a CSV file.

    Cells are parted by semicolons (then numbers may have decimal commas), tabs or commas,
    whichever the first line has. Empty lines, and lines that begin with ``#``, are passed over.

    Args:
        path: The file.

    Returns:
        What parts the cells, and the rows. A file that is too large, or no text, or no CSV raises
        `BadValueError`.
    """
    text = _text(path)
    first = next((line for line in text.splitlines() if line.strip() and line[0] != "#"), "")
    mark = next((item for item in ";\t" if item in first), ",")
    rows = [
        (number, [cell.strip() for cell in cells])
        for number, cells in _cells(text, mark)
        if any(cell.strip() for cell in cells) and not cells[0].startswith("#")
    ]
    return mark, rows


def number_in(cells: Sequence[str], k: int, mark: str) -> float:
    """Return a cell as a number; nan where it is none."""
    text = cells[k] if k < len(cells) else ""
    if mark == ";":
        text = text.replace(",", ".")
    is_number = re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,2})?", text, re.ASCII)
    return float(text) if is_number else math.nan


def _text(path: Path) -> str:
    with path.open("rb") as stream:
        data = stream.read(LARGEST_TABLE + 1)
    if len(data) > LARGEST_TABLE:
        rule = f"must not be larger than {LARGEST_TABLE // 1_000_000} MB"
        raise BadValueError(rule, f"more than {LARGEST_TABLE} bytes")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        rule = "must be UTF-8 text"
        came = f"the byte 0x{data[error.start]:02x}"
        raise BadValueError(rule, came, "save it as UTF-8") from None


def _cells(text: str, mark: str) -> list[Row]:
    """Return the cells of each row, with the line in which it begins."""
    reader, found = csv.reader(io.StringIO(text), delimiter=mark), []
    line = 1
    try:
        for cells in reader:
            found.append((line, cells))
            line = reader.line_num + 1
    except csv.Error as error:
        rule = "must be a CSV file"
        raise BadValueError(rule, str(error)) from None
    return found
