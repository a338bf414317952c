"""Fillets and arrises: their volume by the angle of each run, and by the way of its centroid.

A fillet's volume is its section times the length of the edge; where edges meet in a corner their
fillets count twice there, which is less than r^3 / 10 for each.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.detailing.detail import _line_of
from poolgeo.detailing.spans import spans_of
from poolgeo.sections import Form

from ..measure.quantities import (
    PoolDict,
    circle,
    level,
    plane,
    pool,
    rectangle,
    takeoff_of,
)
from .systems import TAPE, detailed, done, fillet, integral, outline_of, rule, system_of, total

CHORDS = 1e-3
"""Relative: what the chords of a curved edge may lose."""

ISLAND = {"name": "block", "outline": circle(0.5), "top": 0.3}
SIZES = (0.03, 0.05, 0.1, 0.15)


def filled(file: PoolDict, section: str, size: float, kind: str = "floor/wall") -> float:
    """Return what fillets along edges of one kind take [m3]; the size in m."""
    work = rule(fillet(section, 1000 * size), kinds=[kind], sense="internal")
    return total(detailed(file, edges=[work]), "fillet")


def taken_off(file: PoolDict, form: Form, size: float, kind: str) -> tuple[float, float]:
    """Return volume [m3] and change of surface [m2] of arrises of the external edges of a kind."""
    edges = system_of(edges=[rule(TAPE, kinds=[kind], sense="external")]).edges
    spans = [span for span in spans_of(takeoff_of(file), edges) if span.rule is not None]
    found = [_line_of(span, "").sized(form, size)[1:] for span in spans]
    return math.fsum(volume for volume, _ in found), math.fsum(change for _, change in found)


class TestBox:
    """8 m by 4 m, level floor: 24 m at a right angle."""

    @pytest.mark.parametrize("size", SIZES)
    def test_triangular(self, size: float) -> None:
        """Half of the square of its leg."""
        assert filled(pool(rectangle(8.0, 4.0), level(1.5)), "triangular", size) == pytest.approx(
            24.0 * size**2 / 2.0
        )

    @pytest.mark.parametrize(
        ("size", "section"),
        [(0.05, 0.000536505), (0.075, 0.001207135), (0.1, 0.002146018), (0.15, 0.004828541)],
    )
    def test_hollow(self, size: float, section: float) -> None:
        """Sections from the project's table of check values."""
        found = filled(pool(rectangle(8.0, 4.0), level(1.5)), "hollow", size)
        assert found == pytest.approx(24.0 * section, rel=1e-5)

    @pytest.mark.parametrize(
        ("section", "narrower"), [("triangular", math.sqrt(2) - 2), ("hollow", math.pi / 2 - 2)]
    )
    def test_the_surface_gets_narrower(self, section: str, narrower: float) -> None:
        """The surface gets narrower."""
        work = rule(fillet(section, 50), kinds=["floor/wall"], sense="internal")
        found = detailed(pool(rectangle(8.0, 4.0), level(1.5)), edges=[work])
        widens = sum(row.widens for row in found.details)
        assert widens == pytest.approx(24.0 * 0.05 * narrower)
        assert {(row.unit, row.size, row.material) for row in found.details} == {
            ("m3", 0.05, "mortar")
        }

    def test_what_is_lost_stands_beside_the_volume(self) -> None:
        """The volume is what ends up in place, whatever is lost."""
        work = rule(fillet("triangular", 30, loss="10 %"), kinds=["floor/wall"], sense="internal")
        found = detailed(pool(rectangle(8.0, 4.0), level(1.5)), edges=[work])
        assert total(found, "fillet") == pytest.approx(24.0 * 0.03**2 / 2.0)
        assert [row.loss for row in found.details] == pytest.approx([0.1] * 4)

    def test_upright_corners(self) -> None:
        """Four edges, from the floor up to the wall's top: 1.5 + 0.2."""
        file = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2)
        assert filled(file, "triangular", 0.05, "wall/wall") == pytest.approx(
            4 * 1.7 * 0.05**2 / 2.0
        )


