"""Fittings anywhere on random pools: each lies on the face that it names, or is refused."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from poolgeo.arrays import Floats
from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import Findings, PoolFileError
from poolgeo.fittings.place import place
from poolgeo.layout import layout_of
from poolgeo.measure.takeoff import measure
from poolgeo.mesh import Mesh
from poolgeo.model import Model
from poolgeo.placed import Placed
from poolgeo.quantities import Takeoff

from ..properties.facts import FACTS
from ..properties.moving import moved
from ..strategies import PoolDict, metres, pools

TINY = {"kind": "fitting", "diameter": 0.002, "collar": 0.0}
"""So small that it hardly ever meets an edge."""

OFF = 2.5e-3
"""[m] A fitting on a curved wall stands off the chords by their tolerance, as a bench's do."""

quick = settings(
    max_examples=20,
)


@st.composite
def entries(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Some tiny fittings: by station on a wall, by station on what lies there, by point."""
    found: list[dict[str, Any]] = []
    for _ in range(draw(st.integers(1, 4))):
        angle, reach = draw(st.floats(0.0, 2.0 * math.pi)), draw(st.floats(0.0, 0.95))
        far = [round(20.0 * math.cos(angle), 3), round(20.0 * math.sin(angle), 3)]
        how = draw(st.sampled_from(["wall", "offset", "point"]))
        if how == "wall":
            found.append(TINY | {"at": far, "depth": draw(metres(-0.05, 1.2))})
        elif how == "offset":
            found.append(TINY | {"at": far, "offset": draw(metres(-0.2, 1.5))})
        else:
            found.append(TINY | {"point": [round(reach * c / 8.0, 3) for c in far]})
    return found


def built(file: PoolDict) -> Model:
    """Build a pool; a refused one is no example."""
    try:
        return build(design_from(file))
    except PoolFileError as error:
        event(error.findings[0].key[0] if error.findings[0].key else "whole")  # type: ignore[arg-type]
        assume(condition=False)
        raise


def distance(mesh: Mesh, item: Placed) -> tuple[float, Floats]:
    """Return how far a fitting is from the faces of its label, and the nearest one's normal."""
    rows = [
        n
        for n, patch in enumerate(mesh.patches)
        if (patch.body, patch.kind, patch.feature) == (item.body, item.surface, item.feature)
    ]
    corners = mesh.vertices[mesh.triangles[np.isin(mesh.patch, rows)]] - np.array(item.point)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normals, axis=1)
    corners, normals = corners[size > 0.0], normals[size > 0.0] / size[size > 0.0, None]
    height = np.sum(corners[:, 0] * normals, axis=1)
    foot = height[:, None] * normals
    inside = np.ones(len(corners), dtype=bool)
    away = np.full(len(corners), np.inf)
    for i in range(3):
        a, b = corners[:, i], corners[:, (i + 1) % 3]
        side = b - a
        inside &= np.sum(np.cross(side, foot - a) * normals, axis=1) >= 0.0
        share = np.clip(-np.sum(a * side, axis=1) / np.sum(side * side, axis=1), 0.0, 1.0)
        away = np.minimum(away, np.linalg.norm(a + share[:, None] * side, axis=1))
    away = np.where(inside, np.abs(height), away)
    nearest = int(np.argmin(away))
    return float(away[nearest]), normals[nearest]


@quick
@given(pools(), entries())
def test_a_fitting_lies_on_the_face_that_it_names(
    file: PoolDict, fittings: list[dict[str, Any]]
) -> None:
    """And looks its way; both found again from the triangles of that label."""
    model = built(file | {"fittings": fittings})
    levels = {body.name: body.level for body in model.bodies}
    assert len(model.fittings) == len(fittings)
    for item in model.fittings:
        away, normal = distance(model.surface, item)
        assert away < OFF, item
        assert float(np.dot(normal, item.normal)) > 0.95, item
        assert np.linalg.norm(item.normal) == pytest.approx(1.0)
        assert abs(np.dot(item.normal, item.across)) < 1e-9
        assert item.depth == pytest.approx(levels[item.body] - item.point[2])


