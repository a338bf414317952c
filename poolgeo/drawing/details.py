"""Typical details of a pool: of each rule that is used, and of what its parameters say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..design.finishes import Finish
from ..jointing.rows import FinishJoint, FinishJoints
from ..mesh import ZONES
from ..model import Model
from ..quantities import Takeoff
from ..system.work import ArrisWork
from ..works import Works
from .detail_corners import corner_details
from .detail_edges import Corner, Edge, edge_picture
from .detail_flat import build_up_picture, finish_joint_picture, finish_parts, joint_picture
from .detail_frame import Frame, Picture, composed
from .detail_parts import Film, Site
from .detail_places import Head, coping_picture
from .detail_rules import (
    Job,
    Named,
    cove_corner,
    covered,
    movement_of,
    rule_details,
    stated_arris,
)
from .plan_lines import Projection
from .view import View


def detail_views(
    model: Model, takeoff: Takeoff, works: Works | None, joints: FinishJoints | None,
    projection: Projection, paper_text: float,
) -> list[View]:  # fmt: skip
    """Draw the typical details of a pool.

    Args:
        model: The pool.
        takeoff: Measured on it.
        works: Its waterproofing; None where the file names none.
        joints: Movement joints of its finish; None where it has none.
        projection: From metres to drawing units.
        paper_text: Height of text on paper [m].

    Returns:
        The views, numbered from 1; none where nothing is known that a detail could show.
    """
    frame = Frame(model.design.pool.units, projection, paper_text)
    job = Job(model, takeoff, works, frame)
    found = [
        *_build_up(job),
        *rule_details(job),
        *corner_details(job),
        *_coves(job),
        *_arrises(job),
        *_structure_joints(job),
        *_coping(job),
        *_finish_joints(job, joints),
    ]
    views: list[View] = []
    for number, (name, picture) in enumerate(found, 1):
        again = sum(view.name.partition(" (")[0] == name for view in views)
        own = f"{name} ({again + 1})" if again else name
        views.append(composed(picture, own, f"Detail {number}: {name}", frame))
    return views


def _site(body: str, kinds: Sequence[str], zones: Sequence[str], *, wet: bool = True) -> Site:
    there = tuple(float(name in zones) for name in ZONES)
    return Site(frozenset({body}), there, (wet, not wet), frozenset(kinds))


def _finish_at(job: Job, site: Site) -> Finish | None:
    """Return the finish of a place: the first that matches holds."""
    finishes = job.model.design.pool.finishes or ()
    return next((item for item in finishes if site.takes(item.where)), None)


def _build_up(job: Job) -> Iterator[Named]:
    """Yield the build-up on the faces under the waterline band of the pool."""
    site = _site(job.model.bodies[0].name, ("floor", "wall"), ("below band",))
    before, after, others = job.layers(site)
    films, finish = [*before, *after], _finish_at(job, site)
    if not films and finish is None:
        return
    notes = ["On floor and walls below the waterline band."]
    shown = f"{job.exaggeration:g} times thicker than they are"
    notes.append(
        f"Layers and finish are drawn {shown}." if finish else f"Layers are drawn {shown}."
    )
    notes += others
    yield "build-up", build_up_picture(films, finish, job.exaggeration, job.frame, tuple(notes))


def _coves(job: Job) -> Iterator[Named]:
    """Yield coves and fillets of the pool that no rule is for."""
    done = covered(job)
    left = [cove for cove in job.takeoff.coves if ("cove", cove.number) not in done]
    for kind in ("cove", "fillet"):
        mine = [cove for cove in left if ("fillet" in cove.kind) == (kind == "fillet")]
        if mine:
            numbers = [cove.number for cove in mine]
            angle, corner, more = cove_corner(job, numbers)
            notes = [job.where("run", numbers, sum(cove.length for cove in mine)), *more]
            yield f"{kind} of the pool", _bare_edge(job, angle, corner, mine[0].body, notes)


def _arrises(job: Job) -> Iterator[Named]:
    """Yield arrises that the pool file states for edges that no rule is for."""
    done = covered(job)
    left = [row for row in job.takeoff.arrises if ("edge", row.number) not in done]
    for form, size in dict.fromkeys((row.form, row.size) for row in left if row.form != "square"):
        mine = [row for row in left if (row.form, row.size) == (form, size)]
        numbers = [row.number for row in mine]
        notes = [job.where("run", numbers, sum(row.length for row in mine))]
        corner = stated_arris(job, set(numbers), None)
        yield (
            f"arris, {'chamfered' if form == 'chamfer' else form}",
            _bare_edge(job, 270.0, corner, mine[0].body, notes),
        )


def _bare_edge(
    job: Job, angle: float, corner: Corner | None, body: str, notes: Sequence[str]
) -> Picture:
    site = _site(body, ("wall", "floor"), ("below band",))
    before, after, others = job.layers(site)
    every = (*notes, *job.remark([*before, *after]), *others)
    return edge_picture(Edge(angle, corner, before, (), after, every), job.exaggeration)


def _structure_joints(job: Job) -> Iterator[Named]:
    """Yield joints of the structure that no rule is for."""
    done = covered(job)
    left = [
        run for run in job.takeoff.joints if ("joint", run.number.partition(".")[0]) not in done
    ]  # fmt: skip
    for gap in dict.fromkeys(run.width for run in left):
        mine = [run for run in left if run.width == gap]
        numbers = [run.number.partition(".")[0] for run in mine]
        before, after, others = job.layers(_site(mine[0].body, ("wall", "floor"), ("below band",)))
        notes = [job.where("joint", numbers, sum(run.length for run in mine))]
        notes += [*movement_of(job, set(numbers)), *job.remark([*before, *after]), *others]
        films: tuple[list[Film], list[Film], list[Film]] = (before, [], after)
        picture = joint_picture(
            gap, (), films, job.exaggeration, job.frame, job.system, tuple(notes)
        )
        yield "joint of the structure", picture


def _coping(job: Job) -> Iterator[Named]:
    """Yield the head of the pool's wall, where something lies on it."""
    pool = job.model.design.pool
    stones, returns = pool.coping.stones, pool.coping.membrane_return
    if stones is None and not returns:
        return
    zones = ("waterline band", "freeboard", "coping return")
    site = _site(job.model.bodies[0].name, ("wall", "wall top"), zones)
    before, after, others = job.layers(Site(site.bodies, site.zones, (True, True), site.kinds))
    films = [*before, *after]
    notes = [*job.remark(films), *others]
    if returns:
        notes = [f"The membrane returns {job.frame.size(returns)} on to the wall top.", *notes]
    beam = pool.shell.beam
    wall = pool.shell.wall if beam is None else beam.width
    head = Head(
        wall, pool.freeboard, min(returns, wall), 0.0 if stones is None else stones.width,
        0.0 if stones is None else stones.overhang, _top_arris(job), films, tuple(notes),
    )  # fmt: skip
    yield "coping", coping_picture(head, job.exaggeration, job.frame)


