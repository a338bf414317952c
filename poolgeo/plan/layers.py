"""What the features hand to the plan map: layers, in the order in which they are painted.

A **layer** covers a plan region with a height. ``over`` says what it does to what lies below:

* ``all``: it replaces everything painted before it;
* ``floor``: it is concrete standing on the floor: it replaces benches and steps painted before,
  but where the floor or its cove is higher, that stays (the union of the concrete).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np
import shapely

from ..arrays import Floats
from ..errors import Key
from .cells import Cells
from .floor import Floor
from .shapes import rings_of
from .slope import Slope

Height = float | Floor | Cells | Slope


class Drop(Protocol):
    """How much deeper than a profile something lies."""

    def __call__(self, xy: Floats) -> Floats:
        """Return it at plan points (k, 2) [m]."""
        ...

    def gradient(self, xy: Floats) -> Floats:
        """Return how it changes there (k, 2) [-]."""
        ...


@dataclass(frozen=True)
class Layer:
    """One painted region.

    Args:
        body: The body of water that it serves.
        kind: Kind of its upper face.
        feature: What it came from, for labels and findings.
        key: Its key in the pool file.
        region: Where it lies (a polygon or several).
        height: A level [m], a floor, the cells of a cove, or a sloping top.
        over: What it replaces.
        face: Kind of the vertical faces that stand below its edge.
        flanks: (k, 2, 2) plan segments on which such a face is a ``step side`` instead.
        flight: Name of the flight that a tread belongs to: its sides are one face.
        returned: Whether it is wall top on to which the membrane returns under the coping.
        wall: Kind of its body's walls: the face above it where another body begins.
        crest: (k, 2, 3) segments up to which a leaning wall comes, whatever its facets say [m].
        on: Of an arris the kind of the top that it takes the edge off; empty of all else.
    """

    body: str
    kind: str
    feature: str
    key: Key
    region: shapely.Geometry
    height: Height
    over: Literal["all", "floor"] = "all"
    face: str = "wall"
    flanks: Floats | None = None
    flight: str = ""
    returned: bool = False
    wall: str = "wall"
    crest: Floats | None = None
    on: str = ""

    @property
    def level(self) -> float:
        """Its height where it is level [m]; nan where it is not."""
        return self.height if isinstance(self.height, float) else float("nan")

    @property
    def lowest(self) -> float:
        """Its least height where it is level or a sloping top [m]; nan where it is not."""
        return self.height.lowest(self.region) if isinstance(self.height, Slope) else self.level

    @property
    def is_level(self) -> bool:
        """Whether all of it is at one height."""
        return isinstance(self.height, float) or (
            isinstance(self.height, Floor) and self.height.is_level
        )

    def covers(self, xy: Floats) -> np.ndarray:
        """Return whether the region holds each plan point (k, 2)."""
        shapely.prepare(self.region)
        covered: np.ndarray = shapely.contains_xy(self.region, xy)
        return covered


@dataclass(frozen=True)
class Gap:
    """Ground between two pieces of concrete, one above the other: a footing and a bond beam.

    Args:
        region: Where it lies.
        low: The upper face of the concrete below.
        high: The lower face of the concrete above.
    """

    region: shapely.Geometry
    low: Layer
    high: Underside

    def lines(self) -> Floats:
        """Return the segments (k, 2, 2) along which the concrete below bends [m]."""
        rings = rings_of(self.region)
        if not isinstance(self.low.height, Floor) or not rings:
            return np.zeros((0, 2, 2))
        return self.low.height.lines_within(rings, 0.0)


@dataclass(frozen=True)
class Underside:
    """The underside of the concrete in a region.

    Args:
        region: Where it lies.
        floor: A profile; None where there is only a level.
        level: A level [m]; the lower of the two holds. Infinite where there is only a profile.
        kind: Kind of its face.
        body: The body of water that it lies under.
        drop: How much deeper than the profile it lies.
        deeper: The same, everywhere [m].
        passes: Profiles of concrete that ends at it, each with its height where it passes the level
            of this [m].
        everywhere: Whether the profile is its own: others, the pool's, end at the pool's shell.
        side: Kind of the vertical faces at which it stands out below others; empty where what lies
            beside it tells.
    """

    region: shapely.Geometry
    floor: Floor | None
    level: float = np.inf
    kind: str = "soffit"
    body: str = "pool"
    drop: Drop | None = None
    everywhere: bool = False
    side: str = ""
    deeper: float = 0.0
    passes: tuple[tuple[Floor, float], ...] = ()

    def body_of(self, *, is_level: bool) -> str:
        """Return the body that its level, or its profile, lies under."""
        return self.body if is_level or self.everywhere else "pool"

    def profile(self, xy: Floats) -> tuple[Floats, Floats]:
        """Return how high the profile lies at plan points (k, 2); without one, the level [m].

        Two heights (k,), which differ where it is torn: the lowest and the highest beside each.
        """
        if self.floor is None:
            level = np.full(len(xy), self.level)
            return level, level
        deeper = self.deeper if self.drop is None else self.deeper + self.drop(xy)
        lowest, highest = self.floor.span(xy)
        return lowest - deeper, highest - deeper

    def gradient_of(self, xy: Floats, piece: int) -> Floats:
        """Return the gradient of one piece of the profile at plan points (k, 2) [-]."""
        if self.floor is None:
            return np.zeros_like(xy)
        found = self.floor.gradient_of(xy, piece)
        return found if self.drop is None else found - self.drop.gradient(xy)

    def levelled(self) -> Iterator[tuple[Floor, float, Floats]]:
        """Yield where profiles pass a level: each, its height there [m], segments (k, 2, 2) [m].

        The first is its own, where it has one that goes over to its level.
        """
        rings = rings_of(self.region)
        own = [] if self.floor is None else [(self.floor, self.level + self.deeper)]
        for floor, height in (*own, *self.passes):
            if np.isfinite(height):
                yield floor, height, floor.contour_within(height, rings)

    def lines(self) -> Floats:
        """Return the segments (k, 2, 2) along which it bends, where it has a profile alone [m]."""
        if self.floor is None or np.isfinite(self.level):
            return np.zeros((0, 2, 2))
        return self.floor.lines_within(rings_of(self.region), 0.0)
