"""``poolgeo takeoff``: the quantities."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from .options import output, pool_file
from .stages import hand_out, measured, warn

if TYPE_CHECKING:
    from poolgeo.model import Model
    from poolgeo.quantities import Takeoff

Form = Literal["table", "json", "csv"]


@click.command()
@pool_file
@click.option(
    "--format",
    "form",
    type=click.Choice(["table", "json", "csv"]),
    default="table",
    show_default=True,
    help="Tables in the file's units; JSON and CSV in SI units.",
)
@output(required=False)
def takeoff(file: Path, form: Form, output: Path | None) -> None:
    """Measure areas, edge runs, coves and volumes.

    Areas by kind of surface; internal and external edges, run by run with the numbers that the
    drawing has; of each how much is under water. Net quantities of the geometry in the file.
    """
    model, quantities = measured(file)
    if form == "table" and output is None and sys.stdout.isatty():
        _on_terminal(model, quantities)
        return
    warn(quantities.warnings)
    hand_out(_text(form, model, quantities), output)


def _on_terminal(model: Model, quantities: Takeoff) -> None:
    """Print the tables as wide as the terminal; they end in the warnings."""
    from rich.console import Console

    from poolgeo.write.terminal import print_takeoff

    print_takeoff(quantities, model.design.pool.units, Console())


def _text(form: Form, model: Model, quantities: Takeoff) -> str:
    from poolgeo.write.tables import csv_text, json_text
    from poolgeo.write.terminal import takeoff_text

    if form == "json":
        return json_text(quantities)
    if form == "csv":
        return csv_text(quantities)
    return takeoff_text(quantities, model.design.pool.units)
