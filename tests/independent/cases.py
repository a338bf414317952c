"""Pools as pool file content, and their quantities from the second opinion.

Each case holds the content of a pool file (units m) and a function that works its quantities out
from that content, by closed form where there is one and otherwise by quadrature to about 1e-9.
Nothing here is a copied result. Names of kinds are the trade's, as in a takeoff.

Where a pool file leaves room, the cases mean this:

* a bench's ends stand square to the outline at its two stations;
* a side flight is a straight strip, nosing k standing k goings from its station, square to the
  way down; its treads reach back to the wall;
* the cove is made first, then cut by bench, steps and dam wall;
* at a toe two coves meet in a mitre, at a brow the ball pivots about the brow line.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from scipy.special import ellipe

from . import parts, reading
from .breaks import on_breaks
from .canal import Plane
from .quadrature import (
    Basin,
    area,
    corner_turns,
    length,
    mitre_length,
    on_level,
    on_slope,
    polygon_size,
    polygon_turn,
    turn,
)
from .straight import on_straight_breaks


@dataclass(frozen=True)
class Expected:
    """What a case must come to.

    Args:
        water: Volume of water of each body [m3].
        areas: True area by kind; ``wall`` reaches up to the wall top [m2].
        wet: Area under water, for kinds that stand out of it [m2].
        lengths: True lengths of edges and of the cove's lines [m].
    """

    water: dict[str, float]
    areas: dict[str, float]
    wet: dict[str, float]
    lengths: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Case:
    """A pool file's content and what it must come to."""

    name: str
    file: dict[str, Any]
    expected: Callable[[], Expected]


FREEFORM = [
    [0.0, -2.2],
    [2.5, -2.6],
    [5.0, -1.6],
    [5.6, 0.6],
    [4.2, 2.3],
    [2.2, 1.9],
    [0.0, 1.2],
    [-2.0, 1.7],
    [-4.0, 1.6],
    [-4.6, -0.3],
    [-3.0, -2.0],
]
"""A kidney: concave by the sixth and seventh point, smallest inside radius 1.12 m."""


