"""Polylines of many chains, measured together."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..arrays import Floats, Ints
from ..mesh import Mesh
from ..model import Model
from .chains import Chain, step_lengths
from .zones import in_zones

LEAST_RUN = 5e-3
"""[m] Shorter runs are crumbs (a cut that grazes a corner, the end of a mitre) and are left out."""


def levels_of(model: Model) -> dict[str, tuple[float, float, float]]:
    """Return the levels that split the surface of each body, rising [m]."""
    return {body.name: (body.band[0], body.level, body.band[1]) for body in model.bodies}


class Lines:
    """The polylines of chains, one after the other, measured together.

    A chain of k edges has k steps and k + 1 points.
    """

    def __init__(self, mesh: Mesh, chains: Sequence[Chain]) -> None:
        self.count = np.array([len(item.edges) for item in chains], dtype=np.int64)
        self.first = np.cumsum(self.count) - self.count  # first step of each
        self.edges = np.concatenate([self.count[:0], *(item.edges for item in chains)])
        line = np.concatenate([self.count[:0], *(item.vertices for item in chains)])
        self.points = mesh.vertices.take(line, axis=0)
        # the point at which each step starts
        self.start = np.arange(len(self.edges)) + np.repeat(np.arange(len(chains)), self.count)
        self.steps = step_lengths(self.points)[self.start]
        self.length = self.sums(self.steps)
        # middle of the line of each: no vertex that something else puts on it moves that
        halves = (self.points[self.start] + self.points[self.start + 1]) / 2.0
        self.middles = np.column_stack([self.sums(self.steps * axis) for axis in halves.T])
        self.middles /= self.length[:, None]

    @property
    def middle_heights(self) -> Floats:
        """Height of the middle of each step [m]."""
        z = self.points[:, 2]
        found: Floats = (z[self.start] + z[self.start + 1]) / 2.0
        return found

    def of_steps(self, levels: Sequence[tuple[float, ...]]) -> Floats:
        """Return for each step (s, 3) what its chain has."""
        found: Floats = np.repeat(np.reshape(levels, (-1, 3)), self.count, axis=0)
        return found

    def in_zones(self, zone: Ints) -> Floats:
        """Return the length of each chain in each zone (chains, zones), by those of its steps."""
        chain = np.repeat(np.arange(len(self.count)), self.count)
        return in_zones(chain, zone, self.steps, len(self.count))

    def sums(self, values: Floats) -> Floats:
        """Return the sum over each chain of what its steps have."""
        return np.add.reduceat(values, self.first) if len(self.first) else values[:0]

    def steps_of(self, i: int) -> slice:
        """Where the steps of one chain stand."""
        return slice(int(self.first[i]), int(self.first[i] + self.count[i]))

    def points_of(self, i: int) -> Floats:
        """The points of one chain."""
        start = int(self.first[i]) + i
        return self.points[start : start + int(self.count[i]) + 1]
