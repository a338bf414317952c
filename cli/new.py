"""``poolgeo new``: a pool file to start from."""

from __future__ import annotations

from pathlib import Path

import click

from .options import output
from .stages import hand_out


@click.command()
@output(".yaml", ".yml")
@click.option("--force", is_flag=True, help="Overwrite a file that is there already.")
def new(output: Path, force: bool) -> None:
    """Write a commented pool file that builds as it is.

    A file that is there already stays as it is, unless --force is given.
    """
    from poolgeo.design.starter import starter_text
    from poolgeo.errors import OutputError

    if output.exists() and not force:
        msg = f"'{output}' is there already; name another file or give --force"
        raise OutputError(msg)
    hand_out(starter_text(), output)
