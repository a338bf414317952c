"""The shell's outside, its walls stretch by stretch, recess, beam, footing: closed forms."""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.quantities import Takeoff

from ..measure.quantities import (
    area,
    circle,
    lengths,
    level,
    plan_area,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
)

EXACT = 1e-6
"""Relative: straight outlines, on a grid of a micrometre."""
CURVED = 1e-3
"""Relative: what chords of a flattened curve may lose."""

FREE, DEPTH, WALL, SLAB = 0.2, 1.5, 0.25, 0.25
HIGH = FREE + DEPTH + SLAB
R = 3.0
ANGLE = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))


def straight(concrete: dict[str, Any] | None = None, **more: Any) -> Takeoff:
    """Measure a rectangle of 8 by 4, level at 1.5, with walls and floor of 0.25."""
    file = pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, **more)
    return takeoff_of(file | {"shell": file["shell"] | (concrete or {})})


def round_(concrete: dict[str, Any] | None = None, **more: Any) -> Takeoff:
    """Measure a circle of radius 3, level at 1.5, with walls and floor of 0.25."""
    file = pool(circle(R), level(DEPTH), freeboard=FREE, **more)
    return takeoff_of(file | {"shell": file["shell"] | (concrete or {})})


def outer(takeoff: Takeoff, kind: str, body: str = "pool") -> float:
    """Return the area of one kind of the outside, 0 where there is none [m2]."""
    return sum(row.area for row in takeoff.outside if (row.body, row.kind) == (body, kind))


def outer_lengths(takeoff: Takeoff, kind: str, sense: str) -> list[float]:
    """Return the lengths of the outer runs of one kind, shortest first [m]."""
    runs = takeoff.outside_edges
    return sorted(run.length for run in runs if (run.kind, run.sense) == (kind, sense))


def ring(inner: float, outside: float) -> float:
    """Area between two circles."""
    return math.pi * (outside**2 - inner**2)


