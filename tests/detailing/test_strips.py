"""Strips, coats, beads, rods and pieces: lengths, laps, beds and corners by hand.

The tape is 0.12 m wide and laps by 0.05 m; the breaker is 0.03 m wide and butts. A box of 8 m by
4 m has four open edges of 4 and 8 m at its floor; a round pool has a closed one.
"""

from __future__ import annotations

import math
from typing import Any, ClassVar

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.design.sealant import SealantDepth
from poolgeo.detailing.rows import Detail, Detailing

from ..measure.quantities import circle, level, pool, rectangle
from .systems import detailed, done, rule, total

BOX = pool(rectangle(8.0, 4.0), level(1.5))
ROUND = pool(circle(2.0), level(1.5))
PERIMETER = pytest.approx(4 * math.pi, rel=5e-4)
"""Of the round pool, in chords."""

ON_TOP = {"kind": "fitting", "diameter": 0.05, "at": [4, 0], "offset": -0.1}
"""A fitting on the wall's top."""

WET = {"material": "slurry", "wet_film": "2 mm"}


def along_foot(file: dict[str, Any], *work: dict[str, Any]) -> Detailing:
    """Do some work where floor and wall meet."""
    return detailed(file, edges=[rule(*work, kinds=["floor/wall"])])


def at_fitting(*work: dict[str, Any], along: str = "collar", **fitting: Any) -> list[Detail]:
    """Do some work about one fitting on the floor."""
    fitting = {"kind": "main drain", "point": [0, 0], **fitting}
    rules = [{"name": "about", "along": along, "work": list(work)}]
    return list(detailed(BOX | {"fittings": [fitting]}, fittings=rules).details)


def beds(found: Detailing) -> list[Detail]:
    """Return the beds of strips."""
    return [row for row in found.details if row.is_bed]


class TestStrips:
    """A closed edge takes a lap, an open one what runs on at its two ends."""

    def test_open_edges(self) -> None:
        """Each as long as it is."""
        found = along_foot(BOX, {"do": "strip", "material": "tape"})
        assert sorted(row.quantity for row in found.details) == pytest.approx([4, 4, 8, 8])
        assert {(row.unit, row.size) for row in found.details} == {("m", 0.12)}

    def test_open_edges_that_run_on(self) -> None:
        """0.1 m at either end."""
        found = along_foot(BOX, {"do": "strip", "material": "tape", "at_ends": 100})
        assert sorted(row.quantity for row in found.details) == pytest.approx([4.2, 4.2, 8.2, 8.2])
        assert sorted(row.length for row in found.details) == pytest.approx([4, 4, 8, 8])

    def test_a_closed_edge_takes_one_lap(self) -> None:
        """It has no ends to run on at."""
        (row,) = along_foot(ROUND, {"do": "strip", "material": "tape", "at_ends": 100}).details
        assert row.length == PERIMETER
        assert row.quantity - row.length == pytest.approx(0.05)

    def test_a_closed_edge_of_what_butts_takes_none(self) -> None:
        """Nor has it ends to run on at."""
        (row,) = along_foot(ROUND, {"do": "strip", "material": "breaker", "at_ends": 100}).details
        assert row.quantity == pytest.approx(row.length)

    def test_every_length_is_cut(self) -> None:
        """Every length is cut."""
        work: list[dict[str, Any]] = [{"do": "strip", "material": "tape", "at_ends": 100},
                {"do": "rod", "material": "swelling"}]  # fmt: skip
        found = along_foot(BOX, *work)
        tape = [cut.length for cut in found.cuts if cut.material == "tape"]
        rods = [cut.length for cut in found.cuts if cut.material == "swelling"]
        assert sorted(tape) == pytest.approx([4.2, 4.2, 8.2, 8.2])
        assert sorted(rods) == pytest.approx([4, 4, 8, 8])
        assert {cut.number for cut in found.cuts} == {row.number for row in found.details}


