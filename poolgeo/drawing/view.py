"""A view: what stands on a drawing in one place and at one scale, in drawing units at full size."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from .contents import Content
from .plan_lines import Place, PlanLine, Rings
from .positions import Position, box_about, text_width, upright
from .symbols import Insert

DIM_GAP = 0.4
"""Between the line of a dimension and its text, in text heights."""

SAMPLE = 6.0
"""Length of a line's sample in the legend, in text heights."""


@dataclass(frozen=True)
class Text:
    """A text in its place: the content that it is part of, what it says, where."""

    content: Content
    text: str
    at: Position


@dataclass(frozen=True)
class Note:
    """A text that stands level from one of its lower corners: titles, tables, remarks.

    Args:
        content: That it is part of.
        text: What it says.
        corner: Lower left corner of its capitals, or lower right one.
        size: Height in heights of the view's text.
        is_right: Whether the corner is the right one.
    """

    content: Content
    text: str
    corner: Place
    size: float = 1.0
    is_right: bool = False


@dataclass(frozen=True)
class Radius:
    """The radius of an arc, as a dimension that measures what it says.

    Args:
        centre: Of the arc.
        on: The place on the arc that its arrow points to.
        text: What it measures, as it is written.
        at: Where that stands.
    """

    centre: Place
    on: Place
    text: str
    at: Position


@dataclass(frozen=True)
class Ordinate:
    """A dimension from the view's origin, at the end of a leader.

    Args:
        axis: 0 for a distance along the view's direction, 1 for one across it.
        start: What is dimensioned.
        end: Where the text stands.
        text: What it says.
    """

    axis: int
    start: Place
    end: Place
    text: str

    def text_at(self, height: float, direction: float) -> Position:
        """Return where its text stands: beyond the end of its leader."""
        angle = direction + 90.0 * (self.axis == 0)
        way = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        ahead = sum((b - a) * c for a, b, c in zip(self.start, self.end, way, strict=True))
        along = math.copysign(text_width(self.text, height) / 2.0 + DIM_GAP * height, ahead)
        centre = self.end[0] + along * way[0], self.end[1] + along * way[1]
        return Position(centre, upright(angle), 0.0)


@dataclass(frozen=True)
class Dimension:
    """A dimension between two places, which measures what it says.

    Args:
        start: Where it starts, and
        end: where it ends.
        through: A place that its line goes through.
        angle: Of its line [deg].
        text: What it measures, as it is written.
    """

    start: Place
    end: Place
    through: Place
    angle: float
    text: str

    def text_at(self, height: float) -> Position:
        """Return where its text stands: over the middle of its line."""
        turn = math.radians(self.angle)
        way, left = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
        off = sum((a - b) * c for a, b, c in zip(self.through, self.start, left, strict=True))
        half = sum((a - b) * c / 2.0 for a, b, c in zip(self.end, self.start, way, strict=True))
        angle = upright(self.angle)
        side = math.cos(math.radians(angle - self.angle))
        over = off + math.copysign((0.5 + DIM_GAP) * height, side)
        x = self.start[0] + half * way[0] + over * left[0]
        y = self.start[1] + half * way[1] + over * left[1]
        return Position((x, y), angle, 0.0)


@dataclass(frozen=True)
class LegendRow:
    """One row of the legend.

    Args:
        content: Whose look is explained.
        sample: What stands in front: a line, the ring of a vertical run, the cross of a spot,
            hatching, a text, or the symbol of a kind of fitting.
        says: The explanation.
        text: The sample where it is a text; the kind where it is a symbol.
    """

    content: Content
    sample: Literal["line", "ring", "cross", "hatch", "text", "symbol"]
    says: str
    text: str = ""


@dataclass(frozen=True)
class View:
    """What stands on a view.

    Args:
        name: Of the view, such as ``plan`` or ``section A``.
        title: As it is written under it.
        ratio: Units of the pool to one on paper: the scale that it is meant for.
        scale: Name of that scale.
        height: Of its text, in drawing units.
        lines: Content -> its lines, none of them twice.
        marks: Content -> where a vertical run stands: an edge by its sense, or a cove.
        areas: Areas that are hatched, with their content.
        spots: Where depths are given.
        texts: Numbers, depths, tags: each in the place that was chosen for it.
        notes: Titles, tables, remarks.
        inserts: Symbols of fittings.
        dimensions: From place to place.
        radii: Of arcs.
        ordinates: Running dimensions, from `zero`.
        stations: Those of a plan besides, level and upright, from `base`.
        origin: That joints are set out from; None where none are.
        zero: That ordinates are counted from.
        base: That stations are counted from.
        direction: Of the rows of tiles, from x [deg]; running dimensions go along and across it.
        legend: Rows of a legend, and where their samples begin.
        fine: Whether lengths are in millimetres where the pool file has metres.
    """

    name: str
    title: str
    ratio: float
    scale: str
    height: float
    lines: dict[Content, list[PlanLine]]
    marks: dict[Content, list[Place]] = field(default_factory=dict)
    areas: list[tuple[Content, Rings]] = field(default_factory=list)
    spots: list[Place] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    inserts: list[Insert] = field(default_factory=list)
    dimensions: list[Dimension] = field(default_factory=list)
    radii: list[Radius] = field(default_factory=list)
    ordinates: list[Ordinate] = field(default_factory=list)
    stations: list[Ordinate] = field(default_factory=list)
    origin: Place | None = None
    zero: Place = (0.0, 0.0)
    base: Place = (0.0, 0.0)
    direction: float = 0.0
    legend: list[tuple[LegendRow, Place]] = field(default_factory=list)
    fine: bool = False

    @property
    def places(self) -> Iterable[Place]:
        """All places that its lines go through, and the corners of its texts."""
        for lines in self.lines.values():
            for line in lines:
                yield from line.points
        for places in self.marks.values():
            yield from places
        yield from self.spots
        for item in self.dimensions:
            yield from (item.start, item.end, item.through)
        for radius in self.radii:
            yield radius.on
        for ordinate in (*self.ordinates, *self.stations):
            yield from (ordinate.start, ordinate.end)
        for _, (x, y) in self.legend:
            yield from ((x, y - self.height), (x + SAMPLE * self.height, y + self.height))
        for insert in self.inserts:
            yield insert.place
        for corners in self.boxes:
            yield from corners

    @property
    def boxes(self) -> Iterable[tuple[Place, ...]]:
        """The four corners of the box about each text, those of dimensions included."""
        for text in self.texts:
            yield box_about(text.at, text.text, self.height)
        for note in self.notes:
            (x, y), h = note.corner, note.size * self.height
            width = text_width(note.text, h)
            x -= width * note.is_right
            yield (x, y), (x + width, y), (x + width, y + h), (x, y + h)
        for item in self.dimensions:
            yield box_about(item.text_at(self.height), item.text, self.height)
        for radius in self.radii:
            yield box_about(radius.at, radius.text, self.height)
        for ordinate in self.ordinates:
            at = ordinate.text_at(self.height, self.direction)
            yield box_about(at, ordinate.text, self.height)
        for station in self.stations:
            yield box_about(station.text_at(self.height, 0.0), station.text, self.height)

    @property
    def reach(self) -> tuple[Place, Place]:
        """The lower left and the upper right corner of its places."""
        xs, ys = zip(*self.places, strict=True)
        return (min(xs), min(ys)), (max(xs), max(ys))
