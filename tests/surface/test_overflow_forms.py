"""Weirs, basins and channels against closed forms and hand arithmetic."""

from __future__ import annotations

import math
from typing import Any, ClassVar

import pytest

from poolgeo.errors import PoolFileError
from poolgeo.quantities import Takeoff

from ..measure.quantities import (
    area,
    circle,
    lengths,
    level,
    model_of,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    wet_area,
)

EXACT = 1e-6
"""Relative: plane faces on straight sides."""
VOLUME = 5e-4
SURFACE = 1e-3
"""Relative: what the chords of curves may lose."""

WEST = {"start": [-5.0, 2.5], "end": [-5.0, -2.5]}
"""The whole of the west side of a pool 10 by 5."""
BASIN = {"width": 1.0, "drop": 0.4, "depth": 0.8}


def west(basin: dict[str, Any] | None = None, **weir: Any) -> Takeoff:
    """Take off a pool 10 by 5 by 1.5 that overflows along its west side."""
    file = {**WEST, **weir, "basin": {**BASIN, **(basin or {})}}
    return takeoff_of(pool(rectangle(10.0, 5.0), level(1.5), overflows=[file]))


def coved(length: float, width: float, depth: float, r: float) -> float:
    """Volume of a rectangular basin with a cove: its plan, inset by what the ball leaves.

    At a height u below the centre of the ball the inset is r - sqrt(r^2 - u^2); its integral over
    the height is r^2 (1 - pi/4), that of its square r^3 (5/3 - pi/2).
    """
    first, second = r * r * (1.0 - math.pi / 4.0), r**3 * (5.0 / 3.0 - math.pi / 2.0)
    return length * width * depth - 2.0 * (length + width) * first + 4.0 * second


class TestBesideAStraightWall:
    """A weir 0.25 thick and 5 long, 0.15 lower than the wall beside it."""

    def test_waters(self) -> None:
        """The pool keeps 10 x 5 x 1.5; the basin holds 5 x 1 x 0.8."""
        assert west().water == pytest.approx({"pool": 75.0, "basin": 4.0}, rel=EXACT)

    def test_areas(self) -> None:
        """Each face is a rectangle; the weir's face goes 0.4 + 0.8 down to the basin's floor."""
        takeoff = west()
        assert area(takeoff, "weir top") == pytest.approx(5 * 0.25, rel=EXACT)
        ends = 2 * 0.25 * 0.15  # of the pool's wall, beside the weir
        assert area(takeoff, "wall") == pytest.approx(30 * 1.65 - 5 * 0.15 + ends, rel=EXACT)
        assert area(takeoff, "weir face", "basin") == pytest.approx(5 * 1.2, rel=EXACT)
        assert wet_area(takeoff, "weir face", "basin") == pytest.approx(5 * 0.8, rel=EXACT)
        assert area(takeoff, "basin floor", "basin") == pytest.approx(5.0, rel=EXACT)
        assert area(takeoff, "basin wall", "basin") == pytest.approx(7 * 0.9, rel=EXACT)
        assert area(takeoff, "wall top", "basin") == pytest.approx(1.25 * 5.5 - 5, rel=EXACT)

    def test_concrete(self) -> None:
        """A box less its inside and what the weir is lower by, the basin's walls and its floor."""
        box = 10.5 * 5.5 * 1.9 - 50 * 1.65 - 5 * 0.25 * 0.15
        walls = (1.25 * 5.5 - 5.0) * (0.25 + 0.8 + 0.1)
        assert west().shell == pytest.approx(box + walls + 5 * 0.25, rel=EXACT)

    def test_a_basin_deeper_than_the_pool(self) -> None:
        """The wall between them, 0.25 x 5.5, goes down to the basin's soffit, 1.4 deeper."""
        takeoff = west({"depth": 2.5})
        assert takeoff.water["basin"] == pytest.approx(12.5, rel=EXACT)
        box = 10.5 * 5.5 * 1.9 - 50 * 1.65 - 5 * 0.25 * 0.15
        walls = (1.25 * 5.5 - 5.0) * (0.25 + 2.5 + 0.1) + 5.5 * 0.25 * (3.15 - 1.75)
        assert takeoff.shell == pytest.approx(box + walls + 5 * 0.25, rel=EXACT)

    @pytest.mark.parametrize("thickness", [0.15, 0.4])
    def test_a_weir_of_its_own_thickness(self, thickness: float) -> None:
        """The basin begins at its face."""
        takeoff = west(thickness=thickness)
        assert area(takeoff, "weir top") == pytest.approx(5 * thickness, rel=EXACT)
        assert area(takeoff, "weir face", "basin") == pytest.approx(5 * 1.2, rel=EXACT)
        assert takeoff.water == pytest.approx({"pool": 75.0, "basin": 4.0}, rel=EXACT)

    def test_edges(self) -> None:
        """The crest's two edges are external; foot and upright corners of the basin internal."""
        takeoff = west()
        assert lengths(takeoff, "wall/weir top", "external") == pytest.approx([5.0])
        assert lengths(takeoff, "wall/weir top", "internal") == pytest.approx([0.25, 0.25])
        assert lengths(takeoff, "weir top/weir face", "external") == pytest.approx([5.0])
        assert lengths(takeoff, "weir face/basin floor", "internal") == pytest.approx([5.0])
        assert lengths(takeoff, "basin floor/basin wall") == pytest.approx([1.0, 1.0, 5.0])
        assert lengths(takeoff, "weir face/basin wall", "internal") == pytest.approx([0.9, 0.9])

    def test_a_cove_in_the_basin(self) -> None:
        """All round, along the weir too."""
        takeoff = west({"cove": {"radius": 0.1}})
        assert takeoff.water["basin"] == pytest.approx(coved(5.0, 1.0, 0.8, 0.1), rel=VOLUME)
        assert sum(run.length for run in takeoff.coves) == pytest.approx(12.0, rel=SURFACE)


