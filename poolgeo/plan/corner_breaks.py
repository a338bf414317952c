"""Where two coves meet over a break of the floor at an outside plan corner.

There the seam may lie on one wall, in the pivot or on the other wall, and run from one into the
next. So both walls and the pivot are taken as one side (`Swing`). Each cove is a height over the
plan; the seam is where both are equally high, found ring by ring along the cove that reaches out
less far on the floor. Either cove ends there in a **patch**: rows of points, each as far as the
seam, from a plain section on its wall.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .breaks import NO_FLAP, on_break
from .curves import Floats
from .mitre import TAIL, NoMitreError, Patch, zipped
from .swing import Swing
from .tolerances import CROWD
from .triangles import triangulate

LOOKS, ROUNDS = 49, 5
"""Places looked at for where two things are equal, and how often, ever closer."""

WIDTH = 1.5
"""[-] So many radii to either side of where the ball changes pieces the seam is looked for."""

NO_TAIL = 5e-4
"""[m] Two coves whose feet stand nearer to each other than this end in one point."""

CLOSE = 1.2
"""[-] So many radii beside a corner the ball changes pieces at the corner."""

MARGIN = 0.25
"""[-] So many radii before the seam, and before the corner, the plain section stands."""


@dataclass(frozen=True)
class Seam:
    """Where two coves meet.

    Args:
        points: (k, 3) from the wall to the floor [m].
        s: (k,) their parameters on one of the coves [m].
        share: (k,) their shares of its section.
        tail: How many of the last lie in the other's floor.
        flap: Where its floor goes on beyond the seam, the parameter at which its floor contact
            crosses the break line [m].
    """

    points: Floats
    s: Floats
    share: Floats
    tail: int = 0
    flap: float | None = None


def seams_at(swings: tuple[Swing, Swing], at: float, rings: int) -> tuple[Seam, Seam]:
    """Return the seam of two coves as either of them sees it.

    Args:
        swings: The ball over the piece before the break, and after it.
        at: Where it goes over from one to the other [m].
        rings: J, parts of the section.

    Returns:
        As the cove before the break sees it, and as that after it does.

    `NoMitreError` is raised where they do not meet near there.
    """
    canal, side = swings[0].canal, swings[0].side
    pieces = (swings[0].piece, swings[1].piece)
    radius = float(canal.radius_at(swings[0].corner)[0])
    window = (
        max(min(at, 0.0) - WIDTH * radius, float(side.s[0])),
        min(max(at, swings[0].pivot) + WIDTH * radius, side.length),
    )
    (start,), _ = side.at(np.array([at]))

    def off_break(swing: Swing) -> Callable[[Floats], Floats]:
        return lambda s: canal.floor.off_break(swing.points(s, np.ones(1))[..., :2], pieces)[0]

    feet = [_root(off_break(swing), window, at) for swing in swings]
    ends = [swing.points(np.array([s]), np.ones(1))[0] for swing, s in zip(swings, feet)]
    reach = [float(np.hypot(*(end[:2] - start))) for end in ends]
    low = int(reach[1] < reach[0])  # the cove that reaches out less far on the floor
    own, other = swings[low], swings[1 - low]

    def floor_of(xy: Floats, swing: Swing) -> Floats:
        return canal.floor.height_of(xy, swing.piece)

    grid = np.linspace(0.0, 1.0, rings + 1)
    tail = TAIL if reach[1 - low] - reach[low] > NO_TAIL and not canal.straight else 0
    s, at_other, share, points = [at], [at], [0.0], []
    for ring in grid[1:].tolist() if tail else grid[1:-1].tolist():

        def over(x: Floats, ring: float = ring) -> Floats:
            found = own.points(x, np.full(1, ring))
            under = other.underside(found[..., :2])
            return found[..., 2] - np.where(
                np.isfinite(under), under, floor_of(found[..., :2], other)
            )

        s.append(_root(over, window, s[-1]))
        point = own.points(np.array(s[-1:]), np.full(1, ring))[0]
        points.append(point)
        at_other.append(_root(other.turn_to(point[:2]), window, s[-1]))
        share.append(other.share_of(point[:2], at_other[-1]))
    for ring in np.linspace(share[-1], 1.0, tail + 1)[1:].tolist():

        def above(x: Floats, ring: float = ring) -> Floats:
            found = other.points(x, np.full(1, ring))
            return found[..., 2] - floor_of(found[..., :2], own)

        at_other.append(_root(above, window, at_other[-1]))
        points.append(other.points(np.array(at_other[-1:]), np.full(1, ring))[0])
        share.append(ring)
    if tail:
        at_other[-1], share[-1] = feet[1 - low], 1.0
    else:  # both end at one point on the floor
        s.append(feet[low])
        at_other.append(feet[1 - low])
        share.append(1.0)
        points.append((ends[0] + ends[1]) / 2.0)
    points[-1] = on_break(canal.floor, points[-1], pieces)
    if np.any(np.diff(share) <= 0.0):
        raise NoMitreError
    heights = [swings[0].height(np.array(min(at, 0.0))), swings[1].height(np.array(max(at, own.pivot)))]
    seam = np.vstack([[*start, float(np.mean(heights))], *points])
    over_break = np.abs(canal.floor.off_break(seam[rings:, :2], pieces)[0])
    flap = None
    if over_break.max() < NO_FLAP:
        seam[rings:, 2] = floor_of(seam[rings:, :2], own)
    elif tail and not canal.floor.creases.get((min(pieces), max(pieces)), True):
        flap = feet[low]
    found = {
        low: Seam(seam if flap is not None else seam[: rings + 1], np.array(s), grid, flap=flap),
        1 - low: Seam(seam, np.array(at_other), np.array(share), 0 if flap is not None else tail),
    }
    return found[0], found[1]


def _root(value: Callable[[Floats], Floats], window: tuple[float, float], near: float) -> float:
    """Return where a function changes sign, the place nearest to a guess.

    Raises:
        NoMitreError: Nowhere.
    """
    low, high = window
    for _ in range(ROUNDS):
        s = np.linspace(low, high, LOOKS)
        v = value(s)
        i = np.flatnonzero((v[1:] > 0.0) != (v[:-1] > 0.0))
        if not len(i):
            raise NoMitreError
        k = int(i[np.argmin(np.abs((s[i] + s[i + 1]) / 2.0 - near))])
        low, high = float(s[k]), float(s[k + 1])
    return low + (high - low) * float(v[k] / (v[k] - v[k + 1]))


def patch_of(swing: Swing, seam: Seam, column: Floats, at: float) -> Patch:
    """Return what of a cove lies between a plain section and a seam.

    Args:
        swing: The ball about the corner.
        seam: The seam as this cove sees it.
        column: (J + 1, 3) the section [m].
        at: Its parameter [m].
    """
    way = 1.0 if at < seam.s.min() else -1.0  # the seam lies ahead of the section, or behind it
    stop, least = way * seam.s, float(np.min(way * seam.s))
    places = np.append(swing.side.s, [-swing.touch, swing.pivot + swing.touch])
    if seam.flap is not None:
        places = np.append(places, seam.flap)
    across = np.unique(way * places)
    across = across[(across > way * at + CROWD) & (across < stop.max())]
    if not len(across) or across[0] > least - CROWD:
        across = np.concatenate([[(way * at + least) / 2.0], across])
    cells = swing.points(way * across, seam.share[:, None])
    shape = cells.shape[:2]
    number = len(column) + np.arange(shape[0] * shape[1]).reshape(shape)
    ends = len(column) + number.size + np.arange(len(seam.points))
    vertices = np.vstack([column, cells.reshape(-1, 3), seam.points])
    rows, places_of = [], []
    for j in range(len(number)):
        kept = [int(ends[j])]
        for k in range(int(np.searchsorted(across, stop[j])) - 1, -1, -1):
            apart = np.hypot(*(vertices[number[j, k], :2] - vertices[kept[-1], :2]))
            if k == 0 or not 0.0 < apart < CROWD or way * across[k] == seam.flap:
                kept.append(int(number[j, k]))
        rows.append(np.array(kept[::-1]))
        on = (rows[-1][:-1] - len(column)) % shape[1]
        places_of.append(np.append(across[on], stop[j]))
    triangles = [zipped(np.arange(len(column)), np.linspace(0.0, 1.0, len(column)), number[:, 0],
                        seam.share)]  # fmt: skip
    triangles += [
        zipped(rows[j + 1], places_of[j + 1], rows[j], places_of[j]) for j in range(len(rows) - 1)
    ]
    floor = np.concatenate([[len(column) - 1], rows[-1], ends[len(rows) - 1 - seam.tail:-1][::-1]])
    found = np.vstack(triangles)[:, :: int(way)]
    if seam.flap is not None:
        on = int(np.flatnonzero(places_of[-1] == way * seam.flap)[0])
        flap = np.concatenate([rows[-1][on:], ends[len(rows):]])
        if way < 0.0:
            flap = flap[::-1]
        found = np.vstack([found, triangulate(vertices[:, :2], [[flap]], np.array([True]))])
        floor = floor[: on + 2]
    wall = np.concatenate([[0], rows[0]])
    used, renumbered = np.unique(found, return_inverse=True)
    fresh = np.zeros(len(vertices), dtype=np.int64)
    fresh[used] = np.arange(len(used))
    return Patch(vertices[used], renumbered.reshape(-1, 3), fresh[wall][:: int(way)],
                 fresh[floor][:: int(way)], swing.side.at(stop[:1] * way))
