"""A section as a view: concrete hatched, water, what is seen beyond, depths and dimensions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np
import shapely

from ..design.lengths import Units
from ..jointing.rows import FinishJoints
from ..model import Model
from . import contents
from .base_lines import cuts_of
from .contents import Content
from .labels import Label, placed
from .measuring import OFF, running, says, strokes_of, texts_of
from .plan_labels import Wanted, depth_text
from .plan_lines import Drawn, Place, PlanLine, Projection
from .positions import Position, around, box_about, text_width
from .section import Section
from .section_levels import (
    SHORT,
    depth_tags,
    floors_of,
    heights_of,
    room_for_tags,
    stations_of,
)
from .section_marks import Mark, finish_marks, fitting_marks, joint_marks
from .sheet import Plot
from .view import Dimension, Note, Ordinate, Text, View

SKY = 8.0
"""How far above a section a depth may stand that has no room in it, in text heights."""

LEAST_CROSSED = 0.1
"""A leader may touch the concrete that far, in text heights."""

SAID_FROM = "levels from the pool's water level"
"""What a section through several bodies of water says of its levels."""

SAID_SIZE = 0.7
"""Height of that, in heights of text."""


def section_view(
    model: Model,
    section: Section,
    projection: Projection,
    plot: Plot,
    joints: FinishJoints | None = None,
) -> View:
    """Lay a section out.

    Args:
        model: The pool.
        section: Of it.
        projection: To drawing units.
        plot: Scale and height of text.
        joints: Movement joints of the finish, if any.

    Returns:
        The view; its places are along the line and up, from the start and the pool's water level.
    """
    height, units = projection.length(plot.text), model.design.pool.units
    lines: dict[Content, list[PlanLine]] = defaultdict(list)
    drawn: dict[Content, Drawn] = defaultdict(Drawn)
    marks = [
        *joint_marks(model, section),
        *finish_marks(joints, section, plot.text),
        *fitting_marks(model, section, plot.text),
    ]
    for content, line in [*_lines(model, section, projection), *_marked(marks, projection)]:
        lines[content] += drawn[content].fresh(line)
    areas = [(contents.HATCH, rings) for rings in projection.rings(section.concrete)]
    ordinates = list(_running(model, section, projection, height))
    dimensions = list(_overall(section, projection, height, units))
    left = section.reach[0]
    view = View(
        f"section {section.name}", f"Section {section.name} - {section.name}",
        plot.ratio, plot.scale, height, dict(lines), areas=areas,
        dimensions=dimensions, ordinates=ordinates, zero=projection.place((left, 0.0)),
        notes=list(_said(section, ordinates, height)),
    )  # fmt: skip
    depths = list(_depths(model, section, projection, height))
    wanted = [(contents.DEPTHS, label) for label, _ in depths]
    wanted += _numbers(marks, projection, height)
    obstacles = [line for found in lines.values() for line in found]
    obstacles += strokes_of(dimensions, ordinates)
    obstacles += _strokes(section.concrete, projection, height)
    taken = texts_of(dimensions, ordinates, height)
    positions = placed([label for _, label in wanted], obstacles, height, taken)
    texts = [
        Text(content, label.text, at)
        for (content, label), at in zip(wanted, positions, strict=True)
    ]
    return replace(view, texts=texts, spots=[place for _, place in depths])


def _marked(marks: Iterable[Mark], projection: Projection) -> Iterator[tuple[Content, PlanLine]]:
    """Yield the lines of joints and fittings with their contents."""
    for mark in marks:
        for points in mark.lines:
            if (line := projection.line(points)) is not None:
                yield mark.content, line


def _numbers(marks: Iterable[Mark], projection: Projection, height: float) -> Iterator[Wanted]:
    """Yield the numbers of joints and fittings; fittings at one place share a label."""
    shared: dict[tuple[Content, Place], list[str]] = defaultdict(list)
    for mark in marks:
        if mark.number:
            shared[mark.number_content, projection.place(mark.at)].append(mark.number)
    for (content, place), numbers in shared.items():
        text = ", ".join(numbers)
        yield content, Label(text, tuple(around(place, text_width(text, height), height)))


def _lines(
    model: Model, section: Section, projection: Projection
) -> Iterator[tuple[Content, PlanLine]]:
    """Yield every line with its content."""
    for rings in projection.rings(section.concrete):
        for ring in rings:
            yield contents.CONCRETE, PlanLine(ring, closed=True)
    levels = {body.name: body.level for body in model.bodies}
    for body, area in section.water.items():
        for part in shapely.get_parts(area):
            low, high = _surface(part, levels[body])
            if high - low > SHORT:
                level = np.array([[low, levels[body]], [high, levels[body]]])
                if (line := projection.line(level)) is not None:
                    yield contents.WATER_LEVEL, line
    for seen in section.beyond:
        if (line := projection.line(seen.points)) is not None:
            yield contents.BEYOND, line


def _surface(part: shapely.Geometry, level: float) -> tuple[float, float]:
    """Return from where to where water reaches its level [m]."""
    points = shapely.get_coordinates(part)
    at = points[np.abs(points[:, 1] - level) < 1e-6, 0]
    return (float(at.min()), float(at.max())) if len(at) else (0.0, 0.0)


def _depths(
    model: Model, section: Section, projection: Projection, height: float
) -> Iterator[tuple[Label, Place]]:
    """Yield the depths of floors, each below the water of its own body.

    They stand in the water or over open floors; where that is too narrow above the section, or in
    the concrete. Where no such place is clear of what is cut, levels alone say it.
    """
    per, units = projection.per_metre, model.design.pool.units
    open_, concrete = (
        shapely.transform(area, lambda points: points * per)
        for area in (room_for_tags(section), section.concrete)
    )
    left, _, right, high = (per * end for end in section.reach)
    sky = shapely.union(open_, shapely.box(left, high, right, high + SKY * height))
    for tag in depth_tags(section, cuts_of(model)):
        text = depth_text(tag.depth, units)
        place = projection.place(tag.at)
        every = list(around(place, text_width(text, height), height))
        clear = [at for at in every if _is_clear(at, concrete, height)]
        boxes = shapely.polygons([box_about(at, text, height) for at in clear])
        for area in (open_, sky, concrete):
            inside = shapely.covers(area, boxes).tolist()
            if fits := tuple(at for at, is_in in zip(clear, inside, strict=True) if is_in):
                yield Label(text, fits), place
                break


def _is_clear(at: Position, concrete: shapely.Geometry, height: float) -> bool:
    """Tell whether the leader to a position, if any, keeps out of the concrete."""
    if at.leader is None:
        return True
    length = shapely.length(shapely.intersection(shapely.LineString(at.leader), concrete))
    return bool(length < LEAST_CROSSED * height)


def _running(
    model: Model, section: Section, projection: Projection, height: float
) -> Iterator[Ordinate]:
    """Yield places below, from the left end of the concrete, and levels on the right.

    Levels are counted from the pool's water level: what lies below it has a minus.
    """
    left, low, right, _ = section.reach
    units = model.design.pool.units
    places, levels = stations_of(section).tolist(), heights_of(section, cuts_of(model))
    base, below = projection.place((right, low))
    row = list(running(places, 0, left, below, -1.0,
                       projection=projection, height=height, units=units))  # fmt: skip
    yield from row
    # levels stand beyond what the places below have spread to
    base = max([base, *(item.end[0] - OFF * height for item in row)])
    yield from running(levels, 1, 0.0, base, 1.0,
                       projection=projection, height=height, units=units)  # fmt: skip


def _said(section: Section, ordinates: Iterable[Ordinate], height: float) -> Iterator[Note]:
    """Yield what levels are counted from, above them, where depths are not all counted so."""
    if len({floor.body for floor in floors_of(section)}) > 1:
        ends = [item.end for item in ordinates if item.axis == 1]
        x, y = min(x for x, _ in ends), max(y for _, y in ends)
        yield Note(contents.NOTES, SAID_FROM, (x, y + height), SAID_SIZE)


def _overall(
    section: Section, projection: Projection, height: float, units: Units
) -> Iterator[Dimension]:
    """Yield how long and high the concrete is, above it and to its left."""
    left, low, right, high = section.reach
    foot, corner, end = (projection.place(p) for p in ((left, low), (left, high), (right, high)))
    off = OFF * height
    above = max([high, *(float(item.points[:, 1].max()) for item in section.beyond)])
    over = projection.length(above) + off
    yield Dimension(corner, end, (corner[0], over), 0.0, says(right - left, units))
    yield Dimension(foot, corner, (foot[0] - off, foot[1]), 90.0, says(high - low, units))


def _strokes(area: shapely.Geometry, projection: Projection, height: float) -> Iterator[PlanLine]:
    """Yield level lines through an area, for labels to keep clear of its hatching."""
    left, low, right, high = area.bounds
    step = 0.6 * height / projection.per_metre
    levels = np.arange(low + step / 2.0, high, step)
    rows = shapely.linestrings([[(left, z), (right, z)] for z in levels.tolist()])
    for part in shapely.get_parts(shapely.intersection(rows, area)):
        if part.geom_type == "LineString" and (line := projection.line(np.array(part.coords))):
            yield line
