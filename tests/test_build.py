"""From a pool file's values to a model or to findings: what the builder itself decides."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import Finding, PoolFileError

from .measure.quantities import (
    area,
    breaks,
    circle,
    lengths,
    level,
    model_of,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
)

FOLLOWING = {"shape": "following", "going": 0.3, "risers": 3}


def findings_of(file: dict[str, Any]) -> list[Finding]:
    """Return what a pool that cannot be built is refused for."""
    with pytest.raises(PoolFileError) as refused:
        build(design_from(file))
    return list(refused.value.findings)


def test_everything_found_comes_at_once() -> None:
    """A bench too wide, steps outside and a cove too large are three findings, with their keys."""
    file = pool(
        rectangle(6.0, 4.0),
        level(1.4),
        bench=[{"width": 4.5, "depth": 0.4}],
        steps=[{"shape": "side", "at": [0.0, -2.0], "direction": -90, "width": 1.0, "going": 0.3,
                "risers": 3}],
        cove={"radius": 2.5},
    )  # fmt: skip
    keys = {item.key[0] for item in findings_of(file) if item.severity == "error"}
    assert keys == {"bench", "steps", "cove"}


def test_warnings_of_a_second_lap_come_once() -> None:
    """The plan is laid out again when the cove puts joints on a curved outline."""
    file = pool(
        circle(3.0),
        breaks((-1.0, 1.2), (0.5, 1.6), (9.0, 1.6)),
        cove={"radius": 0.15, "also_at": ["bench faces"]},
        bench=[{"start": [0.0, 9.0], "end": [-9.0, 0.0], "width": 0.5, "depth": 0.45}],
    )
    model = model_of(file)
    assert len({str(item) for item in model.warnings}) == len(model.warnings)


def test_a_cove_taller_than_the_riser_it_runs_along_is_refused() -> None:
    """The last riser is 2 mm high at the shallow side: the ball would touch nothing there."""
    file = pool(
        polygon((-2, -2), (3, -2), (3, 0.5), (0.5, 0.5), (0.5, 3), (-2, 3)),
        breaks((-1.0, 1.0), (0.0, 1.33), direction=73.0),
        cove={"radius": 0.05, "also_at": ["risers"]},
        steps=[{"shape": "end", "direction": 0.0, "going": 0.28, "risers": 3}],
    )
    (found,) = [item for item in findings_of(file) if item.severity == "error"]
    assert found.key == ("cove", "radius")
    assert "'steps 1 tread 3' is lower than it" in found.rule


def test_the_ball_may_roll_round_the_inside_of_a_curved_riser() -> None:
    """An open line has no chord from its end to its start that the ball could run into."""
    file = pool(
        circle(3.0),
        level(1.5),
        cove={"radius": 0.1, "also_at": ["risers"]},
        steps=[{**FOLLOWING, "start": [0.0, 9.0], "end": [0.0, -9.0]}],
    )
    takeoff = takeoff_of(file)
    rounds = [run for run in takeoff.coves if run.length > 0.9 * math.pi * (3.0 - 0.6)]
    assert len(rounds) >= 2


def spa(x: float, **more: Any) -> dict[str, Any]:
    """A round spa on the long axis of a rectangle."""
    return {"outline": {"shape": "circle", "radius": 1.0, "centre": [x, 0.0]}, "depth": 0.9,
            "raised": 0.0, "dam_wall": 0.2, **more}  # fmt: skip


def test_a_spillway_at_the_middle_of_a_spa_is_refused() -> None:
    """Every place of its outline is as near."""
    spillway = {"at": [1.0, 0.0], "width": 0.5, "drop": 0.0}
    file = pool(rectangle(8.0, 5.0), level(1.4), spas=[spa(1.0, spillways=[spillway])])
    (found,) = findings_of(file)
    assert found.key == ("spas", 0, "spillways", 0, "at")
    assert "nearer to one place" in found.rule


def test_a_spa_across_the_whole_pool_is_refused() -> None:
    """It leaves two waters."""
    wide = spa(1.0)
    wide["outline"] = {"shape": "circle", "radius": 1.81, "centre": [1.0, 0.0]}
    file = pool(rectangle(9.0, 4.0), level(1.4), spas=[wide])
    (found,) = [item for item in findings_of(file) if item.severity == "error"]
    assert "cut the pool in two" in found.rule


def test_a_spas_wall_outside_goes_down_to_its_own_soffit() -> None:
    """Beyond the pool's shell there is no deeper soffit for it to stand on."""
    model = model_of(pool(rectangle(8.0, 5.0), level(2.0), spas=[spa(4.6, raised=0.2)]))
    mesh = model.shell
    soffit = np.array([item.kind == "soffit" for item in mesh.patches])[mesh.patch]
    corners = mesh.vertices[mesh.triangles[soffit]]
    outside = corners[:, :, 0].min(axis=1) > 4.0 + 0.25 + 1e-6
    assert outside.any()
    assert corners[outside][:, :, 2] == pytest.approx(0.2 - 0.9 - 0.25)


