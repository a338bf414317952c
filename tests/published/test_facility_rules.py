"""A competition pool.

Source: World Aquatics facility rules, FR 3: 50 m by 25 m, 2 m deep. The dimensions are SEEN (G14);
2500 m3 follows.
"""

from __future__ import annotations

import pytest

from ..measure.quantities import lengths, level, pool, rectangle, takeoff_of, wet_area

TAKEOFF = takeoff_of(pool(rectangle(50, 25), level(2.0)))


def test_g14_water() -> None:
    """The pool holds 2500 m3."""
    assert TAKEOFF.water["pool"] == pytest.approx(2500, abs=1e-6)


def test_g14_wall_and_foot() -> None:
    """The wall under water is 150 m round and 2 m high, and so long is its foot."""
    assert wet_area(TAKEOFF, "wall") == pytest.approx(300, abs=1e-6)
    assert sum(lengths(TAKEOFF, "floor/wall", "internal")) == pytest.approx(150, abs=1e-6)
