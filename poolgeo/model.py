"""The values that the stages pass on: surface, model, runs, takeoff.

Axes: x right and y up in plan, z up, all in metres, z = 0 at the pool's water level.
All values are frozen; arrays in them are not to be written to.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import numpy.typing as npt

from .design.load import Design
from .errors import Finding

if TYPE_CHECKING:
    import trimesh

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]
Sense = Literal["internal", "external"]


@dataclass(frozen=True)
class Patch:
    """What a triangle knows of itself: the smooth piece of surface that it belongs to.

    Args:
        body: ``pool`` or ``spa``: the water that wets it (for dry parts, that it serves).
        kind: A name of `poolgeo.surface.kinds.KINDS`, such as ``floor`` or ``riser``.
        feature: Where it came from, such as ``bench[0]`` or ``floor panel 2``.
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
        found, _ = self._compacted(self.triangles, self.patch)
        if "doubled_areas" in vars(self):
            vars(found)["doubled_areas"] = self.doubled_areas
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


@dataclass(frozen=True)
class Body:
    """One body of water.

    Args:
        name: ``pool`` or ``spa``.
        level: Height of its water [m] (0 for the pool).
        wetted: What its water touches, and its open sides (over a spillway): open at the water
            level, normals out of the water; kinds as the surface's, ``water surface`` for the
            open sides.
        close: Makes the closed body of that and of the level.
    """

    name: str
    level: float
    wetted: Mesh
    close: Callable[[Mesh, float], Mesh]

    @cached_property
    def water(self) -> Mesh:
        """Its water as a closed mesh: the free surface is made when it is first asked for."""
        return self.close(self.wetted, self.level)


@dataclass(frozen=True)
class Spot:
    """A level to write on a plan: a point of the surface, its body, its kind and its depth [m]."""

    point: tuple[float, float, float]
    body: str
    kind: str
    depth: float


@dataclass(frozen=True)
class Model:
    """A pool as geometry: what `poolgeo.build` makes.

    Args:
        design: The design that it was built from.
        surface: The inside of the concrete up to the wall top (open), facing the water. Vertices
            stand along every water level, so that a triangle is wet or dry as a whole.
        wet: (m,) True where a triangle of ``surface`` is under its body's water.
        bodies: The bodies of water, pool first.
        shell: The concrete, closed.
        outlines: Plan curves as closed polylines (n, 2) without the repeated point: ``pool``,
            ``pool shell`` (the outer face), and for a spa ``spa`` and ``spa shell``.
        corners: (k, 2) plan points at which an outline or a feature's border turns by a plan
            corner's least deflection or more, measured on the true curve of an outline [m].
        creases: Pairs of patches that meet in a crease by design, with its sense: coves in a
            mitre (others join smoothly), pieces of a floor in a break.
        smooth: (k, 2, 2) plan segments on which coves leave wall and floor, tangent to them [m].
        cove_radii: Radius of each body's cove [m], for bodies that have one.
        spots: Levels to write on the plan.
        warnings: What to know about this pool.
        joints: Pairs of patches of a sloping top that meet smoothly.
    """

    design: Design
    surface: Mesh
    wet: Bools
    bodies: tuple[Body, ...]
    shell: Mesh
    outlines: dict[str, Floats]
    corners: Floats
    creases: dict[frozenset[Patch], Sense]
    smooth: Floats
    cove_radii: dict[str, float]
    spots: tuple[Spot, ...]
    warnings: tuple[Finding, ...]
    joints: frozenset[frozenset[Patch]] = frozenset()


@dataclass(frozen=True)
class Run:
    """An edge run: a maximal polyline of one kind and sense.

    Args:
        number: Stable run number such as ``P3.125b``: the body's mark, the code of its kind, and
            where it starts: the station along the outline in decimetres, a letter where several
            start there.
        body: The body whose water it touches (or that it serves, when dry).
        sense: ``internal`` (re-entrant) or ``external`` (salient), seen from the water.
        kind: What meets what, such as ``floor/wall``.
        points: (k, 3) [m]; a closed run repeats its first point.
        wet: (k - 1,) True for the segments under water.
        length: True length [m].
        wet_length: Length under water [m].
        angle: Dihedral angle through the water, mean over the length [deg].
    """

    number: str
    body: str
    sense: Sense
    kind: str
    points: Floats
    wet: Bools
    length: float
    wet_length: float
    angle: float


@dataclass(frozen=True)
class CoveRun:
    """A stretch of cove between corners, changes of floor and cuts.

    Args:
        number: Stable run number.
        body: Body of water.
        radius: [m].
        points: (k, 3) Its upper line, or its lower where only that is left [m].
        length: Length of that line [m].
        area: Surface [m2].
    """

    number: str
    body: str
    radius: float
    points: Floats
    length: float
    area: float


@dataclass(frozen=True)
class AreaRow:
    """Area of one kind of one body [m2]: true, of it under water, and seen from above."""

    body: str
    kind: str
    area: float
    wet_area: float
    plan_area: float


@dataclass(frozen=True)
class Takeoff:
    """What `poolgeo.measure` returns: typed rows that every report reads."""

    areas: tuple[AreaRow, ...]
    edges: tuple[Run, ...]
    coves: tuple[CoveRun, ...]
    water: dict[str, float]
    shell: float
    warnings: tuple[Finding, ...]

    def as_dict(self) -> dict[str, Any]:
        """Return the takeoff as the documented JSON contract (SI units)."""
        return {
            "areas": [
                {
                    "body": row.body,
                    "kind": row.kind,
                    "area_m2": row.area,
                    "wet_area_m2": row.wet_area,
                    "plan_area_m2": row.plan_area,
                }
                for row in self.areas
            ],
            "edges": [
                {
                    "run": run.number,
                    "body": run.body,
                    "sense": run.sense,
                    "kind": run.kind,
                    "length_m": run.length,
                    "wet_length_m": run.wet_length,
                    "angle_deg": run.angle,
                }
                for run in self.edges
            ],
            "coves": [
                {
                    "run": run.number,
                    "body": run.body,
                    "radius_m": run.radius,
                    "length_m": run.length,
                    "area_m2": run.area,
                }
                for run in self.coves
            ],
            "volumes": {"water_m3": dict(self.water), "shell_m3": self.shell},
            "totals": self.totals(),
            "warnings": [str(item) for item in self.warnings],
        }

    def totals(self) -> dict[str, float]:
        """Return the sums that stand at the foot of every report (SI units)."""
        return {
            "internal_m": sum((run.length for run in self.edges if run.sense == "internal"), 0.0),
            "external_m": sum((run.length for run in self.edges if run.sense == "external"), 0.0),
            "cove_m": sum((run.length for run in self.coves), 0.0),
            "area_m2": sum((row.area for row in self.areas), 0.0),
        }
