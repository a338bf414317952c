"""``poolgeo new``: a file to start from."""

from __future__ import annotations

from pathlib import Path

import click

from .options import output
from .stages import hand_out


@click.command()
@output(".yaml", ".yml")
@click.option(
    "--copy",
    metavar="NAME",
    help="In place of a pool, a copy of what comes with poolgeo: a waterproofing system, rules of"
    " measurement, requirements, limits, rules of movement joints or a table of layers.",
)
@click.option("--force", is_flag=True, help="Overwrite a file that is there already.")
def new(output: Path, copy: str | None, force: bool) -> None:
    """Write a commented pool file that builds as it is.

    A file that is there already stays as it is, unless --force is given.
    """
    from poolgeo.design.starter import starter_text
    from poolgeo.errors import OutputError

    text = starter_text() if copy is None else _shipped(copy)
    if output.exists() and not force:
        msg = f"'{output}' is there already; name another file or give --force"
        raise OutputError(msg)
    hand_out(text, output)


def _shipped(name: str) -> str:
    """Return the text of a file that comes with the package."""
    from poolgeo.design.tables import FOLDERS, shipped, shipped_text

    known = {item: folder for folder in FOLDERS for item in shipped(folder)}
    if name not in known:
        message = f"--copy must be one of {', '.join(known)} (got '{name}')"
        raise click.UsageError(message)
    return shipped_text(known[name], name)
