"""Check a plan of movement joints: one that was drawn, or one that poolgeo made.

Bays are measured strip by strip between the joints that are there; nothing is taken from how a
plan was made.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats
from ..design.joints import Joint
from ..design.lengths import format_length
from ..design.places import is_one_of
from ..errors import Finding, Key, Severity
from ..plan.tolerances import GRID
from ..review.case import Remark
from ..system.requirements import PRACTICE
from .ground import EdgeLine, Ground
from .near import AT_A_JOINT, distance_to, fitting_distance
from .sweep import Sweep
from .tracks import Track
from .windows import long_strips

SAME = 1e-6
"""[m] Widths and bays that differ by less are the same."""

WAYS = ("across the rows", "along the rows", "along the walls")
"""Which way a bay is measured on a scan that holds a coordinate of the frame."""


@dataclass(frozen=True)
class Joints:
    """A plan of joints.

    Args:
        tracks: Joints over the structure's, intermediate ones, drawn ones.
        structure: Joints of the structure, with the tracks over them.
        edges: Lines along edges that have a joint.
        edge_width: Width of those that were drawn [m]; 0 where it is still to be found.
        fittings: Whether fittings have a joint round them, where the rules ask for it.
        key: Key of the pool file where something is missing.
        swept: How long bays are along each axis: between the joints, where the surface turns, and
            rims.
    """

    tracks: tuple[Track, ...]
    structure: Sequence[tuple[Joint, Track]]
    edges: tuple[EdgeLine, ...]
    edge_width: float
    fittings: bool
    key: Key
    swept: tuple[Sweep, ...]

    @property
    def longest_bay(self) -> float:
        """[m]; 0 where no bay is limited."""
        return max(float(sweep.longest.max(initial=0.0)) for sweep in self.swept)

    @property
    def is_drawn(self) -> bool:
        """Whether somebody drew it."""
        return self.key[-1:] == ("drawn",)


def check(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Yield what is wrong with a plan of joints.

    Args:
        ground: What it is for.
        joints: The plan.
    """
    yield from _too_long(ground, joints)
    yield from _dead_ends(ground, joints)
    yield from _over_structure(ground, joints)
    yield from _clear_of_fittings(ground, joints)
    yield from _clear_of_edges(ground, joints)
    yield from _missing_at_edges(ground, joints)
    yield from _missing_at_fittings(ground, joints)
    yield from _idle_patterns(ground)