class TestParts:
    """A strip along a run that rules share: it runs on at the run's own ends, and is cut once.

    A joint across the box takes from each end 0.25 m of wall top, 0.075 m of freeboard and 0.15 m
    of the band; the middle, 4 + 2 x 1.425 m, lies below that.
    """

    JOINTED: ClassVar[dict[str, Any]] = BOX | {
        "joints": [{"start": [0, -3], "end": [0, 3], "width": 0.02}]
    }
    STRIP: ClassVar[dict[str, Any]] = {"do": "strip", "material": "tape", "at_ends": 100}

    def test_an_upright_edge_in_two_parts(self) -> None:
        """Wet 1.5 m and dry 0.15 m have an end each: one piece of 1.85 m in each corner."""
        found = detailed(
            BOX,
            edges=[
                rule(self.STRIP, name="wet", kinds=["wall/wall"], wet=True),
                rule(self.STRIP, name="dry", kinds=["wall/wall"], wet=False),
            ],
        )
        assert sorted(row.quantity for row in found.details) == pytest.approx(
            [0.15 + 0.1] * 4 + [1.5 + 0.1] * 4
        )
        assert [cut.length for cut in found.cuts] == pytest.approx([1.85] * 4)

    def test_a_part_between_two_others_has_no_end(self) -> None:
        """The band takes 0.15 m of each corner, all of its own."""
        band = rule(self.STRIP, kinds=["wall/wall"], zones=["waterline band"])
        found = detailed(BOX, edges=[band])
        assert [row.quantity for row in found.details] == pytest.approx([0.15] * 4)
        assert [cut.length for cut in found.cuts] == pytest.approx([0.15] * 4)

    def test_two_parts_that_do_not_meet_are_two_pieces(self) -> None:
        """Below the band and above it, 1.425 and 0.075 m, with an end each."""
        found = detailed(
            BOX,
            edges=[
                rule(name="band", zones=["waterline band"]),
                rule(self.STRIP, kinds=["wall/wall"]),
            ],
        )
        assert sorted(cut.length for cut in found.cuts) == pytest.approx([0.175] * 4 + [1.525] * 4)

    def test_the_middle_of_a_joint_has_no_end(self) -> None:
        """Below the band: 4 + 2 x 1.425 m."""
        found = detailed(self.JOINTED, edges=[rule(self.STRIP, of="joint", zones=["below band"])])
        assert total(found, "strip") == pytest.approx(4.0 + 2 * 1.425)
        assert [cut.length for cut in found.cuts] == pytest.approx([6.85])

    def test_two_ends_of_a_joint_are_two_pieces(self) -> None:
        """Top 0.25, freeboard 0.075, band 0.15 m at either end, and 0.1 m that it runs on."""
        found = detailed(
            self.JOINTED,
            edges=[
                rule(name="middle", of="joint", zones=["below band"]),
                rule(self.STRIP, of="joint"),
            ],
        )
        assert total(found, "strip") == pytest.approx(2 * (0.475 + 0.1))
        assert [cut.length for cut in found.cuts] == pytest.approx([0.575, 0.575])

    def test_two_rings_about_a_fitting_are_two_pieces(self) -> None:
        """Two rods about a pipe of 0.11 m, each with its lap of 0.03 m."""
        ring = {"do": "rod", "material": "swelling"}
        pipe = {"kind": "fitting", "point": [0, 0], "diameter": 0.11}
        found = detailed(
            BOX | {"fittings": [pipe]},
            fittings=[{"name": "pipe", "along": "opening", "work": [ring, ring]}],
        )
        assert [cut.length for cut in found.cuts] == pytest.approx([math.pi * 0.11 + 0.03] * 2)


