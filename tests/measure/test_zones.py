"""Zones by height: closed forms, where the band ends, and the return on the wall top."""

from __future__ import annotations

import math
from typing import Any, ClassVar

import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.measure.takeoff import measure
from poolgeo.mesh import ZONES
from poolgeo.plan.features.waterline import NEAR
from poolgeo.quantities import Takeoff

from ..independent import cases
from .quantities import circle, level, plane, polygon, pool, rectangle, takeoff_of

EXACT = 1e-6
CURVED = 1e-3

BELOW, BAND, FREEBOARD, WALL_TOP, RETURN = ZONES

ANGLE = polygon((0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6))
"""An L, 28 m round."""


BASIN = {"width": 0.8, "drop": 0.4, "depth": 0.6}


def areas(takeoff: Takeoff, kind: str, body: str = "pool") -> dict[str, float]:
    """Return the area of one kind in each zone [m2]."""
    (row,) = [row for row in takeoff.areas if (row.body, row.kind) == (body, kind)]
    return dict(zip(ZONES, row.zones, strict=True))


def lengths(takeoff: Takeoff, kind: str, body: str = "pool") -> dict[str, float]:
    """Return the length of all runs of one kind in each zone [m]."""
    rows = [run.zones for run in takeoff.edges if (run.body, run.kind) == (body, kind)]
    return {zone: sum(row[i] for row in rows) for i, zone in enumerate(ZONES)}


def band(above: float, below: float) -> dict[str, float]:
    """Return the value of a ``waterline`` key [m]."""
    return {"above": above, "below": below}


class TestWalls:
    """A plain wall round a level floor: perimeter times height, zone by zone."""

    @pytest.mark.parametrize(
        ("outline", "perimeter", "share"),
        [
            (rectangle(10, 5), 30.0, EXACT),
            (ANGLE, 28.0, EXACT),
            (circle(3), 6.0 * math.pi, CURVED),
        ],
        ids=["rectangle", "L", "circle"],
    )
    def test_each_zone_is_as_high_as_stated(
        self, outline: dict[str, Any], perimeter: float, share: float
    ) -> None:
        """1.4 m below the band, 0.15 m of it, 0.15 m above it."""
        file = pool(outline, level(1.5), freeboard=0.2, waterline=band(0.05, 0.1))
        found = areas(takeoff_of(file), "wall")
        assert found[BELOW] == pytest.approx(1.4 * perimeter, rel=share)
        assert found[BAND] == pytest.approx(0.15 * perimeter, rel=share)
        assert found[FREEBOARD] == pytest.approx(0.15 * perimeter, rel=share)
        assert found[WALL_TOP] == found[RETURN] == 0.0

    def test_a_corner_is_split_as_its_walls_are_and_stays_one_run(self) -> None:
        """Four upright runs 1.7 m long; the arris on the wall top lies in the zone of that."""
        file = pool(rectangle(10, 5), level(1.5), freeboard=0.2, waterline=band(0.05, 0.1))
        takeoff = takeoff_of(file)
        corners = [run for run in takeoff.edges if run.kind == "wall/wall"]
        assert [run.zones for run in corners] == [pytest.approx((1.4, 0.15, 0.15, 0, 0))] * 4
        assert lengths(takeoff, "wall/wall top")[WALL_TOP] == pytest.approx(30.0)
        assert lengths(takeoff, "floor/wall")[BELOW] == pytest.approx(30.0)

    def test_a_pool_that_says_nothing_has_the_default_band_and_no_return(self) -> None:
        """75 mm up and down."""
        found = takeoff_of(pool(rectangle(10, 5), level(1.5)))
        assert areas(found, "wall")[BAND] == pytest.approx(0.15 * 30.0)
        assert areas(found, "wall top")[RETURN] == 0.0
        assert found.bands == {"pool": (-0.075, 0.075)}

    def test_no_band_leaves_the_water_level(self) -> None:
        """What lies below the band is what is wet."""
        takeoff = takeoff_of(pool(rectangle(10, 5), level(1.5), waterline=band(0, 0)))
        assert areas(takeoff, "wall")[BELOW] == pytest.approx(45.0)
        assert areas(takeoff, "wall")[BAND] == 0.0


