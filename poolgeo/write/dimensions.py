"""The style of dimensions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..design.lengths import Units
from ..drawing.sheet import UNIT_SYSTEMS, UnitSystem
from ..drawing.view import DIM_GAP
from .pen import LENGTHS

if TYPE_CHECKING:
    from ezdxf.document import Drawing


def lengths_style(document: Drawing, units: Units, system: UnitSystem) -> None:
    """Add the style of dimensions to a drawing: sizes in text heights.

    Metres and millimetres are decimal; feet and inches are as builders write them.

    Args:
        document: The drawing.
        units: That lengths are written in.
        system: Units of the drawing.
    """
    style = document.dimstyles.new(LENGTHS)
    sizes = {"dimtxt": 1.0, "dimgap": DIM_GAP, "dimexo": 0.3, "dimexe": 0.3, "dimasz": 0.8}
    for name, value in sizes.items():
        style.dxf.set(name, value)
    style.dxf.dimtad = 1  # text above its line
    style.dxf.dimtix = 1  # and over its middle, where it is wider too
    style.dxf.dimtsz = 0.5  # oblique strokes at its ends
    if units in {"ft", "in"}:
        style.dxf.dimlunit = 4  # architectural: 3'-6"
        style.dxf.dimdec = 4  # sixteenths
    else:
        style.dxf.dimlunit = 2  # decimal
        style.dxf.dimdec = 3 if units == "m" else 0
        style.dxf.dimzin = 0
        style.dxf.dimdsep = ord(".")
    # what is measured in the drawing's units is written in the file's, in inches where it has feet
    written = UNIT_SYSTEMS["in" if units == "ft" else units].projection.per_metre
    style.dxf.dimlfac = round(written / system.projection.per_metre, 9)
