"""What a feature hands to the builder: its part of the plan."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..layers import Gap, Layer, Underside
from ..ring import Ring
from ..slope import Slope

Role = Literal["water", "shell", "base", "hole", "island", "ground"]
"""What a plan curve is to what it is named after: the inner face of a body's walls, their outer
face at the top, the foot of the shell where that is another; what a body goes all round; an
island; ground that the shell goes all round."""


@dataclass(frozen=True)
class Block:
    """Concrete that stands on the floor and may take the cove at its foot.

    Args:
        region: Its plan.
        top: Height of its top, where it slopes of its lowest place [m].
        name: For findings.
        foot: Which feet it has, as a cove's ``also_at`` names them; None for walls, which always
            take the cove.
        ring: Its outline where the true curve is known.
        slope: Its top where it slopes.
    """

    region: shapely.Geometry
    top: float
    name: str
    foot: schema.Foot | None
    ring: Ring | None = None
    slope: Slope | None = None

    def tops(self, xy: Floats) -> Floats:
        """Return the height of its top at plan points (k, 2) on its border [m]."""
        return np.full(len(xy), self.top) if self.slope is None else self.slope.height(xy)


@dataclass(frozen=True)
class Notch:
    """A part of a wall that ends lower than the wall's top: what is cut out of it begins there.

    Args:
        line: Its plan on the wall's face.
        level: Height at which it ends [m].
        key: What sets that height in the pool file.
    """

    line: shapely.Geometry
    level: float
    key: Key


@dataclass(frozen=True)
class Water:
    """A body of water.

    Args:
        name: Of the body.
        level: Height of its water at rest [m].
        mark: What its run numbers begin with: a capital for its kind, and for the second of a kind
            and those after it a small letter.
        key: Where the pool file describes it.
        is_dry: Whether it has no water at rest; the level is then that of its lowest place.
    """

    name: str
    level: float
    mark: str
    key: Key = ()
    is_dry: bool = False


def numbered_name(kind: str, k: int, name: str | None) -> str:
    """Return the name of the k-th body of a kind, from 0: its own, or ``spa``, ``spa 2`` ..."""
    return name or (kind if k == 0 else f"{kind} {k + 1}")


def numbered_mark(capital: str, k: int) -> str:
    """Return the mark of the k-th body of a kind, from 0: ``S``, ``Sb``, ``Sc`` ..."""
    return capital + letters(k)


def letters(k: int) -> str:
    """Return nothing for the first, then b, c, ... z, aa, ab, ..."""
    if k == 0:
        return ""
    high, low = divmod(k, 26)
    return (chr(ord("a") + high - 1) if high else "") + chr(ord("a") + low)


@dataclass(frozen=True)
class Part:
    """One feature.

    Args:
        layers: In painting order.
        undersides: What lies under the concrete, in painting order.
        blocks: What of it stands on the floor of the body that it is built in.
        waters: Bodies of water that it brings.
        outlines: Plan curves to draw, by the name of their body or island and their role, as closed
            polylines (n, 2) without the repeated point [m].
        rings: The rings of those of them that are walls.
        gaps: Ground between pieces of its concrete.
        corners: Plan points (k, 2) on those rings at which a wall turns all the same [m].
        joints: Plan points (k, 2) on the pool's curve across from joints of its own coves [m].
        footprint: All that it takes of the plan for itself, where it is a body of water.
        notches: What of it is cut out of walls of the body that it is built in.
    """

    layers: tuple[Layer, ...] = ()
    undersides: tuple[Underside, ...] = ()
    blocks: tuple[Block, ...] = ()
    waters: tuple[Water, ...] = ()
    outlines: dict[tuple[str, Role], Floats] = field(default_factory=dict)
    rings: tuple[Ring, ...] = ()
    gaps: tuple[Gap, ...] = ()
    corners: Floats = field(default_factory=lambda: np.zeros((0, 2)))
    joints: Floats = field(default_factory=lambda: np.zeros((0, 2)))
    footprint: shapely.Geometry | None = None
    notches: tuple[Notch, ...] = ()
