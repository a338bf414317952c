"""Files that are there whole or not at all: write beside the target, then rename onto it."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from poolgeo.errors import OutputError

_RULES = {
    errno.ENOENT: ("the folder it goes into must exist", "make the folder or name another file"),
    errno.ENOTDIR: ("its folder must be a folder", "name another file"),
    errno.EISDIR: ("must be a file and not a folder", "name a file in that folder"),
    errno.EACCES: ("its folder must be writable for you", "name a file in another folder"),
    errno.EPERM: ("its folder must be writable for you", "name a file in another folder"),
    errno.EROFS: ("must not be on a read-only disk", "name a file in another folder"),
    errno.ENOSPC: ("the disk must have room for it", "make room or name a file on another disk"),
    errno.ENAMETOOLONG: ("its name must be shorter", "name another file"),
}
"""Error number of the system -> the rule that was broken, and the remedy."""


@contextmanager
def whole_file(path: str | os.PathLike[str]) -> Iterator[Path]:
    """Give a path to write to, and rename it onto ``path`` once the block has ended well.

    The temporary path lies in the same folder and has the same suffix. Where the block fails,
    it is removed and what was at ``path`` before stays as it was. A link is written through.

    Args:
        path: The file to make or to replace.

    Yields:
        The path to write to; no file is there yet.

    Raises:
        OutputError: The system refused to make, fill or rename the file.
    """
    target = Path(os.path.realpath(path))
    beside = target.with_name(f".{secrets.token_hex(6)}{target.suffix}")
    try:
        _check(target)
        yield beside
        beside.replace(target)
    except OutputError:
        raise
    except OSError as error:
        raise OutputError(_refusal(path, error)) from error
    finally:
        with suppress(NotADirectoryError):
            beside.unlink(missing_ok=True)


def _check(target: Path) -> None:
    """Find out before the work what would only fail after it.

    Raises:
        IsADirectoryError: A folder has that name.
        FileNotFoundError: The folder that the file goes into is not there.
    """
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, "a folder")
    if not target.parent.exists():
        raise FileNotFoundError(errno.ENOENT, f"no folder '{target.parent}'")


def _refusal(path: str | os.PathLike[str], error: OSError) -> str:
    """Say it in our words: the path, the rule, what the system said, the remedy."""
    rule, remedy = _RULES.get(error.errno or 0, ("must be writable", "name another file"))
    return (
        f"'{os.fspath(path)}' cannot be written: {rule} (got {error.strerror or error}); {remedy}"
    )
