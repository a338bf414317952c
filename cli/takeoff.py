"""``poolgeo takeoff``: the quantities."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from .options import output, pool_file
from .stages import finished, hand_out, measured, say, warn, waterproofed

if TYPE_CHECKING:
    from poolgeo.finishing.finish import Finishing
    from poolgeo.model import Model
    from poolgeo.quantities import Takeoff
    from poolgeo.works import Works

Form = Literal["table", "json", "csv", "xlsx"]


@click.command()
@pool_file
@click.option(
    "--format",
    "form",
    type=click.Choice(["table", "json", "csv", "xlsx"]),
    default="table",
    show_default=True,
    help="Tables in the file's units, the workbook in m or ft; JSON and CSV in SI units.",
)
@click.option(
    "--system",
    metavar="NAME",
    help="Waterproofing system in place of the pool file's: the name of one, or a YAML file.",
)
@output(required=False)
def takeoff(file: Path, form: Form, system: str | None, output: Path | None) -> None:
    """Measure areas, edge runs, coves and volumes; work out details and materials.

    Areas by kind of surface; internal and external edges, run by run with the numbers that the
    drawing has; of each how much is under water. Where the pool file (or --system) names a
    waterproofing system: what is done at every edge, fitting and corner, materials in whole packs,
    cutting plans, the bill, and what a review of the system finds. Where it names finishes: their
    movement joints, tiles, grout, nosings and coping stones.
    """
    if form == "xlsx" and output is None:
        message = "--format xlsx needs a file to write: -o PATH"
        raise click.UsageError(message)
    if form == "xlsx" and output is not None and output.suffix.lower() != ".xlsx":
        message = f"--format xlsx writes a file that ends in .xlsx (got '{output.name}')"
        raise click.UsageError(message)
    model, quantities = measured(file)
    works = waterproofed(model, quantities, system)
    finishing = finished(model, quantities)
    if form == "table" and output is None and sys.stdout.isatty():
        _on_terminal(model, quantities, works, finishing)
        return
    warn(quantities.warnings)
    warn(() if works is None else works.remarks)
    warn(finishing.remarks)
    if form == "xlsx" and output is not None:
        _workbook(model, quantities, works, finishing, output)
        return
    hand_out(_text(form, model, quantities, works, finishing), output)


def _workbook(
    model: Model, quantities: Takeoff, works: Works | None, finishing: Finishing, output: Path
) -> None:
    """Write the workbook."""
    from poolgeo.write.workbook import write_workbook

    write_workbook(model, quantities, works, output, finishing)
    say(f"wrote {output}")


def _on_terminal(
    model: Model, quantities: Takeoff, works: Works | None, finishing: Finishing
) -> None:
    """Print the tables as wide as the terminal; they end in the warnings."""
    from rich.console import Console

    from poolgeo.write.finish_terminal import print_finish
    from poolgeo.write.terminal import print_takeoff
    from poolgeo.write.works_terminal import print_works

    units = model.design.pool.units
    print_takeoff(quantities, units, Console())
    if works is not None:
        print_works(works, units, Console())
    print_finish(finishing, units, Console())


def _text(
    form: Form, model: Model, quantities: Takeoff, works: Works | None, finishing: Finishing
) -> str:
    from poolgeo.write.finish_terminal import finish_text
    from poolgeo.write.tables import csv_text, json_text
    from poolgeo.write.terminal import takeoff_text
    from poolgeo.write.works_terminal import works_text

    units = model.design.pool.units
    if form == "json":
        return json_text(quantities, works, finishing)
    if form == "csv":
        return csv_text(quantities, works, finishing)
    more = [] if works is None else [works_text(works, units)]
    more += [text] if (text := finish_text(finishing, units)) else []
    return "\n".join([takeoff_text(quantities, units), *more])
