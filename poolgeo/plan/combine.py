"""Union and difference of plan shapes, on their true curves.

All shapes' sides are cut where they cross each other. What is left of a side between two cuts lies
wholly inside or outside of every other shape, or along its border; so it is known on either side
of it whether there is water. It belongs to the result where one side has and the other has not.

Words: a **loop** is a closed chain of pieces; a **strand** is a piece between two cuts; a **node**
is where strands end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely

from ..arrays import Floats
from .arrangement import components
from .crossings import Fine, cuts_of
from .curves import Piece
from .ring import signed_area
from .tolerances import WELD

Loop = Sequence[Piece]

ALONG = 5e-5
"""[m] A strand that stands off a border by less than this, everywhere, runs along it."""

NODE = 4.0 * WELD
"""[m] Ends of strands nearer to each other than this are one node."""

SAMPLES = np.arange(1.0, 10.0) / 10.0
"""[-] Shares of a strand's parameter at which it is compared with the other shapes."""

SAME_PLACE = 1e-6
"""[m] Distances that differ by less are equal."""

NO_EFFECT = 1e-6
"""[m2] A shape that changes the result by less than this changes nothing."""


class TornError(ValueError):
    """Strands do not close: what crosses there does so at too slight an angle, or touches.

    Args:
        place: (2,) where [m].
        touches: Whether the result touches itself there.
    """

    def __init__(self, place: Floats, *, touches: bool) -> None:
        self.place, self.touches = place, touches
        super().__init__()


@dataclass(frozen=True)
class _Border:
    """The border of one shape, finely flattened.

    Args:
        fine: Chords of its pieces.
        sign: (pieces,) 1 where the shape lies to the left of a piece, -1 to the right.
        region: What it encloses: what an odd number of its loops hold.
        tree: Its chords.
    """

    fine: Fine
    sign: np.ndarray
    region: shapely.Geometry
    tree: shapely.STRtree

    @classmethod
    def of(cls, loops: Sequence[Loop]) -> _Border:
        """Flatten a shape."""
        fine = Fine.of([piece for loop in loops for piece in loop])
        of_loop = np.repeat(np.arange(len(loops)), [len(loop) for loop in loops])[fine.piece]
        rings = [fine.segments[of_loop == k, 0] for k in range(len(loops))]
        polygons = shapely.polygons([shapely.linearrings(ring) for ring in rings])
        region = polygons[0]
        for item in polygons[1:]:
            region = shapely.symmetric_difference(region, item)
        shapely.prepare(region)
        # the point of a ring lies in those rings that the ring lies in, and on itself
        inside = [shapely.contains_xy(polygons, *ring[0]) for ring in rings]
        np.fill_diagonal(depth := np.array(inside, dtype=int), 0)
        turn = [1 if signed_area(ring) > 0.0 else -1 for ring in rings]
        signs = np.repeat(turn * (-1) ** depth.sum(axis=1), [len(loop) for loop in loops])
        return cls(fine, signs, region, shapely.STRtree(shapely.linestrings(fine.segments)))

    def sides(self, points: Floats, along: Floats) -> tuple[bool, bool, bool]:
        """Return whether the shape lies to the left and to the right of a strand, and along it.

        Args:
            points: (k, 2) samples of it [m].
            along: (k, 2) the way that it runs there.
        """
        places = shapely.points(points)
        (_, near), away = self.tree.query_nearest(places, return_distance=True, all_matches=False)
        far = int(np.argmax(away))
        if away[far] > ALONG:
            inside = bool(shapely.contains_xy(self.region, *points[far]))
            return inside, inside, False
        a, b = self.fine.segments[near[far]]
        left = bool((b - a) @ along[far] * self.sign[self.fine.piece[near[far]]] > 0.0)
        return left, not left, True


@dataclass(frozen=True)
class Operand:
    """A shape that is added or subtracted.

    Args:
        adds: Whether it is added.
        loops: Its outline, and its holes.
    """

    adds: bool
    loops: Sequence[Loop]

    @cached_property
    def border(self) -> _Border:
        """Its border, finely flattened."""
        return _Border.of(self.loops)


