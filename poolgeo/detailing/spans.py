"""Spans: the parts of edges, coves and joints that one rule is for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fnmatch import fnmatchcase
from typing import Literal

import numpy as np

from ..arrays import Floats
from ..mesh import ZONES, Zones
from ..quantities import CoveRun, JointRun, Run, Sense, Takeoff
from ..system.details import EdgePlaces, EdgeRule
from ..system.layers import Places

Of = Literal["edge", "cove", "joint"]

WET_ZONES = ("below band", "waterline band")
"""Zones of a cove or a joint that count as under water: it reaches above it in these at most."""


@dataclass(frozen=True)
class Span:
    """A part of an edge, a cove or a joint to which one rule applies.

    Args:
        number: Of the run.
        of: What the run is.
        kind: Of the run.
        body: Body of water.
        sense: Of an edge.
        length: True length [m].
        wet_length: Length under water [m].
        zones: Length in each zone [m].
        closed: Whether it comes back to its start.
        ends: How many ends of its run it holds.
        rule: Number of the rule in the system file; None where none matches.
        points: (k + 1, 3) of an edge [m].
        angles: (k,) angle through the water at each segment of an edge [deg].
        between: (k, 3) unit vector into the water there.
        gap: Width of a joint [m].
    """

    number: str
    of: Of
    kind: str
    body: str
    sense: Sense | None
    length: float
    wet_length: float
    zones: Zones
    closed: bool
    ends: int
    rule: int | None
    points: Floats = field(default_factory=lambda: np.zeros((0, 3)))
    angles: Floats = field(default_factory=lambda: np.zeros(0))
    between: Floats = field(default_factory=lambda: np.zeros((0, 3)))
    gap: float = 0.0


def spans_of(takeoff: Takeoff, rules: Sequence[EdgeRule]) -> tuple[Span, ...]:
    """Split all edges, coves and joints of a takeoff where another rule begins.

    Args:
        takeoff: Of the pool.
        rules: Of the system, the first that matches counts.

    Returns:
        The spans: edges, coves, joints, each in the order of its reports.
    """
    return (
        *(span for run in takeoff.edges for span in _of_edge(run, rules)),
        *(span for cove in takeoff.coves for span in _of_cove(cove, rules)),
        *_of_joints(takeoff.joints, rules),
    )


def holds_at(where: Places, body: str, zone: str, *, wet: bool) -> bool:
    """Whether something holds in a body, a zone, and under water or not."""
    return (
        (where.bodies is None or body in where.bodies)
        and (where.zones is None or zone in where.zones)
        and (where.wet is None or where.wet == wet)
    )


def is_one_of(kind: str, patterns: Sequence[str] | None) -> bool:
    """Whether a kind is one of several; of an edge its two sides may stand either way round."""
    if patterns is None:
        return True
    one, _, other = kind.partition("/")
    turned = f"{other}/{one}" if other else kind
    return any(fnmatchcase(name, item) for item in patterns for name in (kind, turned))


def _matches(
    where: EdgePlaces, of: Of, kind: str, sense: Sense | None, angle: float | None
) -> bool:
    """Whether a rule is for a kind of run, wherever that lies."""
    return (
        where.of == of
        and is_one_of(kind, where.kinds)
        and (where.sense is None or where.sense == sense)
        and (where.angle is None or angle is None or where.angle[0] <= angle <= where.angle[1])
    )


def _finder(
    rules: Sequence[EdgeRule], of: Of, body: str, kind: str, sense: Sense | None = None,
    angle: float | None = None,
) -> Callable[[int, bool], int | None]:  # fmt: skip
    """Return what tells the rule of a run in a zone, under water or not."""
    known: dict[tuple[int, bool], int | None] = {}
    able = [i for i, rule in enumerate(rules) if _matches(rule.where, of, kind, sense, angle)]

    def found(zone: int, wet: bool) -> int | None:
        if (zone, wet) not in known:
            name = ZONES[zone]
            known[zone, wet] = next(
                (i for i in able if holds_at(rules[i].where, body, name, wet=wet)), None
            )
        return known[zone, wet]

    return found


def _of_edge(run: Run, rules: Sequence[EdgeRule]) -> Iterator[Span]:
    """Yield the parts of an edge run, from its start on."""
    rule_at = _finder(rules, "edge", run.body, run.kind, run.sense, run.angle)
    places = list(zip(run.zone.tolist(), run.wet.tolist(), strict=True))
    each = [rule_at(zone, wet) for zone, wet in places]
    steps = np.linalg.norm(np.diff(run.points, axis=0), axis=1)
    starts = [i for i in range(len(each)) if i == 0 or each[i] != each[i - 1]]
    whole, round_about = len(starts) == 1, bool(np.array_equal(run.points[0], run.points[-1]))
    for start, stop in zip(starts, [*starts[1:], len(each)], strict=True):
        mine = slice(start, stop)
        zones = np.bincount(run.zone[mine], steps[mine], len(ZONES))
        yield Span(
            run.number, "edge", run.kind, run.body, run.sense,
            float(steps[mine].sum()),
            float(steps[mine][run.wet[mine]].sum()),
            tuple(zones.tolist()),
            whole and round_about,
            0 if round_about else (start == 0) + (stop == len(each)),
            each[start],
            run.points[start : stop + 1], run.angles[mine], run.between[mine],
        )  # fmt: skip


def _of_cove(cove: CoveRun, rules: Sequence[EdgeRule]) -> Iterator[Span]:
    """Yield the parts of a cove run, zone by zone."""
    closed = bool(np.array_equal(cove.points[0], cove.points[-1]))
    rule_at = _finder(rules, "cove", cove.body, cove.kind)
    for k, (rule, zones) in enumerate(_by_rule(rule_at, cove.length_zones)):
        wet = sum(size for name, size in zip(ZONES, zones, strict=True) if name in WET_ZONES)
        whole = closed and sum(zones) > cove.length * (1.0 - 1e-9)
        yield Span(cove.number, "cove", cove.kind, cove.body, "internal", sum(zones), wet, zones,
                   whole, 0 if closed or k else 2, rule)  # fmt: skip


def _of_joints(joints: Sequence[JointRun], rules: Sequence[EdgeRule]) -> Iterator[Span]:
    """Yield the parts of joints: what follows on under one rule is one part."""
    parts: list[Span] = []
    for joint in joints:
        rule_at = _finder(rules, "joint", joint.body, joint.surface)
        base = joint.number.partition(".")[0]
        for k, (rule, zones) in enumerate(_by_rule(rule_at, joint.zones)):
            wet = min(sum(zones), joint.wet_length)
            part = Span(base, "joint", "movement joint", joint.body, None, sum(zones), wet, zones,
                        closed=False, ends=0 if k else 2, rule=rule,
                        gap=joint.width)  # fmt: skip
            if parts and (parts[-1].number, parts[-1].rule) == (base, rule):
                parts[-1] = _joined(parts[-1], part)
            else:
                parts.append(part)
    yield from parts


def _joined(one: Span, other: Span) -> Span:
    zones = tuple(a + b for a, b in zip(one.zones, other.zones, strict=True))
    length, wet = one.length + other.length, one.wet_length + other.wet_length
    return replace(one, length=length, wet_length=wet, zones=zones)


def _by_rule(
    rule_at: Callable[[int, bool], int | None], zones: Zones
) -> Iterator[tuple[int | None, Zones]]:
    """Yield for each rule what lies in the zones that it holds in."""
    rules = {i: rule_at(i, ZONES[i] in WET_ZONES) for i, size in enumerate(zones) if size}
    for rule in dict.fromkeys(rules.values()):
        mine = tuple(size if rules.get(i, -1) == rule else 0.0 for i, size in enumerate(zones))
        yield rule, mine