class TestFall:
    """A floor that falls by g along x: walls across it meet it at 90 degrees and its angle."""

    @pytest.mark.parametrize("section", ["triangular", "hollow"])
    @pytest.mark.parametrize("fall", [0.05, 0.1, 0.3])
    def test_each_wall_by_its_angle(self, section: str, fall: float) -> None:
        """The low end is narrower than a right angle, the high end wider, the sides are slanted."""
        size = 0.08
        work = rule(fillet(section, 80), kinds=["floor/wall"], sense="internal")
        found = done(detailed(pool(rectangle(6.0, 4.0), plane(1.8, fall)), edges=[work]), "fillet")
        form = "straight" if section == "triangular" else "round"
        tilt = math.degrees(math.atan(fall))
        low, right, high = (outline_of(form, size, 90.0 + way * tilt).area for way in (-1, 0, 1))
        side = 6.0 * math.hypot(1.0, fall) * right
        assert sorted(row.quantity for row in found) == pytest.approx(
            sorted([4.0 * low, 4.0 * high, side, side]), rel=1e-4
        )

    @settings(max_examples=12)
    @given(
        fall=st.floats(0.0, 0.25), direction=st.floats(-180.0, 180.0),
        section=st.sampled_from(["triangular", "hollow"]),
    )  # fmt: skip
    def test_whichever_way_it_falls(self, fall: float, direction: float, section: str) -> None:
        """The angle between wall and floor is pi - acos(n N) of their normals, wall by wall."""
        way = math.radians(direction)
        gx, gy = fall * math.cos(way), fall * math.sin(way)
        form = "straight" if section == "triangular" else "round"
        want = 0.0
        for inward, length in ((gx, 3.0), (-gx, 3.0), (gy, 5.0), (-gy, 5.0)):
            cosine = inward / math.hypot(1.0, fall)
            area = outline_of(form, 0.08, 180.0 - math.degrees(math.acos(cosine)), 500).area
            along = gy if length == 3.0 else gx
            want += area * length * math.hypot(1.0, along)
        file = pool(rectangle(5.0, 3.0), plane(1.8, fall, direction))
        assert filled(file, section, 0.08) == pytest.approx(want, rel=1e-4)

    def test_in_a_round_pool(self) -> None:
        """The angle turns from the low side to the high one: sections along the foot's ellipse.

        At the wall's point at the angle t the inward normal is n, the floor's is N: the angle
        between the faces is pi - acos(n N), and the centroid lies that way off the foot.
        """
        radius, size, fall = 2.0, 0.1, 0.25
        t = np.linspace(0.0, 2.0 * math.pi, 1441)
        foot = np.column_stack([radius * np.cos(t), radius * np.sin(t), -fall * radius * np.cos(t)])
        wall = np.column_stack([-np.cos(t), -np.sin(t), np.zeros_like(t)])
        floor = np.array([fall, 0.0, 1.0]) / math.hypot(1.0, fall)
        bisector = wall + floor
        bisector /= np.linalg.norm(bisector, axis=1)[:, None]
        sections = [
            outline_of("round", size, 180.0 - math.degrees(math.acos(cosine)), 200)
            for cosine in (wall @ floor).tolist()
        ]
        reach = [math.hypot(*item.centroid.coords[0]) for item in sections]
        path = foot + np.array(reach)[:, None] * bisector
        way = np.linalg.norm(np.diff(path, axis=0), axis=1)
        areas = np.array([item.area for item in sections])
        want = float(way @ (areas[1:] + areas[:-1]) / 2.0)
        file = pool(circle(radius), plane(1.5, fall))
        assert filled(file, "hollow", size) == pytest.approx(want, rel=2e-3)


class TestLeaningWalls:
    """Walls that lean by 1:10 from 0.2 above the water to 1.5 below: their foot stands 0.17 in."""

    FILE = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2, batter={"slope": 0.1})

    @pytest.mark.parametrize("section", ["triangular", "hollow"])
    def test_at_the_foot(self, section: str) -> None:
        """Wider than a right angle by the wall's lean; 2 (8 + 4 - 4 x 0.17) m long."""
        form = "straight" if section == "triangular" else "round"
        area = outline_of(form, 0.1, 90.0 + math.degrees(math.atan(0.1))).area
        assert filled(self.FILE, section, 0.1) == pytest.approx(
            2 * (8 + 4 - 4 * 0.17) * area, rel=1e-4
        )

    def test_in_the_upright_corners(self) -> None:
        """Normals (1, 0, s) and (0, 1, s) over sqrt(1 + s^2) make cos = s^2 / (1 + s^2).

        The edge goes 0.17 in along x and y over 1.7 m.
        """
        degrees = 180.0 - math.degrees(math.acos(0.01 / 1.01))
        length = 4 * math.sqrt(1.7**2 + 2 * 0.17**2)
        area = outline_of("straight", 0.1, degrees).area
        assert filled(self.FILE, "triangular", 0.1, "wall/wall") == pytest.approx(length * area)

    def test_a_wall_top_above_a_leaning_wall(self) -> None:
        """What is taken off there has 90 degrees and the lean: the wall goes in below its top."""
        file = self.FILE
        area = outline_of("straight", 0.02, 90.0 + math.degrees(math.atan(0.1))).area
        volume, change = taken_off(file, "straight", 0.02, "wall/wall top")
        assert volume == pytest.approx(24.0 * area)
        half = math.radians(90.0 + math.degrees(math.atan(0.1))) / 2.0
        assert change == pytest.approx(24.0 * 2.0 * 0.02 * (math.sin(half) - 1.0))


