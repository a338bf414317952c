"""Coves against what walls are cut down to, and walls as they are against what stands at them."""

from __future__ import annotations

from typing import Any, ClassVar

import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import Finding, PoolFileError
from poolgeo.quantities import Takeoff

from ..measure.quantities import area, circle, level, plane, pool, rectangle, takeoff_of

EXACT = 1e-6
"""Relative: straight outlines, on a grid of a micrometre."""

SIDE: dict[str, Any] = {"start": [-2.0, -2.5], "end": [2.0, -2.5]}
BASIN = {"width": 0.8, "drop": 0.4, "depth": 0.6}


def ten_by_five(**more: Any) -> dict[str, Any]:
    """A pool 10 by 5, level at 1.5, its walls 0.25 thick."""
    return pool(rectangle(10.0, 5.0), level(1.5), **more)


def error_of(file: dict[str, Any]) -> Finding:
    """Return the only thing that a pool is refused for."""
    with pytest.raises(PoolFileError) as refused:
        build(design_from(file))
    (found,) = [item for item in refused.value.findings if item.severity == "error"]
    return found


class TestCoves:
    """A recess, a weir, a lowered wall and a sill must leave the cove wall to touch."""

    def test_a_stretch_without_cove_leaves_the_wall_to_a_deep_recess(self) -> None:
        """The cove stands 1 m beside it on either side."""
        bare = {"start": [-3.0, -2.5], "end": [3.0, -2.5], "radius": 0.0}
        cove = {"radius": 0.3, "stretches": [bare]}
        recess = {**SIDE, "width": 0.06, "depth": 1.3}
        takeoff = takeoff_of(ten_by_five(cove=cove, recess=[recess]))
        assert area(takeoff, "recess") == pytest.approx(4.0 * 0.06, rel=EXACT)

    @pytest.mark.parametrize(
        ("cove", "depth"),
        [
            ({"radius": 0.1, "stretches": [{**SIDE, "radius": 0.5}]}, "1.000"),
            ({"radius": 0.1, "deepens": {"start": 0.5, "end": 1.0, "radius": 0.9}}, "0.600"),
        ],
        ids=["stretch", "deepens"],
    )
    def test_a_cove_that_grows_meets_a_recess(self, cove: dict[str, Any], depth: str) -> None:
        """It touches the wall its radius above the floor."""
        found = error_of(ten_by_five(cove=cove, recess=[{**SIDE, "width": 0.06, "depth": 1.2}]))
        assert found.key == ("recess", 0, "depth")
        assert found.rule == "must leave the cove wall to touch below it"
        assert f"the cove ends {depth} m below the water" in found.value

    def test_a_wide_stretch_that_ends_beside_the_recess_is_no_matter(self) -> None:
        """Both end at one place of the outline."""
        cove = {"radius": 0.1, "stretches": [{**SIDE, "radius": 0.5}]}
        recess = {"start": [2.0, -2.5], "end": [4.0, -2.5], "width": 0.06, "depth": 1.2}
        takeoff = takeoff_of(ten_by_five(cove=cove, recess=[recess]))
        assert area(takeoff, "recess") == pytest.approx(2.0 * 0.06, rel=EXACT)

    @pytest.mark.parametrize("slope", [0.0, 0.1], ids=["plumb", "leaning"])
    def test_a_weir_in_the_cove(self, slope: float) -> None:
        """Its crest is lower than the cove's edge on the wall, 0.5 above the floor or less."""
        weir = {**SIDE, "crest": -1.2, "basin": {"width": 0.8, "drop": 0.1, "depth": 0.1}}
        file = ten_by_five(cove={"radius": 0.5}, batter={"slope": slope}, overflows=[weir])
        found = error_of(file)
        assert found.key == ("overflows", 0, "crest")
        assert found.rule == "must leave the cove wall to touch below it"

    def test_a_weir_in_the_cove_of_a_sloping_floor(self) -> None:
        """Its crest lies 1.1 deep, the floor 1.3 deep at the weir's shallow end."""
        weir = {**SIDE, "crest": -1.1, "basin": {"width": 0.8, "drop": 0.1, "depth": 0.1}}
        file = pool(rectangle(10.0, 5.0), plane(1.5, 0.1), cove={"radius": 0.3})
        found = error_of({**file, "overflows": [weir]})
        # touching a floor that falls along the wall, the ball stands r sqrt(1 + g2) above it
        high = 1.3 - 0.3 * 1.01**0.5
        assert float(found.value.split(" m below")[0].split()[-1]) == pytest.approx(high, abs=2e-3)

    def test_a_sill_below_the_cove_of_the_dam_wall(self) -> None:
        """0.5 above the pool's floor, 1.5 deep, the cove ends; the sill lies 1.1 deep."""
        spa = {
            "outline": rectangle(2.0, 2.0),
            "depth": 1.3,
            "spillways": [{"at": [1.0, 0.0], "width": 0.4, "drop": 1.1}],
        }
        cove = {"radius": 0.5, "also_at": ["dam walls"]}
        found = error_of(ten_by_five(cove=cove, spas=[spa]))
        assert found.key == ("spas", 0, "spillways", 0, "drop")
        assert "the cove ends 1.000 m below the water" in found.value

    def test_the_cove_of_a_basin_below_the_face_of_the_weir(self) -> None:
        """The weir falls to 0.35 below its crest, 0.25 above the basin's floor."""
        basin = {"width": 1.2, "drop": 0.4, "depth": 0.2, "cove": {"radius": 0.28}}
        found = error_of(ten_by_five(overflows=[{**SIDE, "fall": 1.4, "basin": basin}]))
        assert found.key == ("overflows", 0, "crest")
        assert found.rule == "must leave the cove wall to touch below it"


