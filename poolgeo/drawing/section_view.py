"""A section as a view: concrete hatched, water, what is seen beyond, depths and dimensions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely

from ..arrays import Floats
from ..design.lengths import Units, format_length
from ..model import Model
from . import contents
from .contents import Content
from .labels import Label, placed
from .measuring import OFF, running, says, strokes_of, texts_of
from .plan_lines import Drawn, Place, PlanLine, Projection
from .positions import around, text_width
from .section import Section
from .sheet import Plot
from .view import Dimension, Ordinate, Rings, Text, View

BENDS = 3e-3
"""[-] Floors whose slopes differ by less are one in a section."""

SHORT = 1e-3
"""[m] What is shorter has no dimension."""


def section_view(model: Model, section: Section, projection: Projection, plot: Plot) -> View:
    """Lay a section out.

    Args:
        model: The pool.
        section: Of it.
        projection: To drawing units.
        plot: Scale and height of text.

    Returns:
        The view; its places are along the line and up, from the start and the pool's water level.
    """
    height, units = projection.length(plot.text), model.design.pool.units
    lines: dict[Content, list[PlanLine]] = defaultdict(list)
    drawn: dict[Content, Drawn] = defaultdict(Drawn)
    for content, line in _lines(model, section, projection):
        lines[content] += drawn[content].fresh(line)
    areas = [(contents.HATCH, rings) for rings in _rings(section.concrete, projection)]
    ordinates = list(_running(section, projection, height, units))
    dimensions = list(_overall(section, projection, height, units))
    left = section.reach[0]
    view = View(
        f"section {section.name}", f"Section {section.name} - {section.name}",
        plot.ratio, plot.scale, height, dict(lines), areas=areas,
        dimensions=dimensions, ordinates=ordinates, zero=projection.place((left, 0.0)),
    )  # fmt: skip
    wanted = list(_depths(section, units, projection, height))
    obstacles = [line for found in lines.values() for line in found]
    obstacles += strokes_of(dimensions, ordinates)
    obstacles += _strokes(section.concrete, projection, height)
    taken = texts_of(dimensions, ordinates, height)
    positions = placed([label for label, _ in wanted], obstacles, height, taken)
    texts = [
        Text(contents.DEPTHS, label.text, at)
        for (label, _), at in zip(wanted, positions, strict=True)
    ]
    return replace(view, texts=texts, spots=[place for _, place in wanted])


def _lines(
    model: Model, section: Section, projection: Projection
) -> Iterator[tuple[Content, PlanLine]]:
    """Yield every line with its content."""
    for rings in _rings(section.concrete, projection):
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


def _rings(area: shapely.Geometry, projection: Projection) -> Iterator[Rings]:
    """Yield the outlines of each part of an area, in drawing units."""
    for part in shapely.get_parts(area):
        if part.geom_type == "Polygon" and not part.is_empty:
            rings = [part.exterior, *part.interiors]
            lines = [projection.line(np.array(ring.coords)) for ring in rings]
            yield tuple(line.points for line in lines if line is not None)


def floor_points(section: Section) -> Floats:
    """Return where floors that a section cuts begin, bend or end (k, 2), from left to right [m]."""
    found = [np.zeros((0, 2))]
    for cut in section.cuts:
        if cut.kind not in {"floor", "basin floor", "channel floor", "spa floor"}:
            continue
        points = cut.points[np.argsort(cut.points[:, 0], kind="stable")]
        steps = np.diff(points, axis=0)
        slope = steps[:, 1] / np.maximum(steps[:, 0], 1e-9)
        bends = np.abs(np.diff(slope)) > BENDS
        kept = np.concatenate([[True], bends, [True]]) if len(points) > 1 else [True]
        found.append(points[kept])
    points = np.concatenate(found)
    points = points[np.lexsort((points[:, 1], points[:, 0]))]
    fresh = np.any(np.abs(np.diff(points, axis=0, prepend=-1e9)) > SHORT, axis=1)
    kept_points: Floats = points[fresh]
    return kept_points


def _depths(
    section: Section, units: Units, projection: Projection, height: float
) -> Iterator[tuple[Label, Place]]:
    """Yield the depths of the floor where it begins, bends and ends."""
    for t, z in floor_points(section).tolist():
        text = format_length(-z, units)
        place = projection.place((t, z))
        yield Label(text, tuple(around(place, text_width(text, height), height))), place


def _running(
    section: Section, projection: Projection, height: float, units: Units
) -> Iterator[Ordinate]:
    """Yield places below, from the left end of the concrete, and levels on the right.

    Levels are counted from the pool's water level: what lies below it has a minus.
    """
    left, low, right, high = section.reach
    points = floor_points(section)
    places, levels = _stations(section, points).tolist(), [low, 0.0, high, *points[:, 1].tolist()]
    base, below = projection.place((right, low))
    row = list(running(places, 0, left, below, -1.0,
                       projection=projection, height=height, units=units))  # fmt: skip
    yield from row
    # levels stand beyond what the places below have spread to
    base = max([base, *(item.end[0] - OFF * height for item in row)])
    yield from running(levels, 1, 0.0, base, 1.0,
                       projection=projection, height=height, units=units)  # fmt: skip


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


def _stations(section: Section, points: Floats) -> Floats:
    """Return where concrete begins and ends at its top, and floors bend, from left to right [m]."""
    left, _, right, _ = section.reach
    inner = [cut.points[:, 0] for cut in section.cuts if cut.kind == "wall"]
    walls = [float(value) for at in inner for value in (at.min(), at.max()) if np.ptp(at) < SHORT]
    every = np.unique(np.round([left, right, *walls, *points[:, 0].tolist()], 4))
    fresh: Floats = every[np.diff(every, prepend=-1e9) > SHORT]
    return fresh
