"""The arris of an external edge: its section, and what it makes of a run.

Words: a **leg** is how far the arris reaches into a face, across the edge; its **girth** is the
developed width of its own face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Section:
    """The section of an arris square to its edge.

    Args:
        leg: How far it reaches into either face [m].
        girth: Width of its own face, developed [m].
        removed: Area of what is taken off the edge [m2].
    """

    leg: float = 0.0
    girth: float = 0.0
    removed: float = 0.0


def section_of(form: str, size: float, angle: float) -> Section:
    """Return the section of an arris.

    With t the turn of the edge, ``angle`` less 180 degrees:

    * a chamfer of leg a has the girth 2 a cos(t/2) and takes off a^2 sin(t) / 2;
    * a round of radius r has the legs r tan(t/2), the girth r t and takes off r^2 (tan(t/2) - t/2).

    Args:
        form: ``square``, ``chamfer`` or ``rounded``.
        size: Leg of the chamfer, or radius of the round [m].
        angle: Angle of the edge through the water, above 180 [deg].

    Returns:
        The section; nothing of a square edge.

    Example:
        >>> section_of("chamfer", 0.01, 270.0).girth == 0.02 * math.cos(math.pi / 4)
        True
    """
    half = math.radians(angle - 180.0) / 2.0
    if form == "chamfer":
        return Section(size, 2.0 * size * math.cos(half), size**2 * math.sin(2.0 * half) / 2.0)
    if form == "rounded":
        tangent = math.tan(half)
        return Section(size * tangent, 2.0 * size * half, size**2 * (tangent - half))
    return Section()


@dataclass(frozen=True)
class ArrisRow:
    """The arris of an external run, measured along the run's own line.

    Args:
        number: The run's number.
        body: The run's body.
        kind: What meets what.
        form: ``square``, ``chamfer`` or ``rounded``.
        size: Leg or radius; 0 of a square edge [m].
        length: Of the run [m].
        section: Square to the edge.
    """

    number: str
    body: str
    kind: str
    form: str
    size: float
    length: float
    section: Section

    @property
    def area(self) -> float:
        """Area of its own face, developed [m2]."""
        return self.section.girth * self.length

    @property
    def taken_area(self) -> float:
        """Area that it takes off both faces together [m2]."""
        return 2.0 * self.section.leg * self.length

    @property
    def net_area(self) -> float:
        """What it adds to the area to be coated; below 0, it is less than with a square edge."""
        return self.area - self.taken_area

    @property
    def removed(self) -> float:
        """Volume that is taken off the edge [m3]."""
        return self.section.removed * self.length

    def as_dict(self) -> dict[str, Any]:
        """Return the row as the JSON contract has it."""
        return {
            "run": self.number,
            "body": self.body,
            "kind": self.kind,
            "form": self.form,
            "size_m": self.size,
            "length_m": self.length,
            "leg_m": self.section.leg,
            "girth_m": self.section.girth,
            "area_m2": self.area,
            "taken_area_m2": self.taken_area,
            "net_area_m2": self.net_area,
            "removed_m3": self.removed,
        }
