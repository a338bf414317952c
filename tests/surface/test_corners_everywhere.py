"""Corner coves and fillets in every body of water, and beside what ends in their corners."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from poolgeo.quantities import Takeoff

from ..measure.quantities import (
    area,
    circle,
    lengths,
    level,
    polygon,
    pool,
    rectangle,
    takeoff_of,
)
from ..properties.test_pools import check

VOLUME, SIZE = 5e-4, 1e-3
"""Relative: what a volume, an area or a length may be off."""

R, DEPTH, FREEBOARD = 0.1, 1.5, 0.15
HIGH = DEPTH + FREEBOARD - R
COVE = {"radius": R, "corners": True}
FORMS = pytest.mark.parametrize("form", ["cove", "fillet"])
WEST = {"start": [-5.0, 2.5], "end": [-5.0, -2.5]}


def tank(cove: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    """Return a tank of 10 by 5 m."""
    given = {"cove": cove} if cove is not None else {}
    return pool(rectangle(10.0, 5.0), level(DEPTH), freeboard=FREEBOARD, **given, **more)


def taken(cove: dict[str, Any] | None = None, **more: Any) -> Takeoff:
    """Take off a tank of 10 by 5 m."""
    return takeoff_of(tank(cove, **more))


def filled(form: str, radius: float = R) -> float:
    """Plan of what fills a square corner [m2]."""
    return radius**2 * (1.0 - math.pi / 4.0 if form == "cove" else 0.5)


def girth(form: str, radius: float = R) -> float:
    """Its length in plan [m]."""
    return radius * (math.pi / 2.0 if form == "cove" else math.sqrt(2.0))


def corner_runs(takeoff: Takeoff, form: str, body: str = "pool") -> list[float]:
    """Return the lengths of a body's corner coves, shortest first [m]."""
    kind = f"corner {form}"
    return sorted(run.length for run in takeoff.coves if (run.kind, run.body) == (kind, body))


def coved(length: float, width: float, depth: float, radius: float) -> float:
    """Volume of a box, its corners and its floor's edge all rounded alike [m3]."""
    perimeter = 2.0 * (length + width) - (8.0 - 2.0 * math.pi) * radius
    plan = length * width - 4.0 * filled("cove", radius)
    off = radius * (10.0 - 3.0 * math.pi) / (12.0 - 3.0 * math.pi)  # of the spandrel's centroid
    return plan * depth - filled("cove", radius) * (perimeter - 2.0 * math.pi * off)


class TestFillets:
    """A fillet in an upright corner is a chamfer whose legs are the radius."""

    def test_a_tank(self) -> None:
        """Eight corners of 45 degrees in plan; the fillet's section is a triangle."""
        takeoff = taken(COVE | {"form": "fillet"})
        perimeter = 30.0 - (8.0 - 4.0 * math.sqrt(2.0)) * R
        mitres = 16.0 * math.tan(math.pi / 8.0)
        mortar = R**2 / 2.0 * (perimeter - R / 3.0 * mitres)
        plan = 50.0 - 4.0 * filled("fillet")
        assert takeoff.water["pool"] == pytest.approx(plan * DEPTH - mortar, rel=1e-6)
        face = math.sqrt(2.0) * R * (perimeter - R / 2.0 * mitres)
        assert area(takeoff, "fillet") == pytest.approx(face, rel=1e-6)
        assert corner_runs(takeoff, "fillet") == pytest.approx([HIGH] * 4, rel=1e-6)
        upright = 4.0 * girth("fillet") * HIGH
        assert area(takeoff, "corner fillet") == pytest.approx(upright, rel=1e-6)
        assert lengths(takeoff, "wall/corner fillet", "internal") == pytest.approx([HIGH] * 8)


