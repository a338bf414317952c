"""Sheets in paper space: what stands on them, and windows on the model, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ..drawing import contents
from ..drawing.contents import Content
from ..drawing.drawing_set import DrawingSet
from ..drawing.layers import DrawingLayer
from ..drawing.paper import SIZES
from ..drawing.sheets import Shown
from .pen import Pen

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Paperspace

DECIMALS = 4
"""Of a coordinate on paper [mm]."""


def add_sheets(
    document: Drawing, drawn: DrawingSet, looks: Mapping[Content, DrawingLayer], patterns: float
) -> list[Paperspace]:
    """Add the sheets of a set to a drawing as layouts.

    Args:
        document: The drawing.
        drawn: The set.
        looks: The layer of each content.
        patterns: Height of text that the patterns of lines are made for.

    Returns:
        The layouts, in the order of the sheets.
    """
    per_mm, layouts = drawn.system.projection.per_metre / 1000.0, []
    for number, (sheet, frame) in enumerate(zip(drawn.sheets, drawn.frames, strict=True), 1):
        layout = document.layouts.new(_free(document, f"{number} {sheet.groups[0]}"))
        layout.page_setup(size=SIZES[sheet.size], margins=(0, 0, 0, 0), units="mm")
        Pen(document, DECIMALS, looks, patterns, layout).view(frame)
        for item in sheet.shown:
            _window(layout, item, per_mm, looks[contents.VIEWPORTS].name)
        layouts.append(layout)
    return layouts


def _free(document: Drawing, name: str) -> str:
    """Return a name that no layout has: with a number behind it where one has it."""
    taken = {layout.casefold() for layout in document.layouts.names()}
    tried = [name, *(f"{name} ({number})" for number in range(2, len(taken) + 3))]
    return next(item for item in tried if item.casefold() not in taken)


def _window(layout: Paperspace, item: Shown, per_mm: float, layer: str) -> None:
    """Add a viewport."""
    box, low, per = item.box, item.window.low, item.window.ratio * per_mm
    middle = (box.left + box.width / 2.0, box.bottom + box.height / 2.0)
    view = (low[0] + box.width / 2.0 * per, low[1] + box.height / 2.0 * per)
    layout.add_viewport(
        center=middle, size=(box.width, box.height), view_center_point=view,
        view_height=box.height * per, dxfattribs={"layer": layer},
    )  # fmt: skip
