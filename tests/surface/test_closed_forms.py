"""Closed forms: volumes and areas that a reader can check by hand."""

from __future__ import annotations

import math
from typing import ClassVar

import pytest

from ..measure.quantities import (
    area,
    breaks,
    circle,
    level,
    plan_area,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    wet_area,
)

EXACT = 1e-6
"""Relative: straight outlines, on a grid of a micrometre."""
CURVED = 1e-3
"""Relative: what chords of a flattened curve may lose."""

ANGLE = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
ANGLE_AREA, ANGLE_PERIMETER = 7 * 3 + 3.5 * 3, 2 * (7 + 6)


class TestLevelFloor:
    """Water is plan area times depth, wet wall perimeter times depth."""

    @pytest.mark.parametrize(
        ("outline", "plan", "perimeter"),
        [
            (rectangle(8.0, 4.0), 8 * 4, 2 * (8 + 4)),
            (rectangle(8.0, 4.0, rotation=33.0, centre=[3.0, -2.0]), 8 * 4, 2 * (8 + 4)),
            (ANGLE, ANGLE_AREA, ANGLE_PERIMETER),
            (polygon((0, 0), (0, 4), (3, 0)), 6, 12),  # clockwise
        ],
    )
    def test_straight_walls(
        self, outline: dict[str, object], plan: float, perimeter: float
    ) -> None:
        """V = A d, wall = P d under water and P (d + freeboard) in all."""
        takeoff = takeoff_of(pool(outline, level(1.5), freeboard=0.2))
        assert takeoff.water["pool"] == pytest.approx(plan * 1.5, rel=EXACT)
        assert area(takeoff, "floor") == pytest.approx(plan, rel=EXACT)
        assert wet_area(takeoff, "wall") == pytest.approx(perimeter * 1.5, rel=EXACT)
        assert area(takeoff, "wall") == pytest.approx(perimeter * (1.5 + 0.2), rel=EXACT)

    @pytest.mark.parametrize(
        ("outline", "plan", "perimeter"),
        [
            (circle(3.0), math.pi * 9, 2 * math.pi * 3),
            (
                rectangle(8.0, 4.0, corner_radius=1.0),
                8 * 4 - (4 - math.pi) * 1.0**2,
                2 * (8 + 4) - (8 - 2 * math.pi) * 1.0,
            ),
            (
                {"shape": "ellipse", "length": 10.0, "width": 5.0},
                math.pi * 5 * 2.5,
                # Ramanujan's second approximation, good to 1e-5 here
                math.pi * 7.5 * (1 + 3 / 9 / (10 + math.sqrt(4 - 3 / 9))),
            ),
        ],
    )
    def test_curved_walls(self, outline: dict[str, object], plan: float, perimeter: float) -> None:
        """V = A d and wall = P d, within what chords may lose."""
        takeoff = takeoff_of(pool(outline, level(1.5)))
        assert takeoff.water["pool"] == pytest.approx(plan * 1.5, rel=CURVED)
        assert wet_area(takeoff, "wall") == pytest.approx(perimeter * 1.5, rel=CURVED)


class TestSlopingFloor:
    """Floor = A sqrt(1 + g^2), water = A times the depth at the plan's centroid."""

    def test_an_l_shape(self) -> None:
        """The centroid of the L is at x = (21 x 3.5 + 10.5 x 1.75) / 31.5."""
        centroid = (21 * 3.5 + 10.5 * 1.75) / 31.5
        takeoff = takeoff_of(pool(ANGLE, plane(1.0, 0.15)))
        assert takeoff.water["pool"] == pytest.approx(
            ANGLE_AREA * (1.0 + 0.15 * centroid), rel=EXACT
        )
        assert area(takeoff, "floor") == pytest.approx(
            ANGLE_AREA * math.sqrt(1 + 0.15**2), rel=EXACT
        )
        assert plan_area(takeoff, "floor") == pytest.approx(ANGLE_AREA, rel=EXACT)

    @pytest.mark.parametrize("direction", [0.0, 37.0, 90.0, -135.0])
    def test_any_direction(self, direction: float) -> None:
        """About its centre a pool's water doesn't depend on the way that the floor falls."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.1, direction)))
        assert takeoff.water["pool"] == pytest.approx(8 * 4 * 1.5, rel=EXACT)
        assert area(takeoff, "floor") == pytest.approx(32 * math.sqrt(1.01), rel=EXACT)

    def test_wall_of_a_rectangle(self) -> None:
        """Two trapezia along the fall, two rectangles across it."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.1)))
        assert wet_area(takeoff, "wall") == pytest.approx(2 * 8 * 1.5 + 4 * (1.1 + 1.9), rel=EXACT)


