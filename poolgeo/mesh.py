"""Labelled triangles: what every solid and every surface is made of."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .arrays import Bools, Floats, Ints

if TYPE_CHECKING:
    import trimesh


ZONES = ("below band", "waterline band", "freeboard", "wall top", "coping return")
"""Zones of a body's surface. The band stands about the water level (`Body.band`), the freeboard is
all that stands above it, the wall top is the top of walls but for the strip along their inner edge
on to which the membrane returns under the coping. An edge at which a wall top ends lies in the zone
of that."""


Zones = tuple[float, ...]
"""What of a quantity lies in each of `ZONES`, in their order."""


def by_zone(sizes: Zones) -> dict[str, float]:
    """Return what lies in each zone by its name, without the zones in which nothing does."""
    return {zone: size for zone, size in zip(ZONES, sizes, strict=False) if size}


@dataclass(frozen=True)
class Patch:
    """What a triangle knows of itself: the smooth piece of surface that it belongs to.

    Args:
        body: Name of the body of water that wets it (for dry parts, that it serves): ``pool``,
            ``spa``, ``spa 2``, or a name of the file.
        kind: A name of `poolgeo.surface.kinds.KINDS`, such as ``floor`` or ``riser``.
        feature: Where it came from, such as ``bench 1`` or ``floor piece 2``.
    """

    body: str
    kind: str
    feature: str


@dataclass(frozen=True)
class Mesh:
    """Labelled triangles.

    Args:
        vertices: (n, 3) [m].
        triangles: (m, 3) vertex numbers, anticlockwise seen from outside the concrete.
        patch: (m,) index into ``patches``.
        patches: The labels.
    """

    vertices: Floats
    triangles: Ints
    patch: Ints
    patches: tuple[Patch, ...]

    @cached_property
    def doubled_areas(self) -> Floats:
        """(m, 3) Normal of each triangle, twice as long as its area is large [m2]."""
        i, j, k = self.triangles.T.copy()
        p = self.vertices.take(i, axis=0)
        a, b = ((self.vertices.take(at, axis=0) - p).T.copy() for at in (j, k))
        return np.stack([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2],
                         a[0] * b[1] - a[1] * b[0]], axis=1)  # fmt: skip

    @cached_property
    def areas(self) -> Floats:
        """(m,) Area of each triangle [m2]."""
        normals = self.doubled_areas
        found: Floats = np.sqrt(np.einsum("ij,ij->i", normals, normals)) / 2.0
        return found

    @cached_property
    def pairs(self) -> tuple[Ints, Ints]:
        """Edges with a triangle on both sides: (2, e) vertices along the first, (2, e) triangles.

        An edge that more triangles share is there once for each that follows another.
        """
        key = self.edge_keys()
        order = np.argsort(key)
        ordered = key[order]
        first = np.flatnonzero(ordered[1:] == ordered[:-1])
        one, other = order[first], order[first + 1]
        after = np.where(one % 3 == 2, one - 2, one + 1)
        corners = self.triangles.ravel()
        return np.stack([corners[one], corners[after]]), np.stack([one // 3, other // 3])

    def edge_keys(self) -> Ints:
        """Return a key for each half-edge (3 m,) in the order of corners: its edge's, either way.

        `numpy.divmod` by the number of vertices gives its lower and its higher vertex.
        """
        keys, count = np.empty_like(self.triangles), len(self.vertices)
        for i, j in ((0, 1), (1, 2), (2, 0)):
            one, other = self.triangles[:, i], self.triangles[:, j]
            keys[:, i] = np.minimum(one, other) * count + np.maximum(one, other)
        return keys.ravel()

    def part(self, rows: Bools) -> Mesh:
        """Return some of the triangles (m,) with the vertices that they use.

        What is known of normals and pairs is handed on.
        """
        kept = np.flatnonzero(rows)
        found, number = self._compacted(self.triangles.take(kept, axis=0), self.patch[kept])
        if "doubled_areas" in vars(self):
            vars(found)["doubled_areas"] = self.doubled_areas.take(kept, axis=0)
        if "pairs" in vars(self):
            ends, (one, other) = self.pairs
            row = np.cumsum(rows) - 1
            both = np.flatnonzero(rows[one] & rows[other])
            ends = number.take(ends.take(both, axis=1))
            vars(found)["pairs"] = ends, np.stack([row[one[both]], row[other[both]]])
        return found

    def compact(self) -> Mesh:
        """Return the same triangles without the vertices that none uses."""
        found, number = self._compacted(self.triangles, self.patch)
        if "doubled_areas" in vars(self):
            vars(found)["doubled_areas"] = self.doubled_areas
        if "pairs" in vars(self):
            ends, sides = self.pairs
            vars(found)["pairs"] = number.take(ends), sides
        return found

    def _compacted(self, triangles: Ints, patch: Ints) -> tuple[Mesh, Ints]:
        """Return some triangles as a mesh of their own, and the number of each vertex in it."""
        used = np.zeros(len(self.vertices), dtype=bool)
        used[triangles] = True
        kept = np.flatnonzero(used)
        number = np.empty(len(used), dtype=np.int64)
        number[kept] = np.arange(len(kept))
        vertices = self.vertices.take(kept, axis=0)
        return Mesh(vertices, number.take(triangles), patch, self.patches), number

    def trimesh(self) -> trimesh.Trimesh:
        """Return the mesh as `trimesh.Trimesh`, nothing merged; ``face_attributes['kind']``."""
        import trimesh

        kinds = np.array([item.kind for item in self.patches] or [""])
        return trimesh.Trimesh(
            self.vertices,
            self.triangles,
            process=False,
            face_attributes={"kind": kinds[self.patch]} if len(self.patch) else None,
        )
