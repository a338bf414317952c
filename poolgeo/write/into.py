"""A drawing set drawn into a drafter's own file, next to what is his.

All that is ours carries the mark of an application, so that a later run takes it out again and
draws it anew; what carries no mark is not touched.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..design.drawing import opened
from ..design.layer_table import LayerTable
from ..design.lengths import Units
from ..drawing.drawing_set import DrawingSet
from ..drawing.layers import PATTERNS, layers_of, line_type_name
from ..drawing.plan_lines import Place, Projection
from ..drawing.sheet import UNIT_SYSTEMS, UnitSystem
from ..drawing.symbols import SYMBOLS, block_name
from ..errors import BadValueError, Finding, OutputError, PoolFileError
from .atomic import whole_file
from .dxf import add_styles, declare_classes, draw
from .layouts import add_sheets
from .pen import LENGTHS

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfentity import DXFEntity

MARK = "POOLGEO"
"""Name of the application whose mark our things carry."""

OLDEST = "AC1015"
"""Release R2000: older ones do not know some of what we draw."""

METRES = {1: 0.0254, 2: 0.3048, 4: 0.001, 5: 0.01, 6: 1.0, 10: 0.9144, 14: 0.1}
"""$INSUNITS -> one drawing unit [m]. Source: DXF reference, header variables."""


@dataclass(frozen=True)
class Host:
    """A drafter's own drawing.

    Args:
        path: Of the file.
        document: What is in it, without what we drew into it before.
        system: Its units.
        reach: The lower left and the upper right corner of what is in it; None where nothing is.
        remarks: What to know.
    """

    path: Path
    document: Drawing
    system: UnitSystem
    reach: tuple[Place, Place] | None
    remarks: tuple[Finding, ...]


def read_host(path: Path, table: LayerTable, units: Units) -> Host:
    """Read a drafter's own drawing, and take out what we drew into it before.

    Args:
        path: Of the file.
        table: Layers that are to be drawn.
        units: Of the pool file; they hold where the drawing says nothing of its own.

    Returns:
        The drawing.

    Raises:
        PoolFileError: It is no drawing, of too old a release or in units that we do not know, or
            has things of its own under our names.
    """
    from ezdxf.bbox import extents

    try:
        document = opened(path)
    except BadValueError as error:
        finding = Finding((), error.rule, error.value, error.remedy, file=str(path))
        raise PoolFileError([finding]) from None
    _take_out(document)
    found = [finding.at(str(path), None) for finding in _findings(document, table)]
    if found:
        raise PoolFileError(found)
    number, remarks = int(document.header.get("$INSUNITS", 0)), []
    if not number:
        rule, remedy = "the drawing must say what its units are", "set $INSUNITS"
        said = Finding((), rule, f"none: taken as {units}", remedy, "warning")
        remarks.append(said.at(str(path), None))
        number = UNIT_SYSTEMS[units].insunits
    if document.header.get("$PSLTSCALE", 1):
        rule = "$PSLTSCALE must be 0 for lines on our sheets to have the patterns of model space"
        said = Finding((), rule, "1", "set it to 0", "warning")
        remarks.append(said.at(str(path), None))
    box = extents(document.modelspace(), fast=True)
    reach = None
    if box.has_data:
        reach = (box.extmin.x, box.extmin.y), (box.extmax.x, box.extmax.y)
    return Host(path, document, _system(number), reach, tuple(remarks))


def _system(number: int) -> UnitSystem:
    """Return units by their number in a drawing."""
    for system in UNIT_SYSTEMS.values():
        if system.insunits == number:
            return system
    name, symbol = {5: ("centimetres", "cm"), 10: ("yards", "yd"), 14: ("decimetres", "dm")}[number]
    return UnitSystem(
        name, symbol, Projection(1.0 / METRES[number], 6), number, metric=number != 10
    )


def _findings(document: Drawing, table: LayerTable) -> Iterator[Finding]:
    """Yield why our things cannot go into a drawing."""
    if document.dxfversion < OLDEST:
        rule, remedy = "must be of release R2000 or later", "save it again as a later one"
        yield Finding((), rule, document.acad_release, remedy)
    number = int(document.header.get("$INSUNITS", 0))
    if number and number not in METRES:
        remedy = "set $INSUNITS to millimetres, metres, feet or inches"
        yield Finding((), "must be in units of length", str(number), remedy)
    own = (
        ("layer", document.layers, [row.name for row in table.layers.values()]),
        ("line type", document.linetypes, [line_type_name(line) for line in PATTERNS]),
        ("style of dimensions", document.dimstyles, [LENGTHS]),
    )
    remedy = "give it another name, in the drawing or in the table of layers"
    for what, entries, names in own:
        for name in dict.fromkeys(names):
            if name in entries:
                rule = f"must have no {what} of its own under a name of ours"
                yield Finding((), rule, f"'{name}'", remedy)
    for kind in SYMBOLS:
        if block_name(kind) in document.blocks:
            rule = "must have no block of its own under a name of ours"
            yield Finding((), rule, f"'{block_name(kind)}'", "give it another name in the drawing")


def _take_out(document: Drawing) -> None:
    """Take all that carries our mark out of a drawing."""
    for name in document.layout_names_in_taborder():
        layout = document.layout(name)
        if layout.dxf_layout.has_xdata(MARK):
            document.layouts.delete(name)
            continue
        for entity in [item for item in layout if item.has_xdata(MARK)]:
            if entity.dxftype() == "DIMENSION":
                document.blocks.delete_block(entity.dxf.geometry, safe=False)
            layout.delete_entity(entity)
    for block in [item for item in document.blocks if item.block_record.has_xdata(MARK)]:
        document.blocks.delete_block(block.name, safe=False)
    tables: tuple[Any, ...] = (document.layers, document.linetypes, document.dimstyles)
    for entries in tables:
        for entry in [item for item in entries if item.has_xdata(MARK)]:
            entries.remove(entry.dxf.name)


def write_into(
    host: Host, drawn: DrawingSet, table: LayerTable, path: str | os.PathLike[str]
) -> None:
    """Draw a set into a drafter's own drawing and write it under a name.

    Args:
        host: The drawing; it holds the set afterwards.
        drawn: The set, in the units of the drawing.
        table: Its layers.
        path: File to write; its name ends in ``.dxf``. It may be the drawing's own.

    Raises:
        OutputError: The name does not end in ``.dxf``, the file cannot be written, or the audit
            finds more in it than in the drawing as it was.
    """
    if Path(path).suffix.lower() != ".dxf":
        msg = f"'{os.fspath(path)}' must end in .dxf; name another file"
        raise OutputError(msg)
    document = host.document
    before = {item.dxf.handle for item in _ours(document)}
    looks, patterns = layers_of(table), float(document.header.get("$LTSCALE", 1.0))
    add_styles(document, looks, drawn.units, drawn.system)
    draw(document, drawn, looks, patterns)
    layouts = add_sheets(document, drawn, looks, patterns)
    if MARK not in document.appids:
        document.appids.add(MARK)
    for item in (*_ours(document), *(layout.dxf_layout for layout in layouts)):
        if item.dxf.handle not in before:
            item.set_xdata(MARK, [(1000, drawn.name)])
    low, high = drawn.reach
    if host.reach is not None:
        (a, b), (c, d) = host.reach
        low, high = (min(low[0], a), min(low[1], b)), (max(high[0], c), max(high[1], d))
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    declare_classes(document)
    with whole_file(path) as beside:
        document.saveas(beside)
        _audit(beside, host.path, path)


def _ours(document: Drawing) -> Iterator[DXFEntity]:
    """Yield what of a drawing may carry a mark: entities, blocks, and entries of tables."""
    for name in document.layout_names_in_taborder():
        yield from document.layout(name)
    yield from (block.block_record for block in document.blocks if not block.is_any_layout)
    yield from document.layers
    yield from document.linetypes
    yield from document.dimstyles


def _audit(written: Path, was: Path, path: str | os.PathLike[str]) -> None:
    """Refuse a drawing in which more needs mending than in what it was.

    Raises:
        OutputError: The audit finds more.
    """
    import ezdxf

    counts = []
    for file in (was, written):
        auditor = ezdxf.readfile(file).audit()
        counts.append(len(auditor.errors) + len(auditor.fixes))
    if counts[1] > counts[0]:
        msg = (
            f"'{os.fspath(path)}' cannot be written: the drawing must have no more faults than"
            f" before (got {counts[1]}, {counts[0]} before); please report this with both files"
        )
        raise OutputError(msg)
