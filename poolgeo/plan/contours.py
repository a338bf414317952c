"""Contours: where a floor or a cove passes a height that something makes of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .cells import Cells
from .floor import Floor
from .layers import Layer
from .levels import Levels
from .overlay import meeting
from .shapes import lines_of, rings_of, segments_of, sides_across
from .slope import Slope

BESIDE = 1e-3
"""[m] A contour reaches this far beyond what makes it, to cross the border that is shared."""


@dataclass(frozen=True)
class Contour:
    """A line on a ground, of known height, or of that of a sloping top.

    Args:
        segments: (k, 2, 2) [m].
        layer: The ground's number.
        heights: (k, 2) at the ends of the segments [m].
        passing: The cells that pass through it (of a floor: none).
        sloping: The sloping top that has the ground's height there; -1 for none.
    """

    segments: Floats
    layer: int
    heights: Floats
    passing: Ints
    sloping: int = -1


def contours(layers: Sequence[Layer], levels: Sequence[Levels]) -> list[Contour]:
    """Return where grounds pass the level of the concrete that stands on them, or end of a zone.

    Args:
        layers: In painting order.
        levels: Where the surface of each body of water is split.
    """
    standing = [
        (layers[:number], layer.level, layer)
        for number, layer in enumerate(layers)
        if layer.over == "floor" and isinstance(layer.height, float)
    ]
    wetted = [
        (number, z, layer)
        for item in levels
        for number, layer in enumerate(layers)
        if layer.body == item.body and not isinstance(layer.height, float)
        for z in sorted(set(item.cuts))
    ]
    found = [
        line
        for below, z, maker in standing
        for number, ground in enumerate(below)
        if ground.body == maker.body
        for line in _contour(ground, number, z, maker.region)
    ]
    found += [
        line for number, z, layer in wetted for line in _contour(layer, number, z, _whole(layer))
    ]
    # a cove painted on what stands may end at something whose level lies between its own heights
    for number, cove in enumerate(layers):
        if isinstance(cove.height, Cells) and cove.over == "floor":
            for _, z, maker in standing:
                if maker.body == cove.body and shapely.dwithin(maker.region, cove.region, BESIDE):
                    region = shapely.buffer(maker.region, BESIDE)
                    found += _contour(cove, number, z, region)
    for number, wall in enumerate(layers):
        if isinstance(wall.height, Cells) and wall.height.canal.batter.lean:
            found += _ends(layers, number, wall.region)
    for number, layer in enumerate(layers):
        if isinstance(layer.height, Slope) and not layer.on:  # an arris lies within its top
            found += _meetings(layers, number, layer.height)
        if layer.crest is not None:
            found += _crest(layers[:number], layer.crest)
    return found


def _whole(layer: Layer) -> shapely.Geometry:
    """Return the region of a layer; a cove may end beside it, on chords of a flattened wall."""
    is_wider = isinstance(layer.height, Cells) and layer.over == "all"
    return shapely.buffer(layer.region, BESIDE) if is_wider else layer.region


def _ends(layers: Sequence[Layer], number: int, region: shapely.Geometry) -> Iterator[Contour]:
    """Return where a leaning wall that ends beside a lower, level top is as high as that."""
    for top in layers:
        if top.over == "all" and isinstance(top.height, float) and top.crest is None:
            beside = shapely.intersection(region, shapely.buffer(top.region, BESIDE))
            if not beside.is_empty:
                yield from _contour(layers[number], number, top.height, beside)


def _crest(below: Sequence[Layer], crest: Floats) -> Iterator[Contour]:
    """Return where a leaning wall comes up to a crest: to its height, whatever its facets say."""
    middles = shapely.points(crest[..., :2].mean(axis=1))
    for number, wall in enumerate(below):
        if isinstance(wall.height, Cells) and wall.height.canal.batter.lean:
            mine = crest[shapely.dwithin(wall.region, middles, BESIDE)]
            if len(mine):
                none = np.zeros(0, dtype=np.int64)
                yield Contour(mine[..., :2], number, mine[..., 2], none)


def _meetings(layers: Sequence[Layer], number: int, top: Slope) -> Iterator[Contour]:
    """Return where a sloping top passes the ground under it, and what stands beside it."""
    region = layers[number].region
    wide = shapely.buffer(region, BESIDE)
    for n, other in enumerate(layers):
        is_ground = other.over == "all" and not isinstance(other.height, float)
        if n == number or (is_ground and (n > number or other.body != layers[number].body)):
            continue
        if not shapely.dwithin(region, other.region, BESIDE):
            continue
        where = region
        if not is_ground:
            where = shapely.intersection(wide, shapely.buffer(other.region, BESIDE))
        lines, piece = meeting(top, other.height, where)
        if len(lines):
            passing = np.unique(piece) if isinstance(other.height, Cells) else piece[:0]
            yield Contour(lines, n, np.zeros((len(lines), 2)), passing, number)


def _contour(ground: Layer, number: int, z: float, region: shapely.Geometry) -> Iterator[Contour]:
    none = np.zeros(0, dtype=np.int64)
    if isinstance(ground.height, Slope) and ground.height.extent[0] < z < ground.height.extent[1]:
        lines, _ = meeting(ground.height, z, shapely.intersection(region, ground.region))
        if len(lines):
            yield Contour(lines, number, np.full((len(lines), 2), z), none)
    if isinstance(ground.height, Floor):
        lines = ground.height.contour_within(z, rings_of(region))
        if len(lines):
            yield Contour(lines, number, np.full((len(lines), 2), z), none)
    if isinstance(ground.height, Cells):
        passing, lines = _cells_at_level(ground.height, z)
        if len(passing):
            shapely.prepare(region)
            near = shapely.intersects(region, shapely.linestrings(lines))
            if near.any():
                inside = shapely.intersection(lines_of(lines[near]), region)
                found = segments_of(inside)
                yield Contour(found, number, np.full((len(found), 2), z), passing[near])


def _cells_at_level(cells: Cells, z: float) -> tuple[Ints, Floats]:
    """Return the cells that pass through a height, and the segment in each (k, 2, 2) [m]."""
    low, high = cells.extent
    if not low <= z < high:
        return np.zeros(0, dtype=np.int64), np.zeros((0, 2, 2))
    higher = cells.vertices[:, 2] > z
    a, b, c = higher[cells.triangles].T
    passing = np.flatnonzero((a != b) | (b != c))
    corners = cells.vertices[cells.triangles[passing]]
    h, xy = corners[..., 2] - z, corners[..., :2]
    rows = np.arange(len(passing))
    apex, others = sides_across(h > 0.0)
    share = h[rows, apex] / (h[rows, apex] - h[rows, others])
    ends = xy[rows, apex] + share[..., None] * (xy[rows, others] - xy[rows, apex])
    return passing, ends.transpose(1, 0, 2)
