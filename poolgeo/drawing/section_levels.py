"""Depths, levels and places that a section gives: of floors, walls, seats, water and the slab."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats
from ..surface.kinds import ROUNDED
from .section import Cut, Section

BENDS = 3e-3
"""[-] Floors whose slopes differ by less are one in a section."""

CREASE = 0.1
"""[-] Where slopes differ by more a floor breaks, and does not curve."""

CHORD = 1.0
"""[m] Chords of a curved floor are shorter."""

CHORDS = 3
"""A curve has at least as many bends."""

SLIVER = 5e-3
"""[m] A bend nearer to the one before is none of its own."""

SHORT = 1e-3
"""[m] What is shorter has no dimension; ends of cuts nearer than this meet."""

FLOORS = frozenset({"floor", "basin floor", "channel floor", "spa floor"})
"""Kinds that bodies of water stand on."""

TOPS = frozenset({"wall top", "weir top", "dam wall top", "spillway"})
"""Kinds that walls of concrete end in, at their top."""

SEATS = frozenset({"tread", "bench top", "seat top"})
"""Kinds that people stand and sit on."""


@dataclass(frozen=True)
class Stretch:
    """A floor in a section, as far as it runs on.

    Args:
        body: Of water that stands on it.
        points: (k, 2) where it begins, bends and ends, from left to right [m].
    """

    body: str
    points: Floats


@dataclass(frozen=True)
class DepthTag:
    """A depth to write in a section.

    Args:
        body: Of water that it is a depth of.
        at: Place on the floor (t, z) [m].
        depth: Below the water of that body [m].
    """

    body: str
    at: tuple[float, float]
    depth: float


def floors_of(section: Section) -> Iterator[Stretch]:
    """Yield the floors that a section cuts: patches of one body that meet are one."""
    cuts = [cut for cut in section.cuts if cut.kind in FLOORS]
    for every, cut in _joined(cuts):
        points = every[np.diff(every[:, 0], prepend=-1e9) > 1e-9]
        if len(points) < 2:
            continue
        steps = np.diff(points, axis=0)
        bends = np.abs(np.diff(steps[:, 1] / steps[:, 0])) > BENDS
        bent = points[np.concatenate([[True], bends, [True]])]
        bent = bent[~_in_curve(bent)]
        kept = np.diff(bent[:, 0], prepend=-1e9) > SLIVER
        kept[-1] = True
        yield Stretch(cut.body, bent[kept])


def _in_curve(points: Floats) -> Bools:
    """Return which places of a floor (k,) are chord ends of a curve, and neither end nor extreme.

    A curve is where at least `CHORDS` bends follow each other, slight ones and close together.
    """
    steps = np.diff(points, axis=0)
    slope = steps[:, 1] / steps[:, 0]
    near = steps[:, 0] < CHORD
    smooth = np.zeros(len(points), dtype=bool)
    smooth[1:-1] = (np.abs(np.diff(slope)) < CREASE) & near[1:] & near[:-1]
    edge = np.diff(np.concatenate([[False], smooth, [False]]).astype(np.int8))
    for first, end in zip(np.flatnonzero(edge == 1), np.flatnonzero(edge == -1), strict=True):
        if end - first < CHORDS:
            smooth[first:end] = False
    smooth[1:-1] &= slope[1:] * slope[:-1] > 0.0
    return smooth


def floor_points(section: Section) -> Floats:
    """Return where floors that a section cuts begin, bend or end (k, 2), from left to right [m]."""
    points = np.concatenate([np.zeros((0, 2)), *(item.points for item in floors_of(section))])
    points = points[np.lexsort((points[:, 1], points[:, 0]))]
    fresh = np.any(np.abs(np.diff(points, axis=0, prepend=-1e9)) > SHORT, axis=1)
    kept: Floats = points[fresh]
    return kept


def depth_tags(section: Section, levels: Mapping[str, float]) -> Iterator[DepthTag]:
    """Yield the depths of floors: one in the middle of a level stretch, two at ends of a slope.

    Args:
        section: What is cut.
        levels: That depths of each body are counted from [m].
    """
    for floor in floors_of(section):
        for t, z in _said_at(floor).tolist():
            yield DepthTag(floor.body, (t, z), levels[floor.body] - z)


def _said_at(floor: Stretch) -> Floats:
    """Return the places of a floor whose depth is said (k, 2), from left to right [m]."""
    points = floor.points
    level = np.abs(np.diff(points[:, 1])) <= SHORT
    # a place gets no depth of its own where a level stretch beside it has it
    beside = np.concatenate([[False], level]) | np.concatenate([level, [False]])
    found = np.concatenate([points[~beside], (points[1:] + points[:-1])[level] / 2.0])
    ordered: Floats = found[np.argsort(found[:, 0], kind="stable")]
    return ordered


def room_for_tags(section: Section) -> shapely.Geometry:
    """Return where depths stand at best (t, z): in water, and over floors."""
    high = section.reach[3]
    over = [
        shapely.Polygon([*floor.points.tolist(), (floor.points[-1, 0], high),
                         (floor.points[0, 0], high)])
        for floor in floors_of(section) if floor.points[:, 1].max() < high
    ]  # fmt: skip
    return shapely.union_all([*section.water.values(), *over])


def stations_of(section: Section) -> Floats:
    """Return the faces of all walls at their tops, and where floors bend, from left to right [m].

    Where a floor ends in a cove is no place to set out from: it has none.
    """
    left, _, right, _ = section.reach
    faces = [t for top in _tops(section) for t in (top[0, 0], top[-1, 0])]
    rounded = [cut.points for cut in section.cuts if cut.kind in ROUNDED]
    tangents = np.concatenate([np.zeros((0, 2)), *rounded])
    bends = [point[0] for point in floor_points(section) if not _is_at(point, tangents, SLIVER)]
    every = np.unique(np.round([left, right, *faces, *bends], 4))
    fresh: Floats = every[np.diff(every, prepend=-1e9) > SHORT]
    return fresh


def heights_of(section: Section, levels: Mapping[str, float]) -> list[float]:
    """Return the heights that a section gives, some of them more than once [m].

    Wall tops, water levels, floors, treads and seats; the foot of the concrete, and its underside
    below the deepest and the shallowest floor.

    Args:
        section: What is cut.
        levels: Of the water of each body [m].
    """
    _, low, _, high = section.reach
    found = [low, 0.0, high]
    found += [levels[body] for body, area in section.water.items() if not area.is_empty]
    found += [z for top in _tops(section) for z in (top[0, 1], top[-1, 1])]
    found += floor_points(section)[:, 1].tolist()
    for cut in section.cuts:
        if cut.kind in SEATS:
            found += [float(cut.points[:, 1].min()), float(cut.points[:, 1].max())]
    return [float(z) for z in [*found, *_undersides(section)]]


def _undersides(section: Section) -> Iterator[float]:
    """Yield how high the concrete's foot lies below the deepest and the shallowest floor [m]."""
    places = []
    for floor in floors_of(section):
        ends = floor.points[[0, -1], 0] + np.array([SHORT, -SHORT])  # clear of walls' feet
        places += [(z, float(np.clip(t, *ends))) for t, z in _said_at(floor).tolist()]
    for _, t in (min(places), max(places)) if places else ():
        if (z := underside(section, t)) is not None:
            yield z