def _top_arris(job: Job) -> Corner | None:
    """Return how the inner edge of the wall top is taken off."""
    runs = {
        run.number for run in job.takeoff.edges
        if run.sense == "external" and "wall top" in run.kind.split("/")
    }  # fmt: skip
    worked = None
    for row in () if job.works is None else job.works.detailing.details:
        if row.do == "arris" and row.number in runs and job.system is not None:
            rule = next(rule for rule in job.system.edges if rule.name == row.rule)
            work = next(item for item in rule.work if isinstance(item, ArrisWork))
            worked = _arris(job, work)
            break
    return stated_arris(job, runs, worked)


def _arris(job: Job, work: ArrisWork) -> Corner:
    round_off = work.section == "rounded"
    what = "radius" if round_off else "legs of"
    text = f"{work.name or work.do}, {work.section}: {what} {job.frame.size(work.size)}"
    return Corner(text, "round" if round_off else "straight", work.size)


def _finish_joints(job: Job, joints: FinishJoints | None) -> Iterator[Named]:
    """Yield sections of movement joints of the finish: one, and one over the structure's."""
    for over, name in ((False, ""), (True, " over the structure")):
        mine = [
            item for item in (() if joints is None else joints.joints)
            if (item.kind == "over the structure") == over
        ]  # fmt: skip
        picture = _finish_joint(job, mine, "" if joints is None else joints.sealant)
        if picture is not None:
            yield f"movement joint of the finish{name}", picture


def _finish_joint(job: Job, joints: Sequence[FinishJoint], sealant: str) -> Picture | None:
    """Return the section of the first of some joints, of one across the finish if there is one."""
    if not joints:
        return None
    joint = next((item for item in joints if item.is_across), joints[0])
    run = max(joint.runs, key=lambda run: run.length)
    zones = [name for name, size in zip(ZONES, run.zones, strict=True) if size > 0.0]
    site = _site(run.body, (run.surface,), zones)
    finish = _finish_at(job, site)
    if finish is None:
        return None
    before, after, _ = job.layers(site)
    films = [*before, *after]
    notes = [f"{job.length(sum(item.length for item in joints))} in all: {_counts(joints)}."]
    notes += _widths(job, joints)
    notes.append("Bed, tile and sealant are to scale; the joint never cuts through the membrane.")
    total = sum(size for _, size in finish_parts(finish, job.frame))
    if joint.depth > total + 1e-6:
        deep, there = job.frame.size(joint.depth), job.frame.size(total)
        notes.append(f"Sealant is wanted {deep} deep; bed and tile are {there}.")
    gap = 0.0
    if joint.kind == "over the structure":
        gap = max((item.width for item in job.takeoff.joints), default=0.0)
        notes.append("The joint of the structure under it has a detail of its own.")
    notes += job.remark(films)
    return finish_joint_picture(
        joint, finish, films, job.exaggeration, job.frame, sealant, tuple(notes), gap
    )


def _widths(job: Job, joints: Sequence[FinishJoint]) -> list[str]:
    """Return the widths of joints, where they differ."""
    widths = [joint.width for joint in joints]
    low, high = job.frame.size(min(widths)), job.frame.size(max(widths))
    return [] if low == high else [f"They are {low} to {high} wide."]


def _counts(joints: Sequence[FinishJoint]) -> str:
    kinds = dict.fromkeys(joint.kind for joint in joints)
    return ", ".join(f"{sum(joint.kind == kind for joint in joints)} {kind}" for kind in kinds)
