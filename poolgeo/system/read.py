"""Read a YAML file against a closed schema: one of the package by its name, or the user's own."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import resources
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from ..design.document import Document, parse_document, read_document
from ..design.explain import explain
from ..design.lengths import UNITS
from ..design.load import Origin
from ..design.outlines import Part
from ..errors import Finding, PoolFileError

P = TypeVar("P", bound=Part)


def shipped(folder: str) -> list[str]:
    """Return the names of the files of one kind that come with the package."""
    files = resources.files("poolgeo") / folder
    return sorted(item.name.removesuffix(".yaml") for item in files.iterdir()
                  if item.name.endswith(".yaml"))  # fmt: skip


def read_table(name: str, folder: Path, kind: str, part: type[P]) -> tuple[P, Origin]:
    """Read a file of the package or of the user against a closed schema.

    Args:
        name: Of one of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.
        kind: Folder of the package: ``systems``.
        part: The schema.

    Returns:
        What it holds, and where that is written.

    Raises:
        PoolFileError: There is no such file, or it is not one.
    """
    place, document = _read(name, folder, kind)
    origin = Origin(place, document.lines)
    value = document.value
    units = value.get("units") if isinstance(value, dict) else None
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


def _read(name: str, folder: Path, kind: str) -> tuple[str, Document]:
    if name.endswith((".yaml", ".yml")):
        place = str(folder / name)
        try:
            return place, read_document(folder / name)
        except PoolFileError as error:
            raise PoolFileError([item.at(place, item.line) for item in error.findings]) from None
    known = shipped(kind)
    if name not in known:
        rule = f"the {kind.removesuffix('s')} must be the name of one, or of a file ending in .yaml"
        raise PoolFileError([Finding((), rule, f"'{name}'", f"known: {', '.join(known)}")])
    return name, parse_document((resources.files("poolgeo") / f"{kind}/{name}.yaml").read_bytes())


def _in_order(found: Iterable[Finding], origin: Origin) -> list[Finding]:
    return sorted(map(origin.place, found), key=lambda item: item.line or 0)
