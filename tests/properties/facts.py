"""Facts that hold for every pool; each function asserts one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
import shapely

from poolgeo.model import Bools, Mesh, Model, Takeoff

NEARLY_FLAT = 0.1
"""[deg] Nearer to flat than this the mesh's angle is no measure of a floor break."""

CLOSE = 1e-6
"""Relative: two ways to add up the same triangles."""


def solids(model: Model) -> Iterator[Mesh]:
    """Yield everything that must be closed."""
    yield model.shell
    for body in model.bodies:
        yield body.water


def islands_of(model: Model) -> list[shapely.Polygon]:
    """Return the plan of each island."""
    found = model.outlines.items()
    return [shapely.Polygon(line) for name, line in found if name.startswith("island")]


def solids_are_closed(model: Model, _: Takeoff) -> None:
    """Every edge of a solid is shared by two triangles that run along it opposite ways."""
    for mesh in solids(model):
        whole = mesh.trimesh()
        assert whole.is_watertight
        assert whole.is_winding_consistent
        assert whole.volume > 0


def no_triangle_is_degenerate(model: Model, _: Takeoff) -> None:
    """A triangle has three vertices at three places."""
    for mesh in (model.surface, *solids(model)):
        p, q, r = (mesh.vertices[mesh.triangles[:, i]] for i in range(3))
        for a, b in ((p, q), (q, r), (r, p)):
            assert np.linalg.norm(a - b, axis=1).min() > 1e-9


def bodies_have_the_topology_of_their_plan(model: Model, _: Takeoff) -> None:
    """Euler characteristic 2 for a body of water, less 2 for each island, be it a spa."""
    pool = shapely.Polygon(model.outlines["pool"])
    for body in model.bodies:
        want = 2 - 2 * len(islands_of(model)) * int(body.name == "pool")
        spa = model.design.pool.spa
        if body.name == "pool" and spa is not None:
            column = shapely.buffer(shapely.Polygon(model.outlines["spa"]), spa.dam_wall)
            gap = shapely.distance(shapely.boundary(pool), column)
            if shapely.contains(pool, column) and gap < 0.01:
                continue  # it may or may not touch the wall
            want -= 2 * int(shapely.contains(pool, column))
        mesh = body.water
        edges = len(mesh.triangles) * 3 // 2
        corners = len(np.unique(mesh.triangles))
        assert corners - edges + len(mesh.triangles) == want


def _skins(*meshes: Mesh) -> list[Counter[tuple[int, ...]]]:
    """Return the triangles of meshes by the places of their corners, from the lowest corner on."""
    points = np.concatenate([mesh.vertices for mesh in meshes])
    _, place = np.unique(np.round(points, 9) + 0.0, axis=0, return_inverse=True)
    found, first = [], 0
    for mesh in meshes:
        corners = place.ravel()[first + mesh.triangles]
        first += len(mesh.vertices)
        turn = np.argmin(corners, axis=1)[:, None]
        rolled = np.take_along_axis(corners, (turn + np.arange(3)) % 3, axis=1)
        found.append(Counter(map(tuple, rolled.tolist())))
    return found


def _part(mesh: Mesh, mine: Bools, *, flipped: bool = False) -> Mesh:
    triangles = mesh.triangles[mine]
    return Mesh(
        mesh.vertices, triangles[:, ::-1] if flipped else triangles, mesh.patch[mine], mesh.patches
    )


def surface_faces_the_water(model: Model, _: Takeoff) -> None:
    """The wet surface is the water's skin turned over; all of it is the shell's own skin."""
    waters = []
    for body in model.bodies:
        free = np.array([item.kind == "water surface" for item in body.water.patches])
        waters.append(_part(body.water, ~free[body.water.patch], flipped=True))
    wet = _part(model.surface, model.wet)
    wet_skin, whole, shell, *skins = _skins(wet, model.surface, model.shell, *waters)
    assert sum(skins, start=Counter()) == wet_skin
    assert whole <= shell


def no_face_hangs_over(model: Model, _: Takeoff) -> None:
    """Seen from above every face of the inside looks up, or stands on edge."""
    mesh = model.surface
    p, q, r = (mesh.vertices[mesh.triangles[:, i]] for i in range(3))
    # noding moves a vertex by up to 2e-5 m, which can turn over a sliver one metre long
    assert np.cross(q - p, r - p)[:, 2].min() > -2e-5


def areas_by_kind_are_the_mesh(model: Model, takeoff: Takeoff) -> None:
    """The areas of all kinds add up to the whole surface."""
    whole = sum(row.area for row in takeoff.areas)
    assert whole == pytest.approx(model.surface.trimesh().area, rel=CLOSE)


