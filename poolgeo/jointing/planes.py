"""Sections of the ground by planes of its frame: each a candidate for a movement joint."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from ..plan.arrangement import components
from ..plan.keys import are_in
from ..plan.tolerances import GRID
from ..surface.slices import slice_at
from .ground import Ground


@dataclass(frozen=True)
class Section:
    """Where a plane of the frame cuts the ground.

    Args:
        axis: Which coordinate it holds.
        at: Its value there [m].
        points: (n, 3) [m].
        ends: (k, 2) segments between these.
        triangles: (k,) the triangle of the ground that each lies in.
        keys: (n,) key of the mesh edge that each point lies on.
    """

    axis: int
    at: float
    points: Floats
    ends: Ints
    triangles: Ints
    keys: Ints

    @cached_property
    def lengths(self) -> Floats:
        """Length of each segment (k,) [m]."""
        found: Floats = np.linalg.norm(
            self.points[self.ends[:, 1]] - self.points[self.ends[:, 0]], axis=1
        )
        return found

    @cached_property
    def part(self) -> Ints:
        """The connected part that each segment belongs to (k,)."""
        if not len(self.ends):
            return np.zeros(0, dtype=np.int64)
        whole = components(len(self.points), *self.ends.T)
        _, part = np.unique(whole[self.ends[:, 0]], return_inverse=True)
        return part.reshape(-1).astype(np.int64)

    def of(self, rows: Ints) -> Section:
        """Return some of its segments."""
        return replace(self, ends=self.ends[rows], triangles=self.triangles[rows])

    def broken(self, keys: Ints) -> Section:
        """Return it broken where it crosses some mesh edges (by their keys)."""
        crossed = are_in(self.keys, keys)[self.ends]
        ends = self.ends.copy()
        ends[crossed] = len(self.points) + np.arange(int(crossed.sum()))
        points = np.concatenate([self.points, self.points[self.ends[crossed]]])
        return replace(
            self,
            points=points,
            ends=ends,
            keys=np.concatenate([self.keys, self.keys[self.ends[crossed]]]),
        )


def section_at(ground: Ground, axis: int, at: float) -> Section:
    """Return where a plane of the frame cuts the ground.

    Args:
        ground: What is cut.
        axis: Which coordinate the plane holds.
        at: Its value there [m].

    Returns:
        The section.
    """
    low, high = ground.reach[..., axis]
    among = np.flatnonzero((low <= at + GRID) & (high >= at))
    cut = slice_at(ground.mesh, ground.points[:, axis] - at, among)
    return Section(axis, at, cut.points, cut.ends, cut.triangles, cut.keys)
