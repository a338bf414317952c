"""Joints and fittings in a section: where its plane crosses them, and those seen beyond."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats
from ..jointing.rows import FinishJoint, FinishJoints
from ..model import JointCut, Model
from ..placed import Placed, rim_of
from ..plan.tolerances import GRID
from ..quantities import JointRun
from ..surface.joints import under
from ..surface.kinds import STANDING
from ..surface.slices import Straight, slice_at
from . import contents
from .contents import Content
from .section import Section
from .sight import IN_FRONT

ALONG = 1e-6
"""[-] Sine of the angle at which a joint counts as one that runs along a section."""

TICK = 0.5
"""Half of the tick across a movement joint of the finish, in text heights."""

JAMB = 0.6
"""How far the sides of an opening that is cut are drawn into the concrete, in text heights."""

TOWARDS = 0.1
"""[-] A fitting is seen in a section that turns this much of its normal to the eye."""


@dataclass(frozen=True)
class Mark:
    """Something crossed or seen, as lines and a number.

    Args:
        content: Of the lines.
        lines: Polylines (k, 2) [m].
        at: That the number stands by (t, z) [m].
        number: What it says; empty for none.
        number_content: Of the number.
    """

    content: Content
    lines: tuple[Floats, ...]
    at: tuple[float, float]
    number: str
    number_content: Content


def joint_marks(model: Model, section: Section) -> Iterator[Mark]:
    """Yield the movement joints of the structure that a section crosses.

    Each parts all the concrete under and over its line: it is drawn from the top to the foot.
    """
    _, low, _, high = section.reach
    for cut in model.joints:
        t = _crossing(model, cut, section.line)
        if t is None:
            continue
        trace = shapely.LineString([(t, low - 1.0), (t, high + 1.0)])
        lines = _polylines(shapely.intersection(trace, section.concrete))
        if lines:
            top = float(max(line[:, 1].max() for line in lines))
            yield Mark(contents.JOINTS, lines, (t, top), cut.number, contents.JOINT_NUMBERS)


def _crossing(model: Model, cut: JointCut, line: Straight) -> float | None:
    """Return where along a section's line a joint of the structure crosses it, if it does [m]."""
    asked = model.design.pool.joints[int(cut.number[1:]) - 1]
    joint = Straight.of(asked.start, asked.end)
    off = joint.off(np.array([line.start, line.start + line.way]))
    if abs(off[1] - off[0]) < ALONG:
        return None
    t = float(off[0] / (off[0] - off[1]))
    piece = slice_at(model.shell, joint.off(model.shell.vertices))
    reach = joint.along(piece.points[piece.ends[under(piece, joint)]])
    place = float(joint.along(line.start + t * line.way))
    is_there = reach.size and reach.min() - GRID <= place <= reach.max() + GRID
    return t if is_there and 0.0 <= t <= line.length else None


def finish_marks(joints: FinishJoints | None, section: Section, text: float) -> Iterator[Mark]:
    """Yield the movement joints of the finish that a section crosses, as ticks on the surface.

    Args:
        joints: Of the finish, if any.
        section: That crosses them.
        text: Height of text [m].
    """
    for joint in () if joints is None else joints.joints:
        if joint.kind == "round fitting":
            continue
        number = joint.number if joint.kind == "intermediate" else ""
        for run in joint.runs:
            for point in _crossed(run.points, section.line):
                yield _tick(joint, run, point, number, TICK * text)
                number = ""  # one number for each joint


def _tick(joint: FinishJoint, run: JointRun, point: Floats, number: str, half: float) -> Mark:
    """Return the tick of a joint: level on a wall, upright on a floor, aslant at an edge."""
    if "/" in run.surface or not joint.is_across:
        way = np.array([half, half])
    else:
        way = np.array([half, 0.0] if run.surface in STANDING else [0.0, half])
    content = contents.FINISH_JOINTS if joint.is_across else contents.FINISH_EDGES
    line = np.stack([point - way, point + way])
    return Mark(content, (line,), (point[0], point[1]), number, contents.FINISH_NUMBERS)


def fitting_marks(model: Model, section: Section, text: float) -> Iterator[Mark]:
    """Yield the fittings that a section cuts, and those that are seen beyond it.

    Args:
        model: The pool.
        section: Of it.
        text: Height of text [m].
    """
    for item in model.fittings:
        lines = _cut_fitting(item, section.line, JAMB * text)
        if not lines and _is_seen(item, section):
            lines = _collar(item, section)
        if lines:
            at = float(lines[0][:, 0].mean()), float(lines[0][:, 1].mean())
            yield Mark(contents.FITTINGS, lines, at, item.number, contents.FITTING_NUMBERS)


def _cut_fitting(item: Placed, line: Straight, jamb: float) -> tuple[Floats, ...]:
    """Return the line across a fitting that a section cuts, and the sides of its opening."""
    across = _crossed(rim_of(item, closed=True), line)
    if len(across) < 2:
        return ()
    opening = _crossed(rim_of(item, of_opening=True, closed=True), line)
    ends = opening if len(opening) > 1 else across
    inward = -np.array([np.array(item.normal[:2]) @ line.way, item.normal[2]])
    size = float(np.hypot(*inward))
    sides = [np.stack([end, end + jamb / size * inward]) for end in ends] if size > TOWARDS else []
    return (across, *sides)


def _is_seen(item: Placed, section: Section) -> bool:
    """Tell whether a fitting beyond a section is seen: it faces the eye, and nothing is before."""
    line = section.line
    point = np.array([item.point]) + IN_FRONT * np.array(item.normal)
    towards = -float(line.off(line.start + np.array(item.normal[:2])))
    deep = float(line.off(point)[0])
    if towards < TOWARDS or deep <= IN_FRONT:
        return False
    place = np.array([line.along(point)[0], point[0, 2]])
    left, _, right, _ = section.reach
    if not left < place[0] < right or shapely.contains_xy(section.concrete, *place):
        return False
    return not bool(section.sight.hides(np.array([[*place, deep]]))[0])


def _collar(item: Placed, section: Section) -> tuple[Floats, ...]:
    """Return what of a collar beyond a section is not behind what that cuts."""
    rim = rim_of(item, closed=True)
    ring = shapely.LineString(np.column_stack([section.line.along(rim), rim[:, 2]]))
    return _polylines(shapely.difference(ring, section.concrete))


def _crossed(points: Floats, line: Straight) -> Floats:
    """Return where a polyline (k, 3) crosses a section, within its length (t, z) [m]."""
    off = line.off(points)
    sides = off > GRID / 2.0
    rows = np.flatnonzero(sides[1:] != sides[:-1])
    share = np.clip(off[rows] / (off[rows] - off[rows + 1]), 0.0, 1.0)[:, None]
    at = points[rows] + share * (points[rows + 1] - points[rows])
    places = np.column_stack([line.along(at), at[:, 2]])
    found: Floats = places[(places[:, 0] >= 0.0) & (places[:, 0] <= line.length)]
    return found


def _polylines(found: shapely.Geometry) -> tuple[Floats, ...]:
    """Return the lines (k, 2) of a geometry, joined up."""
    lines = [part for part in shapely.get_parts(found) if part.geom_type == "LineString"]
    merged = shapely.line_merge(shapely.MultiLineString(lines)) if lines else found
    return tuple(
        np.array(part.coords)
        for part in shapely.get_parts(merged)
        if part.geom_type == "LineString" and not part.is_empty
    )