@quick
@given(pools(), entries(), st.integers(-180, 180))
def test_fittings_move_with_their_pool(
    file: PoolDict, fittings: list[dict[str, Any]], degrees: int
) -> None:
    """Turned and shifted, each sits on the same kind of face at the same place of the pool."""
    by = (7.25, -3.5)
    whole = file | {"fittings": fittings}
    one, other = built(whole), built(moved(whole, float(degrees), by))
    for here, away in zip(one.fittings, other.fittings, strict=True):
        assert (here.number, here.surface, here.wet) == (away.number, away.surface, away.wet)
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        x, y, z = here.point
        carried_to = (c * x - s * y + by[0], s * x + c * y + by[1], z)
        assert away.point == pytest.approx(carried_to, abs=OFF)


def smooth_lines(mesh: Mesh) -> Floats:
    """Return the segments (k, 2, 3) along which coves leave wall, floor and treads [m]."""
    seen: dict[tuple[int, int], int] = {}
    found = []
    eases = [
        item.kind in ("cove", "fillet", "corner cove", "corner fillet") for item in mesh.patches
    ]
    for corners, patch in zip(mesh.triangles.tolist(), mesh.patch.tolist(), strict=True):
        for i, j in ((0, 1), (1, 2), (2, 0)):
            one, two = sorted((corners[i], corners[j]))
            other = seen.setdefault((one, two), patch)
            if other != patch and eases[other] != eases[patch]:
                found.append((one, two))
    return mesh.vertices[np.array(found, dtype=np.int64).reshape(-1, 2)]


def reached(model: Model, takeoff: Takeoff, points: Floats) -> Floats:
    """Return how far points (k, 3) are from all edges, coves' lines and the wall's outer edge."""
    rim = model.outlines["pool", "shell"]
    height = np.full(len(rim) + 1, model.design.pool.freeboard)
    lines = [np.column_stack([np.vstack([rim, rim[:1]]), height])]
    lines += [run.points for run in takeoff.edges if abs(run.angle - 180.0) > FLUSH]
    lines += [*smooth_lines(model.surface)]
    a, b = (np.concatenate([line[part] for line in lines]) for part in (slice(-1), slice(1, None)))
    way = b - a
    found = []
    for point in points:
        share = np.clip(np.sum((point - a) * way, axis=1) / np.sum(way * way, axis=1), 0.0, 1.0)
        found.append(np.linalg.norm(a + share[:, None] * way - point, axis=1).min())
    return np.array(found)


FLUSH = 1.0
"""[deg] A flange lies over a break of the floor that bends by less."""

NEAR = 4e-3
"""[m] Collars that end nearer than this to an edge are not looked at: curves go by chords."""

DISC = {"kind": "fitting", "diameter": 0.1, "collar": 0.05}


@quick
@given(pools(), st.lists(entries(), min_size=4, max_size=8))
def test_a_collar_is_refused_just_where_a_measured_edge_is_near(
    file: PoolDict, lists: list[list[dict[str, Any]]]
) -> None:
    """Discs of 0.1 m: what the takeoff calls an edge is what they may not reach over."""
    model = built(file)
    design = design_from(file | {"fittings": [item | DISC for part in lists for item in part]})
    findings = Findings()
    layout = layout_of(design, Findings())
    waters = {item.name: item.level for item in layout.waters}
    found = place(model.surface, model.lies, waters, layout.outlines, design.pool, findings)
    assume(len(found))  # else each of them has no face
    away = reached(model, measure(model), np.array([item.point for item in found]))
    for item, gap in zip(found, away.tolist(), strict=True):
        words = f"collar of {item.number} "
        said = [str(one) for one in findings.found if words in one.rule]
        if abs(gap - 0.1) > NEAR:
            assert bool(said) is (gap < 0.1), (item, gap, said)


@pytest.mark.parametrize("name", ["long-course"])
def test_every_fact_holds_of_a_pool_with_fittings(name: str) -> None:
    """The sample with sixty of them."""
    import poolgeo

    from ..conftest import ROOT

    model = build(poolgeo.load(ROOT / "samples" / f"{name}.yaml"))
    takeoff = measure(model)
    assert len(takeoff.fittings) == 60
    assert not takeoff.warnings
    for fact in FACTS:
        fact(model, takeoff)