class TestFloors:
    """What slopes or bends through an edge of the band is split along a contour."""

    def test_a_plane_floor(self) -> None:
        """Depth 0.2 + x / 10 for x from 0 to 6: 0.35 deep at x = 1.5."""
        outline = polygon((0, 0), (6, 0), (6, 4), (0, 4))
        takeoff = takeoff_of(pool(outline, plane(0.2, 0.1), waterline=band(0.1, 0.35)))
        slope = math.hypot(1.0, 0.1)
        found = areas(takeoff, "floor")
        assert found[BAND] == pytest.approx(1.5 * 4 * slope, rel=EXACT)
        assert found[BELOW] == pytest.approx(4.5 * 4 * slope, rel=EXACT)
        assert lengths(takeoff, "floor/wall")[BAND] == pytest.approx(4 + 2 * 1.5 * slope)
        assert lengths(takeoff, "floor/wall")[BELOW] == pytest.approx(4 + 2 * 4.5 * slope)

    def test_a_cove(self) -> None:
        """The part of a round cove below half its radius, by Pappus: an arc of 60 degrees."""
        big, r, arc = 3.0, 0.1, math.pi / 3.0
        file = pool(circle(big), level(0.4), cove={"radius": r}, waterline=band(0.05, 0.35))
        takeoff = takeoff_of(file)
        found = areas(takeoff, "cove")
        low = 2.0 * math.pi * r * ((big - r) * arc + r * (1.0 - math.cos(arc)))
        whole = 2.0 * math.pi * r * ((big - r) * math.pi / 2.0 + r)
        assert found[BELOW] == pytest.approx(low, rel=CURVED)
        assert found[BAND] == pytest.approx(whole - low, rel=CURVED)
        (run,) = takeoff.coves
        assert run.area_zones[:2] == pytest.approx((low, whole - low), rel=CURVED)
        assert run.length_zones[1] == pytest.approx(2.0 * math.pi * big, rel=CURVED)

    @pytest.mark.parametrize("off", [0.0, 2e-5, -2e-5])
    @pytest.mark.parametrize("outline", [circle(3), ANGLE, rectangle(6, 4, corner_radius=0.5)])
    def test_a_line_of_a_cove(self, outline: dict[str, Any], off: float) -> None:
        """The band ends at half the radius, where cells meet, or beside that: all is closed."""
        file = pool(outline, level(0.4), cove={"radius": 0.1}, waterline=band(0.05, 0.35 + off))
        found = areas(takeoff_of(file), "cove")
        assert found[BELOW] / (found[BELOW] + found[BAND]) == pytest.approx(2 / 3, rel=0.01)

    def test_a_level_bench_lies_in_one_zone(self) -> None:
        """Its top 0.1 deep in a band 0.2 deep; 0.9 m of its face below, 0.1 in the band."""
        bench = {"start": [-5.0, 2.5], "end": [-5.0, -2.5], "width": 0.5, "depth": 0.1}
        file = pool(rectangle(10, 5), level(1.1), bench=[bench], waterline=band(0.1, 0.2))
        takeoff = takeoff_of(file)
        assert areas(takeoff, "bench top")[BAND] == pytest.approx(2.5)
        assert areas(takeoff, "bench face")[BELOW] == pytest.approx(0.9 * 5)
        assert areas(takeoff, "bench face")[BAND] == pytest.approx(0.1 * 5)
        assert lengths(takeoff, "bench top/bench face")[BAND] == pytest.approx(5.0)


