r"""The rolling ball: its centre path and its section, for any wall point and any floor.

The ball of radius r touches a vertical wall at a point p (inward plan normal n) and the floor. Its
centre stands at plan p + r n, so high that it rests on the floor. The section is an arc about the
centre, from the wall contact (angle 0) to the floor contact (angle phi). ::

    |          angle 0: wall contact, height of the centre
    |<- r ->c
    |\      |
      `-.___|_ angle phi: floor contact, centre - r N

Over each piece of the floor the ball rolls on that piece's whole surface. Where two pieces meet, at
a toe or at a brow, their coves meet in a mitre: the floor's crease runs on through the cove up to
the wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .floor import Floor, Profile

WIDE = 0.02
"""[m] Breaks are looked for this much beyond the radius."""

STEPS = 60
"""Most steps in which the ball comes to rest on a curved floor."""

AT_REST = 1e-12
"""[m] It rests when its contact moves by less."""


@dataclass(frozen=True)
class Batter:
    """How a wall leans: inwards, the lower the more.

    Args:
        lean: Run over fall; 0 is plumb [-].
        top: Height at which it stands at its outline [m].
    """

    lean: float = 0.0
    top: float = 0.0

    @property
    def slant(self) -> float:
        """Length of the wall's face over its height [-]."""
        return math.hypot(1.0, self.lean)


PLUMB = Batter()
"""A wall without batter."""


@dataclass(frozen=True)
class Size:
    """Radius of a ball that may grow with the depth of the bare floor at the wall.

    Args:
        radius: Up to the first depth [m].
        deep: From the second depth on [m].
        heights: Height of the floor at the first depth and at the second one [m]; None where the
            radius is the same everywhere.
    """

    radius: float
    deep: float = 0.0
    heights: tuple[float, float] | None = None

    @property
    def largest(self) -> float:
        """The largest radius [m]."""
        return self.radius if self.heights is None else max(self.radius, self.deep)

    def at(self, height: Floats) -> Floats:
        """Return the radius where the floor at the wall has a height (...) [m]."""
        if self.heights is None:
            return np.full(np.shape(height), self.radius)
        first, second = self.heights
        share = np.clip((first - height) / (first - second), 0.0, 1.0)
        found: Floats = self.radius + share * (self.deep - self.radius)
        return found

    def times(self, factor: float) -> Size:
        """Return a size that is smaller or larger by a factor."""
        return Size(self.radius * factor, self.deep * factor, self.heights)


class PiecesOverlapError(ValueError):
    """A floor piece is too short for the ball to touch it."""


