"""What tables on a terminal are made of: quantities as text, empty tables, their feet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.table import Table


def table_of(title: str, words: Sequence[str], figures: Sequence[str]) -> Table:
    """Make an empty table: columns of words on the left, columns of figures on the right."""
    from rich import box
    from rich.table import Table

    table = Table(
        title=title,
        title_justify="left",
        title_style="bold",
        box=box.SIMPLE_HEAD,
        pad_edge=False,
    )
    for word in words:
        table.add_column(word, overflow="fold")
    for figure in figures:
        table.add_column(figure, justify="right", no_wrap=True)
    return table


def total(table: Table, *sums: str, word: str = "total") -> None:
    """Give a table a foot: a word under its first column, sums under its last ones."""
    table.show_footer = True
    table.columns[0].footer = word
    for column, cell in zip(table.columns[-len(sums) :], sums, strict=True):
        column.footer = cell


def or_dash(values: Sequence[float], text: Callable[[float], str]) -> list[str]:
    """Write values, a dash for those that are not there."""
    return [text(value) if value else "-" for value in values]
