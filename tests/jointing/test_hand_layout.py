"""Layouts that can be worked out by hand: counts, spacing, lengths."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest

from poolgeo.jointing.rows import FinishJoints, JointKind

from ..measure.quantities import PoolDict, circle, level, pool, rectangle
from .planned import joints_of, places, tiles

CLOSE = 1e-4
"""[m] Lengths."""

GRID = tiles(0.244, 0.244, 0.006, where={"wet": True})
"""A module of 250 mm, under water."""


def length(joints: FinishJoints, kind: JointKind) -> float:
    """Return the length of all joints of one kind [m]."""
    return sum(joint.length for joint in joints.of_kind(kind))


def bays(held: list[float], half: float) -> list[float]:
    """Return the bays between joints from one end of a length to the other [m]."""
    return [b - a for a, b in pairwise([-half, *held, half])]


def race_pool(**more: object) -> PoolDict:
    """Return 50 m x 25 m, 2 m deep, walls 0.3 m above the water."""
    asked = {"movement_joints": {"rules": "closed-loops-6-m"}}
    return pool(rectangle(50.0, 25.0), level(2.0), freeboard=0.3, **asked, **more)


class TestRacePool:
    """50 m at 6 m are nine bays, of 5.556 m; 25 m are five, of 5 m; the walls, 2.3 m, none.

    ::

         ___ ___ ___ ___ ___ ___ ___ ___ ___
        |   |   |   |   |   |   |   |   |   |   8 joints across:   25 + 2 x 2.3 = 29.6 m each
        |---|---|---|---|---|---|---|---|---|   4 along:           50 + 2 x 2.3 = 54.6 m each
        |   |   |   |   |   |   |   |   |   |   together 8 x 29.6 + 4 x 54.6 = 455.2 m
        ...
    """

    def test_without_a_grid(self) -> None:
        """Planes are looked at each 6 / 60 = 0.1 m: no bay is farther from even than twice that."""
        joints = joints_of(race_pool())
        across, along = places(joints, 0), places(joints, 1)
        assert (len(across), len(along), places(joints, 2)) == (8, 4, [])
        for held, half in ((across, 25.0), (along, 12.5)):
            sizes = bays(held, half)
            assert max(sizes) <= 2.0 * half / len(sizes) + 0.2
            assert max(sizes) <= 6.0
        assert max(bays(along, 12.5)) - min(bays(along, 12.5)) <= 0.2 + 1e-6
        assert length(joints, "intermediate") == pytest.approx(455.2, abs=CLOSE)
        assert joints.least == pytest.approx(455.2, abs=CLOSE)
        assert joints.bound == pytest.approx(455.2, abs=CLOSE)
        # four edges of the floor and four corners of 2.3 m; the rim of the walls
        assert length(joints, "change of plane") == pytest.approx(150.0 + 4 * 2.3, abs=CLOSE)
        assert length(joints, "perimeter") == pytest.approx(150.0, abs=CLOSE)
        assert not joints.remarks

    @pytest.mark.slow
    def test_on_a_grid_of_250_mm(self) -> None:
        """To the water only: 29.0 and 54.0 m each; 22 or 23 modules across, 20 along."""
        joints = joints_of(race_pool(finishes=[GRID]))
        across, along = places(joints, 0), places(joints, 1)
        assert (len(across), len(along)) == (8, 4)
        for at in across + along:
            assert at * 4.0 == pytest.approx(round(at * 4.0), abs=1e-5)
        assert max(bays(across, 25.0)) <= 50.0 / 9.0 + 0.25
        assert bays(along, 12.5) == pytest.approx([5.0] * 5, abs=0.25 + 1e-6)
        wanted = 8 * 29.0 + 4 * 54.0
        assert length(joints, "intermediate") == pytest.approx(wanted, abs=CLOSE)
        assert length(joints, "change of plane") == pytest.approx(150.0 + 4 * 2.0, abs=CLOSE)
        assert not joints.remarks

    @pytest.mark.slow
    def test_with_a_joint_of_the_structure_at_mid_length(self) -> None:
        """Two halves of 25 m, five bays of 5 m each: again eight joints, and that one."""
        middle = {"start": [0.0, -14.0], "end": [0.0, 14.0], "width": 0.02, "movement": 0.003}
        joints = joints_of(race_pool(joints=[middle]))
        across = places(joints, 0)
        assert len(across) == 8
        assert sum(at < 0.0 for at in across) == 4
        assert max(bays(sorted([*across, 0.0]), 25.0)) <= 5.0 + 0.2
        (over,) = joints.of_kind("over the structure")
        assert (over.number, over.axis) == ("MJ1", 0)
        assert over.at == pytest.approx(0.0, abs=1e-9)
        assert over.length == pytest.approx(29.6, abs=CLOSE)
        assert length(joints, "intermediate") == pytest.approx(455.2, abs=CLOSE)

    def test_mosaic_needs_none_between_its_edges(self) -> None:
        """By the table of 6 m; edges and perimeter have theirs: wall tops take what names them."""
        mosaic = tiles(0.025, 0.025, 0.002, type="mosaic")
        joints = joints_of(race_pool(finishes=[mosaic]))
        assert not joints.of_kind("intermediate")
        assert (joints.least, joints.bound) == (0.0, 0.0)
        assert length(joints, "change of plane") == pytest.approx(159.2, abs=CLOSE)
        assert length(joints, "perimeter") == pytest.approx(150.0, abs=CLOSE)

    def test_plaster_takes_no_joint_at_all(self) -> None:
        """It is not laid piece by piece."""
        plaster = {"name": "plaster", "type": "plaster", "thickness": 0.01}
        assert not joints_of(race_pool(finishes=[plaster])).joints


def test_a_joint_of_the_structure_parts_bays_too() -> None:
    """20 m are four bays, of 5 m; with a joint at 11 m they are 11 m in two and 9 m in two.

    Two joints of 5 + 2 x 1.7 = 8.4 m; that of the structure is as long. None runs along.
    """
    under = {"start": [1.0, -4.0], "end": [1.0, 4.0], "width": 0.02}
    file = pool(rectangle(20.0, 5.0), level(1.5), freeboard=0.2, joints=[under])
    joints = joints_of(file | {"movement_joints": {}})
    west, east = places(joints, 0)
    assert west == pytest.approx(-4.5, abs=0.5 + 1e-6)
    assert east == pytest.approx(5.5, abs=1.5 + 1e-6)
    assert max(bays([west, 1.0, east], 10.0)) <= 6.0 + 1e-6
    assert not places(joints, 1)
    (over,) = joints.of_kind("over the structure")
    assert over.at == pytest.approx(1.0, abs=1e-9)
    assert over.length == pytest.approx(8.4, abs=CLOSE)
    assert over.width >= 0.02
    assert length(joints, "intermediate") == pytest.approx(16.8, abs=CLOSE)


def test_garden_pool_at_12_ft() -> None:
    """12 m by 3.658 m are four bays, of 3 m; 6 m are two, of 3 m; walls of 1.7 m none.

    Three joints of 6 + 2 x 1.7 = 9.4 m, one of 12 + 2 x 1.7 = 15.4 m. The table asks at internal
    and external edges; where only the inside is finished all are internal: 36 m and four corners.
    """
    asked = {"rules": "wet-12-ft"}
    file = pool(rectangle(12.0, 6.0), level(1.5), freeboard=0.2, movement_joints=asked)
    joints = joints_of(file)
    step = 12 * 0.3048 / 30.0
    across, along = places(joints, 0), places(joints, 1)
    assert across == pytest.approx([-3.0, 0.0, 3.0], abs=2.0 * step)
    assert along == pytest.approx([0.0], abs=step)
    assert max(bays(across, 6.0)) <= 3.0 + step + 1e-6
    assert length(joints, "intermediate") == pytest.approx(3 * 9.4 + 15.4, abs=CLOSE)
    assert length(joints, "change of plane") == pytest.approx(36.0 + 4 * 1.7, abs=CLOSE)
    # bays over 8 ft: 1/2 in, rounded up to whole millimetres of a file in metres
    assert {round(joint.width, 9) for joint in joints.joints} == {0.013}


def test_deep_tank_needs_level_rings() -> None:
    """10 x 5 m, 9 m deep and 0.2 m above: at 4.5 m three bays, two, and three up the walls.

    Two joints of 5 + 2 x 9.2 = 23.4 m, one of 10 + 2 x 9.2 = 28.4 m, two rings of 30 m.
    """
    asked = {"rules": "external-4.5-m"}
    file = pool(rectangle(10.0, 5.0), level(9.0), freeboard=0.2, movement_joints=asked)
    joints = joints_of(file)
    across, along, rings = (places(joints, axis) for axis in range(3))
    assert (len(across), len(along), len(rings)) == (2, 1, 2)
    step = 4.5 / 30.0
    heights = [b - a for a, b in pairwise([-9.0, *rings, 0.2])]
    assert max(heights) <= 9.2 / 3.0 + 2.0 * step
    assert max(bays(across, 5.0)) <= 10.0 / 3.0 + 2.0 * step
    wanted = 2 * 23.4 + 28.4 + 2 * 30.0
    assert length(joints, "intermediate") == pytest.approx(wanted, abs=CLOSE)
    assert length(joints, "change of plane") == pytest.approx(30.0 + 4 * 9.2, abs=CLOSE)
    assert joints.bay <= 4.5


@pytest.fixture(scope="module")
def round_pool() -> FinishJoints:
    """Return the plan of a pool 8 m across."""
    return joints_of(pool(circle(4.0), level(1.5), freeboard=0.2, movement_joints={}))


class TestRoundPool:
    """8 m across: chords in two directions, and the wall, 25.13 m round, in bays of its own."""

    WALL, LIMIT = 1.7, 6.0

    def test_its_wall_asks_for_three_joints(self, round_pool: FinishJoints) -> None:
        """25.13 / 6 = 4.2: five joints at least meet the wall, and each chord does twice."""
        across, along = places(round_pool, 0), places(round_pool, 1)
        assert len(across) + len(along) == 3
        assert across
        assert along
        assert self.parts(across, along)
        chords = [2.0 * math.sqrt(16.0 - at**2) for at in across + along]
        wanted = sum(chords) + 3 * 2 * self.WALL
        assert length(round_pool, "intermediate") == pytest.approx(wanted, rel=1e-3)
        assert length(round_pool, "perimeter") == pytest.approx(8.0 * math.pi, rel=1e-3)

    def test_no_three_chords_are_shorter(self, round_pool: FinishJoints) -> None:
        """Of all on planes 0.1 m apart that meet the wall at 30 degrees or more: tried one by one.

        Those are up to 4 cos 30 = 3.46 m off; farther out the wall runs along the joint.
        """
        planes = [(axis, round(0.1 * k, 1)) for axis in (0, 1) for k in range(-34, 35)]
        size = {plane: 2.0 * (math.sqrt(16.0 - plane[1] ** 2) + self.WALL) for plane in planes}
        best = math.inf
        for chosen in combinations(planes, 3):
            total = sum(size[plane] for plane in chosen)
            if total < best and self.parts(*([at for a, at in chosen if a == k] for k in (0, 1))):
                best = total
        assert round_pool.least == pytest.approx(best, rel=1e-3)

    def parts(self, across: list[float], along: list[float]) -> bool:
        """Whether joints x = c and y = c leave no bay over the limit on wall and floor."""
        if not across or not along:
            return False
        turns = [sign * math.acos(at / 4.0) for at in across for sign in (1.0, -1.0)]
        turns += [math.asin(at / 4.0) for at in along]
        turns += [math.pi - math.asin(at / 4.0) for at in along]
        ring = np.sort(np.mod(turns, 2.0 * math.pi))
        if 4.0 * np.diff(ring, append=ring[0] + 2.0 * math.pi).max() > self.LIMIT:
            return False
        for held in (across, along):
            for off in np.linspace(-3.99, 3.99, 400):
                half = math.sqrt(16.0 - off**2)
                own = sorted(at for at in held if abs(at) < half)
                if max(bays(own, half)) > self.LIMIT:
                    return False
        return True
