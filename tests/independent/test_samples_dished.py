"""The samples with dished, crowned and troughed floors: what their files' numbers come to.

By closed form, and by Gauss's rule along a section or over a rectangle; nothing of poolgeo's
geometry is used.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from poolgeo.arrays import Floats

from .sample_files import (
    SIZE,
    VOLUME,
    areas,
    integral,
    number,
    numbers,
    outside,
    over,
    plain,
    runs,
    takeoff,
)


class TestWarmPool:
    """Round, dished, coved: a surface of revolution, so by its section (Pappus), suspended."""

    FILE = plain("dished")
    R = number(FILE["outline"]["radius"])
    TOP = number(FILE["freeboard"])
    DEEP = number(FILE["floor"]["depth"])
    BEND = (DEEP - number(FILE["floor"]["edge_depth"])) / number(FILE["floor"]["reach"]) ** 2
    BALL = number(FILE["cove"]["radius"])
    OUTER = R + number(FILE["shell"]["wall"])
    SLAB = number(FILE["shell"]["floor"])

    def floor(self, r: Floats) -> Floats:
        """Height of the floor."""
        return self.BEND * r**2 - self.DEEP

    def stretch(self, r: Floats) -> Floats:
        """Its true length over its length in plan."""
        return np.sqrt(1 + (2 * self.BEND * r) ** 2)

    def ball(self) -> tuple[float, float, float]:
        """Where the ball touches the floor; its centre's height; the angle of its arc's end."""

        def centre(r: float) -> float:
            slope = 2 * self.BEND * r
            return r - self.BALL * slope / math.hypot(1, slope) - (self.R - self.BALL)

        foot = float(brentq(centre, 0.5 * self.R, self.R))
        slope = 2 * self.BEND * foot
        height = self.BEND * foot**2 - self.DEEP + self.BALL / math.hypot(1, slope)
        return foot, height, math.atan2(-1, slope)

    def water(self) -> float:
        """Up to the ball's foot under the floor, from there under its arc."""
        foot, height, end = self.ball()
        inner = integral(lambda r: 2 * np.pi * r * -self.floor(r), 0.0, foot)

        def under_arc(a: Floats) -> Floats:  # along the arc: dr = -ball sin(a) da
            r = self.R - self.BALL + self.BALL * np.cos(a)
            z = height + self.BALL * np.sin(a)
            return 2 * np.pi * r * -z * -self.BALL * np.sin(a)

        return inner + integral(under_arc, end, 0.0)

    def test_water(self) -> None:
        """Under the floor, and under the arc of the cove."""
        assert takeoff("dished").water["pool"] == pytest.approx(self.water(), rel=VOLUME)

    def test_areas(self) -> None:
        """Each ring of the section, turned about the middle."""
        foot, height, end = self.ball()
        want = {
            "floor": integral(lambda r: 2 * np.pi * r * self.stretch(r), 0.0, foot),
            "wall": 2 * math.pi * self.R * (self.TOP - height),
            "cove": integral(
                lambda a: 2 * np.pi * self.BALL * (self.R - self.BALL + self.BALL * np.cos(a)),
                end,
                0.0,
            ),
            "wall top": math.pi * (self.OUTER**2 - self.R**2),
        }
        assert areas("dished") == pytest.approx(want, rel=SIZE)

    def test_lengths(self) -> None:
        """The cove is measured along the wall."""
        round_ = 2 * math.pi * self.R
        assert runs("dished") == pytest.approx({("wall/wall top", "external"): round_}, rel=SIZE)
        assert takeoff("dished").totals()["cove_m"] == pytest.approx(round_, rel=SIZE)

    def soffit(self, r: Floats) -> Floats:
        """Height of the underside: the slab's thickness is square to the floor."""
        return self.floor(r) - self.SLAB * self.stretch(r)

    def test_concrete(self) -> None:
        """All under the wall top, less the water and what stands empty above it."""
        whole = integral(lambda r: 2 * np.pi * r * (self.TOP - self.soffit(r)), 0.0, self.OUTER)
        want = whole - self.water() - math.pi * self.R**2 * self.TOP
        assert takeoff("dished").shell == pytest.approx(want, rel=VOLUME)

    def test_what_is_seen_from_below(self) -> None:
        """The soffit; with the outer wall it is what takes formwork."""
        step = 1e-5

        def skin(r: Floats) -> Floats:
            rise = (self.soffit(r + step) - self.soffit(r - step)) / (2 * step)
            return 2 * np.pi * r * np.sqrt(1 + rise**2)

        soffit = integral(skin, 0.0, self.OUTER)
        edge = float(self.soffit(np.array(self.OUTER)))
        wall = 2 * math.pi * self.OUTER * (self.TOP - edge)
        want = {
            "outer wall": wall,
            "soffit": soffit,
            "formwork": wall + soffit,
            "seen from below": soffit,
        }
        assert outside("dished") == pytest.approx(want, rel=SIZE)


