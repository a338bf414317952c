"""How a detail is laid out: its picture in metres, then scale, list of layers, dimensions."""

from __future__ import annotations

import math
import re
import textwrap
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..arrays import Floats
from ..design.lengths import Units, format_length
from . import contents
from .contents import Content
from .measuring import says
from .plan_lines import Drawn, Place, PlanLine, Projection
from .positions import Position, text_width, upright
from .sheet import UNIT_SYSTEMS, scales_of
from .view import Dimension, Note, Radius, View

PICTURE = 0.075
"""[m] Largest width of a picture on paper; the list beside it takes up as much again."""

LARGE = {
    True: ((1, "1:1"), (2, "1:2"), (5, "1:5"), (10, "1:10")),
    False: ((1, "1:1"), (4, '3" = 1\'-0" (1:4)'), (8, '1 1/2" = 1\'-0" (1:8)')),
}
"""Whether a file is metric -> scales of details, before the usual ones. Sources: ISO 5455 (from
memory); customary scales are common practice, no source."""

LIST = 30
"""Characters in a line of the list beside the picture."""

_PITCH = 1.7
"""[heights] From one line of text to the next."""

_ROW = 3.2
"""[heights] From one row of dimensions to the next."""


@dataclass(frozen=True)
class Callout:
    """Something in the picture that the list names.

    Args:
        text: What the list says of it.
        area: Where it is.
    """

    text: str
    area: BaseGeometry


@dataclass(frozen=True)
class Measure:
    """A dimension of the picture.

    Args:
        start: Where it starts, and
        end: where it ends [m].
        side: Unit vector towards its line.
        base: How far what it must clear reaches that way, from its start [m].
        row: Rows of dimensions that are nearer.
    """

    start: Place
    end: Place
    side: Place
    base: float
    row: int = 0


@dataclass(frozen=True)
class Arc:
    """The radius of an arc of the picture.

    Args:
        centre: Of the arc.
        at: The place on it.
        clear: How far from there its text stands, away from the centre or past it [m].
        away: Whether the text stands on the far side from the centre.
    """

    centre: Place
    at: Place
    clear: float
    away: bool = True