class TestTopsThatFall:
    """What is on the pool's side of the crest belongs to the pool, what is beyond to the basin."""

    def test_outwards(self) -> None:
        """The crest is at the pool's outline: the top is the basin's, and dry."""
        takeoff = west(fall=0.1)
        assert area(takeoff, "weir top") == 0.0
        slant = 5 * 0.25 * math.hypot(1.0, 0.1)
        assert area(takeoff, "weir top", "basin") == pytest.approx(slant, rel=EXACT)
        assert wet_area(takeoff, "weir top", "basin") == 0.0
        assert area(takeoff, "weir face", "basin") == pytest.approx(5 * 1.175, rel=EXACT)
        assert takeoff.water["pool"] == pytest.approx(75.0, rel=EXACT)

    def test_outwards_below_the_water(self) -> None:
        """The pool's water ends over the crest, at its outline."""
        assert west(crest=-0.01, fall=0.1).water["pool"] == pytest.approx(75.0, rel=EXACT)

    def test_inwards(self) -> None:
        """The crest, 10 mm above the water, is at the face: 15 mm of water at the outline."""
        takeoff = west(crest=0.01, fall=-0.1)
        wedge = 5 * 0.15 * 0.015 / 2
        assert takeoff.water["pool"] == pytest.approx(75.0 + wedge, rel=EXACT)
        wet = 5 * 0.15 * math.hypot(1.0, 0.1)
        assert wet_area(takeoff, "weir top") == pytest.approx(wet, rel=EXACT)

    def test_level_below_the_water(self) -> None:
        """10 mm of water stand on it, up to its face."""
        takeoff = west(crest=-0.01)
        assert takeoff.water["pool"] == pytest.approx(75.0 + 5 * 0.25 * 0.01, rel=EXACT)
        assert wet_area(takeoff, "weir top") == pytest.approx(5 * 0.25, rel=EXACT)

    def test_about_a_corner(self) -> None:
        """Two planes in a mitre, which is an edge: 0.25 by root 2, and the fall."""
        weir = {"start": [-2.0, 2.5], "end": [-5.0, -1.0], "fall": 0.2, "basin": BASIN}
        takeoff = takeoff_of(pool(rectangle(10.0, 5.0), level(1.5), overflows=[weir]))
        slant = (3.125 + 3.625) * 0.25 * math.hypot(1.0, 0.2)
        assert area(takeoff, "weir top", "basin") == pytest.approx(slant, rel=EXACT)
        mitre = math.hypot(0.25 * math.sqrt(2.0), 0.05)
        assert lengths(takeoff, "weir top/weir top", "external") == pytest.approx([mitre])

    @pytest.mark.parametrize("fall", [0.1, -0.1])
    def test_all_round_a_circle(self, fall: float) -> None:
        """The top is a frustum: pi (R + R') times its slant, in one piece."""
        weir = {"fall": fall, "crest": 0.03, "basin": BASIN}
        takeoff = takeoff_of(pool(circle(4.0), level(1.5), overflows=[weir]))
        body = "basin" if fall > 0 else "pool"
        slant = math.pi * (4.0 + 4.25) * 0.25 * math.hypot(1.0, 0.1)
        assert area(takeoff, "weir top", body) == pytest.approx(slant, rel=SURFACE)
        assert lengths(takeoff, "weir top/weir top") == []


