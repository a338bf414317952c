"""What commands do on the way: run the stages, say so on standard error, hand out text."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from poolgeo.errors import Finding
    from poolgeo.finishing.finish import Finishing
    from poolgeo.jointing.rows import FinishJoints
    from poolgeo.model import Model
    from poolgeo.quantities import Takeoff
    from poolgeo.review.case import Remark
    from poolgeo.works import Works


@contextmanager
def progress(doing: str) -> Iterator[None]:
    """Show what is being done, on standard error and only while that is a terminal.

    Args:
        doing: What is being done, such as ``building``.

    Yields:
        Nothing; the line is gone when the block ends.
    """
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{doing} ..."):
        yield


def built(file: Path) -> Model:
    """Load and build a pool file."""
    import poolgeo

    with progress(f"building {file.name}"):
        return poolgeo.build(poolgeo.load(file))


def measured(file: Path) -> tuple[Model, Takeoff]:
    """Load, build and measure a pool file."""
    import poolgeo

    model = built(file)
    with progress(f"measuring {file.name}"):
        return model, poolgeo.measure(model)


def waterproofed(model: Model, quantities: Takeoff, system: str | None = None) -> Works | None:
    """Work the waterproofing out, where the pool file or the command line names a system."""
    from poolgeo.works import job_of, waterproof

    job = job_of(model.design, system)
    if job is None:
        return None
    with progress("working out the waterproofing"):
        return waterproof(model, quantities, job)


def cut(model: Model) -> list[Finding]:
    """Return what to warn of in the sections that the pool file asks for, once they are checked."""
    from poolgeo.drawing.section_check import checked_cuts

    return checked_cuts(model)


def jointed(model: Model, quantities: Takeoff) -> FinishJoints | None:
    """Plan the movement joints of the finish, where the pool file speaks of one."""
    from poolgeo.jointing.joints import finish_joints

    with progress("planning movement joints"):
        return finish_joints(model, quantities)


def finished(model: Model, quantities: Takeoff) -> Finishing:
    """Plan the movement joints of the finish and take it off, as far as the file speaks of it."""
    import poolgeo

    with progress("planning movement joints and taking the finish off"):
        return poolgeo.finish(model, quantities)


def warn(findings: Iterable[Finding | Remark]) -> None:
    """Print findings on standard error, one a line."""
    for finding in findings:
        click.echo(str(finding), err=True)


def say(text: str) -> None:
    """Print a remark on standard error."""
    click.echo(text, err=True)


def hand_out(text: str, output: Path | None) -> None:
    """Print text on standard output or, where a file is named, make that file whole."""
    if output is None:
        click.echo(text, nl=False)
        return
    from poolgeo.write.atomic import whole_file

    with whole_file(output) as path:
        path.write_text(text, encoding="utf-8", newline="")
    say(f"wrote {output}")
