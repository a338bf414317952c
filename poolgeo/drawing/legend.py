"""Words of the drawing: the legend, made from what the plan holds, and the notes under it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal

from poolgeo.design.lengths import format_length
from poolgeo.errors import Finding
from poolgeo.jointing.rows import FinishJoints
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from . import contents
from .contents import Content
from .positions import text_width
from .section_check import cut_findings
from .sheet import UNIT_SYSTEMS, Plot, UnitSystem
from .view import SAMPLE, LegendRow, Note, View

_COLUMNS = 84
"""Characters in a line of notes."""


SELF_EXPLAINING = {
    contents.NOTES, contents.TABLES, contents.NORTH, contents.FRAME, contents.TITLE_BLOCK,
    contents.DIMENSIONS, contents.WHOLE,
}  # fmt: skip
"""Contents that the legend leaves out."""


def legend_rows(views: Sequence[View]) -> list[LegendRow]:
    """Return a row for each kind of thing that views hold, in the order of the layers."""
    return [row for content in contents.CONTENTS for row in _rows(content, views)]


def _rows(content: Content, views: Sequence[View]) -> Iterator[LegendRow]:
    """Yield the rows of a content."""
    if content in SELF_EXPLAINING:
        return
    if any(view.lines.get(content) for view in views):
        yield LegendRow(content, "line", content.holds)
    if content == contents.HATCH and any(view.areas for view in views):
        yield LegendRow(content, "hatch", content.holds)
    if any(view.marks.get(content) for view in views):
        what = content.holds.partition(",")[0]
        yield LegendRow(content, "ring", f"{what} that stands upright")
    if content == contents.FITTINGS:
        kinds = dict.fromkeys(item.kind for view in views for item in view.inserts)
        yield from (LegendRow(content, "symbol", kind.capitalize(), kind) for kind in kinds)
    if content == contents.SET_OUT:
        if any(view.origin is not None for view in views):
            yield LegendRow(content, "ring", content.holds)
        return
    texts = sorted(text.text for view in views for text in view.texts if text.content == content)
    if texts and not any(view.lines.get(content) for view in views):
        sample: Literal["cross", "text"] = "cross" if content == contents.DEPTHS else "text"
        text = min(texts, key=len)
        if text_width(text, 1.0) > SAMPLE and sample == "text":
            text = text.split()[-1]
        yield LegendRow(content, sample, content.holds, text)


ROW, TEXT = 2.0, 7.5
"""Distance between the rows of the legend, and from the start of a sample to the text, in text
heights."""


def legend_view(views: Sequence[View], like: View, columns: int = 1) -> View:
    """Lay the legend of views out, down from the origin.

    Args:
        views: What it explains.
        like: The view whose scale it has.
        columns: In which its rows stand.

    Returns:
        The legend as a view.
    """
    h = like.height
    rows = legend_rows(views)
    tall = -(-len(rows) // columns)
    notes, placed, x = [Note(contents.LEGEND, "Legend", (0.0, -1.4 * h), 1.4)], [], 0.0
    for first in range(0, len(rows), max(tall, 1)):
        column = rows[first : first + tall]
        for number, row in enumerate(column, 1):
            y = -(1.6 + number * ROW) * h
            placed.append((row, (x, y)))
            notes.append(Note(contents.LEGEND, row.says, (x + TEXT * h, y - 0.5 * h)))
        x += (TEXT + 2.0) * h + max(text_width(row.says, h) for row in column)
    return View("legend", "Legend", like.ratio, like.scale, h, {}, notes=notes, legend=placed)


def notes_view(title: str, lines: Sequence[str], like: View) -> View:
    """Lay title and notes out, down from the origin.

    Args:
        title: Over them.
        lines: Of notes.
        like: The view whose scale it has.

    Returns:
        Both as a view.
    """
    h = like.height
    notes = [Note(contents.TITLE, title, (0.0, -2.0 * h), 2.0)]
    notes += [
        Note(contents.TITLE, line, (0.0, -(2.2 + 1.7 * number) * h))
        for number, line in enumerate(lines, 1)
    ]
    return View("notes", "Notes", like.ratio, like.scale, h, {}, notes=notes)


def notes(
    model: Model,
    takeoff: Takeoff,
    system: UnitSystem,
    plot: Plot,
    joints: FinishJoints | None = None,
) -> list[str]:
    """Return the notes under the title, line by line, with every warning of the takeoff."""
    level = "Depths are below the water level"
    if len(model.bodies) > 1:
        level += ", each body's below its own"
    if not all(len(body.wetted.triangles) for body in model.bodies):
        level += ", or below the pool's where it is dry at rest"
    units = model.design.pool.units
    found = [
        f"Plan. One drawing unit is 1 {system.symbol}; lengths are in {UNIT_SYSTEMS[units].name}.",
        f"{level}.",
        "Faces close towards the water at an internal edge and turn away at an external one.",
        f"Text is sized for plotting at {plot.scale} on {plot.paper}.",
    ]
    found += [_without_file(finding) for finding in (*takeoff.warnings, *cut_findings(model))]
    if joints is not None:
        rules = joints.rules
        bay = format_length(joints.bay, units)
        limit = format_length(rules.bays.longest, units)
        found.append(
            f"Movement joints of the finish by '{rules.name}' ({rules.bays.cited}): longest bay"
            f" {bay} of {limit}. Distances are from the set-out origin, in plan. Joints are formed"
            " while tiling. Never cut through the finish: the membrane lies under it."
        )
        found += [_without_file(remark.finding) for remark in joints.remarks]
    return [
        line for note in found for line in textwrap.wrap(note, _COLUMNS, subsequent_indent="  ")
    ]


def _without_file(finding: Finding) -> str:
    """Write a warning without the file that it is about: the drawing may travel alone."""
    text = str(replace(finding, file="", line=None))
    return text[0].upper() + text[1:]
