"""What stands on every sheet: frame, title block, table of revisions; a view in mm of paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..design.drawings import Drawings
from . import contents
from .contents import Content
from .paper import SIZES
from .plan_lines import Place, PlanLine
from .positions import text_width
from .sheets import BLOCK, Sheet
from .view import Note, View

TEXT, SMALL = 2.5, 1.8
"""[mm] Height of text on a sheet, and of the names of fields."""

ROW = 8.0
"""[mm] Height of a row of the title block."""

ROWS = 4
"""Of the title block."""

REVISION = 5.0
"""[mm] Height of a row of the table of revisions."""

COLUMNS = (0.0, 0.08, 0.24, 0.82, 1.0)
"""Of the table of revisions, in shares of its width."""


def block_height(asked: Drawings) -> float:
    """Return how high the title block is with the table of revisions, and a gap above [mm]."""
    rows = len(asked.revisions)
    return ROWS * ROW + (REVISION * (rows + 1) if rows else 0.0) + 4.0


def sheet_view(sheet: Sheet, name: str, asked: Drawings, number: int, count: int) -> View:
    """Lay out what stands on a sheet about its windows.

    Args:
        sheet: The sheet.
        name: Of the pool.
        asked: What the pool file says of its drawings.
        number: Of the sheet, from 1 on.
        count: Of all sheets.

    Returns:
        A view in mm; the origin is the lower left corner of the paper.
    """
    box = sheet.frame
    corners = ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top),
               (box.left, box.top))  # fmt: skip
    lines: dict[Content, list[PlanLine]] = {contents.FRAME: [PlanLine(corners, closed=True)]}
    width = min(BLOCK, box.width)
    corner = box.right - width, box.bottom
    fields = list(_fields(sheet, name, asked, f"{number} of {count}"))
    rules = [*_rules(fields, corner, width), *_revision_rules(asked, corner, width)]
    lines[contents.TITLE_BLOCK] = rules
    notes = [*_words(fields, corner, width), *_revisions(asked, corner, width)]
    return View(f"sheet {number}", sheet.title, 1, "1:1", TEXT, lines, notes=notes)


Field = tuple[str, str, float, float, int]
"""Name and value of a field; from where to where it reaches, in shares of the width; its row."""


def _fields(sheet: Sheet, name: str, asked: Drawings, said: str) -> Iterator[Field]:
    """Yield the fields of the title block, the lowest row first."""
    width, height = SIZES[sheet.size]
    yield "Drawing no.", asked.number or "", 0.0, 0.4, 0
    yield "Sheet", said, 0.4, 0.6, 0
    yield "Size", f"{sheet.size}, {width:.0f} x {height:.0f} mm", 0.6, 1.0, 0
    yield "Drawn", asked.drawn_by or "", 0.0, 0.25, 1
    yield "Checked", asked.checked_by or "", 0.25, 0.5, 1
    yield "Date", asked.date or "", 0.5, 0.7, 1
    yield "Scale", sheet.scales, 0.7, 1.0, 1
    yield "Title", f"{name}: {sheet.title}", 0.0, 0.7, 2
    yield "Status", asked.status or "", 0.7, 1.0, 2
    yield "Project", asked.project or "", 0.0, 0.5, 3
    yield "Client", asked.client or "", 0.5, 1.0, 3


def _rules(fields: Sequence[Field], corner: Place, width: float) -> Iterator[PlanLine]:
    """Yield the lines of the title block."""
    left, low = corner
    right, top = left + width, low + ROWS * ROW
    yield PlanLine(((left, low), (left, top), (right, top)))
    for row in range(1, ROWS):
        yield PlanLine(((left, low + row * ROW), (right, low + row * ROW)))
    for *_, start, _, row in fields:
        if start:
            x, y = left + start * width, low + row * ROW
            yield PlanLine(((x, y), (x, y + ROW)))


def _words(fields: Sequence[Field], corner: Place, width: float) -> Iterator[Note]:
    """Yield the names of the fields, and what they hold."""
    for name, value, start, end, row in fields:
        x, y = corner[0] + start * width + 1.0, corner[1] + row * ROW
        yield Note(contents.TITLE_BLOCK, name, (x, y + ROW - SMALL - 0.8), SMALL / TEXT)
        yield from _fitted(value, (x, y + 1.2), (end - start) * width - 2.0)


def _fitted(text: str, corner: Place, room: float) -> Iterator[Note]:
    """Yield a text, less high where it would be wider than its room, and cut where even that is."""
    while text and text_width(text, SMALL) > room:
        text = f"{text.removesuffix('...')[:-1]}..."
    if text:
        size = min(1.0, room / text_width(text, TEXT))
        yield Note(contents.TITLE_BLOCK, text, corner, size)


def _revision_rules(asked: Drawings, corner: Place, width: float) -> Iterator[PlanLine]:
    """Yield the lines of the table of revisions, above the title block."""
    (left, low), rows = corner, len(asked.revisions) + 1
    if rows == 1:
        return
    low += ROWS * ROW
    yield PlanLine(((left, low), (left, low + rows * REVISION)))
    for number in range(1, rows + 1):
        y = low + number * REVISION
        yield PlanLine(((left, y), (left + width, y)))


def _revisions(asked: Drawings, corner: Place, width: float) -> Iterator[Note]:
    """Yield the table of revisions: its head at the top, the last revision at the bottom."""
    if not asked.revisions:
        return
    rows = [("Rev.", "Date", "What", "By")]
    rows += [(item.mark, item.date, item.what, item.by or "") for item in asked.revisions]
    low = corner[1] + ROWS * ROW
    for number, cells in enumerate(rows):
        y = low + (len(rows) - 1 - number) * REVISION + 1.2
        for k, cell in enumerate(cells):
            room = (COLUMNS[k + 1] - COLUMNS[k]) * width - 2.0
            yield from _fitted(cell, (corner[0] + COLUMNS[k] * width + 1.0, y), room)