@dataclass(frozen=True)
class Picture:
    """What a detail shows, in metres.

    Args:
        lines: Content, points, whether closed.
        areas: What is hatched.
        callouts: What the list names, in the order of work.
        measures: Dimensions.
        arcs: Radii.
        top: How high the layers stand where the list begins.
        one_side: Whether leaders start right of the middle where they can.
        level: Right end of a line of the water level with its name under it.
        notes: What is to be said under it.
    """

    lines: list[tuple[Content, Floats, bool]] = field(default_factory=list)
    areas: list[tuple[Content, BaseGeometry]] = field(default_factory=list)
    callouts: list[Callout] = field(default_factory=list)
    measures: list[Measure] = field(default_factory=list)
    arcs: list[Arc] = field(default_factory=list)
    top: float = 0.0
    one_side: bool = True
    level: Place | None = None
    notes: tuple[str, ...] = ()

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of its lines [m]."""
        points = np.concatenate([points for _, points, _ in self.lines])
        (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
        return float(left), float(low), float(right), float(high)


@dataclass(frozen=True)
class Frame:
    """What all details of a pool are laid out with.

    Args:
        units: Of the pool file.
        projection: From metres to drawing units.
        text: Height of text on paper [m].
    """

    units: Units
    projection: Projection
    text: float

    @property
    def fine_units(self) -> Units:
        """Units of dimensions: millimetres where the pool file has metres."""
        return "mm" if self.units == "m" else self.units

    def size(self, metres: float) -> str:
        """Return a small length as text: in millimetres, or in inches."""
        if UNIT_SYSTEMS[self.units].metric:
            return f"{metres * 1000.0:.4g} mm"
        return format_length(metres, "in")

    def scale(self, width: float) -> tuple[int, str]:
        """Return the largest scale at which a picture of a width [m] is no wider than others."""
        need = width / PICTURE
        for ratio, name in LARGE[UNIT_SYSTEMS[self.units].metric]:
            if ratio >= need:
                return ratio, name
        return scales_of(self.units, need)


def composed(picture: Picture, name: str, title: str, frame: Frame) -> View:
    """Lay a detail out.

    Args:
        picture: What it shows.
        name: Of the view.
        title: Of the view.
        frame: Of all details.

    Returns:
        The view: the picture, the list at its right, dimensions about it, notes under it.
    """
    left, _, right, _ = picture.reach
    ratio, scale = frame.scale(right - left)
    h = frame.text * ratio
    lines: dict[Content, list[PlanLine]] = defaultdict(list)
    drawn: dict[Content, Drawn] = defaultdict(Drawn)
    for content, points, closed in picture.lines:
        if (line := frame.projection.line(points, closed=closed)) is not None:
            lines[content] += drawn[content].fresh(line)
    entries, leaders = _listed(picture, h)
    for points, closed in leaders:
        if (line := frame.projection.line(points, closed=closed)) is not None:
            lines[contents.NOTES].append(line)
    dimensions = [_dimension(item, h, frame) for item in picture.measures]
    radii = [_radius(item, h, frame) for item in picture.arcs]
    notes = [*entries, *_level(picture, h)]
    notes += _under(picture, notes, h)
    return View(
        name, title, ratio, scale, frame.projection.length(h), dict(lines),
        areas=[(content, rings) for content, area in picture.areas
               for rings in frame.projection.rings(area)],
        notes=[Note(contents.NOTES, text, frame.projection.place(at)) for text, at in notes],
        dimensions=dimensions, radii=radii, fine=True,
    )  # fmt: skip


_UNIT = re.compile(r"(?<=\d) (?=(mm|m|mil|ft|deg)\b|\d+/\d+\")")
"""The space between a figure and its unit, and between whole inches and their fraction."""


def wrapped(text: str, width: int) -> list[str]:
    """Break a text into lines, none of them between a figure and its unit."""
    rows = textwrap.wrap(_UNIT.sub("~", text), width)
    return [row.replace("~", " ") for row in rows]


def _listed(
    picture: Picture, h: float
) -> tuple[list[tuple[str, Place]], list[tuple[Floats, bool]]]:
    """Return the lines of the list with their places [m], and the leaders from what they name.

    Leaders go straight up from a dot and then to the right; entries stand in the order of their
    dots from left to right, so that none crosses another.
    """
    spots = _spots(picture, h)
    numbered = sorted(range(len(spots)), key=lambda k: spots[k])
    at = picture.reach[2] + 3.0 * h
    level = picture.top + 2.5 * h
    entries: list[tuple[str, Place]] = []
    leaders: list[tuple[Floats, bool]] = []
    for rank, k in reversed(list(enumerate(numbered, 1))):
        rows = wrapped(f"{rank}  {picture.callouts[k].text}", LIST)
        (x, y), foot = spots[k], level + (len(rows) - 1) * _PITCH * h
        # the first entry's further lines hang below it, as the list ends there
        first = max(level if k == numbered[-1] else foot, y + h)
        for i, row in enumerate(rows):
            indent = 0.0 if i == 0 else 1.5 * h
            entries.append((row, (at + indent, first - 0.5 * h - i * _PITCH * h)))
        leaders.append((np.array([(x, y), (x, first), (at - 0.6 * h, first)]), False))
        leaders.append((_dot(x, y, 0.22 * h), True))
        level = first + (_PITCH + 0.5) * h
    entries.sort(key=lambda entry: -entry[1][1])
    return entries, leaders


def _dot(x: float, y: float, radius: float) -> Floats:
    ways = np.linspace(0.0, math.tau, 8, endpoint=False)
    return np.column_stack([x + radius * np.cos(ways), y + radius * np.sin(ways)])


def _spots(picture: Picture, h: float) -> list[Place]:
    """Return a place in each thing that the list names, from left to right where there is room."""
    shapes = [
        _right_part(item.area) if picture.one_side else item.area for item in picture.callouts
    ]
    spans = [(shape.bounds[0], shape.bounds[2]) for shape in shapes]
    if not spans:
        return []
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    step = min(2.0 * h, (high - low) / (len(spans) + 1.0))
    xs: list[float] = []
    for start, end in spans:
        wanted = max(start + min(step, (end - start) / 2.0), xs[-1] + step if xs else -math.inf)
        xs.append(wanted)
    for k in reversed(range(len(xs))):
        start, end = spans[k]
        room = min(step / 2.0, (end - start) / 4.0)
        after = xs[k + 1] - min(step, (end - start) / 3.0) if k + 1 < len(xs) else math.inf
        xs[k] = max(min(xs[k], end - room, after), start + room)
    return [_middle(shape, x) for shape, x in zip(shapes, xs, strict=True)]


def _right_part(area: BaseGeometry) -> BaseGeometry:
    """Return what lies right of the middle, where enough of it does."""
    part = area.intersection(shapely.box(0.0, -100.0, 100.0, 100.0))
    return part if part.area > 0.05 * area.area else area


def _middle(shape: BaseGeometry, x: float) -> Place:
    """Return the middle of the lowest stretch of a shape at a place."""
    cut = shape.intersection(shapely.LineString([(x, -100.0), (x, 100.0)]))
    parts = [part for part in shapely.get_parts(cut) if part.geom_type == "LineString"]
    if not parts:
        point = shape.representative_point()
        return point.x, point.y
    low = min(parts, key=lambda part: part.bounds[1])
    return x, (low.bounds[1] + low.bounds[3]) / 2.0


SQUARE = 0.5
"""[deg] A dimension that is level or upright but for this is drawn so; it measures as much."""


def _dimension(item: Measure, h: float, frame: Frame) -> Dimension:
    """Return a dimension that runs as its text reads: on whichever side, that stands over it."""
    off = item.base + (2.5 + _ROW * item.row) * h
    through = item.start[0] + item.side[0] * off, item.start[1] + item.side[1] * off
    way = math.degrees(math.atan2(item.end[1] - item.start[1], item.end[0] - item.start[0]))
    way = square if abs(way - (square := 90.0 * round(way / 90.0))) < SQUARE else way
    text, angle = says(math.dist(item.start, item.end), frame.fine_units), round(upright(way), 6)
    runs = (item.start, item.end) if abs(angle - way) < 1.0 else (item.end, item.start)
    start, end, on = map(frame.projection.place, (*runs, through))
    return Dimension(start, end, on, angle, text)


def _radius(item: Arc, h: float, frame: Frame) -> Radius:
    at, centre = np.array(item.at), np.array(item.centre)
    way = (at - centre) / np.linalg.norm(at - centre)
    off = item.clear + 3.5 * h
    to = at + off * way if item.away else at - off * way
    place = frame.projection.place
    angle = upright(math.degrees(math.atan2(way[1], way[0])))
    text = f"R{says(math.dist(item.centre, item.at), frame.fine_units)}"
    return Radius(place(item.centre), place(item.at), text, Position(place(to), angle, 0.0))


def _level(picture: Picture, h: float) -> list[tuple[str, Place]]:
    """Return the name of the water level, under its right end."""
    if picture.level is None:
        return []
    text = "water level"
    return [(text, (picture.level[0] - text_width(text, h), picture.level[1] - 1.8 * h))]


def _under(
    picture: Picture, beside: Iterable[tuple[str, Place]], h: float
) -> list[tuple[str, Place]]:
    """Return the notes under the picture, no wider than all that stands over them."""
    (left, low, right, _), beside = picture.reach, list(beside)
    right = max([right, *(at[0] + text_width(text, h) for text, at in beside)])
    bottom = min([low, *(at[1] for _, at in beside), *_dimensioned(picture.measures, h)])
    bottom = min([bottom, *(_radius_low(item, h) for item in picture.arcs)])
    room = max(24, int((right - left) / (0.85 * h)))
    rows = [row for note in picture.notes for row in wrapped(note, room)]
    return [(row, (left, bottom - (2.5 + _PITCH * i) * h)) for i, row in enumerate(rows)]


def _radius_low(item: Arc, h: float) -> float:
    way, off = np.array(item.at) - item.centre, (item.clear + 3.5 * h) * (2.0 * item.away - 1.0)
    return float(item.at[1] + off * way[1] / np.linalg.norm(way) - h)


def _dimensioned(measures: Sequence[Measure], h: float) -> Iterator[float]:
    """Yield how low dimensions reach [m]."""
    for item in measures:
        off = item.base + (2.5 + _ROW * item.row) * h
        yield min(item.start[1], item.end[1]) + min(item.side[1] * off, 0.0) - h
