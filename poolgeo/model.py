"""The values that the stages pass on: surface, model, runs, takeoff.

Axes: x right and y up in plan, z up, all in metres, z = 0 at the pool's water level.
All values are frozen; arrays in them are not to be written to.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from .arris import ArrisRow
from .design.load import Design
from .errors import Finding
from .mesh import ZONES, Bools, Floats, Ints, Mesh, Patch
from .placed import Placed, voids_of
from .plan.canal import Canal
from .plan.curves import Arc
from .plan.floor import Floor

__all__ = [
    "ZONES",
    "AreaRow",
    "ArrisRow",
    "Body",
    "Bools",
    "CoveRun",
    "Floats",
    "Ints",
    "JointCut",
    "JointRun",
    "Mesh",
    "Model",
    "OutsideRow",
    "Patch",
    "Run",
    "Sense",
    "Spot",
    "Takeoff",
    "ZoneRow",
    "Zones",
]

Sense = Literal["internal", "external"]

Zones = tuple[float, ...]
"""What of a quantity lies in each of `ZONES`, in their order."""


@dataclass(frozen=True)
class Body:
    """One body of water.

    Args:
        name: ``pool``, ``spa``, ``basin``, ``channel``, ``spa 2`` ..., or what the file calls it.
        level: Height of its water [m] (0 for the pool).
        band: Heights of the lower and the upper edge of its waterline band [m].
        wetted: What its water touches, and its open sides (over a spillway): open at the water
            level, normals out of the water; kinds as the surface's, ``water surface`` for the
            open sides.
        close: Makes the closed body of that and of the level.
        mark: What its run numbers begin with: letters, those of no other body.
    """

    name: str
    level: float
    band: tuple[float, float]
    wetted: Mesh
    close: Callable[[Mesh, float], Mesh]
    mark: str

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
class JointCut:
    """Where a movement joint cuts the inside surface.

    Args:
        number: ``J2``, the second of the file.
        name: For people.
        width: Of the gap [m].
        points: (n, 3) [m].
        ends: (k, 2) segments between these.
        triangles: (k,) the triangle of the surface that each lies in.
        place: (k,) how far along the joint the middle of each lies [m].
    """

    number: str
    name: str
    width: float
    points: Floats
    ends: Ints
    triangles: Ints
    place: Floats


@dataclass(frozen=True)
class Model:
    """A pool as geometry: what `poolgeo.build` makes.

    Args:
        design: The design that it was built from.
        surface: The inside of the concrete up to the wall top (open), facing the water. Vertices
            stand along every water level and where zones meet, so that a triangle is wet or dry and
            lies in one zone as a whole.
        wet: (m,) True where a triangle of ``surface`` is under its body's water.
        zone: (m,) the zone of each triangle of ``surface``: a number of `ZONES`.
        bodies: The bodies of water, pool first.
        shell: The concrete, closed.
        outlines: Plan curves as closed polylines (n, 2) without the repeated point: for each body
            its name (the inner face of its walls) and ``NAME shell`` (their outer face, at its
            top); ``pool base`` where the foot of the pool's shell is another; where a body goes
            round something, ``NAME island`` for that.
        corners: (k, 2) plan points at which an outline or a feature's border turns by a plan
            corner's least deflection or more, measured on the true curve of an outline [m].
        creases: Pairs of patches that meet in a crease by design, with its sense: coves in a
            mitre (others join smoothly), pieces of a floor in a break.
        tangents: Pairs of patches, a cove and the face of its leaning wall, that meet smoothly.
        floors: The floor that a patch is part of, and the number of its piece there.
        smooth: (k, 2, 2) plan segments on which coves leave wall and floor, tangent to them [m].
        coves: The ball that made the cove that a patch is part of.
        spots: Levels to write on the plan.
        warnings: What to know about this pool.
        fittings: What goes through the shell, in the order of the file.
        joints: Where movement joints cut the surface, in the order of the file.
        rounds: Arcs in plan on which the pool's corner coves stand.
    """

    design: Design
    surface: Mesh
    wet: Bools
    zone: Ints
    bodies: tuple[Body, ...]
    shell: Mesh
    outlines: dict[str, Floats]
    corners: Floats
    creases: dict[frozenset[Patch], Sense]
    tangents: frozenset[frozenset[Patch]]
    floors: dict[Patch, tuple[Floor, int]]
    smooth: Floats
    coves: dict[Patch, Canal]
    spots: tuple[Spot, ...]
    warnings: tuple[Finding, ...]
    fittings: tuple[Placed, ...] = ()
    joints: tuple[JointCut, ...] = ()
    rounds: tuple[Arc, ...] = ()


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
        zone: (k - 1,) the zone of each segment: a number of `ZONES`.
        length: True length [m].
        wet_length: Length under water [m].
        zones: Length in each zone [m].
        angle: Dihedral angle through the water, mean over the length [deg].
        patches: What meets there.
    """

    number: str
    body: str
    sense: Sense
    kind: str
    points: Floats
    wet: Bools
    zone: Ints
    length: float
    wet_length: float
    zones: Zones
    angle: float
    patches: tuple[Patch, ...] = ()