def plan_areas_are_the_outline(model: Model, takeoff: Takeoff) -> None:
    """Seen from above the kinds cover the outline, and with the rim the shell, exactly once.

    The tops of islands count to the rim.
    """
    for names, kinds in (
        (("pool", "spa"), {row.kind for row in takeoff.areas} - {"wall top"}),
        (("pool shell", "spa shell"), {row.kind for row in takeoff.areas}),
    ):
        rings = [shapely.Polygon(model.outlines[name]) for name in names if name in model.outlines]
        seen = sum(row.plan_area for row in takeoff.areas if row.kind in kinds)
        dry = sum(item.area for item in islands_of(model)) if "wall top" not in kinds else 0.0
        assert seen == pytest.approx(shapely.union_all(rings).area - dry, rel=2e-6, abs=2e-4)


def volume_by_prisms_is_volume_by_divergence(model: Model, takeoff: Takeoff) -> None:
    """Water is the sum over the wet plan triangles of area times mean depth."""
    mesh = model.surface
    p, q, r = (mesh.vertices[mesh.triangles[:, i]] for i in range(3))
    plan = np.cross(q - p, r - p)[:, 2] / 2.0
    owner = np.array([item.body for item in mesh.patches])[mesh.patch]
    for body in model.bodies:
        mine = model.wet & (owner == body.name)
        depth = body.level - (p[:, 2] + q[:, 2] + r[:, 2]) / 3.0
        found = float(np.sum(plan[mine] * depth[mine]))
        assert takeoff.water[body.name] == pytest.approx(found, rel=CLOSE)


def wet_is_part_of_the_whole(_: Model, takeoff: Takeoff) -> None:
    """Nothing is wetter than it is large."""
    for row in takeoff.areas:
        assert 0 <= row.wet_area <= row.area * (1 + CLOSE)
        assert 0 <= row.plan_area <= row.area * (1 + CLOSE)
    for run in takeoff.edges:
        assert 0 <= run.wet_length <= run.length * (1 + CLOSE)


def runs_are_their_polylines(_: Model, takeoff: Takeoff) -> None:
    """A run is as long as its points are apart, and wet where its segments are."""
    for run in takeoff.edges:
        steps = np.linalg.norm(np.diff(run.points, axis=0), axis=1)
        assert len(run.wet) == len(steps)
        assert steps.min() > 0
        assert run.length == pytest.approx(float(steps.sum()), rel=CLOSE)
        assert run.wet_length == pytest.approx(float(steps[run.wet].sum()), rel=CLOSE, abs=1e-9)
    for cove in takeoff.coves:
        steps = np.linalg.norm(np.diff(cove.points, axis=0), axis=1)
        assert cove.length == pytest.approx(float(steps.sum()), rel=CLOSE)
        assert cove.area > 0


def runs_share_no_segment(_: Model, takeoff: Takeoff) -> None:
    """A piece of edge belongs to one run; to more where blocks touch along a vertical line."""
    seen: Counter[frozenset[tuple[float, ...]]] = Counter()
    for run in takeoff.edges:
        places = [tuple(point) for point in run.points.tolist()]
        seen.update(frozenset(pair) for pair in pairwise(places))
    for pair, count in seen.items():
        upright = len({point[:2] for point in pair}) == 1
        assert count <= (6 if upright else 1), pair


def senses_go_with_angles(_: Model, takeoff: Takeoff) -> None:
    """Less than 180 degrees of water at an internal edge, more at an external one.

    Where two coves meet, the facets' angle is no measure; what made the mitre decides.
    """
    for run in takeoff.edges:
        assert 0 < run.angle < 360, run
        if run.kind != "cove/cove" and abs(run.angle - 180) > NEARLY_FLAT:
            assert (run.angle > 180) == (run.sense == "external"), run


def numbers_are_unique(_: Model, takeoff: Takeoff) -> None:
    """No two runs have one number."""
    numbers = [run.number for run in takeoff.edges] + [run.number for run in takeoff.coves]
    assert len(set(numbers)) == len(numbers)


def cove_runs_share_out_the_cove(_: Model, takeoff: Takeoff) -> None:
    """The areas of a body's cove runs add up to its cove."""
    for row in takeoff.areas:
        if row.kind == "cove":
            runs = [run for run in takeoff.coves if run.body == row.body]
            assert sum(run.area for run in runs) == pytest.approx(row.area, rel=1e-4, abs=1e-5)


def labels_are_of_the_list(model: Model, takeoff: Takeoff) -> None:
    """Every kind and every run's pair of kinds comes from the list of kinds."""
    from poolgeo.surface.kinds import KINDS

    assert {item.kind for item in model.surface.patches} - set(KINDS) <= {"outer wall", "soffit"}
    for run in takeoff.edges:
        assert set(run.kind.split("/")) <= set(KINDS)


FACTS = (
    solids_are_closed,
    no_triangle_is_degenerate,
    bodies_have_the_topology_of_their_plan,
    surface_faces_the_water,
    no_face_hangs_over,
    areas_by_kind_are_the_mesh,
    plan_areas_are_the_outline,
    volume_by_prisms_is_volume_by_divergence,
    wet_is_part_of_the_whole,
    runs_are_their_polylines,
    runs_share_no_segment,
    senses_go_with_angles,
    numbers_are_unique,
    cove_runs_share_out_the_cove,
    labels_are_of_the_list,
)
"""All of them."""