class TestBrokenFloor:
    """Depth breaks: trapezoidal along the axis for a rectangle, prismoidal for ruled sides."""

    def test_a_rectangle(self) -> None:
        """V = w (sum of mean depth times length); floor = w (sum of slant lengths)."""
        floor = breaks((-2.0, 1.0), (1.0, 1.6), (2.0, 2.4))
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), floor))
        want = 4 * (1.0 * 2 + (1.0 + 1.6) / 2 * 3 + (1.6 + 2.4) / 2 * 1 + 2.4 * 2)
        assert takeoff.water["pool"] == pytest.approx(want, rel=EXACT)
        slants = 2 + math.hypot(3, 0.6) + math.hypot(1, 0.8) + 2
        assert area(takeoff, "floor") == pytest.approx(4 * slants, rel=EXACT)

    def test_a_trapezoid(self) -> None:
        """Prismoidal rule V = L (A1 + 4 Am + A2) / 6, exact for ruled sides.

        Widths 3 and 5, depths 1 and 2 over L = 6: sections 3, 4 x 1.5 and 10 m2. The average of
        the ends would give 39.
        """
        outline = polygon((0, -1.5), (6, -2.5), (6, 2.5), (0, 1.5))
        takeoff = takeoff_of(pool(outline, breaks((0.0, 1.0), (6.0, 2.0))))
        assert takeoff.water["pool"] == pytest.approx(6 * (3 + 4 * 4 * 1.5 + 10) / 6, rel=EXACT)

    def test_breaks_across_a_round_pool(self) -> None:
        """A break line through the middle: V = pi R^2 d + slope times half a disc's moment.

        The moment of half a disc about its diameter is 2 R^3 / 3.
        """
        takeoff = takeoff_of(pool(circle(3.0), breaks((0.0, 1.2), (4.0, 2.0), direction=50.0)))
        want = math.pi * 9 * 1.2 + 0.2 * 2 * 3**3 / 3
        assert takeoff.water["pool"] == pytest.approx(want, rel=CURVED)
        half = math.pi * 9 / 2
        assert area(takeoff, "floor") == pytest.approx(half * (1 + math.sqrt(1.04)), rel=CURVED)


class TestSteps:
    """Flights: risers by rise and width, treads by the goings."""

    @pytest.mark.parametrize("direction", [0.0, 90.0, 180.0])
    def test_wall_to_wall(self, direction: float) -> None:
        """Risers n h w, treads n g w; water less than bare by w g h (1 + ... + n)."""
        width = 8.0 if direction == 90.0 else 4.0
        n, g = 4, 0.3
        h = 1.5 / (n + 1)
        flight = {"shape": "end", "direction": direction, "going": g, "risers": n}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), steps=[flight]))
        assert area(takeoff, "riser") == pytest.approx(n * h * width, rel=EXACT)
        assert area(takeoff, "tread") == pytest.approx(n * g * width, rel=EXACT)
        assert area(takeoff, "step side") == 0.0
        block = width * g * h * n * (n + 1) / 2
        assert takeoff.water["pool"] == pytest.approx(8 * 4 * 1.5 - block, rel=EXACT)

    def test_from_a_side(self) -> None:
        """In the open: a riser h w for each tread, and sides g h (1 + ... + n) twice."""
        n, g, w = 3, 0.3, 1.2
        h = 1.5 / (n + 1)
        flight = {"shape": "side", "at": [-4.0, 0.0], "width": w, "going": g, "risers": n}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), steps=[flight]))
        assert area(takeoff, "riser") == pytest.approx(n * h * w, rel=EXACT)
        assert area(takeoff, "tread") == pytest.approx(n * g * w, rel=EXACT)
        assert area(takeoff, "step side") == pytest.approx(2 * g * h * n * (n + 1) / 2, rel=EXACT)

    def test_by_rise(self) -> None:
        """With ``rise`` 0.25 in 1.2 m: treads at 0.25, 0.5, 0.75 and 1.0, the last riser 0.2."""
        flight = {"shape": "end", "direction": 0.0, "going": 0.3, "rise": 0.25}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.2), steps=[flight]))
        assert area(takeoff, "tread") == pytest.approx(4 * 0.3 * 4, rel=EXACT)
        assert area(takeoff, "riser") == pytest.approx((3 * 0.25 + 0.2) * 4, rel=EXACT)

    def test_a_top_tread_of_its_own(self) -> None:
        """The risers share what is left below the top tread."""
        flight = {"shape": "end", "direction": 0.0, "going": 0.3, "risers": 3, "top_tread": 0.15}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.2), steps=[flight]))
        assert area(takeoff, "riser") == pytest.approx((1.2 - 0.15) * 4, rel=EXACT)
        block = 4 * 0.3 * ((1.2 - 0.15) + (1.2 - 0.5) + (1.2 - 0.85))
        assert takeoff.water["pool"] == pytest.approx(8 * 4 * 1.2 - block, rel=EXACT)

    def test_all_round(self) -> None:
        """Treads that follow a rectangle are frames of width g."""
        flight = {"shape": "following", "going": 0.3, "risers": 2}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), steps=[flight]))
        inner = [8 * 4, 7.4 * 3.4, 6.8 * 2.8]
        assert area(takeoff, "tread") == pytest.approx(inner[0] - inner[2], rel=EXACT)
        assert area(takeoff, "riser") == pytest.approx(
            0.5 * 2 * (7.4 + 3.4) + 0.5 * 2 * (6.8 + 2.8), rel=EXACT
        )
        assert takeoff.water["pool"] == pytest.approx(0.5 * sum(inner), rel=EXACT)