class TestTheOutside:
    """A box of 8.5 by 4.5 by 1.95 round a pool of 8 by 4."""

    def test_areas(self) -> None:
        """Outer wall = perimeter times height, soffit = plan."""
        takeoff = straight()
        assert outer(takeoff, "outer wall") == pytest.approx(2 * (8.5 + 4.5) * HIGH, rel=EXACT)
        assert outer(takeoff, "soffit") == pytest.approx(8.5 * 4.5, rel=EXACT)
        assert {row.kind for row in takeoff.outside} == {"outer wall", "soffit"}
        assert takeoff.outside_edges == ()

    def test_in_the_ground(self) -> None:
        """Blinding runs out all round; the soffit is cast on it and takes no formwork."""
        takeoff = straight(setting="in ground", concrete={"blinding": 0.15})
        assert outer(takeoff, "blinding", "") == pytest.approx(8.8 * 4.8, rel=EXACT)
        assert outer(takeoff, "formwork", "") == pytest.approx(26 * HIGH, rel=EXACT)
        (warning,) = takeoff.warnings
        assert "ground water lifts an emptied pool" in str(warning)

    def test_suspended(self) -> None:
        """The soffit takes formwork, and is seen from below."""
        takeoff = straight(setting="suspended")
        assert outer(takeoff, "formwork", "") == pytest.approx(26 * HIGH + 8.5 * 4.5, rel=EXACT)
        assert outer(takeoff, "seen from below", "") == pytest.approx(8.5 * 4.5, rel=EXACT)
        assert outer(takeoff, "blinding", "") == 0.0
        assert takeoff.warnings == ()

    def test_edges_of_a_box(self) -> None:
        """Twelve, all salient: four above, four below, four upright."""
        takeoff = straight(setting="suspended")
        sides = [4.5, 4.5, 8.5, 8.5]
        for kind, want in (
            ("wall top/outer wall", sides),
            ("outer wall/soffit", sides),
            ("outer wall/outer wall", [HIGH] * 4),
        ):
            assert outer_lengths(takeoff, kind, "external") == pytest.approx(want, rel=EXACT)
        assert len(takeoff.outside_edges) == 12
        assert {round(run.angle, 6) for run in takeoff.outside_edges} == {270.0}

    def test_a_reentrant_corner_is_internal(self) -> None:
        """Of an L's outside too: five salient uprights and one re-entrant."""
        file = pool(ANGLE, level(DEPTH), freeboard=FREE, setting="suspended")
        takeoff = takeoff_of(file)
        assert len(outer_lengths(takeoff, "outer wall/outer wall", "external")) == 5
        assert len(outer_lengths(takeoff, "outer wall/outer wall", "internal")) == 1

    def test_a_sloping_soffit(self) -> None:
        """Soffit = plan times sqrt(1 + g2); blinding follows it, its strip is plan."""
        file = pool(rectangle(8.0, 4.0), plane(1.5, 0.1), setting="in ground")
        takeoff = takeoff_of(file)
        slope = 8.5 * 4.5 * math.sqrt(1.01)
        strip = 8.7 * 4.7 - 8.5 * 4.5
        assert outer(takeoff, "soffit") == pytest.approx(slope, rel=EXACT)
        assert outer(takeoff, "blinding", "") == pytest.approx(slope + strip, rel=EXACT)

    def test_a_round_tank(self) -> None:
        """A cylinder of radius 3.25."""
        takeoff = round_(setting="in ground")
        around = 2 * math.pi * (R + WALL)
        assert outer(takeoff, "outer wall") == pytest.approx(around * HIGH, rel=CURVED)
        assert outer(takeoff, "soffit") == pytest.approx(ring(0, R + WALL), rel=CURVED)
        assert outer(takeoff, "blinding", "") == pytest.approx(ring(0, R + WALL + 0.1), rel=CURVED)
        (edge,) = outer_lengths(takeoff, "outer wall/soffit", "external")
        assert edge == pytest.approx(around, rel=CURVED)
        assert outer_lengths(takeoff, "outer wall/outer wall", "external") == []

    def test_a_free_standing_spa_has_its_own(self) -> None:
        """A cylinder of its own beside the pool's box."""
        spa = {"outline": circle(1.0, centre=[7.0, 0.0]), "depth": 1.0, "freeboard": 0.1}
        takeoff = straight(spas=[spa])
        around = 2 * math.pi * 1.25
        assert outer(takeoff, "outer wall", "spa") == pytest.approx(around * 1.35, rel=CURVED)
        assert outer(takeoff, "soffit", "spa") == pytest.approx(ring(0, 1.25), rel=CURVED)
        assert outer(takeoff, "outer wall") == pytest.approx(26 * HIGH, rel=EXACT)


