"""Load a pool file: to a checked `Design`, or to everything that is wrong with it."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from pydantic import ValidationError

from poolgeo.errors import Finding, Key, PoolFileError, shown

from .defaults import Default, defaults_of
from .document import read_document
from .explain import explain
from .files import read_files
from .lengths import UNITS, in_units
from .origin import Origin
from .rules import RuleTable, rule_table
from .schema import Pool
from .tree import DEEPEST


@dataclass(frozen=True)
class Design:
    """A pool as its file describes it, checked and in metres.

    Args:
        pool: Everything the file says.
        origin: Where it says so.
        rules: The limits that it is to be compared with, if any.
    """

    pool: Pool
    origin: Origin = field(default_factory=Origin)
    rules: RuleTable | None = None

    def defaults(self) -> tuple[Default, ...]:
        """List what the file leaves to poolgeo: key path, value (SI), text in its units."""
        return defaults_of(self.pool)

    def placed(self, found: Iterable[Finding]) -> list[Finding]:
        """Give findings their file, line and units, each once, in the order of the file."""
        own = (item.said_by(lambda text: in_units(text, self.pool.units)) for item in found)
        once = dict.fromkeys(map(self.origin.place, own))
        return sorted(once, key=lambda item: item.line or 0)


def load(path: str | os.PathLike[str]) -> Design:
    """Load a pool file.

    Args:
        path: A YAML file.

    Returns:
        The design.

    Raises:
        PoolFileError: With everything that is wrong with the file, in the order of its lines.
    """
    name = os.fsdecode(path).encode("utf-8", "backslashreplace").decode()
    try:
        document = read_document(path)
    except PoolFileError as error:
        raise PoolFileError(placed_in(error.findings, Origin(name))) from None
    origin = Origin(name, document.lines)
    pool, refused = _checked(document.value)
    findings = [item for item in refused if item.key not in document.unread]
    if pool is not None:
        findings += read_files(pool, Path(os.fsdecode(path)).parent)
    findings = [*document.findings, *findings]
    table = _rules(document.value, Path(os.fsdecode(path)).parent, findings)
    if pool is None or findings:
        raise PoolFileError(placed_in(findings, origin))
    return Design(pool, origin, table)


def design_from(mapping: Mapping[str, object], file: str = "") -> Design:
    """Make a design from Python values.

    Args:
        mapping: What a pool file would hold: mappings, lists, text and numbers.
        file: A name for messages.

    Returns:
        The design.

    Raises:
        PoolFileError: With everything that is wrong with the values.

    Example:
        >>> design_from(
        ...     {
        ...         "name": "Plunge pool",
        ...         "units": "mm",
        ...         "outline": {"shape": "circle", "radius": 1500},
        ...         "floor": {"shape": "level", "depth": "1.2 m"},
        ...     }
        ... ).pool.outline.radius
        1.5
    """
    origin = Origin(file)
    findings: list[Finding] = []
    document = _frozen(mapping, (), findings)
    pool, refused = _checked(document)
    findings += refused
    if pool is not None:
        findings += read_files(pool, None)
    table = _rules(document, Path(), findings)
    if pool is None or findings:
        raise PoolFileError(placed_in(findings, origin))
    return Design(pool, origin, table)


def _rules(document: object, folder: Path, findings: list[Finding]) -> RuleTable | None:
    """Return the table that a pool file names, whatever else is wrong with the file.

    Args:
        document: Values of the pool file.
        folder: That a relative path starts from.
        findings: Of the pool file; what is wrong with a file of rules has its own place.
    """
    name = document.get("rules") if isinstance(document, dict) else None
    if not isinstance(name, str) or any(item.key[:1] == ("rules",) for item in findings):
        return None
    try:
        return rule_table(name, folder)
    except PoolFileError as error:
        findings += error.findings
    return None


def placed_in(findings: Iterable[Finding], origin: Origin) -> list[Finding]:
    """Give each finding its place in the pool file, if it has none in another."""
    placed = [finding if finding.file else origin.place(finding) for finding in findings]
    return sorted(placed, key=lambda finding: (finding.file != origin.file, finding.line or 0))


def _checked(document: object) -> tuple[Pool | None, list[Finding]]:
    """Check values against the schema: dict, tuple and scalars."""
    if not isinstance(document, dict):
        rule = "the file must be a mapping of keys such as name, units, outline and floor"
        return None, [Finding((), rule, shown(document), "start from 'poolgeo new'")]
    units = document.get("units")
    context = {"units": units if isinstance(units, str) and units in UNITS else None}
    try:
        return Pool.model_validate(document, context=context), []
    except ValidationError as error:
        return None, explain(error.errors(include_url=False), document)


def _frozen(value: object, key: Key, findings: list[Finding]) -> object:
    """Return mappings as dict and lists as tuple; note what no pool file could hold."""
    if isinstance(value, Mapping | list | tuple) and len(key) >= DEEPEST:
        findings.append(Finding(key, f"must not be nested deeper than {DEEPEST} levels"))
        return None
    if isinstance(value, Mapping):
        found = {}
        for name, entry in value.items():
            if isinstance(name, str):
                found[name] = _frozen(entry, (*key, name), findings)
            else:
                findings.append(Finding(key, "must have keys that are text", shown(name)))
        return found
    if isinstance(value, list | tuple):
        return tuple(_frozen(entry, (*key, index), findings) for index, entry in enumerate(value))
    return value
