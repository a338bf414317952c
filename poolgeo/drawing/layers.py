"""How the contents of a drawing look: layers by a table, and the patterns of lines."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.layer_table import LayerTable, LineType
from .contents import CONTENTS, Content

PATTERNS: dict[LineType, tuple[str, tuple[float, ...]]] = {
    "dashed": ("__ __ __", (1.6, 1.0, -0.6)),
    "dotted": (". . . .", (0.6, 0.2, -0.4)),
    "long-dashed dotted": ("____ . ____", (3.2, 2.0, -0.5, 0.2, -0.5)),
    "long-dashed double-dotted": ("____ . . ____", (3.4, 1.8, -0.4, 0.2, -0.4, 0.2, -0.4)),
}
"""Type of line -> how it looks, and its pattern (whole length; dash above, gap below 0) in text
heights, which the drawing's $LTSCALE turns into its units. Dots are short dashes, for programs that
draw no dots. Source of the types: ISO 128-2, line types 02, 07, 04 and 05 (from memory); lengths
are our own, as the standard's go by the width of the line."""


@dataclass(frozen=True)
class DrawingLayer:
    """One layer of a drawing.

    Args:
        name: Its name.
        holds: What goes on it, as the legend says it.
        colour: DXF colour number (7 is black on white paper, white on a black screen).
        line_type: Name of its type of line in the drawing.
        weight: Width of the line [mm/100].
    """

    name: str
    holds: str
    colour: int
    line_type: str
    weight: int


def line_type_name(line: LineType) -> str:
    """Return the name that a type of line has in a drawing: ``POOL-LONG-DASHED-DOTTED``."""
    return "CONTINUOUS" if line == "continuous" else "POOL-" + line.upper().replace(" ", "-")


def layers_of(table: LayerTable) -> dict[Content, DrawingLayer]:
    """Return the layer of each content, in the order in which they are drawn."""
    return {
        content: DrawingLayer(
            row.name, content.holds, row.colour, line_type_name(row.line), row.weight
        )
        for content in CONTENTS
        for row in [table.layers[content.key]]
    }
