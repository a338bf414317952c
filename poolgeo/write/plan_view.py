"""What stands on the plan: lines by layer, marks of vertical runs, spots, numbers and depths.

Geometry only; `poolgeo.write.dxf` makes entities of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from poolgeo.design.lengths import Units, format_length
from poolgeo.model import Model
from poolgeo.quantities import CoveRun, JointRun, Run, Takeoff
from poolgeo.surface.kinds import rims_of

from ..arrays import Floats
from ..jointing.rows import FinishJoints, JointKind
from . import layers
from .labels import Label, placed
from .plan_lines import Drawn, Place, PlanLine, Projection, rims
from .positions import Position, along, around, text_width
from .symbols import Insert, collar_lines, inserts

_RIMS = (
    (layers.STEPS, rims_of("steps")),
    (layers.BENCHES, rims_of("benches")),
    (layers.SPA, rims_of("spa")),
    (layers.OVERFLOW, rims_of("overflow")),
    (layers.RECESSES, rims_of("recesses")),
    (layers.COVE, rims_of("cove")),
)
"""Layer -> the kinds whose rims it shows."""


R = TypeVar("R", Run, JointRun)


@dataclass(frozen=True)
class Text:
    """A text in its place: the layer it is on, what it says, where."""

    layer: layers.DrawingLayer
    text: str
    at: Position


@dataclass(frozen=True)
class PlanView:
    """What stands on the plan, in drawing units.

    Args:
        lines: Layer name -> its lines, none of them twice.
        marks: Name of a layer -> where a vertical run stands: an edge by its sense, or a cove.
        spots: Where depths are given.
        texts: Run numbers, numbers of fittings, depths.
        inserts: Symbols of fittings.
        origin: That joints are set out from; None where none are.
        direction: Of the rows of tiles, from x [deg].
    """

    lines: dict[str, list[PlanLine]]
    marks: dict[str, list[Place]]
    spots: list[Place]
    texts: list[Text]
    inserts: list[Insert]
    origin: Place | None = None
    direction: float = 0.0


def plan_view(
    model: Model,
    takeoff: Takeoff,
    projection: Projection,
    text_height: float,
    joints: FinishJoints | None = None,
) -> PlanView:
    """Lay out the plan of a pool with the runs and coves of its takeoff.

    Args:
        model: The pool.
        takeoff: Its runs and coves.
        projection: To drawing units.
        text_height: Height of numbers and depths, in drawing units.
        joints: Movement joints of the finish, if any.

    Returns:
        Everything but title, notes and legend.
    """
    lines = lines_of(model, takeoff, projection, joints)
    runs: list[Run | CoveRun] = [*takeoff.edges, *takeoff.coves]
    standing = [run for run in runs if _stands(run, projection)]
    marks: dict[str, list[Place]] = defaultdict(list)
    for run in standing:
        layer = layers.EDGE_LAYERS[run.sense] if isinstance(run, Run) else layers.COVE
        marks[layer.name].append(projection.place(run.points[0]))
    spots = list(dict.fromkeys(projection.place(spot.point) for spot in model.spots))
    symbols = list(inserts(takeoff.fittings, projection, model.design.pool.units))
    wanted = [
        *_depths(model, projection, text_height),
        *_fitting_numbers(symbols, text_height),
        *_standing_numbers(standing, projection, text_height),
        *_lying_numbers(runs, projection, text_height),
        *_lying_numbers(takeoff.joints, projection, text_height, layers.JOINT_NUMBERS),
        *_origin(joints, projection, text_height, model.design.pool.units),
        *_lying_numbers(
            named_runs(joints, "intermediate"), projection, text_height, layers.FINISH_NUMBERS
        ),
    ]
    obstacles = [line for name in lines for line in lines[name]]
    obstacles += [_ring(place, text_height) for name in marks for place in marks[name]]
    obstacles += [_ring(place, text_height) for place in spots]
    obstacles += [_ring(item.place, text_height) for item in symbols]
    positions = placed([label for _, label in wanted], obstacles, text_height)
    texts = [
        Text(layer, label.text, position)
        for (layer, label), position in zip(wanted, positions, strict=True)
    ]
    unique = {name: list(dict.fromkeys(places)) for name, places in marks.items()}
    origin = None if joints is None else projection.place(joints.origin)
    direction = 0.0 if joints is None else joints.direction
    return PlanView(lines, unique, spots, texts, symbols, origin, direction)


def lines_of(
    model: Model, takeoff: Takeoff, projection: Projection, joints: FinishJoints | None = None
) -> dict[str, list[PlanLine]]:
    """Return the lines of a plan by the name of their layer, none of them twice.

    Args:
        model: The pool.
        takeoff: Its runs and coves.
        projection: To drawing units.
        joints: Movement joints of the finish, if any.
    """
    drawn: dict[str, Drawn] = defaultdict(Drawn)
    lines: dict[str, list[PlanLine]] = defaultdict(list)
    for layer, line in _all_lines(model, takeoff, projection, joints):
        lines[layer.name] += drawn[layer.name].fresh(line)
    return dict(lines)


def _all_lines(
    model: Model, takeoff: Takeoff, projection: Projection, joints: FinishJoints | None
) -> Iterator[tuple[layers.DrawingLayer, PlanLine]]:
    """Yield every line with its layer, in the order in which they are drawn."""
    for layer, outline in _outlines(model):
        if line := projection.line(outline):
            yield layer, line
    for body in model.bodies:
        for line in rims(body.water, {"water surface"}, projection):
            yield layers.WATER, line
    for layer, kinds in _RIMS:
        yield from ((layer, line) for line in rims(model.square.surface, kinds, projection))
    for line, run in _seen(takeoff.edges, projection):
        if run.kind == "floor/floor":
            yield layers.BREAKS, line
        yield layers.EDGE_LAYERS[run.sense], line
    for line, _ in _seen(takeoff.joints, projection):
        yield layers.JOINTS, line
    yield from _finish_lines(joints, projection)
    for line in collar_lines(takeoff.fittings, projection):
        yield layers.FITTINGS, line


def _seen(runs: Iterable[R], projection: Projection) -> Iterator[tuple[PlanLine, R]]:
    """Yield the runs that are seen as a line from above, with that line."""
    for run in runs:
        if line := projection.line(run.points):
            yield line, run


def _finish_lines(
    joints: FinishJoints | None, projection: Projection
) -> Iterator[tuple[layers.DrawingLayer, PlanLine]]:
    """Yield the movement joints of the finish with their layers."""
    for joint in () if joints is None else joints.joints:
        layer = layers.FINISH_JOINTS if joint.is_across else layers.FINISH_EDGES
        for run in joint.runs:
            if line := projection.line(run.points):
                yield layer, line


def _origin(
    joints: FinishJoints | None, projection: Projection, height: float, units: Units
) -> Iterator[tuple[layers.DrawingLayer, Label]]:
    """Name the set-out origin."""
    if joints is not None:
        x, y = (format_length(value, units) for value in joints.origin)
        text = f"Set-out origin {x}, {y}"
        place = projection.place(joints.origin)
        yield layers.SET_OUT, Label(text, tuple(around(place, text_width(text, height), height)))


def named_runs(joints: FinishJoints | None, *kinds: JointKind) -> list[JointRun]:
    """Return the longest stretch of each joint of some kinds, under the number of the joint."""
    found = () if joints is None else joints.of_kind(*kinds)
    return [
        replace(max(joint.runs, key=_in_plan), number=joint.number)
        for joint in found if joint.runs
    ]  # fmt: skip


def _in_plan(run: JointRun) -> float:
    """Return the length of a run in plan [m]."""
    return float(np.hypot(*np.diff(run.points[:, :2], axis=0).T).sum())


def _outlines(model: Model) -> Iterator[tuple[layers.DrawingLayer, Floats]]:
    """Yield the outer faces of shell and footing, and the outlines of all bodies, as paths [m].

    Where a spa stands astride the pool's edge, the two shells are one, and the pool's outline
    ends at the spa.
    """
    from shapely import LinearRing, Polygon, get_parts, get_rings, line_merge, union_all

    shells = {
        name: Polygon(line) for (name, role), line in model.outlines.items() if role == "shell"
    }
    ground = [Polygon(line) for (_, role), line in model.outlines.items() if role == "ground"]
    shells["pool"] = shells["pool"].difference(union_all(ground))  # a spa may stand on that
    concrete = union_all(list(shells.values()))
    for part in get_parts(concrete):
        for ring in get_rings(part):
            yield layers.SHELL, np.array(ring.coords)
    if ("pool", "base") in model.outlines:
        footing = LinearRing(model.outlines["pool", "base"])
        for part in get_parts(line_merge(footing.difference(concrete))):
            yield layers.SHELL, np.array(part.coords)
    yield from _inner_outlines(model)


def _inner_outlines(model: Model) -> Iterator[tuple[layers.DrawingLayer, Floats]]:
    """Yield the inner faces of the walls of all bodies of water, and of islands, as paths [m]."""
    from shapely import LinearRing, Polygon, get_parts, line_merge

    pool = LinearRing(model.outlines["pool", "water"])
    drawn = {key: layers.OUTLINE for key in model.outlines if key[1] == "island"}
    for body in model.bodies[1:]:
        is_spa = body.mark.startswith("S")
        layer = layers.SPA if is_spa else layers.OVERFLOW
        drawn |= {key: layer for key in model.outlines
                  if key[0] == body.name and key[1] in ("water", "hole")}  # fmt: skip
        if is_spa:
            pool = pool.difference(Polygon(model.outlines[body.name, "shell"]))
    pool = line_merge(pool) if pool.geom_type == "MultiLineString" else pool
    for part in get_parts(pool):
        yield layers.OUTLINE, np.array(part.coords)
    for key, layer in drawn.items():
        yield layer, np.array(LinearRing(model.outlines[key]).coords)


def _stands(run: Run | CoveRun, projection: Projection) -> bool:
    """Tell whether a run is seen as a point from above."""
    return projection.line(run.points) is None


def _depths(
    model: Model, projection: Projection, height: float
) -> Iterator[tuple[layers.DrawingLayer, Label]]:
    units: Units = model.design.pool.units
    for spot in model.spots:
        text = format_length(spot.depth, units)
        positions = tuple(around(projection.place(spot.point), text_width(text, height), height))
        yield layers.DEPTHS, Label(text, positions)


def _fitting_numbers(
    symbols: Iterable[Insert], height: float
) -> Iterator[tuple[layers.DrawingLayer, Label]]:
    """Number the fittings; those above each other share a label."""
    numbers: dict[Place, list[str]] = defaultdict(list)
    for item in symbols:
        numbers[item.place].append(item.texts["NUMBER"])
    for place, names in numbers.items():
        text = ", ".join(names)
        yield (
            layers.FITTING_NUMBERS,
            Label(text, tuple(around(place, text_width(text, height), height))),
        )


def _standing_numbers(
    runs: Iterable[Run | CoveRun], projection: Projection, height: float
) -> Iterator[tuple[layers.DrawingLayer, Label]]:
    """Number the vertical runs; those that stand at one place share a label."""
    numbers: dict[Place, list[str]] = defaultdict(list)
    for run in runs:
        numbers[projection.place(run.points[0])].append(run.number)
    for place, names in numbers.items():
        text = ", ".join(names)
        positions = tuple(around(place, text_width(text, height), height))
        yield layers.NUMBERS, Label(text, positions)


def _lying_numbers(
    runs: Iterable[Run | CoveRun | JointRun],
    projection: Projection,
    height: float,
    layer: layers.DrawingLayer = layers.NUMBERS,
) -> Iterator[tuple[layers.DrawingLayer, Label]]:
    """Number the other runs, short ones first: they have the least room."""
    found = [(line, run.number) for run in runs if (line := projection.line(run.points))]
    for line, number in sorted(found, key=lambda item: item[0].length):
        positions = tuple(along(line, text_width(number, height), height))
        yield layer, Label(number, positions)


def _ring(place: Place, height: float) -> PlanLine:
    """Return a square as large as a mark, for labels to keep clear of."""
    (x, y), r = place, mark_radius(height)
    return PlanLine(((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)), closed=True)


def mark_radius(height: float) -> float:
    """Return the radius of the mark of a vertical run, for a text height."""
    return 0.35 * height
