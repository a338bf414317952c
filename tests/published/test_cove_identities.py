"""What a cove takes and gives.

DERIVED: identities that need no source, with the figures of the project's table of check values.

    corner area = r^2 (1 - pi/4); arc = pi r/2; surface change = -(2 - pi/2) r per metre
    round pool R = 2.0, r = 0.1: mortar 0.02666648 m3, cove surface 1.93805669 m2
"""

from __future__ import annotations

import math

import pytest

from poolgeo.quantities import Takeoff

from ..measure.quantities import PoolDict, area, circle, level, pool, rectangle, takeoff_of

FINE = 1e-5
TABLE = [
    (0.050, 0.000536505, 0.0785398),
    (0.075, 0.001207135, 0.1178097),
    (0.100, 0.002146018, 0.1570796),
    (0.150, 0.004828541, 0.2356194),
]


def measured(radius: float, outline: PoolDict, tolerance: float = FINE) -> tuple[Takeoff, Takeoff]:
    """Return the takeoffs without and with a cove."""
    bare = pool(outline, level(1.5), tolerance=tolerance)
    return takeoff_of(bare), takeoff_of(bare | {"cove": {"radius": radius}})


@pytest.mark.parametrize(("radius", "corner", "arc"), TABLE)
def test_per_metre_of_straight_wall(radius: float, corner: float, arc: float) -> None:
    """A pool 5 m longer has 10 m more of cove: corner area, arc and change of surface."""
    short, long = (measured(radius, rectangle(length, 4.0)) for length in (6.0, 11.0))
    mortar = [bare.water["pool"] - cove.water["pool"] for bare, cove in (short, long)]
    assert (mortar[1] - mortar[0]) / 10.0 == pytest.approx(corner, rel=1e-3)
    coves = [area(cove, "cove") for _, cove in (short, long)]
    assert (coves[1] - coves[0]) / 10.0 == pytest.approx(arc, rel=1e-4)
    change = [
        sum(area(cove, kind) - area(bare, kind) for kind in ("floor", "wall", "cove"))
        for bare, cove in (short, long)
    ]
    assert (change[1] - change[0]) / 10.0 == pytest.approx(-(2 - math.pi / 2) * radius, rel=1e-3)


def test_round_pool_mortar() -> None:
    """A cove of 0.1 m round a pool of R = 2 takes 0.02666648 m3."""
    bare, cove = measured(0.1, circle(2.0))
    mortar = bare.water["pool"] - cove.water["pool"]
    assert mortar == pytest.approx(0.02666648, rel=1e-3)


@pytest.mark.parametrize(("tolerance", "share"), [(1e-3, 1e-3), (1e-5, 1e-4)])
def test_round_pool_surface(tolerance: float, share: float) -> None:
    """A cove of 0.1 m round a pool of R = 2 has 1.93805669 m2."""
    _, cove = measured(0.1, circle(2.0), tolerance)
    assert area(cove, "cove") == pytest.approx(1.93805669, rel=share)
