"""Tables: YAML files with a closed schema, of the package by their name, or of the user's own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from poolgeo.errors import Finding, Key, PoolFileError, shown

from .document import Document, parse_document, read_document
from .explain import explain
from .lengths import UNITS
from .origin import Origin
from .outlines import Part

P = TypeVar("P", bound=Part)

FOLDERS = ("systems", "methods", "requirements", "rules", "joint_rules", "layer_tables")
"""Kinds of tables that come with the package."""


def shipped(folder: str) -> list[str]:
    """Return the names of the files of one kind that come with the package."""
    files = resources.files("poolgeo") / folder
    return sorted(item.name.removesuffix(".yaml") for item in files.iterdir()
                  if item.name.endswith(".yaml"))  # fmt: skip


def shipped_text(folder: str, name: str) -> str:
    """Return the text of a file that comes with the package."""
    return (resources.files("poolgeo") / f"{folder}/{name}.yaml").read_text(encoding="utf-8")


def read_table(name: str, folder: Path, kind: str, part: type[P], asked: Key) -> tuple[P, Origin]:
    """Read a file of the package or of the user against a closed schema.

    Args:
        name: Of one of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.
        kind: Folder of the package: ``systems``.
        part: The schema.
        asked: Key of the pool file that asks for it.

    Returns:
        What it holds, and where that is written.

    Raises:
        PoolFileError: There is no such file, or it is not one. A finding without a file is one of
            the pool file's.
    """
    place, document = _read(name, folder, kind, asked)
    origin = Origin(place, document.lines)
    value = document.value
    if not isinstance(value, dict):
        rule, remedy = "the file must be a mapping of keys", "start from 'poolgeo new --copy NAME'"
        raise PoolFileError([origin.place(Finding((), rule, shown(value), remedy))])
    units = value.get("units")
    context = {"units": units if isinstance(units, str) and units in UNITS else None}
    try:
        found = part.model_validate(value, context=context)
    except ValidationError as error:
        wrong = explain(error.errors(include_url=False), value, part)
        wrong = [item for item in wrong if item.key not in document.unread]
        raise PoolFileError(_in_order([*document.findings, *wrong], origin)) from None
    if document.findings:
        raise PoolFileError(_in_order(document.findings, origin))
    return found, origin


def _read(name: str, folder: Path, kind: str, asked: Key) -> tuple[str, Document]:
    if name.endswith((".yaml", ".yml")):
        place = str(folder / name)
        try:
            return place, read_document(folder / name)
        except PoolFileError as error:
            raise PoolFileError([
                replace(item, key=asked, value=item.value or f"'{name}'",
                        remedy=item.remedy.replace("poolgeo new", "poolgeo new --copy NAME"))
                if item.line is None else item.at(place, item.line)
                for item in error.findings
            ]) from None  # fmt: skip
    known = shipped(kind)
    if name not in known:
        rule = "must be a name that comes with poolgeo, or a file that ends in .yaml"
        raise PoolFileError([Finding(asked, rule, f"'{name}'", f"known: {', '.join(known)}")])
    return name, parse_document(shipped_text(kind, name).encode())


def _in_order(found: Iterable[Finding], origin: Origin) -> list[Finding]:
    return sorted(map(origin.place, found), key=lambda item: item.line or 0)
