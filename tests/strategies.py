"""Hypothesis strategies for whole pools: every kind of outline, all features on.

Pools come as plain dicts with the keys of a pool file, in metres. Sizes are believable, so most
of them build; the rest must be refused in words.
"""

from __future__ import annotations

import math
from typing import Any

from hypothesis import strategies as st

PoolDict = dict[str, Any]


def metres(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths to the millimetre."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda mm: mm / 1000.0)


@st.composite
def star_points(draw: st.DrawFn, count: st.SearchStrategy[int]) -> list[list[float]]:
    """Points round a centre at rising angles: a polygon that never crosses itself."""
    n = draw(count)
    a, b = draw(metres(3.0, 6.0)), draw(metres(2.0, 3.5))
    points = []
    for k in range(n):
        angle = 2.0 * math.pi * (k + draw(st.floats(-0.2, 0.2))) / n
        reach = draw(st.floats(0.8, 1.2))
        points.append(
            [round(a * reach * math.cos(angle), 3), round(b * reach * math.sin(angle), 3)]
        )
    return points


@st.composite
def outlines(draw: st.DrawFn) -> PoolDict:
    """An outline of any kind, about the origin, 4 to 14 m long."""
    kind = draw(
        st.sampled_from(
            ["rectangle", "polygon", "angle", "polyline", "spline", "ellipse", "circle"]
        )
    )
    rotation = float(draw(st.integers(-180, 180)))
    if kind == "rectangle":
        return {
            "shape": "rectangle",
            "length": draw(metres(5.0, 14.0)),
            "width": draw(metres(3.5, 7.0)),
            "corner_radius": draw(st.sampled_from([0.0, 0.3, 0.6, 1.2])),
            "rotation": rotation,
        }
    if kind == "polygon":
        return {
            "shape": "polygon",
            "points": draw(star_points(st.integers(4, 8))),
            "corner_radius": draw(st.sampled_from([0.0, 0.25, 0.4])),
        }
    if kind == "angle":  # an L, with an outside corner
        x, y = draw(metres(5.0, 9.0)), draw(metres(5.0, 9.0))
        u, v = draw(metres(2.5, x - 1.5)), draw(metres(2.5, y - 1.5))
        points = [[0.0, 0.0], [x, 0.0], [x, v], [u, v], [u, y], [0.0, y]]
        return {
            "shape": "polygon",
            "points": [[round(px - 2.0, 3), round(py - 2.0, 3)] for px, py in points],
            "corner_radius": draw(st.sampled_from([0.0, 0.3])),
        }
    if kind == "polyline":
        points = draw(star_points(st.integers(4, 6)))
        bulges = [draw(st.sampled_from([0.0, 0.15, 0.3, -0.1])) for _ in points]
        return {
            "shape": "polyline",
            "points": [[*point, bulge] for point, bulge in zip(points, bulges, strict=True)],
        }
    if kind == "spline":
        return {"shape": "spline", "points": draw(star_points(st.integers(6, 10)))}
    if kind == "ellipse":
        return {
            "shape": "ellipse",
            "length": draw(metres(6.0, 12.0)),
            "width": draw(metres(4.0, 6.0)),
            "rotation": rotation,
        }
    return {"shape": "circle", "radius": draw(metres(2.0, 5.0))}


@st.composite
def floors(draw: st.DrawFn) -> PoolDict:
    """A level floor, a plane, or breaks in any direction."""
    kind = draw(st.sampled_from(["level", "plane", "breaks", "breaks"]))
    direction = float(draw(st.integers(-180, 180)))
    if kind == "level":
        return {"shape": "level", "depth": draw(metres(1.0, 2.5))}
    if kind == "plane":
        return {
            "shape": "plane",
            "depth": draw(metres(1.6, 2.2)),
            "at": [0.0, 0.0],
            "fall": draw(st.floats(-0.08, 0.08)),
            "direction": direction,
        }
    at, depth = draw(metres(-4.0, -1.0)), draw(metres(1.0, 1.6))
    breaks = [{"at": at, "depth": depth}]
    for _ in range(draw(st.integers(1, 3))):
        run = draw(metres(1.0, 3.0))
        at = round(at + run, 3)
        depth = round(
            max(1.0, depth + run * draw(st.sampled_from([0.0, 0.08, 0.2, 0.33, -0.1]))), 3
        )
        breaks.append({"at": at, "depth": depth})
    return {"shape": "breaks", "direction": direction, "breaks": breaks}


def far_point(angle: float) -> list[float]:
    """Return the plan point 20 m off the origin: it means the nearest place of the outline."""
    return [round(20.0 * math.cos(angle), 3), round(20.0 * math.sin(angle), 3)]


def somewhere() -> st.SearchStrategy[list[float]]:
    """A plan point well off the centre."""
    return st.floats(0.0, 2.0 * math.pi).map(far_point)


@st.composite
def stretches(draw: st.DrawFn) -> PoolDict:
    """Start and end of a stretch, a twentieth of the way round apart at least."""
    start, share = draw(st.floats(0.0, 2.0 * math.pi)), draw(st.floats(0.05, 0.95))
    return {"start": far_point(start), "end": far_point(start + 2.0 * math.pi * share)}


@st.composite
def flights(draw: st.DrawFn) -> PoolDict:
    """A flight of any kind."""
    found: PoolDict = {"going": draw(metres(0.28, 0.4))}
    if draw(st.booleans()):
        found["rise"] = draw(metres(0.18, 0.3))
    else:
        found["risers"] = draw(st.integers(2, 5))
    kind = draw(st.sampled_from(["side", "side", "end", "following"]))
    if kind == "side":
        return {"shape": kind, "at": draw(somewhere()), "width": draw(metres(0.8, 2.0)), **found}
    if kind == "end":
        return {"shape": kind, "direction": float(draw(st.integers(-180, 180))), **found}
    return {"shape": kind, **draw(stretches()), **found}


@st.composite
def benches(draw: st.DrawFn) -> PoolDict:
    """A bench along a stretch, sometimes all round."""
    found: PoolDict = {"width": draw(metres(0.3, 0.6)), "depth": draw(metres(0.4, 0.6))}
    if draw(st.integers(0, 4)):
        found |= draw(stretches())
    return found


@st.composite
def spas(draw: st.DrawFn) -> PoolDict:
    """A spa inside, straddling or beyond, raised or flush."""
    radius = draw(metres(0.8, 1.2))
    angle, reach = draw(st.floats(0.0, 2.0 * math.pi)), draw(metres(0.0, 9.0))
    centre = [round(reach * math.cos(angle), 3), round(reach * math.sin(angle), 3)]
    found: PoolDict = {
        "outline": {"shape": "circle", "radius": radius, "centre": centre},
        "depth": draw(metres(0.8, 1.0)),
        "raised": draw(st.sampled_from([0.0, 0.15, 0.4])),
        "dam_wall": draw(metres(0.15, 0.3)),
    }
    if draw(st.booleans()):
        found["seats"] = [{"width": draw(metres(0.35, 0.45)), "depth": draw(metres(0.4, 0.5))}]
        if not draw(st.integers(0, 2)):  # and a lounger over part of it
            lounger = {"width": draw(metres(0.5, 0.7)), "depth": draw(metres(0.2, 0.3))}
            found["seats"].append({**lounger, **draw(stretches())})
    if not draw(st.integers(0, 3)):
        well = {"shape": "circle", "radius": 0.2, "centre": centre}
        found["wells"] = [{"outline": well, "depth": 1.2}]
    if draw(st.booleans()):
        drop = draw(st.sampled_from([0.0, 0.05]))
        found["spillways"] = [{"at": [0.0, 0.0], "width": draw(metres(0.3, 0.6)), "drop": drop}]
    if draw(st.booleans()):
        found["cove"] = {"radius": 0.05, "also_at": draw(st.sampled_from([[], ["bench faces"]]))}
    return found


@st.composite
def weirs(draw: st.DrawFn) -> PoolDict:
    """A weir along a stretch, sometimes all round."""
    found: PoolDict = {
        "crest": draw(st.sampled_from([-0.01, 0.0, 0.0, 0.02])),
        "fall": draw(st.sampled_from([0.0, 0.0, 0.08, -0.08])),
    }
    if draw(st.booleans()):
        found["thickness"] = draw(metres(0.15, 0.35))
    if draw(st.integers(0, 3)):
        found |= draw(stretches())
    return found


@st.composite
def overflows(draw: st.DrawFn) -> PoolDict:
    """A weir with a catch basin along it, from shallow to deeper than the pool."""
    basin: PoolDict = {
        "width": draw(metres(0.4, 1.2)),
        "drop": draw(metres(0.25, 0.6)),
        "depth": draw(metres(0.3, 2.5)),
    }
    if draw(st.booleans()):
        basin["cove"] = {"radius": draw(st.sampled_from([0.05, 0.1]))}
    return {**draw(weirs()), "basin": basin}


@st.composite
def channels(draw: st.DrawFn) -> PoolDict:
    """A deck-level channel, dry or not, level or falling."""
    found: PoolDict = {
        "width": draw(metres(0.2, 0.4)),
        "depth": draw(metres(0.25, 0.5)),
        "floor_fall": draw(st.sampled_from([0.0, 0.01])),
        "direction": float(draw(st.integers(-180, 180))),
        "water": draw(st.sampled_from([0.0, 0.1])),
    }
    if draw(st.integers(0, 2)) == 0:
        found["cove"] = {"radius": 0.05}
    return {**draw(weirs()), **found}


@st.composite
def pools(draw: st.DrawFn) -> PoolDict:
    """A pool with any of the features."""
    found: PoolDict = {
        "name": "random pool",
        "units": "m",
        "outline": draw(outlines()),
        "floor": draw(floors()),
        "freeboard": draw(metres(0.1, 0.3)),
    }
    if draw(st.integers(0, 4)):
        found["cove"] = {
            "radius": draw(st.sampled_from([0.05, 0.1, 0.15, 0.2])),
            "also_at": draw(
                st.lists(st.sampled_from(["risers", "bench faces", "dam walls"]), unique=True)
            ),
        }
    if draw(st.booleans()):
        found["bench"] = [draw(benches())]
    if draw(st.booleans()):
        found["steps"] = [draw(flights())]
    if draw(st.integers(0, 2)) == 0:
        found["spas"] = draw(st.lists(spas(), min_size=1, max_size=2))
    if draw(st.integers(0, 4)) == 0:
        found["overflows"] = [draw(overflows())]
    if draw(st.integers(0, 4)) == 0:
        found["channels"] = [draw(channels())]
    return found
