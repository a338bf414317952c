"""Each sample's drawing set in short, as it stood when somebody last looked at it.

The summaries in `golden/` tell what changed; whether that is right is for whoever changed it to
see. ``POOLGEO_GOLDEN=write pytest tests/write/test_golden.py`` makes them again; look at the
difference before it is committed.
"""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Iterable, Iterator
from difflib import unified_diff
from pathlib import Path

import pytest
import shapely

from poolgeo.drawing.sheets import Sheet
from poolgeo.drawing.view import View
from tests.drawn_samples import NAMES, Sample, sample

GOLDEN = Path(__file__).resolve().parent / "golden"

IS_WRITTEN = os.environ.get("POOLGEO_GOLDEN") == "write"

LONGEST = 120
"""Lines: a summary is to be read."""

Row = tuple[int, float]
"""How many there are, and how long or large they are together."""


def summary(found: Sample) -> str:
    """Return a drawing set in short; lengths and areas are in metres."""
    drawn = found.drawn
    lines = [f"{drawn.name}, {drawn.units}"]
    for item in drawn.views:
        lines += list(view_lines(item.view, found.per_metre))
    for number, sheet in enumerate(drawn.sheets, 1):
        lines += list(sheet_lines(number, sheet))
    return "\n".join(lines) + "\n"


def view_lines(view: View, per_metre: float) -> Iterator[str]:
    """Yield the lines about a view: its name and scale, then what it holds."""
    yield f"view {view.name} {view.scale}"
    yield from filled(
        f"{what} {count}" + (f" {size:.2f}" if size else "")
        for what, (count, size) in rows(view, per_metre).items()
    )


def sheet_lines(number: int, sheet: Sheet) -> Iterator[str]:
    """Yield the lines about a sheet: its title, size and scales, then its windows."""
    yield f"sheet {number} {sheet.title}, {sheet.size}, {sheet.scales}"
    yield from filled(
        f"{item.window.title}, {item.box.width:.0f} x {item.box.height:.0f} mm"
        for item in sheet.shown
    )


def filled(words: Iterable[str]) -> Iterator[str]:
    """Yield lines that hold as many words as go into each."""
    line = ""
    for word in words:
        if line and len(line) + len(word) > WIDTH:
            yield f"  {line}"
            line = ""
        line += f"; {word}" if line else word
    if line:
        yield f"  {line}"


WIDTH = 130
"""Characters in a line, after which it ends."""


def rows(view: View, per_metre: float) -> dict[str, Row]:
    """Return what a view holds, by content and type."""
    found: dict[str, Row] = defaultdict(lambda: (0, 0.0))

    def add(what: str, size: float = 0.0) -> None:
        count, sum_ = found[what]
        found[what] = count + 1, sum_ + size

    for content, lines in view.lines.items():
        for line in lines:
            add(f"{content.key}: lines", line.length / per_metre)
    for content, rings in view.areas:
        area = shapely.Polygon(rings[0], rings[1:]).area
        add(f"{content.key}: areas", area / per_metre**2)
    for content, places in view.marks.items():
        for _ in places:
            add(f"{content.key}: marks")
    for content in [*(item.content for item in view.texts), *(item.content for item in view.notes)]:
        add(f"{content.key}: texts")
    for name in ("spots", "inserts", "dimensions", "radii", "ordinates", "stations", "legend"):
        for _ in getattr(view, name):
            add(f"view: {name}")
    return dict(sorted(found.items()))


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_set_is_the_one_that_was_looked_at(name: str) -> None:
    path, got = GOLDEN / f"{name}.txt", summary(sample(name))
    assert got.count("\n") < LONGEST
    if IS_WRITTEN:
        path.parent.mkdir(exist_ok=True)
        path.write_text(got, encoding="utf-8")
    want = path.read_text(encoding="utf-8")
    changes = list(unified_diff(want.splitlines(), got.splitlines(), path.name, "now", lineterm=""))
    if changes:
        pytest.fail("\n".join([*changes, "", __doc__ or ""]), pytrace=False)


def test_there_is_a_summary_of_each_sample_and_of_nothing_else() -> None:
    assert sorted(path.stem for path in GOLDEN.iterdir()) == NAMES
