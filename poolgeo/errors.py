"""What poolgeo says when something is wrong.

Words used here, and only so:

* **finding**: one thing wrong (or worth knowing) about a pool, tied to a key of its file.
* **key**: the path to a value in the pool file, such as ``("steps", 0, "going")``.
* **rule**: what the value must satisfy, as a sentence that starts with the value's name.
* **remedy**: what the reader can do about it.

Every error of the library derives from `PoolgeoError` and, where a builtin fits, from that too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Literal

Key = tuple[str | int, ...]
Severity = Literal["error", "warning", "note"]

LONGEST_SHOWN = 60
"""Characters of a value or of one key that a message shows before it cuts."""
MOST_SHOWN = 50
"""Findings that the text of a `PoolFileError` shows; its ``findings`` hold them all."""


def key_text(key: Key) -> str:
    """Write a key path as a reader would.

    Args:
        key: Path to a value in the pool file.

    Returns:
        Text such as ``steps[0].going``; an odd or long key is quoted and cut.

    Example:
        >>> key_text(("steps", 0, "going"))
        'steps[0].going'
        >>> key_text(("outline", "my radius"))
        "outline['my radius']"
    """
    text = ""
    for part in key:
        if isinstance(part, str) and re.fullmatch(rf"[\w-]{{1,{LONGEST_SHOWN}}}", part):
            text += f"{'.' if text else ''}{part}"
        else:
            text += f"[{shown(part)}]"
    return text


def shown(value: object) -> str:
    """Write a value for a message: on one line, printable, and short.

    Args:
        value: Anything that a pool file, or a caller, may hold.

    Returns:
        Text in the pool file's notation: ``'text'``, ``true``, ``[1, 2]``.

    Example:
        >>> shown([1, "a", None])
        "[1, 'a', nothing]"
    """
    match value:
        case None:
            return "nothing"
        case bool():
            return "true" if value else "false"
        case int() if value.bit_length() > 64:
            return "a number of more than 19 digits"
        case int() | float():
            return f"{value!r}"
        case str():
            return _quoted(value)
        case list() | tuple():
            parts = [shown(item) for item in value[:5]] + ["..."] * (len(value) > 5)
            text = f"[{', '.join(parts)}]"
            return text if len(text) <= LONGEST_SHOWN else f"a list of {len(value)}"
        case dict():
            keys = ", ".join(str(key) for key in list(value)[:5] if isinstance(key, str))
            return f"a mapping of {_clean(keys)}" if keys else "a mapping"
        case _:
            return f"a value of the type {type(value).__name__}"


def _quoted(text: str) -> str:
    cut = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN]
    mark = '"' if "'" in cut and '"' not in cut else "'"
    return f"{mark}{_clean(cut)}{'...' if cut != text else ''}{mark}"


def _clean(text: str) -> str:
    cut = text[: LONGEST_SHOWN + 1]
    return "".join(c if c.isprintable() else ascii(c)[1:-1] for c in cut)


@dataclass(frozen=True)
class Finding:
    """One thing wrong, or worth knowing.

    Args:
        key: Path to the value in the pool file; empty when it is the file as a whole.
        rule: What must hold, for instance ``must be above 0``.
        value: What came, with its unit; empty when nothing came.
        remedy: What to do.
        severity: An ``error`` stops the build, a ``warning`` goes into every report, a ``note`` is
            for who checks the file.
        file: The pool file, once known.
        line: Line in that file, counted from 1, once known.
    """

    key: Key
    rule: str
    value: str = ""
    remedy: str = ""
    severity: Severity = "error"
    file: str = ""
    line: int | None = None

    def __str__(self) -> str:
        """Order: where, what rule, what came, what to do."""
        where = self.file
        if self.line is not None:
            where += f":{self.line}"
        head = f"{where}: " if where else ""
        name = f"'{key_text(self.key)}' " if self.key else ""
        came = f" (got {self.value})" if self.value else ""
        remedy = f"; {self.remedy}" if self.remedy else ""
        return f"{head}{self.severity}: {name}{self.rule}{came}{remedy}"

    def said_by(self, rewrite: Callable[[str], str]) -> Finding:
        """Return the same finding with its words rewritten."""
        rule, value, remedy = map(rewrite, (self.rule, self.value, self.remedy))
        return replace(self, rule=rule, value=value, remedy=remedy)

    def at(self, file: str, line: int | None) -> Finding:
        """Return the same finding with its place in a file filled in."""
        return replace(self, file=file, line=line)


class PoolgeoError(Exception):
    """Base of every error that poolgeo raises on purpose."""


class PoolFileError(PoolgeoError, ValueError):
    """A pool file, or a design made from one, that cannot be built.

    Args:
        findings: Everything that was found, errors and warnings, in file order.
    """

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings: tuple[Finding, ...] = tuple(findings)
        lines = [str(finding) for finding in self.findings[:MOST_SHOWN]]
        if len(self.findings) > MOST_SHOWN:
            lines.append(f"and {len(self.findings) - MOST_SHOWN} findings more")
        super().__init__("\n".join(lines))

    def __reduce__(self) -> tuple[type[PoolFileError], tuple[tuple[Finding, ...]]]:
        """Survive the way between processes with the findings whole."""
        return type(self), (self.findings,)


@dataclass
class Findings:
    """Collects what is found while a pool is made."""

    found: list[Finding] = field(default_factory=list)

    def error(self, key: Key, rule: str, value: str = "", remedy: str = "") -> None:
        """Note something that stops the build."""
        self.found.append(Finding(key, rule, value, remedy))

    def warn(self, key: Key, rule: str, value: str = "", remedy: str = "") -> None:
        """Note something to know."""
        self.found.append(Finding(key, rule, value, remedy, "warning"))

    def note(self, key: Key, rule: str, value: str = "", remedy: str = "") -> None:
        """Note something that is right as a rule, for who checks the file."""
        self.found.append(Finding(key, rule, value, remedy, "note"))

    def stop_on_error(self) -> None:
        """Raise what was found if any of it is an error.

        Raises:
            PoolFileError: With all findings.
        """
        if any(item.severity == "error" for item in self.found):
            raise PoolFileError(self.found)


class BadValueError(PoolgeoError, ValueError):
    """A single value that breaks a rule: a length, a ratio, a count.

    Args:
        rule: What must hold, for instance ``must be a length``.
        value: What came, with its unit; empty when nothing came.
        remedy: What to do.
    """

    def __init__(self, rule: str, value: str = "", remedy: str = "") -> None:
        self.rule = rule
        self.value = value
        self.remedy = remedy
        came = f" (got {value})" if value else ""
        super().__init__(f"{rule}{came}{f'; {remedy}' if remedy else ''}")

    def __reduce__(self) -> tuple[type[BadValueError], tuple[str, str, str]]:
        """Survive the way between processes."""
        return type(self), (self.rule, self.value, self.remedy)


class GeometryError(PoolgeoError, RuntimeError):
    """A geometry that poolgeo could not make sound, and does not hand out.

    Args:
        place: A plan point where it is not [m].
    """

    def __init__(self, place: Iterable[float]) -> None:
        x, y, *_ = place
        self.place = (float(x), float(y))
        super().__init__(f"near ({x:.3f}, {y:.3f}) m")

    def __reduce__(self) -> tuple[type[GeometryError], tuple[tuple[float, float]]]:
        """Survive the way between processes."""
        return type(self), (self.place,)


class MissingSystemLibraryError(PoolgeoError, ImportError):
    """A system library that only the viewer and the picture need is not on this machine."""


class OutputError(PoolgeoError, OSError):
    """An output file that cannot be written."""
