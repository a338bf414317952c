"""Mortar under coves and fillets: closed forms with their corners, and quadrature over the plan.

Along a plumb wall a section as high as h(x) at x off the wall has the area A = int h dx. In a right
corner the higher of two counts: less by the lower, whose volume is 2 int x h(x) dx, as the strip
of the square beyond x has the length x. For a quarter round that is r^3 (5/3 - pi/2), for a
triangle s^3 / 3.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.arrays import Floats

from .quantities import PoolDict, circle, level, plane, pool, rectangle, takeoff_of

CHORDS = 1e-3
"""Relative: what chords of a curved wall may lose."""

FINE = 1e-5
"""[m] A tolerance at which the chords of sections show no more."""


def mortar(file: PoolDict) -> float:
    """Return the mortar under all coves of a pool [m3]."""
    return math.fsum(run.mortar for run in takeoff_of(file).coves)


def summed(of: Callable[[Floats], Floats], low: float, high: float, count: int = 200) -> float:
    """Integrate by Gauss-Legendre, with points so close at the ends that roots are smooth."""
    x, weight = np.polynomial.legendre.leggauss(count)
    u = math.pi * (x + 1.0) / 2.0
    place = low + (high - low) * (1.0 - np.cos(u)) / 2.0
    return float(np.sum(of(place) * np.sin(u) * weight) * (high - low) * math.pi / 4.0)


def corner_area(size: float, angle: float) -> float:
    """Return the area between two faces at an angle [rad] and an arc that touches both [m2]."""
    return size**2 * (1.0 / math.tan(angle / 2.0) - (math.pi - angle) / 2.0)


class TestBox:
    """8 m by 4 m, level floor, plumb walls, four mitres."""

    @pytest.mark.parametrize("r", [0.05, 0.1, 0.15, 0.4])
    def test_coves(self, r: float) -> None:
        """Along 24 m, less what counts twice in four corners."""
        want = 24.0 * r**2 * (1 - math.pi / 4) - 4 * r**3 * (5 / 3 - math.pi / 2)
        file = pool(rectangle(8.0, 4.0), level(1.5), cove={"radius": r})
        assert mortar(file) == pytest.approx(want, rel=2e-3)
        assert mortar(file | {"tolerance": FINE}) == pytest.approx(want, rel=1e-4)

    @pytest.mark.parametrize("s", [0.05, 0.1, 0.4])
    def test_fillets(self, s: float) -> None:
        """Planes on planes: nothing is lost."""
        file = pool(rectangle(8.0, 4.0), level(1.5), cove={"form": "fillet", "radius": s})
        assert mortar(file) == pytest.approx(24.0 * s**2 / 2.0 - 4 * s**3 / 3.0, rel=1e-6)

    def test_each_run_has_its_own(self) -> None:
        """Of a wall L long: A L less its half of two corners."""
        s = 0.2
        takeoff = takeoff_of(
            pool(rectangle(8.0, 4.0), level(1.5), cove={"form": "fillet", "radius": s})
        )
        found = sorted(run.mortar for run in takeoff.coves)
        assert found == pytest.approx(
            [length * s**2 / 2.0 - s**3 / 3.0 for length in (4.0, 4.0, 8.0, 8.0)], rel=1e-6
        )
        assert takeoff.coves[0].as_dict()["mortar_m3"] == takeoff.coves[0].mortar

    @settings(max_examples=8)
    @given(length=st.integers(3, 12), width=st.integers(3, 6), millimetres=st.integers(30, 500))
    def test_of_any_size(self, length: int, width: int, millimetres: int) -> None:
        """Of any size."""
        s, perimeter = millimetres / 1000, 2.0 * (length + width)
        file = pool(rectangle(length, width), level(1.5), cove={"form": "fillet", "radius": s})
        assert mortar(file) == pytest.approx(perimeter * s**2 / 2.0 - 4 * s**3 / 3.0, rel=1e-5)

    def test_what_a_stretch_without_a_cove_lacks(self) -> None:
        """2 m of 24 have none; the ends of the cove are square to the wall."""
        s = 0.1
        cove = {"form": "fillet", "radius": s,
                "stretches": [{"start": [-1, -2], "end": [1, -2], "radius": 0}]}  # fmt: skip
        file = pool(rectangle(8.0, 4.0), level(1.5), cove=cove)
        assert mortar(file) == pytest.approx(22.0 * s**2 / 2.0 - 4 * s**3 / 3.0, rel=1e-5)


class TestRound:
    """Round walls, by Pappus and by the project's table of check values."""

    def test_the_published_cove(self) -> None:
        """R = 2.0, r = 0.1, level floor: 0.02666648 m3."""
        file = pool(circle(2.0), level(1.5), cove={"radius": 0.1})
        assert mortar(file) == pytest.approx(0.02666648, rel=2e-3)
        assert mortar(file | {"tolerance": FINE}) == pytest.approx(0.02666648, rel=2e-4)

    @pytest.mark.parametrize("s", [0.05, 0.3])
    def test_a_fillet(self, s: float) -> None:
        """A triangle whose centroid stands s / 3 off the wall: pi s^2 (R - s / 3)."""
        file = pool(circle(2.0), level(1.5), cove={"form": "fillet", "radius": s})
        assert mortar(file) == pytest.approx(math.pi * s**2 * (2.0 - s / 3.0), rel=CHORDS)

    def test_about_an_island(self) -> None:
        """The same about an island of 0.5 m, outwards: pi s^2 (0.5 + s / 3)."""
        s = 0.1
        block = {"name": "block", "outline": circle(0.5), "top": 0.3}
        file = pool(
            rectangle(8.0, 4.0), level(1.5), cove={"form": "fillet", "radius": s}, islands=[block]
        )
        box = 24.0 * s**2 / 2.0 - 4 * s**3 / 3.0
        assert mortar(file) - box == pytest.approx(math.pi * s**2 * (0.5 + s / 3.0), rel=CHORDS)

    def test_an_outside_corner(self) -> None:
        """About a square block a quarter of a cone stands at each corner: pi s^3 / 3 in all."""
        s = 0.1
        block = {"name": "block", "outline": rectangle(1.0, 1.0), "top": 0.3}
        file = pool(
            rectangle(8.0, 4.0), level(1.5), cove={"form": "fillet", "radius": s}, islands=[block]
        )
        box = 24.0 * s**2 / 2.0 - 4 * s**3 / 3.0
        assert mortar(file) - box == pytest.approx(
            4.0 * s**2 / 2.0 + math.pi * s**3 / 3.0, rel=5e-3
        )


