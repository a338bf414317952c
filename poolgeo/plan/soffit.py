"""The underside of the concrete: a partition of its own under the plan map.

The pool's soffit is its floor profile moved down square to its slope. A spa stands on a level
soffit of its own; its wall ring goes down to the pool's soffit where that is deeper. So do the
walls of basins and channels. The two sides
of the concrete share the outer border only, vertex by vertex.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from .layers import Underside
from .linework import UNDER
from .partition import Partition, partition
from .side import Side


@dataclass(frozen=True)
class Soffits:
    """The underside.

    Args:
        partition: Its faces.
        zone: (f,) row of ``heights`` that holds for each face.
        heights: (zones, n) height at every vertex [m].
        undersides: In painting order; each has two rows: its profile, and its level.
        piece: (f,) piece of the profile, 0 for a level.
    """

    partition: Partition
    zone: Ints
    heights: Floats
    undersides: tuple[Underside, ...]
    piece: Ints


def soffits(undersides: Sequence[Underside], side: Side) -> Soffits:
    """Paint the undersides.

    Args:
        undersides: In painting order; the first is the pool's, whose profile counts only in it.
        side: The lower side.

    Returns:
        The underside.
    """
    plan, vertices = side.plan, side.strands.vertices
    covers, inner = side.covers(len(undersides)), side.inner
    beside = [(item.level, plan.start[mine[plan.face % (plan.count + 1)]])
              for item, mine in zip(undersides, covers, strict=True)]  # fmt: skip
    levelled = list(_levelled(side))
    zone = np.full(plan.count + 1, -1)
    facet, piece = np.zeros((2, plan.count + 1), dtype=np.int64)
    heights = []
    for n, item in enumerate(undersides):
        profile = _profile(item, vertices, beside)
        for k, at, height in levelled:
            if undersides[k].floor is item.floor and item.drop is None:
                profile[at] = height - item.deeper
        heights += [profile, np.full(len(vertices), item.level)]
        zone[covers[n]] = 2 * n + 1
        if item.floor is not None:
            within = covers[n] if item.everywhere else covers[n] & covers[0]
            bent = within & (plan.mean(profile) < item.level)
            zone[bent] = 2 * n
            facet[bent] = item.floor.facet(inner[bent])
            piece[bent] = item.floor.piece_of_facet(facet[bent])
    label = np.where(zone < 0, -1, zone * (int(facet.max()) + 1) + facet)
    leans = np.array([n % 2 == 0 and undersides[n // 2].drop is not None for n in zone.tolist()])
    faces, origin = partition(vertices, plan, label, sloping=leans)
    return Soffits(faces, zone[origin], np.array(heights), tuple(undersides), piece[origin])


def _profile(item: Underside, vertices: Floats, beside: Sequence[tuple[float, Ints]]) -> Floats:
    """Return the heights of a profile at vertices (n, 2): the lowest where it is torn [m].

    Where a level lies within the tear, it goes through that: on an edge from there to where it is
    not torn the two would cross, and no vertex stands at that place.

    Args:
        item: What lies under the concrete.
        vertices: (n, 2) [m].
        beside: Levels [m], and the vertices at which they lie.
    """
    found, highest = item.profile(vertices)
    for level, at in beside if (found < highest).any() else ():
        within = at[(found[at] < level) & (level < highest[at])]
        found[within] = level
    return found


def _levelled(side: Side) -> Iterator[tuple[int, Ints, float]]:
    """Yield where floors have a known height: an underside with it, the vertices, the height [m].

    A line there is straight over each facet, and where it is crossed a curved floor has another.
    """
    parent = side.strands.parent
    contour, height = side.work.contour[parent], side.work.heights[parent, 0]
    known = (contour >= 0) & (side.work.segments.side[parent] & UNDER > 0)
    for k, z in set(zip(contour[known].tolist(), height[known].tolist(), strict=True)):
        on = known & (contour == k) & (height == z)
        yield k, side.strands.ends[on].ravel(), z