def combined(shapes: Sequence[Operand]) -> list[list[Piece]]:
    """Return the loops of what shapes leave, added and subtracted one after the other.

    Args:
        shapes: In order.

    Returns:
        Outlines anticlockwise and holes clockwise, each from the place that is nearest to the
        first point of the first shape.

    `TornError` is raised where the result touches itself, or shapes cross at too slight an angle.
    """
    fine = Fine.joined([item.border.fine for item in shapes])
    shape = np.repeat(np.arange(len(shapes)), [len(item.border.sign) for item in shapes])
    strands = []
    for piece, owner, places in zip(fine.pieces, shape.tolist(), cuts_of(fine, shape), strict=True):
        for a, b in pairwise(places.tolist()):
            if (way := _way(shapes, owner, piece.part(a, b))) != 0:
                strands.append(piece.part(a, b) if way > 0 else piece.part(b, a))
    first = shapes[0].loops[0][0]
    return _chained(strands, first.at(np.array(first.domain[:1]))[0])


def without_effect(shapes: Sequence[Operand]) -> tuple[bool, list[int]]:
    """Return whether anything is left, and the shapes without which the others leave the same."""

    def left(without: int) -> shapely.Geometry:
        found = shapely.Polygon()
        for k, item in enumerate(shapes):
            if k != without:
                join = shapely.union if item.adds else shapely.difference
                found = join(found, item.border.region)
        return found

    whole = left(-1)
    changes = [shapely.symmetric_difference(whole, left(k)).area for k in range(len(shapes))]
    return whole.area >= NO_EFFECT, [k for k, size in enumerate(changes) if size < NO_EFFECT]


def _way(shapes: Sequence[Operand], owner: int, strand: Piece) -> int:
    """Return 1 where a strand has the result on its left only, -1 on its right only, 0 if neither.

    Where shapes run along each other, the first of them has the strand.
    """
    t = strand.domain[0] + (strand.domain[1] - strand.domain[0]) * SAMPLES
    points, along = strand.at(t), strand.at(t, 1)
    left = right = False
    for k, item in enumerate(shapes):
        on_left, on_right, runs_along = item.border.sides(points, along)
        if runs_along and k < owner:
            return 0
        if item.adds:
            left, right = left or on_left, right or on_right
        else:
            left, right = left and not on_left, right and not on_right
    return int(left) - int(right)


def _chained(strands: list[Piece], first: Floats) -> list[list[Piece]]:
    """Join strands to loops."""
    strands = [item for item in strands if _length(item) > NODE]
    if not strands:
        return []
    ends = np.array([item.at(np.array(item.domain)) for item in strands])
    node = _nodes(ends.reshape(-1, 2)).reshape(-1, 2)
    leaves = np.bincount(node[:, 0], minlength=node.max() + 1)
    comes = np.bincount(node[:, 1], minlength=node.max() + 1)
    for wrong, touches in ((leaves != comes, False), (leaves > 1, True)):
        torn = np.flatnonzero(wrong)
        if len(torn):
            raise TornError(ends.reshape(-1, 2)[node.ravel() == torn[0]][0], touches=touches)
    after = dict(zip(node[:, 0].tolist(), range(len(strands)), strict=True))
    left, loops = set(range(len(strands))), []
    while left:
        chain = [min(left)]
        while (k := after[int(node[chain[-1], 1])]) != chain[0]:
            chain.append(k)
        left -= set(chain)
        away = np.hypot(*(ends[chain, 0] - first).T)
        start = int(np.argmin(np.rint(away / SAME_PLACE)))
        loops.append([strands[k] for k in (*chain[start:], *chain[:start])])
    return loops


def _nodes(points: Floats) -> np.ndarray:
    """Number points (k, 2); those nearer than `NODE` to each other are one."""
    places = shapely.points(points)
    one, other = shapely.STRtree(places).query(places, predicate="dwithin", distance=NODE)
    return np.unique(components(len(points), one, other), return_inverse=True)[1]


def _length(strand: Piece) -> float:
    return float(strand.flatten(NODE).lengths.sum())