class TestLearnersPool:
    """A rectangle with a crowned floor; rings of weir top, channel and deck about it."""

    FILE = plain("crowned")
    LENGTH, WIDTH = numbers(FILE["outline"], "length", "width")
    DEEP = number(FILE["floor"]["depth"])
    BEND = (number(FILE["floor"]["edge_depth"]) - DEEP) / number(FILE["floor"]["reach"]) ** 2
    WALL, SLAB = numbers(FILE["shell"], "wall", "floor")
    CLEAR, DOWN, FULL, DECK = numbers(FILE["channels"][0], "width", "depth", "water", "deck")

    def grown(self, by: float) -> float:
        """Plan area within a line round the pool [m2]."""
        return (self.LENGTH + 2 * by) * (self.WIDTH + 2 * by)

    def round(self, by: float) -> float:
        """Length of a line round the pool [m]."""
        return 2 * (self.LENGTH + self.WIDTH + 4 * by)

    def depth(self, x: Floats, y: Floats) -> Floats:
        """Depth of the floor."""
        return self.DEEP + self.BEND * (x**2 + y**2)

    def stretch(self, x: Floats, y: Floats) -> Floats:
        """True area of the floor over its plan."""
        return np.sqrt(1 + 4 * self.BEND**2 * (x**2 + y**2))

    def water(self) -> float:
        """A d + bend times the polar second moment l w (l^2 + w^2) / 12."""
        second = (self.LENGTH**2 + self.WIDTH**2) / 12
        return self.LENGTH * self.WIDTH * (self.DEEP + self.BEND * second)

    def test_water(self) -> None:
        """The pool's, and a ring of it in the gutter."""
        ring = self.grown(self.WALL + self.CLEAR) - self.grown(self.WALL)
        want = {"pool": self.water(), "gutter": ring * self.FULL}
        assert takeoff("crowned").water == pytest.approx(want, rel=VOLUME)

    def test_areas_of_the_pool(self) -> None:
        """A wall s long at a distance c of the middle: d s + bend (s^3 / 12 + c^2 s)."""
        wall = 0.0
        for s, c in ((self.LENGTH, self.WIDTH / 2), (self.WIDTH, self.LENGTH / 2)):
            wall += 2 * (self.DEEP * s + self.BEND * (s**3 / 12 + c**2 * s))
        want = {
            "floor": over(self.stretch, self.LENGTH, self.WIDTH),
            "wall": wall,
            "weir top": self.grown(self.WALL) - self.grown(0.0),
        }
        assert areas("crowned") == pytest.approx(want, rel=SIZE)

    def test_areas_of_the_gutter(self) -> None:
        """Rings, and walls round them."""
        lip, far = self.WALL, self.WALL + self.CLEAR
        want = {
            "weir face": self.round(lip) * self.DOWN,
            "channel floor": self.grown(far) - self.grown(lip),
            "channel wall": self.round(far) * (self.DOWN + self.DECK),
            "wall top": self.grown(far + self.WALL) - self.grown(far),
        }
        assert areas("crowned", "gutter") == pytest.approx(want, rel=SIZE)

    def test_feet(self) -> None:
        """The foot of a wall is an arc of a parabola, the same shape for every wall."""
        foot = sum(
            2 * integral(lambda s: np.sqrt(1 + (2 * self.BEND * s) ** 2), -half, half)
            for half in (self.LENGTH / 2, self.WIDTH / 2)
        )
        corner = self.DEEP + self.BEND * (self.LENGTH**2 + self.WIDTH**2) / 4
        found = runs("crowned")
        assert found["floor/wall", "internal"] == pytest.approx(foot, rel=SIZE)
        assert found["wall/wall", "internal"] == pytest.approx(4 * corner, rel=SIZE)

    def test_concrete(self) -> None:
        """Under the lip the pool's own; beyond, slab and outer wall of the channel."""
        out = 2 * self.WALL

        def down(x: Floats, y: Floats) -> Floats:
            return self.depth(x, y) + self.SLAB * self.stretch(x, y)

        pool = over(down, self.LENGTH + out, self.WIDTH + out) - self.water()
        far = self.WALL + self.CLEAR
        slab = (self.grown(far + self.WALL) - self.grown(self.WALL)) * self.SLAB
        rim = (self.grown(far + self.WALL) - self.grown(far)) * (self.DOWN + self.DECK)
        assert takeoff("crowned").shell == pytest.approx(pool + slab + rim, rel=VOLUME)


