"""Arrises: sections in closed form, rows by run, and what does not fit."""

from __future__ import annotations

import csv
import io
import math
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.arris import section_of
from poolgeo.errors import PoolFileError
from poolgeo.quantities import Takeoff
from poolgeo.surface.finishes import group_of
from poolgeo.surface.kinds import KINDS
from poolgeo.write.tables import csv_text
from poolgeo.write.terminal import takeoff_text

from .quantities import breaks, level, polygon, pool, rectangle, takeoff_of

THIN = {"shell": {"wall": 0.2, "floor": 0.2}}
FLIGHT = {"name": "flight", "shape": "side", "at": [4.0, 0.0], "width": 1.2, "going": 0.3,
          "risers": 4}  # fmt: skip
BENCH = {"name": "seat", "start": [-2.0, -2.0], "end": [2.0, -2.0], "width": 0.45, "depth": 0.5}


def furnished(**arris: Any) -> dict[str, Any]:
    """Return a rectangular pool with a flight and a bench."""
    return pool(
        rectangle(8.0, 4.0), level(1.4), freeboard=0.2, steps=[FLIGHT], bench=[BENCH],
        arris=arris, **THIN,
    )  # fmt: skip


def length_of(takeoff: Takeoff, form: str) -> float:
    """Return the length of the arrises of one form [m]."""
    return sum(row.length for row in takeoff.arrises if row.form == form)


def refusal(file: dict[str, Any]) -> str:
    """Return what is said of a pool that cannot be measured."""
    with pytest.raises(PoolFileError) as caught:
        takeoff_of(file)
    return str(caught.value)


class TestSections:
    """Right angles, and edges of any other."""

    def test_a_chamfer_of_a_right_angle(self) -> None:
        """A chamfer of a right angle."""
        section = section_of("chamfer", 0.02, 270.0)
        assert section.girth == pytest.approx(0.02 * math.sqrt(2.0))
        assert section.removed == pytest.approx(0.02**2 / 2.0)
        assert section.leg == 0.02

    def test_a_round_of_a_right_angle(self) -> None:
        """A round of a right angle."""
        section = section_of("rounded", 0.02, 270.0)
        assert section.girth == pytest.approx(math.pi / 2.0 * 0.02)
        assert section.removed == pytest.approx((1.0 - math.pi / 4.0) * 0.02**2)
        assert section.leg == pytest.approx(0.02)

    def test_a_square_edge_has_none(self) -> None:
        """A square edge has none."""
        assert section_of("square", 0.0, 270.0).girth == 0.0

    @given(size=st.floats(0.001, 0.1), turn=st.floats(1.0, 170.0))
    def test_any_angle_against_points_of_the_section(self, size: float, turn: float) -> None:
        """The shoelace formula on contacts, corner and points of the arc gives the same."""
        solid = math.radians(180.0 - turn)
        ends = [(1.0, 0.0), (math.cos(solid), math.sin(solid))]
        for form in ("chamfer", "rounded"):
            section = section_of(form, size, 180.0 + turn)
            (ax, ay), (bx, by) = ((x * section.leg, y * section.leg) for x, y in ends)
            if form == "chamfer":
                assert section.girth == pytest.approx(math.dist((ax, ay), (bx, by)))
                assert section.removed == pytest.approx(abs(ax * by - ay * bx) / 2.0)
                continue
            centre = (ax, size)  # above the first contact, square to its face
            assert math.dist(centre, (bx, by)) == pytest.approx(size, rel=1e-6)
            kite = section.leg * size
            assert section.removed == pytest.approx(kite - size**2 * math.radians(turn) / 2.0,
                                                    rel=1e-6, abs=1e-15)  # fmt: skip
            assert section.girth == pytest.approx(size * math.radians(turn))