def underside(section: Section, t: float) -> float | None:
    """Return how high the foot of the concrete lies at a place; None where there is none [m]."""
    _, low, _, high = section.reach
    line = shapely.LineString([(t, low - 1.0), (t, high + 1.0)])
    cut = shapely.intersection(line, section.concrete)
    return None if cut.is_empty else float(cut.bounds[1])


def _tops(section: Section) -> Iterator[Floats]:
    """Yield the tops of walls (k, 2), from left to right, with arrises at their ends."""
    tops = [cut for cut in section.cuts if cut.kind in TOPS]
    arrises = [cut for cut in section.cuts if cut.kind == "arris"]
    for points, _ in _joined(tops):
        ends = points[[0, -1]].copy()
        for k, outer in ((0, min), (1, max)):
            for cut in arrises:
                if _is_at(points[-k], cut.points):
                    ends[k, 0] = outer(ends[k, 0], *cut.points[:, 0].tolist())
        yield ends


def _joined(cuts: list[Cut]) -> Iterator[tuple[Floats, Cut]]:
    """Yield the points of cuts from left to right, those of one body that meet as one."""
    ordered = sorted(
        ((cut.points[np.argsort(cut.points[:, 0], kind="stable")], cut) for cut in cuts),
        key=lambda item: (item[0][0, 0], item[0][-1, 0]),
    )
    found: list[tuple[Floats, Cut]] = []
    for points, cut in ordered:
        for k, (before, other) in enumerate(found):
            if other.body == cut.body and _is_at(before[-1], points[:1]):
                found[k] = np.concatenate([before, points]), other
                break
        else:
            found.append((points, cut))
    yield from found


def _is_at(point: Floats, places: Floats, off: float = SHORT) -> bool:
    """Tell whether a point is at one of some places (k, 2)."""
    return bool((np.abs(places - point) < off).all(axis=1).any())