class TestBeds:
    """What a strip is bedded in: its width, and beyond it at either side."""

    @pytest.mark.parametrize("beyond", [0.0, 20.0])
    def test_of_open_edges(self, beyond: float) -> None:
        """24 m and 8 ends of 0.1 m, 0.12 m wide and twice what is beyond."""
        bed = {**WET, "beyond": beyond, "loss": "8 %"}
        found = along_foot(BOX, {"do": "strip", "material": "tape", "at_ends": 100, "bed": bed})
        width = 0.12 + 2 * beyond / 1000
        rows = beds(found)
        assert len(rows) == 4
        assert [row.size for row in rows] == pytest.approx([width] * 4)
        assert sum(row.area for row in rows) == pytest.approx(24.8 * width)
        assert sum(row.quantity for row in rows) == pytest.approx(24.8 * width * 0.002)
        assert [row.loss for row in rows] == pytest.approx([0.08] * 4)

    def test_of_a_closed_edge(self) -> None:
        """The lap is bedded too."""
        found = along_foot(ROUND, {"do": "strip", "material": "tape", "bed": WET})
        (row,) = beds(found)
        assert row.area == pytest.approx((row.length + 0.05) * 0.12)
        assert row.length == PERIMETER

    @pytest.mark.parametrize(
        ("how", "depth"),
        [
            ({"wet_film": "2 mm"}, 0.002),
            ({"dry_film": "1 mm"}, 0.001 / 0.5),  # solids 50 %
            ({"consumption": "1.5 kg/m2"}, 1.5 / 1500.0),  # density 1.5 kg/L
        ],
    )
    def test_how_much_goes_on(self, how: dict[str, str], depth: float) -> None:
        """How much goes on."""
        work = {"do": "coat", "material": "slurry", "width": 300, **how}
        found = along_foot(BOX, work)
        assert total(found, "coat") == pytest.approx(24.0 * 0.3 * depth)
        assert sum(row.area for row in found.details) == pytest.approx(24.0 * 0.3)


