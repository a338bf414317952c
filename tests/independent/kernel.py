"""The water of a pool as a B-rep solid: built, cut by its features, and measured.

Plain numbers in, plain numbers out; z = 0 is the water level, heights count up. Order of work:
the bare basin, then the cove, then every feature is cut away (a fillet after the cuts comes out
wrong as soon as it is larger than a riser).
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from . import occ, reading
from .breaks import Profile
from .solids import (
    ROOM,
    Band,
    Circle,
    Flight,
    Plan,
    Polygon,
    Spline,
    above,
    lowest,
    shelves,
    stairs,
    upright,
)


@dataclass(frozen=True)
class Block:
    """Concrete from below the floor up to a level.

    Args:
        plan: Its plan; what lies outside the basin does no harm.
        level: Height of its top; above the water level it leaves no top [m].
        top: Label of the top.
        side: Label of every side.
    """

    plan: Plan
    level: float
    top: str
    side: str


@dataclass(frozen=True)
class Water:
    """A measured body of water.

    Args:
        volume: [m3].
        areas: By label [m2]; ``surface`` is the free surface.
        edges: Length by the labels of the faces that meet, sorted, and sense [m].
        valid: Whether it is one solid that passes the kernel's check.
        faces: Number of faces.
        build_seconds: Time to build.
        measure_seconds: Time to measure volume, areas, edges and validity.
    """

    volume: float
    areas: dict[str, float]
    edges: dict[tuple[str, str, str], float]
    valid: bool
    faces: int
    build_seconds: float
    measure_seconds: float


@dataclass(frozen=True)
class Pool:
    """What to build: outline, floor, cove radius (0 for none) and what stands in the water."""

    outline: Plan
    floor: Profile
    cove: float = 0.0
    parts: Sequence[Block | Flight] = field(default=())


def measure(pool: Pool, top: float = 0.0) -> Water:
    """Build and measure a pool up to the height ``top`` [m]."""
    began = time.perf_counter()
    water = build(pool, top)
    built = time.perf_counter()
    areas: dict[str, float] = defaultdict(float)
    lengths: dict[tuple[str, str, str], float] = defaultdict(float)
    for face, name in water.labels:
        areas[name] += occ.area(face)
    for edge, sides in occ.seams(water):
        (a, first), (b, second) = sides
        sense = occ.sense(edge, a, b)
        if first != second or sense != "smooth":
            low, high = sorted((first, second))
            lengths[low, high, sense] += occ.length(edge)
    return Water(
        volume=occ.volume(water.shape),
        areas=dict(areas),
        edges=dict(lengths),
        valid=occ.valid(water.shape) and occ.solids(water.shape) == 1,
        faces=len(water.labels),
        build_seconds=built - began,
        measure_seconds=time.perf_counter() - built,
    )


def build(pool: Pool, top: float = 0.0) -> occ.Labelled:
    """Return a pool's water up to ``top`` as a solid with labelled faces."""
    shelf_waters = [_basin(pool, floor, top) for floor in shelves(pool.floor, pool.outline)]
    water = shelf_waters[0]
    for other in shelf_waters[1:]:
        water = occ.common(water, other, fuzzy=1e-4)  # their walls coincide
    low = lowest(pool.floor, pool.outline) - ROOM
    for part in pool.parts:
        if isinstance(part, Flight):
            tool = stairs(part, low)
        else:
            tool = upright(part.plan, low, part.level, part.side, part.top, 0.0)
        water = occ.cut(water, tool)
    return water


def _basin(pool: Pool, floor: Profile, top: float) -> occ.Labelled:
    """Return the bare water over a floor without toes, with its cove."""
    level = min(floor.heights) == max(floor.heights)
    low = floor.heights[0] if level else lowest(floor, pool.outline) - ROOM
    water = upright(pool.outline, low, top, "wall", "surface", pool.cove)
    if not level:
        water = occ.common(water, above(floor, pool.outline, top, pool.cove))
    return occ.fillet(water, pool.cove, ("floor", "wall"), "cove") if pool.cove else water


def from_file(file: reading.File) -> Pool:
    """Return the pool of a pool file's content (units m); of a spa, what it takes of the pool."""
    parts: list[Block | Flight] = []
    for bench in file.get("bench", ()):
        wall = reading.curve(file["outline"])
        start, end = (reading.station(wall, bench[key]) for key in ("start", "end"))
        band = Band(wall, start, end, bench["width"])
        parts.append(Block(band, -bench["depth"], "bench top", "bench face"))
    for steps in file.get("steps", ()):
        at, direction = reading.flight_axis(reading.curve(file["outline"]), steps)
        levels = reading.tread_levels(steps, file["floor"]["depth"])
        place = tuple(at.tolist())
        parts.append(Flight(place, direction, steps["width"], steps["going"], levels))
    for spa in file.get("spas", ()):
        inner = spa["outline"]
        ring = Circle(inner["centre"], inner["radius"] + spa["dam_wall"])
        parts.append(Block(ring, spa["raised"] + spa["freeboard"], "dam wall top", "dam wall face"))
    floor = reading.profile(file["floor"])
    return Pool(_plan(file["outline"]), floor, reading.cove(file), parts)


def _plan(outline: reading.File) -> Plan:
    if outline["shape"] == "spline":
        return Spline(outline["points"])
    if outline["shape"] == "circle":
        return Circle(outline.get("centre", (0.0, 0.0)), outline["radius"])
    return Polygon(reading.corners(outline), outline.get("corner_radius", 0.0))
