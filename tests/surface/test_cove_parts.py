"""Fillets, coves by stretches, and coves that grow with the depth: closed forms and quadrature."""

from __future__ import annotations

import math
from typing import Any, ClassVar

import numpy as np
import pytest

from poolgeo.errors import PoolFileError

from ..measure.quantities import (
    PoolDict,
    area,
    breaks,
    circle,
    lengths,
    level,
    model_of,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    water,
)

EXACT = 1e-5
"""Relative: straight outlines, on a grid of a micrometre."""
VOLUME = 5e-4
"""Relative: what a volume may lose to chords."""
SURFACE = 1e-3
"""Relative: what an area or a length may lose to them."""
MORTAR = 1e-2
"""Relative: chords of a section lie off the arc by this share of the little that is behind it."""

SPANDREL = 1 - math.pi / 4
"""Area behind a cove over its radius squared."""


def mortar(file: PoolDict, cove: PoolDict) -> float:
    """Return what a cove takes of the water [m3]."""
    return water(file) - water(file | {"cove": cove})


class TestFillet:
    """A triangle of mortar: leg^2 / 2 along the walls."""

    LEG = 0.12

    def test_in_a_rectangle(self) -> None:
        """Mortar P leg^2 / 2 less leg^3 / 3 in each corner; faces leg sqrt 2 wide; mitres.

        Of two that overlap in a corner the lower counts twice: over the square of side leg the
        smaller of leg - x and leg - y adds up to leg^3 / 3.
        """
        leg = self.LEG
        file = pool(rectangle(6.0, 4.0), level(1.5))
        fillet = {"form": "fillet", "radius": leg}
        want = 20 * leg**2 / 2 - 4 * leg**3 / 3
        assert mortar(file, fillet) == pytest.approx(want, rel=1e-4)
        takeoff = takeoff_of(file | {"cove": fillet})
        assert area(takeoff, "fillet") == pytest.approx(
            (20 - 4 * leg) * leg * math.sqrt(2), rel=EXACT
        )
        assert area(takeoff, "floor") == pytest.approx((6 - 2 * leg) * (4 - 2 * leg), rel=EXACT)
        assert lengths(takeoff, "fillet/fillet", "internal") == pytest.approx(
            [leg * math.sqrt(3)] * 4, rel=EXACT
        )
        assert area(takeoff, "cove") == 0.0
        assert [run.kind for run in takeoff.coves] == ["fillet"] * 4

    def test_its_two_edges(self) -> None:
        """Unlike a cove it meets wall and floor in edges, of 135 degrees."""
        takeoff = takeoff_of(
            pool(rectangle(6.0, 4.0), level(1.5), cove={"form": "fillet", "radius": self.LEG})
        )
        for kind, want in (("floor/fillet", 20 - 8 * self.LEG), ("wall/fillet", 20.0)):
            runs = [
                run for run in takeoff.edges if run.kind in {kind, "/".join(kind.split("/")[::-1])}
            ]
            assert sum(run.length for run in runs) == pytest.approx(want, rel=EXACT)
            for run in runs:
                assert run.sense == "internal"
                assert run.angle == pytest.approx(135, abs=0.01)

    def test_in_a_circle(self) -> None:
        """Pappus: pi leg^2 (R - leg / 3), mantle of a cone pi (2 R - leg) leg sqrt 2."""
        leg, radius = 0.3, 2.5
        file = pool(circle(radius), level(1.5))
        fillet = {"form": "fillet", "radius": leg}
        assert mortar(file, fillet) == pytest.approx(
            math.pi * leg**2 * (radius - leg / 3), rel=2e-3
        )
        takeoff = takeoff_of(file | {"cove": fillet})
        want = math.pi * (2 * radius - leg) * leg * math.sqrt(2)
        assert area(takeoff, "fillet") == pytest.approx(want, rel=SURFACE)


