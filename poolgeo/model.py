"""The values that the stages pass on: a pool as geometry.

Axes: x right and y up in plan, z up, all in metres, z = 0 at the pool's water level.
All values are frozen; arrays in them are not to be written to.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from .arrays import Bools, Floats, Ints
from .design.load import Design
from .errors import Finding
from .mesh import Mesh, Patch
from .placed import Placed
from .plan.canal import Canal
from .plan.features.part import Role
from .plan.floor import Floor
from .plan.rounds import Round
from .quantities import Sense

Lie = Callable[[Floats], Floats]
"""Tells how a face lies: its gradient at plan points (k, 2) [-]."""


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
        is_dry: Whether it has no water at rest: then it has no band, and its level is that of its
            lowest place.
    """

    name: str
    level: float
    band: tuple[float, float]
    wetted: Mesh
    close: Callable[[Mesh, float], Mesh]
    mark: str
    is_dry: bool = False

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
class Contact:
    """Where a cove meets its walls and its floor.

    Args:
        patches: The cove's, and those of the walls that lean on to it.
        walls: (k, 2, 2) plan segments along its walls [m].
        floors: (m, 2, 2) plan segments along its floor [m].
        is_tangent: Whether it leaves both smoothly: a cove does, a fillet does not.
    """

    patches: frozenset[Patch]
    walls: Floats
    floors: Floats
    is_tangent: bool


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


WHY = ("meshed", "low", "leans", "small")
"""Why an edge has its arris in the solid or has it not: it has; the face below is no higher than
the arris; the top leans; the arris is too small."""

MESHED, LOW, LEANS, SMALL = range(len(WHY))
"""Their numbers."""


@dataclass(frozen=True)
class Arrises:
    """Arrises that are in the solid.

    Args:
        square: The same pool with square edges: its edges are the lines that arrises follow.
        middles: (k, 2) plan middles of those edges of it, between a top and an upright face, that
            are to take an arris [m].
        share: (k,) which share of each has it in the solid.
        why: (k,) why not, or not whole: a number of `WHY`.
    """

    square: Model
    middles: Floats
    share: Floats
    why: Ints


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
        outlines: Plan curves by name and role as closed polylines (n, 2) without the repeated
            point: for each body ``water`` (the inner face of its walls) and ``shell`` (their outer
            face, at its top), ``base`` where the foot of the pool's shell is another, ``hole``
            where it goes all round something; for each island ``island``; ``ground`` where the
            pool's walls go all round some.
        corners: (k, 2) plan points at which an outline or a feature's border turns by a plan
            corner's least deflection or more, measured on the true curve of an outline [m].
        creases: Pairs of patches that meet in a crease by design, with its sense: coves in a
            mitre (others join smoothly), pieces of a floor in a break.
        tangents: Pairs of patches, a cove and the face of its leaning wall, that meet smoothly.
        floors: The floor that a patch is part of, and the number of its piece there.
        contacts: Where each cove meets its walls and its floor.
        coves: The ball that made the cove that a patch is part of.
        spots: Levels to write on the plan.
        warnings: What to know about this pool.
        notes: What is right as a rule, for who checks the file.
        fittings: What goes through the shell, in the order of the file.
        joints: Where movement joints cut the surface, in the order of the file.
        rounds: Where corner coves stand.
        bends: Pairs of patches of fillets that meet over a break of the floor, with their angle
            through the water [deg].
        arrises: Those that are in the solid; None where none are to be.
        lies: How patches lie, where what made them tells; None is level.
    """

    design: Design
    surface: Mesh
    wet: Bools
    zone: Ints
    bodies: tuple[Body, ...]
    shell: Mesh
    outlines: dict[tuple[str, Role], Floats]
    corners: Floats
    creases: dict[frozenset[Patch], Sense]
    tangents: frozenset[frozenset[Patch]]
    floors: dict[Patch, tuple[Floor, int]]
    contacts: tuple[Contact, ...]
    coves: dict[Patch, Canal]
    spots: tuple[Spot, ...]
    warnings: tuple[Finding, ...]
    fittings: tuple[Placed, ...] = ()
    joints: tuple[JointCut, ...] = ()
    rounds: tuple[Round, ...] = ()
    bends: dict[frozenset[Patch], float] = field(default_factory=dict)
    arrises: Arrises | None = None
    lies: dict[Patch, Lie | None] = field(default_factory=dict)
    notes: tuple[Finding, ...] = ()

    @property
    def square(self) -> Model:
        """The model with square edges: itself where no arrises are in it."""
        return self if self.arrises is None else self.arrises.square
