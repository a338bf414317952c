"""Hypothesis strategies for pools in which every feature is on or off by itself.

Beside what `strategies` and `strategies_steps` draw: outlines combined of shapes, floors of every
form, hoppers, coves that change along the wall, battered walls, islands, walls and recesses,
shells, bands and returns, fittings. Pools come as plain dicts with the keys of a pool file [m].
"""

from __future__ import annotations

import math

from hypothesis import strategies as st

from .strategies import (
    PoolDict,
    benches,
    channels,
    flights,
    metres,
    outlines,
    overflows,
    somewhere,
    spas,
    stretches,
)
from .strategies import floors as plain_floors
from .strategies_steps import ledges, middle, other_flights


def directions() -> st.SearchStrategy[float]:
    """Whole degrees."""
    return st.integers(-180, 180).map(float)


def one_in(n: int) -> st.SearchStrategy[bool]:
    """Whether a feature is on."""
    return st.integers(1, n).map(lambda k: k == n)


@st.composite
def small_outlines(draw: st.DrawFn, low: float, high: float) -> PoolDict:
    """Something between two sizes about the middle: a circle, an ellipse or a rectangle."""
    kind = draw(st.sampled_from(["circle", "ellipse", "rectangle"]))
    centre = draw(middle())
    if kind == "circle":
        return {"shape": kind, "radius": draw(metres(low / 2.0, high / 2.0)), "centre": centre}
    found = {
        "shape": kind,
        "length": draw(metres(low, high)),
        "width": draw(metres(low, high)),
        "centre": centre,
        "rotation": draw(directions()),
    }
    if kind == "rectangle":
        found["corner_radius"] = draw(st.sampled_from([0.0, 0.1]))
    return found


@st.composite
def combined(draw: st.DrawFn) -> PoolDict:
    """A body of any shape with a bay or two, sometimes with a hole in it."""
    main = draw(outlines())
    angle = draw(st.floats(0.0, 2.0 * math.pi))
    reach, radius = draw(metres(1.0, 5.0)), draw(metres(1.0, 2.5))
    centre = [round(reach * math.cos(angle), 3), round(reach * math.sin(angle), 3)]
    parts = [{"add": main}, {"add": {"shape": "circle", "radius": radius, "centre": centre}}]
    if draw(st.booleans()):
        parts.append({"subtract": draw(small_outlines(0.6, 2.5))})
    return {"shape": "combined", "parts": parts}


@st.composite
def other_floors(draw: st.DrawFn) -> PoolDict:
    """Breaks with two depths each or a beach, drains, a dish, levels at points."""
    kind = draw(st.sampled_from(["ruled", "beach", "drains", "dished", "spots"]))
    if kind in {"ruled", "beach"}:
        at = draw(metres(-5.0, -1.0))
        depth: float | list[float] = (
            -draw(metres(0.05, 0.2)) if kind == "beach" else draw(metres(1.0, 1.4))
        )
        breaks = [{"at": at, "depth": depth}]
        for _ in range(draw(st.integers(1, 2))):
            at = round(at + draw(metres(1.5, 5.0)), 3)
            depth = draw(metres(1.0, 2.0))
            if kind == "ruled" and draw(st.booleans()):
                depth = [depth, round(depth + draw(metres(-0.3, 0.3)), 3)]
            breaks.append({"at": at, "depth": depth})
        return {"shape": "breaks", "direction": draw(directions()), "breaks": breaks}
    if kind == "drains":
        drains = draw(
            st.lists(
                st.fixed_dictionaries({"at": middle(), "depth": metres(1.4, 2.0)}),
                min_size=1,
                max_size=3,
                unique_by=str,
            )
        )
        return {"shape": kind, "drains": drains, "fall": draw(st.sampled_from([0.01, 0.02, 0.05]))}
    if kind == "dished":
        depth = draw(metres(1.3, 2.0))
        found = {
            "shape": kind,
            "at": draw(middle()),
            "depth": depth,
            "edge_depth": round(depth + draw(st.sampled_from([-0.4, -0.2, 0.1])), 3),
            "reach": draw(metres(4.0, 7.0)),
        }
        if draw(st.booleans()):
            found["direction"] = draw(directions())
        return found
    corners = [[-7.0, -5.0], [7.0, -5.0], [7.0, 5.0], [-7.0, 5.0]]
    places = corners + draw(st.lists(middle(), max_size=2, unique_by=tuple))
    spots = [{"at": place, "depth": draw(metres(1.0, 2.0))} for place in places]
    return {"shape": kind, "spots": spots}


