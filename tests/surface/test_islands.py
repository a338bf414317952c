"""Islands: closed forms, and what is said about islands that do not fit."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure

from ..measure.quantities import (
    PoolDict,
    area,
    circle,
    lengths,
    level,
    model_of,
    plane,
    pool,
    rectangle,
    takeoff_of,
    wet_area,
)
from ..properties.facts import FACTS

SQUARE = {"outline": rectangle(1.0, 1.0, centre=[2.0, 0.5])}
ROUND = {"outline": circle(0.8, centre=[-2.0, 0.0])}
BASIN = rectangle(10.0, 5.0)


def check(file: PoolDict) -> None:
    """Build a pool and check every fact."""
    model = model_of(file)
    takeoff = measure(model)
    for fact in FACTS:
        fact(model, takeoff)


def test_a_square_island() -> None:
    """V = (A - a) d; its four walls count to the walls, its top to the wall top."""
    takeoff = takeoff_of(pool(BASIN, level(1.5), freeboard=0.2, islands=[SQUARE | {"top": 0.4}]))
    assert takeoff.water["pool"] == pytest.approx((50 - 1) * 1.5, rel=1e-6)
    assert area(takeoff, "floor") == pytest.approx(49, rel=1e-6)
    assert wet_area(takeoff, "wall") == pytest.approx((30 + 4) * 1.5, rel=1e-6)
    assert area(takeoff, "wall") == pytest.approx(30 * 1.7 + 4 * 1.9, rel=1e-6)
    bare = takeoff_of(pool(BASIN, level(1.5), freeboard=0.2))
    assert area(takeoff, "wall top") == pytest.approx(area(bare, "wall top") + 1, rel=1e-6)
    assert takeoff.shell == pytest.approx(bare.shell + 1.9, rel=1e-6)
    assert lengths(takeoff, "floor/wall") == pytest.approx([1, 1, 1, 1, 5, 5, 10, 10])
    assert lengths(takeoff, "wall/wall", "external") == pytest.approx([1.9] * 4)
    assert lengths(takeoff, "wall/wall", "internal") == pytest.approx([1.7] * 4)


def test_the_top_of_an_island_is_as_high_as_the_wall_where_nothing_is_said() -> None:
    takeoff = takeoff_of(pool(BASIN, level(1.5), freeboard=0.3, islands=[SQUARE]))
    assert lengths(takeoff, "wall/wall") == pytest.approx([1.8] * 8)


@pytest.mark.parametrize("radius", [0.05, 0.1, 0.2])
def test_the_cove_round_a_round_island(radius: float) -> None:
    """By Pappus: (pi/2) r L + r^2 2 pi (pi/2 - 1) about a column, as its walls turn away.

    Its mortar is 2 pi times the integral of (R + s) h(s), with h the cove's height at s.
    """
    column, r = 0.8, radius
    takeoffs = [
        takeoff_of(pool(BASIN, level(1.5), tolerance=1e-4, islands=items, **more))
        for items in ([], [ROUND])
        for more in ({}, {"cove": {"radius": r}})
    ]
    own = area(takeoffs[3], "cove") - area(takeoffs[1], "cove")
    want = math.pi / 2 * r * 2 * math.pi * column + r * r * 2 * math.pi * (math.pi / 2 - 1)
    assert own == pytest.approx(want, rel=1e-3)
    water = [item.water["pool"] for item in takeoffs]
    mortar = (water[2] - water[3]) - (water[0] - water[1])

    def ring(s: float) -> float:
        return (column + s) * (r - math.sqrt(r * r - (r - s) ** 2))

    full = 2 * math.pi * quad(ring, 0, r)[0]
    assert mortar == pytest.approx(full, rel=1e-2)
    assert abs(mortar - full) < 1e-5 * water[0]
    (run,) = (run for run in takeoffs[3].coves if run.number not in
              {item.number for item in takeoffs[1].coves})  # fmt: skip
    assert run.length == pytest.approx(2 * math.pi * column, rel=5e-4)


def test_a_sloping_floor_about_an_island() -> None:
    """V = plan area times the depth at its centroid, by Steiner's rule for the island."""
    takeoff = takeoff_of(pool(BASIN, plane(1.5, 0.1), islands=[SQUARE]))
    assert takeoff.water["pool"] == pytest.approx(50 * 1.5 - (1.5 + 0.1 * 2.0), rel=1e-6)


def test_a_hole_of_the_outline_is_the_same_as_an_island() -> None:
    shape = {"shape": "combined", "parts": [{"add": BASIN}, {"subtract": ROUND["outline"]}]}
    hole = takeoff_of(pool(shape, level(1.5), cove={"radius": 0.1}))
    island = takeoff_of(pool(BASIN, level(1.5), cove={"radius": 0.1}, islands=[ROUND]))
    assert hole.as_dict() == island.as_dict()