class TestRound:
    """Round edges by Pappus, or by integrals over cylinders."""

    def test_a_hollow_fillet_in_a_round_pool(self) -> None:
        """The project's table of check values: R = 2.0, r = 0.1, 0.02666648 m3."""
        found = filled(pool(circle(2.0), level(1.5)), "hollow", 0.1)
        assert found == pytest.approx(0.02666648, rel=CHORDS)

    def test_a_triangular_fillet_in_a_round_pool(self) -> None:
        """Half a square, its centroid a third of the leg off the wall: pi s^2 (R - s / 3)."""
        found = filled(pool(circle(2.0), level(1.5)), "triangular", 0.12)
        assert found == pytest.approx(math.pi * 0.12**2 * (2.0 - 0.04), rel=CHORDS)

    def test_a_hollow_fillet_about_an_island(self) -> None:
        """It lies outside the wall: the sum of 2 pi x times its height, from R to R + r."""
        radius, r = 0.5, 0.1
        want = integral(
            lambda x: 2 * math.pi * x * (r - np.sqrt(r**2 - (radius + r - x) ** 2)),
            radius, radius + r,
        )  # fmt: skip
        file = pool(rectangle(8.0, 4.0), level(1.5), islands=[ISLAND])
        straight = 24.0 * r**2 * (1 - math.pi / 4)
        assert filled(file, "hollow", r) - straight == pytest.approx(want, rel=CHORDS)

    @pytest.mark.parametrize("size", [0.02, 0.1])
    def test_a_round_taken_off_an_island(self, size: float) -> None:
        """It lies inside the island's wall: the sum of 2 pi x times its depth, from R - r to R."""
        radius = 0.5
        want = integral(
            lambda x: 2 * math.pi * x * (size - np.sqrt(size**2 - (x - radius + size) ** 2)),
            radius - size, radius,
        )  # fmt: skip
        rim = 24.0 * size**2 * (1 - math.pi / 4)
        file = pool(rectangle(8.0, 4.0), level(1.5), islands=[ISLAND])
        volume, _ = taken_off(file, "round", size, "wall/wall top")
        assert volume - rim == pytest.approx(want, rel=CHORDS)

    @pytest.mark.parametrize("size", [0.02, 0.1])
    def test_a_round_taken_off_the_top_of_a_round_wall(self, size: float) -> None:
        """It lies beyond the wall: the sum of 2 pi x times its depth, from R to R + r."""
        radius = 1.5
        want = integral(
            lambda x: 2 * math.pi * x * (size - np.sqrt(size**2 - (radius + size - x) ** 2)),
            radius, radius + size,
        )  # fmt: skip
        volume, _ = taken_off(pool(circle(radius), level(1.5)), "round", size, "wall/wall top")
        assert volume == pytest.approx(want, rel=CHORDS)

    def test_a_chamfer_of_the_rim_of_a_round_bench(self) -> None:
        """The bench lies beyond its rim at 2 - 0.45: a triangle with its centroid s / 3 beyond."""
        file = pool(circle(2.0), level(1.5), bench=[{"width": 0.45, "depth": 0.5}])
        volume, _ = taken_off(file, "straight", 0.06, "bench top/bench face")
        want = 0.06**2 / 2.0 * 2.0 * math.pi * (1.55 + 0.02)
        assert volume == pytest.approx(want, rel=CHORDS)
        inside = filled(file, "triangular", 0.06, "floor/bench face")
        assert inside == pytest.approx(0.06**2 * math.pi * (1.55 - 0.02), rel=CHORDS)

    def test_what_it_narrows_is_measured_along_the_edge(self) -> None:
        """True: cove 1.93805669 m2, less wall 2 pi R r and floor pi (R^2 - (R - r)^2).

        Along the edge it is out by less than r / R of that.
        """
        radius, r = 2.0, 0.1
        true = 1.93805669 - 2 * math.pi * radius * r - math.pi * (radius**2 - (radius - r) ** 2)
        work = rule(fillet("hollow", 100), kinds=["floor/wall"], sense="internal")
        (row,) = done(detailed(pool(circle(radius), level(1.5)), edges=[work]), "fillet")
        assert row.widens == pytest.approx(true, rel=r / radius)
        along = 2 * math.pi * radius * r * (math.pi / 2 - 2)
        assert row.widens == pytest.approx(along, rel=CHORDS)


class TestArrisRows:
    """An arris takes no material; its row tells its length and what the surface loses."""

    @pytest.mark.parametrize(
        ("section", "narrower"), [("rounded", math.pi / 2 - 2), ("chamfered", math.sqrt(2) - 2)]
    )
    def test_of_a_bench(self, section: str, narrower: float) -> None:
        """Front and two ends of the top: 4 + 2 x 0.45; two upright corners of 1 m."""
        bench = [{"start": [-2, -2], "end": [2, -2], "width": 0.45, "depth": 0.5}]
        work = {"do": "arris", "section": section, "size": 10}
        found = detailed(
            pool(rectangle(8.0, 4.0), level(1.5), bench=bench),
            edges=[rule(work, kinds=["bench */bench face"], sense="external")],
        )
        assert total(found, "arris") == pytest.approx(4.0 + 2 * 0.45 + 2 * 1.0)
        assert sum(row.widens for row in found.details) == pytest.approx(6.9 * 0.01 * narrower)
        assert {(row.unit, row.material, row.size) for row in found.details} == {("m", "", 0.01)}
