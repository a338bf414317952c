"""No number stands in a message without its unit: only then is it rewritten in a file's units."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from poolgeo.errors import PoolFileError

from .measure.quantities import level, pool, rectangle, takeoff_of

ROOT = Path(__file__).resolve().parent.parent / "poolgeo"

SPEAKERS = sorted(
    path
    for folder in ("", "design", "plan", "surface", "fittings", "measure", "system", "review")
    for path in (ROOT / folder).glob("**/*.py" if folder else "*.py")
    if path.name != "lengths.py"  # writes the numbers themselves
)
"""Modules that leave findings."""

NUMBER, OTHER = "1.234", "{}"
"""What stands for a formatted number, and for any other value, in the text of an f-string."""

SAID = re.compile(
    r"\(1\.234(, 1\.234)+\) m\b"  # a place
    r"|1\.234 (m|m2|m3|mm|%|degrees|C|F|h|d|MPa|kPa)(?![\w])"
    r"|1\.234\{unit\}"
    r"|1:1\.234"  # a slope: rise to run
    r"|slopes? of 1\.234( and 1\.234)?"
)
"""A number as messages may write it."""


def bare_numbers(source: str) -> list[str]:
    """Return the texts of f-strings with a number that has no unit behind it."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.JoinedStr):
            continue
        text = "".join(_part(value) for value in node.values)
        if NUMBER in SAID.sub("", text):
            found.append(text)
    return found


def _part(value: ast.expr) -> str:
    if isinstance(value, ast.Constant):
        return str(value.value)
    assert isinstance(value, ast.FormattedValue)
    spec = ast.unparse(value.format_spec) if value.format_spec is not None else ""
    if re.search(r"[0-9][feg]", spec):
        return NUMBER
    return "{unit}" if ast.unparse(value.value) == "unit" else OTHER


def test_a_message_writes_no_number_without_its_unit() -> None:
    found = {path.name: bare_numbers(path.read_text()) for path in SPEAKERS}
    assert not {name: texts for name, texts in found.items() if texts}


def test_a_file_in_feet_reads_feet() -> None:
    """Places along the outline, and what the schema itself compares."""
    recess = {"start": [-10, -7.5], "end": [5, -7.5], "width": "2 in", "depth": "6 in"}
    file = pool(
        rectangle(30.0, 15.0),
        level(4.0),
        recess=[recess, {**recess, "start": [0, -7.5], "end": [10, -7.5]}],
    ) | {"units": "ft"}
    with pytest.raises(PoolFileError) as caught:
        takeoff_of(file)
    assert "from 15' 0\" to 25' 0\" along the outline" in str(caught.value)
    deepens = {"start": 4, "end": 3, "radius": 1}
    with pytest.raises(PoolFileError) as caught:
        takeoff_of(file | {"cove": {"radius": 0.5, "deepens": deepens}})
    assert "(got 3' 0\"; 'start' is 4' 0\")" in str(caught.value)


@pytest.mark.parametrize(
    ("source", "bare"),
    [
        ('f"from {a:.3f} to {b:.3f} m"', 1),
        ('f"from {a:.3f} m to {b:.3f} m"', 0),
        ('f"at ({x:.3f}, {y:.3f})"', 1),
        ('f"at ({x:.3f}, " f"{y:.3f}) m, {area:.3f} m2"', 0),
        ('f"{radius:.3f}{unit}"', 0),
        ('f"{radius:.3f}{name}"', 1),
    ],
)
def test_a_bare_number_is_found(source: str, bare: int) -> None:
    assert len(bare_numbers(source)) == bare
