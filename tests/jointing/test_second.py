"""The second opinion finds what is wrong: bays by closed form, and plans with a joint taken out."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from poolgeo.design.joint_rules import joint_rules

from ..measure.quantities import circle, level, pool, rectangle
from .facts import (
    FACTS,
    joints_go_from_rim_to_rim,
    joints_lie_on_grid_lines,
    no_bay_is_too_long,
    the_structure_has_joints_over_it,
)
from .planned import planned, tiles
from .second import Second

UNDER = {"start": [0.0, -3.0], "end": [0.0, 3.0], "width": 0.02}


@pytest.fixture(scope="module")
def case() -> Second:
    """Return a 14 x 4 m tank, 7 m deep, tiled, with a joint of the structure in the middle."""
    file = pool(rectangle(14.0, 4.0), level(7.0), freeboard=0.2, joints=[UNDER])
    more = {"movement_joints": {}, "finishes": [tiles(0.245, 0.245, 0.005)]}
    return planned(file | more, joint_rules("closed-loops-6-m"))


def without(case: Second, kind: str) -> Second:
    """Return a plan without its first joint of a kind."""
    (gone, *_) = case.plan.of_kind(kind)  # type: ignore[arg-type]
    kept = tuple(item for item in case.plan.joints if item is not gone)
    return replace(case, plan=replace(case.plan, joints=kept))


def test_the_plan_is_sound(case: Second) -> None:
    for fact in FACTS:
        fact(case)


def test_bays_of_a_tank_by_hand(case: Second) -> None:
    """Along the floor 7 m to the middle, with one joint each; up the wall 7.2 m with one ring."""
    (left, right) = sorted(j.at for j in case.plan.of_kind("intermediate") if j.axis == 0)
    long = [bay.length for bay in case.bays(1, 0.3)]
    for size in (left + 7.0, -left, right, 7.0 - right):
        assert any(math.isclose(size, found, abs_tol=1e-5) for found in long)
    (ring,) = (j.at for j in case.plan.of_kind("intermediate") if j.axis == 2)
    for size in (ring + 7.0, 0.2 - ring):
        assert any(math.isclose(size, found, abs_tol=1e-5) for found in long)


@pytest.mark.parametrize("kind", ["intermediate", "over the structure"])
def test_a_bay_is_too_long_where_a_joint_is_taken_out(case: Second, kind: str) -> None:
    with pytest.raises(AssertionError):
        no_bay_is_too_long(without(case, kind))


def test_a_joint_of_the_structure_that_is_bare_is_found(case: Second) -> None:
    with pytest.raises(AssertionError):
        the_structure_has_joints_over_it(without(case, "over the structure"))


def test_a_joint_of_the_structure_under_a_narrower_one_is_found(case: Second) -> None:
    joints = tuple(replace(item, width=0.01) for item in case.plan.joints)
    with pytest.raises(AssertionError):
        the_structure_has_joints_over_it(replace(case, plan=replace(case.plan, joints=joints)))


def test_a_joint_that_stops_in_a_face_is_found(case: Second) -> None:
    """Half of one stretch is taken off."""
    joint = next(item for item in case.plan.of_kind("intermediate") if item.axis == 0)
    run = joint.runs[0]
    half = replace(run, points=np.array([run.points[0], run.points[:2].mean(axis=0)]))
    joints = tuple(
        replace(item, runs=(half, *item.runs[1:])) if item is joint else item
        for item in case.plan.joints
    )
    with pytest.raises(AssertionError):
        joints_go_from_rim_to_rim(replace(case, plan=replace(case.plan, joints=joints)))


def test_a_joint_off_the_grid_is_found(case: Second) -> None:
    joints = tuple(replace(item, at=item.at + 1e-3) for item in case.plan.joints)
    with pytest.raises(AssertionError):
        joints_lie_on_grid_lines(replace(case, plan=replace(case.plan, joints=joints)))


def test_a_ring_without_joints_is_one_bay() -> None:
    """A level slice of a round wall closes: 2 pi r, in chords."""
    file = pool(circle(1.5), level(1.5), freeboard=0.2, movement_joints={})
    case = planned(file, joint_rules("closed-loops-6-m"))
    bare = replace(case, plan=replace(case.plan, joints=()))
    (bay,) = bare.bays(2, -0.7)
    assert bay.length == pytest.approx(3.0 * math.pi, rel=1e-3)
    with pytest.raises(AssertionError):
        no_bay_is_too_long(bare)
