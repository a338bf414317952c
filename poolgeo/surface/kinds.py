"""The kinds of surface, one row each, and what the vertical face between two neighbours is called.

Whatever else depends on a kind is derived from its row, so a new kind is one row here, its look in
`poolgeo.drawing.palette` (which misses it on import) and, where it stands between neighbours of the
plan, a line in `face_kind`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..design.arris import EdgeGroup

Rim = Literal["", "steps", "benches", "spa", "overflow", "cove", "recesses"]
"""The part of the pool whose rims a plan shows together."""


@dataclass(frozen=True)
class Kind:
    """A kind of surface.

    Args:
        name: As reports write it.
        code: What stands for it in run numbers. A new kind takes the next free one, wherever it
            stands in the table: a run's number never changes.
        upright: Whether it stands vertically.
        lofted: Whether it runs along the foot of a wall in place of its sharp edge.
        eases: Whether it takes the place of a sharp edge, so that nothing can be set on it.
        of_body: Whether it is the wall of a body of water.
        kept: Whether such a face is told apart from the wall of the body that it stands in.
        owned: Whether such a face is told apart by the feature that it belongs to.
        group: Where an external edge at it is.
        rim: The part of the pool whose rims a plan shows it with.
        outside: Whether only the shell has it.
    """

    name: str
    code: int
    upright: bool = False
    lofted: bool = False
    eases: bool = False
    of_body: bool = False
    kept: bool = False
    owned: bool = False
    group: EdgeGroup = "floor breaks"
    rim: Rim = ""
    outside: bool = False


ALL_KINDS = (
    Kind("floor", 0),
    Kind("wall", 1, upright=True, of_body=True, group="wall corners"),
    Kind("cove", 2, lofted=True, eases=True, rim="cove"),
    Kind("fillet", 3, lofted=True, eases=True, rim="cove"),
    Kind("corner cove", 31, upright=True, eases=True, group="wall corners", rim="cove"),
    Kind("corner fillet", 33, upright=True, eases=True, group="wall corners", rim="cove"),
    Kind("tread", 4, group="steps", rim="steps"),
    Kind("riser", 5, upright=True, owned=True, group="steps"),
    Kind("step side", 6, upright=True, owned=True, group="steps"),
    Kind("bench top", 7, group="benches", rim="benches"),
    Kind("bench face", 8, upright=True, owned=True, group="benches"),
    Kind("spa floor", 9, rim="spa"),
    Kind("spa wall", 10, upright=True, of_body=True, group="wall corners"),
    Kind("seat top", 11, group="benches", rim="spa"),
    Kind("seat face", 12, upright=True, kept=True, owned=True, group="benches"),
    Kind("dam wall face", 13, upright=True, group="dam walls"),
    Kind("dam wall top", 14, group="dam walls", rim="spa"),
    Kind("spillway", 15, group="dam walls", rim="spa"),
    Kind("weir top", 16, group="weirs", rim="overflow"),
    Kind("weir face", 17, upright=True, kept=True, group="weirs"),
    Kind("basin floor", 18, rim="overflow"),
    Kind("basin wall", 19, upright=True, of_body=True, group="wall corners"),
    Kind("channel floor", 20, rim="overflow"),
    Kind("channel wall", 21, upright=True, of_body=True, group="wall corners"),
    Kind("wall top", 22, group="wall tops"),
    Kind("wall end", 23, upright=True, group="wall tops"),
    Kind("recess", 24, group="recesses", rim="recesses"),
    Kind("arris", 32, eases=True),
    Kind("outer wall", 25, upright=True, outside=True),
    Kind("beam underside", 26, outside=True),
    Kind("footing top", 27, outside=True),
    Kind("footing side", 28, upright=True, outside=True),
    Kind("soffit", 29, outside=True),
    Kind("soffit step", 30, upright=True, outside=True),
)
"""Every kind: of the inside surface in the order in which reports list them, then what only the
shell has, from the top down. A recess has a floor and a back: it stands and lies."""

KINDS = tuple(kind.name for kind in ALL_KINDS if not kind.outside)
"""Kinds of the inside surface, in the order in which reports list them."""

OUTSIDE_KINDS = tuple(kind.name for kind in ALL_KINDS if kind.outside)
"""Kinds that only the shell has, from the top down."""

CODES = {kind.name: kind.code for kind in ALL_KINDS}
"""What stands for a kind in run numbers."""

WATER_SURFACE = "water surface"
"""The free surface of a body of water, and the open side of a spillway."""

ROUNDED = tuple(kind.name for kind in ALL_KINDS if kind.lofted)
"""Kinds that run along the foot of a wall in place of its sharp edge."""

EASING = frozenset(kind.name for kind in ALL_KINDS if kind.eases)
"""Kinds in place of a sharp edge: no fitting is set on them."""

STANDING = frozenset(kind.name for kind in ALL_KINDS if kind.upright)
"""Kinds that stand vertically."""

WALLS = tuple(kind.name for kind in ALL_KINDS if kind.of_body)
"""Kinds of walls of bodies of water."""

KEPT = tuple(kind.name for kind in ALL_KINDS if kind.kept)
"""Kinds of faces that are told apart from the wall of the body that they stand in."""

OWN_FACES = frozenset(kind.name for kind in ALL_KINDS if kind.owned)
"""Kinds of standing faces that are told apart by the feature that they belong to."""

GROUP_OF: dict[str, EdgeGroup] = {kind.name: kind.group for kind in ALL_KINDS}
"""Where an external edge at a kind is."""


def rims_of(part: Rim) -> tuple[str, ...]:
    """Return the kinds whose rims a plan shows together."""
    return tuple(kind.name for kind in ALL_KINDS if kind.rim == part)


def pair_code(kind: str) -> int:
    """Return the number that stands for ``one/other``: of two kinds, the same either way round."""
    low, high = sorted(CODES[part] for part in kind.split("/"))
    return 100 + high * (high + 1) // 2 + low


def face_kind(face: str, lower: str, wall: str) -> str:
    """Return the kind of the vertical face between two plan neighbours.

    Args:
        face: What the higher neighbour calls faces below its edge.
        lower: Kind of the lower neighbour's upper face; empty outside everything.
        wall: What the lower neighbour calls the walls of its body.
    """
    if lower == "wall top" and face == "wall" and wall == "wall":
        return "wall end"
    if lower in ("", "wall top", "footing top"):
        return "outer wall"
    if lower == "spillway":
        return "spillway"
    if wall != "wall":
        return face if face in KEPT else wall
    return "wall" if face in WALLS or face == "weir face" else face
