"""Floors of every shape: closed forms, and quadrature that uses nothing of poolgeo."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
from scipy.integrate import dblquad, quad

from poolgeo.errors import PoolFileError
from poolgeo.plan.faceted import Faceted
from poolgeo.plan.shapes import lines_of

from ..measure.quantities import (
    PoolDict,
    area,
    breaks,
    circle,
    lengths,
    level,
    model_of,
    plan_area,
    plane,
    pool,
    rectangle,
    takeoff_of,
    wet_area,
)

EXACT = 1e-6
"""Relative: straight outlines and plane floors, on a grid of a micrometre."""
VOLUME = 5e-4
"""Relative: what a volume may lose to facets."""
SURFACE = 1e-3
"""Relative: what an area or a length may lose to them."""

DEEP = 2.0


def over_rectangle(
    value: Callable[[float, float], float], length: float, width: float, *cuts: float
) -> float:
    """Integrate over a rectangle about the origin, in parts along x where it has kinks."""
    ends = [-length / 2, *cuts, length / 2]
    return sum(
        float(dblquad(lambda y, x: value(x, y), a, b, -width / 2, width / 2, epsabs=1e-7)[0])
        for a, b in pairwise(ends)
    )


def hopper(contour: PoolDict, depth: float, slope: float | list[float]) -> PoolDict:
    """Return a hopper."""
    return {"contour": contour, "depth": depth, "slope": slope}


def refusal(file: PoolDict) -> str:
    """Build what is to be refused and return the first finding: key, rule, value and remedy."""
    with pytest.raises(PoolFileError) as caught:
        model_of(file)
    found = caught.value.findings[0]
    return f"{'.'.join(map(str, found.key))} {found.rule}: {found.value}; {found.remedy}"


class TestHopper:
    """A level bottom with slopes up to the floor: frustums, prismoids and cones."""

    def test_in_a_level_floor(self) -> None:
        """The check value of the frustum of a pyramid: 2 x 3 above, 1 x 1.5 below, 4.5 high.

        Machinery's Handbook, 31st ed., p. 89: 15.75. Its sides rise 4.5 over 0.5 and over 0.75;
        the average of the two ends would give 16.875.
        """
        bottom = rectangle(1.0, 1.5)
        file = pool(rectangle(5.0, 6.0), level(1.0))
        file["hopper"] = [hopper(bottom, 1.0 + 4.5, [6.0, 9.0, 6.0, 9.0])]
        takeoff = takeoff_of(file)
        assert takeoff.water["pool"] - 30.0 == pytest.approx(15.75, rel=1e-5)
        ends, flanks = (1 + 2) / 2 * math.hypot(4.5, 0.75), (1.5 + 3) / 2 * math.hypot(4.5, 0.5)
        want = 30.0 - 6.0 + 1.5 + 2 * ends + 2 * flanks
        assert area(takeoff, "floor") == pytest.approx(want, rel=EXACT)

    def test_its_edges(self) -> None:
        """A toe round the bottom, a brow round the top, and four hips, with the angles between."""
        file = pool(rectangle(8.0, 8.0), level(1.0))
        file["hopper"] = [hopper(rectangle(2.0, 2.0), 2.0, 0.5)]
        takeoff = takeoff_of(file)
        hip = math.sqrt(2 * 2.0**2 + 1)
        within = [2.0] * 4 + [hip] * 4
        assert sum(lengths(takeoff, "floor/floor", "internal")) == pytest.approx(
            sum(within), rel=EXACT
        )
        assert sum(lengths(takeoff, "floor/floor", "external")) == pytest.approx(24.0, rel=EXACT)

    def test_one_that_reaches_the_walls(self) -> None:
        """Slopes that fill a rectangle end to end: V by the prismoidal rule over its length.

        Bottom 4 m square in a rectangle of 10 by 4; the slopes at its ends rise 1.2 m over 3.6 m,
        those at its sides begin at the walls and so show nowhere.
        """
        file = pool(
            rectangle(10.0, 4.0), level(1.2), hopper=[hopper(rectangle(2.0, 4.0), 2.4, 1 / 3)]
        )
        takeoff = takeoff_of(file)
        want = 40 * 1.2 + 4 * 1.2 * (2.0 + 3.6)
        assert takeoff.water["pool"] == pytest.approx(want, rel=EXACT)
        assert wet_area(takeoff, "wall") == pytest.approx(
            2 * 10 * 1.2 + 2 * 4 * 1.2 + 2 * 1.2 * (2.0 + 3.6), rel=EXACT
        )

    def test_a_slope_for_each_side(self) -> None:
        """Different slopes: the top is a larger rectangle off centre, V by the prismoidal rule."""
        file = pool(rectangle(9.0, 7.0), level(1.0))
        file["hopper"] = [hopper(rectangle(2.0, 1.0), 2.0, [1.0, 0.5, 1 / 3, 0.8])]
        takeoff = takeoff_of(file)
        length, width = 2.0 + 1 / 0.5 + 1 / 0.8, 1.0 + 1 / 1.0 + 3.0
        middle = (length + 2.0) / 2 * (width + 1.0) / 2
        assert takeoff.water["pool"] - 63.0 == pytest.approx(
            (2.0 + 4 * middle + length * width) / 6, rel=1e-5
        )

    def test_a_round_one(self) -> None:
        """Frustum of a cone: pi h (R^2 + R r + r^2) / 3, mantle pi (R + r) times the slant."""
        r, h, slope = 0.6, 1.0, 0.5
        wide = r + h / slope
        file = pool(rectangle(7.0, 6.0), level(1.2), hopper=[hopper(circle(r), 1.2 + h, slope)])
        takeoff = takeoff_of(file)
        want = math.pi * h * (wide**2 + wide * r + r**2) / 3
        assert takeoff.water["pool"] == pytest.approx(42 * 1.2 + want, rel=VOLUME)
        mantle = math.pi * (wide + r) * math.hypot(h, wide - r)
        flat = 42 - math.pi * wide**2 + math.pi * r**2
        assert area(takeoff, "floor") == pytest.approx(flat + mantle, rel=SURFACE)
        assert sum(lengths(takeoff, "floor/floor", "external")) == pytest.approx(
            2 * math.pi * wide, rel=SURFACE
        )

    def test_in_a_sloping_floor(self) -> None:
        """By quadrature of the deeper of the two: a round hopper in a plane."""
        r, depth, slope, fall = 0.5, 2.4, 0.6, 0.08
        file = pool(rectangle(8.0, 5.0), plane(1.4, fall), hopper=[hopper(circle(r), depth, slope)])

        def deep(x: float, y: float) -> float:
            side = depth - slope * max(math.hypot(x, y) - r, 0.0)
            return max(1.4 + fall * x, side)

        x, y = (np.linspace(-a, a, 2 * n + 1)[1::2] for a, n in ((4.0, 1000), (2.5, 625)))
        side = depth - slope * np.maximum(np.hypot(x[:, None], y) - r, 0.0)
        want = 40 * float(np.mean(np.maximum(1.4 + fall * x[:, None], side)))
        assert deep(0.0, 0.0) == depth
        assert takeoff_of(file).water["pool"] == pytest.approx(want, rel=VOLUME)

    def test_two_that_run_into_each_other(self) -> None:
        """By counting squares of 4 mm: of two the deeper shows."""
        places, slope = (-1.0, 1.2), 0.5
        file = pool(
            rectangle(8.0, 5.0),
            level(1.2),
            hopper=[
                hopper(rectangle(1.0, 1.0, centre=[places[0], 0.0]), 2.2, slope),
                hopper(circle(0.5, centre=[places[1], 0.0]), 2.5, slope),
            ],
        )
        x, y = np.meshgrid(np.linspace(-4, 4, 4001)[1::2], np.linspace(-2.5, 2.5, 2501)[1::2])
        square = np.maximum(np.abs(x - places[0]), np.abs(y)) - 0.5
        disc = np.hypot(x - places[1], y) - 0.5
        deep = np.maximum(2.2 - slope * np.maximum(square, 0.0), 2.5 - slope * np.maximum(disc, 0))
        want = 40 * float(np.mean(np.maximum(deep, 1.2)))
        assert takeoff_of(file).water["pool"] == pytest.approx(want, rel=VOLUME)

    @pytest.mark.parametrize("depth", [0.5, 1.1, 1.2])
    def test_one_that_is_nowhere_deeper(self, depth: float) -> None:
        """The floor is 1.2 m deep at the shallow edge of its bottom, and deeper elsewhere."""
        bottom = hopper(rectangle(2.0, 2.0), depth, 0.5)
        file = pool(rectangle(10.0, 5.0), plane(1.3, 0.1), hopper=[bottom])
        assert refusal(file).startswith(
            "hopper.0.depth must lie below the floor that the hopper is sunk into:"
            f" {depth:.3f} m; the floor is 1.200 m deep and more, the least at (-1.000, "
        )
        bottom["depth"] = 1.21  # a wedge of it shows
        assert takeoff_of(file).water["pool"] > 10.0 * 5.0 * 1.3 + 1e-4

    def test_a_contour_that_is_not_convex(self) -> None:
        """It is refused, with the corner that points inwards."""
        contour = {"shape": "polygon", "points": [[0, 0], [2, 0], [2, 2], [1, 0.5], [0, 2]]}
        words = refusal(pool(rectangle(9.0, 9.0), level(1.0), hopper=[hopper(contour, 2.0, 0.5)]))
        assert words == (
            "hopper.0.contour must be convex: beside a corner that points inwards its slopes would"
            " cross: a corner that points inwards at (1.000, 0.500) m; use two hoppers"
        )

    @pytest.mark.parametrize(
        ("slope", "contour", "words"),
        [
            (0.0, rectangle(1.0, 1.0), "hopper.0.slope must be above 0: 0; write a slope such as"),
            ([1.0, -0.5, 1.0, 1.0], rectangle(1.0, 1.0), "hopper.0.slope must be above 0: -0.5"),
            ([1.0, 1.0], rectangle(1.0, 1.0), "one slope for each of the 4 sides: 2 slopes"),
            ([1.0, 1.0], circle(1.0), "must be one slope for a contour without straight sides"),
        ],
    )
    def test_slopes_that_are_none(self, slope: Any, contour: PoolDict, words: str) -> None:
        """They are above 0, and as many as the contour has sides."""
        file = pool(rectangle(9.0, 9.0), level(1.0), hopper=[hopper(contour, 2.0, slope)])
        assert words in refusal(file)


class TestDrains:
    """Cones about the drains; a ridge between two."""

    FALL = 0.05

    def drained(self, *drains: tuple[float, float, float]) -> PoolDict:
        """Return a floor that falls to drains (x, y, depth)."""
        items = [{"at": [x, y], "depth": depth} for x, y, depth in drains]
        return {"shape": "drains", "drains": items, "fall": self.FALL}

    def test_one_in_a_circle(self) -> None:
        """A cone: V = pi R^2 (d - fall R 2/3), floor pi R^2 sqrt(1 + fall^2)."""
        takeoff = takeoff_of(pool(circle(3.0), self.drained((0.0, 0.0, DEEP))))
        want = math.pi * 9 * (DEEP - self.FALL * 3 * 2 / 3)
        assert takeoff.water["pool"] == pytest.approx(want, rel=VOLUME)
        assert area(takeoff, "floor") == pytest.approx(
            math.pi * 9 * math.sqrt(1 + self.FALL**2), rel=SURFACE
        )
        assert lengths(takeoff, "floor/floor") == []

    def test_one_off_the_middle_of_a_rectangle(self) -> None:
        """By quadrature of the distance to it."""
        at = (1.5, -0.7)
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), self.drained((*at, DEEP))))
        way = over_rectangle(lambda x, y: math.hypot(x - at[0], y - at[1]), 8.0, 4.0, at[0])
        assert takeoff.water["pool"] == pytest.approx(32 * DEEP - self.FALL * way, rel=VOLUME)
        assert area(takeoff, "floor") == pytest.approx(32 * math.sqrt(1.0025), rel=SURFACE)
        rim = sum(
            float(quad(lambda s, c=c, m=m: math.hypot(s - m, c), -a, a)[0])
            for a, m, c in (
                (4.0, at[0], 2.0 - at[1]),
                (4.0, at[0], 2.0 + at[1]),
                (2.0, at[1], 4.0 - at[0]),
                (2.0, at[1], 4.0 + at[0]),
            )
        )
        want = 24 * DEEP - self.FALL * rim
        assert wet_area(takeoff, "wall") == pytest.approx(want, rel=SURFACE)

    def test_two_of_one_depth(self) -> None:
        """The ridge between them is straight in plan and a hyperbola in height."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), self.drained((-2, 0, DEEP), (2, 0, DEEP))))
        way = over_rectangle(lambda x, y: math.hypot(abs(x) - 2, y), 8.0, 4.0, -2, 0, 2)
        assert takeoff.water["pool"] == pytest.approx(32 * DEEP - self.FALL * way, rel=VOLUME)

        def step(y: float) -> float:
            return math.hypot(1.0, self.FALL * y / math.hypot(2.0, y))

        ridge = float(quad(step, -2.0, 2.0)[0])
        assert lengths(takeoff, "floor/floor", "external") == pytest.approx([ridge], rel=SURFACE)

    def test_two_of_different_depths(self) -> None:
        """The ridge is a branch of a hyperbola in plan; its length by quadrature.

        Distances to the drains at -c and c differ by k, the difference in depth over the fall:
        x = (k / 2) sqrt(1 + y^2 / (c^2 - k^2 / 4)), towards the shallower drain.
        """
        c, lower = 2.0, 0.1
        k = lower / self.FALL
        b = c**2 - k**2 / 4
        file = pool(rectangle(8.0, 4.0), self.drained((-c, 0, DEEP), (c, 0, DEEP - lower)))
        takeoff = takeoff_of(file)

        def ridge_at(y: float) -> float:
            return k / 2 * math.sqrt(1 + y**2 / b)

        def step(y: float) -> float:
            x = ridge_at(y)
            dx = (k / 2) ** 2 * y / (b * x)
            dz = self.FALL * ((x + c) * dx + y) / math.hypot(x + c, y)
            return math.sqrt(1 + dx**2 + dz**2)

        want = float(quad(step, -2.0, 2.0)[0])
        assert lengths(takeoff, "floor/floor", "external") == pytest.approx([want], rel=SURFACE)

        def across(y: float) -> float:
            x = ridge_at(y)
            first = quad(lambda s: math.hypot(s + c, y), -4.0, x)[0]
            second = quad(lambda s: math.hypot(s - c, y) + lower / self.FALL, x, 4.0)[0]
            return float(first + second)

        way = 2 * float(quad(across, 0.0, 2.0)[0])
        assert takeoff.water["pool"] == pytest.approx(32 * DEEP - self.FALL * way, rel=VOLUME)

    def test_one_that_another_lies_below(self) -> None:
        """A drain above the slope of another one drains nothing: it changes nothing."""
        one, two = (-2.0, 0.0, DEEP), (2.0, 0.0, DEEP - 0.3)
        alone = takeoff_of(pool(rectangle(8.0, 4.0), self.drained(one)))
        both = takeoff_of(pool(rectangle(8.0, 4.0), self.drained(one, two)))
        assert both.water["pool"] == pytest.approx(alone.water["pool"], rel=EXACT)

    def test_drains_that_are_of_no_use(self) -> None:
        """Warnings name the drain that another lies below, and the one outside the pool."""
        floor = self.drained((-2.0, 0.0, DEEP), (2.0, 0.0, DEEP - 0.3), (0.0, 3.0, DEEP))
        words = [str(item) for item in model_of(pool(rectangle(8.0, 4.0), floor)).warnings]
        assert len(words) == 2
        assert "'floor.drains[1].depth' drains nothing: the floor lies lower there" in words[0]
        assert "'floor.drains[2].at' stands outside the pool" in words[1]

    def test_one_twice(self) -> None:
        """Two at one place are refused, with both numbers."""
        floor = self.drained((1.0, 0.5, DEEP), (1.0, 0.5, DEEP))
        assert refusal(pool(rectangle(8.0, 4.0), floor)) == (
            "floor.drains.1.at must lie at least 10 mm from other drains: (1.000, 0.500) m, "
            "as drain 1; leave one of the two out"
        )

    @pytest.mark.parametrize("fall", [0.0, -0.02])
    def test_no_fall(self, fall: float) -> None:
        """The floor falls to its drains."""
        floor = self.drained((0.0, 0.0, DEEP)) | {"fall": fall}
        words = refusal(pool(circle(3.0), floor))
        assert words == f"floor.fall must be above 0: {fall:g}; write a slope such as 1:60"

    def test_a_floor_above_the_wall_top(self) -> None:
        """A steep fall lifts the floor over the wall: refused with the place and the heights."""
        floor = self.drained((0.0, 0.0, 1.0)) | {"fall": 0.5}
        words = refusal(pool(circle(3.0), floor, freeboard=0.1))
        assert "floor must meet the wall below its top: 0.500 m above the water at (" in words
        assert "the wall top is at 0.100 m; reduce the fall, deepen the floor" in words


