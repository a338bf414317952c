"""Fillets over breaks of the floor: they meet in one line, in the sense of the break."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from poolgeo.measure.edges import edges_of

from ..properties.test_pools import check
from .quantities import model_of, polygon, pool, rectangle, takeoff_of

BROW_BESIDE_AN_ACUTE_CORNER = pool(
    polygon((-2.0, -2.0), (6.0, 1.0), (1.0, 1.0)),
    {"shape": "breaks", "direction": 141.0,
     "breaks": [{"at": -1.0, "depth": 1.0}, {"at": 1.0, "depth": 1.2}]},
)  # fmt: skip
RULED = pool(
    polygon((3.0, 0.0), (-2.0, 1.4), (1.0, -2.6)),
    {"shape": "breaks", "direction": 180.0,
     "breaks": [{"at": -4.4, "depth": 1.12}, {"at": -1.97, "depth": [1.0, 1.2]},
                {"at": 0.0, "depth": 1.6}]},
)  # fmt: skip
SPOTS = pool(
    {"shape": "spline",
     "points": [[5.051, 0.0], [4.175, 2.061], [0.611, 2.569], [-2.673, 2.724], [-6.146, 1.316],
                [-4.923, -1.238], [0.152, -2.563], [3.937, -1.656]]},
    {"shape": "spots", "spots": [{"at": [7.0, -5.0], "depth": 1.401},
                                 {"at": [7.0, 5.0], "depth": 1.828},
                                 {"at": [-1.259, -0.42], "depth": 1.307},
                                 {"at": [-0.366, -0.67], "depth": 1.554}]},
)  # fmt: skip
WITH_A_HOPPER = pool(
    polygon((-2.0, -2.0), (5.007, -2.0), (5.007, 2.194), (3.15, 2.194), (3.15, 4.635),
            (-2.0, 4.635)),
    {"shape": "breaks", "direction": -49.0,
     "breaks": [{"at": -2.415, "depth": 1.106}, {"at": -1.353, "depth": 1.106}]},
    hopper=[{"contour": {"shape": "ellipse", "length": 0.8, "width": 0.8, "centre": [0.001, 0.002]},
             "depth": 2.0, "slope": 0.2}],
)  # fmt: skip
BROW_INTO_A_CORNER = pool(
    rectangle(8.0, 5.0),
    {"shape": "breaks", "direction": 64.0,
     "breaks": [{"at": -2.341, "depth": 1.053}, {"at": -0.307, "depth": 1.724},
                {"at": 2.668, "depth": [2.706, 2.778]}]},
)  # fmt: skip


@pytest.mark.parametrize("radius", [0.05, 0.1, 0.15])
@pytest.mark.parametrize(
    "file", [BROW_BESIDE_AN_ACUTE_CORNER, RULED, SPOTS, WITH_A_HOPPER, BROW_INTO_A_CORNER]
)
def test_senses_are_those_of_the_faces(file: dict[str, Any], radius: float) -> None:
    """Each of them had a fillet that bent the other way than its run said."""
    assert check(file | {"cove": {"radius": radius, "form": "fillet"}}) in {"built", "refused"}


@pytest.mark.parametrize(("fall", "sense"), [(0.2, "external"), (-0.1, "internal")])
@pytest.mark.parametrize("direction", [0.0, 37.0])
def test_the_angle_is_that_of_the_faces(fall: float, sense: str, direction: float) -> None:
    """A face looks half way between wall and floor, so the angle follows from the two floors."""
    breaks = [{"at": -6.0, "depth": 1.5}, {"at": 0.0, "depth": 1.5},
              {"at": 6.0, "depth": 1.5 + 6.0 * fall}]  # fmt: skip
    file = pool(
        rectangle(8.0, 5.0), {"shape": "breaks", "direction": direction, "breaks": breaks},
        cove={"radius": 0.1, "form": "fillet"},
    )  # fmt: skip
    found = [run for run in takeoff_of(file).edges if run.kind == "fillet/fillet"]
    d = math.radians(direction)
    down = np.array([math.cos(d), math.sin(d)])
    for wall in (-1.0, 1.0):
        x = wall * 2.5 * math.tan(d)
        (run,) = [
            run for run in found if abs(run.points[:, 0].mean() - x) < 0.4
            and wall * run.points[:, 1].mean() < -2.0
        ]  # fmt: skip
        n, up = np.array([0.0, wall, 0.0]), np.array([0.0, 0.0, 1.0])
        sloping = np.array([*(fall * down), 1.0]) / math.hypot(1.0, fall)
        faces = [n + up, n + sloping]
        cosine = faces[0] @ faces[1] / np.linalg.norm(faces[0]) / np.linalg.norm(faces[1])
        bend = math.degrees(math.acos(cosine)) * (1.0 if fall > 0.0 else -1.0)
        assert run.sense == sense
        assert run.angle == pytest.approx(180.0 + bend, abs=1e-6)
        foot = min(run.points.tolist(), key=lambda p: p[2])
        assert float(np.array(foot[:2]) @ down) == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize("direction", range(-175, 185, 25))
def test_facets_bend_as_the_faces_do(direction: float) -> None:
    """At straight walls the mesh itself has the sense that the faces have."""
    places = zip((-4.0, -1.5, 0.6, 3.0), (1.0, 1.25, 1.25, 1.9), strict=True)
    breaks = [{"at": at, "depth": depth} for at, depth in places]
    floor = {"shape": "breaks", "direction": direction, "breaks": breaks}
    model = model_of(pool(rectangle(8.0, 5.0), floor, cove={"radius": 0.1, "form": "fillet"}))
    edges = edges_of(replace(model, bends={}))
    found = 0
    for patches, angle in zip(edges.patches.tolist(), edges.angle.tolist(), strict=True):
        bend = model.bends.get(frozenset(model.surface.patches[k] for k in patches))
        if bend is not None:
            found += 1
            assert (angle > 180.0) == (bend > 180.0)
    assert found
