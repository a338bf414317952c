"""Hypothesis strategies for pools with fans, curved and free-standing flights, and ledges."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from .strategies import PoolDict, metres, outlines, pools, somewhere, stretches


def lists_of(one: st.SearchStrategy[float], size: int) -> st.SearchStrategy[list[float]]:
    """So many values of a kind."""
    return st.lists(one, min_size=size, max_size=size)


@st.composite
def depths(draw: st.DrawFn, count: int) -> PoolDict:
    """Risers or rises of so many treads."""
    if draw(st.booleans()):
        return {"risers": count}
    rises = draw(lists_of(metres(0.12, 0.25), count - 1))
    return {"rise": rises, "top_tread": draw(metres(0.1, 0.3))}


def middle() -> st.SearchStrategy[list[float]]:
    """A plan point about the middle."""
    return st.tuples(metres(-2.5, 2.5), metres(-1.5, 1.5)).map(list)


@st.composite
def other_flights(draw: st.DrawFn) -> PoolDict:
    """A flight of one of the shapes that are neither straight nor along the outline."""
    count = draw(st.integers(2, 4))
    found: dict[str, Any] = draw(depths(count))
    kind = draw(st.sampled_from(["corner", "arc", "island", "winding", "outlines"]))
    found["shape"] = kind
    going = metres(0.28, 0.45)
    if kind in {"corner", "arc"}:
        found["going"] = draw(st.one_of(going, lists_of(going, count)))
        found["at"] = draw(somewhere())
        if kind == "arc":
            found["radius"] = draw(metres(0.8, 2.5))
            if draw(st.booleans()):
                found["width"] = draw(metres(0.8, 1.6))
                found["bend"] = draw(st.sampled_from(["convex", "concave"]))
    elif kind == "island":
        found["going"] = draw(lists_of(going, count - 1))
        found["landing"] = draw(
            st.one_of(
                st.builds(
                    lambda a, b, at, turn: {"shape": "rectangle", "length": a, "width": b,
                                            "centre": at, "rotation": turn},
                    metres(0.5, 1.2), metres(0.5, 1.2), middle(), st.integers(-90, 90).map(float),
                ),
                st.builds(
                    lambda r, at: {"shape": "circle", "radius": r, "centre": at},
                    metres(0.3, 0.8), middle(),
                ),
            )
        )  # fmt: skip
        if found["landing"]["shape"] == "rectangle" and draw(st.booleans()):
            sides = st.sampled_from(["front", "back", "left", "right"])
            found["sides"] = draw(st.lists(sides, min_size=1, unique=True))
    elif kind == "winding":
        found |= {
            "pivot": draw(middle()),
            "reach": draw(metres(0.7, 1.6)),
            "direction": float(draw(st.integers(-180, 180))),
            "turn": float(draw(st.sampled_from([-270, -120, -90, 60, 90, 180, 270]))),
        }
    else:
        radius, at = draw(metres(0.4, 0.8)), draw(middle())
        found["treads"] = [
            {"shape": "circle", "radius": round(radius + 0.35 * k, 3), "centre": at}
            for k in range(count)
        ]
    return found


@st.composite
def ledges(draw: st.DrawFn) -> PoolDict:
    """A ledge that falls across or along, runs down as a beach, or has its own outline."""
    found: PoolDict = {"depth": draw(metres(0.2, 0.5))}
    beach = st.fixed_dictionaries(
        {"slope": st.sampled_from([0.2, 0.33, 0.6])}, optional={"length": metres(0.4, 1.5)}
    )
    kind = draw(st.sampled_from(["across", "along", "beach", "outline", "free beach"]))
    if kind in {"across", "along", "beach"}:
        found |= {"shape": "following", "width": draw(metres(0.4, 1.2)), **draw(stretches())}
        if kind == "across":
            found["edge_depth"] = draw(metres(0.2, 0.6))
        elif kind == "along":
            found["end_depth"] = draw(metres(0.2, 0.6))
        else:
            found["beach"] = draw(beach)
        return found
    outline = draw(outlines())
    if outline["shape"] in {"rectangle", "ellipse"}:
        outline |= {"length": draw(metres(0.8, 2.5)), "width": draw(metres(0.6, 2.0)),
                    "centre": draw(middle())}  # fmt: skip
        if "corner_radius" in outline:
            outline["corner_radius"] = draw(st.sampled_from([0.0, 0.2]))
    else:
        outline = {"shape": "circle", "radius": draw(metres(0.4, 1.2)), "centre": draw(middle())}
    found |= {"shape": "outline", "outline": outline}
    if kind == "outline":
        found |= {"fall": draw(st.floats(0.0, 0.15)), "direction": float(draw(st.integers(0, 360)))}
    else:
        found["beach"] = draw(beach)
    return found


@st.composite
def pools_with_ledges(draw: st.DrawFn) -> PoolDict:
    """A pool with any of the features and, always, a ledge or one of the other flights."""
    found = draw(pools())
    which = draw(st.sampled_from(["ledge", "flight", "both"]))
    if which != "ledge":
        found["steps"] = [*found.get("steps", []), draw(other_flights())]
    if which != "flight":
        found["ledges"] = [draw(ledges())]
    return found
