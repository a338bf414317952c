"""Pool file content as the second opinion's own plain values; nothing of poolgeo is used.

Only what the cases need is read; a key that would change the result and is not read is an error.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from poolgeo.arrays import Floats

from .breaks import Profile
from .curves import Curve, Point, circle, rounded, spline
from .quadrature import at_length

FAR = 100.0
"""How far a sloping plane is held to reach from its point [m]."""

File = Mapping[str, Any]


def corners(outline: File) -> list[tuple[float, float]]:
    """Return the anticlockwise corners of a polygon or a rectangle [m]."""
    if outline["shape"] == "polygon":
        points = np.array(outline["points"], dtype=float)
    else:
        half = np.array([outline["length"], outline["width"]]) / 2
        points = half * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
        turned = math.radians(outline.get("rotation", 0.0))
        c, s = math.cos(turned), math.sin(turned)
        points = points @ np.array([(c, s), (-s, c)]) + np.array(outline.get("centre", (0.0, 0.0)))
    return [(float(x), float(y)) for x, y in points]


def curve(outline: File) -> Curve:
    """Return a smooth outline.

    Raises:
        ValueError: When it has sharp corners or is of a shape that no case uses.
    """
    shape = outline["shape"]
    if shape == "spline":
        return spline(outline["points"])
    if shape == "circle":
        return circle(outline["radius"], outline.get("centre", (0.0, 0.0)))
    if shape in {"rectangle", "polygon"} and outline.get("corner_radius"):
        return rounded(corners(outline), outline["corner_radius"])
    msg = f"no smooth curve for {shape}"
    raise ValueError(msg)


def station(wall: Curve, place: Point | float) -> float:
    """Return the curve parameter of a station."""
    if isinstance(place, int | float):
        return at_length(wall, place) if place else 0.0
    return wall.nearest(place)


def profile(floor: File) -> Profile:
    """Return a floor as heights at break lines."""
    shape = floor["shape"]
    if shape == "level":
        return Profile(0.0, (0.0, 0.0), (-FAR, FAR), (-floor["depth"], -floor["depth"]))
    direction, ends = floor.get("direction", 0.0), (-FAR, FAR)
    if shape == "plane":
        heights = tuple(-floor["depth"] - s * floor["fall"] for s in ends)
        return Profile(direction, floor["at"], ends, heights)
    places = tuple(float(item["at"]) for item in floor["breaks"])
    heights = tuple(-float(item["depth"]) for item in floor["breaks"])
    return Profile(direction, floor.get("origin", (0.0, 0.0)), places, heights)


def cove(file: File) -> float:
    """Return the cove's radius, 0 for none [m].

    Raises:
        ValueError: When other feet than the wall's are to take one.
    """
    found = file.get("cove") or {"radius": 0.0}
    if found.get("also_at"):
        msg = "coves at other feet are not read"
        raise ValueError(msg)
    return float(found["radius"])


def tread_levels(steps: File, floor_depth: float) -> list[float]:
    """Return the height of each tread of a flight with ``risers`` on a level floor [m]."""
    count = steps["risers"]
    top = steps.get("top_tread") or floor_depth / (count + 1)
    rise = (floor_depth - top) / count
    return [-top - i * rise for i in range(count)]


def flight_axis(wall: Curve, steps: File) -> tuple[Floats, float]:
    """Return a side flight's place on the outline and its way down from x [deg].

    Raises:
        ValueError: When the flight is of another shape.
    """
    if steps["shape"] != "side":
        msg = "only flights from a side are read"
        raise ValueError(msg)
    u = station(wall, steps["at"])
    inwards = wall.normal(np.array([u]))[0]
    square = math.degrees(math.atan2(inwards[1], inwards[0]))
    return wall.point(u), steps.get("direction", square)