class TestDished:
    """Paraboloids, and troughs of parabolic section."""

    @staticmethod
    def dished(depth: float, edge: float, reach: float, **more: Any) -> PoolDict:
        """Return a floor about the origin."""
        more = {"shape": "dished", "at": [0, 0], **more}
        return {"depth": depth, "edge_depth": edge, "reach": reach, **more}

    @pytest.mark.parametrize(("depth", "edge"), [(2.0, 1.4), (1.4, 2.0), (0.4, 0.2)])
    def test_over_a_circle(self, depth: float, edge: float) -> None:
        """V = pi R^2 times the mean of the two; floor pi / (6 a^2) ((1 + 4 a^2 R^2)^1.5 - 1).

        a = (difference) / R^2.
        """
        takeoff = takeoff_of(pool(circle(3.0), self.dished(depth, edge, 3.0)))
        assert takeoff.water["pool"] == pytest.approx(math.pi * 9 * (depth + edge) / 2, rel=VOLUME)
        a = (depth - edge) / 9
        want = math.pi / (6 * a**2) * ((1 + 4 * a**2 * 9) ** 1.5 - 1)
        assert area(takeoff, "floor") == pytest.approx(want, rel=SURFACE)
        assert wet_area(takeoff, "wall") == pytest.approx(2 * math.pi * 3 * edge, rel=SURFACE)
        assert lengths(takeoff, "floor/floor") == []

    def test_over_a_rectangle(self) -> None:
        """V = A d - a times the polar second moment l w (l^2 + w^2) / 12."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), self.dished(2.0, 1.5, 4.0)))
        want = 32 * 2.0 - 0.5 / 16 * 32 * (64 + 16) / 12
        assert takeoff.water["pool"] == pytest.approx(want, rel=VOLUME)
        a = 0.5 / 16
        surface = over_rectangle(lambda x, y: math.sqrt(1 + 4 * a * a * (x * x + y * y)), 8.0, 4.0)
        assert area(takeoff, "floor") == pytest.approx(surface, rel=SURFACE)

    @pytest.mark.parametrize("direction", [0.0, 90.0])
    def test_across_one_direction(self, direction: float) -> None:
        """A trough along a side: section d - a v^2, floor by the length of a parabola."""
        takeoff = takeoff_of(
            pool(rectangle(8.0, 4.0), self.dished(2.0, 1.5, 2.0, direction=direction))
        )
        half, run = (2.0, 8.0) if direction == 0.0 else (4.0, 4.0)
        a = 0.5 / 4
        want = run * 2 * (2.0 * half - a * half**3 / 3)
        if half == 4.0:
            assert want == pytest.approx(32 * (2.0 - a * 16 / 3))
        assert takeoff.water["pool"] == pytest.approx(want, rel=VOLUME)
        g = 2 * a * half
        parabola = (g * math.hypot(1, g) + math.asinh(g)) / (2 * a)
        assert area(takeoff, "floor") == pytest.approx(run * parabola, rel=SURFACE)

    @pytest.mark.parametrize(("depth", "edge"), [(2.0, 1.4), (1.4, 2.0)])
    def test_its_levels_on_a_plan(self, depth: float, edge: float) -> None:
        """One in the middle, one at the wall: to the millimetre."""
        model = model_of(pool(circle(3.0), self.dished(depth, edge, 3.0)))
        found = {round(math.hypot(*spot.point[:2]), 2): spot.depth for spot in model.spots}
        assert found == pytest.approx({0.0: depth, 3.0: edge}, abs=7e-4)

    def test_levels_along_a_trough(self) -> None:
        """In the middle of its deepest line, and of one of its walls."""
        file = pool(rectangle(8.0, 4.0), self.dished(2.0, 1.5, 2.0, direction=0.0))
        deep, shallow = model_of(file).spots
        assert deep.point[:2] == pytest.approx((0.0, 0.0), abs=0.1)
        assert abs(shallow.point[1]) == pytest.approx(2.0)
        assert (deep.depth, shallow.depth) == pytest.approx((2.0, 1.5), abs=7e-4)

    def test_even_depths_are_a_level_floor(self) -> None:
        """Nothing is dished where the edge is as deep as the middle."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), self.dished(1.5, 1.5, 2.0)))
        assert takeoff.water["pool"] == pytest.approx(48.0, rel=EXACT)


