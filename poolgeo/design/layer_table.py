"""Tables of layers: under what name, and how, each content of a drawing is drawn. Data.

Two come with poolgeo; a drafter's office writes its own.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal, Self, get_args

from pydantic import Field, field_validator, model_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .tables import read_table
from .values import Form, Name, WhenLeftOut

ContentKey = Literal[
    "outer face",
    "waterline",
    "outline",
    "floor breaks",
    "steps",
    "benches",
    "spa",
    "overflow",
    "recesses",
    "coves",
    "external edges",
    "internal edges",
    "structure joints",
    "finish edge joints",
    "finish joints",
    "fittings",
    "run numbers",
    "fitting numbers",
    "structure joint numbers",
    "finish joint numbers",
    "set-out",
    "depths",
    "legend",
    "title",
    "hidden lines",
    "overhead lines",
    "cut lines",
    "cut concrete",
    "concrete hatch",
    "water level",
    "beyond",
    "wall lines",
    "build-up",
    "dimensions",
    "slopes",
    "radii",
    "areas",
    "notes",
    "tables",
    "north",
    "sheet frame",
    "title block",
    "viewports", "whole outlines",
]  # fmt: skip
"""What a drawing holds: each content has a layer."""

LineType = Literal[
    "continuous", "dashed", "dotted", "long-dashed dotted", "long-dashed double-dotted",
]  # fmt: skip
"""Types of line, by the names that ISO 128-2 has for them."""

Weight = Literal[13, 18, 25, 35, 50, 70, 100, 140, 200]
"""[mm/100] Widths of line, each 1.4 times the one before. Source: ISO 128-2 (from memory)."""

LayerName = Annotated[
    str,
    Field(min_length=1, max_length=255, pattern=r"^[^<>/\\\":;?*|=`,]+$"),
    Form("text of 1 to 255 characters, none of < > / \\ : ; ? * | = ` , and quotes"),
]
"""Names that layers in DXF may have."""

TAKEN = {"0", "defpoints"}
"""Names of layers that every drawing has, in small letters."""


class LayerRow(Part):
    """The layer of one content."""

    name: LayerName = Field(description="Of the layer.")
    colour: Annotated[int, Field(ge=1, le=255)] = Field(
        default=7, description="Colour number of DXF; 7 is black on white."
    )
    line: LineType = Field(default="continuous", description="Type of line.")
    weight: Weight = Field(default=25, description="Width of line, in hundredths of a millimetre.")

    @field_validator("name")
    @classmethod
    def _of_its_own(cls, name: str) -> str:
        if name.casefold() in TAKEN:
            rule, remedy = "must be none that every drawing has", "give the layer another name"
            raise BadValueError(rule, f"'{name}'", remedy)
        return name


class LayerTable(Part):
    """A table of layers."""

    name: Name = Field(description="Of the table.")
    source: Annotated[str | None, WhenLeftOut("none")] = Field(
        default=None, description="Where its names come from."
    )
    layers: dict[ContentKey, LayerRow] = Field(description="The layer of each content.")

    @model_validator(mode="after")
    def _alike(self) -> Self:
        rows: dict[str, LayerRow] = {}
        for row in self.layers.values():
            first = rows.setdefault(row.name.casefold(), row)
            if (first.colour, first.line, first.weight) != (row.colour, row.line, row.weight):
                rule = "must give one look to a layer that contents share"
                remedy = "write the same colour, line and weight, or another name"
                raise BadValueError(rule, f"two for '{row.name}'", remedy)
        return self

    @model_validator(mode="after")
    def _whole(self) -> Self:
        missing = [key for key in get_args(ContentKey) if key not in self.layers]
        if missing:
            rule = "must name a layer for each content"
            raise BadValueError(rule, f"none for {', '.join(missing)}", "add them")
        return self


def layer_table(name: str, folder: Path = Path()) -> LayerTable:
    """Return a table by its name, or from a file.

    Args:
        name: Of a table of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.

    Returns:
        The table; that there is none, or that it is not sound, raises `PoolFileError`.
    """
    return read_table(name, folder, "layer_tables", LayerTable, ("drawings", "layers"))[0]
