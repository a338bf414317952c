"""How far faces turn at an edge is known from what they are, not from needles beside it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from poolgeo.mesh import Mesh, Patch
from poolgeo.surface.bends import turns

from ..measure.quantities import level, pool, rectangle, takeoff_of

LEVEL, RAMP = Patch("pool", "floor", "level"), Patch("pool", "floor", "ramp")


def needled() -> Mesh:
    """A ramp of 1:10 beside a level piece that meets it in a needle, 0.05 mm wide, 0.02 mm off."""
    vertices = [[0, 0, 0], [0, 1, 0], [-1, 0, 0], [-1, 1, 0], [1, 0, 0.1], [1, 1, 0.1],
                [-5e-5, 0.5, 2e-5]]  # fmt: skip
    triangles = [[0, 1, 6], [6, 1, 3], [6, 3, 2], [6, 2, 0], [0, 4, 5], [0, 5, 1]]
    patch = np.array([0, 0, 0, 0, 1, 1])
    return Mesh(np.array(vertices, dtype=float), np.array(triangles), patch, (LEVEL, RAMP))


def test_what_a_face_was_made_as_tells() -> None:
    mesh = needled()
    ends, sides = mesh.pairs
    at = np.flatnonzero(mesh.patch[sides[0]] != mesh.patch[sides[1]])
    lies = {LEVEL: None, RAMP: lambda xy: np.tile([0.1, 0.0], (len(xy), 1))}
    angle, sound = turns(mesh, ends[:, at], sides[:, at], lies)
    assert sound.all()
    assert angle == pytest.approx(180.0 - math.degrees(math.atan(0.1)), abs=1e-9)


def test_else_the_largest_triangle_beside_a_needle_does() -> None:
    mesh = needled()
    ends, sides = mesh.pairs
    at = np.flatnonzero(mesh.patch[sides[0]] != mesh.patch[sides[1]])
    angle, _ = turns(mesh, ends[:, at], sides[:, at], {})
    assert angle == pytest.approx(180.0 - math.degrees(math.atan(0.1)), abs=0.01)


def test_a_splayed_edge_has_a_mitre_in_every_corner() -> None:
    """An L has five outside corners, in which the sides close, and one in which they turn away."""
    corners = [[0, 0], [8, 0], [8, 4], [4, 4], [4, 8], [0, 8]]
    edge = {"width": 0.5, "depth": 0.2, "splay": 0.35}
    found = takeoff_of(
        pool({"shape": "polygon", "points": corners}, level(1.5), setting="suspended")
        | {"shell": {"wall": 0.25, "floor": 0.25, "thickened_edge": edge}}
    )
    long = math.sqrt(2.0 * 0.35**2 + 0.2**2)
    mitres = [run for run in found.outside_edges if run.length == pytest.approx(long, rel=1e-6)]
    turn = math.degrees(math.acos(1.0 / (1.0 + (0.2 / 0.35) ** 2)))
    assert sorted(run.angle for run in mitres) == pytest.approx([180 - turn] * 5 + [180 + turn])
    assert {run.kind for run in mitres} == {"soffit/soffit"}


def test_a_splayed_side_steps_nowhere_round_a_curve() -> None:
    """Once it stood a hair off the slab where the wall gets thicker along a spline."""
    points = [[3.54, 0.252], [1.817, 1.694], [-0.871, 2.716], [-3.387, 0.685], [-2.564, -0.879],
              [-0.403, -2.466], [2.184, -1.951]]  # fmt: skip
    edge = {"width": 0.368, "depth": 0.1, "splay": 0.35}
    thick = {"start": [18.596, -7.361], "end": [-19.214, 5.551], "thickness": 0.204}
    found = takeoff_of(
        pool({"shape": "spline", "points": points}, level(1.762), walls=[thick])
        | {"shell": {"wall": 0.2, "floor": 0.286, "thickened_edge": edge}}
    )
    assert {row.kind for row in found.outside} == {"outer wall", "soffit"}


def test_the_facets_of_a_dished_soffit_end_no_run() -> None:
    dish = {"shape": "dished", "at": [0.0, 0.0], "depth": 1.8, "edge_depth": 1.4, "reach": 4.0}
    found = takeoff_of(pool(rectangle(8.0, 4.0), dish, setting="suspended"))
    runs = [run for run in found.outside_edges if "soffit" in run.kind]
    assert [run.kind for run in runs] == ["outer wall/soffit"] * 4


def test_a_beam_a_little_narrower_than_the_footing_turns_square() -> None:
    """Between them lies a ring of ground 5 mm wide: its needles once told angles of 176 degrees."""
    circle = {"shape": "circle", "radius": 3.168, "centre": [7.25, -3.5]}
    breaks = [{"at": -3.136, "depth": 1.201}, {"at": -1.696, "depth": 1.316}]
    floor = {"shape": "breaks", "direction": -19.0, "origin": [7.25, -3.5], "breaks": breaks}
    beam, footing = {"width": 0.322, "depth": 0.118}, {"projection": 0.118, "thickness": 0.318}
    shell = {"wall": 0.209, "floor": 0.221, "beam": beam, "footing": footing}
    found = takeoff_of(pool(circle, floor, freeboard=0.298, setting="suspended") | {"shell": shell})
    angles = [run.angle for run in found.outside_edges if run.kind == "outer wall/beam underside"]
    assert sorted(set(np.round(angles, 6))) == [90.0, 270.0]
