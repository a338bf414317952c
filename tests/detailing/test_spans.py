"""Spans: which rule holds where, and that nothing of a run is lost or counted twice.

The box is 8 m by 4 m and 1.5 m deep, its wall 0.2 m above the water. Its waterline band reaches
0.075 m up and down: of an upright corner of 1.7 m it leaves 1.425 m below, 0.15 m in it, 0.125 m
above.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.design.places import is_one_of
from poolgeo.detailing.spans import Span, spans_of
from poolgeo.mesh import ZONES
from poolgeo.quantities import Takeoff
from poolgeo.system.details import EdgeRule

from ..measure.quantities import circle, level, plane, pool, rectangle, takeoff_of
from .systems import TAPE, detailed, done, rule, system_of, total

BOX = pool(
    rectangle(8.0, 4.0), level(1.5), freeboard=0.2, coping={"membrane_return": 0.1},
    joints=[{"start": [0, -3], "end": [0, 3], "width": 0.02}],
)  # fmt: skip
BENCH = {"start": [-2, -2], "end": [2, -2], "width": 0.45, "depth": 0.5}
FLIGHT = {"shape": "side", "at": [-4, 0], "width": 1.2, "going": 0.3, "risers": 4}
FURNISHED = pool(
    rectangle(8.0, 4.0), plane(1.5, 0.05), freeboard=0.2, cove={"radius": 0.1}, bench=[BENCH],
    steps=[FLIGHT], joints=[{"start": [3, -3], "end": [3, 3], "width": 0.02}],
)  # fmt: skip
ROUND = pool(circle(2.0), plane(0.5, 0.3), freeboard=0.2)
"""Its floor is 0.1 m above the water on one side: the foot of the wall goes in and out of it."""


@cache
def measured(which: str) -> Takeoff:
    """Measure a pool once."""
    return takeoff_of({"box": BOX, "furnished": FURNISHED, "round": ROUND}[which])


def rules_of(*rules: dict[str, Any]) -> tuple[EdgeRule, ...]:
    """Return rules for edges, named in turn."""
    named = [{**item, "name": f"rule {i}"} for i, item in enumerate(rules)]
    return system_of(edges=named).edges


def spans(which: str, *rules: dict[str, Any]) -> tuple[Span, ...]:
    """Return the spans of a pool under rules."""
    return spans_of(measured(which), rules_of(*rules))


def length(found: tuple[Span, ...], number: int | None, kind: str = "*", of: str = "edge") -> float:
    """Return the length under one rule of the spans of one kind [m]."""
    return sum(
        span.length
        for span in found
        if (span.rule, span.of) == (number, of) and is_one_of(span.kind, (kind,))
    )


class TestKinds:
    """Of an edge both sides, either way round, with `*` for any word."""

    @pytest.mark.parametrize(
        ("kind", "pattern", "matches"),
        [
            ("floor/wall", "floor/wall", True),
            ("floor/wall", "wall/floor", True),
            ("floor/wall", "floor/*", True),
            ("floor/wall", "*/floor", True),
            ("wall/wall top", "wall/wall*", True),
            ("wall/wall top", "*top/wall", True),
            ("wall/wall top", "wall/wall", False),
            ("wall/wall top", "floor/*", False),
            ("tread/riser", "*riser*", True),
            ("cove", "cove", True),
            ("cove", "fillet", False),
            ("main drain", "* drain", True),
            ("skimmer", "* drain", False),
        ],
    )
    def test_a_pattern(self, kind: str, pattern: str, matches: bool) -> None:
        """The pattern matches the kind, alone or among others."""
        assert is_one_of(kind, (pattern,)) is matches
        assert is_one_of(kind, ("nothing/here", pattern)) is matches

    def test_no_pattern_is_all_and_an_empty_list_none(self) -> None:
        """No pattern is all and an empty list none."""
        assert is_one_of("floor/wall", None)
        assert not is_one_of("floor/wall", ())

    @pytest.mark.parametrize(
        ("kinds", "metres"),
        [
            (["wall/floor"], 24.0),
            (["floor/wall", "wall/wall"], 24.0 + 4 * 1.7),
            (["wall/wall*"], 24.0 + 4 * 1.7),  # and the wall top, but no floor
            (["*/wall top"], 24.0),
        ],
    )
    def test_a_rule_takes_the_edges_of_its_kinds(self, kinds: list[str], metres: float) -> None:
        """A rule takes the edges of its kinds."""
        found = spans("box", rule(TAPE, kinds=kinds))
        assert length(found, 0) == pytest.approx(metres)
        assert length(found, None) == pytest.approx(2 * 24.0 + 4 * 1.7 - metres)


class TestZones:
    """A run is split where another rule begins."""

    def test_below_the_band_and_the_rest(self) -> None:
        """Each upright corner is 1.425 m below the band and 0.275 m in it and above."""
        found = spans(
            "box", rule(TAPE, kinds=["wall/wall"], zones=["below band"]), rule(kinds=["wall/wall"])
        )
        corners = [span for span in found if span.kind == "wall/wall"]
        assert [span.rule for span in corners] == [0, 1] * 4
        assert [span.length for span in corners] == pytest.approx([1.425, 0.275] * 4)
        assert [span.zones[0] for span in corners] == pytest.approx([1.425, 0.0] * 4)

    def test_the_parts_of_a_run_follow_on(self) -> None:
        """Each part begins where the one before it ends, with an angle for each of its steps."""
        found = spans("box", rule(TAPE, zones=["waterline band"]))
        corners = [span for span in found if span.kind == "wall/wall"]
        assert [span.rule for span in corners] == [None, 0, None] * 4
        assert [span.length for span in corners] == pytest.approx([1.425, 0.15, 0.125] * 4)
        for span, after in pairwise(corners):
            if span.number == after.number:
                assert span.points[-1].tolist() == after.points[0].tolist()
        edges = [span for span in found if span.of == "edge"]
        assert all(len(span.angles) == len(span.points) - 1 > 0 for span in edges)

    def test_wet_and_dry(self) -> None:
        """The water stands 1.5 m up a corner of 1.7 m."""
        found = spans("box", rule(TAPE, wet=True), rule(TAPE, wet=False))
        corners = [span for span in found if span.kind == "wall/wall"]
        assert [span.rule for span in corners] == [0, 1] * 4
        assert [span.length for span in corners] == pytest.approx([1.5, 0.2] * 4)
        assert [span.wet_length for span in corners] == pytest.approx([1.5, 0.0] * 4)
        assert length(found, 0) == pytest.approx(24.0 + 4 * 1.5)
        assert length(found, 1) == pytest.approx(24.0 + 4 * 0.2)

    def test_a_share_under_water_of_what_is_not_split(self) -> None:
        """A share under water of what is not split."""
        found = detailed(BOX, edges=[rule(TAPE, kinds=["wall/wall"])])
        assert [row.wet for row in found.details] == pytest.approx([1.5 / 1.7] * 4)

    def test_a_body_by_its_name(self) -> None:
        """A body by its name."""
        found = spans("box", rule(TAPE, bodies=["spa"]), rule(bodies=["pool"]))
        assert {span.rule for span in found if span.of == "edge"} == {1}

    def test_a_closed_run_that_dips_into_the_water_has_one_part_in_it_and_one_above(self) -> None:
        """The foot of a round wall crosses the water at two places, wherever its points begin."""
        found = spans(
            "round", rule(TAPE, kinds=["floor/wall"], wet=True), rule(kinds=["floor/wall"])
        )
        foot = [span for span in found if span.kind == "floor/wall"]
        assert sorted(span.rule or 0 for span in foot) == [0, 1]
        assert not any(span.closed for span in foot)

    def test_a_closed_run_under_one_rule_stays_closed(self) -> None:
        """A closed run under one rule stays closed."""
        (foot,) = [span for span in spans("round", rule(TAPE)) if span.kind == "floor/wall"]
        assert foot.closed


class TestOrder:
    """The first rule that matches holds."""

    def test_the_first_match_wins(self) -> None:
        """The first match wins."""
        floor, internal = rule(TAPE, kinds=["floor/*"]), rule(TAPE, sense="internal")
        found = spans("box", floor, internal)
        assert length(found, 0) == pytest.approx(24.0)
        assert length(found, 1) == pytest.approx(4 * 1.7)
        found = spans("box", internal, floor)
        assert length(found, 0) == pytest.approx(24.0 + 4 * 1.7)
        assert length(found, 1) == 0.0

    def test_a_rule_without_work_keeps_the_later_ones_off(self) -> None:
        """A rule without work keeps the later ones off."""
        found = detailed(BOX, edges=[rule(kinds=["floor/wall"], name="none"), rule(TAPE)])
        assert {row.kind for row in found.details} == {"wall/wall", "wall/wall top"}
        assert not any(kind == "floor/wall" for _, _, kind in found.bare)

    def test_a_detail_bears_its_rules_name_and_the_works(self) -> None:
        """A detail bears its rules name and the works."""
        work = [{**TAPE, "name": "lower tape"}, TAPE]
        found = detailed(BOX, edges=[rule(*work, kinds=["floor/wall"], name="foot")])
        assert {row.rule for row in found.details} == {"foot"}
        assert [row.name for row in found.details] == ["lower tape", "strip"] * 4


class TestAngles:
    """Angles through the water, in degrees."""

    def test_a_range(self) -> None:
        """The end walls meet a floor that falls by 1:10 at 90 -+ 5.71 degrees."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.1)))
        rules = rules_of(
            rule(TAPE, kinds=["floor/wall"], angle=[0, 85]),
            rule(TAPE, kinds=["floor/wall"], angle=[85, 95]),
            rule(TAPE, kinds=["floor/wall"], angle=[95, 360]),
        )
        found = [span for span in spans_of(takeoff, rules) if span.kind == "floor/wall"]
        sizes = {i: [span.length for span in found if span.rule == i] for i in range(3)}
        assert sizes[0] == pytest.approx([4.0])
        assert sizes[1] == pytest.approx([8.0 * 1.01**0.5] * 2)
        assert sizes[2] == pytest.approx([4.0])

    def test_a_sense(self) -> None:
        """Only the wall tops are external."""
        found = spans("box", rule(TAPE, sense="external"))
        assert {span.kind for span in found if span.rule == 0} == {"wall/wall top"}
        assert length(found, 0) == pytest.approx(24.0)

    def test_a_toe_and_a_brow(self) -> None:
        """Depths 1, 1, 2, 2 at -4, -2, 2, 4: a brow at -2 and a toe at 2, each 4 m long."""
        lines = [{"at": at, "depth": depth} for at, depth in ((-2.0, 1.0), (2.0, 2.0))]
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), {"shape": "breaks", "breaks": lines}))
        rules = rules_of(
            rule(kinds=["floor/floor"], angle=[165, 180]),
            rule(kinds=["floor/floor"], angle=[180, 195]),
        )
        found = [span for span in spans_of(takeoff, rules) if span.kind == "floor/floor"]
        assert {span.rule: (span.sense, round(span.length, 6)) for span in found} == {
            0: ("internal", 4.0), 1: ("external", 4.0),
        }  # fmt: skip


