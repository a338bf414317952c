"""JSON Schemas of the files that poolgeo reads, for editors and checkers."""

from __future__ import annotations

from typing import Any

from .design.joint_rules import JointRules
from .design.layer_table import LayerTable
from .design.outlines import Part
from .design.schema import Pool
from .system.methods import Method
from .system.requirements import Requirements
from .system.schema import System

PARTS: dict[str, type[Part]] = {
    "pool": Pool, "system": System, "method": Method, "requirements": Requirements,
    "joint-rules": JointRules, "layer-table": LayerTable,
}  # fmt: skip
"""What may be written, by the file."""


def json_schema(of: str = "pool") -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a file.

    It takes every file that poolgeo takes. It does not know the few rules that tie two values
    together, nor the units, so the default of a length stands in it as text.

    Args:
        of: ``pool``, ``system``, ``method``, ``requirements``, ``joint-rules`` or
            ``layer-table``.
    """
    schema = PARTS[of].model_json_schema(mode="validation")
    for item in (schema, *schema["$defs"].values()):
        for value in item.get("properties", {}).values():
            _default_as_written(value)
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
    return head | schema | {"title": f"{of.capitalize()} file"}


def _default_as_written(value: dict[str, Any]) -> None:
    """Turn the default of a length [m] into text; leave out that of a part, and null.

    That of another quantity, which is written with its unit, is left out too; a share is a number.
    """
    kind = str(value.get("$ref", "")).rpartition("/")[2]
    match value.get("default"):
        case None | dict():
            value.pop("default", None)
        case float() as metres if metres and kind.startswith(("WrittenLength", "WrittenSize")):
            value["default"] = f"{metres * 1000:g} mm"
        case float() | list() | tuple() if kind == "Written" or _of_written(value):
            value.pop("default")


def _of_written(value: dict[str, Any]) -> bool:
    """Whether a value is a list of quantities that are written with their unit."""
    items = value.get("prefixItems", ())
    return any(str(item.get("$ref", "")).endswith("/Written") for item in items)
