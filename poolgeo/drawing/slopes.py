"""Slopes of the floor: which way each piece falls, and how steeply.

Triangles that hang together and fall alike are one piece. Of a curved floor the largest pieces are
told, apart from each other.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh
from ..model import Model
from ..plan.arrangement import components
from .inside import chord, plan_region, roomy
from .labels import Label
from .plan_lines import Place, PlanLine, Projection
from .positions import along, text_width

Measure = Callable[[np.ndarray], Floats]
"""Of shapes."""

KINDS = (
    "floor", "basin floor", "channel floor", "spa floor", "tread", "bench top", "seat top",
    "weir top",
)  # fmt: skip
"""Kinds of surface whose slope is told."""

LEVEL = 0.001
"""[-] What falls less is level."""

ALIKE, TURN = 0.005, math.radians(5.0)
"""[-], [rad] Pieces whose slopes differ by less, and their directions by less, fall alike."""

LOOSER = (1.0, 2.0, 4.0, 8.0)
"""How many times as much, where too few or too many pieces are left."""

TOLD = 0.3
"""[-] Share of what falls of a patch that pieces with room for an arrow take up at least."""

MOST = 12
"""Arrows of one body at most."""

MOST_OF_ONE = 4
"""Arrows of one patch of surface at most: a curved one falls everywhere."""

SMALL = 0.1
"""[-] Of many pieces of one patch those smaller than this share of the largest are left out."""

SHAFT = (2.5, 6.0)
"""Least and greatest length of an arrow, in text heights."""

ROOM = 0.6
"""Least distance from an arrow's middle to the border of its piece, in text heights."""

SHARE = 0.8
"""Of the length of its piece that an arrow takes up at most."""

HEAD = (0.8, 0.25)
"""Length and half the width of an arrow's head, in text heights."""

STEEP = 0.1
"""[-] From here on a slope is written as a ratio. Common practice, no source."""


@dataclass(frozen=True)
class Fall:
    """How a piece of surface falls.

    Args:
        body: Of water.
        kind: Of surface.
        place: In plan, with most room about it; the middle of the arrow [m].
        way: Downwards, a unit vector in plan.
        slope: Fall over run, along the arrow.
        length: Of the arrow [m].
        area: Of the piece in plan [m2].
    """

    body: str
    kind: str
    place: Place
    way: Place
    slope: float
    length: float
    area: float

    @property
    def text(self) -> str:
        """The slope as a drawing has it: in per cent, or as a ratio where it is steep."""
        if self.slope < STEEP - 5e-4:
            return f"{self.slope:.1%}".replace("%", " %")
        run = 1.0 / self.slope
        return f"1:{run:.1f}".removesuffix(".0")

    @property
    def ends(self) -> tuple[Place, Place]:
        """The upper and the lower end of the arrow [m]."""
        (x, y), (dx, dy), half = self.place, self.way, self.length / 2.0
        return (x - half * dx, y - half * dy), (x + half * dx, y + half * dy)


def falls_of(model: Model, height: float) -> list[Fall]:
    """Return how the floors of a pool fall, body by body, the largest pieces first.

    Args:
        model: The pool.
        height: Of text [m]: a piece that cannot hold an arrow is left out.
    """
    mesh = model.square.surface
    found = []
    for body in model.bodies:
        falls: list[Fall] = []
        for own in _patches(mesh, body.name):
            falls += _spread(_of_patch(mesh, own, height), MOST_OF_ONE)
        falls.sort(key=lambda fall: (-round(fall.area, 6), fall.place))
        found += falls[:MOST]
    return found


def arrow_of(fall: Fall, projection: Projection, height: float) -> list[PlanLine]:
    """Return the shaft of an arrow and its head.

    Args:
        fall: What it shows.
        projection: To drawing units.
        height: Of text [m].
    """
    tail, tip = np.array(fall.ends)
    way = np.array(fall.way)
    across = np.array([-way[1], way[0]]) * HEAD[1] * height
    foot = tip - way * HEAD[0] * height
    lines = (projection.line(np.array(points)) for points in
             ((tail, tip), (foot + across, tip, foot - across)))  # fmt: skip
    return [line for line in lines if line is not None]


def fall_label(fall: Fall, projection: Projection, height: float) -> Label:
    """Return the slope as a label along its arrow.

    Args:
        fall: What it tells.
        projection: To drawing units.
        height: Of text [m].
    """
    size = height * projection.per_metre
    (tail, tip) = fall.ends
    shaft = PlanLine((projection.place(tail), projection.place(tip)))
    return Label(fall.text, tuple(along(shaft, text_width(fall.text, size), size)))


def _patches(mesh: Mesh, body: str) -> Iterator[Bools]:
    """Yield the triangles (m,) of each patch of a body whose slope is told."""
    for number, patch in enumerate(mesh.patches):
        if patch.body == body and patch.kind in KINDS:
            own = mesh.patch == number
            if own.any():
                yield own


