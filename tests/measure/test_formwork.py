"""Formwork of the outside where other bodies stand at the pool: closed forms."""

from __future__ import annotations

from typing import Any

import pytest

from poolgeo.quantities import Takeoff

from .quantities import level, pool, rectangle, takeoff_of

EXACT = 1e-6
"""Relative: straight outlines, on a grid of a micrometre."""

HIGH = 0.15 + 1.5 + 0.25
"""[m] From the soffit of a pool 1.5 deep to the top of its wall."""


def ten_by_five(**more: Any) -> Takeoff:
    """Measure a pool 10 by 5, level at 1.5, walls and floor 0.25, in the ground."""
    return takeoff_of(pool(rectangle(10.0, 5.0), level(1.5), setting="in ground", **more))


def outer(takeoff: Takeoff, kind: str, body: str = "") -> float:
    """Return the area of one kind of the outside [m2]."""
    return sum(row.area for row in takeoff.outside if (row.body, row.kind) == (body, kind))


CHANNEL = {"width": 0.3, "depth": 0.4}
"""Its soffit lies 0.65 below the water, 1.1 above the pool's."""


def test_under_a_channel_the_pools_wall_is_formed() -> None:
    """8 m of channel with its end walls hides 8.5 m of wall, and bares 1.1 m of it below."""
    side = {"start": [-4.0, -2.5], "end": [4.0, -2.5], **CHANNEL}
    takeoff = ten_by_five(channels=[side])
    mine = (32.0 - 8.5) * HIGH + 8.5 * 1.1
    theirs = (8.5 + 2 * 0.55) * 0.8
    assert outer(takeoff, "outer wall", "pool") == pytest.approx(mine, rel=EXACT)
    assert outer(takeoff, "outer wall", "channel") == pytest.approx(theirs, rel=EXACT)
    assert outer(takeoff, "formwork") == pytest.approx(mine + theirs, rel=EXACT)
    assert outer(takeoff, "soffit", "pool") == pytest.approx(10.5 * 5.5, rel=EXACT)
    assert outer(takeoff, "soffit", "channel") == pytest.approx(8.5 * 0.55, rel=EXACT)


def test_under_a_channel_all_round() -> None:
    """32 m of wall 1.1 high under it; it is 11.6 by 6.6 outside, 0.8 high."""
    takeoff = ten_by_five(channels=[CHANNEL])
    want = 32.0 * 1.1 + 2 * (11.6 + 6.6) * 0.8
    assert outer(takeoff, "formwork") == pytest.approx(want, rel=EXACT)
    assert outer(takeoff, "soffit step", "pool") == 0.0


def test_under_a_shallower_spa_its_dam_wall_is_formed() -> None:
    """2 by 2, half of it outside: under it the ring round it stands on the pool's soffit, 0.6 m."""
    spa = {"outline": rectangle(2.0, 2.0, centre=[0.0, -2.5]), "depth": 0.9}
    takeoff = ten_by_five(spas=[spa])
    # beside the spa 32 - 2.5 m of the pool's wall; its own, 2.5 + 2 x 1 m, 1.25 m high
    under = (2.0 + 2 * 1.25 + 2 * 0.25) * 0.6
    assert outer(takeoff, "outer wall", "spa") == pytest.approx((2.5 + 2 * 1.0) * 1.25, rel=EXACT)
    assert outer(takeoff, "outer wall", "pool") == pytest.approx(
        (32.0 - 2.5) * HIGH + under, rel=EXACT
    )


def test_a_deeper_spa_has_walls_of_its_own_under_the_pools_slab() -> None:
    """2.4 by 2.4 outside, 0.7 deeper than the pool."""
    spa = {"outline": rectangle(2.0, 2.0), "depth": 2.2}
    takeoff = ten_by_five(spas=[spa])
    dam = 0.2
    around = 4 * (2.0 + 2 * dam)
    assert outer(takeoff, "outer wall", "spa") == pytest.approx(around * 0.7, rel=EXACT)
    assert outer(takeoff, "formwork") == pytest.approx(32.0 * HIGH + around * 0.7, rel=EXACT)


def test_a_foot_well_is_cast_on_the_ground() -> None:
    """Its step lies under one slab, as that of a thickened edge does."""
    spa = {"outline": rectangle(2.0, 2.0, centre=[20.0, 0.0]), "depth": 0.9}
    well = {"outline": rectangle(0.5, 0.5, centre=[20.0, 0.0]), "depth": 1.2}
    takeoff = ten_by_five(spas=[{**spa, "wells": [well]}])
    assert outer(takeoff, "soffit step", "spa") == pytest.approx(4 * 1.0 * 0.3, rel=EXACT)
    assert outer(takeoff, "formwork") == pytest.approx(32.0 * HIGH + 10.0 * 1.25, rel=EXACT)
