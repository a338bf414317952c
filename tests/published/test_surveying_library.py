"""Areas of polygons by coordinates.

Source: J. Mahun, Open Access Surveying Library, chapter G, example 1 and problem 2. SEEN (G7 to
five digits, G8 to +/- 20); the last digits are DERIVED from the coordinates.
"""

from __future__ import annotations

import pytest

from ..measure.quantities import level, plan_area, polygon, pool, takeoff_of

EXAMPLE_1 = polygon((500, 2000), (323.614, 1561.426), (526.996, 1488.321), (719.336, 1686.956))
PROBLEM_2 = polygon((600, 1000), (254.542, 1209.288), (97.543, 566.876), (470.303, 397.969))


def test_g7_example_1_has_102_935_72() -> None:
    """A pool 1 m deep has as much water as plan area; its level floor is that area."""
    takeoff = takeoff_of(pool(EXAMPLE_1, level(1.0)))
    assert takeoff.water["pool"] == pytest.approx(102_935.72, abs=0.005)
    assert plan_area(takeoff, "floor") == pytest.approx(102_935.72, abs=0.005)


def test_g8_problem_2_has_250_550() -> None:
    """The source gives 250 550 +/- 20; the coordinates give 250 552.09."""
    takeoff = takeoff_of(pool(PROBLEM_2, level(2.0)))
    assert takeoff.water["pool"] / 2.0 == pytest.approx(250_550, abs=20)
    assert takeoff.water["pool"] / 2.0 == pytest.approx(250_552.09, abs=0.005)