class TestRuled:
    """Break lines with a depth for each end."""

    def test_one_twisted_field(self) -> None:
        """A bilinear floor over a rectangle: V = A times the mean of the four depths."""
        file = pool(rectangle(8.0, 4.0), breaks((-4.0, [1.0, 1.4]), (4.0, [2.2, 1.6])))  # type: ignore[arg-type]
        takeoff = takeoff_of(file)
        assert takeoff.water["pool"] == pytest.approx(32 * 6.2 / 4, rel=VOLUME)
        assert wet_area(takeoff, "wall") == pytest.approx(
            8 * (1.0 + 2.2 + 1.4 + 1.6) / 2 + 4 * (1.0 + 1.4 + 2.2 + 1.6) / 2, rel=SURFACE
        )

        def stretch(x: float, y: float) -> float:
            s, t = x / 8 + 0.5, y / 4 + 0.5  # along, and from the right (y = -2) to the left
            along = ((2.2 - 1.0) * (1 - t) + (1.6 - 1.4) * t) / 8
            across = ((1.4 - 1.0) * (1 - s) + (1.6 - 2.2) * s) / 4
            return math.sqrt(1 + along**2 + across**2)

        assert area(takeoff, "floor") == pytest.approx(
            over_rectangle(stretch, 8.0, 4.0), rel=SURFACE
        )

    def test_fields_one_behind_the_other(self) -> None:
        """Each field by the mean of its corners; level beyond the first, tilted as it is."""
        file = pool(
            rectangle(10.0, 4.0),
            breaks((-3.0, 1.0), (0.0, [1.2, 1.6]), (2.0, [2.4, 2.0])),  # type: ignore[arg-type]
        )
        takeoff = takeoff_of(file)
        fields = 2 * 1.0 + 3 * (1.0 + 1.4) / 2 + 2 * (1.4 + 2.2) / 2 + 3 * 2.2
        assert takeoff.water["pool"] == pytest.approx(4 * fields, rel=VOLUME)
        lines = 4.0 + 2 * math.hypot(4.0, 0.4)
        assert sum(lengths(takeoff, "floor/floor")) == pytest.approx(lines, rel=SURFACE)

    def test_turned(self) -> None:
        """A pool and its break lines turned by 90 degrees hold the same."""
        lines = ((-3.0, [1.0, 1.3]), (3.0, [2.2, 1.6]))
        one = pool(rectangle(8.0, 4.0), breaks(*lines))  # type: ignore[arg-type]
        other = pool(rectangle(4.0, 8.0), breaks(*lines, direction=90.0))  # type: ignore[arg-type]
        a, b = takeoff_of(one), takeoff_of(other)
        assert a.water["pool"] == pytest.approx(b.water["pool"], rel=EXACT)
        assert area(a, "floor") == pytest.approx(area(b, "floor"), rel=EXACT)


