"""``poolgeo check``: is the file right, and is it the pool that was meant?"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from .figures import Figure, key_figures
from .options import pool_file
from .stages import cut, finished, measured, warn, waterproofed


@click.command()
@pool_file
def check(file: Path) -> None:
    """Check a pool file and print its key figures.

    Says everything that is wrong with the file at once. Of a file that builds, prints size,
    depths, volumes, surfaces and edges, stretches that take the long way round, and each value
    that the file leaves to poolgeo. Of a file that names a waterproofing system, prints what a
    review of it finds. Movement joints of a finish are planned, or those drawn are checked.
    """
    from poolgeo.errors import key_text

    model, takeoff = measured(file)
    works = waterproofed(model, takeoff)
    warn((*takeoff.warnings, *cut(model)))
    warn(() if works is None else works.remarks)
    finishing = finished(model, takeoff)
    warn(finishing.remarks)
    _echo(f"{model.design.pool.name}", list(key_figures(model, takeoff, finishing.joints)))
    if model.notes:
        click.echo()
        notes = [(key_text(item.key), f"{item.rule}; {item.remedy}") for item in model.notes]
        _echo("to look at", notes)
    defaults = [(key_text(key), text) for key, _, text in model.design.defaults()]
    if defaults:
        click.echo()
        _echo("not in the file, so taken as", defaults)


def _echo(title: str, figures: Sequence[Figure]) -> None:
    """Print a title and its figures in two columns."""
    width = max(len(name) for name, _ in figures)
    click.echo(title)
    for name, text in figures:
        click.echo(f"  {name:<{width}}  {text}")