class TestEdgesOfTheBand:
    """Where the band ends otherwise than stated, and what is said of it."""

    def test_it_ends_at_the_wall_top_and_says_so(self) -> None:
        """There is no freeboard left."""
        takeoff = takeoff_of(pool(rectangle(10, 5), level(1.5), waterline={"above": 0.4}))
        assert takeoff.bands["pool"][1] == 0.15
        assert areas(takeoff, "wall")[BAND] == pytest.approx(0.225 * 30)
        assert areas(takeoff, "wall")[FREEBOARD] == 0.0
        (warning,) = takeoff.warnings
        assert warning.key == ("waterline", "above")
        assert warning.rule == "reaches over the top of the pool's wall, and the band ends there"
        assert warning.value == "0.400 m; the wall ends 0.150 m above the water"

    def test_of_a_default_nothing_is_said(self) -> None:
        """Nobody asked for 75 mm."""
        takeoff = takeoff_of(pool(rectangle(10, 5), level(1.5), freeboard=0.05))
        assert takeoff.bands["pool"][1] == 0.05
        assert not takeoff.warnings

    @pytest.mark.parametrize(("off", "bottom"), [(0.9, -0.3), (-0.9, -0.3), (1.1, -0.2989)])
    def test_it_goes_to_a_level_that_is_near(self, off: float, bottom: float) -> None:
        """A bench top 0.3 m deep, and a band that ends so many millimetres above it."""
        assert NEAR == 1e-3
        bench = {"start": [-5.0, 2.5], "end": [-5.0, -2.5], "width": 0.5, "depth": 0.3}
        waterline = band(0.1, 0.3 - off / 1000.0)
        file = pool(rectangle(10, 5), level(1.1), bench=[bench], waterline=waterline)
        assert takeoff_of(file).bands["pool"][0] == pytest.approx(bottom, abs=1e-9)

    def test_a_thinner_band_than_can_be_marked_is_none(self) -> None:
        """Less than a millimetre."""
        takeoff = takeoff_of(pool(rectangle(10, 5), level(1.5), waterline=band(0.0004, 0.0004)))
        assert takeoff.bands["pool"] == (0.0, 0.0)