class TestCrest:
    """A weir's crest lies below the wall's top where it stands, raised or lowered."""

    WALL: ClassVar[dict[str, Any]] = {"start": [-4.0, -2.5], "end": [4.0, -2.5]}

    def test_in_a_raised_wall(self) -> None:
        """0.3 above the water in a wall of 0.5: 4 m of wall 0.2 high go, its two cheeks come."""
        raised = ten_by_five(walls=[{**self.WALL, "height": 0.5}])
        weir = {**SIDE, "crest": 0.3, "basin": BASIN}
        takeoff, bare = takeoff_of({**raised, "overflows": [weir]}), takeoff_of(raised)
        lost = area(bare, "wall") - area(takeoff, "wall")
        assert lost == pytest.approx((4 - 2 * 0.25) * 0.2, rel=EXACT)

    def test_above_a_lowered_wall(self) -> None:
        """0.1 above the water; the wall goes up 0.05."""
        weir = {**SIDE, "crest": 0.1, "basin": BASIN}
        found = error_of(ten_by_five(walls=[{**self.WALL, "height": 0.05}], overflows=[weir]))
        assert found.key == ("overflows", 0, "crest")
        assert found.value == "0.100 m above the water; the wall goes up 0.050 m"

    def test_partly_in_a_lowered_wall(self) -> None:
        """The lowest part counts."""
        weir = {**SIDE, "crest": 0.1, "basin": BASIN}
        low = {"start": [1.0, -2.5], "end": [4.0, -2.5], "height": 0.05}
        found = error_of(ten_by_five(walls=[low], overflows=[weir]))
        assert "the wall goes up 0.050 m" in found.value


class TestThickness:
    """A trough stands against the wall as thick as it is there."""

    THICK: ClassVar[dict[str, Any]] = {"start": [-4.0, -2.5], "end": [4.0, -2.5], "thickness": 0.6}

    def test_a_weir_is_as_thick_as_its_wall(self) -> None:
        """Left out it is 0.6: the thick wall loses 4 x 0.6 x 0.15, the basin stands beyond it."""
        takeoff = takeoff_of(ten_by_five(walls=[self.THICK], overflows=[{**SIDE, "basin": BASIN}]))
        assert area(takeoff, "weir top") == pytest.approx(4.0 * 0.6, rel=EXACT)
        bare = takeoff_of(ten_by_five(walls=[self.THICK]))
        # outside 4.5 by 1.05, 0.95 high up to the basin's wall top; water 4 by 0.8, 0.7 high
        basin = 4.5 * 1.05 * 0.95 - 4.0 * 0.8 * 0.7
        assert takeoff.shell == pytest.approx(bare.shell + basin - 4.0 * 0.6 * 0.15, rel=EXACT)
        assert area(takeoff, "wall top") == pytest.approx(
            area(bare, "wall top") - 4.0 * 0.6, rel=EXACT
        )

    def test_a_thinner_weir_in_a_thick_wall(self) -> None:
        """The basin stands in what the wall has beyond 0.25."""
        weir = {**SIDE, "thickness": 0.25, "basin": BASIN}
        takeoff = takeoff_of(ten_by_five(walls=[self.THICK], overflows=[weir]))
        assert area(takeoff, "weir top") == pytest.approx(4.0 * 0.25, rel=EXACT)
        # beside the basin its end walls are the pool's, up to the pool's wall top
        assert area(takeoff, "basin floor", "basin") == pytest.approx(4.0 * 0.8, rel=EXACT)
        assert area(takeoff, "wall top") == pytest.approx(
            30 * 0.25 + 0.25 + 8.0 * 0.35 - 4.0 * 0.6, rel=EXACT
        )

    def test_where_the_thickness_changes_it_must_be_said(self) -> None:
        """The weir runs from the thick wall on to the other."""
        thick = {**self.THICK, "end": [1.0, -2.5]}
        found = error_of(ten_by_five(walls=[thick], overflows=[{**SIDE, "basin": BASIN}]))
        assert found.key == ("overflows", 0, "thickness")
        assert found.value == "the wall is from 0.250 m to 0.600 m thick there"

    def test_beside_a_basin_the_bond_beam_stays(self) -> None:
        """The basin's end walls, 0.25 by 0.15 of them under the beam, fill what hangs over them."""
        shell = {"beam": {"width": 0.4, "depth": 0.3}}
        takeoff = takeoff_of(ten_by_five(shell=shell, overflows=[{**SIDE, "basin": BASIN}]))
        beam = 10.8 * 5.8 - 50.0
        assert area(takeoff, "wall top") == pytest.approx(beam - 4.0 * 0.4, rel=EXACT)


