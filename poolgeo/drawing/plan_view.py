"""The plan: lines by content, marks of vertical runs, spots, numbers, depths and dimensions.

Geometry only; `poolgeo.write.pen` makes entities of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np
import shapely

from ..design.lengths import Units
from ..jointing.rows import FinishJoints
from ..model import Body, Model
from ..quantities import CoveRun, JointRun, Run, Takeoff
from ..surface.slices import Straight
from . import contents
from .area_tags import area_tags
from .contents import Content
from .cut_lines import cut_line
from .labels import placed
from .measuring import OFF, says, strokes_of, texts_of
from .plan_labels import (
    Wanted,
    depths,
    fitting_numbers,
    lying_numbers,
    named_runs,
    origin,
    radius_label,
    standing_numbers,
    told_once,
)
from .plan_lines import Drawn, Place, PlanLine, Projection
from .plan_sight import seen_from_above
from .plan_stations import stations
from .positions import box_about
from .radii import radii_of
from .set_out import frame_of, ordinates
from .sheet import Plot
from .slopes import arrow_of, fall_label, falls_of
from .symbols import collar_lines, inserts, mark_ring
from .view import Dimension, Ordinate, Radius, Text, View

BESIDE = 0.3
"""[m] What is shown about a body that is drawn by itself."""

Lines = dict[Content, list[PlanLine]]
R = TypeVar("R", Run, JointRun)


def plan_view(
    model: Model,
    takeoff: Takeoff,
    projection: Projection,
    plot: Plot,
    joints: FinishJoints | None = None,
    cuts: Iterable[tuple[str, Straight]] = (),
) -> View:
    """Lay out the plan of a pool with the runs and coves of its takeoff.

    Args:
        model: The pool.
        takeoff: Its runs and coves.
        projection: To drawing units.
        plot: Scale and height of text.
        joints: Movement joints of the finish, if any.
        cuts: Names and lines of sections.

    Returns:
        Everything but title, notes and legend.
    """
    lines = lines_of(model, takeoff, projection, joints)
    height = projection.length(plot.text)
    titles = []
    for name, line in cuts:
        strokes, letters = cut_line(name, line, projection, height)
        lines.setdefault(contents.CUT_LINES, []).extend(strokes)
        titles += letters
    view = _laid(model, takeoff, projection, plot, joints, lines, model.bodies, titles)
    outlines = [
        projection.line(outline, closed=True)
        for (name, role), outline in model.outlines.items()
        if (name, role) == ("pool", "water") or role == "island"
    ]
    whole = [outline for outline in outlines if outline is not None]
    return replace(view, lines={**view.lines, contents.WHOLE: whole})


def body_view(
    model: Model,
    takeoff: Takeoff,
    projection: Projection,
    plot: Plot,
    body: Body,
    joints: FinishJoints | None = None,
) -> View:
    """Lay out the plan of one body of water by itself, such as a spa.

    Args:
        model: The pool.
        takeoff: Its runs and coves; those of other bodies are left out.
        projection: To drawing units.
        plot: Scale and height of text.
        body: The body.
        joints: Movement joints of the finish, if any.

    Returns:
        As `plan_view` does.
    """
    own = replace(
        takeoff,
        edges=tuple(item for item in takeoff.edges if item.body == body.name),
        coves=tuple(item for item in takeoff.coves if item.body == body.name),
        joints=tuple(item for item in takeoff.joints if item.body == body.name),
        fittings=tuple(item for item in takeoff.fittings if item.body == body.name),
        areas=tuple(item for item in takeoff.areas if item.body == body.name),
    )
    around = shapely.Polygon(model.outlines[body.name, "shell"]).buffer(BESIDE)
    per = projection.per_metre
    frame = shapely.transform(around, lambda points: points * per)
    shapely.prepare(frame)
    lines = {
        content: kept
        for content, found in lines_of(model, own, projection, joints).items()
        if (kept := [part for line in found for part in _within(line, frame, projection)])
    }
    view = _laid(model, own, projection, plot, joints, lines, [body], [])
    return replace(view, name=f"plan of {body.name}", title=f"Plan of {body.name}", origin=None)


def _within(line: PlanLine, frame: shapely.Geometry, projection: Projection) -> Iterator[PlanLine]:
    """Yield what of a line lies in an area."""
    path = shapely.LineString(line.points + line.points[:1] if line.closed else line.points)
    if frame.contains(path):
        yield line
        return
    shown = shapely.intersection(path, frame)
    merged = shapely.line_merge(shown) if shown.geom_type.startswith("Multi") else shown
    grid = Projection(1.0, projection.decimals)
    for part in shapely.get_parts(merged):
        if part.geom_type == "LineString" and (found := grid.line(np.array(part.coords))):
            yield found


def _laid(
    model: Model, takeoff: Takeoff, projection: Projection, plot: Plot,
    joints: FinishJoints | None, lines: Lines, bodies: Sequence[Body], titles: Sequence[Text],
) -> View:  # fmt: skip
    """Place labels and dimensions about lines."""
    height, units = projection.length(plot.text), model.design.pool.units
    runs: list[Run | CoveRun] = [*takeoff.edges, *takeoff.coves]
    standing = [run for run in runs if projection.line(run.points) is None]
    names = {body.name for body in bodies}
    shown = [spot for spot in model.spots if spot.body in names]
    levels = told_once(shown, plot.text, units)
    symbols = list(inserts(takeoff.fittings, projection, units))
    is_whole = len(bodies) == len(model.bodies)
    finish = named_runs(joints, "intermediate") if is_whole else []
    falls = [fall for fall in falls_of(model, plot.text) if fall.body in names]
    arrows = [line for fall in falls for line in arrow_of(fall, projection, plot.text)]
    lines = {**lines, contents.SLOPES: arrows} if arrows else lines
    wanted: list[Wanted] = [
        *depths(levels, projection, height, units),
        *((contents.SLOPES, fall_label(fall, projection, plot.text)) for fall in falls),
        *fitting_numbers(symbols, height),
        *standing_numbers(standing, projection, height),
        *lying_numbers(runs, projection, height),
        *lying_numbers(takeoff.joints, projection, height, contents.JOINT_NUMBERS),
        *(origin(joints, projection, height, units) if is_whole else ()),
        *lying_numbers(finish, projection, height, contents.FINISH_NUMBERS),
        *((contents.AREAS, tag) for tag in area_tags(model, takeoff, projection, plot.text)),
    ]
    arcs = [arc for arc in radii_of(model) if is_whole or arc.body in names]
    base, running_ones = stations(model, takeoff, joints, bodies, lines, projection, height)
    view = View(
        "plan", "Plan", plot.ratio, plot.scale, height, lines, _marks(standing, projection),
        spots=list(dict.fromkeys(projection.place(spot.point) for spot in levels)),
        inserts=symbols,
        dimensions=list(_overall(model, bodies, _corner(lines, titles, height), projection, plot)),
        stations=running_ones, base=base,
        origin=None if joints is None else projection.place(joints.origin),
        zero=(0.0, 0.0) if joints is None else projection.place(joints.origin),
        direction=0.0 if joints is None else joints.direction,
    )  # fmt: skip
    wanted += [(contents.RADII, radius_label(arc, projection, height, units)) for arc in arcs]
    texts = list(_texts(wanted, view, titles))
    said, rounds = texts[: len(texts) - len(arcs)], texts[len(texts) - len(arcs) :]
    radii = [
        Radius(projection.place(arc.centre), projection.place(arc.at), text.text, text.at)
        for arc, text in zip(arcs, rounds, strict=True)
    ]
    view = replace(view, texts=[*titles, *said], radii=radii)
    if joints is None or not is_whole:
        return view
    return replace(view, ordinates=list(_set_out(joints, view, projection, units)))


def _set_out(
    joints: FinishJoints, view: View, projection: Projection, units: Units
) -> Iterator[Ordinate]:
    """Yield the set-out dimensions of joints, beyond all that is on a view."""
    frame, per = frame_of(joints), projection.per_metre
    (left, bottom), (right, top) = view.reach
    taken = np.array([(left, bottom), (right, bottom), (right, top), (left, top)]) / per

    def place(along: float, across: float) -> Place:
        return projection.place(
            np.array(frame.origin) + np.array([along, across]) @ frame.axes[:2, :2]
        )

    for item in ordinates(joints, taken, view.height / per, units):
        start, end = (item.at, item.start), item.end
        if item.axis == 1:
            start, end = start[::-1], end[::-1]
        yield Ordinate(item.axis, place(*start), place(*end), says(item.at, units))


def _texts(wanted: Sequence[Wanted], view: View, titles: Sequence[Text]) -> Iterator[Text]:
    """Place labels so that they keep clear of what is on a view."""
    obstacles = [line for found in view.lines.values() for line in found]
    points = [place for places in view.marks.values() for place in places]
    points += [*view.spots, *(item.place for item in view.inserts)]
    obstacles += [mark_ring(place, view.height) for place in points]
    obstacles += strokes_of(view.dimensions, (*view.ordinates, *view.stations))
    taken = [(text.text, text.at) for text in titles]
    taken += texts_of((), view.stations, view.height)
    taken += texts_of(view.dimensions, view.ordinates, view.height, view.direction)
    positions = placed([label for _, label in wanted], obstacles, view.height, taken)
    for (content, label), position in zip(wanted, positions, strict=True):
        yield Text(content, label.text, position)


def _marks(standing: Sequence[Run | CoveRun], projection: Projection) -> dict[Content, list[Place]]:
    """Return where runs stand upright, each place once."""
    marks: dict[Content, dict[Place, None]] = defaultdict(dict)
    for run in standing:
        content = contents.EDGE_CONTENTS[run.sense] if isinstance(run, Run) else contents.COVE
        marks[content][projection.place(run.points[0])] = None
    return {content: list(places) for content, places in marks.items()}


def _corner(lines: Lines, titles: Sequence[Text], height: float) -> Place:
    """Return the upper right corner of lines and texts."""
    drawn = [point for found in lines.values() for line in found for point in line.points]
    drawn += [point for text in titles for point in box_about(text.at, text.text, height)]
    right, top = np.array(drawn).max(axis=0).tolist()
    return right, top


def _overall(
    model: Model, bodies: Sequence[Body], corner: Place, projection: Projection, plot: Plot
) -> Iterator[Dimension]:
    """Yield how long and wide water and concrete are, above and to the right of a corner."""
    height, units = projection.length(plot.text), model.design.pool.units
    right, top = corner
    names = {body.name for body in bodies}
    for row, role in enumerate(("water", "shell"), 1):
        outlines = [model.outlines[key] for key in model.outlines
                    if key[0] in names and key[1] == role]  # fmt: skip
        outline = np.concatenate(outlines)
        for axis, edge in ((0, top), (1, right)):
            low, high = (outline[k] for k in (outline[:, axis].argmin(), outline[:, axis].argmax()))
            ends = projection.place(low), projection.place(high)
            base = edge + OFF * row * height
            through = (ends[0][0], base) if axis == 0 else (base, ends[0][1])
            text = says(float(high[axis] - low[axis]), units)
            yield Dimension(*ends, through, 90.0 * axis, text)


def lines_of(
    model: Model, takeoff: Takeoff, projection: Projection, joints: FinishJoints | None = None
) -> Lines:
    """Return the lines of a plan by the name of their content, none of them twice.

    Args:
        model: The pool.
        takeoff: Its runs and coves.
        projection: To drawing units.
        joints: Movement joints of the finish, if any.
    """
    drawn: dict[Content, Drawn] = defaultdict(Drawn)
    lines: dict[Content, list[PlanLine]] = defaultdict(list)
    for content, line in _all_lines(model, takeoff, projection, joints):
        lines[content] += drawn[content].fresh(line)
    return dict(lines)


def _all_lines(
    model: Model, takeoff: Takeoff, projection: Projection, joints: FinishJoints | None
) -> Iterator[tuple[Content, PlanLine]]:
    """Yield every line with its content, in the order in which they are drawn."""
    yield from seen_from_above(model, takeoff, projection)
    for line, run in _seen(takeoff.edges, projection):
        if run.kind == "floor/floor":
            yield contents.BREAKS, line
        yield contents.EDGE_CONTENTS[run.sense], line
    for line, _ in _seen(takeoff.joints, projection):
        yield contents.JOINTS, line
    yield from _finish_lines(joints, projection)
    for line in collar_lines(takeoff.fittings, projection):
        yield contents.FITTINGS, line


def _seen(runs: Iterable[R], projection: Projection) -> Iterator[tuple[PlanLine, R]]:
    """Yield the runs that are seen as a line from above, with that line."""
    for run in runs:
        if line := projection.line(run.points):
            yield line, run


def _finish_lines(
    joints: FinishJoints | None, projection: Projection
) -> Iterator[tuple[Content, PlanLine]]:
    """Yield the movement joints of the finish with their layers."""
    for joint in () if joints is None else joints.joints:
        content = contents.FINISH_JOINTS if joint.is_across else contents.FINISH_EDGES
        for run in joint.runs:
            if line := projection.line(run.points):
                yield content, line
