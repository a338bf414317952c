"""Spans: the parts of edges, coves and joints that one rule is for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby, pairwise
from typing import Literal

import numpy as np

from ..arrays import Bools, Floats, Ints
from ..design.places import holds_at, is_one_of
from ..mesh import ZONES, Zones
from ..plan.tolerances import GRID
from ..quantities import CoveRun, JointRun, Run, Sense, Takeoff
from ..system.details import EdgePlaces, EdgeRule

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
        points: (k + 1, 3) of an edge or a joint [m].
        angles: (k,) angle through the water at each segment of an edge [deg].
        between: (k, 3) unit vector into the water there.
        gap: Width of a joint [m].
        steps: (k,) the segments of the run that it holds, of an edge.
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
    steps: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))


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


@dataclass(frozen=True)
class _Track:
    """A polyline of k segments, each with its rule.

    Args:
        points: (k + 1, 3) [m].
        zone: (k,) a number of `ZONES`.
        wet: (k,) whether it is under water.
        rules: Number of the rule of each segment.
    """

    points: Floats
    zone: Ints
    wet: Bools
    rules: Sequence[int | None]

    @property
    def closed(self) -> bool:
        """Whether it comes back to its start."""
        return bool(np.array_equal(self.points[0], self.points[-1]))

    def parts(self) -> Iterator[Ints]:
        """Yield the segments under one rule, one after the other; where it closes, across that."""
        rules, count = self.rules, len(self.rules)
        starts = [i for i in range(count) if i == 0 or rules[i] != rules[i - 1]]
        if self.closed and len(starts) > 1 and rules[0] == rules[-1]:
            starts = starts[1:]
        for start, stop in pairwise([*starts, starts[0] + count]):
            yield np.arange(start, stop) % count

    def sizes(self, steps: Ints) -> tuple[float, float, Zones, bool, int]:
        """Return of a part its length, wet length, zones [m], whether it closes, and its ends."""
        size = np.linalg.norm(self.points[steps + 1] - self.points[steps], axis=1)
        zones = np.bincount(self.zone[steps], size, len(ZONES))
        closes = self.closed and len(steps) == len(self.rules)
        ends = 0 if self.closed else int(steps[0] == 0) + int(steps[-1] == len(self.rules) - 1)
        wet = float(size[self.wet[steps]].sum())
        return float(size.sum()), wet, tuple(zones.tolist()), closes, ends

    def line(self, steps: Ints) -> Floats:
        """Return the points of a part."""
        return np.concatenate([self.points[steps], self.points[steps[-1:] + 1]])


def _of_edge(run: Run, rules: Sequence[EdgeRule]) -> Iterator[Span]:
    """Yield the parts of an edge run, from its start on."""
    rule_at = _finder(rules, "edge", run.body, run.kind, run.sense, run.angle)
    each = [rule_at(*place) for place in zip(run.zone.tolist(), run.wet.tolist(), strict=True)]
    track = _Track(run.points, run.zone, run.wet, each)
    for steps in track.parts():
        yield Span(
            run.number, "edge", run.kind, run.body, run.sense, *track.sizes(steps),
            each[steps[0]], track.line(steps), run.angles[steps], run.between[steps], steps=steps,
        )  # fmt: skip


def _of_cove(cove: CoveRun, rules: Sequence[EdgeRule]) -> Iterator[Span]:
    """Yield the parts of a cove run, zone by zone."""
    closed = bool(np.array_equal(cove.points[0], cove.points[-1]))
    rule_at = _finder(rules, "cove", cove.body, cove.kind, "internal")
    for k, (rule, zones) in enumerate(_by_rule(rule_at, cove.length_zones)):
        wet = sum(size for name, size in zip(ZONES, zones, strict=True) if name in WET_ZONES)
        whole = closed and sum(zones) > cove.length * (1.0 - 1e-9)
        yield Span(cove.number, "cove", cove.kind, cove.body, "internal", sum(zones), wet, zones,
                   whole, 0 if closed or k else 2, rule)  # fmt: skip


def _of_joints(joints: Sequence[JointRun], rules: Sequence[EdgeRule]) -> Iterator[Span]:
    """Yield the parts of joints: what follows on under one rule is one part."""
    for number, group in groupby(joints, lambda joint: joint.number.partition(".")[0]):
        for stretches in _lines_of(list(group)):
            each: list[int | None] = []
            for joint in stretches:
                rule_at = _finder(rules, "joint", joint.body, joint.surface)
                places = zip(joint.zone.tolist(), joint.wet.tolist(), strict=True)
                each += [rule_at(*place) for place in places]
            points = [joint.points[1:] for joint in stretches]
            track = _Track(
                np.concatenate([stretches[0].points[:1], *points]),
                np.concatenate([joint.zone for joint in stretches]),
                np.concatenate([joint.wet for joint in stretches]),
                each,
            )
            for steps in track.parts():
                yield Span(number, "joint", "movement joint", stretches[0].body, None,
                           *track.sizes(steps), each[steps[0]], track.line(steps),
                           gap=stretches[0].width)  # fmt: skip


def _lines_of(joints: Sequence[JointRun]) -> Iterator[list[JointRun]]:
    """Yield stretches that follow on one after the other, turned so that they do."""
    line: list[JointRun] = []
    for k, joint in enumerate(joints):
        turned = replace(joint, points=joint.points[::-1], zone=joint.zone[::-1],
                         wet=joint.wet[::-1])  # fmt: skip
        if line and _near(line[-1].points[-1], joint.points[:1]):
            line.append(joint)
        elif line and _near(line[-1].points[-1], turned.points[:1]):
            line.append(turned)
        else:
            if line:
                yield line
            # a first one ends where the next one starts or ends
            after = joints[k + 1].points[[0, -1]] if k + 1 < len(joints) else joint.points[-1:]
            line = [joint if _near(joint.points[-1], after) else turned]
    if line:
        yield line


def _near(point: Floats, others: Floats) -> bool:
    """Whether a point is one of others: both are vertices of one cut."""
    return bool((np.abs(others - point).max(axis=1) < GRID).any())


def _by_rule(
    rule_at: Callable[[int, bool], int | None], zones: Zones
) -> Iterator[tuple[int | None, Zones]]:
    """Yield for each rule what lies in the zones that it holds in."""
    rules = {i: rule_at(i, ZONES[i] in WET_ZONES) for i, size in enumerate(zones) if size}
    for rule in dict.fromkeys(rules.values()):
        mine = tuple(size if rules.get(i, -1) == rule else 0.0 for i, size in enumerate(zones))
        yield rule, mine