@dataclass(frozen=True)
class CoveRun:
    """A stretch of cove or fillet between corners, changes of floor and cuts.

    Args:
        number: Stable run number.
        body: Body of water.
        kind: ``cove``, ``fillet`` or ``corner cove``, whose length is its mean height.
        radius: Of the cove, or leg of the fillet; the mean where it changes along the run [m].
        points: (k, 3) Its upper line, or its lower where only that is left [m].
        length: Length of that line [m].
        area: Surface [m2].
        length_zones: Length in each zone [m].
        area_zones: Surface in each zone [m2].
    """

    number: str
    body: str
    kind: str
    radius: float
    points: Floats
    length: float
    area: float
    length_zones: Zones
    area_zones: Zones


@dataclass(frozen=True)
class JointRun:
    """A stretch of a movement joint over one kind of surface.

    Args:
        number: ``J1.3``, the third from the joint's start.
        name: Of the joint.
        width: Of the joint's gap [m].
        body: The body whose surface it crosses.
        surface: Kind of that surface.
        points: (k, 3) [m].
        length: True length [m].
        wet_length: Length under water [m].
        zones: Length in each zone [m].
    """

    number: str
    name: str
    width: float
    body: str
    surface: str
    points: Floats
    length: float
    wet_length: float
    zones: Zones


@dataclass(frozen=True)
class AreaRow:
    """Area of one kind of one body [m2]: true, under water, seen from above, and in each zone."""

    body: str
    kind: str
    area: float
    wet_area: float
    plan_area: float
    zones: Zones


@dataclass(frozen=True)
class ZoneRow:
    """What lies in one zone of one body: area [m2], and lengths of edges and coves [m]."""

    body: str
    zone: str
    area: float
    internal: float
    external: float
    cove: float


@dataclass(frozen=True)
class OutsideRow:
    """Area of one kind of the shell's outside [m2]: true, and seen from above.

    Args:
        body: ``pool`` or ``spa``: whose concrete it is; empty for sums over both.
        kind: A name of `poolgeo.surface.kinds.OUTSIDE_KINDS`, or what follows from these:
            ``formwork``, ``blinding``, ``seen from below``.
        area: True area [m2].
        plan_area: Seen from above [m2].
    """

    body: str
    kind: str
    area: float
    plan_area: float


