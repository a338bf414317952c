"""A closed outline as a ring of chords, every vertex on the true curve.

A **turn** is the true change of tangent at a vertex: 0 wherever the curve is smooth, whatever the
chords do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from .curves import Floats, Piece
from .rounds import Round
from .shapes import nearest_on, parallel_arcs, polygons_only, swept
from .tolerances import GRID, WELD

NEARLY = 0.3
"""[-] How much the bow of a curve off its chord may differ from what its ends say."""

SMOOTH = 1e-5
"""[rad] A turn below this is none: the rounded numbers of a drawing leave more than zero where
curves join smoothly."""

MITRE = 4.0
"""[-] A corner of a wall stands out at most this many times its thickness."""


@dataclass(frozen=True)
class Ring:
    """A closed outline as chords, anticlockwise.

    Args:
        points: (n, 2) vertices on the true curve; vertex 0 is the outline's first point [m].
        turns: (n,) true turn at each vertex, left positive, 0 where smooth [rad].
        lengths: (n,) true length of the curve from vertex i to i + 1 [m].
        chord_normals: (n, 2, 2) unit normals of the true curve into the ring, at the start and at
            the end of each chord.
        rounds: Its inside corners that are corner coves.
        sharp: The ring without these, as the concrete behind them is, and with the same vertices
            elsewhere; None where there are none.
    """

    points: Floats
    turns: Floats
    lengths: Floats
    chord_normals: Floats
    rounds: tuple[Round, ...] = ()
    sharp: Ring | None = None

    @cached_property
    def polygon(self) -> shapely.Polygon:
        """The ring as a polygon, prepared for point tests."""
        polygon = shapely.Polygon(self.points)
        shapely.prepare(polygon)
        return polygon

    @property
    def bare(self) -> Ring:
        """The ring without its corner coves."""
        return self if self.sharp is None else self.sharp

    @cached_property
    def stations(self) -> Floats:
        """(n + 1,) Length along the true curve up to each vertex [m]."""
        return np.concatenate([[0.0], np.cumsum(self.lengths)])

    @cached_property
    def normals(self) -> Floats:
        """(n, 2) Unit normal of the true curve into the ring; nan at a vertex that turns."""
        return np.where(self.turns[:, None] == 0.0, self.chord_normals[:, 0], np.nan)

    def beside_chords(self, points: Floats, off: float) -> npt.NDArray[np.bool_]:
        """Return which plan points (k, 2) lie on the true curve beside chords that pass some by.

        Between its ends, which are at right angles to the normals there, a chord's curve stands
        off it nearly as a cubic does.

        Args:
            points: [m].
            off: How far off a chord one of them must be [m].
        """
        on, share, _ = nearest_on(self.points, points)
        chord, bow = self._bows(on, share)
        away = points - (self.points[on] + share[:, None] * chord)
        near = np.hypot(*(away - bow).T) < NEARLY * np.hypot(*bow.T) + GRID
        passed = near & (np.hypot(*away.T) > off)
        # a new vertex moves the chord that it parts: all that lies on the curve there goes with it
        found: npt.NDArray[np.bool_] = near & np.isin(on, on[passed])
        return found

    def curve(self, on: npt.NDArray[np.int64], share: Floats) -> Floats:
        """Return the true curve's points (k, 2) beside places on chords [m].

        Args:
            on: (k,) the chords.
            share: (k,) how far along them.
        """
        chord, bow = self._bows(on, share)
        found: Floats = self.points[on] + share[:, None] * chord + bow
        return found

    def _bows(self, on: npt.NDArray[np.int64], share: Floats) -> tuple[Floats, Floats]:
        """Return chords (k, 2), and how far their curve stands off them at shares of them [m]."""
        chord = np.roll(self.points, -1, axis=0)[on] - self.points[on]
        left = np.column_stack([-chord[:, 1], chord[:, 0]])
        # the cubic along the normals' tangents, which bends both ways where they say so
        first, last = (
            np.sum(left * way, axis=1) / np.sum(chord * way, axis=1)
            for way in (np.column_stack([n[:, 1], -n[:, 0]])
                        for n in self.chord_normals[on].transpose(1, 0, 2))
        )  # fmt: skip
        bow = share * (1.0 - share) * (first * (1.0 - share) - last * share)
        return chord, bow[:, None] * left

    def with_points(self, points: Floats) -> Ring:
        """Return the ring with further vertices (k, 2) that lie on its true curve [m].

        Those behind a corner cove become vertices of the bare ring alone, those on one of this.
        """
        sharp = self.sharp
        if sharp is not None and len(points):
            away, behind = (nearest_on(ring.points, points)[2] for ring in (self, sharp))
            sharp = sharp.with_points(points[behind < away + WELD])
            points = points[away < behind + WELD]
        start = self.points
        on, share, _ = nearest_on(self.points, points)
        a, b = self.chord_normals[on, 0], self.chord_normals[on, 1]
        between = a * (1.0 - share[:, None]) + b * share[:, None]
        between /= np.hypot(*between.T)[:, None]
        at = np.concatenate([np.arange(len(start)), on + share])
        order = np.argsort(at, kind="stable")
        whole = np.append(at[order], len(start))
        lengths = np.diff(np.interp(whole, np.arange(len(start) + 1), self.stations))
        before = np.concatenate([np.roll(self.chord_normals[:, 1], 1, axis=0), between])[order]
        after = np.concatenate([self.chord_normals[:, 0], between])[order]
        return replace(
            self,
            points=np.concatenate([start, np.rint(points / GRID) * GRID])[order],
            turns=np.concatenate([self.turns, np.zeros(len(points))])[order],
            lengths=lengths,
            chord_normals=np.stack([after, np.roll(before, -1, axis=0)], axis=1),
            sharp=sharp,
        )

    def rounds_behind(self, stations: Floats, off: float) -> list[int]:
        """Return the numbers of the corner coves behind which places of the bare ring lie.

        Args:
            stations: (k,) there [m].
            off: Nearer to its ends than this they lie beside it [m].
        """
        found, bare = [], self.bare
        for k, item in enumerate(self.rounds):
            chords = _between(bare, _ends_of(item))
            ahead = (stations - bare.stations[chords[0]]) % bare.perimeter
            if ((ahead > off) & (ahead < bare.lengths[chords].sum() - off)).any():
                found.append(k)
        return found

    def without(self, which: Sequence[int]) -> Ring:
        """Return the ring with some of its corner coves left out.

        Args:
            which: Their numbers; the ring goes round the water.
        """
        if self.sharp is None or not which:
            return self
        kept = np.ones(len(self.points), dtype=bool)
        at, more = [], []
        for item in (self.rounds[k] for k in which):
            own, others = (_between(ring, _ends_of(item)) for ring in (self, self.sharp))
            kept[own] = False
            at.append(own[0] + np.arange(len(others)) / len(others))
            more.append(others)
        order = np.argsort(np.concatenate([np.flatnonzero(kept), *at]), kind="stable")
        rows = np.concatenate(more)

        def joined(own: Floats, others: Floats) -> Floats:
            return np.concatenate([own[kept], others[rows]])[order]

        return Ring(
            joined(self.points, self.sharp.points),
            joined(self.turns, self.sharp.turns),
            joined(self.lengths, self.sharp.lengths),
            joined(self.chord_normals, self.sharp.chord_normals),
            tuple(item for k, item in enumerate(self.rounds) if k not in which),
            self.sharp,
        )

    def thickened(self, wall: float) -> shapely.Polygon:
        """Return the plan of what a wall [m] round the ring encloses, its corners square.

        Where a corner is too sharp to be carried on, a buffer does, to a hundredth of the wall.
        """
        if self.sharp is not None:
            return self.sharp.thickened(wall)
        before, after = np.roll(self.chord_normals[:, 1], 1, axis=0), self.chord_normals[:, 0]
        corners, half_turn = parallel_arcs(self.points, before, after, -wall)
        if half_turn.min() > 1.0 / MITRE:
            found = shapely.Polygon(corners)
            # where it folds, chords turn back or cross
            steps = (np.roll(item, -1, axis=0) - item for item in (corners, self.points))
            onward = np.einsum("ij,ij->i", *steps).min() > 0.0
            if onward and found.is_valid and found.exterior.is_ccw:
                return found
            around = np.append(np.arange(len(corners)), 0)
            parts = swept(self.points[around], corners[around])
            whole = polygons_only(shapely.union(self.polygon, parts, grid_size=GRID))
            if isinstance(whole, shapely.Polygon):
                return whole
        grown: shapely.Polygon = shapely.buffer(
            self.polygon, wall, join_style="mitre", mitre_limit=MITRE
        )
        return grown

    @property
    def perimeter(self) -> float:
        """True length [m]."""
        return float(self.lengths.sum())


def _ends_of(item: Round) -> Floats:
    """Return where a corner cove touches its sides (2, 2), as a ring round the water has them."""
    ends = item.arc.at(np.array([0.0, 1.0]))
    return ends if item.arc.sweep > 0.0 else ends[::-1]


def _between(ring: Ring, ends: Floats) -> npt.NDArray[np.int64]:
    """Return the chords of a ring from one of its vertices to another (2, 2) [m]."""
    away = np.hypot(*np.moveaxis(ring.points[:, None] - ends, -1, 0))
    first, last = np.argmin(away, axis=0)
    count = len(ring.points)
    found: npt.NDArray[np.int64] = (first + np.arange((last - first) % count)) % count
    return found


def ring_of(pieces: Sequence[Piece], tolerance: float) -> Ring:
    """Flatten a closed chain of pieces; each must start where the one before ends.

    Args:
        pieces: In order, either way round; the ring comes out anticlockwise.
        tolerance: Largest distance of a chord from the curve [m].

    Returns:
        The ring; its vertex 0 is the start of the first piece.
    """
    flat = [piece.flatten(tolerance) for piece in pieces]
    points = np.concatenate([item.points[:-1] for item in flat])
    lengths = np.concatenate([item.lengths for item in flat])
    tangents = np.concatenate(
        [np.stack([item.tangents[:-1], item.tangents[1:]], axis=1) for item in flat]
    )
    if signed_area(points) < 0.0:
        points = np.concatenate([points[:1], points[:0:-1]])
        lengths, tangents = lengths[::-1], -tangents[::-1, ::-1]
    end, start = np.roll(tangents[:, 1], 1, axis=0), tangents[:, 0]
    cross = end[:, 0] * start[:, 1] - end[:, 1] * start[:, 0]
    turns = np.arctan2(cross, np.sum(end * start, axis=1))
    turns[np.abs(turns) < SMOOTH] = 0.0
    normals = np.stack([-tangents[..., 1], tangents[..., 0]], axis=2)
    return Ring(np.rint(points / GRID) * GRID, turns, lengths, normals)


def signed_area(points: Floats) -> float:
    """Return the area of a closed polyline [m2], below 0 where it runs clockwise."""
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2.0


def turns_of(points: Floats) -> Floats:
    """Return the turn of a closed polyline at each vertex (n,), left positive [rad]."""
    after = np.roll(points, -1, axis=0) - points
    before = np.roll(after, 1, axis=0)
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turns: Floats = np.arctan2(cross, np.sum(before * after, axis=1))
    return turns
