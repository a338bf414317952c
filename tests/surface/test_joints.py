"""Movement joints: their lengths by closed form, and what is said of those that cannot be."""

from __future__ import annotations

import csv
import io
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.errors import PoolFileError
from poolgeo.quantities import Takeoff
from poolgeo.write.tables import csv_text
from poolgeo.write.terminal import takeoff_text

from ..measure.quantities import (
    PoolDict,
    circle,
    level,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
)

WALL, FREEBOARD = 0.25, 0.2
ACROSS = {"start": [1.0, -2.0], "end": [1.0, 2.0], "width": 0.02}


def jointed(outline: PoolDict, floor: PoolDict, *joints: PoolDict, **more: object) -> PoolDict:
    """Return a pool with joints, in walls of `WALL` that stand `FREEBOARD` above the water."""
    shell = {"wall": WALL, "floor": 0.25}
    return pool(outline, floor, joints=list(joints), freeboard=FREEBOARD, shell=shell, **more)


def lengths(takeoff: Takeoff) -> dict[str, float]:
    """Return the length of joints on each kind of surface [m]."""
    found: dict[str, float] = {}
    for row in takeoff.joints:
        found[row.surface] = found.get(row.surface, 0.0) + row.length
    return found


class TestLengths:
    """A joint runs over wall top, wall, cove and floor, and up again."""

    def test_square_across_a_tank(self) -> None:
        """Without a cove: the wall tops, the walls, the floor."""
        takeoff = takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5), ACROSS))
        wanted = ["wall top", "wall", "floor", "wall", "wall top"]
        assert [row.surface for row in takeoff.joints] == wanted
        assert [row.number for row in takeoff.joints] == [f"J1.{k}" for k in range(1, 6)]
        sizes = [WALL, 1.7, 4.0, 1.7, WALL]
        assert [row.length for row in takeoff.joints] == pytest.approx(sizes, abs=2e-6)
        assert [row.wet_length for row in takeoff.joints] == pytest.approx(
            [0.0, 1.5, 4.0, 1.5, 0.0], abs=2e-6
        )
        assert takeoff.totals()["joint_m"] == pytest.approx(sum(sizes), abs=1e-5)

    @pytest.mark.parametrize("angle", [0.0, 20.0, -35.0])
    def test_askew_over_a_slope_with_a_cove(self, angle: float) -> None:
        """Askew by a, floor and wall tops grow by 1 / cos a, the cove's quarter is an ellipse's."""
        turn, r, fall = math.radians(angle), 0.15, 0.1
        shift = 2.0 * math.tan(turn)
        joint = {"start": [-shift, -2.0], "end": [shift, 2.0], "width": 0.02}
        floor = plane(1.5, fall, 90.0) | {"at": [0.0, 0.0]}  # deeper to the north: cove arcs differ
        takeoff = takeoff_of(jointed(rectangle(12.0, 4.0), floor, joint, cove={"radius": r}))
        slope, far = math.atan(fall), 0.0
        arcs = 0.0
        for way in (1.0, -1.0):  # to the deep and to the shallow side
            phi = math.pi / 2.0 + way * slope  # from the wall's contact to the floor's
            angles = np.linspace(0.0, phi, 4001)
            out, up = r * (1.0 - np.cos(angles)) / math.cos(turn), -r * np.sin(angles)
            arcs += float(np.hypot(np.diff(out), np.diff(up)).sum())
            far += r * (1.0 - math.cos(phi))
        found = lengths(takeoff)
        run = (4.0 - far) * math.hypot(1.0 / math.cos(turn), fall)
        assert found["floor"] == pytest.approx(run, rel=1e-4)
        assert found["cove"] == pytest.approx(arcs, rel=1e-3)
        assert found["wall top"] == pytest.approx(2.0 * WALL / math.cos(turn), rel=1e-5)

    def test_chord_of_a_circle(self) -> None:
        """In a round pool the floor's stretch is a chord."""
        joint = {"start": [1.0, -3.2], "end": [1.0, 3.2], "width": 0.02}
        found = lengths(takeoff_of(jointed(circle(3.0), level(1.5), joint)))
        assert found["floor"] == pytest.approx(2.0 * math.sqrt(9.0 - 1.0), rel=1e-3)
        assert found["wall"] == pytest.approx(2.0 * 1.7, rel=1e-5)

    def test_one_limb_of_an_angle(self) -> None:
        """What the line meets beyond open ground is another structure's."""
        outline = polygon((0, 0), (10, 0), (10, 8), (7, 8), (7, 3), (3, 3), (3, 8), (0, 8))
        joint = {"start": [-0.1, 6.0], "end": [3.1, 6.0], "width": 0.02}
        both = joint | {"end": [10.1, 6.0]}
        assert lengths(takeoff_of(jointed(outline, level(1.5), joint)))["floor"] == pytest.approx(3)
        assert lengths(takeoff_of(jointed(outline, level(1.5), both)))["floor"] == pytest.approx(6)

    def test_steps_and_benches(self) -> None:
        """Over a bench it runs along its top and down its face."""
        bench = {"start": [-4.0, -2.0], "end": [4.0, -2.0], "width": 0.5, "depth": 0.45}
        found = lengths(takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5), ACROSS, bench=[bench])))
        assert found["bench top"] == pytest.approx(0.5, abs=1e-5)
        assert found["bench face"] == pytest.approx(1.05, abs=1e-5)
        assert found["floor"] == pytest.approx(3.5, abs=1e-5)
        assert found["wall"] == pytest.approx(1.7 + 0.65, abs=1e-5)

    @given(st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
    def test_any_line(self, a: float, b: float) -> None:
        """A level floor's stretch is the line's own length, whatever way it runs."""
        joint = {"start": [a, -2.0], "end": [b, 2.0], "width": 0.02}
        back = {"start": [b, 2.0], "end": [a, -2.0], "width": 0.02}
        takeoff = takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5), joint, back))
        one, two = ([r for r in takeoff.joints if r.number.startswith(k)] for k in ("J1.", "J2."))
        assert [row.surface for row in one] == [row.surface for row in reversed(two)]
        for rows in (one, two):
            assert sum(row.length for row in rows if row.surface == "floor") == pytest.approx(
                math.hypot(4.0, b - a), abs=1e-5
            )
        assert all(sum(row.zones) == pytest.approx(row.length) for row in takeoff.joints)

    def test_nothing_else_changes(self) -> None:
        """A joint takes nothing off areas, edges and volumes."""
        with_it = takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5), ACROSS)).as_dict()
        without = takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5))).as_dict()
        for name in ("areas", "edges", "volumes", "coves"):
            assert with_it[name] == without[name]