@dataclass(frozen=True)
class Canal:
    """A ball of a radius on a floor.

    Args:
        floor: The floor.
        size: Its radius.
        batter: How the wall leans.
        bounds: (pieces - 1,) on a profile, u at which the ball goes over from one piece to the
            next [m].
        straight: Whether the section is the chord from contact to contact: a fillet.
    """

    floor: Floor
    size: Size
    batter: Batter
    bounds: Floats
    straight: bool = False

    @classmethod
    def on(
        cls, floor: Floor, size: Size, batter: Batter = PLUMB, *, straight: bool = False
    ) -> Canal:
        """Return the ball on the floor.

        Args:
            floor: The floor.
            size: Its radius.
            batter: How the wall leans.
            straight: Whether the section is the chord from contact to contact.

        Returns:
            The ball.

        Raises:
            PiecesOverlapError: A floor piece between two breaks is too short for the ball.
        """
        if not isinstance(floor, Profile):
            return cls(floor, size, batter, np.zeros(0), straight)
        radius = size.largest
        lift = floor.intercepts + radius * np.hypot(1.0, floor.slopes)
        bounds = -np.diff(lift) / np.diff(floor.slopes) if len(floor.bends) else np.zeros(0)
        if np.any(np.diff(bounds) <= 0.0):
            msg = "a piece of the floor between two break lines is too short for it"
            raise PiecesOverlapError(msg)
        return cls(floor, size, batter, bounds, straight)

    @property
    def radius(self) -> float:
        """The largest radius [m]."""
        return self.size.largest

    @property
    def is_plain(self) -> bool:
        """Whether it rolls on a profile at a plumb wall, its radius the same everywhere."""
        return isinstance(self.floor, Profile) and self.is_even and not self.batter.lean

    @property
    def is_even(self) -> bool:
        """Whether the radius is the same everywhere."""
        return self.size.heights is None

    def radius_at(self, p: Floats) -> Floats:
        """Return the radius at wall points (..., 2) as (..., 1) [m]."""
        if self.size.heights is None:
            return np.array([self.size.radius])
        return self.size.at(self.floor.height(p))[..., None]

    def over(self, p: Floats, n: Floats, piece: int | None = None) -> Floats:
        """Return the plan points (..., 2) of the centre beside wall points [m].

        Args:
            p: (..., 2) wall points [m].
            n: (..., 2) inward unit normals there.
            piece: The floor piece that it rolls on, which counts at a wall that leans; without,
                it is taken to roll on the floor as it lies under it.
        """
        radius = self.radius_at(p)
        found: Floats = p + radius * n
        if not self.batter.lean:
            return found
        # the contact on a curved floor moves while the centre does: both come to rest together
        upright = None if piece is None else self.floor.upright_of(piece)
        normal = np.array([0.0, 0.0, 1.0]) if upright is None else upright
        for _ in range(STEPS):
            if piece is None:
                z = self.floor.height(found)[..., None] + radius
            else:
                if upright is None:
                    normal = self.floor.normal_of(found - radius * normal[..., :2], piece)
                z = self.floor.height_of(found - radius * normal[..., :2], piece)[..., None]
                z = z + radius * normal[..., 2:]
            off = self.batter.lean * (self.batter.top - z) + radius * self.batter.slant
            before, found = found, p + off * n
            if np.abs(found - before).max(initial=0.0) < AT_REST:
                break
        return found

    @cached_property
    def _breaks(self) -> tuple[shapely.STRtree, Ints]:
        """A tree of the break lines, and the pieces (k, 2) beside each, smaller first."""
        segments, pieces = self.floor.breaks
        return shapely.STRtree(shapely.linestrings(segments)), np.sort(pieces, axis=1)

    def breaks_near(self, o: Floats, reach: float) -> tuple[Ints, Ints]:
        """Return which points (k, 2) lie near which breaks.

        Args:
            o: [m].
            reach: How near [m].

        Returns:
            (m,) the point, and (m, 2) the two pieces, smaller first, once for each.
        """
        tree, pieces = self._breaks
        at, on = tree.query(shapely.points(o), predicate="dwithin", distance=reach)
        found = np.unique(np.column_stack([at, pieces[on]]), axis=0)
        return found[:, 0], found[:, 1:]

    def breaks_along(self, path: shapely.LineString) -> list[tuple[int, int]]:
        """Return the pieces of each break that a path of the centre comes near, smaller first."""
        tree, pieces = self._breaks
        on = tree.query(path, predicate="dwithin", distance=self.radius + WIDE)
        near = {(a, b) for a, b in pieces[on].tolist()}
        return sorted(near.intersection(self.floor.creases))

    def piece(self, p: Floats, n: Floats) -> Ints:
        """Return the floor piece that the ball rolls on beside wall points (..., 2)."""
        o = self.over(p, n)
        if isinstance(self.floor, Profile) and self.is_plain:
            return np.searchsorted(self.bounds, self.floor.along(o))
        flat, radii = o.reshape(-1, 2), np.broadcast_to(self.radius_at(p), (*o.shape[:-1], 1))
        radii = radii.reshape(-1, 1)
        found = self.floor.piece(flat).copy()
        at, pairs = self.breaks_near(flat, self.radius)
        for a, b in np.unique(pairs, axis=0).tolist():
            if (a, b) not in self.floor.creases:
                continue
            mine = at[(pairs == (a, b)).all(axis=1)]
            mine = mine[(found[mine] == a) | (found[mine] == b)]
            one, other = (self.rest(flat[mine], radii[mine], k)[0] for k in (a, b))
            higher = one > other
            # in a toe it rests on the piece that holds it up higher, on a brow on the lower
            found[mine] = np.where(higher == self.floor.creases[a, b], a, b)
        return found.reshape(o.shape[:-1])

    def rest(self, o: Floats, radius: Floats, piece: int) -> tuple[Floats, Floats]:
        """Return how the ball rests on a piece of the floor with its centre over plan points.

        Args:
            o: (..., 2) [m].
            radius: (..., 1) [m].
            piece: The floor piece.

        Returns:
            (...) height of the centre [m], and the floor's unit normal at the contact: (..., 3), or
            (3,) where it is the same everywhere.
        """
        upright = self.floor.upright_of(piece)
        if upright is not None:
            x = o - radius * upright[:2]
            z: Floats = self.floor.height_of(x, piece) + radius[..., 0] * upright[2]
            return z, upright
        normal = self.floor.normal_of(o, piece)
        x = o - radius * normal[..., :2]
        for _ in range(STEPS):
            normal = self.floor.normal_of(x, piece)
            before, x = x, o - radius * normal[..., :2]
            if np.abs(x - before).max(initial=0.0) < AT_REST:
                break
        return self.floor.height_of(x, piece) + radius[..., 0] * normal[..., 2], normal

    def centre(self, p: Floats, n: Floats, piece: int) -> Floats:
        """Return the ball's centre (..., 3) [m].

        Args:
            p: (..., 2) wall points [m].
            n: (..., 2) inward unit normals there.
            piece: The floor piece that it rolls on.
        """
        o = self.over(p, n, piece)
        return np.concatenate([o, self.rest(o, self.radius_at(p), piece)[0][..., None]], axis=-1)

    def contact(self, p: Floats, n: Floats, piece: int) -> Floats:
        """Return the floor contact (..., 3) beside wall points [m]."""
        o, radius = self.over(p, n, piece), self.radius_at(p)
        z, normal = self.rest(o, radius, piece)
        found: Floats = np.concatenate([o, z[..., None]], axis=-1) - radius * normal
        return found

    def opening(self, p: Floats, n: Floats, piece: int) -> Floats:
        """Return phi, the angle from wall contact to floor contact [rad]."""
        _, normal = self.rest(self.over(p, n, piece), self.radius_at(p), piece)
        return self._angle(n, normal)

    def points(self, p: Floats, n: Floats, piece: int, share: Floats) -> Floats:
        """Return points of the section (..., 3); wall points and shares are broadcast.

        Args:
            p: (..., 2) wall points [m].
            n: (..., 2) inward unit normals there.
            piece: The floor piece that the ball rolls on.
            share: (...) angle from the wall contact as a share of phi; of a fillet, the way from
                there as a share of its face.
        """
        o, radius = self.over(p, n, piece), self.radius_at(p)
        z, normal = self.rest(o, radius, piece)
        phi = self._angle(n, normal)
        if self.straight:
            to_floor = np.broadcast_to(share, np.broadcast_shapes(phi.shape, np.shape(share)))
            to_wall = 1.0 - to_floor
        else:
            sine, angle = np.sin(phi), share * phi
            to_wall, to_floor = np.sin(phi - angle) / sine, np.sin(angle) / sine
        to_wall = radius * to_wall[..., None] / self.batter.slant
        to_floor = radius * to_floor[..., None]
        found = np.empty((*to_floor.shape[:-1], 3))
        found[..., :2] = o - to_floor * normal[..., :2] - to_wall * n
        found[..., 2] = z - to_floor[..., 0] * normal[..., 2] - to_wall[..., 0] * self.batter.lean
        return found

    def share_at(self, up: Floats, phi: Floats) -> Floats:
        """Return where a section stands as high above the floor as an arc does.

        Args:
            up: (...) the arc's angle from the floor contact [rad].
            phi: (...) of the section [rad].

        Returns:
            (...) share of the section from the wall contact on.
        """
        left = (1.0 - np.cos(up)) / (1.0 - np.cos(phi)) if self.straight else up / phi
        found: Floats = np.clip(1.0 - left, 0.0, 1.0)
        return found

    def _angle(self, n: Floats, normal: Floats) -> Floats:
        """Return the angle between the normals of the wall's face and of the floor [rad].

        Args:
            n: (..., 2) the wall's inward unit normals in plan.
            normal: (..., 3) or (3,) the floor's unit normals.
        """
        cosine = n[..., 0] * normal[..., 0] + n[..., 1] * normal[..., 1]
        if self.batter.lean:
            cosine = (cosine + self.batter.lean * normal[..., 2]) / self.batter.slant
        phi: Floats = np.arccos(np.minimum(np.maximum(cosine, -1.0), 1.0))
        return phi