@FORMS
@pytest.mark.parametrize("corners", [True, 0.25])
@pytest.mark.parametrize(
    "points",
    [[(0, 0), (8, 0), (2, 5)], [(0, 0), (8, -1), (9, 3), (4, 6), (-1, 3)]],
)
def test_corners_of_any_angle(
    points: list[tuple[float, float]], corners: bool | float, form: str
) -> None:
    """In a corner that turns by t an arc is R t long, and its chord 2 R sin(t / 2)."""
    radius = R if corners is True else corners
    file = pool(polygon(*points), level(DEPTH), freeboard=FREEBOARD,
                cove={"radius": R, "corners": corners, "form": form})  # fmt: skip
    sides = np.diff([*points, points[0]], axis=0)
    way = np.arctan2(sides[:, 1], sides[:, 0])
    turns = (way - np.roll(way, 1)) % (2.0 * math.pi)
    girths = radius * turns if form == "cove" else 2.0 * radius * np.sin(turns / 2.0)
    found = [run for run in takeoff_of(file).coves if run.kind == f"corner {form}"]
    areas = sorted(run.area for run in found)
    assert areas == pytest.approx(sorted((girths * HIGH).tolist()), rel=SIZE)
    assert [run.length for run in found] == pytest.approx([HIGH] * len(points), rel=SIZE)


class TestOtherBodies:
    """Spas, basins and channels have corners of their own."""

    def test_a_spa(self) -> None:
        """A box of two metres, in the pool, without corner coves in that."""
        spa = {"outline": rectangle(2.0, 2.0, centre=[3.0, 0.5]), "depth": 1.0, "freeboard": 0.1,
               "dam_wall": 0.2, "cove": {"radius": 0.05, "corners": True}}  # fmt: skip
        takeoff = taken(spas=[spa])
        assert takeoff.water["spa"] == pytest.approx(coved(2.0, 2.0, 1.0, 0.05), rel=VOLUME)
        assert corner_runs(takeoff, "cove", "spa") == pytest.approx([1.05] * 4, rel=SIZE)
        assert area(takeoff, "corner cove", "spa") == pytest.approx(
            4.0 * girth("cove", 0.05) * 1.05, rel=SIZE
        )
        dam = (2.4**2 - 4.0) + 4.0 * filled("cove", 0.05)
        assert area(takeoff, "dam wall top", "spa") == pytest.approx(dam, rel=SIZE)
        assert corner_runs(takeoff, "cove") == []

    def test_a_basin(self) -> None:
        """One metre along the whole west wall, of which it takes two corners at the weir's face."""
        basin = {"width": 1.0, "drop": 0.4, "depth": 0.8, "cove": COVE}
        takeoff = taken(overflows=[WEST | {"basin": basin}])
        assert takeoff.water["basin"] == pytest.approx(coved(5.0, 1.0, 0.8, R), rel=VOLUME)
        assert corner_runs(takeoff, "cove", "basin") == pytest.approx([0.8] * 4, rel=SIZE)

    @FORMS
    def test_a_channel_all_round(self, form: str) -> None:
        """Its outer wall has four inside corners; the pool's own end level with the lip."""
        channel = {"width": 0.3, "depth": 0.3, "cove": {"radius": 0.05, "corners": True,
                                                        "form": form}}  # fmt: skip
        takeoff = taken(COVE | {"form": form}, channels=[channel])
        high = 0.3 - 0.05 + FREEBOARD
        assert corner_runs(takeoff, form, "channel") == pytest.approx([high] * 4, rel=SIZE)
        assert corner_runs(takeoff, form) == pytest.approx([DEPTH - R] * 4, rel=SIZE)
        lip = 10.5 * 5.5 - 50.0 + 4.0 * filled(form)
        assert area(takeoff, "weir top") == pytest.approx(lip, rel=SIZE)


