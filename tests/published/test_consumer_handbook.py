"""Volume of a pool with a sloping floor, in feet and gallons.

Source: consumer handbook. SEEN (G15): surface 512 ft2, depths 3 ft and 8 ft: 2816 ft3, and 21 120
gallons at 7.5 gallons to the cubic foot. Exactly, a US gallon is 231 cubic inches.
"""

from __future__ import annotations

import pytest

from ..measure.quantities import breaks, plane, pool, rectangle, water

FOOT = 0.3048
GALLON = 231 * 0.0254**3
OUTLINE = rectangle(32, 16)
FLOORS = {
    "plane": plane(5.5, 5 / 32),
    "breaks": breaks((-16, 3), (16, 8)),
    "breaks, turned": breaks((-16, 8), (16, 3), direction=180.0),
}


@pytest.mark.parametrize("floor", ["plane", "breaks"])
def test_g15_cubic_feet(floor: str) -> None:
    """However the slope is written, the pool holds 2816 ft3."""
    file = pool(OUTLINE, FLOORS[floor], units="ft")
    assert water(file) / FOOT**3 == pytest.approx(2816, abs=1e-6)


def test_g15_the_other_end_may_be_deep() -> None:
    """Turned by 180 degrees the shallow end is at the other side, and the water is the same."""
    file = pool(OUTLINE, FLOORS["breaks, turned"], units="ft")
    assert water(file) / FOOT**3 == pytest.approx(2816, abs=1e-6)


def test_g15_gallons() -> None:
    """2816 ft3 are 21 120 gallons at 7.5, and 21 065 at 231 cubic inches (7.480519 to the foot)."""
    found = water(pool(OUTLINE, FLOORS["plane"], units="ft"))
    assert found / FOOT**3 * 7.5 == pytest.approx(21_120, abs=1e-5)
    assert found / GALLON == pytest.approx(2816 * 7.480519, abs=0.005)
