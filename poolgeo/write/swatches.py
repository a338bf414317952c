"""The picture's legend: a column of swatches and words beside the scene."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING

from ..drawing.palette import EDGES, FITTINGS, SURFACES, Rgb

if TYPE_CHECKING:
    import pyvista

_ROWS = 27
"""Rows that the column has room for at the size of words that is asked; more make them smaller."""
_MARGIN = 1.5
"""Rows above the first, and below the last."""
_SWATCH = (0.3, 1.9)
"""Left and right end of a swatch, in rows."""


def add_swatches(
    plotter: pyvista.Plotter,
    kinds: Collection[str],
    senses: Collection[str],
    lines: Mapping[str, Rgb],
    ink: Rgb,
    font_size: int,
    *,
    fittings: bool = False,
) -> None:
    """Fill the active part of a plotter with the legend of what the scene holds.

    Args:
        plotter: Its active part becomes the legend.
        kinds: Kinds of surface that are there.
        senses: Senses of edges that are there.
        lines: Words and colours of thin lines that are there.
        ink: Colour of words.
        font_size: Size of words, as pyvista counts it.
        fittings: Whether there are fittings.
    """
    width, height = plotter.renderer.GetSize()
    shown = [sum(kind in kinds for kind in SURFACES), len(senses), len(lines)]
    if fittings:
        shown.append(len(FITTINGS))
    rows = max(_ROWS, sum(shown) + 0.5 * len(shown) + 2.0 * _MARGIN)
    column = _Column(plotter, (width / height * rows, rows), ink, round(font_size * _ROWS / rows))
    for kind, surface in SURFACES.items():
        if kind in kinds:
            column.row(surface.label, [_SWATCH], 0.7, surface.rgb, surface.opacity)
    column.gap()
    for sense, edge in EDGES.items():
        if sense in senses:
            spans = [(0.3, 0.75), (0.95, 1.4), (1.6, 1.9)] if edge.dashed else [_SWATCH]
            column.row(edge.label, spans, 0.16 * edge.width, edge.rgb, 1.0)
    for words, rgb in lines.items():
        column.row(words, [_SWATCH], 0.08, rgb, 1.0)
    if fittings:
        column.gap()
        for part in FITTINGS.values():
            column.row(part.label, [_SWATCH], 0.7, part.rgb, 1.0)


class _Column:
    """Rows from the top down, seen square on; a row is 1 high.

    Args:
        plotter: Its active part is filled.
        size: Width and height of the column, in rows.
        ink: Colour of words.
        font_size: Size of words.
    """

    def __init__(
        self, plotter: pyvista.Plotter, size: tuple[float, float], ink: Rgb, font_size: int
    ) -> None:
        self._plotter = plotter
        self._width, self._rows = width, rows = size
        self._ink = ink
        self._font_size = font_size
        self._row = _MARGIN
        camera = plotter.camera
        camera.parallel_projection = True
        camera.position = (width / 2, -rows / 2, 10.0)
        camera.focal_point = (width / 2, -rows / 2, 0.0)
        camera.up = (0.0, 1.0, 0.0)
        camera.parallel_scale = rows / 2
        camera.clipping_range = (1.0, 20.0)
        plotter.renderer.InteractiveOff()

    def gap(self) -> None:
        """Leave half a row free."""
        self._row += 0.5

    def row(
        self,
        label: str,
        spans: list[tuple[float, float]],
        thickness: float,
        rgb: Rgb,
        opacity: float,
    ) -> None:
        """Add a row: bars over the given spans (from, to), and the words."""
        import pyvista

        low, high = -self._row - thickness / 2, -self._row + thickness / 2
        for start, end in spans:
            bar = pyvista.Rectangle([[start, low, 0.0], [end, low, 0.0], [end, high, 0.0]])
            self._plotter.add_mesh(
                bar, color=rgb, opacity=opacity, lighting=False, reset_camera=False
            )
        self._plotter.add_text(
            label,
            position=(2.4 / self._width, 1 - (self._row + 0.3) / self._rows),
            viewport=True,
            color=self._ink,
            font_size=self._font_size,
        )
        self._row += 1.0
