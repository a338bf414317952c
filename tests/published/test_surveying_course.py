"""Area between a base line and a boundary, by offsets.

Source: surveying course notes, offsets at intervals of 10: 3.15 4.3 8.2 5.6 6.85 7.6 4.2 5.6 4.3.
SEEN (G9): 460.75 by the trapezoidal rule, which is the area of the polygon through the offsets.
Their figure by Simpson's rule, 461.167, is the area under parabolas, which no outline has.
"""

from __future__ import annotations

import pytest

from ..measure.quantities import level, polygon, pool, water

OFFSETS = (3.15, 4.3, 8.2, 5.6, 6.85, 7.6, 4.2, 5.6, 4.3)


def test_g9_the_polygon_through_the_offsets_has_460_75() -> None:
    """A pool with that outline, 1 m deep, holds 460.75 m3."""
    ends = [(0.0, 0.0), (80.0, 0.0)]
    far_side = [(10.0 * i, offset) for i, offset in enumerate(OFFSETS)][::-1]
    assert water(pool(polygon(*ends, *far_side), level(1.0))) == pytest.approx(460.75, abs=0.005)
