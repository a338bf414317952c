"""What every feature needs to know of its body of water, and where it leaves its findings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Findings, Key
from ..floor import Floor
from ..ring import Ring
from ..shapes import polygons_only, within
from .concrete import High, Wall

STRAY = 1e-4
"""[m2] Less than this cut off a feature by the outline is not worth a warning."""

MOST_FILLED = 0.98
"""[-] Share of the plan: what takes more of it leaves no water in front of it."""


@dataclass(frozen=True)
class Island:
    """A column of concrete in the water.

    Args:
        name: For labels and findings.
        key: Its key in the pool file.
        ring: Its outline, anticlockwise.
        top: Height of its top [m].
    """

    name: str
    key: Key
    ring: Ring
    top: float


@dataclass(frozen=True)
class Site:
    """One body of water before its features.

    Args:
        body: Its name.
        ring: Its outline.
        floor: Its floor.
        level: Height of its water [m].
        wall_top: Height of its wall's top [m].
        shell: Thickness of the concrete.
        tolerance: Largest distance of a chord from its curve [m].
        findings: Where to leave findings.
        wall: Kind of its walls.
        islands: What stands in it up to above the water.
        concrete: The pool's wall as its stretches, bond beam and footing make it; None of a body
            whose wall is as thick as the shell all round.
    """

    body: str
    ring: Ring
    floor: Floor
    level: float
    wall_top: float
    shell: schema.Shell
    tolerance: float
    findings: Findings
    wall: str = "wall"
    islands: tuple[Island, ...] = ()
    concrete: Wall | None = None

    @cached_property
    def water(self) -> shapely.Geometry:
        """What its outline holds, without the islands."""
        if not self.islands:
            return self.ring.polygon
        columns = [item.ring.polygon for item in self.islands]
        return shapely.difference(self.ring.polygon, shapely.union_all(columns))

    @property
    def rings(self) -> tuple[Ring, ...]:
        """Its outline, and those of the islands in it."""
        return (self.ring, *(item.ring for item in self.islands))

    @cached_property
    def outer(self) -> shapely.Polygon:
        """What the wall round the outline encloses, below a bond beam."""
        if self.concrete is not None:
            return self.concrete.outer
        return self.ring.thickened(self.shell.wall)

    @cached_property
    def own_wall(self) -> Wall:
        """Its wall."""
        if self.concrete is not None:
            return self.concrete
        rim = polygons_only(shapely.difference(self.outer, self.ring.polygon))
        tops = (High(rim, self.wall_top, "wall", ()),)
        return Wall(self.outer, self.outer, self.outer, tops, self.shell.wall)

    @cached_property
    def soffit(self) -> Floor:
        """The underside of its floor."""
        return self.floor.lowered(self.shell.floor)

    def clip(self, region: shapely.Geometry, key: Key, name: str) -> shapely.Geometry:
        """Clip a feature to the outline; say how much was cut away.

        Returns:
            What is left, possibly empty.
        """
        inside = within(region, self.ring.polygon)
        # what a corner cove takes of it is no surprise
        lost = region.area - (inside.area if not self.ring.rounds else
                              within(region, self.ring.bare.polygon).area)  # fmt: skip
        if inside.area < STRAY:
            self.findings.error(
                key,
                f"must lie inside the {self.body}'s outline",
                f"nothing of the {name} does",
                "move it into the outline",
            )
        elif lost > STRAY + 1e-3 * region.area:
            self.findings.warn(
                key,
                f"sticks out of the {self.body}'s outline and was clipped to it",
                f"{lost:.3f} m2 of {region.area:.3f} m2 cut away",
            )
        return inside

    def is_filled_by(self, region: shapely.Geometry) -> bool:
        """Whether a feature leaves no water in front of it."""
        return bool(region.area > MOST_FILLED * self.ring.polygon.area)

    def depth(self, xy: Floats) -> Floats:
        """Return the depth of the bare floor below this body's water [m]."""
        found: Floats = self.level - self.floor.height(np.asarray(xy))
        return found