class TestAroundFittings:
    """A band about an opening: what a buffer of it has more than it."""

    @settings(max_examples=15)
    @given(
        size=st.integers(50, 600), other=st.integers(50, 600), collar=st.integers(10, 150),
        width=st.integers(20, 300), along=st.sampled_from(["collar", "opening"]),
    )  # fmt: skip
    def test_a_coat_about_a_square_one(
        self, size: int, other: int, collar: int, width: int, along: str
    ) -> None:
        """Square corners: a rectangle wider and higher by twice the width, less the rectangle."""
        (row,) = at_fitting(
            {"do": "coat", "width": width, **WET}, along=along,
            width=size / 1000, height=other / 1000, collar=collar / 1000,
        )  # fmt: skip
        about = 2 * collar if along == "collar" else 0
        a, b = (size + about) / 1000, (other + about) / 1000
        w = width / 1000
        want = (a + 2 * w) * (b + 2 * w) - a * b
        assert row.area == pytest.approx(want)
        assert row.quantity == pytest.approx(want * 0.002)
        assert row.length == pytest.approx(2 * (a + b))

    @pytest.mark.parametrize(("along", "radius"), [("collar", 0.18), ("opening", 0.08)])
    def test_a_coat_about_a_round_one(self, along: str, radius: float) -> None:
        """The ring of a polygon of many sides."""
        (row,) = at_fitting(
            {"do": "coat", "width": 150, **WET}, along=along,
            kind="fitting", diameter=0.16, collar=0.1,
        )  # fmt: skip
        inner, outer = (shapely.Point(0, 0).buffer(r, 2000) for r in (radius, radius + 0.15))
        assert row.area == pytest.approx(outer.area - inner.area, rel=1e-5)
        assert row.length == pytest.approx(inner.length, rel=1e-5)

    def test_a_strip_about_one_takes_a_lap(self) -> None:
        """Drain of 0.3 m: 1.2 m about its opening, 0.05 m of lap; bed with square corners."""
        strip, bed = at_fitting(
            {"do": "strip", "material": "tape", "bed": WET}, along="opening",
            width=0.3, height=0.3, collar=0.1,
        )  # fmt: skip
        assert strip.quantity == pytest.approx(1.25)
        assert bed.area == pytest.approx((0.54**2 - 0.3**2) + 0.05 * 0.12)

    def test_a_rod_a_bead_and_a_piece(self) -> None:
        """Pipe of 0.11 m: pi d, with a lap; a bead of 10 by 8 mm along it; two pieces."""
        rod, bead, piece = at_fitting(
            {"do": "rod", "material": "swelling"},
            {"do": "bead", "material": "sealant", "width": 10, "depth": 8},
            {"do": "piece", "material": "collar", "count": 2},
            along="opening", kind="fitting", diameter=0.11,
        )  # fmt: skip
        assert rod.quantity == pytest.approx(math.pi * 0.11 + 0.03)
        assert bead.quantity == pytest.approx(math.pi * 0.11 * 0.01 * 0.008)
        assert (piece.quantity, piece.unit) == (2.0, "pieces")
        assert [row.wet for row in (rod, bead, piece)] == [1.0] * 3
        assert {row.zones for row in (rod, bead, piece)} == {(1.0, 0.0, 0.0, 0.0, 0.0)}

    def test_the_zone_of_a_fitting(self) -> None:
        """Wall top at 0.15 m; a skimmer across the water lies in the band."""
        fittings = [
            {"kind": "skimmer", "at": [0, 2]},
            {"kind": "return inlet", "at": [0, -2]},
            ON_TOP,
        ]
        work = {"do": "piece", "material": "collar"}
        found = detailed(BOX | {"fittings": fittings}, fittings=[{"name": "all", "work": [work]}])
        assert [row.zones.index(1.0) for row in found.details] == [1, 0, 3]
        assert [row.wet for row in found.details] == [1.0, 1.0, 0.0]

    @pytest.mark.parametrize(
        ("where", "numbers"),
        [
            ({}, ["F1", "F2", "F3"]),
            ({"kinds": ["* drain"]}, ["F1"]),
            ({"surfaces": ["wall"]}, ["F2"]),
            ({"surfaces": ["wall*"]}, ["F2", "F3"]),
            ({"wet": True}, ["F1", "F2"]),
            ({"wet": False}, ["F3"]),
            ({"bodies": ["pool"], "wet": False}, ["F3"]),
        ],
    )
    def test_a_rule_takes_the_fittings_of_its_places(
        self, where: dict[str, Any], numbers: list[str]
    ) -> None:
        """A rule takes the fittings of its places."""
        drain = {"kind": "main drain", "point": [1, 0]}
        fittings = [drain, {"kind": "return inlet", "at": [0, 2]}, ON_TOP]
        work = {"do": "piece", "material": "collar"}
        found = detailed(
            BOX | {"fittings": fittings},
            fittings=[{"name": "some", "where": where, "work": [work]},
                      {"name": "rest", "work": []}],
        )  # fmt: skip
        assert [row.number for row in done(found, "piece")] == numbers


