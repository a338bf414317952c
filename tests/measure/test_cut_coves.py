"""Coves that a flight cuts: the cut is flush and the cove beside it keeps its shape."""

from __future__ import annotations

import math

import pytest

from .quantities import level, model_of, pool, rectangle, takeoff_of

PLANE = {"shape": "plane", "depth": 1.2, "at": [-4.0, 0.0], "fall": 1.0 / 12.0}
FLIGHT = {"shape": "side", "at": [-4.0, 0.5], "width": 1.5, "going": 0.3, "rise": 0.2}


def test_a_flight_cuts_the_cove_flush_on_both_sides() -> None:
    """Each cut is the section of the cove: an arc of the radius, by the angle at the wall."""
    radius = 0.15
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), PLANE, cove={"radius": radius}, steps=[FLIGHT]))
    arc = radius * (math.pi / 2.0 - math.atan(1.0 / 12.0))  # the floor falls away from that wall
    cuts = [run for run in takeoff.edges if run.kind == "cove/step side"]
    assert len(cuts) == 2
    for run in cuts:
        assert run.length == pytest.approx(arc, rel=5e-4)
        assert run.angle == pytest.approx(90.0, abs=0.2)


def test_a_cut_cove_stays_tangent_to_its_wall() -> None:
    """No edge runs along the wall beside a flight; only crumbs of corners' mitres do."""
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), PLANE, cove={"radius": 0.15}, steps=[FLIGHT]))
    assert all(run.length < 0.05 for run in takeoff.edges if run.kind == "wall/cove")


def test_flanks_aslant_of_the_grid_take_no_cove() -> None:
    """Treads share their flanks: only the feet of the risers, one on each tread, take a cove."""
    outline = rectangle(13.538, 3.733, corner_radius=0.3, rotation=30.0)
    flight = {"shape": "side", "at": [-14.443, 13.835], "width": 1.177, "going": 0.303, "risers": 4}
    cove = {"radius": 0.05, "also_at": ["risers"]}
    model = model_of(pool(outline, level(1.5), cove=cove, steps=[flight]))
    feet = {patch.feature for patch in model.surface.patches if "cove on" in patch.feature}
    assert feet == {f"cove on steps 1 tread {k} group 1" for k in (2, 3, 4)}