class TestSpaBeside:
    """A spa of 2 by 2 whose water is 0.6 m from the pool's, their walls 0.25 thick."""

    SPA: ClassVar[dict[str, Any]] = {
        "outline": rectangle(2.0, 2.0, centre=[0.0, -4.1]),
        "depth": 0.9,
    }

    @pytest.mark.parametrize(
        ("more", "what", "away"),
        [
            ({"walls": [{**TestThickness.THICK}]}, "wall", "0.850"),
            ({"shell": {"beam": {"width": 0.5, "depth": 0.3}}}, "bond beam", "0.750"),
            ({"shell": {"footing": {"projection": 0.5, "thickness": 0.2}}}, "footing", "1.000"),
        ],
        ids=["wall", "beam", "footing"],
    )
    def test_in_what_is_wider_than_the_wall(
        self, more: dict[str, Any], what: str, away: str
    ) -> None:
        """The way that it has to go is that thickness and its own wall."""
        found = error_of(ten_by_five(spas=[self.SPA], **more))
        assert found.key == ("spas", 0, "outline")
        assert f"the pool's {what} is in its way near (0.000, " in found.value
        assert found.remedy == f"move it into the pool, or at least {away} m away"

    def test_as_far_as_it_says_it_is_built(self) -> None:
        """Walls that touch share nothing."""
        spa = {**self.SPA, "outline": rectangle(2.0, 2.0, centre=[0.0, -4.35])}
        takeoff = takeoff_of(ten_by_five(spas=[spa], walls=[TestThickness.THICK]))
        bare = takeoff_of(ten_by_five(walls=[TestThickness.THICK]))
        own = 2.5 * 2.5 * (0.9 + 0.25 + 0.1) - 2.0 * 2.0 * 1.0
        assert takeoff.shell == pytest.approx(bare.shell + own, rel=EXACT)