class TestBench:
    """A bench: top l w, face down to the floor, water less by l w (d - t)."""

    def test_along_a_wall(self) -> None:
        """3 m long, 0.5 m wide, 0.45 m under water in 1.5 m."""
        bench = {"start": [-2.0, -2.0], "end": [1.0, -2.0], "width": 0.5, "depth": 0.45}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), bench=[bench]))
        assert area(takeoff, "bench top") == pytest.approx(3 * 0.5, rel=EXACT)
        assert area(takeoff, "bench face") == pytest.approx((3 + 2 * 0.5) * 1.05, rel=EXACT)
        assert takeoff.water["pool"] == pytest.approx(8 * 4 * 1.5 - 3 * 0.5 * 1.05, rel=EXACT)
        assert wet_area(takeoff, "wall") == pytest.approx(24 * 1.5 - 3 * 1.05, rel=EXACT)

    def test_all_round_a_round_pool(self) -> None:
        """A ring: top pi (R^2 - (R - w)^2), face 2 pi (R - w) (d - t)."""
        takeoff = takeoff_of(pool(circle(3.0), level(1.5), bench=[{"width": 0.5, "depth": 0.45}]))
        assert area(takeoff, "bench top") == pytest.approx(math.pi * (9 - 6.25), rel=CURVED)
        assert area(takeoff, "bench face") == pytest.approx(2 * math.pi * 2.5 * 1.05, rel=CURVED)

    def test_part_of_a_round_pool(self) -> None:
        """A quarter of that ring, with two ends w (d - t) square to the wall."""
        bench = {"start": [3.0, 0.0], "end": [0.0, 3.0], "width": 0.5, "depth": 0.45}
        takeoff = takeoff_of(pool(circle(3.0), level(1.5), bench=[bench]))
        assert area(takeoff, "bench top") == pytest.approx(math.pi * (9 - 6.25) / 4, rel=CURVED)
        face = (2 * math.pi * 2.5 / 4 + 2 * 0.5) * 1.05
        assert area(takeoff, "bench face") == pytest.approx(face, rel=CURVED)

    def test_on_a_sloping_floor(self) -> None:
        """The face reaches down to the slope: a trapezium in front, two ends of mean height."""
        bench = {"start": [-2.0, -2.0], "end": [2.0, -2.0], "width": 0.5, "depth": 0.4}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.1), bench=[bench]))
        front = 4 * 1.1  # mean depth 1.5 less 0.4
        ends = 0.5 * (1.3 - 0.4) + 0.5 * (1.7 - 0.4)
        assert area(takeoff, "bench face") == pytest.approx(front + ends, rel=EXACT)


