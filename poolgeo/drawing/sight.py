"""What is seen from afar along one way, and what stands in front of it.

Places are (u, v, depth): two across the way of sight, and how far along it [m].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints

IN_FRONT = 2e-3
"""[m] What stands farther in front of an edge than this hides it."""

CLEAR = 1e-4
"""[m] A face hides what lies farther inside its outline than this."""

EDGE_ON = 1e-10
"""[m2] Twice the least area of a face that is not seen on edge."""


@dataclass(frozen=True)
class Meetings:
    """Where lines of sight meet faces.

    Args:
        which: (k,) number of the line of sight.
        face: (k,) number of the face.
        depth: (k,) how far along it [m].
    """

    which: Ints
    face: Ints
    depth: Floats


@dataclass(frozen=True)
class Sight:
    """Faces as they are seen along one way.

    Args:
        faces: (m, 3, 3) corners, none of them on edge [m].
        tree: Of their outlines.
    """

    faces: Floats
    tree: shapely.STRtree

    @classmethod
    def of(cls, faces: Floats) -> Sight:
        """Collect faces (m, 3, 3), less those that are seen on edge [m]."""
        kept = faces[np.abs(doubled_areas(faces)) > EDGE_ON]
        low, high = kept[..., :2].min(axis=1), kept[..., :2].max(axis=1)
        return cls(kept, shapely.STRtree(shapely.box(*low.T, *high.T)))

    def meetings(self, places: Floats, clear: float, at: Floats | None = None) -> Meetings:
        """Return where lines of sight meet faces.

        Args:
            places: (k, 2) where they run [m].
            clear: A face counts where it is met farther inside its outline than this [m].
            at: (k, 2) where the depths of the planes of the faces are asked for, if elsewhere.
        """
        which, face = self.tree.query(shapely.points(places))
        a, b, c = (self.faces[face, i] for i in range(3))
        u, v = b - a, c - a
        area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]

        def shares(points: Floats) -> tuple[Floats, Floats]:
            w = points[which] - a[:, :2]
            s = (w[:, 0] * v[:, 1] - w[:, 1] * v[:, 0]) / area
            return s, (u[:, 0] * w[:, 1] - u[:, 1] * w[:, 0]) / area

        s, t = shares(places)
        edge = clear / np.sqrt(np.abs(area))
        inside = (s > edge) & (t > edge) & (s + t < 1.0 - edge)
        if at is not None:
            s, t = shares(at)
        depth = a[:, 2] + s * u[:, 2] + t * v[:, 2]
        return Meetings(which[inside], face[inside], depth[inside])

    def hides(self, points: Floats) -> Bools:
        """Return which points (k, 3) lie behind a face that stands before the eye, at depth 0."""
        hidden = np.zeros(len(points), dtype=bool)
        if len(points) and len(self.faces):
            met = self.meetings(points[:, :2], CLEAR)
            blocks = (met.depth > 0.0) & (met.depth < points[met.which, 2] - IN_FRONT)
            hidden[met.which[blocks]] = True
        return hidden


def doubled_areas(faces: Floats) -> Floats:
    """Return twice the area of each face (m, 3, 3) as it is seen, above 0 where anticlockwise."""
    a, b, c = (faces[:, i, :2] for i in range(3))
    u, v = b - a, c - a
    found: Floats = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    return found
