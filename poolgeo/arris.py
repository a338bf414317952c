"""The arris of an external edge: its section, what it makes of a run.

Words: a **leg** is how far the arris reaches into a face, across the edge; its **girth** is the
developed width of its own face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from .arrays import Floats
from .mesh import Zones, by_zone
from .sections import Form, section

LEAST_CHORDS = 4
"""A round has at least so many chords: its girth then comes out 0.7 % too long at a right angle,
and what it takes off exactly."""


FORMS: dict[str, Form] = {"chamfer": "straight", "rounded": "round"}


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

    Args:
        form: ``square``, ``chamfer`` or ``rounded``.
        size: Leg of the chamfer, or radius of the round [m].
        angle: Angle of the edge through the water, above 180 [deg].

    Returns:
        The section; nothing of a square edge.

    Example:
        >>> round(section_of("chamfer", 0.01, 270.0).girth, 9)
        0.014142136
    """
    if form == "square":
        return Section()
    cut = section(FORMS[form], size, np.radians([360.0 - angle]))
    return Section(float(cut.leg[0]), float(cut.girth[0]), float(cut.area[0]))


def profile_of(form: str, size: float, rise: Floats, tolerance: float) -> tuple[Floats, Floats]:
    r"""Return the section of an arris between an upright face and a top, as chords.

    The corners of a round stand a little outside it, so that the chords take off what it does. ::

        top  ------.__    s: how far off the face
                 d |  \    d: how far below the top, carried on
                       |

    Args:
        form: ``chamfer`` or ``rounded``.
        size: Leg of the chamfer, or radius of the round [m].
        rise: (k,) slopes of tops, square to the edge, off the face [-].
        tolerance: Largest distance of a chord from the round [m].

    Returns:
        (k, n) s, from 0 to where the top begins, and (k, n) d, down to 0 there [m].
    """
    lean = np.arctan(rise)
    if form == "chamfer":
        s = size * np.column_stack([np.zeros(len(rise)), np.cos(lean)])
        z = size * np.column_stack([-np.ones(len(rise)), np.sin(lean)])
        return s, rise[:, None] * s - z
    turn = math.pi / 2.0 - lean
    count = LEAST_CHORDS
    while size * _off_round(turn.max(initial=0.0) / count, count) > tolerance:
        count += 1
    step = turn / count
    # triangles about the centre, two of them with a contact: as large as the sector
    out = np.ones((len(rise), count + 1))
    out[:, 1:-1] = _outer(step, count)[:, None]
    way = math.pi - np.arange(count + 1) * step[:, None]
    s = size * (1.0 + out * np.cos(way))
    s[:, 0] = 0.0
    z = size * (out * np.sin(way) - np.tan(turn / 2.0)[:, None])
    d = rise[:, None] * s - z
    d[:, -1] = 0.0
    return s, d


def _outer(step: Floats, count: int) -> Floats:
    """Return how far the corners of chords stand from a round's centre, against its radius."""
    found: Floats = (np.sqrt(1.0 + (count - 2) * count * step / np.sin(step)) - 1.0) / (count - 2)
    return found


def _off_round(step: float, count: int) -> float:
    """Return how far chords stand off a round, against its radius."""
    out = float(_outer(np.array([step]), count)[0])
    return max(out - 1.0, 1.0 - out * math.cos(step / 2.0))


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
        zones: Length in each zone [m].
        meshed: Length on which the solid has it [m].
    """

    number: str
    body: str
    kind: str
    form: str
    size: float
    length: float
    section: Section
    zones: Zones = ()
    meshed: float = 0.0

    @property
    def left(self) -> float:
        """Share of its length on which the solid has a square edge [-]."""
        return 1.0 - self.meshed / self.length

    @property
    def area_zones(self) -> Zones:
        """Area of its own face in each zone [m2]."""
        return tuple(self.section.girth * length for length in self.zones)

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
            "meshed_m": self.meshed,
            "leg_m": self.section.leg,
            "girth_m": self.section.girth,
            "area_m2": self.area,
            "taken_area_m2": self.taken_area,
            "net_area_m2": self.net_area,
            "removed_m3": self.removed,
            "zones_m": by_zone(self.zones),
            "zones_m2": by_zone(self.area_zones),
        }