class TestFooting:
    """A footing ends where a trough's own concrete stands; the pool's is 0.3 by 0.3."""

    SHELL: ClassVar[dict[str, Any]] = {"footing": {"projection": 0.3, "thickness": 0.3}}

    def built(self, basin: dict[str, Any], **more: Any) -> Takeoff:
        """Measure the pool with a basin."""
        weir = {**SIDE, "basin": basin}
        return takeoff_of(
            ten_by_five(shell=self.SHELL, setting="in ground", overflows=[weir], **more)
        )

    def test_beside_a_basin(self) -> None:
        """4.5 m of footing go; the basin hangs 0.2 above where it ends."""
        takeoff = self.built(BASIN)
        bare = 10.5 * 5.5 * 0.25 + (10.5 * 5.5 - 50) * 1.65 + (11.1 * 6.1 - 10.5 * 5.5) * 0.3
        basin = 4.5 * 1.05 * 0.95 - 4.0 * 0.8 * 0.7
        want = bare + basin - 4.0 * 0.25 * 0.15 - 4.5 * 0.3 * 0.3
        assert takeoff.shell == pytest.approx(want, rel=EXACT)
        found = {(row.body, row.kind): row.area for row in takeoff.outside}
        assert found["pool", "footing top"] == pytest.approx(11.1 * 6.1 - 57.75 - 1.35, rel=EXACT)
        assert found["pool", "footing side"] == pytest.approx((34.4 - 4.5 + 0.6) * 0.3, rel=EXACT)
        # above the footing 1.6 m of wall, under the basin 0.5
        wall = (32.0 - 4.5) * 1.6 + 4.5 * 0.5
        assert found["pool", "outer wall"] == pytest.approx(wall, rel=EXACT)
        assert found["pool", "soffit"] == pytest.approx(11.1 * 6.1 - 1.35, rel=EXACT)

    def test_a_basin_deeper_than_the_footing(self) -> None:
        """Its soffit lies 2.25 deep, the pool's 1.75: its wall stands before the footing's end."""
        takeoff = self.built({**BASIN, "depth": 1.6})
        found = {(row.body, row.kind): row.area for row in takeoff.outside}
        assert found["pool", "footing side"] == pytest.approx((34.4 - 4.5) * 0.3, rel=EXACT)
        # its end walls: 1.05 m by 1.95, less the footing's ends; under the pool's wall and before
        ends = 2 * (1.05 * 1.95 - 0.3 * 0.3)
        under = (2 * 0.25 + 4.5) * 0.5
        assert found["basin", "outer wall"] == pytest.approx(4.5 * 1.95 + ends + under, rel=EXACT)

    def test_a_footing_that_passes_the_basin_s_soffit(self) -> None:
        """On a floor that falls along the weir its ends stand lower, its middle level with it."""
        edge = {"thickened_edge": {"width": 0.4, "depth": 0.2}}
        floor, basin = plane(1.7, 0.08), {**BASIN, "depth": 1.3}

        def concrete(shell: dict[str, Any], *weirs: dict[str, Any]) -> float:
            file = pool(rectangle(10.0, 5.0), floor, shell=shell, overflows=list(weirs))
            return takeoff_of(file).shell

        weir = {**SIDE, "basin": basin}
        with_basin = concrete({**edge, **self.SHELL}, weir) - concrete(edge, weir)
        without = concrete({**edge, **self.SHELL}) - concrete(edge)
        thick = 0.3 * (1.0 + 0.08**2) ** 0.5 + 0.2
        assert without - with_basin == pytest.approx(4.5 * 0.3 * thick, rel=1e-4)

    def test_all_round(self) -> None:
        """No footing is left: as without one."""
        with_one = takeoff_of(ten_by_five(shell=self.SHELL, overflows=[{"basin": BASIN}]))
        without = takeoff_of(ten_by_five(overflows=[{"basin": BASIN}]))
        assert with_one.shell == pytest.approx(without.shell, rel=EXACT)

    def test_wider_than_the_basin_it_is_refused(self) -> None:
        """The basin and its wall take 0.29 of the 0.3."""
        weir = {**SIDE, "basin": {**BASIN, "width": 0.04}}
        found = error_of(ten_by_five(shell=self.SHELL, overflows=[weir]))
        assert found.key == ("shell", "footing", "projection")
        assert found.rule == "must end under the 'basin', beside which no footing can stand"

    def test_a_thickened_edge_goes_on_under_the_wall_beside_a_basin(self) -> None:
        """It is 0.4 wide, 0.3 deep, all round."""
        shell = {"thickened_edge": {"width": 0.4, "depth": 0.3}}
        weirs = [{**SIDE, "basin": BASIN}]
        gained = takeoff_of(ten_by_five(shell=shell, overflows=weirs)).shell
        gained -= takeoff_of(ten_by_five(overflows=weirs)).shell
        assert gained == pytest.approx((10.5 * 5.5 - 9.7 * 4.7) * 0.3, rel=EXACT)

    def test_a_thickened_edge_goes_on_under_a_spa_astride(self) -> None:
        """Within the spa's ring it stands on the spa's own soffit, under its walls on the edge."""
        shell = {"thickened_edge": {"width": 0.4, "depth": 0.3}}
        spas = [{"outline": circle(1.0, centre=[0.0, -2.5]), "depth": 0.9}]
        gained = takeoff_of(ten_by_five(shell=shell, spas=spas)).shell
        gained -= takeoff_of(ten_by_five(spas=spas)).shell
        whole = (10.5 * 5.5 - 9.7 * 4.7) * 0.3
        assert whole - 2.0 * 0.4 * 0.3 < gained < whole - 1.9 * 0.4 * 0.3
