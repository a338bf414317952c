"""Pools of which the solid has to close where lines run side by side or end in each other."""

from __future__ import annotations

import pytest

from poolgeo.measure.takeoff import measure

from ..measure.quantities import PoolDict, level, model_of, plane, polygon, pool, rectangle
from ..properties.facts import FACTS

BASIN = {"width": 0.6, "depth": 0.8, "drop": 0.4}


def side_flight() -> PoolDict:
    """A side flight of short treads: the coves on them end side by side on one line."""
    steps = [{"shape": "side", "at": [4, 0], "width": 2, "going": 0.1, "risers": 4}]
    cove = {"radius": 0.09, "also_at": ["risers"]}
    return pool(rectangle(8.0, 4.0), level(1.5), cove=cove, steps=steps)


def end_flight_beside_a_weir() -> PoolDict:
    """The fillets on the treads run on into the wall, under the weir."""
    return pool(
        polygon((-2.0, -5.0), (4.0, -1.0), (2.0, 3.0), (-4.0, -2.4)),
        level(1.5),
        cove={"radius": 0.1, "form": "fillet", "also_at": ["risers"]},
        steps=[{"shape": "end", "direction": 0, "going": 0.321, "risers": 4}],
        overflows=[{"start": [1.9, 2.9], "end": [-4, -2.4], "basin": BASIN}],
    )


def bench_end_along_a_wall() -> PoolDict:
    """The bench ends in a corner, square to its wall, and so within 0.1 mm of the other wall."""
    points = [[4.729, 0, -0.1], [3.023, 1.898, -0.1], [-2.195, 1.966, -0.1],
              [-3.836, 0, 0.15], [-1.35, -1.711, 0.15], [2.664, -1.624, -0.1]]  # fmt: skip
    bench = {"width": 0.3, "depth": 0.511, "start": [-2.195, 1.966], "end": [-3.836, 0]}
    outline = {"shape": "polyline", "points": points}
    return pool(outline, plane(1.6, -0.0372502630, 179.0), cove={"radius": 0.05}, bench=[bench])


def weir_over_a_recess(**more: float) -> PoolDict:
    """The weir's crest lies at the water level; beside its falling top the recess ends."""
    weir = {"start": [4, -1], "end": [4, 1], "fall": 0.08, "basin": BASIN, **more}
    recess = [{"depth": 0.25, "width": 0.09}]
    return pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2, recess=recess, overflows=[weir])


@pytest.mark.parametrize(
    "file",
    [side_flight(), end_flight_beside_a_weir(), bench_end_along_a_wall(), weir_over_a_recess()],
    ids=["side flight", "end flight beside a weir", "bench end along a wall", "weir over a recess"],
)
def test_the_solid_closes(file: PoolDict) -> None:
    """All that holds for every pool holds for it."""
    model = model_of(file)
    takeoff = measure(model)
    for fact in FACTS:
        fact(model, takeoff)


def test_water_over_a_recess_ends_at_a_weir() -> None:
    """The recess runs all round but for the 2 m of the weir, 0.09 m wide and 0.25 m deep."""
    water = model_of(weir_over_a_recess()).bodies[0].water.trimesh().volume
    recess = 2.0 * (8.0 + 4.0) * 0.09 + 4.0 * 0.09**2 - 2.0 * 0.09
    assert water == pytest.approx(8.0 * 4.0 * 1.5 + recess * 0.25)
