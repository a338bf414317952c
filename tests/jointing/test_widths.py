"""Widths, depths and sealant, worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.design.finishes import Finish
from poolgeo.design.joint_rules import Widths, joint_rules
from poolgeo.design.movement import Sealant
from poolgeo.jointing.rows import FinishJoint
from poolgeo.jointing.widths import Sizing, packs_of, sealing_of, strain_of

from ..measure.quantities import PoolDict, level, pool, rectangle
from .planned import joints_of, tiles

INCH = 0.0254


def sizing(**more: Any) -> Sizing:
    """Return 0.5 mm/m, bays of 6 m, 6 mm by the rules, a sealant of 20 %."""
    usual: dict[str, Any] = {
        "strain": 0.0005,
        "bay": 6.0,
        "rule": 0.006,
        "sealant": Sealant(),
        "units": "m",
    }
    return Sizing(**(usual | more))


class TestStrain:
    """Expansion times range, and swelling."""

    def test_of_the_usual_tile(self) -> None:
        """7e-6 x 30 K + 0.3 mm/m = 0.51 mm/m, with a finish that says nothing or with none."""
        finish = Finish.model_validate(tiles(0.3, 0.3, 0.003))
        assert strain_of([finish], 30.0) == pytest.approx(0.00051, rel=1e-12)
        assert strain_of([], 30.0) == pytest.approx(0.00051, rel=1e-12)

    def test_the_tile_that_grows_most_counts(self) -> None:
        """9e-6 x 40 + 0.0001 = 0.46 mm/m; 5e-6 x 40 + 0.0004 = 0.6 mm/m."""
        some = [
            Finish.model_validate(tiles(0.3, 0.3, 0.003, expansion=warm, moisture=wet))
            for warm, wet in (("9 um/m/K", 0.0001), ("5 um/m/K", 0.0004))
        ]
        assert strain_of(some, 40.0) == pytest.approx(0.0006, rel=1e-12)

    def test_plaster_has_no_say_in_it(self) -> None:
        """It takes no joints."""
        plaster = {"name": "p", "type": "plaster", "thickness": 0.01, "expansion": "20 um/m/K"}
        some = [Finish.model_validate(item) for item in (plaster, tiles(0.3, 0.3, 0.003))]
        assert strain_of(some, 30.0) == pytest.approx(0.00051, rel=1e-12)


class TestMovement:
    """Of a whole bay between two, of half a bay where one side stands still."""

    def test_between_two_bays(self) -> None:
        """0.5 mm/m x 6 m."""
        assert sizing().movement("intermediate") == pytest.approx(0.003, rel=1e-12)
        assert sizing().movement("change of plane") == pytest.approx(0.003, rel=1e-12)

    def test_at_the_perimeter_and_round_fittings(self) -> None:
        """Half of 3 mm."""
        assert sizing().movement("perimeter") == pytest.approx(0.0015, rel=1e-12)
        assert sizing().movement("round fitting") == pytest.approx(0.0015, rel=1e-12)

    def test_that_of_the_structure_is_added(self) -> None:
        """3 mm and 4 mm."""
        assert sizing().movement("over the structure", 0.004) == pytest.approx(0.007, rel=1e-12)


class TestWidth:
    """Movement by capability, the rules, the gap: the largest, rounded up."""

    @pytest.mark.parametrize(
        ("movement", "gap", "units", "width"),
        [
            (0.003, 0.0, "m", 0.015),  # 3 / 0.2 = 15 mm, whole already
            (0.0031, 0.0, "m", 0.016),  # 15.5 mm
            (0.0001, 0.0, "mm", 0.006),  # the rules' 6 mm
            (0.003, 0.0202, "m", 0.021),  # the gap under it
            (0.003, 0.0, "ft", 10 / 16 * INCH),  # 15 mm are 9.45 sixteenths of an inch
            (0.0001, 0.0, "in", 4 / 16 * INCH),  # 6 mm are 3.78 sixteenths
        ],
    )
    def test_by_hand(self, movement: float, gap: float, units: str, width: float) -> None:
        """Whole millimetres, or sixteenths of an inch."""
        assert sizing(units=units).width(movement, gap) == pytest.approx(width, abs=1e-9)

    def test_a_better_sealant_makes_it_narrower(self) -> None:
        """3 / 0.25 = 12 mm; 3 / 0.5 = 6 mm."""
        for capability, width in ((0.25, 0.012), (0.5, 0.006)):
            found = sizing(sealant=Sealant(capability=capability)).width(0.003)
            assert found == pytest.approx(width, abs=1e-9)

    @given(
        st.floats(0.0, 0.01), st.floats(0.0, 0.04), st.sampled_from(["mm", "m", "ft", "in"]),
        st.floats(0.05, 1.0),
    )  # fmt: skip
    def test_never_less_than_needed_nor_a_step_more(
        self, movement: float, gap: float, units: str, capability: float
    ) -> None:
        """And a whole number of steps."""
        own = sizing(units=units, sealant=Sealant(capability=capability))
        needed = max(0.006, movement / capability, gap)
        step = 0.001 if units in {"mm", "m"} else INCH / 16.0
        width = own.width(movement, gap)
        assert needed - 1e-8 <= width < needed + step
        assert width / step == pytest.approx(round(width / step), abs=1e-6)

    def test_widths_of_a_table_of_ones_own(self) -> None:
        """Beyond the last step the widest holds; what is above a range counts in whole steps."""
        table = Widths.model_validate({
            "steps": ({"bay": 2.0, "width": 0.008}, {"bay": 3.0, "width": 0.010}),
            "warmer": {"above": "50 K", "each": "10 K", "adds": 0.002},
            "source": "made for a test",
        })  # fmt: skip
        for bay, width in ((1.0, 8), (2.0, 8), (2.1, 10), (3.0, 10), (9.0, 10)):
            assert table.width_for(bay, 50.0) == pytest.approx(width / 1000, abs=1e-12)
        for range_, more in ((50.1, 2), (60.0, 2), (60.1, 4), (75.0, 6)):
            found = table.width_for(1.0, range_)
            assert found == pytest.approx((8 + more) / 1000, abs=1e-12)


def row(width: float, length: float, depth: float) -> FinishJoint:
    """Return a joint with one stretch."""
    from poolgeo.quantities import JointRun

    run = JointRun("M1.1", "joint M1", width, "pool", "floor", None, length, 0.0, ())  # type: ignore[arg-type]
    return FinishJoint(
        "M1", "intermediate", "joint M1", 0, 0.0, width, width, 0.001, depth, 1.25 * width, (run,)
    )


class TestSealant:
    """Length x width x depth, with loss, in whole packs."""

    def test_by_section(self) -> None:
        """10 m + 20 m of 10 x 6 mm: 1.8 L, and 2.0 with 10 % lost; 5 m of 20 x 10: 1.0 and 1.11."""
        joints = [row(0.02, 5.0, 0.01), row(0.01, 10.0, 0.006), row(0.01, 20.0, 0.006)]
        narrow, wide = sealing_of(joints, Sealant())
        assert (narrow.width, narrow.depth, narrow.rod) == pytest.approx((0.01, 0.006, 0.0125))
        assert (narrow.length, narrow.net, narrow.gross) == pytest.approx((30.0, 0.0018, 0.002))
        assert (wide.length, wide.net, wide.gross) == pytest.approx((5.0, 0.001, 0.001 / 0.9))

    @pytest.mark.parametrize(
        ("pack", "packs"), [("600 mL", 6), ("2 L", 2), ("300 mL", 11), ("10 L", 1)]
    )
    def test_packs(self, pack: str, packs: int) -> None:
        """2.0 + 1.111 L: 5.2 packs of 600 mL, 1.6 of 2 L, 10.4 of 300 mL."""
        joints = [row(0.02, 5.0, 0.01), row(0.01, 30.0, 0.006)]
        sealant = Sealant.model_validate({"pack": pack})
        assert packs_of(sealing_of(joints, sealant), sealant) == packs

    def test_a_pack_that_is_just_enough_is_enough(self) -> None:
        """1.8 / 0.9 = 2.0 L: two packs of 1 L."""
        sealant = Sealant.model_validate({"pack": "1 L"})
        assert packs_of(sealing_of([row(0.01, 30.0, 0.006)], sealant), sealant) == 2

    def test_no_packs_where_their_size_is_not_known(self) -> None:
        """Litres only."""
        assert packs_of(sealing_of([row(0.01, 30.0, 0.006)], Sealant()), Sealant()) is None

    @given(st.floats(0.006, 0.06))
    def test_half_as_deep_as_wide_within_6_to_13_mm(self, width: float) -> None:
        """As the sealant handbook has it."""
        depth = Sealant().depth.depth_of(width)
        assert 0.006 <= depth <= 0.013
        if 0.012 <= width <= 0.026:
            assert depth == pytest.approx(width / 2.0, rel=1e-12)


def box(**more: Any) -> PoolDict:
    """Return 8 x 4 m, 1.5 m deep, 0.2 m above the water, with a joint of the structure."""
    under = {"start": [0.0, -3.0], "end": [0.0, 3.0], "width": 0.012, "movement": 0.002}
    return pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2, joints=[under], **more)


class TestWholePool:
    """8 x 4 m with one joint of the structure in the middle: all bays are 4 m at most.

    strain = 7e-6 x 30 + 0.0003 = 0.51 mm/m; x 4 m = 2.04 mm
    """

    def test_widths(self) -> None:
        """2.04 / 0.2 -> 11 mm at edges; half: 5.1 -> 6 mm; with 2 mm: 4.04 / 0.2 -> 21 mm."""
        joints = joints_of(box(movement_joints={"temperatures": ["5 C", "35 C"]}))
        assert joints.bay == pytest.approx(4.0, abs=1e-5)
        assert joints.strain == pytest.approx(0.00051, rel=1e-9)
        width = {joint.kind: joint.width for joint in joints.joints}
        assert width == pytest.approx(
            {"over the structure": 0.021, "change of plane": 0.011, "perimeter": 0.006}
        )
        depth = {joint.kind: joint.depth for joint in joints.joints}
        assert depth == pytest.approx(
            {"over the structure": 0.0105, "change of plane": 0.006, "perimeter": 0.006}
        )
        assert all(joint.rod == pytest.approx(1.25 * joint.width) for joint in joints.joints)

    def test_litres_and_packs(self) -> None:
        """Lengths: 4 + 2 x 1.7 over the structure; 24 + 4 x 1.7 at edges; 24 at the rim.

        7.4 x 21 x 10.5 mm = 1.63170 L; 30.8 x 11 x 6 = 2.03280 L; 24 x 6 x 6 = 0.864 L;
        together 4.5285 L net, 5.03167 L with 10 % lost, 9 packs of 600 mL.
        """
        joints = joints_of(box(movement_joints={"sealant": {"pack": "600 mL"}}))
        net = [row.net * 1000.0 for row in joints.sealing]
        assert net == pytest.approx([0.864, 2.0328, 1.6317], rel=1e-5)
        assert sum(row.gross for row in joints.sealing) == pytest.approx(4.5285e-3 / 0.9, rel=1e-5)
        assert joints.packs == 9

    def test_the_rules_hold_where_movement_is_small(self) -> None:
        """A sealant that bears its own width: 2.04 mm; the table wants 6 mm, the gap 12 mm."""
        joints = joints_of(box(movement_joints={"sealant": {"capability": 1.0}}))
        width = {joint.kind: joint.width for joint in joints.joints}
        assert width == pytest.approx(
            {"over the structure": 0.012, "change of plane": 0.006, "perimeter": 0.006}
        )

    def test_in_feet_and_inches_widths_are_sixteenths(self) -> None:
        """By the table at 12 ft: 4 m are 13.1 ft, so there is a joint more; bays over 8 ft: 1/2 in.

        Between 5 and 35 C are 54 F: nothing more. Over the structure: 4.04 mm less what the
        shorter bay moves less; the gap 0.02 m = 0.787 in counts: 13 / 16 in.
        """
        file = {
            "name": "in feet", "units": "ft", "freeboard": 0.5,
            "outline": {"shape": "rectangle", "length": 24, "width": 11},
            "floor": {"shape": "level", "depth": 5},
            "joints": [{"start": [0, -9], "end": [0, 9], "width": "0.02 m"}],
            "movement_joints": {"rules": "wet-12-ft"},
        }  # fmt: skip
        joints = joints_of(file)
        assert joints.bay == pytest.approx(12 * 0.3048, abs=1e-5)
        width = {joint.kind: joint.width / INCH for joint in joints.joints}
        assert width == pytest.approx(
            {"over the structure": 13 / 16, "change of plane": 1 / 2, "perimeter": 1 / 2}
        )

    def test_a_warm_roof_pool_takes_wider_ones(self) -> None:
        """-20 to 60 C are 144 F: 44 F above 100, three steps of 15 F, 3/16 in on 1/2 in.

        strain 7e-6 x 80 + 0.0003 = 0.86 mm/m x 3.658 m = 3.15 mm / 0.2 = 15.7 mm; the table's
        11/16 in = 17.5 mm is more.
        """
        file = {
            "name": "on a roof", "units": "ft", "freeboard": 0.5,
            "outline": {"shape": "rectangle", "length": 12, "width": 11},
            "floor": {"shape": "level", "depth": 5},
            "movement_joints": {"rules": "wet-12-ft", "temperatures": ["-20 C", "60 C"]},
        }  # fmt: skip
        joints = joints_of(file)
        assert joints.bay == pytest.approx(12 * 0.3048, abs=1e-5)
        assert {round(joint.width / INCH * 16.0, 6) for joint in joints.joints} == {11.0}


@pytest.mark.parametrize("name", ["closed-loops-6-m", "external-4.5-m", "external-5-m"])
def test_shipped_tables_want_6_mm_whatever_the_bay(name: str) -> None:
    table = joint_rules(name)
    assert table.widths.width_for(table.bays.longest, 100.0) == pytest.approx(0.006)
    assert not math.isclose(table.bays.longest, 0.0)
