"""Hypothesis strategies for pools with floors of every shape, coves of every form and batter."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st

from .strategies import PoolDict, metres, outlines, stretches


def points(reach: float = 2.5) -> st.SearchStrategy[list[float]]:
    """Plan points about the origin."""
    return st.tuples(metres(-reach, reach), metres(-reach, reach)).map(list)


@st.composite
def ruled_floors(draw: st.DrawFn) -> PoolDict:
    """Break lines with a depth for each end, here and there; some begin as a beach."""
    at = draw(metres(-4.0, -1.0))
    first = draw(st.sampled_from([-0.1, 0.9, 1.2]))
    breaks: list[PoolDict] = [{"at": at, "depth": first}]
    for _ in range(draw(st.integers(1, 3))):
        at = round(at + draw(metres(1.5, 4.0)), 3)
        right, left = draw(metres(1.1, 2.2)), draw(metres(1.1, 2.2))
        breaks.append({"at": at, "depth": [right, left] if draw(st.booleans()) else right})
    return {
        "shape": "breaks",
        "direction": float(draw(st.integers(-180, 180))),
        "breaks": breaks,
    }


@st.composite
def drained_floors(draw: st.DrawFn) -> PoolDict:
    """One to three drains."""
    depths = st.sampled_from([1.8, 1.8, 1.75, 1.9])
    drains = [{"at": draw(points()), "depth": draw(depths)} for _ in range(draw(st.integers(1, 3)))]
    return {"shape": "drains", "drains": drains, "fall": draw(st.sampled_from([0.02, 0.05, 0.1]))}


@st.composite
def dished_floors(draw: st.DrawFn) -> PoolDict:
    """Dished or crowned, in all directions or across one."""
    found: PoolDict = {
        "shape": "dished",
        "at": draw(points(1.0)),
        "depth": draw(metres(1.3, 2.0)),
        "edge_depth": draw(metres(1.2, 1.8)),
        "reach": draw(metres(3.0, 5.0)),
    }
    if draw(st.booleans()):
        found["direction"] = float(draw(st.integers(-180, 180)))
    return found


@st.composite
def spot_floors(draw: st.DrawFn) -> PoolDict:
    """Depths at the knots of a loose grid."""
    spots = []
    for x in (-4.0, 0.0, 4.0):
        for y in (-3.0, 0.0, 3.0):
            at = [round(x + draw(st.floats(-1.0, 1.0)), 3), round(y + draw(st.floats(-1, 1)), 3)]
            spots.append({"at": at, "depth": draw(metres(1.2, 2.0))})
    kept = draw(st.integers(3, len(spots)))
    return {"shape": "spots", "spots": draw(st.permutations(spots))[:kept]}


@st.composite
def plain_floors(draw: st.DrawFn) -> PoolDict:
    """Level, or a plane."""
    if draw(st.booleans()):
        return {"shape": "level", "depth": draw(metres(1.2, 2.0))}
    return {
        "shape": "plane",
        "depth": draw(metres(1.5, 2.0)),
        "at": [0.0, 0.0],
        "fall": draw(st.floats(-0.06, 0.06)),
        "direction": float(draw(st.integers(-180, 180))),
    }


@st.composite
def hoppers(draw: st.DrawFn) -> PoolDict:
    """A hopper of any convex contour, which may reach the walls or not."""
    at = draw(points(1.5))
    kind = draw(st.sampled_from(["circle", "rectangle", "polygon", "ellipse"]))
    contour: PoolDict = {"shape": kind}
    if kind == "circle":
        contour |= {"radius": draw(metres(0.3, 1.2)), "centre": at}
    elif kind == "polygon":
        corners = [(-0.8, -0.6), (0.7, -0.5), (0.9, 0.6), (-0.5, 0.7)]
        contour["points"] = [[round(at[0] + x, 3), round(at[1] + y, 3)] for x, y in corners]
    else:
        contour |= {
            "length": draw(metres(0.8, 2.0)),
            "width": draw(metres(0.6, 1.5)),
            "centre": at,
            "rotation": float(draw(st.integers(-180, 180))),
        }
    slopes: Sequence[float] = [0.333, 0.5, 1.0]
    slope: float | list[float] = draw(st.sampled_from(slopes))
    if kind in {"polygon", "rectangle"} and draw(st.booleans()):
        slope = [draw(st.sampled_from(slopes)) for _ in range(4)]
    return {"contour": contour, "depth": draw(metres(2.2, 3.0)), "slope": slope}


@st.composite
def coves(draw: st.DrawFn, forms: Sequence[str]) -> PoolDict:
    """A cove or a fillet, now and then deeper or by stretches."""
    radii = st.sampled_from([0.05, 0.1, 0.15, 0.25])
    found: PoolDict = {
        "form": draw(st.sampled_from(forms)),
        "radius": draw(radii),
    }
    if draw(st.integers(0, 3)) == 0:
        start = draw(metres(1.0, 1.5))
        end = round(start + draw(metres(0.2, 0.8)), 3)
        found["deepens"] = {"start": start, "end": end, "radius": draw(radii)}
    if draw(st.integers(0, 2)) == 0:
        found["stretches"] = [
            {**draw(stretches()), "radius": draw(st.sampled_from([0.0, 0.05, 0.2]))}
        ]
    return found


@st.composite
def batters(draw: st.DrawFn) -> PoolDict:
    """Walls that lean, now and then by stretches."""
    found: PoolDict = {"slope": draw(st.sampled_from([0.0, 0.05, 0.1, 0.25]))}
    if draw(st.booleans()):
        found["stretches"] = [{**draw(stretches()), "slope": draw(st.sampled_from([0.0, 0.15]))}]
    return found


@st.composite
def pools_of_forms(draw: st.DrawFn, forms: Sequence[str] = ("cove", "fillet")) -> PoolDict:
    """A pool with a floor of any shape, and now and then hoppers, cove and batter."""
    floor = st.one_of(
        plain_floors(), ruled_floors(), drained_floors(), dished_floors(), spot_floors()
    )
    file: PoolDict = {
        "name": "forms",
        "units": "m",
        "freeboard": 0.2,
        "outline": draw(outlines()),
        "floor": draw(floor),
    }
    if draw(st.integers(0, 2)) == 0:
        file["hopper"] = [draw(hoppers()) for _ in range(draw(st.sampled_from([1, 1, 2])))]
    if draw(st.integers(0, 3)) > 0:
        file["cove"] = draw(coves(forms))
    if draw(st.integers(0, 3)) == 0:
        file["batter"] = draw(batters())
    return file
