"""What of the pool's lines is seen from above, once all above the water is cut away.

::

      overhead       A line above the cut on something that stands over open space is overhead.
     _:____          What lies under concrete that begins below the cut is hidden, and so is the
     |__   |         outside of a pool in the ground. All else is seen, and so is each face that
    ....|  |.. cut   the cut goes through.
       _|  |_
      |______| hidden, in the ground

Each body is cut at its own water level, one that is dry at rest at the pool's.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..model import Model
from ..quantities import Takeoff
from . import contents
from .base_lines import BaseLine, base_lines
from .contents import Content
from .overhang import overhang_lines
from .plan_lines import Drawn, Piece, PlanLine, Projection, joined, rims
from .sight import IN_FRONT, Meetings, Sight, doubled_areas

PIECE = 0.05
"""[m] What something may stand over is looked at in pieces no longer than this."""

BESIDE = 2e-4
"""[m] How far to either side of a line it is asked what stands there."""

LEVEL = 1e-4
"""[m] A face as near to the cut is at its height."""

ALIKE = 1e-4
"""[m] A line nearer than this to another lies under it in plan."""

SEEN, OVERHEAD, HIDDEN = range(3)
"""States of a stretch."""


def seen_from_above(
    model: Model, takeoff: Takeoff, projection: Projection
) -> Iterator[tuple[Content, PlanLine]]:
    """Yield the lines of the pool as a plan at the water level shows them.

    Args:
        model: The pool.
        takeoff: Its edges tell where coping stones lie.
        projection: To drawing units.

    Yields:
        Outlines, edges of the water and rims by their content, those that are not seen as
        `contents.HIDDEN` or `contents.OVERHEAD`; nothing twice on a content, nor under a line of
        a stronger one: seen, overhead, hidden.
    """
    lines = list(base_lines(model.square))
    found = _stretches(model.square, lines)
    drawn: dict[Content, Drawn] = defaultdict(Drawn)
    seen: list[PlanLine] = []
    for content, line in _visible(model.square, lines, found, projection):
        for fresh in drawn[content].fresh(line):
            seen.append(fresh)
            yield content, fresh
    # rims of the outside run along outlines, parted elsewhere
    strays = np.array([line.is_outside and not line.is_path for line in lines])[found.line]

    def pieces(state: int) -> list[list[Piece]]:
        return [_pieces(found, (found.state == state) & rows, projection)
                for rows in (~strays, strays)]  # fmt: skip

    walls = _laid(pieces(SEEN)[1:], seen, projection)
    stones = list(_chords(overhang_lines(takeoff.edges, model.design.pool), projection))
    above = _laid([*pieces(OVERHEAD), stones], [*seen, *walls], projection)
    below = _laid(pieces(HIDDEN), [*seen, *walls, *above], projection)
    for content, laid in (
        (contents.SHELL, walls), (contents.OVERHEAD, above), (contents.HIDDEN, below)
    ):  # fmt: skip
        yield from ((content, line) for line in laid)


def _laid(
    groups: Iterable[Iterable[Piece]], others: Sequence[PlanLine], projection: Projection
) -> list[PlanLine]:
    """Return what of some groups of pieces lies under no other line, nor under earlier groups."""
    laid: list[Piece] = []
    for pieces in groups:
        before = [PlanLine(piece) for piece in laid]
        laid += _clear(pieces, [*others, *before], projection)
    return joined(laid)


@dataclass(frozen=True)
class _Stretches:
    """Stretches of lines in one state each.

    Args:
        line: (k,) number of the line.
        ends: (k, 2, 3) [m].
        state: (k,) `SEEN`, `OVERHEAD` or `HIDDEN`.
    """

    line: Ints
    ends: Floats
    state: Ints


def _visible(
    model: Model, lines: Sequence[BaseLine], found: _Stretches, projection: Projection
) -> Iterator[tuple[Content, PlanLine]]:
    """Yield what is seen: whole paths as they run, rims of the inside joined up to junctions."""
    is_seen = found.state == SEEN
    loose: dict[Content, list[Piece]] = {}
    for number, line in enumerate(lines):
        own = found.line == number
        if line.is_outside and not line.is_path:
            continue
        if not line.is_path:
            loose.setdefault(line.content, []).extend(_pieces(found, own & is_seen, projection))
        elif is_seen[own].all():
            if whole := projection.line(line.path):
                yield line.content, whole
        else:
            parts = joined(set(_pieces(found, own & is_seen, projection)))
            yield from ((line.content, part) for part in parts)
    for body in model.bodies:
        for rim in rims(body.water, {"water surface"}, projection):
            yield contents.WATER, rim
    for content, pieces in loose.items():
        yield from ((content, line) for line in joined(set(pieces)))


def _pieces(found: _Stretches, rows: Bools, projection: Projection) -> list[Piece]:
    """Return some of the stretches as pieces of plan lines, none of them upright."""
    pieces = []
    for start, end in found.ends[rows].tolist():
        one, other = sorted((projection.place(start), projection.place(end)))
        if one != other:
            pieces.append((one, other))
    return pieces


def _chords(paths: Iterable[Floats], projection: Projection) -> Iterator[Piece]:
    """Yield the pieces of paths (k, 2)."""
    for path in paths:
        if line := projection.line(path):
            yield from line.pieces


def _clear(
    pieces: Iterable[Piece], others: Sequence[PlanLine], projection: Projection
) -> set[Piece]:
    """Return what of pieces lies under no other line."""
    ordered = sorted({(min(piece), max(piece)) for piece in pieces})
    if not ordered:
        return set()
    ends, near = np.array(ordered), ALIKE * projection.per_metre
    sides = np.array([piece for line in others for piece in line.pieces]).reshape(-1, 2, 2)
    low, high = ends.min(axis=(0, 1)) - near, ends.max(axis=(0, 1)) + near
    sides = sides[((sides.max(axis=1) > low) & (sides.min(axis=1) < high)).all(axis=1)]
    tree = shapely.STRtree(shapely.linestrings(sides))
    close = tree.query(shapely.linestrings(ends), "dwithin", near)[0]
    side, share = _divided(ends, np.isin(np.arange(len(ends)), close), projection.per_metre)
    parts = _between(ends[side], share)
    probes = np.concatenate([parts, parts.mean(axis=1, keepdims=True)], axis=1)
    met = tree.query(shapely.points(probes.reshape(-1, 2)), "dwithin", near)[0]
    lies_under = np.bincount(np.unique(met) // 3, minlength=len(parts)) == 3
    first, last = _alike(side, lies_under)
    kept = ~lies_under[first]
    own = np.stack([share[first, 0], share[last, 1]], axis=1)[kept]
    whole = (own == [0.0, 1.0]).all(axis=1).tolist()
    found = set()
    for number, is_whole, part in zip(
        side[first][kept].tolist(), whole, _between(ends[side[first][kept]], own), strict=True
    ):
        rounded = np.round(part, projection.decimals) + 0.0
        (a, b), (c, d) = rounded.tolist()
        found.add(ordered[number] if is_whole else ((a, b), (c, d)))
    return found


def _alike(side: Ints, state: np.ndarray) -> tuple[Ints, Ints]:
    """Return the first and the last piece of each stretch of a side (n,) in one state (n,)."""
    starts = np.ones(len(side), dtype=bool)
    starts[1:] = (side[1:] != side[:-1]) | (state[1:] != state[:-1])
    first = np.flatnonzero(starts)
    return first, np.append(first[1:], len(side)) - 1


def _between(ends: Floats, share: Floats) -> Floats:
    """Return the places (k, 2, d) at shares (k, 2) of sides (k, 2, d)."""
    found: Floats = ends[:, :1] * (1.0 - share[..., None]) + ends[:, 1:] * share[..., None]
    return found


def _stretches(model: Model, lines: Sequence[BaseLine]) -> _Stretches:
    """Part all lines where their state changes; what nothing stands over is seen."""
    faces = model.shell.vertices[model.shell.triangles]
    sight = Sight.of(faces)
    looks_down = doubled_areas(sight.faces) < 0.0
    ends = np.concatenate([line.ends for line in lines])
    owner = np.repeat(np.arange(len(lines)), [len(line.ends) for line in lines])
    cut = np.array([line.cut for line in lines])[owner]
    outside = np.array([line.is_outside for line in lines])[owner]
    doubtful = outside | _under(sight.faces[looks_down], ends, cut)
    side, share = _divided(ends, doubtful)
    rows = np.flatnonzero(doubtful[side])
    start, way = ends[side[rows], 0], np.diff(ends[side[rows]], axis=1)[:, 0]
    middle = start + share[rows].mean(axis=1)[:, None] * way
    buried = outside & (model.design.pool.setting != "suspended")
    state = np.full(len(side), SEEN)
    state[rows] = _Looks.at(sight, looks_down, middle, way, cut[side[rows]]).states(
        buried[side[rows]]
    )
    first, last = _alike(side, state)
    own = side[first]
    parted = _between(ends[own], np.stack([share[first, 0], share[last, 1]], axis=1))
    return _Stretches(owner[own], parted, state[first])


def _under(down: Floats, ends: Floats, cut: Floats) -> Bools:
    """Return the sides (k,) over which, or over whose cut, faces that look down may lie.

    Args:
        down: (m, 3, 3) those faces [m].
        ends: (k, 2, 3) the sides [m].
        cut: (k,) height of the cut at each [m].
    """
    found = np.zeros(len(ends), dtype=bool)
    if len(down):
        low, high = down[..., :2].min(axis=1) - ALIKE, down[..., :2].max(axis=1) + ALIKE
        tree = shapely.STRtree(shapely.box(*low.T, *high.T))
        side, face = tree.query(shapely.linestrings(ends[..., :2]))
        least = np.minimum(ends[side, :, 2].min(axis=1) + IN_FRONT, cut[side] - LEVEL)
        found[side[down[face, :, 2].max(axis=1) > least]] = True
    return found


def _divided(ends: Floats, wanted: Bools, per_metre: float = 1.0) -> tuple[Ints, Floats]:
    """Part those sides (k, 2, d) that are wanted into pieces no longer than `PIECE`.

    Returns:
        (n,) the side of each piece, and (n, 2) shares of it at which it starts and ends.
    """
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) / per_metre
    count = np.where(wanted, np.maximum(np.ceil(length / PIECE), 1.0), 1.0).astype(np.int64)
    side = np.repeat(np.arange(len(count)), count)
    number = np.arange(len(side)) - np.repeat(np.cumsum(count) - count, count)
    return side, (number[:, None] + np.array([0.0, 1.0])) / count[side, None]


@dataclass(frozen=True)
class _Looks:
    """What is met over, and under, the two sides of places on lines.

    Args:
        is_below: (k,) whether the place lies below the cut.
        covered: (k, 2) whether it lies under concrete that begins below the cut.
        cuts: (k, 2) whether the cut goes through concrete.
        hangs: (k, 2) whether concrete up to the place begins above the cut.
    """

    is_below: Bools
    covered: Bools
    cuts: Bools
    hangs: Bools

    @classmethod
    def at(
        cls, sight: Sight, looks_down: Bools, places: Floats, ways: Floats, cut: Floats
    ) -> _Looks:
        """Look up and down beside places (k, 3) on lines that run along ways (k, 3)."""
        normal = np.column_stack([-ways[:, 1], ways[:, 0]])
        length = np.hypot(*normal.T)
        normal *= (BESIDE / np.where(length > 0.0, length, 1.0))[:, None]
        plan, height = places[:, :2], places[:, 2]
        sides = []
        for at in (plan + normal, plan - normal):
            met = sight.meetings(at, 0.0, plan)
            down, over = looks_down[met.face], met.depth - cut[met.which]
            next_up = _lowest(met, met.depth > height[met.which] + IN_FRONT, len(plan))
            next_cut = _lowest(met, over > -LEVEL, len(plan))
            hangs = np.zeros(len(plan), dtype=bool)
            hangs[met.which[down & (over > -LEVEL)
                            & (met.depth < height[met.which] + IN_FRONT)]] = True  # fmt: skip
            covered = (next_up >= 0) & (~down | (over < -LEVEL))[next_up] if len(down) else hangs
            cuts = (next_cut >= 0) & ~down[next_cut] if len(down) else hangs
            sides.append((covered, cuts, hangs))
        covered, cuts, hangs = (np.stack(item, axis=1) for item in zip(*sides, strict=True))
        return cls(height < cut - LEVEL, covered, cuts, hangs)

    def states(self, buried: Bools) -> Ints:
        """Return the state of each place, those in the ground (k,) hidden where not cut."""
        is_cut = self.cuts[:, 0] != self.cuts[:, 1]
        hidden = self.is_below & (self.covered.all(axis=1) | buried)
        overhead = ~self.is_below & ~self.cuts.any(axis=1) & self.hangs.any(axis=1)
        found: Ints = np.where(is_cut, SEEN, np.where(hidden, HIDDEN, overhead * OVERHEAD))
        return found


def _lowest(met: Meetings, rows: Bools, count: int) -> Ints:
    """Return for each line of sight the lowest of some of its meetings, -1 where there is none."""
    found = np.full(count, -1)
    kept = np.flatnonzero(rows)
    kept = kept[np.lexsort((met.depth[kept], met.which[kept]))]
    which, first = np.unique(met.which[kept], return_index=True)
    found[which] = kept[first]
    return found
