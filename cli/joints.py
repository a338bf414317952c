"""``poolgeo joints``: the tiler's sheet."""

from __future__ import annotations

from pathlib import Path

import click

from .options import output, pool_file
from .stages import jointed, measured, progress, say, warn


@click.command()
@pool_file
@output(".pdf")
def joints(file: Path, output: Path) -> None:
    """Write a page for the tiler: where the movement joints are.

    Plan with distances from the set-out origin, walls developed flat with the same joints, widths
    and sealant, and the rules of the work. Where the pool file has a plan that somebody drew, that
    is checked and shown.
    """
    from poolgeo.errors import Finding, PoolFileError
    from poolgeo.write.tiler_sheet import write_tiler_sheet

    model, takeoff = measured(file)
    found = jointed(model, takeoff)
    if found is None:
        rule = "must say what goes on to the membrane, so that there are joints to plan"
        finding = Finding(("finishes",), rule, remedy="write a finish of type tile or mosaic")
        raise PoolFileError([model.design.origin.place(finding)])
    warn(takeoff.warnings)
    warn(found.remarks)
    with progress(f"drawing {output.name}"):
        write_tiler_sheet(model, takeoff, found, output)
    say(f"wrote {output}")