class TestCovesAndJoints:
    """They take the rules that are made for them, and no others."""

    def test_each_has_its_own(self) -> None:
        """A rule that says nothing is for edges; `of` makes it one for joints or coves."""
        found = spans("furnished", rule(TAPE), rule(TAPE, of="joint"), rule(TAPE, of="cove"))
        assert {span.of for span in found if span.rule == 0} == {"edge"}
        assert {span.of for span in found if span.rule == 1} == {"joint"}
        assert {span.of for span in found if span.rule == 2} == {"cove"}
        assert all(span.rule is not None for span in found)

    def test_coves_by_their_kind(self) -> None:
        """Coves by their kind."""
        found = spans(
            "furnished", rule(TAPE, of="cove", kinds=["fillet"]), rule(of="cove", kinds=["cove"])
        )
        assert {span.rule for span in found if span.of == "cove"} == {1}

    def test_coves_are_internal(self) -> None:
        """A rule for internal coves is one for all of them, one for external ones for none."""
        found = spans(
            "furnished", rule(TAPE, of="cove", sense="external"),
            rule(TAPE, of="cove", sense="internal"),
        )  # fmt: skip
        coves = [span for span in found if span.of == "cove"]
        assert {span.sense for span in coves} == {"internal"}
        assert {span.rule for span in coves} == {1}

    def test_a_joint_is_one_length_from_top_to_top(self) -> None:
        """Tops 2 x 0.25, walls 2 x 1.7, floor 4."""
        (joint,) = [span for span in spans("box", rule(TAPE, of="joint")) if span.of == "joint"]
        assert (joint.number, joint.gap) == ("J1", 0.02)
        assert joint.length == pytest.approx(0.5 + 3.4 + 4.0)
        assert joint.wet_length == pytest.approx(4.0 + 2 * 1.5)
        assert dict(zip(ZONES, joint.zones, strict=True)) == pytest.approx(
            {
                "below band": 4.0 + 2 * 1.425, "waterline band": 0.3, "freeboard": 0.25,
                "wall top": 0.3, "coping return": 0.2,
            }
        )  # fmt: skip

    def test_a_joint_by_what_it_crosses(self) -> None:
        """Floor 4 m, the walls 1.7 m on either side of it, each apart."""
        found = spans(
            "box", rule(TAPE, of="joint", kinds=["floor"]), rule(TAPE, of="joint", kinds=["wall"])
        )
        joints = [(span.rule, span.length) for span in found if span.of == "joint"]
        assert [number for number, _ in joints] == [None, 1, 0, 1, None]
        assert [size for _, size in joints] == pytest.approx([0.25, 1.7, 4.0, 1.7, 0.25])

    def test_the_freeboard_of_a_joint_is_dry(self) -> None:
        """What lies in the freeboard is not under water, what lies below the band all is."""
        found = spans(
            "box",
            rule(TAPE, of="joint", kinds=["wall"], zones=["freeboard"]),
            rule(TAPE, of="joint", kinds=["wall"], zones=["below band"]),
        )
        parts = [span for span in found if span.of == "joint" and span.rule is not None]
        high = [span for span in parts if span.rule == 0]
        low = [span for span in parts if span.rule == 1]
        assert [span.length for span in high] == pytest.approx([0.125, 0.125])
        assert [span.wet_length for span in high] == pytest.approx([0.0, 0.0])
        assert [span.wet_length for span in low] == pytest.approx([1.425, 1.425])

    def test_a_dry_part_of_a_joint_is_dry(self) -> None:
        """A rule for what is not under water has nothing wet in it."""
        found = detailed(BOX, edges=[rule(TAPE, of="joint", wet=False)])
        assert len(found.details) > 0
        assert [row.wet for row in found.details] == [0.0] * len(found.details)

    def test_what_follows_on_along_a_joint_is_one_part(self) -> None:
        """From the top: 0.25 + 0.125 + 0.15 m, then 1.425 + 4 + 1.425 m below the band, then up."""
        found = spans("box", rule(TAPE, of="joint", zones=["below band"]), rule(TAPE, of="joint"))
        parts = [span for span in found if span.of == "joint"]
        assert [span.rule for span in parts] == [1, 0, 1]
        assert [span.length for span in parts] == pytest.approx([0.525, 6.85, 0.525])


