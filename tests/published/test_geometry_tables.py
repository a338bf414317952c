"""A stadium and an ellipse.

Source: geometry tables, stadium with r = 2 and straight sides of 3: area 24.566372, perimeter
18.56637. SEEN (G11). The perimeter of the ellipse with half axes 1 and 0.5, 4.84422411, is DERIVED
from the complete elliptic integral (G12).
"""

from __future__ import annotations

import pytest

from poolgeo.design.load import design_from
from poolgeo.plan.outline import outline_ring

from ..measure.quantities import PoolDict, level, pool, takeoff_of, wet_area

STADIUM = {
    "shape": "polyline",
    "points": [[0.0, -2.0], [3.0, -2.0, 1.0], [3.0, 2.0], [0.0, 2.0, 1.0]],
}
ELLIPSE = {"shape": "ellipse", "length": 2.0, "width": 1.0, "rotation": 30.0}


def perimeter(outline: PoolDict) -> float:
    """Return the true perimeter at the default tolerance [m]."""
    design = design_from(pool(outline, level(1.0)))
    return outline_ring(design.pool.outline, design.pool.tolerance, ("outline",)).perimeter


def test_g11_perimeter_of_the_stadium() -> None:
    """The length is the curve's, not its chords': every printed digit holds."""
    assert perimeter(STADIUM) == pytest.approx(18.56637, abs=0.000005)


@pytest.mark.parametrize(("tolerance", "share"), [(1e-3, 1e-3), (1e-5, 1e-5)])
def test_g11_area_of_the_stadium(tolerance: float, share: float) -> None:
    """A pool with that outline, 1 m deep, holds its area within 0.1 %, and finer within less."""
    takeoff = takeoff_of(pool(STADIUM, level(1.0), tolerance=tolerance))
    assert takeoff.water["pool"] == pytest.approx(24.566372, rel=share)
    assert wet_area(takeoff, "wall") == pytest.approx(18.56637, rel=share)


def test_g12_perimeter_of_the_ellipse() -> None:
    """The length is the curve's, not its chords': every printed digit holds."""
    assert perimeter(ELLIPSE) == pytest.approx(4.84422411, abs=0.000000005)


def test_g12_wall_of_the_ellipse() -> None:
    """A pool with that outline, 1 m deep, has a wall of its perimeter within 0.1 %."""
    takeoff = takeoff_of(pool(ELLIPSE, level(1.0)))
    assert wet_area(takeoff, "wall") == pytest.approx(4.84422411, rel=1e-3)
