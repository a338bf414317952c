"""What a takeoff holds: typed rows that every report reads.

All values are frozen; arrays in them are not to be written to. Every row gives itself as JSON.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np

from .arrays import Bools, Floats, Ints
from .arris import ArrisRow
from .errors import Finding
from .mesh import ZONES, Patch, Zones, by_zone
from .placed import Placed, voids_of

Sense = Literal["internal", "external"]


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
        angles: (k - 1,) angle at each segment [deg].
        between: (k - 1, 3) unit vector half way between the normals of its two faces: into the
            water.
        vertices: (k,) vertex numbers of its points in the surface with square edges.
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
    angles: Floats = field(default_factory=lambda: np.zeros(0))
    between: Floats = field(default_factory=lambda: np.zeros((0, 3)))
    vertices: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "run": self.number,
            "body": self.body,
            "sense": self.sense,
            "kind": self.kind,
            "length_m": self.length,
            "wet_length_m": self.wet_length,
            "angle_deg": self.angle,
            "zones_m": by_zone(self.zones),
        }


@dataclass(frozen=True)
class CoveRun:
    """A stretch of cove or fillet between corners, changes of floor and cuts.

    Args:
        number: Stable run number.
        body: Body of water.
        kind: ``cove`` or ``fillet``; ``corner cove`` or ``corner fillet``, of mean height.
        radius: Of the cove, or leg of the fillet; the mean where it changes along the run [m].
        points: (k, 3) Its upper line, or its lower where only that is left [m].
        length: Length of that line [m].
        area: Surface [m2].
        length_zones: Length in each zone [m].
        area_zones: Surface in each zone [m2].
        mortar: Volume between it and the bare wall and floor behind it [m3].
        vertices: (k,) vertex numbers of its points in the surface with square edges, where they
            lie on its wall.
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
    mortar: float = 0.0
    vertices: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "run": self.number,
            "body": self.body,
            "kind": self.kind,
            "radius_m": self.radius,
            "length_m": self.length,
            "area_m2": self.area,
            "mortar_m3": self.mortar,
            "zones_m": by_zone(self.length_zones),
            "zones_m2": by_zone(self.area_zones),
        }


@dataclass(frozen=True)
class JointRun:
    """A stretch of a movement joint over one kind of surface.

    Args:
        number: ``J1.3``, the third from the joint's start; of the finish's ``M1.3``.
        name: Of the joint.
        width: Of the joint's gap [m].
        body: The body whose surface it crosses.
        surface: Kind of that surface.
        points: (k, 3) [m].
        length: True length [m].
        wet_length: Length under water [m].
        zones: Length in each zone [m].
        wet: (k - 1,) True for the segments under water.
        zone: (k - 1,) the zone of each segment: a number of `ZONES`.
        movement: By how much the gap of a structural joint opens at most [m]; None is not known.
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
    wet: Bools = field(default_factory=lambda: np.zeros(0, dtype=bool))
    zone: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    movement: float | None = None

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "run": self.number,
            "kind": "structural joint",
            "name": self.name,
            "width_m": self.width,
            "movement_m": self.movement,
            "body": self.body,
            "surface": self.surface,
            "length_m": self.length,
            "wet_length_m": self.wet_length,
            "zones_m": by_zone(self.zones),
        }


@dataclass(frozen=True)
class AreaRow:
    """Area of one kind of one body [m2]: true, under water, seen from above, and in each zone."""

    body: str
    kind: str
    area: float
    wet_area: float
    plan_area: float
    zones: Zones

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "body": self.body,
            "kind": self.kind,
            "area_m2": self.area,
            "wet_area_m2": self.wet_area,
            "plan_area_m2": self.plan_area,
            "zones_m2": by_zone(self.zones),
        }


@dataclass(frozen=True)
class ZoneRow:
    """What lies in one zone of one body: area [m2], and lengths of edges and coves [m]."""

    body: str
    zone: str
    area: float
    internal: float
    external: float
    cove: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "body": self.body,
            "zone": self.zone,
            "area_m2": self.area,
            "internal_m": self.internal,
            "external_m": self.external,
            "cove_m": self.cove,
        }


@dataclass(frozen=True)
class OutsideRow:
    """Area of one kind of the shell's outside [m2]: true, and seen from above.

    Args:
        body: Name of the body of water whose concrete it is; empty for sums over all.
        kind: A name of `poolgeo.surface.kinds.OUTSIDE_KINDS`, or what follows from these:
            ``formwork``, ``blinding``, ``seen from below``.
        area: True area [m2].
        plan_area: Seen from above [m2].
    """

    body: str
    kind: str
    area: float
    plan_area: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "body": self.body,
            "kind": self.kind,
            "area_m2": self.area,
            "plan_area_m2": self.plan_area,
        }


@dataclass(frozen=True)
class Takeoff:
    """What `poolgeo.measure` returns: typed rows that every report reads.

    Args:
        areas: By body and kind.
        edges: Edge runs.
        coves: Cove runs.
        water: Volume of each body's water [m3].
        shell: Volume of the concrete [m3].
        bands: Heights of the lower and the upper edge of each body's waterline band [m]; a body
            that is dry at rest has none.
        warnings: What to know about this pool.
        fittings: In the order of the file, each in its place.
        outside: Areas of the shell's outside, and what follows from them.
        outside_edges: Runs of edges there; their sense is seen from outside the concrete.
        joints: Movement joints, by the surface that they cross.
        arrises: How the external edges are finished, run by run.
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
        dry = ("wet_length_m", "zones_m")
        return {
            "areas": [row.as_dict() for row in self.areas],
            "edges": [run.as_dict() for run in self.edges],
            "coves": [run.as_dict() for run in self.coves],
            "arrises": [row.as_dict() for row in self.arrises],
            "zones": [row.as_dict() for row in self.zones],
            "bands": {
                body: {"bottom_m": bottom, "top_m": top}
                for body, (bottom, top) in self.bands.items()
            },
            "fittings": [item.as_dict() for item in self.fittings],
            "voids": [row.as_dict() for row in voids_of(self.fittings)],
            "outside": [row.as_dict() for row in self.outside],
            "outside_edges": [
                {key: value for key, value in run.as_dict().items() if key not in dry}
                for run in self.outside_edges
            ],
            "joints": [row.as_dict() for row in self.joints],
            "volumes": {"water_m3": dict(self.water), "shell_m3": self.shell},
            "totals": self.totals(),
            "warnings": [str(item) for item in self.warnings],
        }

    def totals(self) -> dict[str, float]:
        """Return the sums that stand at the foot of every report (SI units).

        Of arrises, what the areas and volumes do not hold already: those in the solid are in them.
        """
        return {
            "internal_m": sum((run.length for run in self.edges if run.sense == "internal"), 0.0),
            "external_m": sum((run.length for run in self.edges if run.sense == "external"), 0.0),
            "cove_m": sum((run.length for run in self.coves), 0.0),
            "area_m2": sum((row.area for row in self.areas), 0.0),
            "arris_net_area_m2": sum((row.net_area * row.left for row in self.arrises), 0.0),
            "arris_removed_m3": sum((row.removed * row.left for row in self.arrises), 0.0),
            "fittings": len(self.fittings),
            "collar_perimeter_m": sum((item.collar_perimeter for item in self.fittings), 0.0),
            "void_area_m2": sum((item.void_area for item in self.fittings), 0.0),
            "joint_m": sum((row.length for row in self.joints), 0.0),
        }
