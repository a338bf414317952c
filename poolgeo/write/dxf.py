"""The drawing set as DXF.

Model space is at full size in the units of the pool file. `poolgeo.drawing` says what stands where,
tables of layers what is on which.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from ..design.layer_table import LayerTable
from ..design.lengths import Units
from ..drawing import contents
from ..drawing.contents import Content
from ..drawing.drawing_set import DrawingSet
from ..drawing.layers import PATTERNS, DrawingLayer, layers_of, line_type_name
from ..drawing.plan_lines import Place
from ..drawing.sheet import UnitSystem
from ..errors import OutputError
from .atomic import whole_file
from .dimensions import lengths_style
from .layouts import add_sheets
from .pen import Pen

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Paperspace

Release = Literal["R2000", "R2010", "R2018"]
"""Releases of the file format."""


def write_drawing(
    drawn: DrawingSet,
    table: LayerTable,
    path: str | os.PathLike[str],
    release: Release = "R2010",
) -> None:
    """Write a drawing set as DXF.

    The same pool gives the same bytes: the file carries a fixed date (1 January 2000) and fixed
    identifiers in place of the time of writing. It is read back and audited before it takes its
    name; a file that was there before stays until then.

    Args:
        drawn: The set.
        table: Its layers.
        path: File to write; its name ends in ``.dxf``.
        release: Of the file format.

    Raises:
        OutputError: The name does not end in ``.dxf``, the file cannot be written, or it did not
            pass the audit.
    """
    if Path(path).suffix.lower() != ".dxf":
        msg = f"'{os.fspath(path)}' must end in .dxf; name another file"
        raise OutputError(msg)
    with whole_file(path) as beside, fixed_identifiers():
        document, _ = document_of(drawn, table, release)
        document.saveas(beside)
        audit(beside, path)


@contextmanager
def fixed_identifiers() -> Iterator[None]:
    """Have ezdxf write a fixed date and identifiers while the block runs."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def audit(written: Path, path: str | os.PathLike[str]) -> None:
    """Read a drawing back and refuse it where anything in it needs mending.

    Args:
        written: The file.
        path: The name that it is to have.

    Raises:
        OutputError: There is an error in it, or one that a reader would mend.
    """
    import ezdxf

    auditor = ezdxf.readfile(written).audit()
    found = [*auditor.errors, *auditor.fixes]
    if found:
        msg = (
            f"'{os.fspath(path)}' cannot be written: the drawing must be free of faults"
            f" (got {len(found)}: {found[0].message}); please report this with the pool file"
        )
        raise OutputError(msg)


def document_of(
    drawn: DrawingSet, table: LayerTable, release: Release = "R2010"
) -> tuple[Drawing, list[Paperspace]]:
    """Make the DXF document of a drawing set.

    Args:
        drawn: The set.
        table: Its layers.
        release: Of the file format.

    Returns:
        The document, and the layouts of its sheets in their order.
    """
    import ezdxf

    system, height = drawn.system, drawn.views[0].view.height
    document = ezdxf.new(release, units=system.insunits)
    document.header["$LASTSAVEDBY"] = "poolgeo"
    document.header["$MEASUREMENT"] = int(system.metric)
    document.header["$LUNITS"] = 2  # decimal
    document.header["$LUPREC"] = system.projection.decimals
    document.header["$TEXTSIZE"] = height
    document.header["$LTSCALE"] = height  # patterns are in text heights
    document.header["$PSLTSCALE"] = 0  # a view on a layout breaks lines as model space does
    document.header["$LWDISPLAY"] = 1
    looks = layers_of(table)
    add_styles(document, looks, drawn.units, system)
    draw(document, drawn, looks, height)
    layouts = add_sheets(document, drawn, looks, height)
    if layouts:
        document.layouts.delete("Layout1")
    set_view(document, *drawn.reach)
    declare_classes(document)
    return document, layouts


def declare_classes(document: Drawing) -> None:
    """Declare what kinds of entities a document holds, for programs that do not know them all."""
    for name in sorted(document.entitydb.dxf_types_in_use()):  # it is a set: its order is chance
        document.classes.add_class(name)


def add_styles(
    document: Drawing, looks: Mapping[Content, DrawingLayer], units: Units, system: UnitSystem
) -> None:
    """Add line types, layers and the style of dimensions to a document.

    Args:
        document: The document.
        looks: The layer of each content.
        units: That lengths are written in.
        system: Units of the drawing.
    """
    lengths_style(document, units, system)
    for line, (description, pattern) in PATTERNS.items():
        document.linetypes.add(line_type_name(line), pattern, description=description)
    for content, layer in looks.items():
        if layer.name in document.layers:  # several contents may share one
            continue
        entry = document.layers.add(
            layer.name,
            color=layer.colour,
            linetype=layer.line_type,
            lineweight=layer.weight,
        )
        entry.description = layer.holds
        entry.dxf.plot = int(content not in contents.UNPRINTED)


def draw(
    document: Drawing, drawn: DrawingSet, looks: Mapping[Content, DrawingLayer], patterns: float
) -> None:
    """Draw all views of a set in model space.

    Args:
        document: Has the layers and styles.
        drawn: The set.
        looks: The layer of each content.
        patterns: Height of text that the patterns of lines are made for.
    """
    pen = Pen(document, drawn.system.projection.decimals, looks, patterns)
    for item in drawn.views:
        pen.view(item.view, item.at)


def set_view(document: Drawing, low: Place, high: Place) -> None:
    """Have a drawing open on all that is in it."""
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    width, height = high[0] - low[0], high[1] - low[1]
    centre = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(1.05 * max(height, width / 1.6), centre)