def test_the_facts_hold_with_everything_about() -> None:
    bench = {"start": [5.0, -1.0], "end": [5.0, 1.0], "width": 0.5, "depth": 0.45}
    flight = {"shape": "side", "at": [0.0, -2.5], "width": 1.2, "going": 0.3, "risers": 4}
    spa = {"outline": circle(0.9, centre=[0.0, 2.2]), "depth": 0.9, "raised": 0.2}
    check(
        pool(BASIN, plane(1.5, 0.05, 30), islands=[SQUARE, ROUND], bench=[bench], steps=[flight],
             spas=[spa], cove={"radius": 0.1, "also_at": ["bench faces", "dam walls"]})
    )  # fmt: skip


@settings(max_examples=25)
@given(
    x=st.integers(-30, 30), y=st.integers(-8, 8), size=st.integers(3, 12),
    turn=st.integers(0, 90), cove=st.sampled_from([0.0, 0.1, 0.15]),
    fall=st.sampled_from([0.0, 0.04]), feet=st.booleans(),
)  # fmt: skip
def test_an_island_anywhere(
    x: int, y: int, size: int, turn: int, cove: float, fall: float, feet: bool
) -> None:
    """A rounded square column anywhere in the open water, with a bench at the end."""
    column = rectangle(size / 10, size / 10, rotation=float(turn), centre=[x / 10, y / 10])
    more: dict[str, Any] = {}
    if cove:
        more["cove"] = {"radius": cove, "also_at": ["bench faces"] if feet else []}
    bench = {"start": [5.0, -1.0], "end": [5.0, 1.0], "width": 0.5, "depth": 0.45}
    check(pool(BASIN, plane(1.5, fall, 20), islands=[{"outline": column}], bench=[bench], **more))


FLIGHT = {"shape": "side", "at": [0.0, -2.5], "width": 1.2, "going": 0.3, "risers": 4}
NAMED = {"name": "pier", "outline": circle(0.5)}


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"islands": [{"outline": circle(0.5, centre=[9, 0])}]}, ("inside the pool", "island 1")),
        (
            {"islands": [{"outline": circle(0.5, centre=[4.8, 0])}]},
            ("islands[0].outline", "clear of the pool's outline", "meets it near (5.000"),
        ),
        (
            {"islands": [{"outline": circle(0.5, centre=[4.4995, 0])}]},
            ("clear of the pool's outline", "0.500 mm away near (4.999, 0.000) m"),
        ),
        ({"islands": [{"outline": rectangle(1, 6)}]}, ("not cut the pool in two",)),
        (
            {"islands": [NAMED, {"outline": circle(0.5, centre=[0.8, 0])}]},
            ("islands[1].outline", "clear of 'pier'", "'island 2' meets it"),
        ),
        ({"islands": [{"outline": circle(0.5), "top": 0}]}, ("islands[0].top", "above 0")),
        (
            {
                "islands": [
                    {
                        "outline": {
                            "shape": "combined",
                            "parts": [{"add": circle(2)}, {"subtract": circle(1)}],
                        }
                    }
                ]
            },
            ("islands[0].outline", "must have no holes"),
        ),
        (
            {"islands": [NAMED], "spas": [{"outline": circle(0.9, centre=[0.5, 0]), "depth": 0.9}]},
            ("spas[0].outline", "clear of the islands", "'pier'"),
        ),
        (
            {"islands": [{"outline": rectangle(2, 0.4, centre=[0, -1.75])}], "steps": [FLIGHT]},
            ("steps[0]", "must not vanish", "'steps 1 tread 3'"),
        ),
    ],
)
def test_what_is_said(more: dict[str, Any], words: tuple[str, ...]) -> None:
    with pytest.raises(PoolFileError) as refused:
        model_of(pool(BASIN, level(1.5), **more))
    for word in words:
        assert word in str(refused.value)


def test_everything_that_is_wrong_with_outlines_is_said_at_once() -> None:
    crossing = {"shape": "polygon", "points": [[0, 0], [1, 1], [1, 0], [0, 1]]}
    islands = [{"outline": crossing}, {"outline": circle(0.03)}]
    with pytest.raises(PoolFileError) as refused:
        model_of(pool(crossing, level(1.5), islands=islands))
    keys = [item.key for item in refused.value.findings]
    assert keys == [("outline",), ("islands", 0, "outline"), ("islands", 1, "outline")]


def test_a_cove_higher_than_an_island_is_refused() -> None:
    with pytest.raises(PoolFileError, match="'island 1' is lower than it"):
        model_of(
            pool(BASIN, level(0.3), freeboard=0.5, cove={"radius": 0.5},
                 islands=[ROUND | {"top": 0.1}])
        )  # fmt: skip