class TestRaisedWalls:
    """A stretch of wall that is higher or lower than the others."""

    @pytest.mark.parametrize("height", [0.6, 0.05])
    def test_on_a_straight_side(self, height: float) -> None:
        """Two metres of wall, 0.25 thick: an end is thickness times step."""
        step = height - FREE
        takeoff = straight(walls=[{"start": [-1, -2], "end": [1, -2], "height": height}])
        bare = straight()
        assert takeoff.shell - bare.shell == pytest.approx(2 * WALL * step, rel=EXACT)
        assert area(takeoff, "wall") - area(bare, "wall") == pytest.approx(2 * step, rel=EXACT)
        assert area(takeoff, "wall end") == pytest.approx(2 * WALL * abs(step), rel=EXACT)
        assert area(takeoff, "wall top") == pytest.approx(area(bare, "wall top"), rel=EXACT)
        assert outer(takeoff, "outer wall") == pytest.approx(26 * HIGH + 2 * step, rel=EXACT)
        for sense in ("internal", "external"):
            found = lengths(takeoff, "wall top/wall end", sense)
            assert found == pytest.approx([WALL, WALL], rel=EXACT)
        upright = lengths(takeoff, "wall/wall end", "external")
        assert upright == pytest.approx([abs(step)] * 2, rel=EXACT)
        assert takeoff.water == pytest.approx(bare.water, rel=EXACT)

    def test_half_of_a_round_pool(self) -> None:
        """By Pappus: half a ring of concrete, half a cylinder of wall."""
        takeoff = round_(walls=[{"start": [R, 0], "end": [-R, 0], "height": 0.7}])
        bare, step = round_(), 0.7 - FREE
        assert takeoff.shell - bare.shell == pytest.approx(ring(R, R + WALL) / 2 * step, rel=CURVED)
        assert area(takeoff, "wall") - area(bare, "wall") == pytest.approx(
            math.pi * R * step, rel=CURVED
        )
        assert area(takeoff, "wall end") == pytest.approx(2 * WALL * step, rel=CURVED)

    @pytest.mark.parametrize(
        ("start", "end", "plan"),
        [
            ((0, 0), (7, 0), 7 * WALL),  # the corner blocks belong to the neighbours
            ((5, 0), (7, 2), (2 + 2 + WALL) * WALL),
            # from an inside corner of the concrete along its bisector
            ((7, 3), (3.5, 3), 3.5 * WALL - WALL**2 / 2),
            ((3.5, 3), (3.5, 6), 3 * WALL - WALL**2 / 2),
            ((4.5, 3), (3.5, 4), 2 * WALL - WALL**2),
            # square to the wall up to the bisector, and along it
            ((6, 3), (3.6, 3), 2.4 * WALL - (WALL - 0.1) ** 2 / 2),
        ],
    )
    def test_at_corners(
        self, start: tuple[float, float], end: tuple[float, float], plan: float
    ) -> None:
        """Concrete = its plan times the step."""
        file = pool(ANGLE, level(DEPTH), freeboard=FREE)
        raised = file | {"walls": [{"start": list(start), "end": list(end), "height": 0.6}]}
        gained = takeoff_of(raised).shell - takeoff_of(file).shell
        assert gained == pytest.approx(plan * 0.4, rel=1e-4)

    def test_all_round(self) -> None:
        """As a greater freeboard does."""
        takeoff = straight(walls=[{"height": 0.6}])
        want = takeoff_of(pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=0.6))
        assert takeoff.shell == pytest.approx(want.shell, rel=EXACT)
        assert area(takeoff, "wall") == pytest.approx(area(want, "wall"), rel=EXACT)

    def test_two_that_meet(self) -> None:
        """One starts where the other ends: one face between them."""
        walls = [
            {"start": [-2, -2], "end": [0, -2], "height": 0.6},
            {"start": [0, -2], "end": [2, -2], "height": 0.8},
        ]
        takeoff = straight(walls=walls)
        assert area(takeoff, "wall end") == pytest.approx(WALL * (0.4 + 0.2 + 0.6), rel=EXACT)


class TestThickness:
    """A stretch of wall that is thicker or thinner."""

    @pytest.mark.parametrize("thickness", [0.4, 0.15])
    def test_on_a_straight_side(self, thickness: float) -> None:
        """Two metres of wall from top to soffit, and two returns outside."""
        more = thickness - WALL
        takeoff = straight(walls=[{"start": [-1, -2], "end": [1, -2], "thickness": thickness}])
        assert takeoff.shell - straight().shell == pytest.approx(2 * more * HIGH, rel=EXACT)
        assert outer(takeoff, "outer wall") == pytest.approx((26 + 2 * abs(more)) * HIGH, rel=EXACT)
        assert plan_area(takeoff, "wall top") == pytest.approx(6.25 + 2 * more, rel=EXACT)

    def test_higher_and_thicker(self) -> None:
        """Both at once."""
        walls = [{"start": [-1, -2], "end": [1, -2], "thickness": 0.4, "height": 0.6}]
        gained = straight(walls=walls).shell - straight().shell
        assert gained == pytest.approx(2 * 0.15 * HIGH + 2 * 0.4 * 0.4, rel=EXACT)