class TestRows:
    """Each external run has a row, each internal one none."""

    def test_without_a_word_of_them_there_are_none(self) -> None:
        """Without a word of them there are none."""
        file = furnished()
        del file["arris"]
        assert takeoff_of(file).arrises == ()

    def test_all_external_runs_and_no_other(self) -> None:
        """All external runs and no other."""
        takeoff = takeoff_of(furnished(form="chamfer", size=0.01))
        numbers = [run.number for run in takeoff.edges if run.sense == "external"]
        assert [row.number for row in takeoff.arrises] == numbers
        assert {row.form for row in takeoff.arrises} == {"chamfer"}

    def test_lengths_by_place_and_feature(self) -> None:
        """Flight of four treads: nosings 4 x 1.2, flanks 2 x 4 x 0.3, uprights 2 x 4 x 0.28."""
        rows = takeoff_of(
            furnished(
                form="rounded", size=0.01,
                elsewhere=[{"at": "wall tops", "form": "square"},
                           {"feature": "seat", "form": "chamfer", "size": 0.02}],
            )
        )  # fmt: skip
        assert length_of(rows, "square") == pytest.approx(2 * (8.0 + 4.0), rel=1e-6)
        assert length_of(rows, "chamfer") == pytest.approx(4.0 + 2 * 0.45 + 2 * 0.9, rel=1e-6)
        flight = 4 * 1.2 + 2 * 4 * 0.3 + 2 * 4 * 1.4 / 5
        assert length_of(rows, "rounded") == pytest.approx(flight, rel=1e-6)

    def test_totals_of_a_bare_pool(self) -> None:
        """Rim 2 (8 + 4), rounded: own face pi r / 2, off the faces 2 r, concrete r^2 (1 - pi/4)."""
        takeoff = takeoff_of(
            pool(rectangle(8.0, 4.0), level(1.4), arris={"form": "rounded", "size": 0.03})
        )
        area, taken = (
            sum(values)
            for values in zip(*((row.area, row.taken_area) for row in takeoff.arrises), strict=True)
        )
        assert area == pytest.approx(24.0 * math.pi / 2.0 * 0.03, rel=1e-6)
        assert taken == pytest.approx(24.0 * 2.0 * 0.03, rel=1e-6)
        totals = takeoff.totals()
        assert totals["arris_net_area_m2"] == pytest.approx(24.0 * 0.03 * (math.pi / 2.0 - 2.0))
        assert totals["arris_removed_m3"] == pytest.approx(24.0 * 0.03**2 * (1.0 - math.pi / 4.0))

    def test_brows_stay_square_until_they_are_named(self) -> None:
        """Brows stay square until they are named."""
        floor = breaks((-2.0, 1.0), (2.0, 2.0))
        file = pool(rectangle(8.0, 4.0), floor, arris={"form": "chamfer", "size": 0.01})
        assert [row.form for row in takeoff_of(file).arrises if row.kind == "floor/floor"] == [
            "square"
        ]
        named = {"elsewhere": [{"at": "floor breaks", "form": "rounded", "size": 0.2}]}
        (brow,) = [
            row for row in takeoff_of(file | {"arris": named}).arrises if row.kind == "floor/floor"
        ]
        assert brow.area == pytest.approx(4.0 * 0.2 * math.atan(0.25), rel=1e-4)

    def test_every_kind_of_edge_has_its_place(self) -> None:
        """Every kind of edge has its place."""
        for one, other in product(*[[kind for kind in KINDS if kind != "arris"]] * 2):
            group = group_of(f"{one}/{other}")
            assert (group == "floor breaks") == all("floor" in kind or kind in {
                "cove", "fillet"} for kind in (one, other))  # fmt: skip


class TestReports:
    """Table, CSV and JSON say the same."""

    def test_all_three(self) -> None:
        """All three."""
        takeoff = takeoff_of(furnished(form="chamfer", size=0.01))
        first = takeoff.arrises[0]
        rows = [row for row in csv.DictReader(io.StringIO(csv_text(takeoff)))
                if row["section"] == "arris" and row["number"] == first.number]  # fmt: skip
        found = {row["measure"]: float(row["value"]) for row in rows}
        assert found["taken area"] == pytest.approx(first.taken_area, abs=1e-6)
        assert {row["note"] for row in rows} == {"chamfer"}
        assert takeoff.as_dict()["arrises"][0]["area_m2"] == first.area
        assert "Arrises" in takeoff_text(takeoff, "m")


