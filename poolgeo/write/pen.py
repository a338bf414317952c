"""Entities of the drawing, each on its layer."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from ..drawing import contents
from ..drawing.contents import Content
from ..drawing.layers import DrawingLayer
from ..drawing.plan_lines import Place, PlanLine, Rings
from ..drawing.positions import Position, text_width, upright
from ..drawing.symbols import SYMBOLS, TAGS, Insert, block_name, mark_radius
from ..drawing.view import (
    DIM_GAP,
    SAMPLE,
    LegendRow,
    Note,
    Ordinate,
    Radius,
    Text,
    View,
)
from .associations import Hold, associate

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dimstyleoverride import DimStyleOverride
    from ezdxf.layouts.base import BaseLayout

    from poolgeo.design.fittings import FittingKind

LENGTHS = "POOL-LENGTHS"
"""Name of the style of dimensions from place to place."""
_DASHES_RUN_ON = 128
"""Flag of a polyline whose pattern runs on past its points: DXF reference, LWPOLYLINE, group 70."""
DECIMAL = 2
"""Of a style of dimensions: its units. DXF reference, DIMSTYLE, group 277."""
HATCHING: dict[str, list[tuple[float, Place, Place, list[float]]]] = {
    "ANSI31": [(45.0, (0.0, 0.0), (-0.75, 0.75), [])],
    "ANSI37": [(45.0, (0.0, 0.0), (-0.27, 0.27), []), (135.0, (0.0, 0.0), (-0.27, -0.27), [])],
}
"""Name of a pattern -> its lines in text heights: angle, a place, and from there to the next line.
Given by us: what programs know under these names is in millimetres in one drawing, in inches in
another."""
_GREY = 8
"""DXF colour number of leaders, which stand back behind what they cross."""


class Pen:
    """Draws views in a space of a document.

    Args:
        document: A document that has the layers, line types and styles.
        decimals: Decimals of a coordinate.
        looks: The layer of each content.
        patterns: Height of text that the patterns of lines are made for, in drawing units.
        space: To draw in; the model space where none is given.
    """

    def __init__(
        self,
        document: Drawing,
        decimals: int,
        looks: Mapping[Content, DrawingLayer],
        patterns: float,
        space: BaseLayout | None = None,
    ) -> None:
        self._document = document
        self._space = space or document.modelspace()
        self._decimals = decimals
        self._looks = looks
        self._patterns = patterns
        self._shift = (0.0, 0.0)
        self._height = patterns
        self._fine = False
        self._holds: dict[Place, Hold] = {}

    def view(self, view: View, shift: Place = (0.0, 0.0)) -> None:
        """Draw a view, content by content.

        Args:
            view: The view.
            shift: Where its origin is.
        """
        self._shift, self._height, self._fine = shift, view.height, view.fine
        self._holds = {}
        self._lines(view)
        self._dimensions(view)
        if view.origin is not None:
            self._target(view.origin, view.direction)
        for insert in view.inserts:
            self._symbol(insert, self._on(contents.FITTINGS))
        for row, place in view.legend:
            self._sample(row, place)
        for text in view.texts:
            self._label(text)
        for note in view.notes:
            self._level_text(note)

    def _lines(self, view: View) -> None:
        """Draw what a view has of hatching, lines, and marks of places."""
        for content, rings in view.areas:
            self._hatch(rings, self._on(content), content)
        for content in contents.CONTENTS:
            for line in view.lines.get(content, ()):
                self._line(line, self._on(content))
            for place in view.marks.get(content, ()):
                self._ring(place, self._on(content))
        for place in view.spots:
            self._cross(place, self._on(contents.DEPTHS))

    def _label(self, text: Text) -> None:
        """Write a text in its place, with its leader."""
        self._middle_text(text.text, text.at, text.content)
        if text.at.leader:
            start, end = map(self._place, text.at.leader)
            look = {**self._on(text.content), "color": _GREY}
            self._space.add_line(start, end, dxfattribs=look)

    def _level_text(self, note: Note) -> None:
        """Write level text from its lower left corner, or up to its lower right one."""
        from ezdxf.enums import TextEntityAlignment

        place, height = self._place(note.corner), self._round(note.size * self._height)
        attributes = {**self._on(note.content), "height": height}
        entity = self._space.add_text(_one_line(note.text), dxfattribs=attributes)
        side = TextEntityAlignment.RIGHT if note.is_right else TextEntityAlignment.LEFT
        entity.set_placement(place, align=side)

    def _dimensions(self, view: View) -> None:
        """Draw dimensions: from place to place, of radii, and running ones."""
        for item in view.dimensions:
            start, end, through = map(self._place, (item.start, item.end, item.through))
            style = self._space.add_linear_dim(
                base=through, p1=start, p2=end, angle=upright(item.angle), text=item.text,
                dimstyle=LENGTHS, override=self._sizes(), dxfattribs=self._on(contents.DIMENSIONS),
            )  # fmt: skip
            self._render(style)
            holds = [self._holds[place] for place in (start, end) if place in self._holds]
            if len(holds) == 2:
                associate(self._document, style.dimension, holds)
        for radius in view.radii:
            self._radius(radius)
        content = contents.DIMENSIONS if view.origin is None else contents.SET_OUT
        for ordinate in view.ordinates:
            self._ordinate(ordinate, view.zero, view.direction, content)
        for station in view.stations:
            self._ordinate(station, view.base, 0.0, contents.DIMENSIONS)

    def _radius(self, item: Radius) -> None:
        """Draw the radius of an arc: its text, and a line from the arc to that."""
        centre, on = self._place(item.centre), self._place(item.on)
        style = self._space.add_radius_dim(
            centre, radius=math.dist(centre, on), location=self._place(item.at.centre),
            text=item.text, dimstyle=LENGTHS, override={**self._sizes(), "dimtad": 0},
            dxfattribs=self._on(contents.RADII),
        )  # fmt: skip
        self._render(style, on)
        block = self._document.blocks.get(style.dimension.dxf.geometry)
        for line in list(block.query("LINE")):  # from the centre on, however far that is
            block.delete_entity(line)
        x, y = self._place(item.at.centre)
        far = math.dist((x, y), on)
        room = text_width(item.text, self._height) / 2.0 + DIM_GAP * self._height
        if far > room:
            share = 1.0 - room / far
            end = on[0] + share * (x - on[0]), on[1] + share * (y - on[1])
            block.add_line(on, end, dxfattribs={"color": 0})

    def _sizes(self) -> dict[str, float]:
        """Return what makes the sizes of dimensions those of the view."""
        sizes = {"dimscale": self._round(self._height)}
        style = self._document.dimstyles.get(LENGTHS)
        if self._fine and style.dxf.dimlunit == DECIMAL and style.dxf.dimdec:
            sizes |= {"dimlfac": 1000.0 * style.dxf.dimlfac, "dimdec": 0}
        return sizes

    def _ordinate(self, item: Ordinate, zero: Place, direction: float, content: Content) -> None:
        """Draw a running dimension at the end of a leader."""
        # text stands across the first axis, or along the other: half a turn more, and it reads
        turn = upright(direction + 90.0 * (item.axis == 0)) - 90.0 * (item.axis == 0)
        add = self._space.add_ordinate_x_dim if item.axis == 0 else self._space.add_ordinate_y_dim
        start, end, zero = map(self._place, (item.start, item.end, zero))
        style = add(
            start, offset=(0.0, 1.0), origin=zero, rotation=turn, text=item.text,
            dimstyle=LENGTHS, override={**self._sizes(), "dimtad": 0}, dxfattribs=self._on(content),
        )  # fmt: skip
        # ezdxf turns what it is given about two centres; here all is where it is to be
        style.dimension.dxf.defpoint2 = start
        style.dimension.dxf.defpoint3 = end
        self._render(style, sign=item.text.startswith("-"))

    def _render(
        self, style: DimStyleOverride, on: Place | None = None, *, sign: bool = False
    ) -> None:
        """Draw a dimension as it says, then have it measure that by itself.

        Args:
            style: The dimension.
            on: Of a radius, the place on the arc.
            sign: Whether it has a minus: running dimensions measure without a sign.
        """
        style.render()
        style.dimension.dxf.text = "-<>" if sign else "<>"
        if on is not None:
            style.dimension.dxf.defpoint4 = on

    def _target(self, place: Place, direction: float) -> None:
        """Draw the set-out origin: a ring with a cross that reaches beyond it, along the rows."""
        (x, y), arm = place, 2.5 * mark_radius(self._height)
        look = self._on(contents.SET_OUT)
        for angle in (direction, direction + 90.0):
            dx, dy = arm * math.cos(math.radians(angle)), arm * math.sin(math.radians(angle))
            self._space.add_line(
                self._place((x - dx, y - dy)), self._place((x + dx, y + dy)), dxfattribs=look
            )
        self._ring(place, look)

    def _sample(self, row: LegendRow, start: Place) -> None:
        """Draw a sample on the legend's layer, with the look of the layer that it explains.

        So whoever adds up a layer's lines does not count the samples.
        """
        (x, y), h = start, self._height
        layer, long = self._looks[row.content], SAMPLE * self._height
        look: dict[str, Any] = {
            **self._on(contents.LEGEND),
            "color": layer.colour,
            "linetype": layer.line_type,
            "lineweight": layer.weight,
        }
        middle = (x + long / 2, y)
        if row.sample == "line":
            self._line(PlanLine((start, (x + long, y))), look)
        elif row.sample == "hatch":
            corners = (x, y - 0.7 * h), (x + long, y - 0.7 * h), (x + long, y + 0.7 * h)
            self._hatch(((*corners, (x, y + 0.7 * h)),), look, row.content)
        elif row.sample == "ring":
            self._ring(middle, look)
        elif row.sample == "cross":
            self._cross((x + 0.35 * h, y), look)
            at = Position((x + 1.2 * h + text_width(row.text, h) / 2, y), 0.0, 0.0)
            self._middle_text(row.text, at, contents.LEGEND)
        elif row.sample == "symbol":
            kind = next(kind for kind in SYMBOLS if kind == row.text)
            own = {"layer": look["layer"], "color": look["color"]}
            self._symbol(Insert(kind, middle, 0.0), own)
        else:
            self._middle_text(row.text, Position(middle, 0.0, 0.0), contents.LEGEND)

    def _line(self, line: PlanLine, attributes: dict[str, Any]) -> None:
        points = [self._place(point) for point in line.points]
        if self._height != self._patterns:
            attributes = {**attributes, "ltscale": self._height / self._patterns}
        entity = self._space.add_lwpolyline(points, close=line.closed, dxfattribs=attributes)
        entity.dxf.flags |= _DASHES_RUN_ON
        for number, place in enumerate(points):
            self._holds.setdefault(place, Hold(entity, max(number, 1), place))

    def _ring(self, place: Place, attributes: dict[str, Any]) -> None:
        radius = self._round(mark_radius(self._height))
        look = {**attributes, "linetype": "CONTINUOUS"}
        self._space.add_circle(self._place(place), radius, dxfattribs=look)

    def _cross(self, place: Place, attributes: dict[str, Any]) -> None:
        (x, y), arm = place, mark_radius(self._height)
        for dx, dy in ((arm, 0.0), (0.0, arm)):
            ends = self._place((x - dx, y - dy)), self._place((x + dx, y + dy))
            self._space.add_line(*ends, dxfattribs=attributes)

    def _symbol(self, item: Insert, attributes: dict[str, Any]) -> None:
        """Insert a symbol; it carries what is known of its fitting, unseen."""
        name = block_name(item.kind)
        if name not in self._document.blocks:
            self._define(name, item.kind)
        at, size = self._place(item.place), self._round(self._height)
        look = {**attributes, "xscale": size, "yscale": size, "zscale": size}
        entity = self._space.add_blockref(name, at, {**look, "rotation": round(item.angle, 4)})
        for tag, text in item.texts.items():
            where = {"layer": attributes["layer"], "height": size, "flags": 1}  # 1: unseen
            entity.add_attrib(tag, _one_line(text), at, where)

    def _define(self, name: str, kind: FittingKind) -> None:
        """Define the block of a kind; its colour is that of each insert."""
        block, symbol, look = self._document.blocks.new(name), SYMBOLS[kind], {"color": 0}
        for line in symbol.lines:
            block.add_lwpolyline(line, close=symbol.closed and len(line) > 2, dxfattribs=look)
        for x, y, radius in symbol.rings:
            block.add_circle((x, y), radius, dxfattribs=look)
        for tag in TAGS:
            block.add_attdef(tag, (0.0, 0.0), dxfattribs={"height": 1.0, "flags": 1})

    def _middle_text(self, text: str, at: Position, content: Content) -> None:
        from ezdxf.enums import TextEntityAlignment

        attributes = {
            **self._on(content),
            "height": self._round(self._height),
            "rotation": round(at.angle, 4),
        }
        entity = self._space.add_text(_one_line(text), dxfattribs=attributes)
        entity.set_placement(self._place(at.centre), align=TextEntityAlignment.MIDDLE_CENTER)

    def _on(self, content: Content) -> dict[str, Any]:
        """Return the attributes of an entity on the layer of a content."""
        return {"layer": self._looks[content].name}

    def _hatch(self, rings: Rings, attributes: dict[str, Any], content: Content) -> None:
        """Hatch concrete with lines at 45 degrees, all else with two sets of lines, and closer."""
        hatch = self._space.add_hatch(dxfattribs=attributes)
        name = "ANSI31" if content == contents.HATCH else "ANSI37"
        scale = self._round(self._height)
        hatch.set_pattern_fill(name, scale=scale, definition=HATCHING[name])
        for number, ring in enumerate(rings):
            points = [self._place(place) for place in ring]
            hatch.paths.add_polyline_path(points, is_closed=True, flags=1 if not number else 16)

    def _place(self, place: Place) -> Place:
        (x, y), (dx, dy) = place, self._shift
        return self._round(x + dx), self._round(y + dy)

    def _round(self, length: float) -> float:
        return round(length, self._decimals) + 0.0


def _one_line(text: str) -> str:
    """Return a text as it has to stand in the file, where % and ^ start codes."""
    return text.replace("%%", "%%%%%%").replace("^", "^ ")