class TestLedge:
    """A recess at the waterline."""

    WIDTH, DOWN = 0.1, 0.3

    def test_all_round_a_rectangle(self) -> None:
        """Band (8.2 x 4.2 - 8 x 4); the wall stands on two lines."""
        takeoff = straight(recess=[{"width": self.WIDTH, "depth": self.DOWN}])
        band = 8.2 * 4.2 - 32
        assert plan_area(takeoff, "recess") == pytest.approx(band, rel=EXACT)
        assert area(takeoff, "wall") == pytest.approx(24 * 1.2 + 24.8 * 0.5, rel=EXACT)
        assert takeoff.water["pool"] == pytest.approx(48 + band * self.DOWN, rel=EXACT)
        assert straight().shell - takeoff.shell == pytest.approx(band * 0.5, rel=EXACT)
        assert sum(lengths(takeoff, "wall/recess", "external")) == pytest.approx(24, rel=EXACT)
        assert sum(lengths(takeoff, "wall/recess", "internal")) == pytest.approx(24.8, rel=EXACT)

    def test_all_round_a_circle(self) -> None:
        """By Pappus."""
        takeoff = round_(recess=[{"width": self.WIDTH, "depth": self.DOWN}])
        band = ring(R, R + self.WIDTH)
        assert area(takeoff, "recess") == pytest.approx(band, rel=CURVED)
        assert takeoff.water["pool"] == pytest.approx(
            ring(0, R) * DEPTH + band * self.DOWN, rel=CURVED
        )
        (edge,) = lengths(takeoff, "wall/recess", "internal")
        assert edge == pytest.approx(2 * math.pi * (R + self.WIDTH), rel=CURVED)

    def test_along_a_stretch(self) -> None:
        """Two metres; it returns at both ends, and the wall has corners there."""
        recess = {"width": self.WIDTH, "depth": self.DOWN, "start": [-1, -2], "end": [1, -2]}
        takeoff = straight(recess=[recess])
        assert area(takeoff, "recess") == pytest.approx(0.2, rel=EXACT)
        assert area(takeoff, "wall") - area(straight(), "wall") == pytest.approx(0.1, rel=EXACT)
        internal = lengths(takeoff, "wall/recess", "internal")
        assert internal == pytest.approx([0.1, 0.1, 2.0], rel=EXACT)
        assert lengths(takeoff, "wall/recess", "external") == pytest.approx([2.0], rel=EXACT)
        # from the recess up to the wall's top: two uprights at its back, two at its front
        assert lengths(takeoff, "wall/wall", "external") == pytest.approx([0.5, 0.5], rel=EXACT)
        assert lengths(takeoff, "wall/wall", "internal")[:2] == pytest.approx([0.5] * 2, rel=EXACT)


