"""The cove about an outside plan corner over a sloping floor.

The ball swings about the corner's vertical edge while the floor makes it rise or sink. Its
canal then folds over itself close to the edge, where several places of the ball compete; the cove
is what the ball leaves: at each plan point the **lowest** underside of all its places, on both
walls and on the way between. Columns run straight in plan from the corner to the floor contact,
so the plan stays one to one, and heights come from that lowest underside.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..arrays import Floats
from .canal import Canal
from .path import Side, about_corner

PLACES = 80
"""Places of the ball looked at in the swing."""

APART = 0.02
"""[-] Share of a radius by which places on the walls stand apart."""

BESIDE = 2.0
"""[-] So many radii beside the corner the cove is what the swing leaves."""

REACH = 2.5
"""[-] So many radii beside the corner the ball is looked at."""


@dataclass(frozen=True)
class Swing:
    """The ball's way about one outside corner, over one piece of the floor carried on.

    Args:
        canal: The ball on its floor.
        side: Both walls and the pivot between them, 0 where that begins.
        pivot: Parameter at which it ends [m].
        piece: The piece.
        touch: How far off the corner a column stands on either wall [m].
    """

    canal: Canal
    side: Side
    pivot: float
    piece: int
    touch: float

    @classmethod
    def about(cls, canal: Canal, sides: tuple[Side, Side, Side], piece: int, touch: float) -> Swing:
        """Return the swing between two sides, the pivot in their middle."""
        return cls(canal, about_corner(*sides), sides[1].length, piece, touch)

    def on(self, piece: int) -> Swing:
        """Return the same over another piece of the floor."""
        return replace(self, piece=piece)

    @cached_property
    def radius(self) -> float:
        """The ball's radius at the corner [m]."""
        return float(self.canal.radius_at(self.side.at(np.zeros(1))[0]).item())

    def off(self, s: Floats | float) -> Floats:
        """Return how many radii parameters (...) lie off the pivot [-]."""
        found: Floats = np.maximum(np.maximum(np.negative(s), s - self.pivot), 0.0) / self.radius
        return found

    @cached_property
    def _balls(self) -> tuple[Floats, Floats]:
        """Places of the ball's centre (k, 3), and its radius there (k,) [m]."""
        far = REACH * self.radius
        count = round(REACH / APART)
        s = np.concatenate([
            np.linspace(max(-far, float(self.side.s[0])), 0.0, count),
            np.linspace(0.0, self.pivot, PLACES),
            np.linspace(self.pivot, min(self.pivot + far, self.side.length), count),
        ])  # fmt: skip
        p, n = self.side.at(s)
        radii = np.broadcast_to(self.canal.radius_at(p)[..., 0], len(p))
        return self.canal.centre(p, n, self.piece), radii

    def underside(self, xy: Floats) -> Floats:
        """Return the lowest underside of the ball over plan points (..., 2) [m]."""
        centres, radii = self._balls
        x, c = xy.reshape(-1, 2) - centres[0, :2], centres[:, :2] - centres[0, :2]
        drop = 2.0 * x @ c.T + (radii**2 - np.sum(c**2, axis=1)) - np.sum(x**2, axis=1)[:, None]
        under = np.where(drop >= 0.0, centres[:, 2] - np.sqrt(np.maximum(drop, 0.0)), np.inf)
        found: Floats = under.min(axis=1).reshape(xy.shape[:-1])
        return found

    def over(self, xy: Floats) -> Floats:
        """Return the height of the cove, and of its floor off it, over plan points (..., 2) [m]."""
        under = self.underside(xy)
        return np.where(np.isfinite(under), under, self.canal.floor.height_of(xy, self.piece))

    def foot(self, s: Floats) -> Floats:
        """Return where the ball touches the floor at parameters (...), (..., 3) [m]."""
        return self.canal.contact(*self.side.at(s), self.piece)

    def height(self, s: Floats | float) -> Floats:
        """Return the height of the ball's centre at parameters (...) [m]."""
        return self.canal.centre(*self.side.at(np.asarray(s)), self.piece)[..., 2]

    @cached_property
    def edge_height(self) -> float:
        """Height of the cove's vertex on the corner's edge [m]."""
        return float(self.height(np.array([0.0, self.pivot])).mean())

    def points(self, s: Floats, share: Floats) -> Floats:
        """Return points of sections (..., 3), straight in plan; parameters and shares broadcast.

        The corner's own vertex stands half way between the ball's heights on both walls.

        Args:
            s: (...) parameter [m].
            share: (...) angle from the wall contact as a share of the section's.
        """
        p, n = self.side.at(s)
        phi, foot = self.canal.opening(p, n, self.piece), self.foot(s)
        out = ((1.0 - np.cos(share * phi)) / (1.0 - np.cos(phi)))[..., None]
        xy = p + out * (foot[..., :2] - p)
        z = self.underside(xy)
        on_wall = np.where(self.off(s) > 0.0, self.height(s), self.edge_height)
        z = np.where(share == 0.0, on_wall, z)
        z = np.where(np.isfinite(z) & (share < 1.0), z, foot[..., 2])
        return np.concatenate([xy, z[..., None]], axis=-1)

    def share_of(self, xy: Floats, s: Floats) -> Floats:
        """Return the shares (k,) at which the sections at (k,) run through plan points (k, 2)."""
        p, n = self.side.at(s)
        phi, foot = self.canal.opening(p, n, self.piece), self.foot(s)
        out = np.hypot(*(xy - p).T) / np.hypot(*(foot[:, :2] - p).T)
        found: Floats = np.arccos(np.maximum(1.0 - out * (1.0 - np.cos(phi)), -1.0)) / phi
        return found
