"""Turned rectangles, and how much of the straight pieces of a plan lies under each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints


@dataclass(frozen=True)
class Boxes:
    """Turned rectangles in plan.

    Args:
        centre: (n, 2) Their middles.
        turn: (n,) Of their widths from x [rad].
        half: (n, 2) Half of their widths and of their heights.
    """

    centre: Floats
    turn: Floats
    half: Floats

    def __len__(self) -> int:
        """How many there are."""
        return len(self.turn)

    def take(self, numbers: Ints) -> Boxes:
        """Return some of them."""
        return Boxes(self.centre[numbers], self.turn[numbers], self.half[numbers])

    def axes(self) -> Floats:
        """Return (n, 2, 2) unit vectors, first along the width and then along the height."""
        across, up = np.cos(self.turn), np.sin(self.turn)
        return np.stack([np.column_stack([across, up]), np.column_stack([-up, across])], axis=1)

    def around(self) -> tuple[Floats, Floats]:
        """Return the lower left and the upper right corners of level boxes about them, (n, 2)."""
        reach = np.einsum("nij,ni->nj", np.abs(self.axes()), self.half)
        return self.centre - reach, self.centre + reach


@dataclass(frozen=True)
class Crossings:
    """Which piece lies under which box, and how much of it.

    Args:
        box: (k,) Number of the box.
        piece: (k,) Number of the piece.
        length: (k,) Of the piece under the box.
    """

    box: Ints
    piece: Ints
    length: Floats


def crossings(boxes: Boxes, pieces: Floats) -> Crossings:
    """Find the pieces under boxes.

    Args:
        boxes: n of them.
        pieces: (m, 2, 2) The two ends of each.

    Returns:
        Each pair of a box and a piece that may touch.
    """
    from shapely import STRtree, linestrings
    from shapely import box as upright

    if not len(boxes) or not len(pieces):
        return Crossings(*(np.zeros(0, dtype=kind) for kind in (np.int64, np.int64, float)))
    axes = boxes.axes()
    low, high = boxes.around()
    around = upright(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
    box, piece = STRtree(linestrings(pieces)).query(around)
    start = np.einsum("nij,nj->ni", axes[box], pieces[piece, 0] - boxes.centre[box])
    way = np.einsum("nij,nj->ni", axes[box], pieces[piece, 1] - pieces[piece, 0])
    inside = _share_inside(start, way, boxes.half[box])
    return Crossings(box, piece, inside * np.hypot(way[:, 0], way[:, 1]))


def _share_inside(start: Floats, way: Floats, half: Floats) -> Floats:
    """Return the share of each segment that lies in a rectangle about the origin.

    Args:
        start: (n, 2) Where it starts.
        way: (n, 2) From there to its end.
        half: (n, 2) Half of the rectangle's width and height.

    Returns:
        (n,) 0 to 1: what is left after each pair of sides has cut off its part.
    """
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        one, other = (-half - start) / way, (half - start) / way
    beside = (way == 0) & (np.abs(start) > half)
    enter = np.where(way == 0, 0.0, np.minimum(one, other)).max(axis=1)
    leave = np.where(way == 0, 1.0, np.maximum(one, other)).min(axis=1)
    share = np.minimum(leave, 1.0) - np.maximum(enter, 0.0)
    return np.where(beside.any(axis=1), 0.0, np.maximum(share, 0.0))