class TestReturn:
    """The strip of the wall top: perimeter times width, and a square at each corner."""

    @pytest.mark.parametrize(
        ("outline", "want", "share"),
        [
            (rectangle(10, 5), 30 * 0.1 + 4 * 0.01, EXACT),
            (ANGLE, 28 * 0.1 + (5 - 1) * 0.01, EXACT),
            (circle(3), math.pi * (3.1**2 - 3.0**2), CURVED),
        ],
        ids=["rectangle", "L", "circle"],
    )
    def test_it_runs_parallel_to_the_outline(
        self, outline: dict[str, Any], want: float, share: float
    ) -> None:
        """Straight round outside corners, and round inside ones; no run changes for it."""
        bare = takeoff_of(pool(outline, level(1.5)))
        takeoff = takeoff_of(pool(outline, level(1.5), coping={"membrane_return": 0.1}))
        found, whole = areas(takeoff, "wall top"), areas(bare, "wall top")[WALL_TOP]
        assert found[RETURN] == pytest.approx(want, rel=share)
        assert found[WALL_TOP] == pytest.approx(whole - want, rel=share)
        assert [run.number for run in takeoff.edges] == [run.number for run in bare.edges]
        rim = lengths(takeoff, "wall/wall top")
        assert rim[RETURN] == pytest.approx(lengths(bare, "wall/wall top")[WALL_TOP])

    def test_wider_than_the_wall_it_is_the_whole_top_and_says_so(self) -> None:
        """A wall of 0.25 m."""
        file = pool(rectangle(10, 5), level(1.5), coping={"membrane_return": 0.3})
        takeoff = takeoff_of(file)
        assert areas(takeoff, "wall top")[WALL_TOP] == 0.0
        assert areas(takeoff, "wall top")[RETURN] == pytest.approx(10.5 * 5.5 - 50)
        (warning,) = takeoff.warnings
        assert warning.key == ("coping", "membrane_return")
        assert warning.value == "0.300 m; the wall's top is 0.250 m wide"

    def test_a_dam_wall_has_it_on_both_sides(self) -> None:
        """A square spa, 2 m, its dam wall 0.3 m thick all round: strips of 0.1 m."""
        takeoff = takeoff_of(_with_spa(coping={"membrane_return": 0.1}))
        found = areas(takeoff, "dam wall top", "spa")
        assert found[RETURN] == pytest.approx((2.2**2 - 2.0**2) + (2.6**2 - 2.4**2), rel=EXACT)
        assert found[WALL_TOP] == pytest.approx(2.4**2 - 2.2**2, rel=EXACT)

    def test_half_a_dam_wall_on_either_side_is_all_of_it(self) -> None:
        """Nothing is left between the strips."""
        takeoff = takeoff_of(_with_spa(coping={"membrane_return": 0.15}))
        found = areas(takeoff, "dam wall top", "spa")
        assert found[RETURN] == pytest.approx(2.6**2 - 2.0**2, rel=EXACT)
        assert found[WALL_TOP] == 0.0

    def test_a_spa_beside_the_pool_has_it_on_its_rim(self) -> None:
        """Its wall is the shell's, 0.25 m thick."""
        file = _with_spa(centre=(8.0, 0.0), coping={"membrane_return": 0.1})
        found = areas(takeoff_of(file), "wall top", "spa")
        assert found[RETURN] == pytest.approx(2.2**2 - 2.0**2, rel=EXACT)
        assert found[WALL_TOP] == pytest.approx(2.5**2 - 2.2**2, rel=EXACT)

    def test_a_basin_has_it_along_its_own_walls(self) -> None:
        """4 by 0.8, three of its sides: two of 0.8 m and one of 4.2."""
        weir = {"start": [-2.0, -2.5], "end": [2.0, -2.5], "basin": BASIN}
        file = pool(rectangle(10, 5), level(1.5), overflows=[weir])
        found = areas(takeoff_of({**file, "coping": {"membrane_return": 0.1}}), "wall top", "basin")
        assert found[RETURN] == pytest.approx(0.1 * (2 * 0.8 + 4.2), rel=EXACT)
        whole = areas(takeoff_of(file), "wall top", "basin")[WALL_TOP]
        assert found[WALL_TOP] == pytest.approx(whole - found[RETURN], rel=EXACT)

    def test_an_island_has_it_inwards(self) -> None:
        """A square of 1 m: 1 - 0.8 squared; one of 0.2 m is all return."""
        squares = [rectangle(1.0, 1.0, centre=[-2.0, 0.0]), rectangle(0.2, 0.2, centre=[2.0, 0.0])]
        file = pool(rectangle(10, 5), level(1.5), islands=[{"outline": item} for item in squares])
        bare = takeoff_of(file)
        takeoff = takeoff_of({**file, "coping": {"membrane_return": 0.1}})
        found = areas(takeoff, "wall top")
        assert found[RETURN] == pytest.approx(10.2 * 5.2 - 50 + 0.36 + 0.04, rel=EXACT)
        assert found[WALL_TOP] == pytest.approx(10.5 * 5.5 - 10.2 * 5.2 + 0.64, rel=EXACT)
        assert [run.number for run in takeoff.edges] == [run.number for run in bare.edges]

    @pytest.mark.parametrize(
        ("more", "width"),
        [
            ({"shell": {"wall": 0.2, "beam": {"width": 0.4, "depth": 0.3}}}, None),
            ({"walls": [{"start": [-2, -2.5], "end": [2, -2.5], "thickness": 0.15}]}, "0.150"),
            ({"walls": [{"thickness": 0.4}]}, None),
            ({"walls": [{"thickness": 0.4}], "channels": [{"width": 0.3, "depth": 0.4}]}, "0.250"),
        ],
        ids=["bond beam", "thinner stretch", "all thicker", "channel"],
    )
    def test_it_is_compared_with_the_tops_that_there_are(
        self, more: dict[str, Any], width: str | None
    ) -> None:
        """0.3 m is warned of where some top is narrower."""
        file = pool(rectangle(10, 5), level(1.5), coping={"membrane_return": 0.3}, **more)
        warned = takeoff_of(file).warnings
        found = [item.value for item in warned if item.key == ("coping", "membrane_return")]
        assert found == ([] if width is None else [f"0.300 m; the wall's top is {width} m wide"])


class TestDryChannels:
    """A channel that is dry at rest has no band."""

    FILE: ClassVar[dict[str, Any]] = pool(
        rectangle(10, 5),
        level(1.5),
        channels=[{"start": [-4.0, -2.5], "end": [4.0, -2.5], "width": 0.3, "depth": 0.4}],
        fittings=[{"kind": "overflow drain", "point": [0, -2.9], "diameter": 0.1, "collar": 0.02}],
    )

    def test_all_of_it_is_freeboard(self) -> None:
        """Floor 8 by 0.3, the weir's face 8 by 0.4."""
        takeoff = takeoff_of(self.FILE)
        for kind, want in (("channel floor", 8 * 0.3), ("weir face", 8 * 0.4)):
            assert areas(takeoff, kind, "channel")[FREEBOARD] == pytest.approx(want, rel=EXACT)
        assert list(takeoff.bands) == ["pool"]

    def test_a_fitting_is_as_deep_as_below_the_pools_water(self) -> None:
        """As the drawing's levels are; the channel's floor lies 0.4 below the crest."""
        (drain,) = takeoff_of(self.FILE).fittings
        assert drain.depth == pytest.approx(0.4, rel=EXACT)


