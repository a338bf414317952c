"""Arrises in the solid: closed forms, what the rows say of them, and what stays square."""

from __future__ import annotations

import csv
import io
import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.arris import profile_of, section_of
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write.tables import csv_text
from poolgeo.write.terminal import takeoff_text
from tests.measure.quantities import (
    area,
    breaks,
    level,
    model_of,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    water,
)
from tests.properties.facts import FACTS

THIN = {"shell": {"wall": 0.2, "floor": 0.2}}
SQUARE_RIM = {"at": "wall tops", "form": "square"}


def meshed(file: dict[str, Any], form: str, size: float, *elsewhere: Any) -> dict[str, Any]:
    """Return a pool with its arrises in the solid."""
    arris = {"form": form, "size": size, "mesh": True, "elsewhere": list(elsewhere)}
    return file | {"arris": arris}


def both(file: dict[str, Any]) -> tuple[Model, Takeoff]:
    """Build a pool and measure it."""
    model = model_of(file)
    return model, measure(model)


def what_is_said(file: dict[str, Any]) -> str:
    """Return the warnings of a pool."""
    return "\n".join(map(str, takeoff_of(file).warnings))


class TestSection:
    """The chords of a section against the section itself."""

    @given(
        form=st.sampled_from(["chamfer", "rounded"]),
        size=st.floats(0.002, 0.1),
        rise=st.floats(-1.0, 1.0),
    )
    def test_chords_take_off_what_the_section_does(
        self, form: str, size: float, rise: float
    ) -> None:
        """By the shoelace formula; no chord stands farther off a round than it may."""
        s, d = profile_of(form, size, np.array([rise]), 5e-4)
        section = section_of(form, size, 270.0 - math.degrees(math.atan(rise)))
        corners = np.column_stack([s[0], rise * s[0] - d[0]])
        off = shapely.Polygon([(0.0, 0.0), *corners])
        assert off.area == pytest.approx(section.removed, rel=1e-9)
        assert np.hypot(*corners[[0, -1]].T) == pytest.approx(section.leg, rel=1e-9)
        girth = shapely.LineString(corners).length
        assert girth == pytest.approx(section.girth, rel=0.008 if rise >= 0.0 else 0.017)
        if form == "rounded":
            centre = size, -size * math.tan((math.pi / 2.0 - math.atan(rise)) / 2.0)
            away = np.hypot(*(corners - centre).T)
            assert np.abs(away - size).max() < 5e-4


class TestClosedForms:
    """Volumes and areas by hand."""

    @pytest.mark.parametrize("turn", [0.0, 25.0])
    def test_a_chamfered_block(self, turn: float) -> None:
        """A block of a x b, mitred: c^2 (a + b) - 4 c^3 / 3 is off; the faces are trapezia."""
        a, b, c = 1.0, 0.8, 0.03
        landing = {"shape": "rectangle", "length": a, "width": b, "rotation": turn}
        block = {"shape": "island", "landing": landing, "going": 0.4, "risers": 1}
        file = pool(rectangle(10.0, 6.0), level(1.6), steps=[block])
        takeoff = takeoff_of(meshed(file, "chamfer", c, SQUARE_RIM))
        removed = c**2 * (a + b) - 4.0 * c**3 / 3.0
        assert takeoff.water["pool"] - water(file) == pytest.approx(removed, rel=1e-5)
        own = 2.0 * math.sqrt(2.0) * c * (a + b - 2.0 * c)
        assert area(takeoff, "arris") == pytest.approx(own, rel=1e-5)
        assert area(takeoff, "tread") == pytest.approx((a - 2.0 * c) * (b - 2.0 * c), rel=1e-5)
        assert area(takeoff, "riser") == pytest.approx(2.0 * (a + b) * (0.8 - c), rel=1e-5)

    def test_a_rim_with_an_inside_corner(self) -> None:
        """Five corners of an L open mitres, one closes its: 26 c^2 / 2 + 4 c^3 / 3 is off."""
        c = 0.02
        outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
        file = pool(outline, level(1.2), freeboard=0.2, **THIN)
        takeoff = takeoff_of(meshed(file, "chamfer", c))
        removed = 26.0 * c**2 / 2.0 + 4.0 * c**3 / 3.0
        assert takeoff_of(file).shell - takeoff.shell == pytest.approx(removed, rel=1e-5)
        assert takeoff.water == pytest.approx(takeoff_of(file).water, abs=1e-9)
        own = math.sqrt(2.0) * c * (26.0 + 4.0 * c)
        assert area(takeoff, "arris") == pytest.approx(own, rel=1e-5)
        (row,) = [row for row in takeoff.areas if row.kind == "arris"]
        assert set(row.as_dict()["zones_m2"]) == {"wall top"}

    def test_a_round_of_a_bench(self) -> None:
        """On 4 m without ends (1 - pi/4) r^2 is off, to no less than the chords' 0.1 %."""
        bench = {"name": "seat", "start": [-4.0, -2.0], "end": [4.0, -2.0], "width": 0.45,
                 "depth": 0.5}  # fmt: skip
        file = pool(rectangle(8.0, 4.0), level(1.4), bench=[bench])
        (row,) = [
            row for row in takeoff_of(meshed(file, "rounded", 0.05, SQUARE_RIM)).arrises
            if row.form == "rounded"
        ]  # fmt: skip
        takeoff = takeoff_of(meshed(file, "rounded", 0.05, SQUARE_RIM))
        removed = 8.0 * (1.0 - math.pi / 4.0) * 0.05**2
        assert takeoff.water["pool"] - water(file) == pytest.approx(removed, rel=1e-3)
        assert row.removed == pytest.approx(removed, rel=1e-6)
        assert (row.length, row.meshed) == pytest.approx((8.0, 8.0), rel=1e-6)