class TestRefusals:
    """What does not fit, and what is not there."""

    @pytest.mark.parametrize("mesh", [False, True])
    def test_a_chamfer_deeper_than_a_tread(self, *, mesh: bool) -> None:
        """Its fit is told before it is built into the solid, which would not close."""
        text = refusal(furnished(form="chamfer", size=0.31, mesh=mesh))
        assert "'arris.size' must fit the tread of 'flight tread" in text
        assert "m, which is 0.300 m wide there (got 0.310 m" in text

    def test_two_arrises_share_a_wall_top(self) -> None:
        """On a dam wall 0.1 m wide, two legs of 0.06 m meet; two of 0.04 m do not."""
        spa = {"outline": rectangle(2.0, 2.0, centre=[2.9, 0.9]), "depth": 1.0, "dam_wall": 0.1,
               "raised": 0.3}  # fmt: skip
        file = pool(rectangle(8.0, 4.0), level(1.4), freeboard=0.5, spas=[spa])
        size = 0.06
        only = [{"at": "dam walls", "form": "chamfer", "size": size}]
        text = refusal(file | {"arris": {"elsewhere": only}})
        assert "'arris.elsewhere[0].size' must fit the dam wall top" in text
        assert "its arrises take 0.120 m of it" in text
        assert "use at most 0.050 m there" in text
        fits = [{"at": "dam walls", "form": "chamfer", "size": 0.04}]
        assert takeoff_of(file | {"arris": {"elsewhere": fits}}).arrises

    def test_a_round_wider_than_the_wall_top(self) -> None:
        """A round wider than the wall top."""
        text = refusal(furnished(elsewhere=[{"at": "wall tops", "form": "rounded", "size": 0.21}]))
        assert "must fit the wall top of 'wall'" in text
        assert "use at most 0.200 m there" in text

    def test_in_feet(self) -> None:
        """The file is in feet, its walls a quarter of one thick, and so is what is said."""
        arris = {"form": "chamfer", "size": "4 in"}
        text = refusal(pool(rectangle(30, 15), level(5), units="ft", arris=arris))
        assert """which is 3" wide there (got 4"; its arrises take 4" of it)""" in text
        assert """use at most 2 15/16" there""" in text

    @pytest.mark.parametrize(
        ("elsewhere", "words"),
        [
            ({"at": "weirs", "form": "square"}, "[0].at' must name external edges that the pool"),
            ({"feature": "sofa", "form": "square"}, "edges that the pool has of 'sofa'"),
            ({"form": "square"}, "must be given, or 'at'"),
            ({"at": "steps", "form": "rounded"}, "must be given with 'rounded'"),
            ({"at": "steps", "form": "square", "size": 0.1}, "must not be given with 'square'"),
        ],
    )
    def test_edges_that_are_not_there(self, elsewhere: dict[str, Any], words: str) -> None:
        """Edges that are not there."""
        assert words in refusal(furnished(elsewhere=[elsewhere]))


class TestInvariance:
    """Moving the pool changes no arris."""

    @settings(max_examples=5)
    @given(turn=st.floats(-180.0, 180.0))
    def test_turned(self, turn: float) -> None:
        """Turned."""
        outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        points = [[c * x - s * y, s * x + c * y] for x, y in outline["points"]]
        arris = {"form": "rounded", "size": 0.02}
        one, other = (
            takeoff_of(pool(item, level(1.2), arris=arris))
            for item in (outline, outline | {"points": points})
        )
        assert sum(row.area for row in one.arrises) == pytest.approx(
            sum(row.area for row in other.arrises), rel=1e-4
        )