class TestBeach:
    """A floor that comes out of the water."""

    def test_straight(self) -> None:
        """From 0.1 m above the water down to 1.5 m over 8 m: wet from x = 0.5 m on."""
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), breaks((-4.0, -0.1), (4.0, 1.5))))
        assert takeoff.water["pool"] == pytest.approx(4 * 7.5 * 1.5 / 2, rel=EXACT)
        slant = math.hypot(8.0, 1.6) / 8.0
        assert wet_area(takeoff, "floor") == pytest.approx(4 * 7.5 * slant, rel=EXACT)
        assert area(takeoff, "floor") == pytest.approx(4 * 8 * slant, rel=EXACT)
        assert wet_area(takeoff, "wall") == pytest.approx(7.5 * 1.5 + 4 * 1.5, rel=EXACT)
        foot = sum(run.wet_length for run in takeoff.edges if run.kind == "floor/wall")
        assert foot == pytest.approx(4 + 2 * 7.5 * slant, rel=EXACT)

    def test_across_a_round_pool(self) -> None:
        """The water ends on a chord: V = fall times the moment of the segment beyond it.

        With the water's edge at x = -h, the moment of what lies beyond about it is h times its
        area plus 2/3 (R^2 - h^2)^1.5.
        """
        fall, h, radius = 0.1, 2.0, 3.0
        floor = breaks((-3.0, -0.1), (3.0, 0.5))
        takeoff = takeoff_of(pool(circle(radius), floor, freeboard=0.2))
        cut = radius**2 * math.acos(h / radius) - h * math.sqrt(radius**2 - h**2)
        wet = math.pi * radius**2 - cut
        moment = h * wet + 2 / 3 * (radius**2 - h**2) ** 1.5
        assert takeoff.water["pool"] == pytest.approx(fall * moment, rel=VOLUME)
        assert wet_area(takeoff, "floor") == pytest.approx(wet * math.sqrt(1.01), rel=SURFACE)

    def test_it_is_told(self) -> None:
        """A warning says that the floor comes out, how far and where."""
        model = model_of(pool(rectangle(8.0, 4.0), breaks((-4.0, -0.1), (4.0, 1.5))))
        words = [str(item) for item in model.warnings]
        assert any(
            "rises out of the water: a beach entry" in item and "0.100 m above" in item
            for item in words
        )


