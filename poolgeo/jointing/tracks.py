"""Joints as tracks over the ground: planned, drawn, or those of the structure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ..arrays import Floats, Ints
from ..design.joints import Joint
from ..errors import Key
from ..plan.keys import are_in
from ..plan.tolerances import GRID
from ..surface.joints import under
from ..surface.slices import Straight, slice_at
from .ground import Ground
from .planes import Section, section_at

TrackWhat = Literal["over the structure", "intermediate", "drawn"]


@dataclass(frozen=True)
class Track:
    """A joint that runs over the ground in one plane.

    Args:
        number: ``J1`` over the structure's, ``M1`` of the finish.
        name: For people.
        what: Why it is there.
        key: Key of the pool file that it comes from.
        points: (n, 3) [m].
        ends: (k, 2) segments between these.
        triangles: (k,) the triangle of the ground that each lies in.
        keys: (n,) key of the mesh edge that each point lies on; -1 for the end of what was drawn.
        off: How far to one side of its plane points (..., 3) lie [m].
        axis: Which coordinate of the frame it holds; None where it follows no axis.
        at: Its value there [m].
        width: As it was drawn [m]; 0 where it is still to be found.
        span: Where it was drawn from and to; None where it goes from rim to rim.
    """

    number: str
    name: str
    what: TrackWhat
    key: Key
    points: Floats
    ends: Ints
    triangles: Ints
    keys: Ints
    off: Callable[[Floats], Floats]
    axis: int | None = None
    at: float = 0.0
    width: float = 0.0
    span: Straight | None = None

    def turns(self, seams: Ints) -> Ints:
        """Return its points (k,) at seams of the ground: where it ends or changes surface.

        Args:
            seams: Keys of mesh edges.
        """
        used = np.unique(self.ends)
        return used[are_in(self.keys[used], seams) | (self.keys[used] < 0)]

    @property
    def middles(self) -> Floats:
        """(k, 3) The middle of each segment [m]."""
        found: Floats = self.points[self.ends].mean(axis=1)
        return found

    @property
    def tips(self) -> Floats:
        """Where it ends (t, 3) [m]."""
        points, count = np.unique(self.ends, return_counts=True)
        found: Floats = self.points[points[count == 1]]
        return found

    def cuts(self, start: Floats, end: Floats) -> tuple[Ints, Floats]:
        """Return which segments its plane cuts, as far as it was drawn.

        Args:
            start: (k, 3) where segments start, and
            end: (k, 3) where they end [m].

        Returns:
            (c,) segments, and (c,) the share of each up to the cut.
        """
        one, other = self.off(start), self.off(end)
        rows = np.flatnonzero((one > GRID / 2.0) != (other > GRID / 2.0))
        share = np.clip(one[rows] / (one[rows] - other[rows]), 0.0, 1.0)
        if self.span is not None:
            t = self.span.along(start[rows] + share[:, None] * (end[rows] - start[rows]))
            within = (t > -GRID) & (t < self.span.length + GRID)
            rows, share = rows[within], share[within]
        return rows, share


def axis_track(
    ground: Ground, section: Section, number: str, what: TrackWhat, key: Key, width: float = 0.0,
    name: str = "",
) -> Track:  # fmt: skip
    """Return a track in a plane of the frame.

    Args:
        ground: What it runs over.
        section: The part of a section that it follows.
        number: Of the joint.
        what: Why it is there.
        key: Key of the pool file that it comes from.
        width: Of the joint, if that is known [m].
        name: Of the joint; its number where there is none.

    Returns:
        The track.
    """
    axis, at, frame = section.axis, section.at, ground.frame

    def off(points: Floats) -> Floats:
        found: Floats = frame.coordinates(points)[..., axis] - at
        return found

    place = section.points, section.ends, section.triangles, section.keys
    return Track(number, name or f"joint {number}", what, key, *place, off, axis, at, width)


def structural_tracks(ground: Ground) -> list[tuple[Joint, Track]]:
    """Return the joints of the structure with the tracks over them, as far as there is finish."""
    whole = ground.model.surface
    own = np.full(len(whole.triangles), -1)
    own[ground.rows] = np.arange(len(ground.rows))
    found = []
    for k, joint in enumerate(ground.model.design.pool.joints):
        line = Straight.of(joint.start, joint.end)
        cut = slice_at(whole, line.off(whole.vertices))
        kept = under(cut, line) & (own[cut.triangles] >= 0)
        axis, at = _axis(ground, line)
        number = f"J{k + 1}"
        name, lies = joint.name or f"joint {number}", own[cut.triangles[kept]]
        place = cut.points, cut.ends[kept], lies, cut.keys, line.off
        key: Key = ("joints", k)
        found.append((joint, Track(number, name, "over the structure", key, *place, axis, at)))
    return [(joint, track) for joint, track in found if len(track.ends)]


def straight_track(
    ground: Ground, line: Straight, number: str, name: str, key: Key, width: float
) -> Track:
    """Return the track of a joint that was drawn, from its start to its end.

    Args:
        ground: What it runs over.
        line: As it was drawn.
        number: Of the joint.
        name: Of the joint.
        key: Key of the pool file.
        width: Of the joint [m].

    Returns:
        The track; without segments where the line misses the ground.
    """
    cut = slice_at(ground.mesh, line.off(ground.mesh.vertices))
    whole = Track(
        number, name, "drawn", key, cut.points, cut.ends, cut.triangles, cut.keys, line.off,
        *_axis(ground, line), width,
    )  # fmt: skip
    return _clipped(whole, line)


def level_track(
    ground: Ground, height: float, number: str, name: str, key: Key, width: float
) -> Track:
    """Return the track of a joint that runs level along walls.

    Args:
        ground: What it runs over.
        height: Of the joint [m].
        number: Of the joint.
        name: Of the joint.
        key: Key of the pool file.
        width: Of the joint [m].

    Returns:
        The track.
    """
    section = section_at(ground, 2, height)
    section = section.of(np.flatnonzero(ground.stands[section.triangles]))
    return axis_track(ground, section, number, "drawn", key, width, name)


def _axis(ground: Ground, line: Straight) -> tuple[int | None, float]:
    """Return which coordinate of the frame a plan line holds, if any, and its value there [m]."""
    axes = ground.frame.axes[:2, :2]
    along = np.abs(axes @ line.way)
    axis = int(np.argmin(along))
    if along[axis] > 1e-6:
        return None, 0.0
    return axis, float(ground.frame.coordinates(np.array([*line.start, 0.0]))[axis])


def _clipped(track: Track, line: Straight) -> Track:
    """Return what of a track lies between the ends of a line: its segments are cut there."""
    start, end = track.points[track.ends[:, 0]], track.points[track.ends[:, 1]]
    t, u = line.along(start), line.along(end)
    low, high = np.minimum(t, u), np.maximum(t, u)
    rows = np.flatnonzero((high > 0.0) & (low < line.length))
    step = np.where(np.abs(u - t) > GRID, u - t, 1.0)[rows]
    flat = np.abs(u - t)[rows] <= GRID
    points, ends = [track.points], track.ends[rows].copy()
    count = len(track.points)
    for column, own in ((0, t[rows]), (1, u[rows])):
        beyond = np.flatnonzero(((own < 0.0) | (own > line.length)) & ~flat)
        share = (np.clip(own, 0.0, line.length) - t[rows])[beyond] / step[beyond]
        cut = start[rows][beyond] + share[:, None] * (end - start)[rows][beyond]
        ends[beyond, column] = count + np.arange(len(beyond))
        points.append(cut)
        count += len(beyond)
    every = np.concatenate(points)
    keys = np.concatenate([track.keys, np.full(len(every) - len(track.keys), -1)])
    return replace(
        track, points=every, ends=ends, triangles=track.triangles[rows], keys=keys, span=line
    )
