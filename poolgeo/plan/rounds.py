"""Corner coves in plan: an arc that touches both sides of an inside corner, or its chord."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats
from ..sections import Form, section
from .curves import Arc, Line, turn_between, unit

ON_ROUND = 2e-4
"""[m] An edge lies on a corner cove that it runs nearer to: vertices may have moved on to the
cove's at its foot."""


@dataclass(frozen=True)
class Round:
    """A corner cove, or a corner fillet.

    Args:
        arc: It touches both sides of the corner.
        straight: Whether it is the chord of that arc: a fillet.
        body: The body of water that it stands in.
    """

    arc: Arc
    straight: bool = False
    body: str = "pool"

    @property
    def kind(self) -> str:
        """Kind of its surface."""
        return "corner fillet" if self.straight else "corner cove"

    @property
    def piece(self) -> Arc | Line:
        """What it is in plan."""
        if not self.straight:
            return self.arc
        return Line(*self.arc.at(np.array([0.0, 1.0])))

    @property
    def girth(self) -> float:
        """Its length in plan [m]."""
        if self.straight:
            return 2.0 * self.arc.radius * math.sin(abs(self.arc.sweep) / 2.0)
        return self.arc.radius * abs(self.arc.sweep)

    @property
    def section(self) -> float:
        """Area in plan between it and the bare corner [m2]."""
        turn = abs(self.arc.sweep)
        leg = self.arc.radius * math.tan(turn / 2.0)
        form: Form = "straight" if self.straight else "round"
        size = leg if self.straight else self.arc.radius
        return float(section(form, size, np.array([math.pi - turn])).area[0])

    @property
    def middle(self) -> Floats:
        """Its middle (2,) [m]."""
        found: Floats = self.piece.at(np.array([0.5]))[0]
        return found

    def holds(self, ends: Floats) -> Bools:
        """Return which edges (k, 2, 2) lie on it in plan [m]."""
        away = ends - self.arc.centre
        half = self.arc.sweep / 2.0
        along = unit(math.degrees(self.arc.start + half))
        if self.straight:
            off = away @ along - self.arc.radius * math.cos(half)
        else:
            off = np.hypot(away[..., 0], away[..., 1]) - self.arc.radius
        within = np.abs(turn_between(along[None], away.mean(axis=1))) < abs(half)
        found: Bools = within & (np.abs(off).max(axis=1) < ON_ROUND)
        return found
