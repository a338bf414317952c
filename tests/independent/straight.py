"""Closed forms for a rectangular basin with rounded corners and breaks across its straight walls.

The break lines stand square to the long walls and meet them where these are straight, so the
floor's contact lies square to the wall's and every cove along a wall is a quarter cylinder. What
a turn of the plan is to the cove seen from above, a break is to it seen from the side: at a toe
of angle b the mitre takes 2 tan(b / 2) times the arc's moment about the floor, at a brow the
pivoting ball adds b times it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from .quadrature import ARC_MOMENT, SECTION, SECTION_MOMENT, Basin


def on_straight_breaks(
    size: tuple[float, float],
    corner: float,
    breaks: Sequence[tuple[float, float]],
    radius: float = 0.0,
    top: float = 0.0,
) -> Basin:
    """Return the basin's quantities.

    Args:
        size: Length along the fall, and width [m].
        corner: Radius of the plan's corners, above the cove's [m].
        breaks: From the middle along the length, and z, in rising order; more than ``corner``
            from either end [m].
        radius: The cove's [m].
        top: Height of the wall top [m].
    """
    r, (span, width) = radius, size
    spandrels = (2 - math.pi / 2) * corner**2  # what the two corners of an end lose
    ends = [
        (span / 2 + breaks[0][0], breaks[0][1]),
        (span / 2 - breaks[-1][0], breaks[-1][1]),
    ]
    around = [2 * reach + width - (4 - math.pi) * corner for reach, _ in ends]
    volume = sum((top - z) * (reach * width - spandrels) for reach, z in ends)
    floor = sum(reach * width - spandrels for reach, _ in ends)
    wall = sum((top - z) * run for (_, z), run in zip(ends, around, strict=True))
    along = 0.0
    for (a, za), (b, zb) in pairwise(breaks):
        volume += (top - (za + zb) / 2) * (b - a) * width
        wall += 2 * (top - (za + zb) / 2) * (b - a)
        slant = math.hypot(b - a, zb - za)
        floor += slant * width
        along += 2 * slant
    foot = sum(around) + along
    turns = 2 * sum(_break_turns(breaks))
    plan = 2 * math.pi
    return Basin(
        volume=volume - SECTION * r**2 * foot + SECTION_MOMENT * r**3 * (plan + turns),
        mortar=SECTION * r**2 * foot - SECTION_MOMENT * r**3 * (plan + turns),
        floor=floor - r * foot + r**2 * plan / 2,
        wall=wall - r * foot + r**2 * turns / 2,
        cove=math.pi / 2 * r * foot - ARC_MOMENT * r**2 * (plan + turns),
        head=foot - r * turns,
        foot=foot - r * plan,
    )


def _break_turns(breaks: Sequence[tuple[float, float]]) -> list[float]:
    """Return each break's turn, as for plan corners: 2 tan(b / 2) at a toe, -b at a brow."""
    slopes = [0.0, *((zb - za) / (b - a) for (a, za), (b, zb) in pairwise(breaks)), 0.0]
    turns = [math.atan(after) - math.atan(before) for before, after in pairwise(slopes)]
    return [2 * math.tan(turn / 2) if turn > 0 else turn for turn in turns]