class TestOnCurves:
    """A quarter of a circle of 4: the weir from 4 to 4.25, the basin from there to 5.25."""

    ARC: ClassVar[dict[str, Any]] = {"start": [4.0, 0.0], "end": [0.0, 4.0], "basin": BASIN}

    def test_waters_and_areas(self) -> None:
        """Sectors of rings."""
        takeoff = takeoff_of(pool(circle(4.0), level(1.5), overflows=[self.ARC]))
        ring = math.pi / 4 * (5.25**2 - 4.25**2)
        assert takeoff.water["basin"] == pytest.approx(ring * 0.8, rel=VOLUME)
        face = math.pi / 2 * 4.25 * 1.2
        assert area(takeoff, "weir face", "basin") == pytest.approx(face, rel=SURFACE)
        walls = (math.pi / 2 * 5.25 + 2.0) * 0.9
        assert area(takeoff, "basin wall", "basin") == pytest.approx(walls, rel=SURFACE)

    def test_a_cove(self) -> None:
        """No run breaks off at a facet: four of them, as long as the foot."""
        file = {**self.ARC, "basin": {**BASIN, "cove": {"radius": 0.1}}}
        takeoff = takeoff_of(pool(circle(4.0), level(1.5), overflows=[file]))
        assert len(takeoff.coves) == 4
        foot = math.pi / 2 * (4.25 + 5.25) + 2.0
        assert sum(run.length for run in takeoff.coves) == pytest.approx(foot, rel=SURFACE)

    def test_about_the_inside_of_an_l(self) -> None:
        """Beyond the re-entrant corner the basin is narrower than its weir is long."""
        corner = polygon((0, 0), (8, 0), (8, 3), (4, 3), (4, 7), (0, 7))
        weir = {"start": [7.0, 3.0], "end": [4.0, 6.0], "basin": BASIN}
        takeoff = takeoff_of(pool(corner, level(1.5), overflows=[weir]))
        assert area(takeoff, "weir top") == pytest.approx(6 * 0.25 - 0.25**2, rel=EXACT)
        plan = 2 * (3 - 0.25) * 1.0 - 1.0
        assert takeoff.water["basin"] == pytest.approx(plan * 0.8, rel=EXACT)