@st.composite
def hoppers(draw: st.DrawFn) -> PoolDict:
    """A deeper part, its sides alike or not."""
    contour = draw(small_outlines(0.8, 2.0))
    slope = st.sampled_from([0.2, 0.333, 0.5, 1.0])
    found: PoolDict = {"contour": contour, "depth": draw(metres(2.0, 3.0)), "slope": draw(slope)}
    if contour["shape"] == "rectangle" and not contour["corner_radius"] and draw(st.booleans()):
        found["slope"] = [draw(slope) for _ in range(4)]
    return found


@st.composite
def coves(draw: st.DrawFn) -> PoolDict:
    """A cove or fillet, here and there of another radius."""
    feet = st.sampled_from(["risers", "bench faces", "dam walls"])
    found: PoolDict = {
        "radius": draw(st.sampled_from([0.05, 0.1, 0.15, 0.2])),
        "also_at": draw(st.lists(feet, unique=True)) if draw(st.booleans()) else [],
    }
    if draw(one_in(4)):
        found["form"] = "fillet"
    if draw(one_in(5)):
        found["deepens"] = {"start": 1.1, "end": draw(metres(1.4, 2.0)), "radius": 0.25}
    if draw(one_in(4)):
        radius = draw(st.sampled_from([0.0, 0.05, 0.25]))
        found["stretches"] = [{**draw(stretches()), "radius": radius}]
    if draw(one_in(5)):
        found["corners"] = draw(corners(found["radius"]))
    return found


def corners(radius: float) -> st.SearchStrategy[bool | float]:
    """Coves in upright corners: of the cove's own radius, or of a larger one."""
    return st.sampled_from([True, round(1.5 * radius, 3), 0.3])


@st.composite
def arrises(draw: st.DrawFn) -> PoolDict:
    """Finished external edges, those of one place otherwise."""
    form = st.sampled_from(["chamfer", "rounded"])
    found: PoolDict = {"form": draw(form), "size": draw(metres(0.005, 0.015))}
    if draw(st.booleans()):
        at = st.sampled_from(["steps", "benches", "dam walls", "weirs", "wall tops",
                              "wall corners", "recesses", "floor breaks"])  # fmt: skip
        found["elsewhere"] = [{"at": draw(at), "form": "square"}]
    return found


@st.composite
def joints(draw: st.DrawFn) -> PoolDict:
    """A movement joint, its ends far outside the pool."""
    (x, y), angle = draw(middle()), draw(st.floats(0.0, math.pi))
    far = [50.0 * math.cos(angle), 50.0 * math.sin(angle)]
    start, end = ([round(x + k * far[0], 3), round(y + k * far[1], 3)] for k in (-1, 1))
    return {"start": start, "end": end, "width": draw(metres(0.01, 0.03))}


@st.composite
def batters(draw: st.DrawFn) -> PoolDict:
    """Walls that lean, all round or along a stretch."""
    lean = st.sampled_from([0.05, 0.1, 0.2])
    if draw(st.booleans()):
        return {"slope": draw(lean)}
    along = {**draw(stretches()), "slope": draw(lean)}
    return {"slope": draw(st.sampled_from([0.0, 0.05])), "stretches": [along]}


@st.composite
def islands(draw: st.DrawFn) -> PoolDict:
    """A column in the water."""
    found: PoolDict = {"outline": draw(small_outlines(0.4, 1.5))}
    if draw(st.booleans()):
        found["top"] = draw(metres(0.1, 0.6))
    return found


