"""``poolgeo drawing``: the drawing set as DXF or PDF, or a view of it as SVG."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from .options import output, pool_file
from .stages import cut, jointed, measured, progress, say, warn, waterproofed

if TYPE_CHECKING:
    from poolgeo.design.layer_table import LayerTable
    from poolgeo.model import Model
    from poolgeo.quantities import Takeoff
    from poolgeo.write.dxf import Release

RELEASES = ("R2000", "R2010", "R2018")
KINDS = {"release": ".dxf", "into": ".dxf", "view": ".svg"}
"""Option -> the only kind of file that it goes with."""


@click.command()
@pool_file
@output(".dxf", ".pdf", ".svg")
@click.option("--view", metavar="NAME", help="View to write as SVG. [default: plan]")
@click.option("--layers", metavar="TABLE", help="Table of layers, in place of the pool file's.")
@click.option("--release", type=click.Choice(RELEASES), help="Release of DXF. [default: R2010]")
@click.option(
    "--into",
    metavar="PATH",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Drawing (DXF) to draw into: what is in it stays as it is.",
)
def drawing(
    file: Path, output: Path, view: str | None, layers: str | None, release: Release | None,
    into: Path | None,
) -> None:  # fmt: skip
    """Draw the pool: sheets as DXF or PDF, or one view as SVG.

    Plan, sections, developed walls, spas, typical details and schedules, at full size in the units
    of the pool file, with sheets at scale in paper space. Every edge run has the number that it has
    in the takeoff; internal and external edges, coves, joints, fittings and the pool's parts are on
    layers of their own.
    """
    _check(output, {"view": view, "release": release, "into": into})
    from poolgeo.design.layer_table import layer_table

    model, takeoff = measured(file)
    name = layers or model.design.pool.drawings.layers
    table = layer_table(name, Path() if layers else file.parent)
    if into is not None:
        _into(model, takeoff, table, into, output)
    else:
        _alone(model, takeoff, table, output, view or "plan", release or "R2010")
    say(f"wrote {output}")


def _check(output: Path, given: dict[str, object]) -> None:
    """Refuse options that go with another kind of file.

    Raises:
        UsageError: There are some.
    """
    if given["release"] is not None and given["into"] is not None:
        msg = "'--release' does not go with '--into': the drawing keeps its own"
        raise click.UsageError(msg)
    for name, value in given.items():
        if value is not None and output.suffix.lower() != KINDS[name]:
            msg = f"'--{name}' goes with {KINDS[name]} only (got '{output.name}')"
            raise click.UsageError(msg)


def _alone(
    model: Model, takeoff: Takeoff, table: LayerTable, output: Path, view: str, release: Release
) -> None:
    """Write a drawing of its own."""
    from poolgeo.drawing.drawing_set import drawing_set

    cuts = cut(model)
    joints = jointed(model, takeoff)
    works = waterproofed(model, takeoff)
    warn((*takeoff.warnings, *cuts, *(() if joints is None else joints.remarks)))
    with progress(f"drawing {output.name}"):
        drawn = drawing_set(model, takeoff, joints, works)
        if output.suffix.lower() == ".dxf":
            from poolgeo.write.dxf import write_drawing

            write_drawing(drawn, table, output, release)
        elif output.suffix.lower() == ".pdf":
            from poolgeo.write.prints import write_prints

            write_prints(drawn, table, output)
        else:
            from poolgeo.write.prints import write_svg

            write_svg(drawn, table, view, output)


def _into(model: Model, takeoff: Takeoff, table: LayerTable, into: Path, output: Path) -> None:
    """Write a drawing with what is in another one."""
    from poolgeo.drawing.drawing_set import drawing_set
    from poolgeo.write.into import read_host, write_into

    with progress(f"reading {into.name}"):
        host = read_host(into, table, model.design.pool.units)
    cuts = cut(model)
    joints = jointed(model, takeoff)
    works = waterproofed(model, takeoff)
    warn((*takeoff.warnings, *cuts, *host.remarks, *(() if joints is None else joints.remarks)))
    with progress(f"drawing {output.name}"):
        drawn = drawing_set(model, takeoff, joints, works, host.system, host.reach)
        write_into(host, drawn, table, output)