def _with_spa(centre: tuple[float, float] = (0.0, 0.0), **more: Any) -> dict[str, Any]:
    """A square spa of 2 m, its water 0.4 m above that of the pool."""
    spa = {
        "outline": rectangle(2, 2, centre=list(centre)),
        "raised": 0.4,
        "freeboard": 0.2,
        "depth": 0.9,
        "dam_wall": 0.3,
        **more.pop("spa", {}),
    }
    return pool(rectangle(10, 6), level(1.5), spas=[spa], **more)


class TestSpa:
    """A spa's band stands about its own water."""

    def test_each_side_of_the_dam_wall_has_the_band_of_its_water(self) -> None:
        """8 m round on the inside, 10.4 m on the outside."""
        takeoff = takeoff_of(_with_spa(waterline=band(0.1, 0.05)))
        inner, outer = areas(takeoff, "spa wall", "spa"), areas(takeoff, "dam wall face")
        assert takeoff.bands["spa"] == pytest.approx((0.35, 0.5))
        assert inner[BELOW] == pytest.approx(8 * 0.85)
        assert inner[BAND] == pytest.approx(8 * 0.15)
        assert inner[FREEBOARD] == pytest.approx(8 * 0.1)
        assert outer[BELOW] == pytest.approx(4 * 2.6 * 1.45)
        assert outer[BAND] == pytest.approx(4 * 2.6 * 0.15)
        assert outer[FREEBOARD] == pytest.approx(4 * 2.6 * 0.5)

    def test_it_may_have_an_extent_of_its_own(self) -> None:
        """The pool's stays as it is."""
        file = _with_spa(waterline=band(0.1, 0.05), spa={"waterline": band(0.02, 0.03)})
        takeoff = takeoff_of(file)
        assert takeoff.bands["spa"] == pytest.approx((0.37, 0.42))
        assert takeoff.bands["pool"] == (-0.05, 0.1)

    def test_a_band_over_its_wall_is_told_with_its_key(self) -> None:
        """Its wall ends 0.2 m above its water."""
        takeoff = takeoff_of(_with_spa(spa={"waterline": band(0.3, 0.03)}))
        assert [item.key for item in takeoff.warnings] == [("spas", 0, "waterline", "above")]


@pytest.mark.parametrize("waterline", [band(0, 0), band(0.02, 0.8), band(0.15, 1.3)])
def test_no_run_takes_notice_of_the_band(waterline: dict[str, float]) -> None:
    """Numbers, kinds and lengths of the furnished pool's runs stay, whatever the band is."""
    plain, other = (
        measure(build(design_from(cases.FURNISHED | more)))
        for more in ({}, {"waterline": waterline, "coping": {"membrane_return": 0.08}})
    )
    for runs, others in ((plain.edges, other.edges), (plain.coves, other.coves)):
        assert [run.number for run in runs] == [run.number for run in others]
        assert [run.length for run in others] == pytest.approx(
            [run.length for run in runs], abs=1e-4
        )


def test_the_contract_has_each_zone_in_which_something_lies() -> None:
    """And the rows of zones add up to the totals."""
    found = takeoff_of(_with_spa()).as_dict()
    assert found["bands"]["pool"] == {"bottom_m": -0.075, "top_m": 0.075}
    for row in found["areas"]:
        assert sum(row["zones_m2"].values()) == pytest.approx(row["area_m2"])
        assert 0.0 not in row["zones_m2"].values()
    for name in ("area_m2", "internal_m", "external_m", "cove_m"):
        total = sum(row[name] for row in found["zones"])
        assert total == pytest.approx(found["totals"][name])
    assert [(row["body"], row["zone"]) for row in found["zones"]] == [
        (body, zone) for body in ("pool", "spa") for zone in (BELOW, BAND, FREEBOARD, WALL_TOP)
    ]
