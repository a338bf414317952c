"""``poolgeo drawing``: the plan as a DXF drawing."""

from __future__ import annotations

from pathlib import Path

import click

from .options import output, pool_file
from .stages import jointed, measured, progress, say, warn


@click.command()
@pool_file
@output(".dxf")
def drawing(file: Path, output: Path) -> None:
    """Draw the plan as DXF, each edge run with its number.

    Full size in the units of the pool file. Internal and external edges, coves, depths and the
    pool's parts are on layers of their own; numbers are those of the takeoff. Movement joints of
    the finish are drawn with their distances from the set-out origin.
    """
    from poolgeo.write.dxf import write_drawing

    model, takeoff = measured(file)
    joints = jointed(model, takeoff)
    warn(takeoff.warnings)
    warn(() if joints is None else joints.remarks)
    with progress(f"drawing {output.name}"):
        write_drawing(model, takeoff, output, joints)
    say(f"wrote {output}")
