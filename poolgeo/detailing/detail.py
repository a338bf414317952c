"""Find what is done along every edge, cove and joint, about every fitting and at every corner."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np

from ..design.places import holds_at, is_one_of
from ..measure.junctions import FEWEST, Junction, corner_of, junctions_of
from ..mesh import ZONES, Zones
from ..model import Model
from ..placed import Placed
from ..quantities import Takeoff
from ..system.details import CornerRule, FittingRule
from ..system.schema import System
from .operations import Line, Worker
from .rows import Detailing, Joining, Place
from .spans import Span, spans_of

NOTHING = np.zeros(0)
NOWHERE = np.zeros((0, 3))


def detail(model: Model, takeoff: Takeoff, system: System) -> Detailing:
    """Apply a system's rules to a pool.

    Args:
        model: The pool.
        takeoff: Measured on it.
        system: Checked.

    Returns:
        Rows for every operation, cuts of rolls, corners, and what no rule is for.
    """
    worker = Worker(system)
    spans = spans_of(takeoff, system.edges)
    for span in spans:
        if span.rule is not None:
            rule = system.edges[span.rule]
            line = _line_of(span, rule.name)
            for work in rule.work:
                worker.do(work, line)
    bare: dict[tuple[Place, str, str], None] = {
        (span.of, span.number, span.kind): None for span in spans if span.rule is None
    }
    for item in takeoff.fittings:
        about = _rule_of(item, system.fittings)
        if about is None:
            bare["fitting", item.number, item.kind] = None
            continue
        line = _line_about(model, item, about)
        for work in about.work:
            worker.do(work, line)
    corners = tuple(_corners(takeoff, spans, system))
    at = {rule.name: rule for rule in system.corners}
    for corner in corners:
        if corner.rule:
            line = _line_at(corner)
            for work in at[corner.rule].work:
                worker.do(work, line)
    return Detailing(tuple(worker.details), tuple(worker.cuts), corners, tuple(bare))


def _line_of(span: Span, rule: str) -> Line:
    """Return the line of a span; what is filled at an internal edge is taken off at an external."""
    phi = np.radians(span.angles)
    filled = np.minimum(phi, 2.0 * math.pi - phi)
    outward = -1.0 if span.sense == "external" else 1.0
    wet = span.wet_length / span.length if span.length else 0.0
    return Line(
        span.of, span.number, span.kind, span.body, rule, span.length, span.zones, wet,
        span.closed, span.ends, filled, span.points, outward * span.between, span.gap,
    )  # fmt: skip


def _rule_of(item: Placed, rules: Sequence[FittingRule]) -> FittingRule | None:
    for rule in rules:
        where = rule.where
        if (
            is_one_of(item.kind, where.kinds)
            and is_one_of(item.surface, where.surfaces)
            and (where.bodies is None or item.body in where.bodies)
            and (where.wet is None or where.wet == item.wet)
        ):
            return rule
    return None


def _line_about(model: Model, item: Placed, rule: FittingRule) -> Line:
    """Return the line about a fitting: the edge of its opening or of its collar."""
    width, height = item.half if rule.along == "collar" else (item.size[0] / 2, item.size[1] / 2)
    length = 2.0 * math.pi * width if item.is_round else 4.0 * (width + height)
    zone = zone_of_fitting(model, item)
    return Line(
        "fitting", item.number, item.kind, item.body, rule.name, length, zone, float(item.wet),
        closed=True, ends=0, filled=NOTHING, points=NOWHERE, inward=NOWHERE, around=True,
        square=not item.is_round,
    )  # fmt: skip


def zone_of_fitting(model: Model, item: Placed) -> Zones:
    """Return 1 for the zone that a fitting's middle lies in, 0 for the others."""
    body = next(body for body in model.bodies if body.name == item.body)
    height = item.point[2]
    low, high = body.band
    zone = 0 if height < low else 1 if height <= high else 2
    if "top" in item.surface and height > high:
        zone = ZONES.index("wall top")
    return tuple(float(i == zone) for i in range(len(ZONES)))


def _line_at(corner: Joining) -> Line:
    """Return the place of a corner as a line without length."""
    junction = corner.junction
    zone = tuple(float(i == junction.zone) for i in range(len(ZONES)))
    return Line(
        "corner", corner.number, f"{corner.sense} corner", junction.body, corner.rule, 0.0, zone,
        float(junction.wet), closed=False, ends=0, filled=NOTHING, points=NOWHERE, inward=NOWHERE,
    )  # fmt: skip


def _corners(takeoff: Takeoff, spans: Sequence[Span], system: System) -> Iterator[Joining]:
    """Yield the corners: junctions at which three edges or more are worked on."""
    worked: dict[str, set[int]] = defaultdict(set)
    for span in spans:
        if span.rule is not None and system.edges[span.rule].work:
            worked[span.number] |= set(span.steps.tolist())
    number = 0
    for junction in junctions_of(takeoff.edges):
        senses = [
            sense
            for run, sense, step in zip(junction.runs, junction.senses, junction.steps, strict=True)
            if step in worked[run]
        ]
        if len(senses) < FEWEST:
            continue
        number += 1
        sense, edges = corner_of(senses), len(senses)
        rule = _corner_rule(junction, sense, edges, system.corners)
        yield Joining(f"K{number}", junction, sense, edges, "" if rule is None else rule.name)


def _corner_rule(
    junction: Junction, sense: str, edges: int, rules: Sequence[CornerRule]
) -> CornerRule | None:
    for rule in rules:
        where = rule.where
        if (
            (where.sense is None or where.sense == sense)
            and (where.edges is None or where.edges == edges)
            and holds_at(where, junction.body, ZONES[junction.zone], wet=junction.wet)
        ):
            return rule
    return None