class TestBeam:
    """A bond beam 0.4 wide and 0.3 deep on a wall of 0.25."""

    BEAM: dict[str, float] = {"width": 0.4, "depth": 0.3}  # noqa: RUF012

    def test_straight(self) -> None:
        """It adds its overhang; its underside and side are outside."""
        takeoff = straight(concrete={"beam": self.BEAM}, setting="suspended")
        over = 8.8 * 4.8 - 8.5 * 4.5
        assert outer(takeoff, "beam underside") == pytest.approx(over, rel=EXACT)
        assert plan_area(takeoff, "wall top") == pytest.approx(8.8 * 4.8 - 32, rel=EXACT)
        assert takeoff.shell - straight().shell == pytest.approx(over * 0.3, rel=EXACT)
        assert outer(takeoff, "outer wall") == pytest.approx(
            26 * (HIGH - 0.3) + 2 * (8.8 + 4.8) * 0.3, rel=EXACT
        )
        foot = outer_lengths(takeoff, "outer wall/beam underside", "internal")
        assert sum(foot) == pytest.approx(26, rel=EXACT)
        edge = outer_lengths(takeoff, "outer wall/beam underside", "external")
        assert sum(edge) == pytest.approx(27.2, rel=EXACT)

    def test_round(self) -> None:
        """By Pappus."""
        takeoff = round_(concrete={"beam": self.BEAM})
        over = ring(R + WALL, R + 0.4)
        assert outer(takeoff, "beam underside") == pytest.approx(over, rel=CURVED)
        assert takeoff.shell - round_().shell == pytest.approx(over * 0.3, rel=2 * CURVED)

    @pytest.mark.parametrize("height", [0.45, 0.6])
    def test_on_a_raised_stretch(self, height: float) -> None:
        """It rises with the wall; where it hangs wholly above its neighbour there is air between.

        The neighbour's beam stands from -0.1 to 0.2, this one from height - 0.3 up.
        """
        walls = [{"start": [-1, -2], "end": [1, -2], "height": height}]
        takeoff = straight(concrete={"beam": self.BEAM}, walls=walls)
        bare = straight(concrete={"beam": self.BEAM})
        step = height - FREE
        assert takeoff.shell - bare.shell == pytest.approx(2 * WALL * step, rel=EXACT)
        above = min(step, 0.3)  # what of the overhang's end is free
        assert area(takeoff, "wall end") == pytest.approx(
            2 * (WALL * step + 0.15 * above), rel=EXACT
        )
        assert outer(takeoff, "outer wall") == pytest.approx(
            outer(bare, "outer wall") + 2 * step + 2 * 0.15 * above, rel=EXACT
        )

    def test_above_a_lower_and_thicker_wall(self) -> None:
        """The neighbour's beam stands from 0.15 up, this wall goes up to 0.1 under it.

        A thicker wall, less what it is lower, and less overhang, over two metres.
        """
        beam = {"width": 0.6, "depth": 0.05}
        walls = [{"start": [-1, -2], "end": [1, -2], "height": 0.1, "thickness": 0.4}]
        footing = {"projection": 0.5, "thickness": 0.2}
        want = 2 * (0.4 * (HIGH - 0.1) + 0.2 * 0.05 - WALL * HIGH - 0.35 * 0.05)
        gained = straight({"beam": beam}, walls=walls).shell - straight({"beam": beam}).shell
        assert gained == pytest.approx(want, rel=EXACT)
        both = {"beam": beam, "footing": footing}
        takeoff = straight(both, walls=walls)
        # the footing follows the thicker wall: 2 metres of 0.15 more in front, 0.5 more at each end
        beyond = 0.2 * (2 * 0.5 * 0.15 - 0.0)
        gained = takeoff.shell - straight(both).shell
        assert gained == pytest.approx(want + beyond, rel=EXACT)


class TestFooting:
    """A slab that runs out 0.3 beyond the wall, 0.2 thick."""

    FOOTING: dict[str, float] = {"projection": 0.3, "thickness": 0.2}  # noqa: RUF012

    def test_straight(self) -> None:
        """Its top, its side, and the longer soffit are outside."""
        takeoff = straight(concrete={"footing": self.FOOTING}, setting="in ground")
        beyond = 9.1 * 5.1 - 8.5 * 4.5
        assert outer(takeoff, "footing top") == pytest.approx(beyond, rel=EXACT)
        assert outer(takeoff, "footing side") == pytest.approx(28.4 * 0.2, rel=EXACT)
        assert outer(takeoff, "soffit") == pytest.approx(9.1 * 5.1, rel=EXACT)
        assert outer(takeoff, "outer wall") == pytest.approx(26 * (HIGH - 0.2), rel=EXACT)
        assert takeoff.shell - straight().shell == pytest.approx(beyond * 0.2, rel=EXACT)
        foot = outer_lengths(takeoff, "outer wall/footing top", "internal")
        assert sum(foot) == pytest.approx(26, rel=EXACT)
        assert outer(takeoff, "blinding", "") == pytest.approx(9.3 * 5.3, rel=EXACT)
        assert outer(takeoff, "formwork", "") == pytest.approx(
            26 * (HIGH - 0.2) + 28.4 * 0.2, rel=EXACT
        )

    def test_round_on_a_slope(self) -> None:
        """Its top is parallel to its underside: plan times sqrt(1 + g2), both."""
        shell = {"footing": self.FOOTING}
        takeoff = takeoff_of(pool(circle(R), plane(1.5, 0.1), shell=shell))
        beyond, slope = ring(R + WALL, R + WALL + 0.3), math.sqrt(1.01)
        assert outer(takeoff, "footing top") == pytest.approx(beyond * slope, rel=2 * CURVED)
        gained = takeoff.shell - takeoff_of(pool(circle(R), plane(1.5, 0.1))).shell
        assert gained == pytest.approx(beyond * 0.2 * slope, rel=2 * CURVED)

    @pytest.mark.parametrize("width", [0.4, 0.55, 0.7])
    def test_under_a_bond_beam(self, width: float) -> None:
        """There is ground between them: narrower, flush, or wider than the footing."""
        beam = {"width": width, "depth": 0.3}
        takeoff = straight(concrete={"footing": self.FOOTING, "beam": beam}, setting="suspended")
        under = (8 + 2 * width) * (4 + 2 * width) - 8.5 * 4.5
        beyond = 9.1 * 5.1 - 8.5 * 4.5
        assert takeoff.shell - straight().shell == pytest.approx(
            under * 0.3 + beyond * 0.2, rel=EXACT
        )
        assert outer(takeoff, "beam underside") == pytest.approx(under, rel=EXACT)
        assert outer(takeoff, "footing top") == pytest.approx(beyond, rel=EXACT)
        assert outer(takeoff, "footing side") == pytest.approx(28.4 * 0.2, rel=EXACT)
        around = 2 * (8 + 4 + 4 * width)
        assert outer(takeoff, "outer wall") == pytest.approx(
            26 * (HIGH - 0.5) + around * 0.3, rel=EXACT
        )


