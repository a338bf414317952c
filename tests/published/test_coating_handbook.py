"""Spreading rates and wet films of coatings.

Source: coating handbook text, formula and table of one decimal. SEEN (F1, F2, F5): m2/L = 10 x
volume solids [%] / dry film [um]; in US units 1604.17 ft2/gal at 1 mil of a coating that is all
solids.
"""

from __future__ import annotations

import pytest

from poolgeo.system.film import spreading_rate, wet_film

MIL = 0.0254e-3
FOOT = 0.3048
GALLON = 231 * 0.0254**3
LITRE = 1e-3

TABLE = (
    (100, 25, 40.0), (100, 100, 10.0), (80, 125, 6.4), (70, 150, 4.7), (60, 200, 3.0),
    (50, 400, 1.3), (45, 250, 1.8), (95, 300, 3.2),
)  # fmt: skip


def test_f1_spreading_rate_metric() -> None:
    """65 % solids at 125 um cover 5.2 m2/L."""
    assert spreading_rate(125e-6, 0.65) * LITRE == pytest.approx(5.2, abs=0.05)


def test_f1_spreading_rate_customary() -> None:
    """65 % solids at 5 mil cover 208.52 ft2/gal."""
    assert spreading_rate(5 * MIL, 0.65) / FOOT**2 * GALLON == pytest.approx(208.52, abs=0.03)


@pytest.mark.parametrize(("solids", "film", "rate"), TABLE)
def test_f2_table_of_spreading_rates(solids: int, film: int, rate: float) -> None:
    """Each rate of the table, half of the last printed digit."""
    found = spreading_rate(film * 1e-6, solids / 100) * LITRE
    assert found == pytest.approx(rate, abs=0.0500001)


def test_f5_wet_film_of_ten_mils() -> None:
    """A wet film of 10 mil takes a gallon for 160.417 ft2."""
    film = wet_film(10 * MIL, 1.0)
    assert GALLON / film / FOOT**2 == pytest.approx(160.417, abs=0.0005)
