"""Random pools with random shells: each holds every fact, or is refused in words."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from ..strategies import PoolDict, metres, pools, stretches
from .facts import CLOSE, FACTS
from .moving import mirrored, moved
from .test_moves import CHORDS, Quantities, assert_same, of_example, quantities_in, quick
from .test_pools import many


@st.composite
def shells(draw: st.DrawFn) -> PoolDict:
    """Thicknesses, and any of beam, footing and thickened edge."""
    found: PoolDict = {"wall": draw(metres(0.2, 0.3)), "floor": draw(metres(0.2, 0.3))}
    if draw(st.booleans()):
        found["beam"] = {"width": draw(metres(0.31, 0.6)), "depth": draw(metres(0.1, 0.5))}
    if draw(st.booleans()):
        found["footing"] = {
            "projection": draw(metres(0.1, 0.5)),
            "thickness": draw(metres(0.1, 0.4)),
        }
    if draw(st.booleans()):
        found["thickened_edge"] = {
            "width": draw(metres(0.2, 0.8)),
            "depth": draw(metres(0.1, 0.4)),
            "splay": draw(st.sampled_from([0.0, 0.2, 0.35])),
        }
    return found


@st.composite
def walled_pools(draw: st.DrawFn) -> PoolDict:
    """A pool of any kind with a shell of any kind."""
    found: dict[str, Any] = draw(pools())
    found["shell"] = draw(shells())
    if draw(st.booleans()):
        found["walls"] = [{**draw(stretches()), "height": draw(metres(0.05, 1.0))}]
        if draw(st.integers(0, 2)) == 0:
            found["walls"][0]["thickness"] = draw(metres(0.15, 0.45))
    if draw(st.booleans()):
        recess: dict[str, Any] = {
            "width": draw(metres(0.03, 0.15)),
            "depth": draw(metres(0.1, 0.4)),
        }
        if draw(st.booleans()):
            recess |= draw(stretches())
        found["recess"] = [recess]
    found["setting"] = draw(st.sampled_from(["in ground", "suspended"]))
    return found


def outside_and_inside_are_the_shell(model: Model, takeoff: Takeoff) -> None:
    """The areas of the inside and of the outside add up to the whole skin of the concrete."""
    left_out = ("formwork", "blinding", "seen from below")
    outside = sum(row.area for row in takeoff.outside if row.kind not in left_out)
    inside = sum(row.area for row in takeoff.areas)
    assert inside + outside == pytest.approx(model.shell.trimesh().area, rel=CLOSE)


def what_looks_down_is_what_looks_up(model: Model, takeoff: Takeoff) -> None:
    """Seen in plan, the shell's upper faces cover what its lower faces do."""
    outside = {row.kind: 0.0 for row in takeoff.outside}
    for row in takeoff.outside:
        outside[row.kind] += row.plan_area
    up = sum(row.plan_area for row in takeoff.areas) + outside.get("footing top", 0.0)
    down = outside["soffit"] + outside.get("beam underside", 0.0)
    assert up == pytest.approx(down, rel=1e-5)
    assert model.shell.trimesh().volume == pytest.approx(takeoff.shell, rel=CLOSE)


def no_face_stands_double(model: Model, _: Takeoff) -> None:
    """No two triangles of the shell have the same three places for their corners."""
    places = np.unique(np.round(model.shell.vertices, 7), axis=0, return_inverse=True)[1].ravel()
    corners = np.sort(places[model.shell.triangles], axis=1)
    assert len(np.unique(corners, axis=0)) == len(corners)


OUTSIDE_FACTS = (
    outside_and_inside_are_the_shell,
    what_looks_down_is_what_looks_up,
    no_face_stands_double,
)


def check(file: PoolDict) -> str:
    """Build a pool and check every fact, unless it is refused in words; return which."""
    try:
        model = build(design_from(file))
    except PoolFileError as error:
        findings = [item for item in error.findings if item.severity == "error"]
        assert findings, file
        assert not any("developers" in item.remedy for item in findings), file
        return f"refused for {findings[0].key[:1]}"
    takeoff = measure(model)
    for fact in (*FACTS, *OUTSIDE_FACTS):
        fact(model, takeoff)
    return "built"


@settings(
    max_examples=40,
)
@given(walled_pools())
def test_a_walled_pool_holds_every_fact(file: PoolDict) -> None:
    """40 pools, the same in each run of the same modules."""
    event(check(file))


def quantities(file: PoolDict) -> Quantities:
    """Return volumes, areas and lengths, of the inside and of the outside."""
    takeoff = measure(build(design_from(file)))
    found = quantities_in(takeoff)
    for row in takeoff.outside:
        found["outside", row.body, row.kind] = row.area
    for run in takeoff.outside_edges:
        key = "length", run.body, run.kind, run.sense
        found[key] = found.get(key, 0.0) + run.length
    return found


@quick
@given(walled_pools(), st.integers(-180, 180))
def test_turning_changes_no_quantity(file: PoolDict, degrees: int) -> None:
    """A pool turned and shifted has the same shell."""
    want = of_example(file, quantities)
    turned = moved(file, float(degrees), (7.25, -3.5))
    assert_same(quantities(turned), want, CHORDS)


@quick
@given(walled_pools())
def test_mirroring_changes_no_quantity(file: PoolDict) -> None:
    """A pool and its mirror image have the same shell."""
    want = of_example(file, quantities)
    assert_same(quantities(mirrored(file)), want, CHORDS)


@pytest.mark.slow
@many
@given(walled_pools())
def test_many_walled_pools_hold_every_fact(file: PoolDict) -> None:
    """As many as the environment says, other ones in every run."""
    event(check(file))