class TestBasinsOfTheirOwnOutline:
    """What lies under the pool and its walls is left out."""

    def test_beside_the_pool(self) -> None:
        """From x = -8 to -5.25, and beside the pool's walls from y = -4 to 4."""
        own = {"outline": rectangle(3.0, 8.0, centre=[-6.5, 0.0]), "drop": 0.4, "depth": 0.8}
        weir = {**WEST, "basin": own}
        takeoff = takeoff_of(pool(rectangle(10.0, 5.0), level(1.5), overflows=[weir]))
        plan = 3.0 * 8.0 - 0.25 * 5.5
        assert takeoff.water["basin"] == pytest.approx(plan * 0.8, rel=EXACT)

    def test_all_round_the_pool(self) -> None:
        """The pool stands in it, an island of 10.5 by 5.5, with a wall and one weir."""
        own = {"outline": rectangle(14.0, 9.0), "drop": 0.4, "depth": 0.8}
        model = model_of(pool(rectangle(10.0, 5.0), level(1.5), overflows=[{**WEST, "basin": own}]))
        assert ("basin", "hole") in model.outlines
        water = model.bodies[1].water.trimesh()
        assert water.euler_number == 0
        assert water.volume == pytest.approx((14 * 9 - 10.5 * 5.5) * 0.8, rel=EXACT)


