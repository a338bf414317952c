"""Hypothesis strategies for what is asked of movement joints: rules, rows of tiles, finishes."""

from __future__ import annotations

from hypothesis import strategies as st

from ..strategies import PoolDict, metres

LAID_ON = ["floor", "wall", "cove", "hopper side", "tread", "riser", "bench top", "bench face"]
SOURCE = "made for a test"


@st.composite
def tiles(draw: st.DrawFn) -> PoolDict:
    """Tiles of 50 to 600 mm, everywhere or on some kinds of surface."""
    tile = {"length": draw(metres(0.05, 0.6)), "width": draw(metres(0.05, 0.6)), "thickness": 0.008}
    found = {"name": "tiles", "type": "tile", "tile": tile, "joint": draw(metres(0.002, 0.01))}
    where = draw(st.sampled_from(["all", "all", "wet", "kinds"]))
    if where == "wet":
        found["where"] = {"wet": True}
    if where == "kinds":
        found["where"] = {"kinds": LAID_ON}
    return found


@st.composite
def rule_tables(draw: st.DrawFn) -> PoolDict:
    """Bays of 2.5 to 6 m, with or without joints at edges, perimeter and fittings."""
    found: PoolDict = {
        "name": "random rules",
        "units": "m",
        "bays": {"longest": draw(metres(2.5, 6.0)), "source": SOURCE},
        "structure": {"source": SOURCE},
        "widths": {"least": draw(st.sampled_from([0.006, 0.01])), "source": SOURCE},
    }
    if draw(st.integers(0, 3)):
        senses = draw(st.sampled_from([("internal",), ("internal", "external")]))
        found["changes_of_plane"] = {"senses": senses, "source": SOURCE}
    if draw(st.integers(0, 3)):
        found["perimeter"] = {"source": SOURCE}
    if draw(st.booleans()):
        found["fittings"] = {"source": SOURCE}
    return found


@st.composite
def jobs(draw: st.DrawFn) -> PoolDict:
    """What is added to a pool, with its rules under ``rules``."""
    asked: PoolDict = {"direction": float(draw(st.integers(-90, 90)))}
    if draw(st.booleans()):
        asked["direction"] = 0.0
    if draw(st.booleans()):
        asked["origin"] = [draw(metres(-1.0, 1.0)), draw(metres(-1.0, 1.0))]
    found: PoolDict = {"movement_joints": asked, "rules": draw(rule_tables())}
    if draw(st.booleans()):
        found["finishes"] = [draw(tiles())]
    return found
