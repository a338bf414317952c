"""Facts that hold for the movement joints of any finish that poolgeo plans."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from poolgeo.arrays import Bools, Floats, Ints
from poolgeo.measure.joints import joint_runs

from .second import Second, distances, segments_of

LONGER = 2e-3
"""[m] A bay may be longer than its limit by this."""

AT_A_JOINT = 5e-3
"""[m] A joint ends at another, or at a rim, when it is as near."""

SLICES = 12
"""Along each axis."""


def the_check_finds_no_error(case: Second) -> None:
    """Nothing is said of it but warnings."""
    errors = [str(item) for item in case.plan.remarks if item.finding.severity == "error"]
    assert not errors, errors


def no_bay_is_too_long(case: Second) -> None:
    """On any slice."""
    limit, mesh = case.plan.rules.bays.longest, case.ground.mesh
    used = case.points[np.unique(mesh.triangles)]
    draw = np.random.default_rng(len(used))
    for axis in range(3):
        low, high = used[:, axis].min(), used[:, axis].max()
        for at in draw.uniform(low, high, SLICES).tolist():
            long = [bay for bay in case.bays(axis, at) if bay.length > limit + LONGER]
            assert not long, (limit, max(long, key=lambda bay: bay.length))


def the_longest_bay_is_told(case: Second) -> None:
    """What the plan says is its longest bay is not exceeded by what it allows."""
    assert case.plan.bay <= case.plan.rules.bays.longest + LONGER


def joints_go_from_rim_to_rim(case: Second) -> None:
    """Or close, or end at another joint."""
    for joint in case.plan.of_kind("intermediate"):
        tips = tips_of([run.points for run in joint.runs])
        others = [item for item in case.plan.joints if item is not joint]
        ends = np.concatenate([case.rim, segments_of(others)])
        off = distances(ends, tips)
        assert off.max(initial=0.0) <= AT_A_JOINT + 1e-6, (joint.number, tips[off.argmax()])


def tips_of(lines: list[Floats]) -> Floats:
    """Return the ends of lines that no other end meets (t, 3)."""
    ends = np.array([line[k] for line in lines for k in (0, -1)]).reshape(-1, 3)
    found = []
    for k, end in enumerate(ends):
        others = np.delete(ends, k, axis=0)
        # what is shorter than 5 mm is no run: the next one may be as far
        if not len(others) or np.linalg.norm(others - end, axis=1).min() > AT_A_JOINT:
            found.append(end)
    return np.array(found).reshape(-1, 3)


def the_structure_has_joints_over_it(case: Second) -> None:
    """All along, and none is narrower."""
    square = case.ground.model
    asked = {f"J{k}": item for k, item in enumerate(square.design.pool.joints, 1)}
    for run in joint_runs(square):
        under = asked[run.number.partition(".")[0]]
        wide = [item for item in case.plan.joints if item.width >= under.width - 1e-9]
        middles = (run.points[1:] + run.points[:-1]) / 2.0
        finished = on_finish(case, run.surface, run.zone, run.wet)
        off = distances(segments_of(wide), middles[finished])
        assert off.max(initial=0.0) < 1e-3, run.number


def on_finish(case: Second, kind: str, zone: Ints, wet: Bools) -> Bools:
    """Return which segments of a stretch have a finish, by what the pool file says."""
    finishes = case.ground.finishes
    if not finishes:
        inside: Bools = zone < 3
        return inside
    found: Bools = np.zeros(len(zone), dtype=bool)
    for item in finishes:
        # wall tops, the last two zones, take what names them only
        own = (
            (zone < 3) if item.where.kinds is None else np.full(len(zone), kind in item.where.kinds)
        )
        found |= own & ((item.where.wet is None) | (wet == item.where.wet))
    return found


def joints_lie_on_grid_lines(case: Second) -> None:
    """Where the finish is laid in tiles; and each lies all in its plane."""
    laid = [item for item in case.ground.finishes if item.tile is not None]
    for joint in case.plan.of_kind("intermediate"):
        assert joint.axis is not None
        held = case.framed(np.concatenate([run.points for run in joint.runs]))[:, joint.axis]
        assert np.abs(held - joint.at).max() < 2e-6
        if laid:
            tile, gap = laid[0].tile, laid[0].joint
            assert tile is not None
            assert gap is not None
            module = gap + (tile.length if joint.axis == 0 else tile.width)
            assert abs(joint.at - module * round(joint.at / module)) < 2e-6


def lengths_are_in_order(case: Second) -> None:
    """Bound, shortest, and what even bays take."""
    plan = case.plan
    length = sum(joint.length for joint in plan.of_kind("intermediate"))
    assert plan.bound is not None
    assert plan.least is not None
    assert plan.bound <= plan.least + 1e-6
    # stretches under 5 mm are no runs
    assert length >= plan.least - 0.005 * 20 - 1e-6
    assert length <= plan.least * (1.0 + case.ground.asked.even_bays) + 1e-6


def joints_are_sized(case: Second) -> None:
    """Wide enough, sealed half as deep, and added up by section."""
    plan = case.plan
    for joint in plan.joints:
        assert joint.width >= plan.rules.widths.least - 1e-9
        assert joint.width >= joint.movement / plan.capability - 1e-6
        assert joint.depth == pytest.approx(min(max(joint.width / 2.0, 0.006), 0.013))
    assert sum(row.length for row in plan.sealing) == pytest.approx(
        sum(joint.length for joint in plan.joints), abs=1e-9
    )
    assert sum(row.net for row in plan.sealing) == pytest.approx(
        sum(joint.volume for joint in plan.joints), rel=1e-3, abs=1e-12
    )


FACTS: tuple[Callable[[Second], None], ...] = (
    the_check_finds_no_error,
    no_bay_is_too_long,
    the_longest_bay_is_told,
    joints_go_from_rim_to_rim,
    the_structure_has_joints_over_it,
    joints_lie_on_grid_lines,
    lengths_are_in_order,
    joints_are_sized,
)
