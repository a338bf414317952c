"""Bays of all sections at once: by hand, and against sections walked one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings

from poolgeo.builder import build
from poolgeo.design.joint_rules import JointRules, joint_rules
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.jointing.ground import Ground, ground_of
from poolgeo.jointing.joints import joints_on
from poolgeo.jointing.plan import plan_joints
from poolgeo.jointing.sweep import Sweep, sweeps
from poolgeo.jointing.tracks import straight_track, structural_tracks
from poolgeo.measure.takeoff import measure
from poolgeo.surface.slices import Straight

from ..measure.quantities import circle, level, pool, rectangle
from ..strategies import PoolDict
from ..strategies_all import pools_of_all
from .drawing_jobs import jobs
from .second import Second

CLOSE = 2e-3
"""[m] Where vertices stand nearer to each other than planes beside them, along curves, a section
between may be longer by this."""


def ground_for(file: PoolDict, rules: JointRules) -> Ground:
    """Return what joints are planned on."""
    model = build(design_from(file))
    asked = model.design.pool.movement_joints
    assert asked is not None
    return ground_of(model, measure(model), rules, asked)


def swept(file: PoolDict) -> tuple[Sweep, ...]:
    """Return the bays of a pool without joints at edges or of its finish, 6 m long at most."""
    ground = ground_for(file | {"movement_joints": {}}, joint_rules("closed-loops-6-m"))
    return sweeps(ground, ground.breaks(ground.edges), [])


def test_a_box_by_hand() -> None:
    """5 x 3 m, walls 1.2 m high: across it 3 m, along it 5 m, round the walls 5 m."""
    x, y, z = swept(pool(rectangle(5.0, 3.0), level(1.0), freeboard=0.2))
    assert x.longest == pytest.approx([0.0, *[3.0] * (len(x.at) - 2), 0.0], abs=1e-9)
    assert y.longest == pytest.approx([0.0, *[5.0] * (len(y.at) - 2), 0.0], abs=1e-9)
    assert z.longest.max() == pytest.approx(5.0)


def test_chords_of_a_circle() -> None:
    """As long as a chord of the circle is there, a little less; or the wall."""
    (x, *_) = swept(pool(circle(2.0), level(1.5), freeboard=0.15))
    inside = np.abs(x.at) < 1.99
    chord = 2.0 * np.sqrt(4.0 - x.at[inside] ** 2)
    assert x.longest[inside] == pytest.approx(np.maximum(chord, 1.65), abs=0.02)
    assert x.longest.max() == pytest.approx(4.0, abs=1e-3)


def test_a_ring_goes_round_once() -> None:
    """2 pi r, though it has no end to start from."""
    (*_, z) = swept(pool(circle(1.5), level(1.5)))
    assert z.longest.max() == pytest.approx(3.0 * math.pi, rel=1e-3)


def test_a_joint_parts_sections_as_far_as_it_was_drawn() -> None:
    """From beyond the wall to the middle of a floor of 5 x 3 m."""
    file = pool(rectangle(5.0, 3.0), level(1.0), movement_joints={})
    ground = ground_for(file, joint_rules("closed-loops-6-m"))
    line = Straight.of((0.5, -2.0), (0.5, 0.25))
    joint = straight_track(ground, line, "D1", "drawn", (), 0.01)
    _, y, _ = sweeps(ground, ground.breaks(ground.edges), [joint])
    inside = np.abs(y.at) < 1.5
    expected = np.where(y.at[inside] < 0.25, 3.0, 5.0)
    assert set(expected) == {3.0, 5.0}
    assert y.longest[inside] == pytest.approx(expected)


def test_the_worst_of_each_stretch() -> None:
    sweep = Sweep(0, np.array([0.1, 0.2, 0.9, 1.1, 1.2]), np.array([5.0, 7.0, 6.5, 4.0, 6.1]))
    assert sweep.worst(6.0, 1.0).tolist() == [0.2, 1.2]
    assert sweep.worst(8.0, 1.0).tolist() == []


@settings(max_examples=12)
@given(pools_of_all(), jobs())
def test_no_section_between_has_a_longer_bay(file: PoolDict, job: PoolDict) -> None:
    """Walked one by one at random, with joints of the structure and planned ones across them."""
    job["rules"]["bays"]["longest"] = 6.0
    whole = file | {key: value for key, value in job.items() if key != "rules"}
    try:
        ground = ground_for(whole, JointRules.model_validate(job["rules"]))
    except PoolFileError:
        return
    case, draw = Second(ground, joints_on(ground)), np.random.default_rng(1)
    structure = [track for _, track in structural_tracks(ground)]
    for sweep in plan_joints(ground, structure).swept:
        for k in draw.integers(0, max(len(sweep.at) - 1, 1), 8).tolist():
            at = draw.uniform(*sweep.at[k : k + 2])
            walked = max((bay.length for bay in case.bays(sweep.axis, at)), default=0.0)
            assert walked <= sweep.longest[k : k + 2].max() + CLOSE