class TestReports:
    """Every report has the rows."""

    def test_rows(self) -> None:
        """Table, CSV and JSON give the same length."""
        named = ACROSS | {"name": "crack line"}
        takeoff = takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5), named))
        (row,) = [r for r in takeoff.as_dict()["joints"] if r["surface"] == "floor"]
        assert row["kind"] == "structural joint"
        assert row["name"] == "crack line"
        assert row["length_m"] == pytest.approx(4.0)
        assert row["width_m"] == pytest.approx(0.02)
        rows = list(csv.DictReader(io.StringIO(csv_text(takeoff))))
        mine = [r for r in rows if r["section"] == "joint" and r["measure"] == "length"]
        assert {r["note"]: float(r["value"]) for r in mine}["floor, crack line"] == 4.0
        assert sum(float(r["value"]) for r in mine) == pytest.approx(takeoff.totals()["joint_m"])
        text = takeoff_text(takeoff, "m")
        assert "Joints of the structure" in text
        assert "crack line" in text


def found_in(content: PoolDict) -> str:
    """Return what is said of a pool that cannot be built."""
    with pytest.raises(PoolFileError) as caught:
        takeoff_of(content)
    return str(caught.value)


class TestFindings:
    """What is wrong with a joint is said with its place."""

    def test_ends_in_the_pool(self) -> None:
        """A joint cannot stop in the water."""
        text = found_in(jointed(rectangle(8.0, 4.0), level(1.5), ACROSS | {"end": [1.0, 1.0]}))
        assert "'joints[0].end' must lie in the pool's wall or beyond it" in text
        assert "(1.000, 1.000) m" in text

    def test_misses(self) -> None:
        """One beside the pool parts nothing."""
        away = {"start": [9.0, -2.0], "end": [9.0, 2.0], "width": 0.02}
        text = found_in(jointed(rectangle(8.0, 4.0), level(1.5), away))
        assert "'joints[0]' must run across the pool" in text

    def test_no_line(self) -> None:
        """Two points make a line."""
        text = found_in(jointed(rectangle(8.0, 4.0), level(1.5), ACROSS | {"end": [1.0, -2.0]}))
        assert "'joints[0].end' must differ from 'start'" in text

    def test_along_a_wall(self) -> None:
        """In an upright face it is no line: that is said, and the line beside it is taken."""
        along = {"start": [-4.0, -2.0], "end": [4.0, -2.0], "width": 0.02}
        takeoff = takeoff_of(jointed(rectangle(8.0, 4.0), level(1.5), along))
        (warning,) = takeoff.warnings
        assert "should not run along an upright face" in str(warning)
        assert "the wall of the pool" in str(warning)

    def test_under_a_fitting(self) -> None:
        """A drain over a joint is warned of, one beside it is not."""
        drains = [
            {"kind": "main drain", "point": [x, 0.0], "width": 0.3, "height": 0.3, "direction": 0}
            for x in (1.1, -1.5)
        ]
        content = jointed(rectangle(8.0, 4.0), level(1.5), ACROSS, fittings=drains)
        said = [str(item) for item in takeoff_of(content).warnings]
        clear = [text for text in said if "clear of movement joints" in text]
        assert len(clear) == 1
        assert "F1 at (1.100, 0.000) m reaches over joint J1" in clear[0]

    def test_under_a_fitting_where_it_is_carried_on(self) -> None:
        """The line ends at the pool's wall, the cut at the far wall of the channel."""
        channel = {"start": [-3, -2], "end": [3, -2], "crest": 0, "width": 0.3, "depth": 0.4}
        drains = [{"kind": "overflow drain", "point": [x, -2.4], "diameter": 0.1, "collar": 0.02}
                  for x in (1.05, 2.0)]  # fmt: skip
        line = {"start": [1.0, -2.0], "end": [1.0, 2.0], "width": 0.02}
        content = jointed(
            rectangle(8.0, 4.0), level(1.5), line, channels=[channel], fittings=drains
        )
        said = [str(item) for item in takeoff_of(content).warnings]
        clear = [text for text in said if "clear of movement joints" in text]
        assert len(clear) == 1
        assert "F1 at (1.050, -2.400) m reaches over joint J1" in clear[0]
