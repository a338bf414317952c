"""The one place where an error becomes a message and an exit code.

Exit codes: 0 done; 1 the pool file or the output is at fault; 2 the command line is (click's).
"""

from __future__ import annotations

import errno
from typing import IO, TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from poolgeo.errors import PoolFileError


class Fault(click.ClickException):
    """What went wrong, in words, with exit code 1."""

    def show(self, file: IO[Any] | None = None) -> None:
        """Print the message on standard error as it stands."""
        click.echo(self.message, file=file, err=True)


class ErrorsAsMessages(click.Group):
    """A group that shows errors in plain words and lists its commands in the order of the work."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; an error of the library or the system leaves it as a `Fault`."""
        from poolgeo.errors import PoolFileError, PoolgeoError

        try:
            return super().invoke(ctx)
        except PoolFileError as error:
            message = f"{error}\n{_count(error)}"
            raise Fault(message) from error
        except PoolgeoError as error:
            message = f"error: {error}"
            raise Fault(message) from error
        except OSError as error:
            if error.errno == errno.EPIPE:  # The reader of a pipe went away: click's own matter.
                raise
            place = f"{error.filename}: " if error.filename else ""
            message = f"error: {place}{error.strerror or error}"
            raise Fault(message) from error

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """List the commands in the order in which they were added."""
        return list(self.commands)


def _count(error: PoolFileError) -> str:
    """Say how many errors and warnings a pool file has: ``2 errors, 1 warning``."""
    words = []
    for severity in ("error", "warning"):
        number = sum(finding.severity == severity for finding in error.findings)
        if number:
            words.append(f"{number} {severity}{'' if number == 1 else 's'}")
    return ", ".join(words)
