"""Prints: every sheet of a drawing set as a page of one PDF, and any view as SVG."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

from ..design.layer_table import LayerTable
from ..drawing.drawing_set import DrawingSet
from ..errors import OutputError
from .atomic import whole_file
from .dxf import document_of, fixed_identifiers


def write_prints(drawn: DrawingSet, table: LayerTable, path: str | os.PathLike[str]) -> None:
    """Write every sheet of a set as a page of a PDF.

    Args:
        drawn: The set.
        table: Its layers.
        path: File to write; its name ends in ``.pdf``.

    Raises:
        OutputError: The name does not end in ``.pdf``, or the file cannot be written.
    """
    if Path(path).suffix.lower() != ".pdf":
        msg = f"'{os.fspath(path)}' must end in .pdf; name another file"
        raise OutputError(msg)
    from .paper import print_layouts

    with whole_file(path) as beside, fixed_identifiers():
        document, layouts = document_of(drawn, table)
        pages = [(item, (item.dxf.paper_width, item.dxf.paper_height)) for item in layouts]
        print_layouts(document, pages, beside, drawn.name)


def write_svg(
    drawn: DrawingSet, table: LayerTable, name: str, path: str | os.PathLike[str]
) -> None:
    """Write a view as SVG, in its scale on paper.

    Args:
        drawn: The set.
        table: Its layers.
        name: Of the view, such as ``plan`` or ``section A``.
        path: File to write; its name ends in ``.svg``.

    Raises:
        OutputError: There is no such view, the name of the file does not end in ``.svg``, or it
            cannot be written.
    """
    if Path(path).suffix.lower() != ".svg":
        msg = f"'{os.fspath(path)}' must end in .svg; name another file"
        raise OutputError(msg)
    found = [item for item in drawn.views if item.view.name.casefold() == name.casefold()]
    if not found:
        known = ", ".join(f"'{item.view.name}'" for item in drawn.views)
        msg = f"the view must be one of the set's (got '{name}'): {known}"
        raise OutputError(msg)
    one = replace(found[0], at=(0.0, 0.0))
    alone = replace(drawn, views=(one,), sheets=(), frames=())
    per = one.view.ratio * drawn.system.projection.per_metre / 1000.0
    with whole_file(path) as beside, fixed_identifiers():
        beside.write_text(_svg(alone, table, 1.0 / per), encoding="utf-8")


def _svg(drawn: DrawingSet, table: LayerTable, scale: float) -> str:
    """Return a set in model space as SVG, at a scale [mm per drawing unit]."""
    from ezdxf.addons.drawing.frontend import Frontend
    from ezdxf.addons.drawing.layout import Margins, Page, Settings, Units
    from ezdxf.addons.drawing.properties import RenderContext
    from ezdxf.addons.drawing.svg import SVGBackend

    from .paper import LOOKS, no_chance

    document, _ = document_of(drawn, table)
    backend = SVGBackend()
    with no_chance():
        Frontend(RenderContext(document, export_mode=True), backend, config=LOOKS).draw_layout(
            document.modelspace()
        )
    page, settings = Page(0, 0, Units.mm, Margins.all(5)), Settings(fit_page=False, scale=scale)
    return backend.get_string(page, settings=settings)