FURNISHED = pool(
    rectangle(8.0, 4.0), breaks((-2.0, 1.2), (2.0, 1.6)), freeboard=0.2, **THIN,
    steps=[{"name": "flight", "shape": "side", "at": [4.0, 0.0], "width": 1.2, "going": 0.3,
            "risers": 4}],
    bench=[{"name": "seat", "start": [-2.0, -2.0], "end": [2.0, -2.0], "width": 0.45,
            "depth": 0.5}],
)  # fmt: skip


class TestRows:
    """What the rows say, and what of it the takeoff holds already."""

    @pytest.mark.parametrize("form", ["chamfer", "rounded"])
    def test_the_solid_changes_by_what_the_rows_say(self, form: str) -> None:
        """But for mitres: volumes within 1 %, areas within that of the chords."""
        square = takeoff_of(FURNISHED | {"arris": {"form": form, "size": 0.01}})
        takeoff = takeoff_of(meshed(FURNISHED, form, 0.01))
        rows = takeoff.arrises
        removed = sum(row.removed * row.meshed / row.length for row in rows)
        assert square.shell - takeoff.shell == pytest.approx(removed, rel=0.01)
        net = sum(row.net_area * row.meshed / row.length for row in rows)
        change = takeoff.totals()["area_m2"] - square.totals()["area_m2"]
        assert change == pytest.approx(net, rel=0.03)
        own = sum(row.area * row.meshed / row.length for row in rows)
        assert area(takeoff, "arris") == pytest.approx(own, rel=0.01)

    def test_nothing_counts_twice(self) -> None:
        """Runs, senses and rows are those of square edges; totals hold what is not in the solid."""
        square = takeoff_of(FURNISHED | {"arris": {"form": "chamfer", "size": 0.01}})
        takeoff = takeoff_of(meshed(FURNISHED, "chamfer", 0.01))
        assert [(run.number, run.sense, run.length) for run in takeoff.edges] == [
            (run.number, run.sense, run.length) for run in square.edges
        ]
        assert [(row.number, row.length, row.net_area) for row in takeoff.arrises] == [
            (row.number, row.length, row.net_area) for row in square.arrises
        ]
        upright = [row for row in takeoff.arrises if row.form != "square" and not row.meshed]
        assert {row.kind for row in upright} == {"riser/step side", "bench face/bench face"}
        totals = takeoff.totals()
        assert totals["arris_net_area_m2"] == pytest.approx(sum(row.net_area for row in upright))
        assert totals["arris_removed_m3"] == pytest.approx(sum(row.removed for row in upright))
        for name in ("arris_net_area_m2", "arris_removed_m3"):
            assert square.totals()[name] == pytest.approx(
                sum(getattr(row, "net_area" if "area" in name else "removed")
                    for row in square.arrises)
            )  # fmt: skip

    def test_zones_and_reports(self) -> None:
        """Lengths and areas by zone add up; table, CSV and JSON tell what is in the solid."""
        takeoff = takeoff_of(meshed(FURNISHED, "chamfer", 0.01))
        for row in takeoff.arrises:
            assert sum(row.zones) == pytest.approx(row.length)
            assert sum(row.area_zones) == pytest.approx(row.area)
        said = takeoff.as_dict()["arrises"]
        (nosing, *_) = [item for item in said if item["kind"] == "tread/riser"]
        assert nosing["meshed_m"] == pytest.approx(1.2)
        assert set(nosing["zones_m"]) == set(nosing["zones_m2"]) == {"below band"}
        rows = [
            row for row in csv.DictReader(io.StringIO(csv_text(takeoff)))
            if row["section"] == "arris" and row["number"] == nosing["run"]
        ]  # fmt: skip
        found = {(row["measure"], row["zone"]): float(row["value"]) for row in rows}
        assert found["length in the solid", ""] == pytest.approx(1.2)
        for zone, length in nosing["zones_m"].items():
            assert found["zone length", zone] == pytest.approx(length, abs=1e-6)
            assert found["zone area", zone] == pytest.approx(nosing["zones_m2"][zone], abs=1e-6)
        assert "those in the solid are in its areas" in takeoff_text(takeoff, "m")

    def test_off_until_it_is_asked_for(self) -> None:
        """Without ``mesh`` the solid keeps its square edges, and no row has a length in it."""
        model, takeoff = both(FURNISHED | {"arris": {"form": "chamfer", "size": 0.01}})
        assert model.arrises is None
        assert area(takeoff, "arris") == 0.0
        assert {row.meshed for row in takeoff.arrises} == {0.0}
        assert "length in the solid" in csv_text(takeoff)
        assert "those in the solid" not in takeoff_text(takeoff, "m")


