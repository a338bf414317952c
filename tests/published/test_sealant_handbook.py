"""Depth of sealants, and movement of what they join.

Source: sealant handbook. SEEN (S12, S13): a sealant is half as deep as its joint is wide, within 6
to 13 mm; 360 in over 100 F at 8e-6 by F move by 0.288 in.
"""

from __future__ import annotations

import pytest

from poolgeo.design.sealant import SealantDepth
from poolgeo.supply.finish import thermal_movement


@pytest.mark.parametrize(("width", "depth"), [(8, 6), (12, 6), (20, 10), (26, 13), (40, 13)])
def test_s12_depth_of_a_sealant(width: int, depth: int) -> None:
    """Half the width, but 6 mm at least and 13 mm at most."""
    assert SealantDepth().depth_of(width / 1000) == pytest.approx(depth / 1000, abs=1e-9)


def test_s12_the_limits_are_data() -> None:
    """A system may state others."""
    stated = {"share": 1.0, "least": "10 mm", "most": "20 mm"}
    assert SealantDepth.model_validate(stated).depth_of(0.015) == 0.015


def test_s13_thermal_movement() -> None:
    """In metres and kelvin, of the same length, range and expansion."""
    inch, fahrenheit = 0.0254, 5.0 / 9.0
    found = thermal_movement(360 * inch, 100 * fahrenheit, 8e-6 / fahrenheit)
    assert found / inch == pytest.approx(0.288, abs=0.0005)
