"""Short ways to plan the movement joints of a pool and to read single values off them."""

from __future__ import annotations

from typing import Any

from poolgeo.builder import build
from poolgeo.design.joint_rules import JointRules
from poolgeo.design.load import design_from
from poolgeo.jointing.ground import ground_of
from poolgeo.jointing.joints import finish_joints, joints_on
from poolgeo.jointing.rows import FinishJoints
from poolgeo.measure.takeoff import measure

from ..strategies import PoolDict
from .second import Second


def tiles(length: float, width: float, joint: float, **more: Any) -> PoolDict:
    """Return a finish of tiles [m]."""
    tile = {"length": length, "width": width, "thickness": 0.008}
    return {"name": "tiles", "type": "tile", "tile": tile, "joint": joint, **more}


def joints_of(file: PoolDict) -> FinishJoints:
    """Return the movement joints of a pool by the rules that its file names."""
    model = build(design_from(file))
    found = finish_joints(model, measure(model))
    assert found is not None
    return found


def planned(file: PoolDict, rules: JointRules) -> Second:
    """Return them by a given table, with what they were planned on."""
    model = build(design_from(file))
    asked = model.design.pool.movement_joints
    assert asked is not None
    ground = ground_of(model, measure(model), rules, asked)
    return Second(ground, joints_on(ground))


def places(joints: FinishJoints, axis: int) -> list[float]:
    """Return the values that intermediate joints of one axis hold, rising [m]."""
    return sorted(joint.at for joint in joints.of_kind("intermediate") if joint.axis == axis)
