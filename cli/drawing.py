"""``poolgeo drawing``: the plan as a DXF drawing."""

from __future__ import annotations

from pathlib import Path

import click

from .options import output, pool_file
from .stages import measured, progress, say, warn


@click.command()
@pool_file
@output(".dxf")
def drawing(file: Path, output: Path) -> None:
    """Draw the plan as DXF, each edge run with its number.

    Full size in the units of the pool file. Internal and external edges, coves, depths and the
    pool's parts are on layers of their own; numbers are those of the takeoff.
    """
    from poolgeo.write.dxf import write_drawing

    model, takeoff = measured(file)
    warn(takeoff.warnings)
    with progress(f"drawing {output.name}"):
        write_drawing(model, takeoff, output)
    say(f"wrote {output}")
