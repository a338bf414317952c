"""Read points from a CSV file."""

from __future__ import annotations

import math
from pathlib import Path

from poolgeo.errors import BadValueError, shown

from .csvfile import Row, number_in, rows_of
from .tracing import XY

MOST_WRONG = 5
"""Lines that a message names at most."""


def read_points(path: Path, columns: tuple[int | str, int | str]) -> list[XY]:
    """Read the points of a CSV file.

    A first line without numbers in the columns is a header.

    Args:
        path: The file.
        columns: Of x and y: numbers from 1, or names in the header.

    Returns:
        The points in the file's units; a last point that repeats the first is left out.

    Raises:
        BadValueError: It cannot be read, or has no such columns, or cells that are no numbers.
    """
    mark, rows = rows_of(path)
    if not rows:
        rule = "must hold points"
        raise BadValueError(rule, "an empty file", "write x and y of a point on each line")
    at, rows = _columns(rows, columns, mark)
    numbers = [[number_in(cells, k, mark) for k in at] for _, cells in rows]
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
    is_header = named or all(math.isnan(number_in(header, k, mark)) for k in at)
    return at, rows[1:] if is_header else rows