class TestBathHousePool:
    """A trough along x; a shelf, and a beach down to where it meets the trough."""

    FILE = plain("trough")
    LENGTH, WIDTH = numbers(FILE["outline"], "length", "width")
    TOP = number(FILE["freeboard"])
    DEEP = number(FILE["floor"]["depth"])
    BEND = (DEEP - number(FILE["floor"]["edge_depth"])) / number(FILE["floor"]["reach"]) ** 2
    WALL, SLAB = numbers(FILE["shell"], "wall", "floor")
    SHELF, SHALLOW = numbers(FILE["ledges"][0], "width", "depth")
    SLOPE = number(FILE["ledges"][0]["beach"]["slope"])

    def across(self, beyond: float = 0.0) -> tuple[float, float]:
        """From wall to wall, or so far beyond, counted from the middle."""
        half = self.WIDTH / 2 + beyond
        return -half, half

    def depth(self, v: Floats) -> Floats:
        """Depth of the trough."""
        return self.DEEP - self.BEND * v**2

    def fall(self, v: Floats) -> Floats:
        """Its slope across."""
        return 2 * self.BEND * v

    def end(self, v: Floats) -> Floats:
        """Length of the beach in plan, until it is as deep as the trough."""
        return (self.depth(v) - self.SHALLOW) / self.SLOPE

    def water(self) -> float:
        """Over shelf, beach and trough, section by section."""

        def section(v: Floats) -> Floats:
            mean = (self.SHALLOW + self.depth(v)) / 2
            rest = self.LENGTH - self.SHELF - self.end(v)
            return self.SHELF * self.SHALLOW + self.end(v) * mean + rest * self.depth(v)

        return integral(section, *self.across())

    def test_water(self) -> None:
        """Over shelf, beach and trough."""
        assert takeoff("trough").water["pool"] == pytest.approx(self.water(), rel=VOLUME)

    def test_areas(self) -> None:
        """The beach is a plane up to where it meets the trough."""

        def floor(v: Floats) -> Floats:
            return (self.LENGTH - self.SHELF - self.end(v)) * np.hypot(1, self.fall(v))

        beach = integral(self.end, *self.across()) * math.hypot(1, self.SLOPE)
        side = np.array(self.WIDTH / 2)
        edge, run = float(self.depth(side)), float(self.end(side))
        flank = self.SHELF * self.SHALLOW + run * (self.SHALLOW + edge) / 2
        flank += (self.LENGTH - self.SHELF - run) * edge
        ends = self.WIDTH * self.SHALLOW + integral(self.depth, *self.across())
        outer = (self.LENGTH + 2 * self.WALL) * (self.WIDTH + 2 * self.WALL)
        want = {
            "floor": integral(floor, *self.across()),
            "bench top": self.SHELF * self.WIDTH + beach,
            "wall": 2 * flank + ends + 2 * (self.LENGTH + self.WIDTH) * self.TOP,
            "wall top": outer - self.LENGTH * self.WIDTH,
        }
        assert areas("trough") == pytest.approx(want, rel=SIZE)

    def test_lengths(self) -> None:
        """Where beach and trough meet, both fall: the curve turns in plan and in height."""

        def step(v: Floats) -> Floats:
            return np.sqrt(1 + (self.fall(v) / self.SLOPE) ** 2 + self.fall(v) ** 2)

        found = runs("trough")
        toe = integral(step, *self.across())
        assert found["floor/bench top", "internal"] == pytest.approx(toe, rel=SIZE)
        assert found["bench top/bench top", "external"] == pytest.approx(self.WIDTH, rel=SIZE)
        side = float(self.end(np.array(self.WIDTH / 2)))
        foot = 2 * (self.LENGTH - self.SHELF - side)
        foot += integral(lambda v: np.hypot(1, self.fall(v)), *self.across())
        assert found["floor/wall", "internal"] == pytest.approx(foot, rel=SIZE)

    def test_concrete(self) -> None:
        """All under the wall top less what stands open."""

        def down(v: Floats) -> Floats:
            return self.TOP + self.depth(v) + self.SLAB * np.hypot(1, self.fall(v))

        whole = integral(down, *self.across(self.WALL)) * (self.LENGTH + 2 * self.WALL)
        want = whole - self.water() - self.LENGTH * self.WIDTH * self.TOP
        assert takeoff("trough").shell == pytest.approx(want, rel=VOLUME)
