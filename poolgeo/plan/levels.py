"""Levels: the heights at which the surface of a body of water is split into zones.

::

      wall top   ______.____       wall top; inside the dot: coping return
                |
                |                  freeboard
         top  - | - - - - -
                |                  waterline band
       water  ~~|~~~~~~~~~~
                |                  waterline band
      bottom  - | - - - - -
                |                  below band
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..mesh import ZONES

WALL_TOPS = ("dam wall top", "wall top")
"""Kinds of surface that lie on top of walls: zones of their own, at whatever height."""

BELOW, BAND, FREEBOARD, WALL_TOP, RETURN = range(len(ZONES))
"""Numbers of the zones."""

ZONE_OF_STAGE = np.array([BELOW, BAND, BAND, FREEBOARD])
"""By how many levels of its body a surface lies above."""

ABOVE_WATER = 2
"""Stage from which on a surface lies above the water."""


@dataclass(frozen=True)
class Levels:
    """Where the surface of one body is split.

    Args:
        body: Its name.
        bottom: Height of the waterline band's lower edge [m].
        water: Height of the water [m].
        top: Height of the waterline band's upper edge [m].
    """

    body: str
    bottom: float
    water: float
    top: float

    @property
    def cuts(self) -> tuple[float, float, float]:
        """The levels, rising; two may be the same [m]."""
        return self.bottom, self.water, self.top


def stages(z: Floats, cuts: Sequence[float | Floats], margin: float) -> Ints:
    """Return how many levels each height (k,) reaches.

    Args:
        z: Heights [m].
        cuts: The levels, rising; for all, or (k,) for each [m].
        margin: A height that is less than this too low reaches a level [m].
    """
    found: Ints = np.sum([z >= cut - margin for cut in cuts], axis=0)
    return found
