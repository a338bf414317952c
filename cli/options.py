"""Arguments and options that several commands share."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])


class OutputFile(click.Path):
    """A file to write whose name ends in one of ``suffixes`` (in any case)."""

    def __init__(self, suffixes: tuple[str, ...]) -> None:
        super().__init__(dir_okay=False, writable=True, path_type=Path)
        self.suffixes = suffixes

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path, or fail with exit code 2 and the suffixes that are known."""
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        if self.suffixes and path.suffix.lower() not in self.suffixes:
            self.fail(
                f"'{path}' must end in {' or '.join(self.suffixes)} (got '{path.suffix}')",
                param,
                ctx,
            )
        return path


def pool_file(command: Command) -> Command:
    """Add the argument FILE; reading it says what is wrong, a missing file included."""
    kind = click.Path(path_type=Path)
    return click.argument("file", metavar="FILE", type=kind)(command)


def output(*suffixes: str, required: bool = True) -> Callable[[Command], Command]:
    """Add the option ``-o``/``--output``.

    Args:
        suffixes: What the name may end in; anything where none is given.
        required: False where the result goes to standard output without it.

    Returns:
        The decorator.
    """
    if required:
        text = f"File to write: {', '.join(suffixes)}." if suffixes else "File to write."
    else:
        text = "File to write; standard output where not given."
    return click.option(
        "-o", "--output", metavar="PATH", type=OutputFile(suffixes), required=required, help=text
    )
