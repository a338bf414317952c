"""Grout by area of tiling.

Source: derived (S19), an identity: what of a module of tile and joint is not tile.
"""

from __future__ import annotations

import pytest

from poolgeo.supply.finish import grout


def test_s19_tile() -> None:
    """300 x 300 x 8 mm with joints of 3 mm take 0.157632 L/m2."""
    assert grout(0.3, 0.3, 0.008, 0.003) * 1000 == pytest.approx(0.157632, abs=5e-7)


def test_s19_the_usual_formula_takes_more() -> None:
    """(L + W) / (L W) gives 0.1600 L/m2; of mosaic it is about 15 % too much."""
    usual = (0.3 + 0.3) / (0.3 * 0.3) * 0.008 * 0.003
    assert usual * 1000 == pytest.approx(0.1600, abs=5e-5)
    mosaic = (0.02 + 0.02) / (0.02 * 0.02) * 0.004 * 0.002
    assert mosaic / grout(0.02, 0.02, 0.004, 0.002) == pytest.approx(1.15, abs=0.005)
