"""The wet film that leaves a dry one.

Source: trade journal Paintcenter, October 2003. SEEN (F3): wet = dry / volume solids, and with
thinner (F4) dry (1 + t) / solids, of which the figures are derived.
"""

from __future__ import annotations

import pytest

from poolgeo.system.film import to_buy, wet_film


def test_f3_wet_film() -> None:
    """1.5 mil dry at 42 % solids are 3.57 mil wet."""
    assert wet_film(1.5, 0.42) == pytest.approx(3.57, abs=0.005)


def test_f4_wet_film_when_thinned() -> None:
    """2.8 mil dry at 35 % solids, thinned by 10 %, are 8.8 mil wet."""
    assert wet_film(2.8, 0.35, 0.10) == pytest.approx(8.8, abs=1e-9)


def test_f6_loss_is_a_share_of_what_is_bought() -> None:
    """30 % loss takes 1.4286 times the net litres, not 1.30 times (an identity, no source)."""
    assert to_buy(1.0, 0.30) == pytest.approx(1.4286, abs=5e-5)