class TestThickenedEdge:
    """Concrete 0.3 deeper under the wall, 0.5 wide at its foot."""

    def test_square(self) -> None:
        """A ring of 8.5 x 4.5 less 7.5 x 3.5; its inner side is a step of the soffit."""
        takeoff = straight(concrete={"thickened_edge": {"width": 0.5, "depth": 0.3}})
        strip = 8.5 * 4.5 - 7.5 * 3.5
        assert takeoff.shell - straight().shell == pytest.approx(strip * 0.3, rel=EXACT)
        assert outer(takeoff, "soffit step") == pytest.approx(22 * 0.3, rel=EXACT)
        assert outer(takeoff, "soffit") == pytest.approx(8.5 * 4.5, rel=EXACT)
        assert outer(takeoff, "outer wall") == pytest.approx(26 * (HIGH + 0.3), rel=EXACT)

    def test_splayed(self) -> None:
        """Its inner side at 45 degrees: a frustum of 7.5 x 3.5 and 6.9 x 2.9 is left out."""
        edge = {"width": 0.5, "depth": 0.3, "splay": 0.3}
        takeoff = straight(concrete={"thickened_edge": edge})
        side = 7.5 * 3.5 - 6.9 * 2.9
        left_out = 0.3 / 6 * (7.5 * 3.5 + 4 * 7.2 * 3.2 + 6.9 * 2.9)
        assert takeoff.shell - straight().shell == pytest.approx(
            8.5 * 4.5 * 0.3 - left_out, rel=EXACT
        )
        assert outer(takeoff, "soffit") == pytest.approx(
            8.5 * 4.5 + side * (math.sqrt(2) - 1), rel=EXACT
        )
        assert outer(takeoff, "soffit step") == 0.0

    def test_splayed_and_round(self) -> None:
        """A frustum of a cone is left out; its side is pi (r + r') times the slant."""
        edge = {"width": 0.5, "depth": 0.3, "splay": 0.4}
        takeoff = round_(concrete={"thickened_edge": edge})
        a, b = R + WALL - 0.5, R + WALL - 0.9
        left_out = math.pi * 0.3 / 3 * (a * a + a * b + b * b)
        gained = takeoff.shell - round_().shell
        assert gained == pytest.approx(ring(0, R + WALL) * 0.3 - left_out, rel=2 * CURVED)
        side = math.pi * (a + b) * math.hypot(0.3, 0.4)
        assert outer(takeoff, "soffit") == pytest.approx(
            ring(a, R + WALL) + side + ring(0, b), rel=CURVED
        )

    def test_under_a_footing(self) -> None:
        """It goes out as far as the footing does."""
        shell = {
            "footing": {"projection": 0.3, "thickness": 0.2},
            "thickened_edge": {"width": 0.5, "depth": 0.3},
        }
        gained = straight(concrete=shell).shell - straight().shell
        want = (9.1 * 5.1 - 7.5 * 3.5) * 0.3 + (9.1 * 5.1 - 8.5 * 4.5) * 0.2
        assert gained == pytest.approx(want, rel=EXACT)
