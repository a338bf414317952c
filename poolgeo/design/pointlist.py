"""Read points from a CSV file."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Sequence
from pathlib import Path

from poolgeo.errors import BadValueError, shown

from .tracing import XY

LARGEST_LIST = 2_000_000
"""[bytes] The largest file of points."""

MOST_WRONG = 5
"""Lines that a message names at most."""

Row = tuple[int, list[str]]
"""Line in the file, counted from 1, and its cells."""


def read_points(path: Path, columns: tuple[int | str, int | str]) -> list[XY]:
    """Read the points of a CSV file.

    Cells are parted by semicolons (then numbers may have decimal commas), tabs or commas,
    whichever the first line has. Empty lines, and lines that begin with ``#``, are passed over. A
    first line without numbers in the columns is a header.

    Args:
        path: The file.
        columns: Of x and y: numbers from 1, or names in the header.

    Returns:
        The points in the file's units; a last point that repeats the first is left out.

    Raises:
        BadValueError: It cannot be read, or has no such columns, or cells that are no numbers.
    """
    text = _text(path)
    first = next((line for line in text.splitlines() if line.strip() and line[0] != "#"), "")
    mark = next((item for item in ";\t" if item in first), ",")
    rows = [
        (number, [cell.strip() for cell in cells])
        for number, cells in enumerate(_cells(text, mark), 1)
        if any(cell.strip() for cell in cells) and not cells[0].startswith("#")
    ]
    if not rows:
        rule = "must hold points"
        raise BadValueError(rule, "an empty file", "write x and y of a point on each line")
    at, rows = _columns(rows, columns, mark)
    numbers = [[_number(cells, k, mark) for k in at] for _, cells in rows]
    wrong = [row for row, xy in zip(rows, numbers, strict=True) if any(map(math.isnan, xy))]
    if wrong:
        named = [f"line {line}: {shown(mark.join(cells))}" for line, cells in wrong[:MOST_WRONG]]
        more = f" and {len(wrong) - MOST_WRONG} more" if len(wrong) > MOST_WRONG else ""
        rule = f"must hold numbers in columns {at[0] + 1} and {at[1] + 1}"
        raise BadValueError(
            rule, ", ".join(named) + more, "correct those lines, or name other columns"
        )
    points = [(x, y) for x, y in numbers]
    return points[:-1] if len(points) > 1 and points[0] == points[-1] else points


def _text(path: Path) -> str:
    with path.open("rb") as stream:
        data = stream.read(LARGEST_LIST + 1)
    if len(data) > LARGEST_LIST:
        rule = f"must not be larger than {LARGEST_LIST // 1_000_000} MB"
        raise BadValueError(rule, f"more than {LARGEST_LIST} bytes")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        rule = "must be UTF-8 text"
        came = f"the byte 0x{data[error.start]:02x}"
        raise BadValueError(rule, came, "save it as UTF-8") from None


def _cells(text: str, mark: str) -> list[list[str]]:
    try:
        return list(csv.reader(io.StringIO(text), delimiter=mark))
    except csv.Error as error:
        rule = "must be a CSV file"
        raise BadValueError(rule, str(error)) from None


def _columns(
    rows: list[Row], columns: tuple[int | str, int | str], mark: str
) -> tuple[list[int], list[Row]]:
    """Return where x and y stand, counted from 0, and the rows without the header."""
    header = rows[0][1]
    at = []
    for column in columns:
        if isinstance(column, int):
            at.append(column - 1)
        elif column in header:
            at.append(header.index(column))
        else:
            rule = "must have the columns that 'columns' names"
            names = ", ".join(shown(name) for name in header)
            raise BadValueError(rule, f"no {shown(column)}", f"its first line has {names}")
    named = any(isinstance(column, str) for column in columns)
    is_header = named or all(math.isnan(_number(header, k, mark)) for k in at)
    return at, rows[1:] if is_header else rows


def _number(cells: Sequence[str], k: int, mark: str) -> float:
    """Return a cell as a number; nan where it is none."""
    text = cells[k] if k < len(cells) else ""
    if mark == ";":
        text = text.replace(",", ".")
    is_number = re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,2})?", text, re.ASCII)
    return float(text) if is_number else math.nan