class TestStretches:
    """Along a stretch another radius, or none."""

    R = 0.2
    FILE = pool(rectangle(8.0, 4.0), level(1.5))

    @staticmethod
    def along(start: Any, end: Any, radius: float) -> list[PoolDict]:
        """Return one stretch."""
        return [{"start": start, "end": end, "radius": radius}]

    def test_none_along_part_of_a_wall(self) -> None:
        """Without cove on 3 m of a wall: less mortar by 3 r^2 (1 - pi/4), and two end faces."""
        cove: PoolDict = {"radius": self.R}
        gap = cove | {"stretches": self.along([-1, -2], [2, -2], 0.0)}
        whole, less = (takeoff_of(self.FILE | {"cove": item}) for item in (cove, gap))
        back = less.water["pool"] - whole.water["pool"]
        assert back == pytest.approx(3 * self.R**2 * SPANDREL, rel=MORTAR)
        ends = 2 * self.R**2 * SPANDREL
        lost = area(whole, "cove") - area(less, "cove")
        assert lost == pytest.approx(3 * math.pi / 2 * self.R - ends, rel=2 * SURFACE)
        assert lengths(less, "floor/wall", "internal") == pytest.approx([3.0], rel=EXACT)
        runs = sum(run.length for run in whole.coves) - sum(run.length for run in less.coves)
        assert runs == pytest.approx(3.0, rel=EXACT)

    def test_none_along_half_a_circle(self) -> None:
        """Half the cove of a round pool, and two end faces."""
        file = pool(circle(2.5), level(1.5))
        half = {"radius": self.R, "stretches": self.along([2.5, 0], [-2.5, 0], 0.0)}
        takeoff = takeoff_of(file | {"cove": half})
        whole = math.pi / 2 * self.R * 2 * math.pi * 2.5 - self.R**2 * 2 * math.pi * (
            math.pi / 2 - 1
        )
        ends = 2 * self.R**2 * SPANDREL
        assert area(takeoff, "cove") == pytest.approx(whole / 2 + ends, rel=SURFACE)
        assert sum(run.length for run in takeoff.coves) == pytest.approx(math.pi * 2.5, rel=SURFACE)

    def test_another_radius_along_one_wall(self) -> None:
        """A long wall with a smaller radius from corner to corner.

        Its mortar is 8 r^2 (1 - pi/4) less what the larger coves of the end walls hold already:
        the lower of the two counts twice. By quadrature.
        """
        small = 0.1
        cove = {"radius": self.R, "stretches": self.along([-4, -2], [4, -2], small)}
        x = (np.arange(2000) + 0.5) / 2000 * self.R

        def high(r: float) -> np.ndarray:
            in_reach = np.minimum(x, r)
            found: np.ndarray = r - np.sqrt(2 * r * in_reach - in_reach**2)
            return found

        def twice(a: float, b: float) -> float:
            both = np.minimum(high(a)[:, None], high(b))
            return float(both.mean()) * self.R**2

        want = SPANDREL * (16 * self.R**2 + 8 * small**2)
        want -= 2 * twice(self.R, self.R) + 2 * twice(self.R, small)
        assert mortar(self.FILE, cove) == pytest.approx(want, rel=MORTAR)

    def test_a_larger_radius_along_part_of_a_wall(self) -> None:
        """Both ends step: an upright face of (R^2 - r^2) (1 - pi/4) each."""
        large = 0.35
        cove: PoolDict = {"radius": self.R}
        more = cove | {"stretches": self.along([-1, -2], [2, -2], large)}
        whole, wide = (takeoff_of(self.FILE | {"cove": item}) for item in (cove, more))
        step = large**2 - self.R**2
        lost = whole.water["pool"] - wide.water["pool"]
        assert lost == pytest.approx(3 * step * SPANDREL, rel=MORTAR)
        grown = area(wide, "cove") - area(whole, "cove")
        want = 3 * math.pi / 2 * (large - self.R) + 2 * step * SPANDREL
        assert grown == pytest.approx(want, rel=2e-3)

    def test_a_fillet_by_stretch(self) -> None:
        """The same with a straight face: ends are triangles leg^2 / 2."""
        cove: PoolDict = {"form": "fillet", "radius": self.R}
        gap = cove | {"stretches": self.along([-1, -2], [2, -2], 0.0)}
        whole, less = (takeoff_of(self.FILE | {"cove": item}) for item in (cove, gap))
        back = less.water["pool"] - whole.water["pool"]
        assert back == pytest.approx(3 * self.R**2 / 2, rel=1e-4)
        lost = area(whole, "fillet") - area(less, "fillet")
        assert lost == pytest.approx(3 * self.R * math.sqrt(2) - self.R**2, rel=1e-4)

    @pytest.mark.parametrize("turn", [10.0, 25.0, 60.0, 90.0, 120.0])
    @pytest.mark.parametrize("form", ["fillet", "cove"])
    def test_it_ends_where_its_foot_meets_a_bare_wall(self, turn: float, form: str) -> None:
        """At a corner that turns by T the foot meets it r / sin(T) beyond the corner."""
        t = math.radians(turn)
        far = (6.0 + 4.0 * math.cos(t), 4.0 * math.sin(t))
        file = pool(polygon((0.0, 0.0), (6.0, 0.0), far, (0.0, 6.0)), level(1.5))
        bare = self.along([6.0, 0.0], [0.0, 0.0], 0.0)
        takeoff = takeoff_of(file | {"cove": {"form": form, "radius": self.R, "stretches": bare}})
        foot = [run for run in takeoff.edges if run.kind == "floor/wall"]
        beyond = np.hypot(*(np.concatenate([run.points for run in foot])[:, :2] - (6, 0)).T).min()
        assert beyond == pytest.approx(self.R / math.sin(t), rel=SURFACE)

    def test_a_stretch_that_is_none(self) -> None:
        """Its ends are the same place: it is refused by its number."""
        cove = {"radius": self.R, "stretches": self.along([1, -2], [1, -2], 0.0)}
        with pytest.raises(PoolFileError, match="must differ from 'start'") as caught:
            model_of(self.FILE | {"cove": cove})
        assert caught.value.findings[0].key == ("cove", "stretches", 0, "end")


