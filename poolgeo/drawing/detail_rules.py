"""The details of a system's rules that a pool uses."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..design.scale import scale_of
from ..detailing.detail import zone_of_fitting
from ..detailing.operations import FORMS
from ..detailing.rows import Detail
from ..detailing.spans import Span, spans_of
from ..mesh import Zones
from ..model import Model
from ..quantities import Takeoff
from ..sections import Form
from ..system.details import EdgeRule, FittingRule
from ..system.schema import System
from ..system.work import ArrisWork, BeadWork, FilletWork, RodWork, Work
from ..works import Works
from .detail_angles import angle_classes
from .detail_edges import Corner, Edge, edge_picture
from .detail_flat import joint_picture
from .detail_frame import Frame, Picture
from .detail_parts import Film, Site, layers_at, strips_of
from .detail_places import Through, fitting_picture

Named = tuple[str, Picture]
"""The name of a detail, and what it shows."""

FEW = 4
"""Numbers of runs that a note names before it breaks off."""

SLAB = ("floor", "bottom", "tread", "top", "beach")
"""Words in kinds of surface whose fittings go through the floor, not through a wall."""

ARRIS_FORMS: dict[str, Form] = {"chamfer": "straight", "rounded": "round"}
"""Form of an arris in the pool file -> its section."""


@dataclass(frozen=True)
class Job:
    """What details are drawn from.

    Args:
        model: The pool.
        takeoff: Measured on it.
        works: Its waterproofing; None where the file names none.
        frame: Of all details.
    """

    model: Model
    takeoff: Takeoff
    works: Works | None
    frame: Frame

    @property
    def exaggeration(self) -> float:
        """How many times thicker than they are layers are drawn."""
        return self.model.design.pool.drawings.exaggeration

    @property
    def system(self) -> System | None:
        """Of waterproofing."""
        return None if self.works is None else self.works.source.system

    def layers(self, site: Site) -> tuple[list[Film], list[Film], list[str]]:
        """Return the layers at a place: before strips, after them, and notes on the others."""
        if self.system is None:
            return [], [], []
        return layers_at(self.system, site, self.frame.units)

    def remark(self, films: Iterable[Film]) -> list[str]:
        """Return what is to be said of how layers are drawn."""
        films = list(films)
        found = []
        if any(film.dry for film in films):
            found.append(f"Layers are drawn {self.exaggeration:g} times thicker than they are.")
        if any(film.is_sheet for film in films):
            found.append("Strips and collars: thickness not to scale.")
        return found

    def length(self, metres: float) -> str:
        """Return a length of runs as text."""
        scale = scale_of(self.frame.units)
        return f"{metres / scale.metres:.1f} {scale.length}"

    def where(self, what: str, numbers: Iterable[str], length: float | None = None) -> str:
        """Return the note that says where a detail holds.

        Args:
            what: One of what the numbers are of.
            numbers: Of runs, fittings, corners.
            length: Of all of them [m].
        """
        every = list(dict.fromkeys(numbers))
        some = ", ".join(every[:FEW]) + (" ..." if len(every) > FEW else "")
        count = f"{len(every)} {what}{'' if len(every) == 1 else 's'}: {some}"
        return count + ("" if length is None else f", {self.length(length)} in all")


def covered(job: Job) -> set[tuple[str, str]]:
    """Return what the runs are of that a rule is for, and their numbers."""
    if job.system is None:
        return set()
    spans = spans_of(job.takeoff, job.system.edges)
    return {(span.of, span.number) for span in spans if span.rule is not None}


def rule_details(job: Job) -> Iterator[Named]:
    """Yield the details of the rules that are used: edges and joints, then fittings."""
    system = job.system
    if system is None or job.works is None:
        return
    spans = spans_of(job.takeoff, system.edges)
    for i, rule in enumerate(system.edges):
        mine = [span for span in spans if span.rule == i]
        if mine and rule.where.of == "edge":
            yield from _edges(job, system, rule, mine)
        elif mine:
            draw = _joint if rule.where.of == "joint" else _coves
            yield rule.name, draw(job, system, rule, mine)
    for about in system.fittings:
        rows = [
            row for row in job.works.detailing.details
            if row.place == "fitting" and row.rule == about.name
        ]  # fmt: skip
        if rows:
            yield about.name, _fitting(job, system, about, rows)


def site_of(spans: Sequence[Span], kinds: Iterable[str]) -> Site:
    """Return the site of some spans."""
    zones: Zones = tuple(np.sum([span.zones for span in spans], axis=0).tolist())
    wet = sum(span.wet_length for span in spans)
    dry = sum(span.length for span in spans) - wet
    bodies = frozenset(span.body for span in spans)
    return Site(bodies, zones, (wet > 1e-6, dry > 1e-6), frozenset(kinds))


def _coves(job: Job, system: System, rule: EdgeRule, spans: Sequence[Span]) -> Picture:
    """Draw what a rule does along coves."""
    numbers = [span.number for span in spans]
    angle, corner, more = cove_corner(job, numbers)
    kinds = {"cove", "fillet", *(span.kind for span in spans)}
    notes = [job.where("run", numbers, sum(span.length for span in spans)), *more]
    return _edge(job, system, rule, site_of(spans, kinds), Edge(angle, corner, notes=(*notes,)))


def _edges(job: Job, system: System, rule: EdgeRule, spans: Sequence[Span]) -> Iterator[Named]:
    """Yield the details of a rule for edges: at the commonest angle, then at others of weight."""
    alike = _of_one_sense(spans)
    for k, found in enumerate(angle_classes(alike)):
        mine, listed, length = alike, spans, sum(span.length for span in spans)
        name = rule.name
        if k:
            mine = listed = found.spans
            name, length = f"{name}, at {found.angle:.0f} degrees", found.length
        corner = _worked(rule.work, found.angle, job.frame)
        if found.angle > 180.0:
            corner = stated_arris(job, {span.number for span in mine}, corner)
        site = site_of(mine, {kind for span in mine for kind in span.kind.split("/")})
        notes = job.where("run", [span.number for span in listed], length), *found.note
        yield name, _edge(job, system, rule, site, Edge(found.angle, corner, notes=notes))


def _edge(job: Job, system: System, rule: EdgeRule, site: Site, edge: Edge) -> Picture:
    """Draw an edge with the layers of its site and the strips of its rule."""
    before, after, others = job.layers(site)
    strips = list(strips_of(system, rule.work, job.frame))
    aside = _set_aside(rule.work, edge.corner)
    notes = (*edge.notes, *job.remark([*before, *strips, *after]), *others, *aside)
    whole = replace(edge, before=before, strips=strips, after=after, notes=notes)
    return edge_picture(whole, job.exaggeration)


def _of_one_sense(spans: Sequence[Span]) -> Sequence[Span]:
    """Return the internal or the external edges, of which there is more; all where they are flat.

    A break of the floor is internal here and external there, and its angle is nearly flat.
    """
    angles = np.concatenate([span.angles for span in spans])
    if np.ptp(angles) < 60.0:
        return spans
    lengths = {sense: sum(s.length for s in spans if s.sense == sense)
               for sense in ("internal", "external")}  # fmt: skip
    most = max(lengths, key=lambda sense: lengths[sense])
    return [span for span in spans if span.sense == most]


def _worked(work: Sequence[Work], angle: float, frame: Frame) -> Corner | None:
    """Return what a rule fills in at an internal edge, or takes off an external one."""
    for item in work:
        if isinstance(item, FilletWork) and angle < 180.0:
            what = "legs of" if item.section == "triangular" else "radius"
            text = f"{item.name or item.do}: {item.material}, {what} {frame.size(item.size)}"
            return Corner(text, FORMS[item.section], item.size)
        if isinstance(item, ArrisWork) and angle > 180.0:
            what = "legs of" if item.section == "chamfered" else "radius"
            text = f"{item.name or item.do}, {item.section}: {what} {frame.size(item.size)}"
            return Corner(text, FORMS[item.section], item.size)
        if isinstance(item, BeadWork) and item.section == "triangular" and angle < 180.0:
            leg = item.width or 0.0
            text = f"{item.name or item.do}: {item.material}, legs of {frame.size(leg)}"
            return Corner(text, "straight", leg) if leg else None
    return None


def _set_aside(work: Sequence[Work], corner: Corner | None) -> list[str]:
    """Return what is named under an edge as it is not drawn: rods, and beads beside a fillet."""
    named = [
        f"{item.name or item.do}: {item.material}"
        for item in work if isinstance(item, BeadWork | RodWork)
    ]  # fmt: skip
    return [f"Not drawn: {text}." for text in named if corner is None or text not in corner.text]


def stated_arris(job: Job, numbers: set[str], other: Corner | None) -> Corner | None:
    """Return the arris that the pool file states for most of some runs, else another one."""
    rows = [row for row in job.takeoff.arrises if row.number in numbers]
    if not rows:
        return other
    row = max(rows, key=lambda row: row.length)
    if row.form == "square":
        return None
    what = "legs of" if row.form == "chamfer" else "radius"
    done = "chamfered" if row.form == "chamfer" else row.form
    text = f"arris, {done}: {what} {job.frame.size(row.size)}"
    return Corner(text, ARRIS_FORMS[row.form], row.size)


def cove_corner(job: Job, numbers: Sequence[str]) -> tuple[float, Corner, list[str]]:
    """Return angle, section and notes of coves: of the size that most of their length has."""
    coves = [cove for cove in job.takeoff.coves if cove.number in set(numbers)]
    lengths: dict[tuple[str, float], float] = {}
    for cove in coves:
        key = "fillet" if "fillet" in cove.kind else "cove", round(cove.radius, 4)
        lengths[key] = lengths.get(key, 0.0) + cove.length
    kind, size = max(lengths, key=lambda key: lengths[key])
    form: Form = "straight" if kind == "fillet" else "round"
    text = f"{kind} of the pool: {'legs of' if kind == 'fillet' else 'radius'} "
    notes = ["Drawn at a right angle; the floor's slope is in the sections."]
    if len(lengths) > 1:
        sizes = sorted({size for _, size in lengths})
        low, high = (job.frame.size(item) for item in (sizes[0], sizes[-1]))
        notes.append(f"Sizes are {low} to {high}; drawn as most of them are.")
    return 90.0, Corner(text + job.frame.size(size), form, size), notes


def _joint(job: Job, system: System, rule: EdgeRule, spans: Sequence[Span]) -> Picture:
    numbers = {span.number for span in spans}
    kinds = {
        run.surface for run in job.takeoff.joints if run.number.partition(".")[0] in numbers
    }  # fmt: skip
    gap = max(spans, key=lambda span: span.length).gap
    before, after, others = job.layers(site_of(spans, kinds))
    strips = list(strips_of(system, rule.work, job.frame))
    notes = [job.where("joint", [span.number for span in spans], sum(s.length for s in spans))]
    notes += [*movement_of(job, numbers), *job.remark([*before, *strips, *after]), *others]
    films = before, strips, after
    return joint_picture(
        gap, rule.work, films, job.exaggeration, job.frame, system, tuple(notes)
    )  # fmt: skip


def movement_of(job: Job, numbers: set[str]) -> list[str]:
    """Return by how much joints of the structure open, where the file says so."""
    runs = [run for run in job.takeoff.joints if run.number.partition(".")[0] in numbers]
    opens = [run.movement for run in runs if run.movement is not None]
    return [f"Opens by {job.frame.size(max(opens))} at most."] if opens else []


def _fitting(job: Job, system: System, rule: FittingRule, rows: Sequence[Detail]) -> Picture:
    numbers = [row.number for row in rows]
    items = [item for item in job.takeoff.fittings if item.number in set(numbers)]
    item = items[0]
    site = Site(frozenset({item.body}), zone_of_fitting(job.model, item), (item.wet, not item.wet),
                frozenset({item.surface}))  # fmt: skip
    before, after, others = job.layers(site)
    strips = list(strips_of(system, rule.work, job.frame))
    sorts = Counter(other.kind for other in items)
    kinds = ", ".join(f"{count} {kind}" for kind, count in sorts.items())
    notes = [f"{job.where('fitting', numbers)} ({kinds})"]
    notes.append(f"Drawn for {item.number}, {item.kind}, with its surface laid level.")
    notes += [*job.remark([*before, *strips, *after]), *others]
    shell = job.model.design.pool.shell
    lies = any(word in item.surface for word in SLAB)
    start = item.half[0] if rule.along == "collar" else item.size[0] / 2.0
    through = Through(item, shell.floor if lies else shell.wall, start, rule.work, before, strips,
                      after, tuple(notes))  # fmt: skip
    return fitting_picture(through, job.exaggeration, job.frame, system)
