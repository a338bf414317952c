"""What is said of a flight whose last riser differs in height along its foot."""

from __future__ import annotations

from typing import Any

import pytest

from ..measure.quantities import PoolDict, breaks, level, model_of, plane, pool, rectangle

FLIGHT = {
    "shape": "side",
    "at": [-5, 0],
    "width": 2.0,
    "going": 0.5,
    "rise": [0.3],
    "top_tread": 0.3,
}


def uneven(floor: PoolDict, flight: PoolDict = FLIGHT, **more: Any) -> list[str]:
    """Return the values that are said of last risers."""
    found = model_of(pool(rectangle(10.0, 6.0), floor, steps=[flight], **more)).warnings
    return [item.value for item in found if "last riser" in item.rule]


@pytest.mark.parametrize(
    "floor", [level(0.9), plane(1.0, 0.05), plane(1.0, 0.002, 90.0)], ids=["level", "down", "4 mm"]
)
def test_nothing_is_said_of_a_foot_on_a_level_line(floor: PoolDict) -> None:
    assert uneven(floor) == []


def test_where_the_floor_falls_along_the_foot_both_ends_are_named() -> None:
    """The floor is 0.95 m deep at one end and 1.05 m at the other, the last tread 0.6 m."""
    (found,) = uneven(plane(1.0, 0.05, 90.0))
    assert found == (
        "0.350 m at (-4.000, -1.000) m to 0.450 m at (-4.000, 1.000) m, the one above 0.300 m"
    )


def test_a_break_under_the_foot_counts() -> None:
    """The floor is 0.9 m deep at both ends of the foot, and 1.0 m under its middle."""
    floor = breaks((-3.0, 0.7), (0.0, 1.0), (3.0, 0.7), direction=90)
    (found,) = uneven(floor)
    assert found.startswith("0.300 m at (-4.000, ")
    assert "0.400 m at (-4.000, 0.000) m" in found


def test_a_foot_that_something_else_stands_at_is_left_out() -> None:
    """A ledge takes the half of the foot that lies deeper; the flight has one tread."""
    shelf = {"shape": "outline", "outline": rectangle(2, 1, centre=[-4, 0.5]), "depth": 0.7}
    single = FLIGHT | {"rise": None, "risers": 1}
    (found,) = uneven(plane(1.0, 0.05, 90.0), single | {"going": 1.0}, ledges=[shelf])
    assert found == "0.650 m at (-4.000, -1.000) m to 0.700 m at (-4.000, -0.001) m"
