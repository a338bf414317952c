"""``poolgeo model``: the pool as a 3D file."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from .options import output, pool_file
from .stages import built, progress, say, warn


@click.command()
@pool_file
@output(".glb", ".stl", ".ply", ".obj")
@click.option(
    "--part",
    type=click.Choice(["surface", "water", "shell"]),
    help="Inside of the concrete, the water, or the concrete. Default: surface; for STL, shell.",
)
def model(file: Path, output: Path, part: Literal["surface", "water", "shell"] | None) -> None:
    """Write the 3D model as GLB, STL, PLY or OBJ.

    Water and shell are closed solids, the surface is open at the top. Lengths are in metres; z is
    up (y in GLB, as its standard has it) and 0 at the pool's water level.
    """
    from poolgeo.write.meshfile import write_mesh

    pool = built(file)
    warn(pool.warnings)
    with progress(f"writing {output.name}"):
        write_mesh(pool, output, what=part)
    say(f"wrote {output}")
