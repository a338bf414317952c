"""Which cells of a cove other lines cut, of those that may show."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .cells import Cells
from .contours import Contour
from .cut import cut_cells
from .floor import Floor
from .keys import among
from .layers import Layer
from .spans import boxes_meet
from .tolerances import GRID

AT_WALL = 5e-5
"""[m] A border goes through a cove's wall vertex, and a cove's wall through a vertex of a border,
that are nearer than this: where a joint of the cove falls between two vertices of a flattened wall,
it may stand off the chord."""

NEAR = 0.25
"""[-] Share of its length that a segment is at most away from a line which holds its ends and its
middle: farther off, the line would turn by 45 degrees."""

BESIDE_COVES = frozenset({"weir top"})
"""Kinds of which the borders meet a cove's wall from outside, in its vertices, and cut no cell."""


def cut_and_shown(
    number: int,
    cells: Cells,
    layers: Sequence[Layer],
    borders: Sequence[Floats],
    lines: Sequence[Contour],
) -> Ints:
    """Return the cells of one cove that anything but its own lines cuts, if they may show."""
    # what was painted before the cove's own floor lies hidden under it
    first = max(
        (n for n, item in enumerate(layers[:number])
         if isinstance(item.height, Floor) and item.body == layers[number].body), default=0
    )  # fmt: skip
    lines = [item for item in lines if item.layer >= first]
    # a cove that is clipped to a region is cut by its border
    own = layers[number].over == "floor"
    beside = {n for n, item in enumerate(layers) if item.kind in BESIDE_COVES}
    found = [
        (n, item)
        for n, item in enumerate(borders)
        if n >= first and (own or n != number) and n not in beside
    ]
    found += [(-1, item.segments) for item in lines]
    knives = np.concatenate([item for _, item in found])
    owner = np.repeat([n for n, _ in found], [len(item) for _, item in found])
    own_lines = [(cells.walls, AT_WALL)]
    if own:
        own_lines.append(((*cells.floors, *cells.sections), 2.0 * GRID))
    edges = steps_of(cells, [ids for item, _ in own_lines for ids in item])
    sharp = np.flatnonzero(~among(knives, edges))
    cell, knife = cut_cells(cells, knives[sharp])
    knife = sharp[knife]
    met = np.unique(knife)
    blunt = np.zeros(len(knives), dtype=bool)
    for item, tolerance in own_lines:
        blunt[met] |= _along(item, cells, knives[met], tolerance)
    cell, of = cell[~blunt[knife]], owner[knife[~blunt[knife]]]
    passing = [item.passing for item in lines if item.layer == number]
    numbers = np.unique(np.concatenate([cell, *passing]).astype(np.int64))
    shown: Ints = numbers[~_hidden(cells, number, layers, cell, of, numbers)]
    return shown


def _along(lines: Sequence[Ints], cells: Cells, segments: Floats, tolerance: float) -> np.ndarray:
    """Tell which segments run along some of a cove's lines."""
    # about a corner, a cove's line is a point
    shape = shapely.MultiLineString([cells.vertices[ids, :2] for ids in lines if len(ids) > 1])
    shapely.prepare(shape)
    left = np.arange(len(segments))
    for share in (0.5, 0.0, 1.0):
        places = segments[left, 0] * (1.0 - share) + segments[left, 1] * share
        left = left[shapely.dwithin(shape, shapely.points(places), tolerance)]
    found = np.zeros(len(segments), dtype=bool)
    found[left] = True
    # in between, a line of chords is farthest off at one of its vertices
    of, feet = _beside_vertices(segments[left], cells.vertices[np.concatenate(lines), :2])
    found[left[of[~shapely.dwithin(shape, shapely.points(feet), tolerance)]]] = False
    return found


def _beside_vertices(segments: Floats, vertices: Floats) -> tuple[Ints, Floats]:
    """Return the places of segments (s, 2, 2) beside vertices (n, 2) near them.

    Returns:
        (k,) the segment of each, and (k, 2) the place [m].
    """
    d = segments[:, 1] - segments[:, 0]
    about = NEAR * np.hypot(*d.T)
    low, high = segments.min(axis=1).T - about, segments.max(axis=1).T + about
    of, vertex = boxes_meet(low, high, vertices.T, vertices.T)
    size = np.maximum(np.sum(d * d, axis=1), GRID**2)
    share = np.sum((vertices[vertex] - segments[of, 0]) * d[of], axis=1) / size[of]
    within = (share > 0.0) & (share < 1.0)
    of, share = of[within], share[within]
    return of, segments[of, 0] + share[:, None] * d[of]


def _hidden(
    cove: Cells, number: int, layers: Sequence[Layer], cut: Ints, by: Ints, cells: Ints
) -> np.ndarray:
    """Tell which cells of a cove (c,) some later layer hides wholly.

    Args:
        cove: The cove.
        number: Its layer.
        layers: In painting order.
        cut: (k,) cells that are cut.
        by: (k,) the layer of which the border cuts each, -1 for none.
        cells: (c,) the cells to ask for.

    Returns:
        (c,) whether it does.
    """
    centres = cove.vertices[cove.triangles[cells], :2].mean(axis=1)
    top = cove.vertices[:, 2].max()
    hidden = np.zeros(len(cells), dtype=bool)
    for n, layer in enumerate(layers[number + 1 :], number + 1):
        if isinstance(layer.height, Cells) or layer.kind in BESIDE_COVES:
            continue  # of these it is not known which cells their borders cut
        if not (layer.over == "all" or layer.lowest > top):
            continue
        off_border = np.ones(len(cove.triangles), dtype=bool)
        off_border[cut[by == n]] = False
        hidden |= off_border[cells] & layer.covers(centres)
    return hidden


def steps_of(cells: Cells, lines: Sequence[Ints]) -> Floats:
    """The segments (k, 2, 2) of some of a cove's lines [m]."""
    chains = [cells.vertices[ids, :2] for ids in lines]
    return np.concatenate([np.stack([line[:-1], line[1:]], axis=1) for line in chains])
