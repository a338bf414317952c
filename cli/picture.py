"""``poolgeo picture``: a rendered view as PNG."""

from __future__ import annotations

import re
from pathlib import Path

import click

from .options import output, pool_file
from .stages import jointed, measured, progress, say, warn


def _pixels(_ctx: click.Context, _param: click.Parameter, value: str) -> tuple[int, int]:
    form = re.fullmatch(r"([1-9]\d{1,3})x([1-9]\d{1,3})", value)
    if form is None:
        message = f"must be WIDTHxHEIGHT in pixels, each from 10 to 9999 (got '{value}')"
        raise click.BadParameter(message)
    return int(form[1]), int(form[2])


@click.command()
@pool_file
@output(".png")
@click.option(
    "--size",
    metavar="WIDTHxHEIGHT",
    callback=_pixels,
    default="1600x1000",
    show_default=True,
    help="Size of the picture in pixels.",
)
def picture(file: Path, output: Path, size: tuple[int, int]) -> None:
    """Render the pool with its numbered edges as PNG."""
    from poolgeo.write.scene import write_picture

    model, takeoff = measured(file)
    joints = jointed(model, takeoff)
    warn(takeoff.warnings)
    warn(() if joints is None else joints.remarks)
    with progress(f"rendering {output.name}"):
        write_picture(model, takeoff, output, size=size, joints=joints)
    say(f"wrote {output}")