def _too_long(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Bays that are too long: the longest of each surface and way."""
    limit, mesh = ground.rules.bays, ground.mesh
    tracks, breaks = joints.tracks, ground.breaks(joints.edges)
    longest = limit.longest + 2.0 * SAME + GRID
    worst: dict[tuple[str, str, int], tuple[float, Floats]] = {}
    for strip in long_strips(ground, breaks, tracks, joints.swept, longest):
        length, middle = strip.longest_bay(tracks)
        patch = mesh.patches[mesh.patch[strip.triangle_at(middle)]]
        where = patch.body, patch.kind, strip.axis
        if where not in worst or length > worst[where][0]:
            worst[where] = length, strip.point_at(middle)
    for (body, kind, axis), (length, place) in sorted(worst.items(), key=lambda item: item[0]):
        yield _remark(
            joints.key,
            f"must leave no bay longer than {_length(ground, limit.longest)}",
            f"{_length(ground, length)} {WAYS[axis]} on the {kind} of the {body},"
            f" about {_place(ground, place)}",
            "lay a joint across it"
            if joints.is_drawn
            else "no line is free there: move the origin, a fitting, or ask for less clearance",
            limit.cited,
        )


def _dead_ends(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Joints that end neither at a rim nor at another joint."""
    vertices = ground.mesh.vertices
    keys = np.concatenate([ground.rim, ground.keys_of(joints.edges)])
    lines = vertices[np.stack(np.divmod(keys, len(vertices)), axis=1)]
    for track in joints.tracks:
        if not len(track.ends):
            yield _remark(track.key, "must run over the finish", "nothing of it lies there",
                          "move its ends")  # fmt: skip
            continue
        others = [item.points[item.ends] for item in joints.tracks if item is not track]
        segments = np.concatenate([lines, *others])
        tips = track.tips
        loose = tips[distance_to(segments, tips) > AT_A_JOINT]
        if len(loose):
            yield _remark(
                track.key,
                "must run from rim to rim, close on itself, or end at another joint",
                f"{track.number} stops short at {_place(ground, loose[0])}"
                + (f", and at {len(loose) - 1} more" if len(loose) > 1 else ""),
                "draw it on to the wall's top or to another joint",
                ground.rules.bays.cited,
            )


def _over_structure(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Joints of the structure without one of the finish over them, or with a narrower one."""
    rule = ground.rules.structure
    for joint, under in joints.structure:
        middles = under.middles
        over = {track.number: track for track in joints.tracks if covered(track, middles).any()}
        bare = ~np.any([covered(track, middles) for track in over.values()], axis=0)
        if not over or bare.any():
            first = middles[int(np.argmax(bare))] if over else middles[0]
            yield _remark(
                joints.key,
                f"must have a joint over joint {under.number} of the structure all along it",
                f"none at {_place(ground, first)}",
                "draw it along the same line",
                rule.cited,
            )
        for track in over.values():
            if 0.0 < track.width < joint.width - SAME:  # 0: it will be wide enough
                yield _remark(
                    track.key,
                    f"must not be narrower than joint {under.number} of the structure under it,"
                    f" {_length(ground, joint.width)}",
                    f"{track.number} is {_length(ground, track.width)} wide",
                    "make it as wide",
                    rule.cited,
                )


def covered(track: Track, points: Floats) -> Bools:
    """Return which of some points (k, 3) a joint runs over (k,)."""
    found: Bools = distance_to(track.points[track.ends], points) < AT_A_JOINT
    return found


def _clear_of_fittings(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Joints through fittings, or too near to them."""
    clear = ground.asked.clear_of_fittings
    for track in joints.tracks:
        if not len(track.ends) or track.what == "over the structure":
            continue  # that those stand clear of fittings, the structure decides
        segments = track.points[track.ends]
        for item in ground.takeoff.fittings:
            off = fitting_distance(segments, item)
            if off > clear - SAME:
                continue
            if off <= 0.0:
                yield _remark(track.key, "must not go through a fitting",
                              f"{track.number} goes through {item.number}, a {item.kind}",
                              "move the joint")  # fmt: skip
            else:
                yield _remark(
                    track.key,
                    f"should stay {_length(ground, clear)} clear of fittings",
                    f"{track.number} passes {_length(ground, off)} from {item.number}",
                    "move the joint",
                    severity="warning",
                )


def _clear_of_edges(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Joints that run along step nosings and other edges, too near to them."""
    clear = ground.asked.clear_of_edges
    for track in joints.tracks:
        if track.axis is None or track.what == "over the structure" or not len(track.ends):
            continue
        beside = ground.samples[track.axis].beside(track.at, clear - SAME)
        if not len(beside):
            continue
        off = distance_to(track.points[track.ends], beside)
        k = int(off.argmin())
        if off[k] < clear - SAME:
            yield _remark(
                track.key,
                f"should stay {_length(ground, clear)} clear of edges that run along it",
                f"{track.number} runs {_length(ground, float(off[k]))} beside one at"
                f" {_place(ground, beside[k])}",
                "move the joint",
                severity="warning",
            )


def _missing_at_edges(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Edges that ask for a joint and have none, kind by kind."""
    has = {id(line) for line in joints.edges}
    missing: dict[tuple[str, str], list[EdgeLine]] = {}
    for line in ground.edges:
        if id(line) not in has:
            missing.setdefault((line.what, line.kind), []).append(line)
    for (what, kind), lines in missing.items():
        rule = ground.rules.perimeter if what == "perimeter" else ground.rules.changes_of_plane
        first = ground.mesh.vertices[lines[0].vertices].mean(axis=0)
        place = _place(ground, first)
        if what == "perimeter":
            rule_text, value = "must have a joint where the finish ends", f"none at {place}"
        else:
            rule_text = f"must have a joint at each change of plane {kind}"
            value = f"none at {len(lines)} of them, the first {lines[0].number} about {place}"
        yield _remark((*joints.key, "edges"), rule_text, value, f"add '{kind}'",
                      rule.cited if rule is not None else "")  # fmt: skip


def _missing_at_fittings(ground: Ground, joints: Joints) -> Iterator[Remark]:
    """Fittings that ask for a joint and have none."""
    rule = ground.rules.fittings
    asked = ground.jointed_fittings
    if rule is not None and asked and not joints.fittings:
        yield _remark(
            (*joints.key, "fittings"),
            "must have a joint round fittings",
            f"none at {', '.join(item.number for item in asked[:6])}",
            "write 'fittings: true'",
            rule.cited,
        )


def _idle_patterns(ground: Ground) -> Iterator[Remark]:
    """Kinds of edge that a drawn plan names and that the finish does not have."""
    drawn = ground.asked.drawn
    kinds = {line.kind for line in ground.edges}
    for k, pattern in enumerate(drawn.edges if drawn is not None else ()):
        if not any(is_one_of(kind, (pattern,)) for kind in kinds):
            yield _remark(
                ("movement_joints", "drawn", "edges", k),
                "should be a kind of edge that asks for a joint",
                f"'{pattern}'",
                f"there are {', '.join(sorted(kinds))}" if kinds else "leave it out",
                severity="warning",
            )


def _length(ground: Ground, metres: float) -> str:
    return format_length(metres, ground.model.design.pool.units)


def _place(ground: Ground, point: Floats) -> str:
    x, y, z = (_length(ground, value) for value in (point[0], point[1], abs(point[2])))
    return f"({x}, {y}), {z} {'above' if point[2] > 0.0 else 'below'} the water level"


def _remark(
    key: Key,
    rule: str,
    value: str,
    remedy: str,
    source: str = PRACTICE,
    severity: Severity = "error",
) -> Remark:
    return Remark(Finding(key, rule, value, remedy, severity), source, of_pool=True)