def _of_patch(mesh: Mesh, own: Bools, height: float) -> list[Fall]:
    """Return the pieces of a patch that can hold an arrow, the largest first."""
    rows = np.flatnonzero(own)
    normals = mesh.doubled_areas[rows]
    up = normals[:, 2] > 1e-9
    down = normals[up, :2] / normals[up, 2:]
    falls = np.hypot(*down.T) > LEVEL
    ground = _Ground.of(mesh, rows[up][falls], down[falls], normals[up, 2][falls] / 2.0)
    least = (SHAFT[0] * height) * (2.0 * ROOM * height)
    whole, found = float(ground.areas.sum()), list[Fall]()
    for looser in LOOSER if whole > least else ():
        pieces = list(ground.alike(looser, least))
        if len(pieces) <= MOST or looser == LOOSER[-1]:
            falls = (_fall(ground, piece, height) for piece in pieces)
            found = [fall for fall in falls if fall is not None]
            if sum(fall.area for fall in found) >= TOLD * whole:
                break
    return sorted(found, key=lambda fall: -fall.area)


@dataclass(frozen=True)
class _Ground:
    """Triangles of a patch that are not level.

    Args:
        mesh: That they are part of.
        rows: (k,) their numbers.
        down: (k, 2) how they fall [-].
        areas: (k,) in plan [m2].
        pairs: (2, e) those that share a side, as places in ``rows``.
    """

    mesh: Mesh
    rows: Ints
    down: Floats
    areas: Floats
    pairs: Ints

    @classmethod
    def of(cls, mesh: Mesh, rows: Ints, down: Floats, areas: Floats) -> _Ground:
        """Find those that share a side."""
        number = np.full(len(mesh.triangles), -1)
        number[rows] = np.arange(len(rows))
        pairs = number[mesh.pairs[1]]
        return cls(mesh, rows, down, areas, pairs[:, (pairs >= 0).all(axis=0)])

    def alike(self, looser: float, least: float) -> Iterator[Ints]:
        """Yield pieces that fall alike, each grown from the largest triangle left.

        Args:
            looser: How many times the usual they may differ.
            least: Smaller ones are left out [m2].
        """
        slope, way = np.hypot(*self.down.T), np.arctan2(self.down[:, 1], self.down[:, 0])
        one, other = self.pairs
        left = np.ones(len(self.rows), dtype=bool)
        for seed in np.argsort(-self.areas, kind="stable").tolist():
            if not left[seed]:
                continue
            turn = np.abs((way - way[seed] + math.pi) % math.tau - math.pi)
            like = left & (np.abs(slope - slope[seed]) < looser * ALIKE) & (turn < looser * TURN)
            left[seed] = False
            if self.areas[like].sum() < least:
                continue
            both = like[one] & like[other]
            group = components(len(self.rows), one[both], other[both])
            piece = np.flatnonzero(like & (group == group[seed]))
            left[piece] = False
            if self.areas[piece].sum() >= least:
                yield piece

    def down_along(self, piece: Ints, shape: shapely.Geometry, measure: Measure) -> Floats:
        """Return how a piece falls (2,) on the mean over what it shares with a shape in plan.

        Args:
            piece: Places in ``rows``.
            shape: In plan.
            measure: Of what is shared, `shapely.area` or `shapely.length`.
        """
        corners = self.mesh.vertices[self.mesh.triangles[self.rows[piece]], :2]
        shared = measure(shapely.intersection(shapely.polygons(corners), shape))
        found: Floats = shared @ self.down[piece] / shared.sum()
        return found


def _fall(ground: _Ground, piece: Ints, height: float) -> Fall | None:
    """Return how a piece falls at its middle; None where it cannot hold an arrow."""
    rows = np.zeros(len(ground.mesh.triangles), dtype=bool)
    rows[ground.rows[piece]] = True
    region = plan_region(ground.mesh, rows)
    place, radius = next(roomy(region, 1), ((0.0, 0.0), 0.0))
    if radius < ROOM * height:
        return None
    about = shapely.Point(place).buffer(min(radius, SHAFT[1] / 2.0 * height))
    x, y = ground.down_along(piece, about, shapely.area).tolist()
    way = (x / math.hypot(x, y), y / math.hypot(x, y))
    back, on = chord(region, place, np.array(way))
    length = min(SHAFT[1] * height, SHARE * (back + on))
    if length < SHAFT[0] * height:
        return None
    # half of it on either side of the place, or as far off that as the ends of the piece want
    margin = (1.0 - SHARE) / 2.0 * (back + on)
    low, high = margin + length / 2.0 - back, on - margin - length / 2.0
    off = min(max(0.0, low), max(high, low))
    patch = ground.mesh.patches[int(ground.mesh.patch[ground.rows[piece[0]]])]
    middle = (place[0] + off * way[0], place[1] + off * way[1])
    found = Fall(patch.body, patch.kind, middle, way, 0.0, length, float(ground.areas[piece].sum()))
    down = ground.down_along(piece, shapely.LineString(found.ends), shapely.length)
    return replace(found, slope=float(down @ np.array(way)))


def _spread(falls: list[Fall], count: int) -> list[Fall]:
    """Return some of the pieces of a patch, the largest and then always the one farthest off."""
    if len(falls) <= count:
        return falls
    places = np.array([fall.place for fall in falls if fall.area >= SMALL * falls[0].area])
    chosen = [0]
    while len(chosen) < min(count, len(places)):
        away = np.min([np.hypot(*(places - places[k]).T) for k in chosen], axis=0)
        chosen.append(int(np.argmax(away)))
    return [falls[k] for k in chosen]
