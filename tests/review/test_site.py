"""The site: ground water behind the membrane."""

from __future__ import annotations

import pytest

from .changes import of
from .said import keys, said
from .sound import Changes

METRE = 1000.0 * 9.80665
"""[Pa] Of a metre of water: its density times standard gravity."""


def with_ground_water(depth: float, **data: object) -> Changes:
    """Return ground water so far below the water of a pool 1.4 m deep."""
    return {"job.ground_water": depth, **of("slurry", **data)}


@pytest.mark.parametrize("head", [0.1, 0.5, 1.0, 1.6])
def test_a_membrane_stands_the_head_behind_it_or_not(head: float) -> None:
    """Ground water may stand above the pool's own."""
    least = head * METRE / 1000.0
    for kilopascals, errors in ((least + 0.001, []), (least - 0.001, ["layers[2].material"])):
        changes = with_ground_water(1.4 - head, negative_pressure=f"{kilopascals:.6f} kPa")
        assert keys(changes) == errors
        assert keys(changes, "warning") == ["waterproofing.ground_water"]


def test_a_membrane_without_a_word_on_it() -> None:
    ((key, words),) = said(with_ground_water(0.4, negative_pressure=None))
    assert key == "materials.slurry.negative_pressure"
    assert words == "must be stated where there is ground water (1.000 m of it)"


def test_ground_water_at_the_floor_presses_on_nothing() -> None:
    for depth in (1.4, 5.0):
        assert keys(with_ground_water(depth, negative_pressure=None)) == []
        assert keys(with_ground_water(depth, negative_pressure=None), "warning") == []


def test_a_suspended_pool_is_not_asked_but_an_answer_counts() -> None:
    suspended = {"pool.setting": "suspended"}
    assert keys({**suspended, "job.ground_water": None}, "warning") == []
    assert keys({**suspended, "job.ground_water": 0.4}, "warning") == ["waterproofing.ground_water"]


def test_the_deepest_floor_is_that_of_a_basin_below() -> None:
    """Its water stands 0.9 m lower and is 0.8 m deep, so its floor is 1.7 m down, the pool's 1.4 m.

    Ground water at 1.5 m stands 0.2 m above the basin's floor.
    """
    overflow = {
        "pool.overflows": [{"start": [-1, 1], "end": [1, 1], "crest": 0,
                            "basin": {"width": 0.8, "drop": 0.9, "depth": 0.8}}],
        "pool.fittings": [], "pool.joints": [],
    }  # fmt: skip
    assert "waterproofing.ground_water" not in keys(
        {**overflow, "job.ground_water": 1.8}, "warning"
    )
    found = dict(said({**overflow, "job.ground_water": 1.5}, "warning"))
    assert "0.200 m above the deepest floor" in found["waterproofing.ground_water"]


def test_a_pool_in_feet_is_spoken_of_in_feet() -> None:
    """5 ft are 1.524 m, in the class up to 4 m."""
    in_feet = {
        "name": "box", "units": "ft", "setting": "suspended",
        "outline": {"shape": "rectangle", "length": 16, "width": 8},
        "floor": {"shape": "level", "depth": 5}, "shell": {"wall": 1, "floor": 1},
    }  # fmt: skip
    found = said({"pool": in_feet, "job.ground_water": 2.0}, "note")
    assert found == [("waterproofing", "puts the basin in class deep (5' 0\" deep)")]
