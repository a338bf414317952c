"""``poolgeo view``: the pool in a window."""

from __future__ import annotations

from pathlib import Path

import click

from .options import pool_file
from .stages import jointed, measured, warn


@click.command()
@pool_file
def view(file: Path) -> None:
    """Turn the pool about in a window; needs a screen."""
    from poolgeo.write.scene import show

    model, takeoff = measured(file)
    joints = jointed(model, takeoff)
    warn(takeoff.warnings)
    warn(() if joints is None else joints.remarks)
    show(model, takeoff, joints=joints)