class TestFall:
    """Floors that fall by g along x."""

    def test_across_the_fall(self) -> None:
        """Per metre of width both ends, at 90 -+ a; what corners take stays the same."""
        r, g = 0.2, 0.2
        short, wide = (
            mortar(pool(rectangle(*size), plane(1.5, g), cove={"radius": r}, tolerance=FINE))
            for size in ((6.0, 4.0), (6.0, 5.0))
        )
        a = math.atan(g)
        ends = corner_area(r, math.pi / 2 - a) + corner_area(r, math.pi / 2 + a)
        assert wide - short == pytest.approx(ends, rel=1e-3)

    @pytest.mark.parametrize("g", [0.02, 0.2])
    def test_along_the_fall(self, g: float) -> None:
        """Per metre of length both sides, at a right angle, slanted by sqrt(1 + g^2)."""
        r = 0.2
        short, long = (
            mortar(pool(rectangle(x, 4.0), plane(1.8, g), cove={"radius": r}, tolerance=FINE))
            for x in (6.0, 7.0)
        )
        sides = 2.0 * math.hypot(1.0, g) * r**2 * (1 - math.pi / 4)
        assert long - short == pytest.approx(sides, rel=1e-3)

    def test_fillets_along_the_fall(self) -> None:
        """Legs up the wall and along the floor: a right triangle square to the slanted foot."""
        s, g = 0.2, 0.2
        short, long = (
            mortar(pool(rectangle(x, 4.0), plane(1.8, g), cove={"form": "fillet", "radius": s}))
            for x in (6.0, 7.0)
        )
        assert long - short == pytest.approx(2.0 * math.hypot(1.0, g) * s**2 / 2.0, rel=1e-4)

    @pytest.mark.parametrize("fall", [0.05, 0.25])
    def test_in_a_round_pool(self, fall: float) -> None:
        """Quadrature over the plan of the lowest that a ball can reach, which rolls along the wall.

        A ball whose middle is over c rests with it at floor(c) + r sqrt(1 + g^2); c stands r off
        the wall at least. Where no such limit holds it off, the ball reaches the floor.
        """
        big, r = 2.0, 0.2
        slant = math.hypot(1.0, fall)
        turn = (np.arange(120) + 0.5) / 120 * 2.0 * math.pi
        # where a ball at the rim of its reach touches lies near the point: within 20 degrees
        near = np.linspace(-0.35, 0.35, 401)
        centre = np.stack([(big - r) * np.cos(turn[:, None] + near),
                           (big - r) * np.sin(turn[:, None] + near)], axis=-1)  # fmt: skip
        rest = -fall * centre[..., 0] + r * slant

        def ring(radii: Floats) -> Floats:
            found = []
            for rho in radii.tolist():
                x, y = rho * np.cos(turn), rho * np.sin(turn)
                away = (centre[..., 0] - x[:, None]) ** 2 + (centre[..., 1] - y[:, None]) ** 2
                below = np.sqrt(np.maximum(r**2 - away, 0.0))
                height = np.where(away <= r**2, rest - below, np.inf).min(axis=1) + fall * x
                free = np.hypot(x + r * fall / slant, y) <= big - r
                height = np.where(free, 0.0, np.where(np.isfinite(height), height, 0.0))
                found.append(height.mean() * 2.0 * math.pi * rho)
            return np.array(found)

        want = summed(ring, big - 1.5 * r, big, 120)
        file = pool(circle(big), plane(1.6, fall), cove={"radius": r}, tolerance=1e-4)
        assert mortar(file) == pytest.approx(want, rel=2e-3)


