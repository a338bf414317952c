"""Area of a fillet.

Source: US Navy training manual NAVEDTRA 14119, figure 14-37. SEEN (G1): the area between a
quarter circle of radius 3 and the corner that it rounds is 1.9314.
"""

from __future__ import annotations

import pytest

from ..measure.quantities import level, pool, rectangle, water

FINE = 1e-5


def test_a_cove_of_3_m_takes_1_9314_m3_from_each_metre_of_wall() -> None:
    """A basin two metres longer has four metres more of cove: mortar is water without less with."""

    def mortar(length: float) -> float:
        bare = pool(rectangle(length, 20.0), level(5.0), tolerance=FINE)
        return water(bare) - water(bare | {"cove": {"radius": 3.0}})

    assert (mortar(22.0) - mortar(20.0)) / 4.0 == pytest.approx(1.9314, abs=0.00005)
