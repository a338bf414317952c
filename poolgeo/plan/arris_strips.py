r"""Strips: the arrises along the borders of tops, as facets inside these.

::

         top                        each edge has its own strips, parallel to it; where edges
    ------------.     s             follow each other, strips end on the bisector
     strip     / \     |            of the corner; where one is too short for
    ----------/   \    0            that, they run on, and the lower of the
     edge    corner                 two shows, as it does where they overlap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from .arrangement import components
from .curves import turn_between
from .envelope import resolved
from .keys import numbered
from .slope import LEAST
from .tolerances import GRID

SHARPEST = 0.25
"""[-] Strips end on a bisector where the cosine of half the turn is more; a sharper corner's stands
out too far."""

SMOOTH = 1e-4
"""[rad] Edges that turn by less run straight on."""

STRAIGHT = 5e-6
"""[m] Edges of which the ends between lie off one line by less are one straight edge: some times
what rounding to the grid moves these by, and less than what welds."""

BEYOND = 4.0
"""[-] Where nothing follows an edge its strips run on to what stands there, so many times their own
width at most: that is enough where it stands off the edge by 14 degrees or more."""

ASIDE = 1e-4
"""[m] What stands where an edge ends is asked so near to it."""

OVER = 1e-6
"""[m] A strip that sticks out of its top by less does not."""


@dataclass(frozen=True)
class Borders:
    """Edges that take an arris, each with its top on its left.

    Args:
        ends: (k, 2, 2) [m].
        nodes: (k, 2) numbers of the ends: the edge that starts where one ends may follow it.
        sort: (k,) only edges of one sort follow each other.
        layer: (k,) the layer that its strips are to be part of.
        top: (k,) the top that each ends: a number of ``tops``.
        planes: (k, 3) of the top: its height is a x + b y + c [-, -, m].
        s: (k, n) how far off the edge each chord of the section ends; nan beyond the last [m].
        d: (k, n) how far below the top [m].
        tops: Where the tops lie.
    """

    ends: Floats
    nodes: Ints
    sort: Ints
    layer: Ints
    top: Ints
    planes: Floats
    s: Floats
    d: Floats
    tops: Sequence[shapely.Geometry]

    @property
    def width(self) -> Floats:
        """(k,) How far each arris reaches into its top [m]."""
        found: Floats = np.nanmax(self.s, axis=1)
        return found


def strips(borders: Borders) -> tuple[np.ndarray, Floats, Ints]:
    """Return the strips of some edges: facets (n,), planes (n, 3), the layer of each (n,)."""
    borders = _straightened(borders)
    quads, planes, owner = _laid_out(borders)
    facets = shapely.polygons(quads)
    meets = _overlapping(quads, borders.top[owner])
    shapes, mine = [facets[:0]], [owner[:0]]
    for k, top in enumerate(borders.tops):
        own = np.flatnonzero(borders.top[owner] == k)
        alone, others = own[~meets[own]], own[meets[own]]
        found, of = resolved(facets[others], planes[others], highest=False)
        found, of = np.concatenate([facets[alone], found]), np.concatenate([alone, others[of]])
        wide = shapely.buffer(top, OVER, quad_segs=1, join_style="mitre")
        shapely.prepare(wide)
        out = ~shapely.covers(wide, found)
        found[out] = shapely.intersection(found[out], top)
        # on the grid, what overlays leave has no spikes
        parts, which = shapely.get_parts(shapely.set_precision(found, GRID), return_index=True)
        kept = (shapely.get_type_id(parts) == 3) & (shapely.area(parts) > LEAST)
        shapes.append(parts[kept])
        mine.append(of[which[kept]])
    rows = np.concatenate(mine)
    return np.concatenate(shapes), planes[rows], borders.layer[owner[rows]]


def _straightened(borders: Borders) -> Borders:
    """Return edges with those that run straight on made one: their strips have no ends between."""
    start, stop = borders.ends[:, 0], borders.ends[:, 1]
    one = np.flatnonzero((after := _following(borders)) >= 0)
    other = after[one]
    same = (borders.sort[one] == borders.sort[other]) & (borders.layer[one] == borders.layer[other])
    for item in (borders.planes, np.nan_to_num(borders.s), np.nan_to_num(borders.d)):
        same &= np.abs(item[one] - item[other]).max(axis=1) < GRID
    same &= np.einsum("ki,ki->k", (stop - start)[one], (stop - start)[other]) > 0.0
    same &= _off_line(start[other], start[one], stop[other]) < STRAIGHT
    one, other = one[same], other[same]
    chain = components(len(start), one, other)
    every = np.arange(len(start))
    first, last = every.copy(), every.copy()  # of each chain, at its number
    begins, ends = np.setdiff1d(every, other), np.setdiff1d(every, one)
    first[chain[begins]], last[chain[ends]] = begins, ends
    off = np.zeros(len(start))
    np.maximum.at(off, chain, _off_line(start, start[first[chain]], stop[last[chain]]))
    bent = off[chain] >= STRAIGHT
    rows = np.flatnonzero(bent | (first[chain] == every))
    end = np.where(bent, every, last[chain])[rows]
    return replace(
        borders,
        ends=np.stack([start[rows], stop[end]], axis=1),
        nodes=np.column_stack([borders.nodes[rows, 0], borders.nodes[end, 1]]),
        sort=borders.sort[rows],
        layer=borders.layer[rows],
        top=borders.top[rows],
        planes=borders.planes[rows],
        s=borders.s[rows],
        d=borders.d[rows],
    )


def _off_line(places: Floats, start: Floats, stop: Floats) -> Floats:
    """Return how far plan points (k, 2) lie off lines (k, 2) to (k, 2) [m]."""
    way, to = stop - start, places - start
    found: Floats = np.abs(way[:, 0] * to[:, 1] - way[:, 1] * to[:, 0]) / np.maximum(
        np.hypot(*way.T), GRID
    )
    return found


def _overlapping(quads: Floats, top: Ints) -> Bools:
    """Return which convex quads (n, 4, 2) overlap others of their top.

    Two do where no side of either has the one wholly on its left and the other on its right.
    """
    x, y = quads[..., 0], quads[..., 1]
    bounds = x.min(axis=1), y.min(axis=1), x.max(axis=1), y.max(axis=1)
    one, other = shapely.STRtree(shapely.box(*bounds)).query(shapely.box(*bounds))
    apart = (one >= other) | (top[one] != top[other])
    one, other = one[~apart], other[~apart]
    steps = np.roll(quads, -1, axis=1) - quads
    off = np.stack([-steps[..., 1], steps[..., 0]], axis=2)
    off /= np.maximum(np.hypot(off[..., 0], off[..., 1]), GRID)[..., None]
    overlap = np.ones(len(one), dtype=bool)
    for mine, theirs in ((one, other), (other, one)):
        away = quads[theirs][:, None] - quads[mine][:, :, None]
        left = np.einsum("kscd,ksd->ksc", away, off[mine]).max(axis=2)
        overlap &= left.min(axis=1) > OVER
    found = np.zeros(len(quads), dtype=bool)
    found[one[overlap]] = found[other[overlap]] = True
    return found


def _laid_out(borders: Borders) -> tuple[Floats, Floats, Ints]:
    """Return strips (n, 4, 2) that may overlap and stick out of their tops, as `strips` does."""
    start, step = borders.ends[:, 0], borders.ends[:, 1] - borders.ends[:, 0]
    size = np.hypot(*step.T)
    along = step / size[:, None]
    off = np.column_stack([-along[:, 1], along[:, 0]])
    sides, beyond = _ends(borders, along, off, size)
    quads, planes, owners = [], [], []
    for k in range(borders.s.shape[1] - 1):
        rows = np.flatnonzero(np.isfinite(borders.s[:, k + 1]))
        near, far = borders.s[rows, k, None], borders.s[rows, k + 1, None]
        corners = [
            borders.ends[rows, end] + s * sides[rows, end] + beyond[rows, end, None] * way
            for end, s in ((0, near), (1, near), (1, far), (0, far))
            for way in ((-along[rows], along[rows])[end],)
        ]
        quads.append(np.stack(corners, axis=1))
        fall = (borders.d[rows, k] - borders.d[rows, k + 1])[:, None] / (far - near)
        slope = fall * off[rows]
        c = -np.sum(slope * start[rows], axis=1) - borders.d[rows, k] - (fall * near)[:, 0]
        planes.append(borders.planes[rows] + np.column_stack([slope, c]))
        owners.append(rows)
    return np.concatenate(quads), np.concatenate(planes), np.concatenate(owners)


def _ends(borders: Borders, along: Floats, off: Floats, size: Floats) -> tuple[Floats, Floats]:
    """Return how strips end.

    Returns:
        (k, 2, 2) which way the ends of strips go off the ends of edges, per metre across; and
        (k, 2) how far they run on beyond these [m].
    """
    wide = borders.width
    one = np.flatnonzero((after := _following(borders)) >= 0)
    other = after[one]
    middle = off[one] + off[other]
    cosine = np.hypot(*middle.T) / 2.0
    turn = turn_between(along[one], along[other])
    beyond = np.stack([_free_end(borders, along, off, wide, end) for end in (0, 1)], axis=1)
    # straight on from a corner that stands out lies what others overlap, or nothing
    beyond[one, 1] = beyond[other, 0] = np.where(turn > 0.0, BEYOND * wide[one], 0.0)
    meets = cosine > SHARPEST
    while True:
        sides = np.stack([off, off], axis=1)
        way = middle[meets] / (2.0 * cosine[meets, None] ** 2)
        sides[one[meets], 1] = sides[other[meets], 0] = way
        left = size + wide * np.sum((sides[:, 1] - sides[:, 0]) * along, axis=1)
        short = left < GRID
        parted = meets & (turn > SMOOTH) & (short[one] | short[other])
        if not parted.any():
            break
        meets &= ~parted
    beyond[one[meets], 1] = beyond[other[meets], 0] = 0.0
    return sides, beyond


def _following(borders: Borders) -> Ints:
    """Return the edge that follows each (k,), -1 where there is none or more than one."""
    sort = numbered(borders.sort)[1] * (int(borders.nodes.max(initial=0)) + 1)
    _, node = numbered((sort[:, None] + borders.nodes).ravel())
    start, stop = node.reshape(-1, 2).T
    count = int(node.max(initial=0)) + 1
    alone = (np.bincount(start, minlength=count) == 1) & (np.bincount(stop, minlength=count) == 1)
    begins = np.full(count, -1)
    begins[start] = np.arange(len(start))
    return np.where(alone[stop], begins[stop], -1)


def _free_end(borders: Borders, along: Floats, off: Floats, wide: Floats, end: int) -> Floats:
    """Return how far strips (k,) run on beyond an end that nothing follows [m].

    Not at all where the top goes on there.
    """
    out = along if end else -along
    places = borders.ends[:, end] + ASIDE * (BEYOND * out + off)
    goes_on = np.zeros(len(out), dtype=bool)
    for k, top in enumerate(borders.tops):
        rows = np.flatnonzero(borders.top == k)
        shapely.prepare(top)
        goes_on[rows] = shapely.contains_xy(top, places[rows])
    return np.where(goes_on, 0.0, BEYOND * wide)
