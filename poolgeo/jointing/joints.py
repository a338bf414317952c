"""The movement joints of a pool's finish: planned or as drawn, checked, sized, in rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

from ..arrays import Floats
from ..design.joint_rules import joint_rules
from ..design.lengths import format_length
from ..design.load import placed_in
from ..design.movement import MovementJoints
from ..errors import Finding, Key, PoolFileError
from ..measure.chains import step_lengths
from ..measure.joints import runs_along
from ..measure.zones import in_zones
from ..mesh import ZONES
from ..model import JointCut, Model
from ..placed import Placed, rim_of
from ..quantities import JointRun, Takeoff
from ..review.case import Remark
from .check import Joints, check, covered
from .drawn import DRAWN, drawn_edges, drawn_tracks
from .ground import EdgeLine, Ground, ground_of
from .plan import plan_joints
from .rows import FinishJoint, FinishJoints, JointKind
from .sweep import sweeps
from .tracks import Track, structural_tracks
from .widths import Sizing, packs_of, sealing_of, sizing_of

MOSTLY = 0.5
"""[-] A joint that was drawn over more of one of the structure is meant to lie over it."""


def finish_joints(model: Model, takeoff: Takeoff) -> FinishJoints | None:
    """Plan the movement joints of a pool's finish, or check those that somebody drew.

    Args:
        model: The pool.
        takeoff: Measured on it.

    Returns:
        The joints; None where the pool file speaks of no finish and no movement joints.

    Raises:
        PoolFileError: The rules that the pool file names are not there or not sound.
    """
    pool, origin = model.design.pool, model.design.origin
    asked = pool.movement_joints
    if not pool.finishes and (asked is None or pool.finishes is not None):
        return None
    asked = asked or MovementJoints()
    try:
        rules = joint_rules(asked.rules, Path(origin.file).parent)
    except PoolFileError as error:
        raise PoolFileError(placed_in(error.findings, origin)) from None
    return joints_on(ground_of(model, takeoff, rules, asked))


def joints_on(ground: Ground) -> FinishJoints:
    """Plan joints on a ground, or check those that somebody drew for it."""
    asked, drawn, design = ground.asked, ground.asked.drawn, ground.model.design
    structure = structural_tracks(ground)
    if drawn is None:
        plan = plan_joints(ground, [under for _, under in structure])
        least, bound = plan.least, plan.bound
        key = ("movement_joints",)
        joints = Joints(plan.tracks, structure, ground.edges, 0.0, fittings=True, key=key,
                        swept=plan.swept)  # fmt: skip
    else:
        least, bound = None, None
        edges, tracks = drawn_edges(ground.edges, drawn), tuple(drawn_tracks(ground, drawn))
        swept = sweeps(ground, ground.breaks(edges), tracks)
        joints = Joints(tracks, structure, tuple(edges), drawn.width, drawn.fittings, DRAWN, swept)
    bay = joints.longest_bay
    # what is exempt has no bays: its joints are taken to be as far apart as those of the others
    sizing = sizing_of(ground, bay or ground.rules.bays.longest)
    under = list(_under(joints))
    rows = tuple(_rows(ground, joints, under, sizing))
    narrow = _too_narrow(ground, joints, under, rows)
    remarks = [*check(ground, joints), *narrow, *_too_wide(ground, rows)]
    sealing = sealing_of(rows, asked.sealant)
    return FinishJoints(
        ground.rules,
        ground.frame.origin,
        asked.direction,
        drawn is not None,
        rows,
        bay,
        least,
        bound,
        asked.temperatures,
        sizing.strain,
        asked.sealant.name,
        asked.sealant.capability,
        sealing,
        packs_of(sealing, asked.sealant),
        tuple(remark.placed(design.origin, design.pool.units) for remark in remarks),
    )


Under = tuple[Track, float, float]
"""A joint, with movement and gap [m] of the joints of the structure under it."""


def _rows(
    ground: Ground, joints: Joints, under: Iterable[Under], sizing: Sizing
) -> Iterator[FinishJoint]:
    """Yield all joints, kind after kind."""
    for track, structural, gap in under:
        kind: JointKind = "over the structure" if gap else "intermediate"
        number = f"M{track.number}" if track.what == "over the structure" else track.number
        runs = tuple(_runs_of(ground, replace(track, number=number)))
        place = track.axis, track.at
        yield _joint(number, kind, track.name, place, sizing,
                     sizing.movement(kind, structural), gap, track.width, runs)  # fmt: skip
    for line in joints.edges:
        kind = line.what
        runs = (_run_along(ground, line),)
        yield _joint(line.number, kind, line.kind, (None, 0.0), sizing, sizing.movement(kind), 0.0,
                     joints.edge_width, runs)  # fmt: skip
    if joints.fittings:
        kind = "round fitting"
        for item in ground.jointed_fittings:
            yield _joint(item.number, kind, item.kind, (None, 0.0), sizing, sizing.movement(kind),
                         0.0, joints.edge_width, (_run_about(item),))  # fmt: skip


def _under(joints: Joints) -> Iterator[Under]:
    """Yield each track with what lies under it.

    Of joints that were drawn their place tells whether they lie over one.
    """
    structure = [(joint, under, under.middles) for joint, under in joints.structure]
    for track in joints.tracks:
        found = [
            joint
            for joint, under, middles in structure
            if track.number == under.number
            or (track.what == "drawn" and covered(track, middles).mean() > MOSTLY)
        ]
        movement = max((item.movement or 0.0 for item in found), default=0.0)
        yield track, movement, max((item.width for item in found), default=0.0)


def _joint(
    number: str, kind: JointKind, name: str, place: tuple[int | None, float], sizing: Sizing,
    movement: float, gap: float, drawn: float, runs: tuple[JointRun, ...],
) -> FinishJoint:  # fmt: skip
    needed = sizing.width(movement, gap)
    width = drawn or needed
    depth = sizing.sealant.depth.depth_of(width)
    sized = tuple(replace(run, width=width) for run in runs)
    rod = width * sizing.sealant.rod
    return FinishJoint(number, kind, name, *place, width, needed, movement, depth, rod, sized)


def _runs_of(ground: Ground, track: Track) -> Iterator[JointRun]:
    """Yield the stretches of a joint by kind of surface, in order along it."""
    used, rows = np.unique(track.ends, return_inverse=True)
    middles = track.points[track.ends].mean(axis=1)
    place = _along(ground, track, middles)
    triangles = ground.rows[track.triangles]
    ends = rows.reshape(-1, 2)
    cut = JointCut(track.number, track.name, 0.0, track.points[used], ends, triangles, place)
    yield from runs_along(ground.model, cut)


def _along(ground: Ground, track: Track, points: Floats) -> Floats:
    """Return how far along a joint some points lie, in plan (k,) [m]."""
    frame = ground.frame.coordinates(points)
    if track.axis in (0, 1):
        found: Floats = frame[:, 1 - track.axis]
        return found
    x, y = (np.ptp(frame[:, i]) if len(frame) else 0.0 for i in (0, 1))
    along: Floats = frame[:, 0] if x >= y else frame[:, 1]
    return along


def _run_along(ground: Ground, line: EdgeLine) -> JointRun:
    """Return the stretch of a joint along an edge."""
    points = ground.mesh.vertices[line.vertices]
    steps = step_lengths(points)
    level = {body.name: body.level for body in ground.model.bodies}[line.body]
    wet = (points[1:, 2] + points[:-1, 2]) / 2.0 < level - 1e-6
    zone = ground.zones_along(line)
    (zones,) = in_zones(np.zeros(len(steps), dtype=np.int64), zone, steps, 1).tolist()
    return JointRun(
        line.number, line.kind, 0.0, line.body, line.surface, points, float(steps.sum()),
        float(steps @ wet), tuple(zones), wet, zone,
    )  # fmt: skip


def _run_about(item: Placed) -> JointRun:
    """Return the joint round the collar of a fitting."""
    points = rim_of(item, closed=True)
    length = item.collar_perimeter
    zones = [0.0] * len(ZONES)
    zones[0 if item.wet else 2] = length
    wet = length if item.wet else 0.0
    steps = len(points) - 1
    return JointRun(
        item.number, item.kind, 0.0, item.body, item.surface, points, length, wet, tuple(zones),
        np.full(steps, item.wet), np.full(steps, 0 if item.wet else 2),
    )  # fmt: skip


def _too_narrow(
    ground: Ground, joints: Joints, under: Iterable[Under], rows: Iterable[FinishJoint]
) -> Iterator[Remark]:
    """Yield the joints that were drawn narrower than their movement asks, each place once.

    That one is narrower than the joint of the structure under it is said by itself.
    """
    keys = {track.number: track.key for track in joints.tracks}
    gaps = {track.number: gap for track, _, gap in under}
    said: set[Key] = set()
    units = ground.model.design.pool.units
    for row in rows:
        key = keys.get(row.number, (*joints.key, "width"))
        fits = row.width > row.needed - 1e-6 or row.width < gaps.get(row.number, 0.0) - 1e-6
        if not fits and key not in said:
            said.add(key)
            rule = f"must be at least {format_length(row.needed, units)} wide"
            value = f"{format_length(row.width, units)} at {row.number}, {row.kind}"
            finding = Finding(key, rule, value, "make it wider, or the bays shorter")
            yield Remark(finding, ground.rules.widths.cited, of_pool=True)


def _too_wide(ground: Ground, rows: Iterable[FinishJoint]) -> Iterator[Remark]:
    """Yield the joints that sealant alone does not fill."""
    widest, units = ground.asked.sealant.widest, ground.model.design.pool.units
    wide = [row for row in rows if row.width > widest + 1e-6]
    if wide:
        worst = max(wide, key=lambda row: row.width)
        rule = f"should fill joints no wider than {format_length(widest, units)}"
        value = (
            f"{worst.number} ({worst.kind}) is {format_length(worst.width, units)} wide, for"
            f" {format_length(worst.movement, units)} of movement"
            + (f"; {len(wide) - 1} more are too wide" if len(wide) > 1 else "")
        )
        remedy = "take a sealant that bears more, or a profile made for that movement and for water"
        finding = Finding(("movement_joints", "sealant"), rule, value, remedy, "warning")
        yield Remark(finding, of_pool=True)
