"""Pages of a PDF, drawn by ezdxf's drawing add-on from layouts of a document.

Imported only where something is printed: its classes have classes of ezdxf as their bases.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from ezdxf.addons.drawing.backend import Backend, BkPath2d, BkPoints2d, ImageData
from ezdxf.addons.drawing.config import BackgroundPolicy, Configuration
from ezdxf.addons.drawing.frontend import UniversalFrontend
from ezdxf.addons.drawing.pipeline import RenderPipeline2d
from ezdxf.addons.drawing.properties import RenderContext
from ezdxf.bbox import Cache
from ezdxf.math import Vec2
from ezdxf.path import Command

if TYPE_CHECKING:
    from ezdxf.addons.drawing.properties import BackendProperties
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Layout
    from reportlab.pdfgen.canvas import Canvas

POINTS = 72.0 / 25.4
"""Points in a millimetre."""

THINNEST = 0.13
"""[mm] No line is thinner: ISO 128-2's thinnest line (from memory)."""

LINE, QUADRATIC, CUBIC = (
    int(code) for code in (Command.LINE_TO, Command.CURVE3_TO, Command.CURVE4_TO)
)
"""Kinds of pieces of a path, as plain numbers: they are asked for a million times."""

LOOKS = Configuration(background_policy=BackgroundPolicy.WHITE, min_dash_length=1e-6)
"""How ezdxf draws; as a rule it draws no dash shorter than 0.1 drawing units, be they metres."""


def print_layouts(
    document: Drawing,
    layouts: Sequence[tuple[Layout, tuple[float, float]]],
    path: Path,
    title: str,
) -> None:
    """Write layouts as pages of a PDF.

    Args:
        document: That they are in.
        layouts: Each with the size of its paper; what is in it is in mm, from the lower left
            corner [mm].
        path: File to write.
        title: Of the PDF.
    """
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(str(path), invariant=1, pageCompression=1)
    canvas.setTitle(title)
    canvas.setCreator("poolgeo")
    context, boxes = RenderContext(document, export_mode=True), Cache()
    with no_chance():
        for layout, (width, height) in layouts:
            canvas.setPageSize((width * POINTS, height * POINTS))
            canvas.scale(POINTS, POINTS)
            canvas.addLiteral("1 J 1 j")  # round ends and corners
            pipeline = Windows(Paper(canvas))
            UniversalFrontend(context, pipeline, LOOKS, boxes).draw_layout(layout)
            canvas.showPage()
    with _plain_bytes():
        canvas.save()


@contextmanager
def no_chance() -> Iterator[None]:
    """Have ezdxf shift lines of hatching off their corners by the same hair each time.

    Yields:
        Nothing; Python's random numbers go on afterwards as they would have.
    """
    before = random.getstate()
    random.seed(1)
    try:
        yield
    finally:
        random.setstate(before)


@contextmanager
def _plain_bytes() -> Iterator[None]:
    """Have reportlab write compressed bytes as they are while the block runs, not as letters."""
    from reportlab import rl_config

    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


class Windows(RenderPipeline2d):
    """Draws what viewports show with line types as model space has them, as the header says.

    ezdxf takes $PSLTSCALE for 1 whatever it is; here patterns have the size of model space.
    """

    def get_vp_ltype_scale(self) -> float:
        """Return how much larger a pattern is on paper than in model space."""
        return float(self.current_vp_scale)


class Paper(Backend):
    """Draws on the page of a PDF, in mm, by the operators of its content stream.

    Args:
        canvas: Of the PDF.

    Source: ISO 32000-1, 8.5 (paths: m, l, c, h; S strokes, f fills, f* leaves holes out).
    """

    def __init__(self, canvas: Canvas) -> None:
        super().__init__()
        self._canvas = canvas
        self._pen: tuple[str, float] | None = None

    def draw_point(self, pos: Vec2, properties: BackendProperties) -> None:
        """Draw a dot as wide as the line: its ends are round."""
        self.draw_line(pos, pos, properties)

    def draw_line(self, start: Vec2, end: Vec2, properties: BackendProperties) -> None:
        """Draw a line."""
        self.draw_solid_lines([(start, end)], properties)

    def draw_solid_lines(
        self, lines: Iterable[tuple[Vec2, Vec2]], properties: BackendProperties
    ) -> None:
        """Draw lines."""
        parts = [f"{a.x:.3f} {a.y:.3f} m {b.x:.3f} {b.y:.3f} l" for a, b in lines]
        self._add(parts, "S", properties)

    def draw_path(self, path: BkPath2d, properties: BackendProperties) -> None:
        """Draw a path's line."""
        self._add(operators(path), "S", properties)

    def draw_filled_paths(self, paths: Iterable[BkPath2d], properties: BackendProperties) -> None:
        """Fill paths; what lies in a hole of one is left out."""
        self._add([part for path in paths for part in operators(path)], "f*", properties)

    def draw_filled_polygon(self, points: BkPoints2d, properties: BackendProperties) -> None:
        """Fill a polygon."""
        corners = [f"{point.x:.3f} {point.y:.3f}" for point in points.vertices()]
        parts = [f"{corners[0]} m", *(f"{corner} l" for corner in corners[1:])]
        self._add(parts, "h f", properties)

    def draw_image(self, image_data: ImageData, properties: BackendProperties) -> None:
        """Draw nothing: our drawings hold no images."""

    def set_background(self, color: str) -> None:
        """Leave the paper white."""

    def clear(self) -> None:
        """Leave what is drawn."""

    def _add(self, parts: Sequence[str], paint: str, properties: BackendProperties) -> None:
        """Add a path to the page, in the colour and with the width of its line."""
        if not parts:
            return
        pen = properties.color, max(properties.lineweight, THINNEST)
        if pen != self._pen:
            rgb = " ".join(f"{part:.3f}" for part in properties.rgb.to_floats())
            self._canvas.addLiteral(f"{rgb} RG {rgb} rg {pen[1]:.3f} w")
            self._pen = pen
        self._canvas.addLiteral(" ".join([*parts, paint]))


def operators(path: BkPath2d) -> list[str]:
    """Return the operators that make a path; a parabola becomes the cubic curve that it is."""
    vertices = path.np_vertices().tolist()
    if not vertices:
        return []
    (x, y), at = vertices[0], 1
    parts = [f"{x:.3f} {y:.3f} m"]
    for code in path.command_codes():
        if code == QUADRATIC:
            (u, v), (e, f) = vertices[at : at + 2]
            a, b = x + 2 / 3 * (u - x), y + 2 / 3 * (v - y)
            c, d, x, y = e + 2 / 3 * (u - e), f + 2 / 3 * (v - f), e, f
            parts.append(f"{a:.3f} {b:.3f} {c:.3f} {d:.3f} {x:.3f} {y:.3f} c")
            at += 2
        elif code == CUBIC:
            (a, b), (c, d), (x, y) = vertices[at : at + 3]
            parts.append(f"{a:.3f} {b:.3f} {c:.3f} {d:.3f} {x:.3f} {y:.3f} c")
            at += 3
        else:
            x, y = vertices[at]
            parts.append(f"{x:.3f} {y:.3f} l" if code == LINE else f"{x:.3f} {y:.3f} m")
            at += 1
    return parts