@st.composite
def shells(draw: st.DrawFn) -> PoolDict:
    """Thicknesses, and any of beam, footing and thickened edge."""
    found: PoolDict = {"wall": draw(metres(0.2, 0.3)), "floor": draw(metres(0.2, 0.3))}
    if draw(st.booleans()):
        found["beam"] = {"width": draw(metres(0.31, 0.6)), "depth": draw(metres(0.1, 0.5))}
    if draw(st.booleans()):
        found["footing"] = {"projection": draw(metres(0.1, 0.5)), "thickness": 0.2}
    if draw(st.booleans()):
        splay = draw(st.sampled_from([0.0, 0.2]))
        found["thickened_edge"] = {"width": draw(metres(0.2, 0.8)), "depth": 0.2, "splay": splay}
    return found


@st.composite
def walls(draw: st.DrawFn) -> PoolDict:
    """A stretch of wall that is higher or thicker."""
    found = draw(stretches())
    kind = draw(st.sampled_from(["height", "thickness", "both"]))
    if kind != "thickness":
        found["height"] = draw(metres(0.05, 1.0))
    if kind != "height":
        found["thickness"] = draw(metres(0.15, 0.45))
    return found


@st.composite
def recesses(draw: st.DrawFn) -> PoolDict:
    """A recess at the waterline, all round or not."""
    found: PoolDict = {"width": draw(metres(0.03, 0.15)), "depth": draw(metres(0.1, 0.4))}
    return found | (draw(stretches()) if draw(st.booleans()) else {})


@st.composite
def fittings(draw: st.DrawFn) -> PoolDict:
    """A fitting at a point, on the wall, or a row of them."""
    kind = draw(
        st.sampled_from(["main drain", "return inlet", "light niche", "skimmer", "cleaner point"])
    )
    if kind == "main drain":
        return {"kind": kind, "point": draw(middle()), "protection": "two drains on one line"}
    if draw(st.booleans()):
        return {"kind": kind, "at": draw(somewhere())}
    return {"kind": kind, **draw(stretches()), "count": draw(st.integers(2, 4))}


ONE_BY_ONE = {
    "hopper": hoppers(),
    "bench": benches(),
    "ledges": ledges(),
    "steps": st.one_of(flights(), other_flights()),
    "islands": islands(),
    "overflows": overflows(),
    "channels": channels(),
    "walls": walls(),
    "recess": recesses(),
    "fittings": fittings(),
    "joints": joints(),
}
"""Features that a pool may have several of."""

SINGLE = {
    "arris": arrises(),
    "batter": batters(),
    "shell": shells(),
    "waterline": st.fixed_dictionaries({"above": metres(0.0, 0.3), "below": metres(0.0, 1.2)}),
    "coping": st.fixed_dictionaries({"membrane_return": st.sampled_from([0.04, 0.1, 0.2])}),
    "setting": st.sampled_from(["in ground", "suspended"]),
}
"""Features that a pool has one of."""


@st.composite
def pools_of_all(draw: st.DrawFn) -> PoolDict:
    """A pool of any outline and floor, each feature on in one of five."""
    found: PoolDict = {
        "name": "random pool",
        "units": "m",
        "outline": draw(combined() if draw(one_in(6)) else outlines()),
        "floor": draw(other_floors() if draw(st.booleans()) else plain_floors()),
        "freeboard": draw(metres(0.1, 0.3)),
    }
    if draw(st.booleans()):
        found["cove"] = draw(coves())
    for key, strategy in ONE_BY_ONE.items():
        if draw(one_in(5)):
            found[key] = [draw(strategy)]
    for key, single in SINGLE.items():
        if draw(one_in(5)):
            found[key] = draw(single)
    if draw(one_in(5)):
        found["spas"] = draw(st.lists(spas(), min_size=1, max_size=2))
        for spa in found["spas"]:
            if "cove" in spa and draw(one_in(5)):
                circle = spa["outline"]
                spa["outline"] = {
                    "shape": "rectangle",
                    "length": round(2.0 * circle["radius"], 3),
                    "width": round(1.8 * circle["radius"], 3),
                    "centre": circle["centre"],
                    "rotation": draw(directions()),
                }
                spa["cove"]["corners"] = draw(corners(spa["cove"]["radius"]))
    return found
