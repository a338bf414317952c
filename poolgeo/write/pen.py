"""Entities of the drawing, each on its layer; keeps account of how far they reach."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from . import layers
from .legend import LegendRow
from .plan_lines import Place, PlanLine
from .plan_view import PlanView, mark_radius
from .positions import Position, text_width, upright
from .symbols import REACH, SYMBOLS, TAGS, Insert, block_name

if TYPE_CHECKING:
    from ezdxf.document import Drawing

    from poolgeo.design.fittings import FittingKind

_DASHES_RUN_ON = 128
"""Flag of a polyline whose pattern runs on past its points: DXF reference, LWPOLYLINE, group 70."""
_GREY = 8
"""DXF colour number of leaders, which stand back behind what they cross."""
_SAMPLE = 6.0
"""Length of a line's sample in the legend, in text heights."""
_ROW = 2.2
"""Distance between the rows of the legend, in text heights."""


class Pen:
    """Draws in the model space of a document.

    Args:
        document: A document that has the layers and line types.
        height: Height of text, in drawing units.
        decimals: Decimals of a coordinate.
    """

    def __init__(self, document: Drawing, height: float, decimals: int) -> None:
        self._document = document
        self._space = document.modelspace()
        self._height = height
        self._decimals = decimals
        self._reach: list[Place] = []

    @property
    def height(self) -> float:
        """Height of text, in drawing units."""
        return self._height

    @property
    def reach(self) -> tuple[Place, Place]:
        """The lower left and the upper right corner of all that was drawn."""
        xs, ys = zip(*self._reach, strict=True)
        return (min(xs), min(ys)), (max(xs), max(ys))

    def plan(self, view: PlanView) -> None:
        """Draw the plan, layer by layer."""
        for layer in layers.LAYERS:
            for line in view.lines.get(layer.name, ()):
                self._line(line, {"layer": layer.name})
            for place in view.marks.get(layer.name, ()):
                self._ring(place, {"layer": layer.name})
        for place in view.spots:
            self._cross(place, {"layer": layers.DEPTHS.name})
        if view.origin is not None:
            self._target(view.origin, view.direction)
        for item in view.inserts:
            self._symbol(item, {"layer": layers.FITTINGS.name})
        for text in view.texts:
            self._middle_text(text.text, text.at, text.layer.name)
            if text.at.leader:
                start, end = map(self._place, text.at.leader)
                look = {"layer": text.layer.name, "color": _GREY}
                self._space.add_line(start, end, dxfattribs=look)

    def legend(self, rows: list[LegendRow], corner: Place) -> None:
        """Draw the legend down from its upper left corner.

        Samples lie on the legend's layer with the look of the layer that they explain, so that
        whoever adds up a layer's lines does not count them.
        """
        x, y = corner
        h = self._height
        self.left_text("Legend", (x, y - 1.4 * h), layers.LEGEND.name, 1.4 * h)
        for number, row in enumerate(rows, 1):
            middle = y - (1.6 + number * _ROW) * h
            self._sample(row, (x, middle))
            self.left_text(row.says, (x + 7.5 * h, middle - 0.5 * h), layers.LEGEND.name, h)

    def title(self, name: str, lines: list[str], corner: Place) -> None:
        """Draw the title and the notes down from their upper left corner."""
        x, y = corner
        h = self._height
        self.left_text(name, (x, y - 2.0 * h), layers.TITLE.name, 2.0 * h)
        for number, line in enumerate(lines, 1):
            self.left_text(line, (x, y - (2.2 + 1.7 * number) * h), layers.TITLE.name, h)

    def ordinate(
        self, axis: int, start: Place, end: Place, origin: Place, direction: float, text: str
    ) -> None:
        """Draw a dimension from an origin, at the end of a leader.

        Args:
            axis: 0 for a distance along the direction, 1 for one across it.
            start: What is dimensioned.
            end: Where the text stands.
            origin: That it is measured from.
            direction: Of the first axis, from x [deg].
            text: What it says.
        """
        # text stands across the first axis, or along the other: half a turn more, and it reads
        turn = upright(direction + 90.0 * (axis == 0)) - 90.0 * (axis == 0)
        add = self._space.add_ordinate_x_dim if axis == 0 else self._space.add_ordinate_y_dim
        style = add(
            start, offset=(0.0, 1.0), origin=origin, rotation=turn, text=text,
            dimstyle=layers.SET_OUT.name, dxfattribs={"layer": layers.SET_OUT.name},
        )  # fmt: skip
        # ezdxf turns what it is given about two centres; here all is where it is to be
        style.dimension.dxf.defpoint2 = self._place(start)
        style.dimension.dxf.defpoint3 = self._place(end)
        style.render()
        dx, dy = end[0] - start[0], end[1] - start[1]
        along = text_width(text, self._height) + self._height
        size = math.hypot(dx, dy) or 1.0
        self._reach += [start, end, (end[0] + dx / size * along, end[1] + dy / size * along)]

    def _target(self, place: Place, direction: float) -> None:
        """Draw the set-out origin: a ring with a cross that reaches beyond it, along the rows."""
        (x, y), arm = place, 2.5 * mark_radius(self._height)
        look = {"layer": layers.SET_OUT.name}
        for angle in (direction, direction + 90.0):
            dx, dy = arm * math.cos(math.radians(angle)), arm * math.sin(math.radians(angle))
            self._space.add_line(
                self._place((x - dx, y - dy)), self._place((x + dx, y + dy)), dxfattribs=look
            )
        self._ring(place, look)

    def left_text(self, text: str, corner: Place, layer: str, height: float) -> None:
        """Write level text from its lower left corner."""
        x, y = self._place(corner)
        attributes = {"layer": layer, "insert": (x, y), "height": self._round(height)}
        self._space.add_text(_one_line(text), dxfattribs=attributes)
        self._reach += [(x, y), (x + text_width(text, height), y + height)]

    def _sample(self, row: LegendRow, start: Place) -> None:
        x, y = start
        look: dict[str, Any] = {
            "layer": layers.LEGEND.name,
            "color": row.layer.colour,
            "linetype": row.layer.line_type,
            "lineweight": row.layer.weight,
        }
        middle = (x + _SAMPLE / 2 * self._height, y)
        if row.sample == "line":
            self._line(PlanLine((start, (x + _SAMPLE * self._height, y))), look)
        elif row.sample == "ring":
            self._ring(middle, look)
        elif row.sample == "cross":
            self._cross((x + 0.35 * self._height, y), look)
            at = Position(
                (x + (1.2 * self._height + text_width(row.text, self._height) / 2), y), 0.0, 0.0
            )
            self._middle_text(row.text, at, layers.LEGEND.name)
        elif row.sample == "symbol":
            kind = next(kind for kind in SYMBOLS if kind == row.text)
            self._symbol(
                Insert(kind, middle, 0.0), {"layer": look["layer"], "color": look["color"]}
            )
        else:
            self._middle_text(row.text, Position(middle, 0.0, 0.0), layers.LEGEND.name)

    def _line(self, line: PlanLine, attributes: dict[str, Any]) -> None:
        points = [self._place(point) for point in line.points]
        entity = self._space.add_lwpolyline(points, close=line.closed, dxfattribs=attributes)
        entity.dxf.flags |= _DASHES_RUN_ON
        self._reach += points

    def _ring(self, place: Place, attributes: dict[str, Any]) -> None:
        radius = self._round(mark_radius(self._height))
        look = {**attributes, "linetype": "CONTINUOUS"}
        self._space.add_circle(self._place(place), radius, dxfattribs=look)
        self._reach += [place]

    def _cross(self, place: Place, attributes: dict[str, Any]) -> None:
        (x, y), arm = place, mark_radius(self._height)
        for dx, dy in ((arm, 0.0), (0.0, arm)):
            ends = self._place((x - dx, y - dy)), self._place((x + dx, y + dy))
            self._space.add_line(*ends, dxfattribs=attributes)
            self._reach += ends

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
        reach = REACH * self._height
        self._reach += [(at[0] - reach, at[1] - reach), (at[0] + reach, at[1] + reach)]

    def _define(self, name: str, kind: FittingKind) -> None:
        """Define the block of a kind; its colour is that of each insert."""
        block, symbol, look = self._document.blocks.new(name), SYMBOLS[kind], {"color": 0}
        for line in symbol.lines:
            block.add_lwpolyline(line, close=symbol.closed and len(line) > 2, dxfattribs=look)
        for x, y, radius in symbol.rings:
            block.add_circle((x, y), radius, dxfattribs=look)
        for tag in TAGS:
            block.add_attdef(tag, (0.0, 0.0), dxfattribs={"height": 1.0, "flags": 1})

    def _middle_text(self, text: str, at: Position, layer: str) -> None:
        from ezdxf.enums import TextEntityAlignment

        attributes = {
            "layer": layer,
            "height": self._round(self._height),
            "rotation": round(at.angle, 4),
        }
        entity = self._space.add_text(_one_line(text), dxfattribs=attributes)
        centre = self._place(at.centre)
        entity.set_placement(centre, align=TextEntityAlignment.MIDDLE_CENTER)
        half = (text_width(text, self._height) + self._height) / 2
        turn = math.radians(at.angle)
        dx, dy = half * abs(math.cos(turn)), half * abs(math.sin(turn))
        self._reach += [(centre[0] - dx, centre[1] - dy), (centre[0] + dx, centre[1] + dy)]

    def _place(self, place: Place) -> Place:
        return self._round(place[0]), self._round(place[1])

    def _round(self, length: float) -> float:
        return round(length, self._decimals) + 0.0


def _one_line(text: str) -> str:
    """Return a text as it has to stand in the file, where % and ^ start codes."""
    return text.replace("%%", "%%%%%%").replace("^", "^ ")
