"""Ground between two pieces of concrete, one above the other: a partition of its own.

::

      wall |      |  bond beam
           |   ___|  high
           |  |......
           |  |...... ground
           |  |_________ low
           |            | footing
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .floor import Floor
from .layers import Gap
from .partition import Partition, partition
from .side import Side


@dataclass(frozen=True)
class Ground:
    """The ground between pieces of the concrete.

    Args:
        partition: Its faces.
        gaps: All gaps.
        gap: (f,) the gap that each face is part of.
        piece: (f,) piece of the profile below it.
        low: (gaps, n) height of the concrete below at every vertex [m].
        high: (gaps, n) height of the concrete above [m].
    """

    partition: Partition
    gaps: tuple[Gap, ...]
    gap: Ints
    piece: Ints
    low: Floats
    high: Floats


def ground(gaps: Sequence[Gap], side: Side) -> Ground:
    """Lay out the ground between pieces of the concrete.

    Args:
        gaps: In painting order.
        side: Its side of the linework.

    Returns:
        The ground.
    """
    plan, vertices = side.plan, side.strands.vertices
    covers, inner = side.covers(len(gaps)), side.inner
    gap = np.full(plan.count + 1, -1)
    facet, piece = np.zeros((2, plan.count + 1), dtype=np.int64)
    low, high = [], []
    for n, item in enumerate(gaps):
        below = item.low.height
        if isinstance(below, Floor):
            low.append(below.height(vertices))
            facet[covers[n]] = below.facet(inner[covers[n]])
            piece[covers[n]] = below.piece_of_facet(facet[covers[n]])
        else:
            low.append(np.full(len(vertices), item.low.level))
        high.append(item.high.profile(vertices)[0])
        gap[covers[n]] = n
    label = np.where(gap < 0, -1, gap * (int(facet.max()) + 1) + facet)
    faces, origin = partition(vertices, plan, label)
    return Ground(faces, tuple(gaps), gap[origin], piece[origin], np.array(low), np.array(high))