class TestSpots:
    """Plane triangles between points of known depth."""

    CORNERS: tuple[tuple[float, float, float], ...] = (
        (-4, -2, 1.0), (4, -2, 1.4), (4, 2, 2.0), (-4, 2, 1.2),
    )  # fmt: skip

    @staticmethod
    def spots(*items: tuple[float, float, float]) -> PoolDict:
        """Return a floor through (x, y, depth)."""
        return {"shape": "spots", "spots": [{"at": [x, y], "depth": d} for x, y, d in items]}

    def test_four_triangles(self) -> None:
        """Corners and a spot inside: prisms of area times the mean of three depths, by hand."""
        floor = self.spots(*self.CORNERS, (1.0, 0.5, 2.2))
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), floor))
        bottom = 8 * 2.5 / 2 * (1.0 + 1.4 + 2.2) / 3
        right = 4 * 3 / 2 * (1.4 + 2.0 + 2.2) / 3
        top = 8 * 1.5 / 2 * (2.0 + 1.2 + 2.2) / 3
        left = 4 * 5 / 2 * (1.2 + 1.0 + 2.2) / 3
        assert takeoff.water["pool"] == pytest.approx(bottom + right + top + left, rel=EXACT)
        rim = 8 * 1.2 + 4 * 1.7 + 8 * 1.6 + 4 * 1.1
        assert wet_area(takeoff, "wall") == pytest.approx(rim, rel=EXACT)

        def slant(a: float, b: float, c: float, d: float) -> float:
            """Area of a triangle of base a, rise b along it, height c and rise d up to its foot."""
            return math.sqrt((a * c) ** 2 + (b * c) ** 2 + (a * d) ** 2) / 2

        want = (
            slant(8, 0.4, 2.5, 1.2 - 0.4 * 5 / 8)
            + slant(4, 0.6, 3.0, 0.8 - 0.6 * 2.5 / 4)
            + slant(8, -0.8, 1.5, 0.2 + 0.8 * 3 / 8)
            + slant(4, -0.2, 5.0, 1.0 + 0.2 * 1.5 / 4)
        )
        assert area(takeoff, "floor") == pytest.approx(want, rel=EXACT)

    def test_beyond_them_the_floor_keeps_their_level(self) -> None:
        """Three spots of one depth make a level floor, wherever they stand."""
        floor = self.spots((0, 0, 1.5), (1, 0, 1.5), (0, 1, 1.5))
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), floor))
        assert takeoff.water["pool"] == pytest.approx(48.0, rel=EXACT)
        assert lengths(takeoff, "floor/floor") == []

    def test_it_covers_the_plan(self) -> None:
        """Spots inside the pool: the floor runs on to the walls."""
        floor = self.spots((-2, -1, 1.2), (2, -1, 1.8), (0, 1.5, 1.5))
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), floor))
        assert plan_area(takeoff, "floor") == pytest.approx(32.0, rel=EXACT)
        assert 32 * 1.2 < takeoff.water["pool"] < 32 * 1.8

    @pytest.mark.parametrize(
        "items",
        [
            [(-4, 0, 1.2), (4, 0, 1.8), (0, 0.1, 1.5)],  # down the middle, nearly in line
            [(-4, 0, 1.2), (4, 0, 1.8), (0, 0.003, 1.5)],
            [(40, 0, 1.2), (44, 3, 1.8), (44, -3, 1.6)],  # the pool lies beyond them
        ],
    )
    def test_beyond_a_sharp_corner(self, items: list[tuple[float, float, float]]) -> None:
        """It runs on to the walls: nowhere above or below all spots, and with a line at each break.

        Where strips ended before the wall, their planes ran on instead: in the second to 55 m.
        """
        model = model_of(pool(rectangle(8.0, 4.0), self.spots(*items)))
        ((floor, _), *_) = model.floors.values()
        assert isinstance(floor, Faceted)
        x, y = np.linspace(-3.999, 3.999, 201), np.linspace(-1.999, 1.999, 101)
        at = np.stack(np.meshgrid(x, y), axis=-1)
        deep, depths = -floor.height(at), [item[2] for item in items]
        assert min(depths) - 1e-9 < deep.min() < deep.max() < max(depths) + 1e-9
        facet = floor.facet(at)
        steps = np.stack([at[:, :-1], at[:, 1:]], axis=2)[facet[:, :-1] != facet[:, 1:]]
        breaks = shapely.distance(shapely.linestrings(steps), lines_of(floor.lines))
        assert breaks.max(initial=0.0) < 1e-9

    def test_one_twice(self) -> None:
        """Two at one place are refused, with both numbers."""
        floor = self.spots((0, 0, 1.2), (2, 0, 1.4), (0, 2, 1.6), (2, 0.0004, 1.5))
        assert refusal(pool(rectangle(8.0, 6.0), floor)) == (
            "floor.spots.3.at must lie at least 10 mm from other spots: (2.000, 0.000) m, "
            "as spot 2; leave one of the two out"
        )

    def test_all_in_line(self) -> None:
        """They span no area."""
        floor = self.spots((0, 0, 1.2), (1, 0, 1.4), (2, 0, 1.6))
        assert refusal(pool(rectangle(8.0, 6.0), floor)) == (
            "floor.spots must not all lie on one line: ; add a spot off the line"
        )


def test_where_three_drains_meet_no_ridge_is_lost() -> None:
    """At each place the floor is that of the drain to which it falls least: cones, the lowest."""
    drains = [(0.218, -0.392, 1.573), (-1.625, 0.161, 1.598), (0.01, -1.499, 1.612)]
    floor = {"shape": "drains", "fall": 0.05,
             "drains": [{"at": [x, y], "depth": depth} for x, y, depth in drains]}  # fmt: skip
    model = model_of(pool(circle(2.0), floor))
    ((built, _), *_) = model.floors.values()
    at = np.stack(np.meshgrid(*[np.linspace(-1.4, 1.4, 141)] * 2), axis=-1).reshape(-1, 2)
    cones = [0.05 * np.hypot(*(at - [x, y]).T) - depth for x, y, depth in drains]
    assert np.abs(built.height(at) - np.min(cones, axis=0)).max() < 1e-3