PLACES = st.fixed_dictionaries(
    {},
    optional={
        "of": st.sampled_from(["edge", "cove", "joint"]),
        "zones": st.lists(st.sampled_from(ZONES), min_size=1, max_size=3, unique=True),
        "wet": st.booleans(),
        "angle": st.sampled_from([[0, 90.5], [90.5, 180], [180, 360]]),
        "bodies": st.sampled_from([["pool"], ["spa"]]),
        "kinds": st.sampled_from([["*l*"], ["*/*"]]),
    },
)
"""Places that a rule may be for; kinds with a stroke are of edges only."""


def sound(places: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return rules; coves and joints without kinds and angles, which are of edges only."""
    edges_only = {"kinds", "angle"}
    kept = ({k: v for k, v in item.items() if k not in edges_only or "of" not in item}
            for item in places)  # fmt: skip
    return [rule(**item) for item in kept if "kinds" not in item or item["kinds"] == ["*/*"]]


@settings(max_examples=60)
@given(which=st.sampled_from(["box", "furnished", "round"]), places=st.lists(PLACES, max_size=5))
def test_the_spans_of_a_run_add_up_to_it(which: str, places: list[dict[str, Any]]) -> None:
    """Lengths, lengths under water and lengths by zone, whatever the rules."""
    takeoff = measured(which)
    rules = rules_of(*sound(places))
    found = spans_of(takeoff, rules)
    joints: dict[str, float] = {}
    for joint in takeoff.joints:
        base = joint.number.partition(".")[0]
        joints[base] = joints.get(base, 0.0) + joint.length
    whole = {
        **{("edge", run.number): run.length for run in takeoff.edges},
        **{("cove", run.number): run.length for run in takeoff.coves},
        **{("joint", number): size for number, size in joints.items()},
    }
    sums = dict.fromkeys(whole, 0.0)
    for span in found:
        sums[span.of, span.number] += span.length
        assert sum(span.zones) == pytest.approx(span.length)
        assert -1e-12 <= span.wet_length <= span.length + 1e-12
        if span.rule is not None:
            where = rules[span.rule].where
            held = where.zones or ZONES
            assert all(
                size == 0.0 for name, size in zip(ZONES, span.zones, strict=True)
                if name not in held
            )  # fmt: skip
            if where.wet is not None and span.of == "edge":
                assert span.wet_length == (span.length if where.wet else 0.0)
    assert sums == pytest.approx(whole)
    wet = sum(span.wet_length for span in found if span.of == "edge")
    assert wet == pytest.approx(sum(run.wet_length for run in takeoff.edges))


class TestBare:
    """What no rule is for."""

    FITTINGS = (
        {"kind": "main drain", "point": [2, 0]},
        {"kind": "return inlet", "at": [-2, 2]},
    )

    def test_all_is_bare_without_rules(self) -> None:
        """4 runs at the floor, 4 upright, 4 at the top; a joint; two fittings."""
        found = detailed(BOX | {"fittings": list(self.FITTINGS)})
        kinds = [kind for _, _, kind in found.bare]
        assert {kind: kinds.count(kind) for kind in kinds} == {
            "floor/wall": 4, "wall/wall": 4, "wall/wall top": 4, "movement joint": 1,
            "main drain": 1, "return inlet": 1,
        }  # fmt: skip
        assert ("fitting", "F1", "main drain") in found.bare
        assert ("joint", "J1", "movement joint") in found.bare
        assert found.details == ()

    def test_what_has_a_rule_is_not_bare(self) -> None:
        """A rule without work counts: it says that nothing is to be done."""
        found = detailed(
            BOX | {"fittings": list(self.FITTINGS)},
            edges=[rule(), rule(of="joint", name="joint")],
            fittings=[{"name": "drain", "where": {"kinds": ["* drain"]}, "work": []}],
        )
        assert found.bare == (("fitting", "F2", "return inlet"),)

    def test_a_run_with_a_rule_for_a_part_of_it_is_listed_once(self) -> None:
        """The band splits an upright corner in three, of which two parts are bare."""
        found = detailed(
            BOX,
            edges=[
                rule(TAPE, kinds=["wall/wall"], zones=["waterline band"], name="band"),
                rule(kinds=["floor/wall", "wall/wall top"]), rule(of="joint", name="joint"),
            ],
        )  # fmt: skip
        assert [kind for _, _, kind in found.bare] == ["wall/wall"] * 4
        assert len(done(found, "strip")) == 4
        assert total(found, "strip") == pytest.approx(4 * 0.15)
