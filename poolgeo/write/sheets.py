"""A sheet of a workbook: titles, rows, live formulas with the figures that they give."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet


@dataclass(frozen=True)
class Formula:
    """A formula and the figure that it gives: programs that do not calculate show that.

    Args:
        text: Begins with ``=``.
        value: Its figure, or text.
    """

    text: str
    value: float | str


@dataclass(frozen=True)
class Input:
    """A figure that the reader may change; what hangs on it recalculates.

    Args:
        value: As the library has it; None where it has none.
        form: Number format, where it is not the column's.
    """

    value: float | None
    form: str = ""


@dataclass(frozen=True)
class Column:
    """A column.

    Args:
        title: With its unit.
        width: In characters.
        form: Number format; empty for text.
    """

    title: str
    width: float
    form: str = ""


LINE = 15.0
"""[pt] Height of a line."""
LETTER = 0.88
"""Width of a letter in the mean, in those of a column."""
MARGIN = 1.0
"""Of the width of a column, what text in it cannot use."""
INDENTED: dict[str, Any] = {"align": "left", "indent": 1}

Cell = str | float | int | None | Formula | Input


class Styles:
    """The formats of one workbook, each made once."""

    def __init__(self, book: Workbook) -> None:
        self._book = book
        self._made: dict[tuple[tuple[str, Any], ...], Any] = {}

    def style(self, **what: Any) -> Any:
        """Return a format."""
        key = tuple(sorted(what.items()))
        if key not in self._made:
            self._made[key] = self._book.add_format(
                {"font_name": "Calibri", "font_size": 10, **what}
            )
        return self._made[key]


class Sheet:
    """A sheet that is filled from the top down.

    Args:
        book: The workbook.
        styles: Its formats.
        name: Of the sheet.
        note: A line under its title.
        columns: Its columns; they hold for all tables of the sheet.
    """

    def __init__(
        self, book: Workbook, styles: Styles, name: str, note: str, columns: Sequence[Column]
    ) -> None:
        self.name = name
        self._styles = styles
        self._columns = list(columns)
        self._sheet: Worksheet = book.add_worksheet(name)
        self._sheet.hide_gridlines(2)
        self._sheet.set_landscape()
        self._sheet.set_paper(9)
        self._sheet.fit_to_pages(1, 0)
        self._sheet.set_default_row(LINE)
        self._sheet.set_footer("&L&A&R&P / &N")
        for k, column in enumerate(columns):
            self._sheet.set_column(k, k, column.width)
        self._sheet.write(0, 0, name, styles.style(bold=True, font_size=14))
        self._sheet.write(1, 0, note, styles.style(italic=True, font_color="#555555"))
        self.row = 3

    def head(self, titles: Sequence[str] | None = None) -> None:
        """Write the heads of the columns."""
        titles = [column.title for column in self._columns] if titles is None else titles
        self._sheet.set_row(self.row, 30.0)  # two lines
        for k, title in enumerate(titles):
            side: dict[str, Any] = {"align": "right"} if self._columns[k].form else INDENTED
            style = self._styles.style(bold=True, text_wrap=True, valign="vcenter", bottom=1,
                                       bg_color="#E8EEF0", **side)  # fmt: skip
            self._sheet.write(self.row, k, title, style)
        if self.row == 3:
            self._sheet.freeze_panes(4, 0)
            self._sheet.repeat_rows(3)
        self.row += 1

    def add(self, *cells: Cell, bold: bool = False) -> int:
        """Write a row; return its number as formulas count it."""
        lines = 1
        for k, cell in enumerate(cells):
            self._write(k, cell, bold=bold)
            if isinstance(cell, str):
                wide = LETTER * len(cell)
                lines = max(lines, math.ceil(wide / (self._columns[k].width - MARGIN)))
        if lines > 1:  # not every program finds the height of wrapped text by itself
            self._sheet.set_row(self.row, lines * LINE)
        self.row += 1
        return self.row

    def gap(self, title: str = "") -> None:
        """Leave a row free, and write a title on the next."""
        self.row += 1
        if title:
            self._sheet.write(self.row, 0, title, self._styles.style(bold=True, font_size=12))
            self.row += 1

    def _write(self, k: int, cell: Cell, *, bold: bool) -> None:
        what: dict[str, Any] = {"valign": "top"}
        if bold:
            what |= {"bold": True, "top": 1}
        if isinstance(cell, str) or cell is None:
            style = self._styles.style(text_wrap=True, **INDENTED, **what)
            self._sheet.write(self.row, k, cell, style)
            return
        form = self._columns[k].form
        if isinstance(cell, int):
            form = "#,##0"
        elif isinstance(cell, Input):
            form = cell.form or form
        if form:
            what["num_format"] = form
        if isinstance(cell, Formula):
            style = self._styles.style(**what)
            self._sheet.write_formula(self.row, k, cell.text, style, cell.value)
        elif isinstance(cell, Input):
            style = self._styles.style(bg_color="#FFF6D6", border=1, border_color="#C9B458", **what)
            self._sheet.write(self.row, k, cell.value, style)
        else:
            self._sheet.write_number(self.row, k, cell, self._styles.style(**what))


class Sheets:
    """The sheets of one workbook.

    Args:
        book: The workbook.
        styles: Its formats.
    """

    def __init__(self, book: Workbook, styles: Styles) -> None:
        self._book = book
        self._styles = styles

    def add(self, name: str, note: str, columns: Sequence[Column]) -> Sheet:
        """Add a sheet with a note under its title."""
        return Sheet(self._book, self._styles, name, note, columns)


def at(sheet: str, column: int, row: int) -> str:
    """Return how a formula on another sheet names a cell: ``'Film record'!$C$7``.

    Args:
        sheet: Name of the sheet.
        column: From 0.
        row: From 1.
    """
    return f"'{sheet}'!${letter(column)}${row}"


def letter(column: int) -> str:
    """Return the letters of a column, counted from 0.

    Example:
        >>> [letter(column) for column in (0, 25, 26)]
        ['A', 'Z', 'AA']
    """
    text = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text