class TestLeaningWalls:
    """Walls that lean by s from 0.2 above the water, at the outline, to the floor at -1.5."""

    LEAN = 0.1
    FOOT = LEAN * 1.7

    def sections(self, r: float) -> tuple[float, Callable[[Floats], Floats]]:
        """Return where a cove begins and its height over wall and floor, at x off the outline.

        The circle touches the floor and the wall: its middle stands r cot(phi / 2) off the foot,
        the angle phi between them 90 degrees and the lean.
        """
        phi = math.pi / 2 + math.atan(self.LEAN)
        leg = r / math.tan(phi / 2)
        start = self.FOOT - leg * math.sin(math.atan(self.LEAN))

        def height(x: Floats) -> Floats:
            cove = r - np.sqrt(np.maximum(r**2 - (x - self.FOOT - leg) ** 2, 0.0))
            wall = np.maximum((self.FOOT - x) / self.LEAN, 0.0)
            return np.asarray(cove - wall)

        return start, height

    def test_along_the_walls(self) -> None:
        """A metre more of length has two more of section."""
        r = 0.15
        area = corner_area(r, math.pi / 2 + math.atan(self.LEAN))
        files = [
            pool(rectangle(length, 4.0), level(1.5), freeboard=0.2, batter={"slope": self.LEAN},
                 cove={"radius": r}, tolerance=FINE)
            for length in (6.0, 7.0)
        ]  # fmt: skip
        assert mortar(files[1]) - mortar(files[0]) == pytest.approx(2 * area, rel=2e-3)

    def test_with_its_corners(self) -> None:
        """Mitres at 45 degrees in plan: at x off the outline a cove is 24 - 8 x long."""
        r = 0.15
        start, height = self.sections(r)
        end = self.FOOT + r / math.tan((math.pi / 2 + math.atan(self.LEAN)) / 2)
        want = summed(lambda x: height(x) * (24.0 - 8.0 * x), start, self.FOOT)
        want += summed(lambda x: height(x) * (24.0 - 8.0 * x), self.FOOT, end)
        file = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2, batter={"slope": self.LEAN},
                    cove={"radius": r}, tolerance=FINE)  # fmt: skip
        assert mortar(file) == pytest.approx(want, rel=1e-3)

    def test_a_fillet_with_its_corners(self) -> None:
        """A triangle of two legs s at the angle phi; at x off the outline it is 24 - 8 x long.

        The legs are r tan(turn / 2), the turn from wall to floor 90 degrees less the lean. Its area
        is s^2 sin(phi) / 2, its centroid a third of both legs off the foot: in by s / 3 and back by
        s sin(lean) / 3.
        """
        lean = math.atan(self.LEAN)
        s = 0.1 * math.tan((math.pi / 2.0 - lean) / 2.0)
        area = s**2 * math.cos(lean) / 2.0
        centroid = self.FOOT + s / 3.0 - s * math.sin(lean) / 3.0
        file = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2, batter={"slope": self.LEAN},
                    cove={"form": "fillet", "radius": 0.1})  # fmt: skip
        assert mortar(file) == pytest.approx(area * (24.0 - 8.0 * centroid), rel=1e-4)

    def test_one_wall_leans(self) -> None:
        """A fillet of flat faces is what the pool's water lacks.

        In corners with the plumb walls a part of those' fillets stands before the leaning wall,
        which is not seen: 0.6 % of it all, so large and steep is this one.
        """
        bare = pool(
            rectangle(4.0, 3.0), level(1.5), freeboard=0.2,
            batter={"slope": 0.0, "stretches": [{"start": [-2, -1.5], "end": [2, -1.5],
                                                 "slope": 0.3}]},
        )  # fmt: skip
        coved = bare | {"cove": {"form": "fillet", "radius": 0.4}}
        lacks = takeoff_of(bare).water["pool"] - takeoff_of(coved).water["pool"]
        assert mortar(coved) == pytest.approx(lacks, rel=6e-3)


