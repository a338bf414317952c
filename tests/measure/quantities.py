"""Short ways to write a pool, to build it and to read single quantities off its takeoff."""

from __future__ import annotations

from typing import Any

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.measure.takeoff import measure
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

PoolDict = dict[str, Any]


def pool(outline: PoolDict, floor: PoolDict, **more: Any) -> PoolDict:
    """Return what a pool file in metres would hold."""
    shell = {"wall": 0.25, "floor": 0.25}
    named = {"name": "test pool", "units": "m", "shell": shell}
    return {**named, "outline": outline, "floor": floor, **more}


def rectangle(length: float, width: float, **more: Any) -> PoolDict:
    """Return a rectangle about the origin [m]."""
    return {"shape": "rectangle", "length": length, "width": width, **more}


def circle(radius: float, **more: Any) -> PoolDict:
    """Return a circle about the origin [m]."""
    return {"shape": "circle", "radius": radius, **more}


def polygon(*points: tuple[float, float], **more: Any) -> PoolDict:
    """Return a polygon [m]."""
    return {"shape": "polygon", "points": [list(point) for point in points], **more}


def level(depth: float) -> PoolDict:
    """Return a level floor [m]."""
    return {"shape": "level", "depth": depth}


def plane(depth: float, fall: float, direction: float = 0.0) -> PoolDict:
    """Return a sloping floor by its depth at the origin [m], its fall [-] and direction [deg]."""
    return {
        "shape": "plane",
        "depth": depth,
        "at": [0.0, 0.0],
        "fall": fall,
        "direction": direction,
    }


def breaks(*places: tuple[float, float], **more: Any) -> PoolDict:
    """Return a floor by (at, depth) of its break lines [m]."""
    lines = [{"at": at, "depth": depth} for at, depth in places]
    return {"shape": "breaks", "breaks": lines, **more}


def model_of(file: PoolDict) -> Model:
    """Build a pool."""
    return build(design_from(file))


def takeoff_of(file: PoolDict) -> Takeoff:
    """Build a pool and measure it."""
    return measure(model_of(file))


def water(file: PoolDict) -> float:
    """Return the pool's volume of water [m3]."""
    return takeoff_of(file).water["pool"]


def area(takeoff: Takeoff, kind: str, body: str = "pool") -> float:
    """Return the area of one kind, 0 where there is none [m2]."""
    rows = [row for row in takeoff.areas if (row.body, row.kind) == (body, kind)]
    return sum(row.area for row in rows)


def wet_area(takeoff: Takeoff, kind: str, body: str = "pool") -> float:
    """Return the area of one kind under water, 0 where there is none [m2]."""
    rows = [row for row in takeoff.areas if (row.body, row.kind) == (body, kind)]
    return sum(row.wet_area for row in rows)


def plan_area(takeoff: Takeoff, kind: str, body: str = "pool") -> float:
    """Return the area of one kind seen from above, 0 where there is none [m2]."""
    rows = [row for row in takeoff.areas if (row.body, row.kind) == (body, kind)]
    return sum(row.plan_area for row in rows)


def lengths(takeoff: Takeoff, kind: str, sense: str | None = None) -> list[float]:
    """Return the lengths of the runs of one kind, shortest first [m]."""
    runs = [run for run in takeoff.edges if run.kind == kind and sense in {None, run.sense}]
    return sorted(run.length for run in runs)