class TestWhatStaysSquare:
    """Each edge without its arris is told, with its run and place."""

    def test_upright_edges(self) -> None:
        """The two ends of a bench; of the eight of a flight as well, six in all are named."""
        text = what_is_said(meshed(FURNISHED, "chamfer", 0.01))
        assert text.count(" near (") == 6
        assert ", and 4 more over " in text
        text = what_is_said(meshed(FURNISHED, "chamfer", 0.01, {"at": "steps", "form": "square"}))
        assert "'arris.mesh' leaves edges square in the solid that stand upright (got P17." in text
        assert "m near (-2.000, -1.550) m" in text

    def test_brows(self) -> None:
        """Brows of the floor."""
        brow = {"at": "floor breaks", "form": "rounded", "size": 0.2}
        text = what_is_said(meshed(FURNISHED, "chamfer", 0.01, brow))
        assert "'arris.elsewhere[0]' leaves edges square in the solid that are brows" in text

    def test_edges_at_a_low_face(self) -> None:
        """Where the floor comes up to 10 mm below a bench, its face is lower than the arris."""
        floor = breaks((-1.5, 0.6), (0.0, 0.51), (1.5, 0.6))
        bench = {"start": [-1.9, -2.0], "end": [1.9, -2.0], "width": 0.5, "depth": 0.5}
        file = pool(rectangle(8.0, 4.0), floor, bench=[bench])
        takeoff = takeoff_of(meshed(file, "chamfer", 0.02))
        (row,) = [item for item in takeoff.arrises if item.length == pytest.approx(3.8)]
        assert row.length - row.meshed == pytest.approx(2.0 * 0.01 / 0.06, rel=0.02)
        said = "\n".join(map(str, takeoff.warnings))
        assert "that lie above a face that is no higher than the arris there" in said
        assert f"{row.number} over 0.337 m" in said

    def test_small_ones(self) -> None:
        """Smaller than the grid of the plan can hold."""
        text = what_is_said(meshed(FURNISHED, "chamfer", 0.001))
        assert "that are to take less than 2 mm" in text

    def test_a_nosing_under_a_spa(self) -> None:
        """The spa stands on the end of the bench: of the rest all is in the solid."""
        spa = {"outline": rectangle(1.5, 1.5, centre=[2.0, -1.25]), "depth": 0.9, "raised": 0.2}
        file = {key: item for key, item in FURNISHED.items() if key != "steps"}
        takeoff = takeoff_of(meshed(file | {"spas": [spa]}, "chamfer", 0.01))
        (seat,) = [row for row in takeoff.arrises if row.kind == "bench top/bench face"
                   and row.length > 1.0]  # fmt: skip
        assert seat.length < 3.2
        assert seat.meshed == pytest.approx(seat.length)

    def test_nothing_to_mesh(self) -> None:
        """Nothing to mesh."""
        with pytest.raises(PoolFileError, match=r"must be left out where all edges are square"):
            takeoff_of(pool(rectangle(8.0, 4.0), level(1.4), arris={"mesh": True}))

    def test_arrises_larger_than_their_faces(self) -> None:
        """The refusal leads to the one that names the face."""
        file = FURNISHED | {"cove": {"radius": 0.1}}
        with pytest.raises(PoolFileError, match=r"too large for their faces|must fit the"):
            takeoff_of(meshed(file, "chamfer", 0.5))


class TestCrumbs:
    """Plan vertices close to each other."""

    def test_one_strip_along_a_straight_edge(self) -> None:
        """Where a floor's break and a cove's chords end at an edge, its strip goes on."""
        file = FURNISHED | {"cove": {"radius": 0.3}}
        model, takeoff = both(meshed(file, "chamfer", 0.004))
        for fact in FACTS:
            fact(model, takeoff)
        rim = pool(rectangle(8.0, 4.0), level(1.4))
        patch = model_of(meshed(rim, "chamfer", 0.01)).surface
        arris = [k for k, item in enumerate(patch.patches) if item.kind == "arris"]
        assert int(np.isin(patch.patch, arris).sum()) == 8

    def test_the_pivot_of_winders(self) -> None:
        """Crumbs of risers at the pivot are no step side: an upright edge of 180 degrees."""
        outline = polygon((0, 0), (8, 0), (8, 4), (4, 4), (4, 8), (0, 8))
        flight = {"shape": "winding", "pivot": [4, 4], "reach": 1.1, "direction": 90, "turn": 180,
                  "risers": 6}  # fmt: skip
        floor = breaks((2.0, 1.1), (4.0, 1.4), (6.0, 1.9))
        file = pool(outline, floor, cove={"radius": 0.075}, steps=[flight])
        takeoff = takeoff_of(meshed(file, "rounded", 0.01))
        edges = [run for run in takeoff.edges if run.kind == "riser/step side"]
        assert min(run.angle for run in edges) > 260.0
