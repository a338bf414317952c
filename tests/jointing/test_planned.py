"""Every sample and random pools, planned by tables that come with poolgeo and by others."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import event, given, settings

import poolgeo
from poolgeo.design.joint_rules import JointRules
from poolgeo.design.load import design_from
from poolgeo.design.movement import MovementJoints
from poolgeo.design.tables import shipped
from poolgeo.errors import PoolFileError
from poolgeo.jointing.ground import ground_of
from poolgeo.jointing.joints import finish_joints, joints_on
from poolgeo.measure.takeoff import measure

from ..strategies import PoolDict
from ..strategies_all import pools_of_all
from .drawing_jobs import jobs
from .facts import FACTS
from .second import Second

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.yaml"))
QUICK = {"cold-pool", "fillet", "spots", "trough"}
"""Samples that take a second or two."""

MANY = min(500, int(os.environ.get("POOLGEO_EXAMPLES", "500")))
TABLES = shipped("joint_rules") if MANY == 500 else ["closed-loops-6-m"]


def cases() -> list[object]:
    """Return each sample with each table, the quick ones unmarked."""
    return [
        pytest.param(
            path, table, id=f"{path.stem}, {table}",
            marks=() if path.stem in QUICK and "6-m" in table else pytest.mark.slow,
        )
        for path in SAMPLES for table in TABLES
    ]  # fmt: skip


@pytest.mark.parametrize(("path", "table"), cases())
def test_every_sample_by_every_table(path: Path, table: str) -> None:
    """No remark at all, not even that something had to be too near; and every fact."""
    design = poolgeo.load(path)
    asked = MovementJoints(rules=table)
    pool = design.pool.model_copy(update={"movement_joints": asked, "finishes": None})
    model = poolgeo.build(replace(design, pool=pool))
    takeoff = measure(model)
    plan = finish_joints(model, takeoff)
    assert plan is not None
    assert not [str(item) for item in plan.remarks]
    case = Second(ground_of(model, takeoff, plan.rules, asked), plan)
    for fact in FACTS:
        fact(case)


@settings(max_examples=4)
@given(pools_of_all(), jobs())
def test_random_pools(file: PoolDict, job: PoolDict) -> None:
    """The limit is 6 m, so that they are quick; all else is drawn."""
    job["rules"]["bays"]["longest"] = 6.0
    check(file, job)


@pytest.mark.slow
@settings(max_examples=MANY if MANY == 500 else MANY // 3, derandomize=True, print_blob=True)
@given(pools_of_all(), jobs())
def test_many_random_pools(file: PoolDict, job: PoolDict) -> None:
    check(file, job)


def check(file: PoolDict, job: PoolDict) -> None:
    """Plan the joints of a pool and check every fact, unless the pool is refused."""
    rules = JointRules.model_validate(job["rules"])
    whole = file | {key: value for key, value in job.items() if key != "rules"}
    try:
        model = poolgeo.build(design_from(whole))
        takeoff = measure(model)
    except PoolFileError:
        event("refused")
        return
    asked = model.design.pool.movement_joints
    assert asked is not None
    ground = ground_of(model, takeoff, rules, asked)
    case = Second(ground, joints_on(ground))
    event(f"{min(len(case.plan.of_kind('intermediate')), 6)} intermediate joints or more")
    for fact in FACTS:
        fact(case)