class TestDeepens:
    """A radius that grows with the depth."""

    GROWS: ClassVar = {"radius": 0.1, "deepens": {"start": 1.2, "end": 1.8, "radius": 0.25}}

    @pytest.mark.parametrize(
        ("depth", "radius"), [(1.0, 0.1), (1.2, 0.1), (1.5, 0.175), (1.8, 0.25), (2.4, 0.25)]
    )
    def test_over_a_level_floor(self, depth: float, radius: float) -> None:
        """One radius, in between by the share of the depth."""
        takeoff = takeoff_of(pool(circle(2.5), level(depth), cove=self.GROWS))
        want = math.pi / 2 * radius * 2 * math.pi * 2.5
        want -= radius**2 * 2 * math.pi * (math.pi / 2 - 1)
        assert area(takeoff, "cove") == pytest.approx(want, rel=SURFACE)
        for run in takeoff.coves:
            assert run.radius == pytest.approx(radius, abs=1e-6)

    def test_at_the_ends_of_a_slope(self) -> None:
        """A pool made wider by 1 m grows at its ends: r (90 deg + a) deep, r (90 deg - a) shallow.

        Depths 1.2 and 1.8 at the ends of 6 m.
        """
        found = [
            area(takeoff_of(pool(rectangle(6.0, w), plane(1.5, 0.1), cove=self.GROWS)), "cove")
            for w in (4.0, 5.0)
        ]
        a = math.atan(0.1)
        want = 0.25 * (math.pi / 2 + a) + 0.1 * (math.pi / 2 - a)
        assert found[1] - found[0] == pytest.approx(want, rel=SURFACE)

    @pytest.mark.parametrize("form", ["cove", "fillet"])
    def test_along_a_slope(self, form: str) -> None:
        """Along one wall, section by section, by quadrature.

        At a wall point the ball of the radius there rests on the slope; its section goes from the
        wall at the height of its centre to where it touches the floor. What lies beyond the end
        walls is not built.
        """
        g, half = 0.1, 3.0
        stretches = [{"start": [half, -2], "end": [-half, -2], "radius": 0.0}]
        cove = self.GROWS | {"form": form, "stretches": stretches}
        takeoff = takeoff_of(pool(rectangle(2 * half, 4.0), plane(1.5, g), cove=cove))
        x = np.linspace(-half - 0.5, half + 0.5, 7001)
        r = 0.1 + np.clip((1.5 + g * x - 1.2) / 0.6, 0, 1) * 0.15
        slant = math.hypot(1.0, g)
        share = np.linspace(0.0, 1.0, 121)[:, None]
        centre = np.stack([x, -2 + r, -1.5 - g * x + r * slant], axis=-1)
        to_wall, to_floor = np.array([0, -1.0, 0]), -np.array([g, 0, 1.0]) / slant
        if form == "cove":  # the normals are square to each other
            turn = share * math.pi / 2
            way = np.cos(turn)[..., None] * to_wall + np.sin(turn)[..., None] * to_floor
        else:
            way = (1 - share)[..., None] * to_wall + share[..., None] * to_floor
        points = centre + r[:, None] * way
        across = points[1:, :-1] - points[:-1, :-1]
        along = points[:-1, 1:] - points[:-1, :-1]
        cells = np.linalg.norm(np.cross(across, along), axis=-1)
        middle = (points[1:, 1:, 0] + points[:-1, :-1, 0]) / 2
        want = float(cells[np.abs(middle) < half].sum())
        assert area(takeoff, form) == pytest.approx(want, rel=SURFACE)

    def test_over_a_break(self) -> None:
        """From a level shallow end to a level deep end, two radii far from the slope."""
        floor = breaks((-1.0, 1.2), (1.0, 1.8))
        found = [
            takeoff_of(pool(rectangle(2 * x, 4.0), floor, cove=self.GROWS)) for x in (4.0, 5.0)
        ]
        grown = area(found[1], "cove") - area(found[0], "cove")
        assert grown == pytest.approx(2 * math.pi / 2 * (0.1 + 0.25), rel=SURFACE)

    def test_depths_in_the_wrong_order(self) -> None:
        """The second depth lies below the first."""
        cove = {"radius": 0.1, "deepens": {"start": 1.8, "end": 1.2, "radius": 0.2}}
        with pytest.raises(PoolFileError, match="must be deeper than 'start'") as caught:
            model_of(pool(circle(2.5), level(1.5), cove=cove))
        found = caught.value.findings[0]
        assert found.key == ("cove", "deepens", "end")
        assert found.value == "1.200 m; 'start' is 1.800 m"