class TestChannels:
    """A circle of 4 with a lip of 0.25 and a channel of 0.3, 0.35 deep, all round."""

    CHANNEL: ClassVar[dict[str, Any]] = {"width": 0.3, "depth": 0.35}

    def test_dry(self) -> None:
        """It has surfaces and no water; its outer wall goes up to the deck."""
        takeoff = takeoff_of(pool(circle(4.0), level(1.5), channels=[self.CHANNEL]))
        assert takeoff.water["channel"] == 0.0
        lip, floor = math.pi * (4.25**2 - 4**2), math.pi * (4.55**2 - 4.25**2)
        assert area(takeoff, "weir top") == pytest.approx(lip, rel=SURFACE)
        assert area(takeoff, "channel floor", "channel") == pytest.approx(floor, rel=SURFACE)
        wall = math.tau * 4.55 * (0.35 + 0.15)
        assert area(takeoff, "channel wall", "channel") == pytest.approx(wall, rel=SURFACE)
        face = math.tau * 4.25 * 0.35
        assert area(takeoff, "weir face", "channel") == pytest.approx(face, rel=SURFACE)
        assert area(takeoff, "wall top") == 0.0

    def test_wet_is_a_ring(self) -> None:
        """0.1 of water in a ring: no solid with a hole has an Euler characteristic but 0."""
        model = model_of(pool(circle(4.0), level(1.5), channels=[{**self.CHANNEL, "water": 0.1}]))
        water = model.bodies[1].water.trimesh()
        assert water.euler_number == 0
        ring = math.pi * (4.55**2 - 4.25**2)
        assert water.volume == pytest.approx(ring * 0.1, rel=VOLUME)

    def test_its_cove_by_pappus(self) -> None:
        """The arc's centroid stands r (1 - 2/pi) off either wall; it is pi r / 2 long."""
        file = {**self.CHANNEL, "cove": {"radius": 0.05}}
        takeoff = takeoff_of(pool(circle(4.0), level(1.5), channels=[file]))
        off, arc = 0.05 * (1.0 - 2.0 / math.pi), math.pi * 0.05 / 2.0
        inner, outer = math.tau * (4.25 + off) * arc, math.tau * (4.55 - off) * arc
        assert area(takeoff, "cove", "channel") == pytest.approx(inner + outer, rel=SURFACE)
        assert sorted(run.length for run in takeoff.coves) == pytest.approx(
            [math.tau * 4.25, math.tau * 4.55], rel=SURFACE
        )

    def test_a_floor_that_falls(self) -> None:
        """Under water everywhere: the mean depth is that at the middle, by the plan's symmetry."""
        file = {**self.CHANNEL, "floor_fall": 0.01, "direction": 40.0, "water": 0.15}
        takeoff = takeoff_of(pool(circle(4.0), level(1.5), channels=[file]))
        plan = math.pi * (4.55**2 - 4.25**2)
        depth = 0.15 - 0.01 * 4.55
        assert takeoff.water["channel"] == pytest.approx(plan * depth, rel=VOLUME)

    def test_its_concrete_where_the_floor_falls(self) -> None:
        """The slab is as thick everywhere: the soffit falls with the floor."""
        side = {"start": [5.0, -2.0], "end": [5.0, 2.0], "direction": 90.0, **self.CHANNEL}
        flat, falls = (
            takeoff_of(
                pool(rectangle(10.0, 5.0), level(1.5), channels=[{**side, "floor_fall": fall}])
            ).shell
            for fall in (0.0, 0.02)
        )
        # of the walls, 0.25 thick, those outside go down to the lowest soffit: 0.08 deeper
        thicker = 0.25 * (math.hypot(1.0, 0.02) - 1.0)
        walls = 0.3 * 0.25 * 2 + 0.25 * 4.5
        assert falls - flat == pytest.approx(
            walls * (0.02 * 4.0 + thicker) + 0.3 * 4.0 * thicker, rel=1e-4
        )

    def test_the_lip_takes_the_place_of_the_wall_top(self) -> None:
        """Over a sloping floor the pool's wall ends at the water level all round."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.05), channels=[self.CHANNEL]))
        assert area(takeoff, "wall") == pytest.approx(24 * 1.5, rel=EXACT)
        assert wet_area(takeoff, "wall") == pytest.approx(24 * 1.5, rel=EXACT)


class TestRoundATightCorner:
    """An L whose corners are rounded by less than its walls are thick."""

    L: ClassVar = polygon((0, 0), (10, 0), (10, 4), (5, 4), (5, 8), (0, 8), corner_radius=0.1)
    CHANNEL: ClassVar = {"crest": 0.0, "width": 0.3, "depth": 0.4}

    def test_its_wall_has_a_corner(self) -> None:
        """Outside the rounding is gone: 10.5 by 8.5 less 5 by 4, with five rounded corners."""
        corner = (1 - math.pi / 4) * 0.1**2
        outer = 10.5 * 8.5 - 5 * 4 - 5 * (1 - math.pi / 4) * 0.35**2
        takeoff = takeoff_of(pool(self.L, level(1.5)))
        assert area(takeoff, "wall top") == pytest.approx(outer - (60 - 4 * corner), rel=SURFACE)

    @pytest.mark.parametrize("radius", [0.1, 0.4])
    def test_its_channel_has_one(self, radius: float) -> None:
        """Two legs of 2 m less the wall, 0.3 m wide; the corner belongs to both.

        Where the wall's outer face is still round, by 0.15 m, that takes a spandrel.
        """
        channel = {**self.CHANNEL, "start": [7, 4], "end": [5, 6]}
        takeoff = takeoff_of(
            pool(self.L | {"corner_radius": radius}, level(1.5), channels=[channel])
        )
        spandrel = (1 - math.pi / 4) * max(radius - 0.25, 0.0) ** 2
        want = 2 * 1.75 * 0.3 - 0.3**2 - spandrel
        assert area(takeoff, "channel floor", "channel") == pytest.approx(want, rel=SURFACE)

    def test_a_top_that_falls_has_no_room(self) -> None:
        """The finding says where."""
        channel = {**self.CHANNEL, "fall": 0.05}
        with pytest.raises(
            PoolFileError, match="turns more tightly than the weir is thick"
        ) as caught:
            model_of(pool(self.L, level(1.5), channels=[channel]))
        assert "near (5.100, 4.000) m" in caught.value.findings[0].rule


def test_a_curve_of_a_combined_outline_has_the_same_basin() -> None:
    """A rounded corner elsewhere, tighter than its wall is thick, moves nothing here."""
    ellipse = {"shape": "ellipse", "length": 12.0, "width": 6.0}
    box = rectangle(6.0, 4.0, corner_radius=0.3, centre=[5.0, 1.0])
    both = {"shape": "combined", "parts": [{"add": ellipse}, {"add": box}]}
    basin = {"start": [-3.5, 2.5], "end": [-5.8, -0.8], "crest": 0.0, "basin": BASIN}
    one, other = (
        takeoff_of(pool(shape, level(1.5), overflows=[basin])).water["basin"]
        for shape in (ellipse, both)
    )
    assert one == pytest.approx(other, rel=VOLUME)
