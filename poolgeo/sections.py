r"""Sections of fillets and arrises between two faces that meet at any angle.

::

    |          phi: angle between the faces, through the material's side that is filled or taken off
    |\         leg: from the corner to where the section meets a face
    | \
    |__\       of a hollow or rounded section: leg = radius / tan(phi / 2)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from .arrays import Floats

Form = Literal["straight", "round"]


@dataclass(frozen=True)
class Section:
    """A section between two faces, at one angle or at several.

    Args:
        leg: From the corner to where it meets a face (...) [m].
        area: What is filled or taken off (...) [m2].
        girth: The way across its face (...) [m].
        reach: How far the centroid of that area lies off the corner (...) [m].
    """

    leg: Floats
    area: Floats
    girth: Floats
    reach: Floats

    @property
    def change(self) -> Floats:
        """How much wider the surface gets: narrower, as a rule (...) [m]."""
        found: Floats = self.girth - 2.0 * self.leg
        return found


def section(form: Form, size: float, phi: Floats) -> Section:
    """Return a section.

    Args:
        form: Straight across, or round: an arc that touches both faces.
        size: Leg of a straight one, radius of a round one [m].
        phi: Angles between the faces, above 0 and below pi (...) [rad].

    Returns:
        Its measures.

    Example:
        >>> item = section("round", 0.1, np.array([np.pi / 2]))  # r^2 (1 - pi / 4)
        >>> item.area.round(9).tolist(), item.girth.round(7).tolist()
        ([0.002146018], [0.1570796])
        >>> section("straight", 0.05, np.array([np.pi / 2])).area.round(9).tolist()
        [0.00125]
    """
    half = np.clip(phi, 1e-3, math.pi - 1e-6) / 2.0
    if form == "straight":
        leg = np.full(np.shape(phi), size)
        area: Floats = size * size * np.sin(half) * np.cos(half)
        return Section(leg, area, 2.0 * size * np.sin(half), 2.0 / 3.0 * size * np.cos(half))
    leg = size / np.tan(half)
    turn = math.pi / 2.0 - half  # half of what the arc turns by
    sector = size * size * turn
    area = size * leg - sector
    # the kite's centroid and the sector's, both from the arc's centre on the bisector
    hub = size / np.sin(half)
    kite = size * leg * (hub + leg * np.cos(half)) / 3.0
    arc = np.sinc(turn / math.pi)  # sin(turn) / turn
    moment = kite - sector * (hub - 2.0 / 3.0 * size * arc)
    reach = np.divide(moment, area, out=np.zeros_like(area), where=area > 0.0)
    return Section(leg, area, 2.0 * size * turn, reach)
