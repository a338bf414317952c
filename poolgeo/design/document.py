"""Read a YAML file into plain values, with the line of each key.

A pool file is one document of mappings, lists, text, numbers, true, false and null, as JSON has
them. The rest of YAML is refused; `poolgeo.design.tree` says why.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import yaml
from yaml.events import Event

from poolgeo.errors import Finding, Key, PoolFileError

from .tree import Tree

LARGEST_FILE = 1_000_000
"""[bytes] The largest pool file; ten thousand points take a fifth of it."""


@dataclass(frozen=True)
class Document:
    """What a YAML file holds.

    Args:
        value: Mappings as dict, lists as tuple, and scalars.
        lines: Key path -> line, counted from 1: of the key in a mapping, of the item in a list.
        findings: What is wrong with it as YAML, though it could be read.
        unread: Keys whose value could not be read (an alias) and is None in ``value``.
    """

    value: object
    lines: Mapping[Key, int]
    findings: tuple[Finding, ...] = ()
    unread: frozenset[Key] = frozenset()


def read_document(path: str | os.PathLike[str]) -> Document:
    """Read a YAML file.

    Args:
        path: The file.

    Returns:
        Its values and lines, with the findings that did not stop the reading.

    Raises:
        PoolFileError: If the file cannot be opened or is not one YAML document.
    """
    file = Path(path)
    try:
        with file.open("rb") as stream:
            # A stream may be endless, so its size is not asked for but read up to the limit.
            data = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise PoolFileError(
            _whole("the file must exist", remedy="check the name of the file")
        ) from None
    except IsADirectoryError:
        raise PoolFileError(_whole("a pool file must be a file", "a directory")) from None
    except (OSError, ValueError) as error:  # ValueError: a name with a null character.
        reason = error.strerror if isinstance(error, OSError) else None
        raise PoolFileError(
            _whole("the file must be readable", reason or "a name that no file can have")
        ) from None
    return parse_document(data)


def parse_document(data: bytes) -> Document:
    r"""Read a YAML document.

    Args:
        data: The bytes of the file.

    Returns:
        Its values and lines, with the findings that did not stop the reading.

    Raises:
        PoolFileError: If it is not one YAML document, or too large.

    Example:
        >>> parse_document(b"outline:\n  fall: 1:20\n").value
        {'outline': {'fall': '1:20'}}
    """
    text = _text(data)
    tree = Tree()
    try:
        for event in _events(text):
            tree.take(event)
    except PoolFileError:  # From the tree; it is a ValueError too.
        raise
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = None if mark is None else mark.line + 1
        raise PoolFileError([*tree.findings, _syntax(text, error.problem, line)]) from None
    except (yaml.YAMLError, ValueError, OverflowError) as error:
        # ValueError, OverflowError: an escape such as "\UFFFFFFFF", in the parser without libyaml.
        problem = getattr(error, "reason", None) or "a character that YAML does not allow"
        raise PoolFileError([*tree.findings, _syntax(text, problem, None)]) from None
    if not tree.values:
        raise PoolFileError(_whole("the file must not be empty", remedy="start from 'poolgeo new'"))
    return Document(tree.root, tree.lines, tuple(tree.findings), frozenset(tree.unread))


def _whole(rule: str, value: str = "", remedy: str = "", line: int | None = None) -> list[Finding]:
    return [Finding((), rule, value, remedy, line=line)]


def _text(data: bytes) -> str:
    if len(data) > LARGEST_FILE:
        size = f"more than {LARGEST_FILE} bytes"
        raise PoolFileError(
            _whole(f"the file must not be larger than {LARGEST_FILE // 1_000_000} MB", size)
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        came = f"the byte 0x{data[error.start]:02x}"
        raise PoolFileError(
            _whole("the file must be UTF-8 text", came, "save it as UTF-8", line)
        ) from None
    if odd := re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", text):
        line = text.count("\n", 0, odd.start()) + 1
        raise PoolFileError(
            _whole("the file must be text", f"the control character {odd[0]!a}", line=line)
        )
    return text


def _events(text: str) -> Iterator[Event]:
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    events: Iterator[Event] = yaml.parse(text, Loader=loader)
    return events


def _syntax(text: str, problem: str | None, line: int | None) -> Finding:
    lines = text.splitlines()
    at = lines[line - 1] if line and line <= len(lines) else ""
    remedy = "indent with spaces, not tabs" if at.lstrip(" ").startswith("\t") else ""
    return Finding((), "the file must be YAML", problem or "text that is none", remedy, line=line)
