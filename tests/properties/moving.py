"""Pool dicts moved, mirrored and scaled, number by number."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

PoolDict = dict[str, Any]
PointMap = Callable[[list[float]], list[float]]

SHELL = {"wall": 0.25, "floor": 0.25}


def moved(file: PoolDict, degrees: float, by: tuple[float, float]) -> PoolDict:
    """Return a pool turned about the origin, then shifted."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def place(p: list[float]) -> list[float]:
        return [c * p[0] - s * p[1] + by[0], s * p[0] + c * p[1] + by[1], *p[2:]]

    return _mapped(file, place, lambda angle: _degrees(angle + degrees), swap=False)


def mirrored(file: PoolDict) -> PoolDict:
    """Return a pool mirrored in the x axis: what ran anticlockwise now runs clockwise."""

    def place(p: list[float]) -> list[float]:
        return [p[0], -p[1], *(-bulge for bulge in p[2:])]

    return _mapped(file, place, lambda angle: -angle, swap=True)


def scaled(file: PoolDict, factor: float) -> PoolDict:
    """Return a pool with every length multiplied, its defaults spelled out first."""
    whole = {"tolerance": 0.001, "freeboard": 0.15, "shell": SHELL, **file}
    if "spas" in whole:
        whole["spas"] = [{"freeboard": 0.1, "dam_wall": 0.2, **spa} for spa in whole["spas"]]
    if "overflows" in whole:
        whole["overflows"] = [
            {**item, "basin": {"freeboard": 0.1, **item["basin"]}} for item in whole["overflows"]
        ]
    return {name: _grown(item, name, factor) for name, item in whole.items()}


PURE = frozenset({"fall", "floor_fall", "direction", "rotation", "risers", "count"})
"""Keys whose values are no lengths."""


def _grown(value: Any, key: str, factor: float) -> Any:
    if isinstance(value, dict):
        return {name: _grown(item, name, factor) for name, item in value.items()}
    if isinstance(value, list) and key == "points":
        return [_point(item, factor) for item in value]
    if isinstance(value, list):
        return [_grown(item, key, factor) for item in value]
    return value if key in PURE or isinstance(value, str) else value * factor


def _point(point: list[float], factor: float) -> list[float]:
    return [point[0] * factor, point[1] * factor, *point[2:]]


def _degrees(angle: float) -> float:
    return (angle + 180.0) % 360.0 - 180.0


def _mapped(
    file: PoolDict, place: PointMap, turn: Callable[[float], float], *, swap: bool
) -> PoolDict:
    found = {**file, "outline": _outline(file["outline"], place, turn)}
    floor = dict(file["floor"])
    if floor["shape"] != "level":
        floor["direction"] = turn(floor.get("direction", 0.0))
        name = "at" if floor["shape"] == "plane" else "origin"
        floor[name] = place(floor.get(name, [0.0, 0.0]))
    found["floor"] = floor
    for name in ("bench", "steps", "fittings", "walls", "recess"):
        if name in file:
            found[name] = [_feature(item, place, turn, swap=swap) for item in file[name]]
    for name in ("overflows", "channels"):
        if name in file:
            found[name] = [_feature(item, place, turn, swap=swap) for item in file[name]]
    if "spas" in file:
        found["spas"] = [_spa(item, place, turn, swap=swap) for item in file["spas"]]
    return found


def _spa(spa: PoolDict, place: PointMap, turn: Callable[[float], float], *, swap: bool) -> PoolDict:
    found = {**spa, "outline": _outline(spa["outline"], place, turn)}
    for name in ("seats", "spillways"):
        if name in spa:
            found[name] = [_feature(item, place, turn, swap=swap) for item in spa[name]]
    if "wells" in spa:
        found["wells"] = [
            {**item, "outline": _outline(item["outline"], place, turn)} for item in spa["wells"]
        ]
    return found


def _outline(outline: PoolDict, place: PointMap, turn: Callable[[float], float]) -> PoolDict:
    found = dict(outline)
    if "points" in outline:
        found["points"] = [place(point) for point in outline["points"]]
        return found
    found["centre"] = place(outline.get("centre", [0.0, 0.0]))
    if outline["shape"] != "circle":
        found["rotation"] = turn(outline.get("rotation", 0.0))
    return found


def _feature(
    feature: PoolDict, place: PointMap, turn: Callable[[float], float], *, swap: bool
) -> PoolDict:
    found = dict(feature)
    for name in ("at", "start", "end", "point"):
        if name in feature:
            found[name] = place(feature[name])
    if swap and "start" in found:
        found["start"], found["end"] = found["end"], found["start"]
    if "direction" in feature:
        found["direction"] = turn(feature["direction"])
    return found