def _pool(name: str, outline: dict[str, Any], floor: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {
        "name": name,
        "units": "m",
        "freeboard": 0.15,
        "outline": outline,
        "floor": floor,
        **more,
    }


SLOPE = {"shape": "plane", "depth": 1.6, "at": [0.5, 0.0], "fall": 0.12, "direction": 25.0}
LEVEL = {"shape": "level", "depth": 1.5}
BREAKS = [
    {"at": -3.5, "depth": 1.1},
    {"at": -1.0, "depth": 1.4},
    {"at": 1.0, "depth": 2.2},
    {"at": 3.0, "depth": 2.4},
]
"""Slopes 0, 0.12, 0.4, 0.1, 0: two brows, then two toes."""

ROUND = _pool(
    "round pool, sloping floor", {"shape": "circle", "radius": 3.0, "centre": [1.0, 2.0]}, SLOPE
)
ROUND_COVE = ROUND | {"name": "round pool, sloping floor, cove", "cove": {"radius": 0.15}}
RECTANGLE = _pool(
    "rounded rectangle, depth breaks, cove",
    {
        "shape": "rectangle",
        "length": 10.0,
        "width": 5.0,
        "corner_radius": 0.6,
        "centre": [1.0, 2.0],
        "rotation": 20.0,
    },
    {"shape": "breaks", "direction": 20.0, "origin": [1.0, 2.0], "breaks": BREAKS},
    cove={"radius": 0.15},
)
KIDNEY = _pool(
    "kidney, level floor, cove",
    {"shape": "spline", "points": FREEFORM},
    LEVEL,
    cove={"radius": 0.15},
)
KIDNEY_SLOPE = KIDNEY | {"name": "kidney, sloping floor, cove", "floor": SLOPE}
KIDNEY_BREAKS = KIDNEY | {
    "name": "kidney, depth breaks, cove",
    "floor": {
        "shape": "breaks",
        "direction": 0.0,
        "origin": [0.0, 0.0],
        "breaks": [
            {"at": -2.0, "depth": 1.0},
            {"at": 1.0, "depth": 1.5},
            {"at": 3.0, "depth": 2.0},
        ],
    },
}
ANGLE = _pool(
    "L-shape, level floor, cove",
    {
        "shape": "polygon",
        "points": [[0.0, 0.0], [7.0, 0.0], [7.0, 3.0], [3.5, 3.0], [3.5, 6.0], [0.0, 6.0]],
    },
    LEVEL,
    cove={"radius": 0.15},
)
FURNISHED = KIDNEY | {
    "name": "kidney, cove, bench, steps and spa",
    "bench": [{"start": [5.7, 0.7], "end": [2.2, 2.0], "width": 0.5, "depth": 0.45}],
    "steps": [{"shape": "side", "at": [1.2, -2.5], "width": 1.2, "going": 0.3, "risers": 4}],
    "spas": [
        {
            "outline": {"shape": "circle", "radius": 1.0, "centre": [-4.4, 0.3]},
            "raised": 0.4,
            "freeboard": 0.1,
            "depth": 1.0,
            "dam_wall": 0.2,
            "seats": [{"width": 0.35, "depth": 0.45}],
            "spillways": [{"at": [-3.4, 0.3], "width": 0.4, "drop": 0.0}],
        }
    ],
    # As thick as the dam wall: a thicker spa wall would show its end above the pool's wall top.
    "shell": {"wall": 0.2, "floor": 0.2},
}


def _bare(file: dict[str, Any], basin: Basin, waterline: float) -> Expected:
    """Return the quantities of a basin, which was worked out up to the water level."""
    lengths = {"waterline": waterline}
    if basin.cove:
        lengths["cove head"] = basin.head
    if basin.cove and not math.isnan(basin.foot):
        lengths["cove foot"] = basin.foot
    if not basin.cove:
        lengths["floor/wall"] = basin.foot
    return Expected(
        water={"pool": basin.volume},
        areas={
            "floor": basin.floor,
            "wall": basin.wall + waterline * file["freeboard"],
            "cove": basin.cove,
        },
        wet={"wall": basin.wall},
        lengths=lengths,
    )


def _plane(floor: dict[str, Any]) -> Plane:
    way = math.radians(floor["direction"])
    gradient = (-floor["fall"] * math.cos(way), -floor["fall"] * math.sin(way))
    z0 = -floor["depth"] - sum(g * p for g, p in zip(gradient, floor["at"], strict=True))
    return Plane(z0, gradient)


def _round() -> Expected:
    """A cylinder cut by a plane: the foot is an ellipse with half axes R and R sqrt(1 + g^2)."""
    circle, floor = ROUND["outline"], ROUND["floor"]
    radius, stretch = circle["radius"], math.hypot(1.0, floor["fall"])
    way = math.radians(floor["direction"])
    (x, y), (x0, y0) = circle["centre"], floor["at"]
    along = (x - x0) * math.cos(way) + (y - y0) * math.sin(way)
    depth = floor["depth"] + floor["fall"] * along
    basin = Basin(
        volume=math.pi * radius**2 * depth,
        mortar=0.0,
        floor=math.pi * radius**2 * stretch,
        wall=2 * math.pi * radius * depth,
        cove=0.0,
        head=4 * radius * stretch * float(ellipe(1 - 1 / stretch**2)),
        foot=4 * radius * stretch * float(ellipe(1 - 1 / stretch**2)),
    )
    return _bare(ROUND, basin, 2 * math.pi * radius)


def _sloping(file: dict[str, Any]) -> Expected:
    wall = reading.curve(file["outline"])
    return _bare(file, on_slope(wall, _plane(file["floor"]), reading.cove(file)), length(wall))


def _rectangle() -> Expected:
    outline = RECTANGLE["outline"]
    basin = on_straight_breaks(
        (outline["length"], outline["width"]),
        outline["corner_radius"],
        [(item["at"], -item["depth"]) for item in RECTANGLE["floor"]["breaks"]],
        reading.cove(RECTANGLE),
    )
    return _bare(RECTANGLE, basin, length(reading.curve(outline)))


def _kidney_breaks() -> Expected:
    wall = reading.curve(KIDNEY_BREAKS["outline"])
    floor = reading.profile(KIDNEY_BREAKS["floor"])
    return _bare(KIDNEY_BREAKS, on_breaks(wall, floor, reading.cove(KIDNEY_BREAKS)), length(wall))


def _level_kidney() -> Basin:
    wall = reading.curve(KIDNEY["outline"])
    depth = KIDNEY["floor"]["depth"]
    return on_level(area(wall), length(wall), turn(wall), depth, reading.cove(KIDNEY))


def _kidney() -> Expected:
    return _bare(KIDNEY, _level_kidney(), length(reading.curve(KIDNEY["outline"])))


def _angle() -> Expected:
    points, depth = ANGLE["outline"]["points"], ANGLE["floor"]["depth"]
    radius = reading.cove(ANGLE)
    plan, perimeter = polygon_size(points)
    basin = on_level(plan, perimeter, polygon_turn(points), depth, radius)
    found = _bare(ANGLE, basin, perimeter)
    turns = corner_turns(points)
    standing = depth - radius + ANGLE["freeboard"]
    corners = {
        "wall/wall internal": standing * sum(t > 0 for t in turns),
        "wall/wall external": standing * sum(t < 0 for t in turns),
        "cove mitre": sum(mitre_length(radius, t) for t in turns if t > 0),
    }
    return Expected(found.water, found.areas, found.wet, found.lengths | corners)


def _furnished() -> Expected:
    """The bare basin less what bench, flight and spa take of it."""
    file, basin, radius = FURNISHED, _level_kidney(), reading.cove(FURNISHED)
    wall, depth = reading.curve(file["outline"]), file["floor"]["depth"]
    (bench,), (steps,), (spa,) = file["bench"], file["steps"], file["spas"]
    start, end = (reading.station(wall, bench[key]) for key in ("start", "end"))
    seat = parts.bench(wall, start, end, bench["width"], radius)
    at, way = reading.flight_axis(wall, steps)
    levels, going = reading.tread_levels(steps, depth), steps["going"]
    treads = []
    for k in range(len(levels)):
        span = (k * going if k else -1.0, (k + 1) * going)  # the first from behind the wall
        part = parts.block(at.tolist(), way, span, steps["width"])
        treads.append(parts.taken(wall, part, radius))
    ring = parts.disc(spa["outline"]["centre"], spa["outline"]["radius"] + spa["dam_wall"])
    dam = parts.taken(wall, ring, radius)
    heights = [depth - bench["depth"], *(depth + z for z in levels), depth]
    taken = list(zip([seat, *treads, dam], heights, strict=True))
    waterline = length(wall) - dam.wall
    wet_wall = basin.wall - sum(part.wall * (high - radius) for part, high in taken)
    faces = [sum(run * high - hidden for run, hidden in part.sides) for part, high in taken]
    sides = sum(
        run * high - hidden
        for part, high in taken[1:-1]
        for run, hidden in (part.sides[0], part.sides[2])
    )
    return Expected(
        water={
            "pool": basin.volume - sum(p.plan * high - p.mortar for p, high in taken),
            "spa": _spa_water(spa),
        },
        areas={
            "floor": basin.floor - sum(part.plan - part.strip for part, _ in taken),
            "wall": wet_wall + waterline * file["freeboard"],
            "cove": basin.cove - sum(part.cove for part, _ in taken),
            "bench top": seat.plan,
            "bench face": faces[0],
            "tread": sum(part.plan for part in treads),
            "riser": steps["width"] * (depth + levels[0]),
            "step side": sides,
        },
        wet={"wall": wet_wall, "dam wall face": faces[-1]},
        lengths={
            "pool wall at the water level": waterline,
            "dam wall at the water level": sum(run for run, _ in dam.sides),
            "bench nosing": sum(run for run, _ in seat.sides),
            "tread nosing": steps["width"] * len(levels)
            + sum(part.sides[i][0] for part in treads for i in (0, 2)),
        },
    )


def _spa_water(spa: dict[str, Any]) -> float:
    """A cylinder over the floor and a wider one over the seat."""
    outer, seat = spa["outline"]["radius"], spa["seats"][0]
    inner = outer - seat["width"]
    section = inner**2 * (spa["depth"] - seat["depth"]) + outer**2 * seat["depth"]
    return math.pi * float(section)


KIDNEY_CASE = Case("kidney_level_cove", KIDNEY, cache(_kidney))
ANGLE_CASE = Case("angle_level_cove", ANGLE, cache(_angle))
FURNISHED_CASE = Case("kidney_furnished", FURNISHED, cache(_furnished))
CASES = (
    Case("round_slope", ROUND, cache(_round)),
    Case("round_slope_cove", ROUND_COVE, cache(lambda: _sloping(ROUND_COVE))),
    Case("rectangle_breaks_cove", RECTANGLE, cache(_rectangle)),
    KIDNEY_CASE,
    Case("kidney_slope_cove", KIDNEY_SLOPE, cache(lambda: _sloping(KIDNEY_SLOPE))),
    Case("kidney_breaks_cove", KIDNEY_BREAKS, cache(_kidney_breaks)),
    ANGLE_CASE,
    FURNISHED_CASE,
)
"""All cases; what each expects is worked out once."""
