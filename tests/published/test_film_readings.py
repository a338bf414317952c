"""How many readings of a film are taken.

Source: SSPC-PA 2. MEMORY (F7): five spots for each 10 m2 (100 ft2), three readings at each spot.
The figures are data of a system file, not of the code.
"""

from __future__ import annotations

import pytest

from poolgeo.system.film import spots_of
from poolgeo.system.load import load_system


@pytest.mark.parametrize("name", ["cementitious-slurry", "reaction-resin"])
def test_f7_the_shipped_systems_say_so(name: str) -> None:
    """Five spots by 10 m2, three readings each, and marked as remembered."""
    readings = load_system(name).system.readings
    assert readings is not None
    assert (readings.spots, readings.per, readings.each) == (5, 10.0, 3)
    assert readings.from_memory


def test_f7_spots_of_an_area() -> None:
    """A begun area of 10 m2 counts as one: 95 m2 take 50 spots, 100 m2 too."""
    assert [spots_of(area, 5, 10.0) for area in (95.0, 100.0, 100.1)] == [50, 50, 55]
