"""The group that every command belongs to."""

from __future__ import annotations

import click

from .check import check
from .drawing import drawing
from .errors import ErrorsAsMessages
from .joints import joints
from .model import model
from .new import new
from .picture import picture
from .schema import schema
from .takeoff import takeoff
from .view import view


@click.group(
    "poolgeo", cls=ErrorsAsMessages, context_settings={"help_option_names": ["-h", "--help"]}
)
@click.version_option(package_name="poolgeo")
def main() -> None:
    """Turn a pool file into takeoff, drawing, model and picture.

    Start with `poolgeo new -o my.yaml`, change the numbers in the file, and look at what
    `poolgeo check my.yaml` says. Results go to standard output or to the file named with -o,
    warnings and progress to standard error.
    """


for command in (new, check, takeoff, drawing, joints, model, picture, view, schema):
    main.add_command(command)
