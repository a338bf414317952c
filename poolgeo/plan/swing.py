"""The cove about an outside plan corner over a sloping floor.

The ball swings about the corner's vertical edge while the floor makes it rise or sink. Its
canal then folds over itself close to the edge, where several places of the ball compete; the cove
is what the ball leaves: at each plan point the **lowest** underside of all its places, on both
walls and on the way between. Columns run straight in plan from the corner to the floor contact,
so the plan stays one to one, and heights come from that lowest underside.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from .canal import Canal
from .path import Side

PLACES = 80
"""Places of the ball looked at on each wall and in the swing: a spacing of about r / 50."""


@dataclass(frozen=True)
class Swing:
    """The ball's way about one outside corner.

    Args:
        canal: The ball on its floor.
        corner: (2,) the corner [m].
        centres: (k, 3) places of the ball's centre on both walls and between [m].
        radii: (k,) its radius there [m].
    """

    canal: Canal
    corner: Floats
    centres: Floats
    radii: Floats

    @classmethod
    def about(cls, canal: Canal, before: Side, pivot: Side, after: Side) -> Swing:
        """Return the swing between two sides."""
        r = float(canal.radius_at(pivot.p[0])[0])
        ways = (
            (before, np.linspace(max(before.length - 1.5 * r, 0.0), before.length, PLACES)),
            (pivot, np.linspace(0.0, pivot.length, PLACES)),
            (after, np.linspace(0.0, min(1.5 * r, after.length), PLACES)),
        )
        found, radii = [], []
        for side, s in ways:
            p, n = side.at(s)
            radii.append(np.broadcast_to(canal.radius_at(p)[..., 0], len(p)))
            which = canal.piece(p, n)
            centres = np.zeros((len(p), 3))
            for k in np.unique(which).tolist():
                here = which == k
                centres[here] = canal.centre(p[here], n[here], k)
            found.append(centres)
        return cls(canal, pivot.p[0], np.concatenate(found), np.concatenate(radii))

    def underside(self, xy: Floats) -> Floats:
        """Return the lowest underside of the ball over plan points (..., 2) [m]."""
        flat = xy.reshape(-1, 2)
        reach = np.sum((flat[:, None, :] - self.centres[None, :, :2]) ** 2, axis=2)
        drop = self.radii**2 - reach
        under = np.where(drop >= 0.0, self.centres[:, 2] - np.sqrt(np.maximum(drop, 0.0)), np.inf)
        found: Floats = under.min(axis=1).reshape(xy.shape[:-1])
        return found

    def columns(self, side: Side, s: Floats, piece: int) -> Floats:
        """Return sections (c, J + 1, 3), wall first, straight in plan.

        The corner's own vertex stands half way between the ball's heights on both walls.

        Args:
            side: The pivot, or a side next to it.
            s: (c, J + 1) parameters on the side [m].
            piece: The floor piece that it rolls on there.
        """
        p, n = side.at(s)
        centre = self.canal.centre(p, n, piece)
        phi = self.canal.opening(p, n, piece)
        foot = self.canal.contact(p, n, piece)
        share = np.linspace(0.0, 1.0, s.shape[1])
        out = ((1.0 - np.cos(share * phi)) / (1.0 - np.cos(phi)))[..., None]
        xy = p + out * (foot[..., :2] - p)
        z = self.underside(xy)
        z[:, -1] = foot[:, -1, 2]
        z = np.where(np.isfinite(z), z, foot[..., 2])
        z[:, 0] = self.edge_height if side.pivot else centre[:, 0, 2]
        return np.concatenate([xy, z[..., None]], axis=-1)

    @property
    def edge_height(self) -> float:
        """Height of the cove's vertex on the corner's edge [m]."""
        ends = self.centres[[PLACES, 2 * PLACES - 1], 2]
        return float(ends.mean())
