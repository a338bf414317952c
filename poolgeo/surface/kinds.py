"""The kinds of surface, and what the vertical face between two neighbours is called."""

from __future__ import annotations

KINDS = (
    "floor",
    "wall",
    "cove",
    "fillet",
    "corner cove",
    "corner fillet",
    "tread",
    "riser",
    "step side",
    "bench top",
    "bench face",
    "spa floor",
    "spa wall",
    "seat top",
    "seat face",
    "dam wall face",
    "dam wall top",
    "spillway",
    "weir top",
    "weir face",
    "basin floor",
    "basin wall",
    "channel floor",
    "channel wall",
    "wall top",
    "wall end",
    "recess",
    "arris",
)
"""Kinds of the inside surface, in the order in which reports list them."""

OUTSIDE_KINDS = (
    "outer wall",
    "beam underside",
    "footing top",
    "footing side",
    "soffit",
    "soffit step",
)
"""Kinds that only the shell has, from the top down."""

CODED = (
    "floor", "wall", "cove", "fillet", "tread", "riser", "step side", "bench top", "bench face",
    "spa floor", "spa wall", "seat top", "seat face", "dam wall face", "dam wall top", "spillway",
    "weir top", "weir face", "basin floor", "basin wall", "channel floor", "channel wall",
    "wall top", "wall end", "recess", "outer wall", "beam underside", "footing top",
    "footing side", "soffit", "soffit step", "corner cove", "arris", "corner fillet",
)  # fmt: skip
"""Kinds by what stands for them in run numbers. New ones go to the end, wherever they stand among
the kinds: a run's number never changes."""

WATER_SURFACE = "water surface"
"""The free surface of a body of water, and the open side of a spillway."""


ROUNDED = ("cove", "fillet")
"""Kinds that run along the foot of a wall in place of its sharp edge."""

WALLS = ("wall", "spa wall", "basin wall", "channel wall")
"""Kinds of walls of bodies of water."""

KEPT = ("seat face", "weir face")
"""Kinds of faces that are told apart from the wall of the body that they stand in."""


def pair_code(kind: str) -> int:
    """Return the number that stands for ``one/other``: of two kinds, the same either way round."""
    low, high = sorted(CODED.index(part) for part in kind.split("/"))
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
