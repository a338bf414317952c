"""A fitting in its place, and what fittings add up to: rows that every report reads.

* **opening**: the hole in the surface; its area is the **void**.
* **collar**: the flange about the opening, of one width all round; its corners are square where
  the opening's are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from .arrays import Floats
from .errors import Key

Vector = tuple[float, float, float]

_QUARTER = 16
"""Chords in a quarter of a round collar."""

SLANT = 0.7
"""[-] A face stands if the height of its unit normal is less, else it lies; an edge of a wall is
upright if the height of its unit vector is more."""


@dataclass(frozen=True)
class Placed:
    """One fitting on its surface.

    Args:
        number: ``F3``, the third of the file; ``F3.2`` the second in its row.
        name: For people.
        kind: Such as ``return inlet``.
        key: Key of its place in the pool file, such as ``("fittings", 2, "at")``.
        body: Body of water whose surface it sits on.
        surface: Kind of that surface, such as ``wall``.
        feature: Where the surface comes from, such as ``floor piece 2``.
        point: Middle of the opening on the true surface [m].
        normal: Unit normal there, out of the concrete.
        across: Unit vector in the surface along the opening's width.
        depth: Of the middle below the water of its body [m].
        wet: Whether any of its collar is under that water.
        is_round: Whether the opening is round.
        size: Width and height of the opening; its diameter twice where it is round [m].
        collar: Width of the flange [m].
        protection: How a suction is made safe, as the file says it.
    """

    number: str
    name: str
    kind: str
    key: Key
    body: str
    surface: str
    feature: str
    point: Vector
    normal: Vector
    across: Vector
    depth: float
    wet: bool
    is_round: bool
    size: tuple[float, float]
    collar: float
    protection: str = ""

    @property
    def upward(self) -> Vector:
        """Unit vector in the surface along the opening's height: upwards on a wall."""
        (a, b, c), (x, y, z) = self.normal, self.across
        return b * z - c * y, c * x - a * z, a * y - b * x

    @property
    def half(self) -> tuple[float, float]:
        """Half of the collar's width and height; its radius twice where it is round [m]."""
        return self.size[0] / 2.0 + self.collar, self.size[1] / 2.0 + self.collar

    @property
    def collar_perimeter(self) -> float:
        """Length of the collar's outer edge, of the opening's where it has none [m]."""
        width, height = self.half
        return 2.0 * math.pi * width if self.is_round else 4.0 * (width + height)

    @property
    def void_area(self) -> float:
        """Area of the opening [m2]."""
        area = self.size[0] * self.size[1]
        return math.pi / 4.0 * area if self.is_round else area

    def rise(self, half_width: float, half_height: float) -> float:
        """Return how far above its middle a shape about it reaches, round as its opening is [m]."""
        across, upward = half_width * self.across[2], half_height * self.upward[2]
        return math.hypot(across, upward) if self.is_round else abs(across) + abs(upward)

    def as_dict(self) -> dict[str, Any]:
        """Return the fitting as the documented JSON contract (SI units)."""
        sizes = (
            {"diameter_m": self.size[0]}
            if self.is_round
            else {"width_m": self.size[0], "height_m": self.size[1]}
        )
        return {
            "number": self.number,
            "name": self.name,
            "kind": self.kind,
            "body": self.body,
            "surface": self.surface,
            "feature": self.feature,
            "point": list(self.point),
            "normal": list(self.normal),
            "depth_m": self.depth,
            "wet": self.wet,
            **sizes,
            "collar_m": self.collar,
            "collar_perimeter_m": self.collar_perimeter,
            "void_area_m2": self.void_area,
        }


@dataclass(frozen=True)
class Voids:
    """What fittings take of one kind of surface of one body.

    Args:
        body: The body of water.
        surface: Kind of surface.
        count: How many fittings.
        collar_perimeter: Of all their collars [m].
        void_area: Of all their openings [m2].
    """

    body: str
    surface: str
    count: int
    collar_perimeter: float
    void_area: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as the documented JSON contract (SI units)."""
        return {
            "body": self.body,
            "kind": self.surface,
            "count": self.count,
            "collar_perimeter_m": self.collar_perimeter,
            "void_area_m2": self.void_area,
        }


def voids_of(fittings: Iterable[Placed]) -> tuple[Voids, ...]:
    """Add fittings up by body and kind of surface, in the order in which they come first."""
    groups: dict[tuple[str, str], list[Placed]] = {}
    for item in fittings:
        groups.setdefault((item.body, item.surface), []).append(item)
    return tuple(
        Voids(
            *place,
            len(found),
            math.fsum(item.collar_perimeter for item in found),
            math.fsum(item.void_area for item in found),
        )
        for place, found in groups.items()
    )


def rim_of(item: Placed, *, of_opening: bool = False, closed: bool = False) -> Floats:
    """Return the outer edge of a fitting's collar, or of its opening, as a ring (n, 3) [m].

    Args:
        item: The fitting.
        of_opening: Whether the edge of its opening is meant.
        closed: Whether the ring is to end at its first point.
    """
    half = (item.size[0] / 2.0, item.size[1] / 2.0) if of_opening else item.half
    if item.is_round:
        turn = np.linspace(0.0, 2.0 * np.pi, 4 * _QUARTER, endpoint=False)
        across, upward = half[0] * np.cos(turn), half[0] * np.sin(turn)
    else:
        across = half[0] * np.array([-1.0, 1.0, 1.0, -1.0])
        upward = half[1] * np.array([-1.0, -1.0, 1.0, 1.0])
    rim: Floats = np.array(item.point) + np.outer(across, item.across)
    rim = rim + np.outer(upward, item.upward)
    return np.concatenate([rim, rim[:1]]) if closed else rim