class TestSpa:
    """A square spa in a corner of a rectangle, on two dam walls."""

    SPA: ClassVar = {
        "outline": rectangle(1.6, 1.6, centre=[-3.2, -1.2]),
        "depth": 0.9,
        "raised": 0.3,
        "freeboard": 0.1,
        "dam_wall": 0.2,
    }

    def test_dam_wall_and_crest(self) -> None:
        """Faces (1.8 + 1.8) (1.5 + 0.4) down to the floor, 1.5 of it wet; crest 1.8^2 - 1.6^2."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), spas=[self.SPA]))
        assert area(takeoff, "dam wall face") == pytest.approx(3.6 * 1.9, rel=EXACT)
        assert wet_area(takeoff, "dam wall face") == pytest.approx(3.6 * 1.5, rel=EXACT)
        assert area(takeoff, "dam wall top", "spa") == pytest.approx(1.8**2 - 1.6**2, rel=EXACT)
        assert wet_area(takeoff, "dam wall top", "spa") == 0.0

    def test_water(self) -> None:
        """The spa holds 1.6^2 d, the pool loses 1.8^2 D."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), spas=[self.SPA]))
        assert takeoff.water["spa"] == pytest.approx(1.6**2 * 0.9, rel=EXACT)
        assert takeoff.water["pool"] == pytest.approx((8 * 4 - 1.8**2) * 1.5, rel=EXACT)
        assert wet_area(takeoff, "spa wall", "spa") == pytest.approx(4 * 1.6 * 0.9, rel=EXACT)
        assert area(takeoff, "spa wall", "spa") == pytest.approx(4 * 1.6 * 1.0, rel=EXACT)

    def test_a_seat(self) -> None:
        """A seat all round: a frame of 0.35, faces 4 x 0.9 high by depth less seat depth."""
        spa = self.SPA | {"seats": [{"width": 0.35, "depth": 0.4}]}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), spas=[spa]))
        assert area(takeoff, "seat top", "spa") == pytest.approx(1.6**2 - 0.9**2, rel=EXACT)
        assert area(takeoff, "seat face", "spa") == pytest.approx(4 * 0.9 * 0.5, rel=EXACT)
        water = 1.6**2 * 0.4 + 0.9**2 * 0.5
        assert takeoff.water["spa"] == pytest.approx(water, rel=EXACT)

    @pytest.mark.parametrize(("drop", "wet"), [(0.0, 0.0), (0.05, 0.4 * 0.2 + 2 * 0.2 * 0.05)])
    def test_a_spillway(self, drop: float, wet: float) -> None:
        """A notch 0.4 wide across 0.2: sill 0.08, cheeks to the crest, wet up to the spa water."""
        spa = self.SPA | {"spillways": [{"at": [-2.4, -1.2], "width": 0.4, "drop": drop}]}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), spas=[spa]))
        whole = 0.4 * 0.2 + 2 * 0.2 * (0.1 + drop)
        assert area(takeoff, "spillway", "spa") == pytest.approx(whole, rel=EXACT)
        assert wet_area(takeoff, "spillway", "spa") == pytest.approx(wet, rel=EXACT)
        crest = 1.8**2 - 1.6**2 - 0.4 * 0.2
        assert area(takeoff, "dam wall top", "spa") == pytest.approx(crest, rel=EXACT)
        water = 1.6**2 * 0.9 + 0.4 * 0.2 * drop
        assert takeoff.water["spa"] == pytest.approx(water, rel=EXACT)

    def test_free_standing(self) -> None:
        """A spa that stands clear of the pool has a wall top all round and no dam wall."""
        spa = self.SPA | {"outline": rectangle(1.6, 1.6, centre=[-7.0, 0.0])}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), spas=[spa]))
        assert takeoff.water == pytest.approx({"pool": 48.0, "spa": 1.6**2 * 0.9}, rel=EXACT)
        assert area(takeoff, "wall top", "spa") == pytest.approx(2.1**2 - 1.6**2, rel=EXACT)
        assert area(takeoff, "dam wall top", "spa") == 0.0


class TestShell:
    """Concrete: the outer box less what is inside it."""

    THICK: ClassVar = {"shell": {"wall": 0.3, "floor": 0.25}, "freeboard": 0.2}

    def test_a_rectangle(self) -> None:
        """(8 + 2 t)(4 + 2 t)(d + f + b) - 8 x 4 (d + f)."""
        want = 8.6 * 4.6 * (1.5 + 0.2 + 0.25) - 8 * 4 * (1.5 + 0.2)
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), **self.THICK))
        assert takeoff.shell == pytest.approx(want, rel=EXACT)

    def test_a_slope_is_measured_square(self) -> None:
        """On a slope of g the floor stands b sqrt(1 + g^2) thick below each plan point."""
        want = 8.6 * 4.6 * (1.5 + 0.2 + 0.25 * math.sqrt(1.01)) - 8 * 4 * (1.5 + 0.2)
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.1), **self.THICK))
        assert takeoff.shell == pytest.approx(want, rel=EXACT)
