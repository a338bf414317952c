"""The cells of a cove: what a lofted cove is to the rest of the plan."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from ..arrays import Floats, Ints
from .canal import Canal


@dataclass(frozen=True)
class Cells:
    """A lofted cove.

    Args:
        vertices: (n, 3) [m].
        triangles: (m, 3) vertex numbers, anticlockwise seen from above.
        group: (m,) group number of each triangle.
        walls: Lines of vertex numbers along the walls, in order (closed: first repeated).
        floors: The same along the floor contact.
        sections: Lines in which open coves end, with the cove on their left.
        mitres: Pairs of groups that meet in a mitre, smaller first, and whether its crease is
            internal (an inside corner, a toe) or external (a brow).
        canal: The ball that made it.
        walls_from: Groups from this number on are faces of walls that lean, and no cove.
        tangent: Whether it leaves wall and floor smoothly: a cove does, a fillet does not.
        bends: Angle through the water between groups of a fillet that meet over a break, smaller
            first: that of their faces, whatever the facets of a curved wall have [deg].
    """

    vertices: Floats
    triangles: Ints
    group: Ints
    walls: tuple[Ints, ...]
    floors: tuple[Ints, ...]
    sections: tuple[Ints, ...]
    mitres: dict[tuple[int, int], bool]
    canal: Canal
    walls_from: int
    tangent: bool = True
    bends: dict[tuple[int, int], float] = field(default_factory=dict)

    @cached_property
    def extent(self) -> tuple[float, float]:
        """Height of its lowest and of its highest vertex [m]."""
        z = self.vertices[:, 2]
        return float(z.min()), float(z.max())
