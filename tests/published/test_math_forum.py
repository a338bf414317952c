"""Volume of a rectangular basin whose floor slopes in stretches.

Source: Math Forum, Dr Peterson, 28 February 2002. SEEN (G13): with depths a, b, c, d at the breaks,
width w and stretches r, s, t, u, v, the first and the last from and to the surface,

    V = (w / 2) [a r + (a + b) s + (b + c) t + (c + d) u + d v]
"""

from __future__ import annotations

import pytest

from ..measure.quantities import breaks, pool, rectangle, water

EDGE = 0.001
"""[m] Depth at both ends: a floor must lie below the water, so the ends are not 0 deep."""


@pytest.mark.parametrize(
    ("depths", "stretches"),
    [
        ((1.0, 1.4, 2.2, 2.4), (2.0, 3.0, 2.5, 1.5, 1.0)),
        ((0.9, 2.7, 0.8, 1.9), (1.0, 4.0, 1.0, 6.0, 2.0)),
    ],
)
def test_g13_five_stretches(depths: tuple[float, ...], stretches: tuple[float, ...]) -> None:
    """The water is the formula's, and half of the edge's depth times the end stretches."""
    (a, b, c, d), (r, s, t, u, v), w = depths, stretches, 4.0
    want = w / 2 * (a * r + (a + b) * s + (b + c) * t + (c + d) * u + d * v)
    places, at = [(0.0, EDGE)], 0.0
    for depth, stretch in zip((a, b, c, d, EDGE), (r, s, t, u, v), strict=True):
        at += stretch
        places.append((at, depth))
    file = pool(rectangle(at, w), breaks(*places, origin=[-at / 2, 0.0]))
    assert water(file) == pytest.approx(
        want + w / 2 * EDGE * (r + v), rel=1e-7
    )  # plan vertices lie on a grid