class TestWhatEndsInACorner:
    """A weir, a higher wall, a bench: what stands beside the corner cove."""

    @FORMS
    @pytest.mark.parametrize("fall", [0.0, 0.1, -0.1])
    def test_a_weir(self, form: str, fall: float) -> None:
        """Corner coves on its stretch end level with its inner edge; its face is bare."""
        weir = {**WEST, "fall": fall, "basin": {"width": 1.0, "drop": 0.4, "depth": 0.8}}
        takeoff = taken(COVE | {"form": form}, overflows=[weir])
        inner = -max(-fall, 0.0) * 0.25
        mean = [DEPTH - R + inner] * 2 + [HIGH] * 2
        assert corner_runs(takeoff, form) == pytest.approx(mean, rel=SIZE)
        top = 5.0 * 0.25 * math.hypot(1.0, fall) + 2.0 * filled(form)
        found = area(takeoff, "weir top") + area(takeoff, "weir top", "basin")
        assert found == pytest.approx(top, rel=SIZE)

    @FORMS
    def test_a_weir_about_a_corner(self, form: str) -> None:
        """Its top has a square corner outside, and what fills the corner inside."""
        weir = {"start": [-2.0, 2.5], "end": [-5.0, 0.0],
                "basin": {"width": 1.0, "drop": 0.4, "depth": 0.8}}  # fmt: skip
        takeoff = taken(COVE | {"form": form}, overflows=[weir])
        top = 0.25 * (3.25 + 2.5) + filled(form)
        assert area(takeoff, "weir top") == pytest.approx(top, rel=SIZE)

    @FORMS
    def test_a_higher_wall(self, form: str) -> None:
        """It ends in the middle of the corner cove, as walls of two heights do in a corner."""
        takeoff = taken(COVE | {"form": form}, walls=[WEST | {"height": 0.6}])
        mean = [HIGH] * 2 + [HIGH + (0.6 - FREEBOARD) / 2.0] * 2
        assert corner_runs(takeoff, form) == pytest.approx(mean, rel=SIZE)

    @FORMS
    def test_a_bench(self, form: str) -> None:
        """It goes from wall to wall, less what fills the corners."""
        takeoff = taken(COVE | {"form": form}, bench=[WEST | {"width": 0.4, "depth": 0.5}])
        top = 5.0 * 0.4 - 2.0 * filled(form)
        assert area(takeoff, "bench top") == pytest.approx(top, rel=1e-4)
        shown = [0.5 + FREEBOARD] * 2 + [HIGH] * 2
        assert corner_runs(takeoff, form) == pytest.approx(shown, rel=SIZE)

    def test_a_short_bench_between_corners(self) -> None:
        """That corner coves take some of it is not that it sticks out."""
        bench = {"start": [5.0, 1.2], "end": [5.0, 2.5], "width": 0.35, "depth": 0.5}
        takeoff = taken(COVE | {"corners": 0.3, "form": "fillet"}, bench=[bench])
        assert area(takeoff, "bench top") == pytest.approx(1.3 * 0.35 - 0.3**2 / 2.0, rel=1e-4)
        assert not takeoff.warnings

    @FORMS
    def test_a_fan(self, form: str) -> None:
        """Its treads lie about the corner of the walls."""
        fan = {"shape": "corner", "at": [-5.0, 2.5], "going": 0.3, "risers": 4}
        takeoff = taken(COVE | {"form": form}, steps=[fan])
        treads = math.pi / 4.0 * 1.2**2 - filled(form)
        assert area(takeoff, "tread") == pytest.approx(treads, rel=SIZE)

    @FORMS
    def test_where_the_cove_ends(self, form: str) -> None:
        """A wall without a cove: the ball, that stands still in the corner, ends half way there."""
        takeoff = taken(COVE | {"form": form, "stretches": [WEST | {"radius": 0.0}]})
        half = [HIGH] * 2 + [HIGH + R / 2.0] * 2
        assert corner_runs(takeoff, form) == pytest.approx(half, rel=SIZE)

    def test_stations_count_along_the_bare_outline(self) -> None:
        """Past two corners a length means the place that it means without their coves."""
        found = [
            area(taken(cove, bench=[{"start": 16.0, "end": 20.0, "width": 0.4, "depth": 0.5}]),
                 "bench top")
            for cove in (None, COVE)
        ]  # fmt: skip
        assert found[1] == pytest.approx(found[0], rel=1e-9)