@dataclass(frozen=True)
class Takeoff:
    """What `poolgeo.measure` returns: typed rows that every report reads.

    ``outside`` and ``outside_edges`` are those of the shell's outside; the sense of the latter is
    seen from outside the concrete.

    Args:
        areas: By body and kind.
        edges: Edge runs.
        coves: Cove runs.
        water: Volume of each body's water [m3].
        shell: Volume of the concrete [m3].
        bands: Heights of the lower and the upper edge of each body's waterline band [m].
        warnings: What to know about this pool.
    """

    areas: tuple[AreaRow, ...]
    edges: tuple[Run, ...]
    coves: tuple[CoveRun, ...]
    water: dict[str, float]
    shell: float
    bands: dict[str, tuple[float, float]]
    warnings: tuple[Finding, ...]
    fittings: tuple[Placed, ...] = ()
    outside: tuple[OutsideRow, ...] = ()
    outside_edges: tuple[Run, ...] = ()
    joints: tuple[JointRun, ...] = ()
    arrises: tuple[ArrisRow, ...] = ()

    @property
    def zones(self) -> tuple[ZoneRow, ...]:
        """What lies in each zone, body by body; zones in which nothing lies are left out."""
        found = []
        for body in self.water:
            sums = [
                [sum(item) for item in zip(*rows, strict=True)] or [0.0] * len(ZONES)
                for rows in (
                    [row.zones for row in self.areas if row.body == body],
                    *(
                        [run.zones for run in self.edges if (run.body, run.sense) == (body, sense)]
                        for sense in ("internal", "external")
                    ),
                    [run.length_zones for run in self.coves if run.body == body],
                )
            ]
            rows = [ZoneRow(body, *row) for row in zip(ZONES, *sums, strict=True)]
            found += [row for row in rows if any((row.area, row.internal, row.external, row.cove))]
        return tuple(found)

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
                    "zones_m2": _by_zone(row.zones),
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
                    "zones_m": _by_zone(run.zones),
                }
                for run in self.edges
            ],
            "coves": [
                {
                    "run": run.number,
                    "body": run.body,
                    "kind": run.kind,
                    "radius_m": run.radius,
                    "length_m": run.length,
                    "area_m2": run.area,
                    "zones_m": _by_zone(run.length_zones),
                    "zones_m2": _by_zone(run.area_zones),
                }
                for run in self.coves
            ],
            "arrises": [row.as_dict() for row in self.arrises],
            "zones": [
                {
                    "body": row.body,
                    "zone": row.zone,
                    "area_m2": row.area,
                    "internal_m": row.internal,
                    "external_m": row.external,
                    "cove_m": row.cove,
                }
                for row in self.zones
            ],
            "bands": {
                body: {"bottom_m": bottom, "top_m": top}
                for body, (bottom, top) in self.bands.items()
            },
            "fittings": [item.as_dict() for item in self.fittings],
            "voids": [row.as_dict() for row in voids_of(self.fittings)],
            "outside": [
                {
                    "body": row.body,
                    "kind": row.kind,
                    "area_m2": row.area,
                    "plan_area_m2": row.plan_area,
                }
                for row in self.outside
            ],
            "outside_edges": [
                {
                    "run": run.number,
                    "body": run.body,
                    "sense": run.sense,
                    "kind": run.kind,
                    "length_m": run.length,
                    "angle_deg": run.angle,
                }
                for run in self.outside_edges
            ],
            "joints": [
                {
                    "run": row.number,
                    "kind": "movement joint",
                    "name": row.name,
                    "width_m": row.width,
                    "body": row.body,
                    "surface": row.surface,
                    "length_m": row.length,
                    "wet_length_m": row.wet_length,
                    "zones_m": _by_zone(row.zones),
                }
                for row in self.joints
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
            "arris_net_area_m2": sum((row.net_area for row in self.arrises), 0.0),
            "arris_removed_m3": sum((row.removed for row in self.arrises), 0.0),
            "fittings": len(self.fittings),
            "collar_perimeter_m": sum((item.collar_perimeter for item in self.fittings), 0.0),
            "void_area_m2": sum((item.void_area for item in self.fittings), 0.0),
            "joint_m": sum((row.length for row in self.joints), 0.0),
        }


def _by_zone(sizes: Zones) -> dict[str, float]:
    """Return what lies in each zone by its name, without the zones in which nothing does."""
    return {zone: size for zone, size in zip(ZONES, sizes, strict=True) if size}
