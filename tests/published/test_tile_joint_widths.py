"""Widths of movement joints in tile exposed to moisture.

Source: TCNA EJ171 as quoted in a trade journal, August 2018. SEEN (second hand): joints each 8 to
12 ft; 3/8 in wide at 8 ft, 1/2 in at 12 ft; 1/16 in more for each 15 F of range above 100 F.
"""

from __future__ import annotations

import pytest

from poolgeo.design.joint_rules import joint_rules

FOOT, INCH, FAHRENHEIT = 0.3048, 0.0254, 5.0 / 9.0


def width(bay: float, warmer: float) -> float:
    """Return the least width [in] for a bay [ft] and a range of temperature [F]."""
    return joint_rules("wet-12-ft").widths.width_for(bay * FOOT, warmer * FAHRENHEIT) / INCH


def test_longest_bay() -> None:
    assert joint_rules("wet-12-ft").bays.longest == pytest.approx(12 * FOOT)


@pytest.mark.parametrize(("bay", "wanted"), [(6, 3 / 8), (8, 3 / 8), (8.1, 1 / 2), (12, 1 / 2)])
def test_width_by_the_bay(bay: float, wanted: float) -> None:
    """Between the two that are given the wider one holds."""
    assert width(bay, 100.0) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(
    ("warmer", "more"), [(60, 0), (100, 0), (101, 1), (115, 1), (116, 2), (130, 2), (160, 4)]
)
def test_a_wide_range_adds_sixteenths(warmer: float, more: int) -> None:
    """Each step that is begun counts: that is on the safe side."""
    assert width(8, warmer) == pytest.approx(3 / 8 + more / 16, abs=1e-9)
    assert width(12, warmer) == pytest.approx(1 / 2 + more / 16, abs=1e-9)


def test_all_changes_of_plane_take_one() -> None:
    """Inside and outside corners."""
    changes = joint_rules("wet-12-ft").changes_of_plane
    assert changes is not None
    assert changes.asks("floor/wall", "internal", 90.0)
    assert changes.asks("tread/riser", "external", 270.0)