class TestBeads:
    """Sealant in joints and in corners."""

    def in_joint(self, gap: float, **more: Any) -> Detail:
        """Seal a joint across the box: tops 0.5, walls 3.3, floor 4 m."""
        joint = {"start": [0, -3], "end": [0, 3], "width": gap}
        work = {"do": "bead", "material": "sealant", **more}
        found = detailed(BOX | {"joints": [joint]}, edges=[rule(work, of="joint")])
        (row,) = found.details
        assert row.length == pytest.approx(7.8)
        return row

    @pytest.mark.parametrize(("width", "depth"), [(8, 6), (20, 10), (24, 12), (40, 13)])
    def test_half_the_joints_width_between_6_and_13_mm(self, width: int, depth: int) -> None:
        """Half the width, but at least 6 and at most 13 mm."""
        row = self.in_joint(width / 1000)
        assert row.quantity == pytest.approx(7.8 * width * depth * 1e-6)
        assert row.size == pytest.approx(width / 1000)

    def test_a_depth_of_its_own(self) -> None:
        """A depth of its own."""
        assert self.in_joint(0.02, depth=15).quantity == pytest.approx(7.8 * 20 * 15 * 1e-6)

    def test_a_width_of_its_own(self) -> None:
        """A width of its own."""
        assert self.in_joint(0.02, width=16).quantity == pytest.approx(7.8 * 16 * 8 * 1e-6)

    def test_a_rule_of_its_own(self) -> None:
        """A third of the width, within 5 and 25 mm."""
        depth = SealantDepth(share=1 / 3, least=0.005, most=0.025)
        assert [depth.depth_of(width) for width in (0.006, 0.03, 0.09)] == pytest.approx(
            [0.005, 0.01, 0.025]
        )

    def test_a_triangle_at_an_edge(self) -> None:
        """Legs of 12 mm at a right angle."""
        work = {"do": "bead", "material": "sealant", "section": "triangular", "width": 12}
        found = along_foot(BOX, work)
        assert total(found, "bead") == pytest.approx(24.0 * 0.012**2 / 2)

    def test_a_rectangle_at_an_edge(self) -> None:
        """A rectangle at an edge."""
        work = {"do": "bead", "material": "sealant", "width": 12}
        assert total(along_foot(BOX, work), "bead") == pytest.approx(24.0 * 0.012 * 0.006)

    def test_a_triangle_about_a_fitting(self) -> None:
        """Equal legs of 8 mm beside a pipe: half a square, its centroid 8 / 3 mm off."""
        (row,) = at_fitting(
            {"do": "bead", "material": "sealant", "section": "triangular", "width": 8},
            along="opening", kind="fitting", diameter=0.11,
        )  # fmt: skip
        assert row.quantity == pytest.approx(math.pi * (0.11 + 0.016 / 3) * 0.008**2 / 2, rel=0.06)

    def test_what_is_done_in_a_joint(self) -> None:
        """A rod and a tape along all of it; the tape runs on at either end."""
        joint = {"start": [0, -3], "end": [0, 3], "width": 0.02}
        work: list[dict[str, Any]] = [{"do": "rod", "material": "swelling"},
                {"do": "strip", "material": "tape", "at_ends": 100}]  # fmt: skip
        found = detailed(BOX | {"joints": [joint]}, edges=[rule(*work, of="joint")])
        assert total(found, "rod") == pytest.approx(7.8)
        assert total(found, "strip") == pytest.approx(8.0)
        assert {row.kind for row in found.details} == {"movement joint"}

    def test_along_coves(self) -> None:
        """A stripe coat along the cove of the box: 24 m, measured at its upper line."""
        work = {"do": "coat", "width": 300, **WET}
        found = detailed(BOX | {"cove": {"radius": 0.1}}, edges=[rule(work, of="cove")])
        assert sum(row.area for row in found.details) == pytest.approx(24.0 * 0.3, rel=1e-5)
        (row,) = detailed(ROUND | {"cove": {"radius": 0.1}}, edges=[
            rule({"do": "strip", "material": "tape"}, of="cove")]).details  # fmt: skip
        assert row.quantity - row.length == pytest.approx(0.05)


def test_rows_as_json() -> None:
    """Quantities bear their unit in their key."""
    strip, bead = (
        detailed(BOX, edges=[rule(work, kinds=["floor/wall"])]).details[0].as_dict()
        for work in ({"do": "strip", "material": "tape"},
                     {"do": "bead", "material": "sealant", "width": 12})
    )  # fmt: skip
    assert strip["quantity_m"] == pytest.approx(4.0)
    assert strip["zones"]["below band"] == pytest.approx(4.0)
    assert bead["quantity_m3"] == pytest.approx(4.0 * 0.012 * 0.006)
    (piece,) = at_fitting({"do": "piece", "material": "collar"})
    assert piece.as_dict()["count"] == 1.0
    assert piece.as_dict()["work"] == "piece"
