"""Columns: every height that anything has at one plan vertex, as mesh vertices.

A vertical face is bounded by two columns; because both its neighbours and it take their vertices
from the same columns, the surface closes without any matching afterwards.
"""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..errors import GeometryError
from ..plan.tolerances import SAME_HEIGHT


class Columns:
    """Gives mesh vertex numbers to (plan vertex, height) pairs, rising within each column.

    Ask for every pair first (`ask`), then `settle`, then read the answers. Two heights at one
    plan vertex that differ by less than `SAME_HEIGHT` get one number.
    """

    def __init__(self, plan: Floats) -> None:
        """Take the plan vertices (n, 2) [m]."""
        self._plan = plan
        self._asked: list[tuple[Ints, Floats]] = []
        self._numbers: Ints = np.zeros(0, dtype=np.int64)
        self.vertices: Floats = np.zeros((0, 3))

    def ask(self, plan_vertices: Ints, heights: Floats) -> int:
        """Ask for numbers of pairs (any equal shapes); return the ticket to read them with."""
        self._asked.append((plan_vertices, heights))
        return len(self._asked) - 1

    def settle(self) -> None:
        """Number all pairs.

        Raises:
            GeometryError: A face has no height somewhere.
        """
        v = np.concatenate([item[0].ravel() for item in self._asked])
        z = np.concatenate([item[1].ravel() for item in self._asked])
        if not np.isfinite(z).all():  # a face that reaches beyond what gives it its height
            raise GeometryError(self._plan[v[~np.isfinite(z)][0]])
        # one whole key sorts faster than two: heights to a fraction of what makes them one
        steps = np.rint((z - z.min(initial=0.0)) / (SAME_HEIGHT / 64.0)).astype(np.int64)
        order = np.argsort(v * (int(steps.max(initial=0)) + 1) + steps)
        vs, zs = v[order], z[order]
        fresh = np.ones(len(order), dtype=bool)
        fresh[1:] = (vs[1:] != vs[:-1]) | (zs[1:] - zs[:-1] > SAME_HEIGHT)
        self._numbers = np.empty(len(order), dtype=np.int64)
        self._numbers[order] = np.cumsum(fresh) - 1
        self.vertices = np.column_stack([self._plan[vs[fresh]], zs[fresh]])
        self._starts = np.cumsum([0] + [item[0].size for item in self._asked])

    def numbers(self, ticket: int) -> Ints:
        """Return the mesh vertex numbers of the pairs asked for, in their shape."""
        a, b = self._starts[ticket], self._starts[ticket + 1]
        return self._numbers[a:b].reshape(self._asked[ticket][0].shape)


def curtain(low: Ints, high: Ints) -> tuple[Ints, Ints]:
    """Triangulate vertical faces between pairs of columns.

    Args:
        low: (k, 2) lowest mesh vertex at the start and at the end of each face.
        high: (k, 2) highest; columns are numbered without gaps in between.

    Returns:
        Triangles (t, 3), seen from the right of start to end, and each one's face number (t,).
    """
    (a, b), (c, d) = low.T, high.T
    face = np.arange(len(low))
    triangles: list[Ints] = [np.zeros((0, 3), dtype=np.int64)]
    owners: list[Ints] = [np.zeros(0, dtype=np.int64)]
    i, j = a.copy(), b.copy()
    while len(face):  # up both columns, on the one that has got less far
        rises = (i == c) | ((j < d) & ((j + 1 - b) * (c - a) <= (i + 1 - a) * (d - b)))
        done = (i == c) & (j == d)
        if done.any():
            a, b, c, d, i, j, face, rises = (
                item[~done] for item in (a, b, c, d, i, j, face, rises)
            )
        triangles.append(np.stack([i, j, np.where(rises, j, i) + 1], axis=1))
        owners.append(face)
        i, j = i + ~rises, j + rises
    return np.concatenate(triangles), np.concatenate(owners)