FLIGHT = {"name": "flight", "shape": "side", "at": [4.0, 0.0], "width": 1.2, "going": 0.4,
          "risers": 3}  # fmt: skip


class TestElsewhere:
    """Coves at other feet, and in upright corners."""

    def test_at_risers(self) -> None:
        """Feet on the floor at front and sides, 3 x 1.2 m, and on two treads, 2 x 1.2 m.

        The front's two corners stand out: a quarter of a cone each, pi s^3 / 12; the sides meet the
        wall's own fillet in two inside corners.
        """
        s = 0.05
        file = pool(rectangle(8.0, 4.0), level(1.2), steps=[FLIGHT],
                    cove={"form": "fillet", "radius": s})  # fmt: skip
        also = file | {"cove": {"form": "fillet", "radius": s, "also_at": ["risers"]}}
        takeoffs = [takeoff_of(item) for item in (file, also)]
        lacks = takeoffs[0].water["pool"] - takeoffs[1].water["pool"]
        more = math.fsum(run.mortar for run in takeoffs[1].coves) - math.fsum(
            run.mortar for run in takeoffs[0].coves
        )
        want = 5 * 1.2 * s**2 / 2.0 + 2 * math.pi * s**3 / 12.0 - 2 * s**3 / 3.0
        assert more == pytest.approx(want, rel=1e-4)
        assert more == pytest.approx(lacks, rel=1e-4)

    @pytest.mark.parametrize("form", ["cove", "fillet"])
    def test_in_upright_corners(self, form: str) -> None:
        """From the floor's cove up to the wall's top each has its section, 4 in all."""
        s, height = 0.1, 1.5 + 0.2
        file = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2,
                    cove={"form": form, "radius": s, "corners": True})  # fmt: skip
        runs = [run for run in takeoff_of(file).coves if run.kind == f"corner {form}"]
        section = s**2 * (1 - math.pi / 4) if form == "cove" else s**2 / 2.0
        assert len(runs) == 4
        found = math.fsum(run.mortar for run in runs)
        # the floor's cove hides at most its own height of them
        assert 4 * section * (height - s) * 0.99 <= found <= 4 * section * height * 1.01