@FORMS
def test_facts_hold_of_all_of_it(form: str) -> None:
    """One pool that has everything at its corners."""
    cove = COVE | {"form": form}
    spa = {"outline": rectangle(2.0, 2.0, centre=[3.0, -0.5]), "depth": 1.0, "cove": cove}
    bench = {"start": [-2.0, 2.5], "end": [-5.0, 2.5], "width": 0.4, "depth": 0.5}
    fan = {"shape": "corner", "at": [-5.0, -2.5], "going": 0.3, "risers": 4}
    basin = {"width": 0.6, "drop": 0.4, "depth": 0.8, "cove": cove}
    weir = {"start": [5.0, -1.0], "end": [3.0, 2.5], "fall": 0.1, "basin": basin}
    file = tank(cove, spas=[spa], bench=[bench], steps=[fan], overflows=[weir])
    assert check(file) == "built"


BAY = {
    "shape": "combined",
    "parts": [
        {"add": polygon((-3.971, -2.235), (3.854, -1.731), (3.716, 2.028), (-3.952, 2.176))},
        {"subtract": circle(1.0, centre=[-3.971, -2.235])},
    ],
}
HARD: dict[str, dict[str, Any]] = {
    "a corner cove of a channel touches a curved wall off its chords": {
        "outline": BAY,
        "channels": [{"start": [3.824, -0.914], "end": [-3.971, -2.235], "width": 0.335,
                      "depth": 0.3, "water": 0.1, "cove": {"radius": 0.05, "corners": 0.075}}],
    },
    "a corner cove of a channel touches a wall behind one of the pool": {
        "outline": BAY,
        "cove": {"radius": 0.05, "corners": 0.3, "form": "fillet"},
        "channels": [{"width": 0.315, "depth": 0.3, "water": 0.1,
                      "cove": {"radius": 0.05, "corners": 0.075}}],
    },
    "a weir from just beyond one corner round the next": {
        "outline": polygon((3.55, -2.503), (1.123, 4.899), (-2.556, 4.288), (-3.678, -1.623),
                           (1.606, -4.85)),
        "cove": COVE,
        "overflows": [{"start": [-2.578, 4.17], "end": [-3.678, -1.623],
                       "basin": {"width": 0.793, "drop": 0.4, "depth": 0.8,
                                 "cove": {"radius": R, "corners": 0.3, "form": "fillet"}}}],
    },
    "a fillet that ends half way along a corner's": {
        "outline": polygon((-3.288, -1.594), (4.825, -1.477), (-1.499, 3.537)),
        "cove": {"radius": 0.15, "corners": 0.225, "form": "fillet",
                 "stretches": [{"start": [-3.207, -1.593], "end": [-2.988, -0.733],
                                "radius": 0.0}]},
    },
    "a spa whose dam wall touches the pool's wall in a square corner": {
        "outline": polygon((-3.937, -2.165), (3.903, -2.028), (3.968, 1.761), (-4.187, 1.974)),
        "spas": [{"outline": rectangle(2.0, 1.8, centre=[0.649, 0.373], rotation=25.0),
                  "depth": 1.0, "dam_wall": 0.2, "cove": {"radius": 0.05, "corners": True}}],
    },
}  # fmt: skip


@pytest.mark.parametrize("what", list(HARD))
def test_what_was_hard_builds(what: str) -> None:
    """Each was once not closed, or a fact did not hold of it."""
    assert check(tank() | HARD[what]) == "built"


def test_a_weir_is_as_thick_as_the_wall_between_two_corners() -> None:
    """The wall's stretch ends half way along the corner coves, the weir on the bare outline."""
    weir = {**WEST, "basin": {"width": 1.0, "drop": 0.4, "depth": 0.8}}
    takeoff = taken(COVE, walls=[WEST | {"thickness": 0.4}], overflows=[weir])
    top = 5.0 * 0.4 + 2.0 * filled("cove")
    assert area(takeoff, "weir top") == pytest.approx(top, rel=SIZE)