def test_a_break_that_hardly_turns_keeps_its_sense() -> None:
    """Slopes of 0.33015 and 0.33011: the profile tells, not the mesh."""
    file = pool(circle(2.485), breaks((-1.478, 1.0), (0.406, 1.622), (2.581, 2.34), direction=7.0))
    takeoff = takeoff_of(file)
    assert len(lengths(takeoff, "floor/floor", "internal")) == 1
    assert len(lengths(takeoff, "floor/floor", "external")) == 1


def test_a_cove_leaves_no_crumbs_of_edge_where_corners_meet_on_a_slope() -> None:
    """The higher of two coves ends on the other's wall: that is no edge to be taken off."""
    file = pool(rectangle(8.0, 4.0), plane(1.5, 0.06), cove={"radius": 0.15})
    kinds = {run.kind for run in takeoff_of(file).edges}
    assert kinds == {"cove/cove", "wall/wall", "wall/wall top"}


def test_cove_areas_hold_where_a_slope_leaves_no_tail() -> None:
    """Contacts 1 mm apart at the corners: the error stays there, and is no whole strip's."""
    sloped = takeoff_of(pool(rectangle(8.0, 4.0), plane(1.5, 0.02), cove={"radius": 0.05}))
    flat = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), cove={"radius": 0.05}))
    assert area(sloped, "cove") == pytest.approx(area(flat, "cove"), rel=1e-3)


def test_outlines_hold_what_stands_in_them() -> None:
    """The pool's outline, its shell's, and the spa's are all closed and in each other."""
    model = model_of(pool(rectangle(8.0, 5.0), level(2.0), spas=[spa(1.0)]))
    shapes = {name: shapely.Polygon(points) for name, points in model.outlines.items()}
    assert shapes["pool", "shell"].contains(shapes["pool", "water"])
    assert shapes["pool", "water"].contains(shapes["spa", "shell"])
    assert shapes["spa", "shell"].contains(shapes["spa", "water"])


@pytest.mark.parametrize(
    ("shell", "taken"),
    [
        ({}, "wall 0.250 m, floor 0.250 m"),
        ({"wall": 0.2}, "floor 0.250 m"),
        ({"wall": 0.2, "floor": 0.3}, ""),
    ],
)
def test_a_thickness_that_nobody_gave_is_warned_of(shell: dict[str, float], taken: str) -> None:
    """Concrete is ordered by it."""
    file = pool(rectangle(8.0, 4.0), level(1.5)) | {"shell": shell}
    said = [f"{item.rule}: {item.value}" for item in model_of(file).warnings]
    rule = "does not give how thick the concrete is: taken as common practice, no source"
    assert said == [f"{rule}: {taken}"] * bool(taken)
