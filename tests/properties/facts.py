"""Facts that hold for every pool; each function asserts one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely
import trimesh

from poolgeo.arrays import Bools
from poolgeo.mesh import Mesh
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from .cove_facts import coves_are_measured_along_their_feet, no_cove_shows_without_a_length

NEARLY_FLAT = 0.1
"""[deg] Nearer to flat than this the mesh's angle is no measure of a floor break."""

CLOSE = 1e-6
"""Relative: two ways to add up the same triangles."""

POCKET = 1e-4
"""[-] Water that is apart and less than this share of the rest is no body of its own."""

WELDED = 1e-3
"""[m] A contour's vertex that welds to one beside it moves on a steep cell of a cove by this."""

SLIVER = 1e-7
"""[m2] Twice the area of a triangle that lies nowhere in particular."""


def solids(model: Model) -> Iterator[Mesh]:
    """Yield everything that must be closed."""
    yield model.shell
    for body in model.bodies:
        if len(body.wetted.triangles):
            yield body.water


def islands_of(model: Model) -> list[shapely.Polygon]:
    """Return the plan of each island."""
    found = model.outlines.items()
    return [shapely.Polygon(line) for (_, role), line in found if role == "island"]


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


def bodies_have_the_topology_of_their_plan(model: Model, takeoff: Takeoff) -> None:
    """Euler characteristic 2 for a body of water, less 2 for each island that stands in it."""
    pool = shapely.Polygon(model.outlines["pool", "water"])
    spas = model.design.pool.spas
    names = [spa.name or ("spa" if k == 1 else f"spa {k}") for k, spa in enumerate(spas, 1)]
    columns = [
        shapely.buffer(
            shapely.Polygon(model.outlines[name, "water"]),
            spa.dam_wall,
            join_style="mitre",
            mitre_limit=4.0,
        )
        for name, spa in zip(names, spas, strict=True)
    ]
    inside = [item for item in columns if shapely.contains(pool, item)]
    near = [shapely.distance(shapely.boundary(pool), item) for item in inside]
    near += [shapely.distance(a, b) for a, b in combinations(columns, 2)]
    # of a spa with corner coves the dam wall's corners stand out further than the columns' here
    radii = [item.arc.radius for item in model.rounds if item.body in names]
    reach = max([0.0, *radii]) + 0.01
    back = [item.width for item in model.design.pool.recess]
    if back:  # water may stand behind a spa that touches the wall below the recess
        rims = [
            shapely.distance(shapely.boundary(pool), shapely.boundary(item)) for item in columns
        ]
        near += [gap - max(back) for gap in rims]
    for body in model.bodies:
        floors = [row for row in takeoff.areas if row.body == body.name and "floor" in row.kind]
        flooded = all(row.wet_area > (1 - CLOSE) * row.area for row in floors)
        islands = int((body.name, "hole") in model.outlines and flooded)
        if not flooded and body.name != "pool":
            continue  # it may stand in several pieces
        if body.name == "pool":
            if near and min(near) < reach:
                continue  # they may or may not touch
            design = model.design.pool
            if len(inside) < len(columns) and (design.overflows or design.channels):
                continue  # water may go round a spa in the wall, over a weir
            if not flooded and (inside or islands_of(model)):
                continue  # an island or a spa may stand on the dry, or in two
            islands = len(inside) + len(islands_of(model))
        mesh = body.water
        if not len(mesh.triangles):
            continue  # dry at rest
        parts = mesh.trimesh().split()  # a pocket between what nearly touches is one of its own
        large = [item for item in parts if item.volume > POCKET * max(parts, key=_volume).volume]
        assert sum(item.euler_number - 2 for item in large) == -2 * islands
        assert len(large) == 1


def _volume(part: trimesh.Trimesh) -> float:
    """Return the volume of a closed mesh [m3]."""
    return float(part.volume)


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
    sides = [np.hypot(*(a - b)[:, :2].T) for a, b in ((p, q), (q, r), (r, p))]
    # noding moves a vertex by up to 2e-5 m, which can turn over a sliver
    room = 2e-5 * np.maximum(np.max(sides, axis=0), 1.0)
    assert (np.cross(q - p, r - p)[:, 2] > -room).all()


def areas_by_kind_are_the_mesh(model: Model, takeoff: Takeoff) -> None:
    """The areas of all kinds add up to the whole surface."""
    whole = sum(row.area for row in takeoff.areas)
    assert whole == pytest.approx(model.surface.trimesh().area, rel=CLOSE)


def plan_areas_are_the_outline(model: Model, takeoff: Takeoff) -> None:
    """Seen from above the kinds cover the outlines, and with the rims the shells, exactly once.

    The tops of islands count to the rims. Arrises stand in the water and on rims.
    """
    shapes = {key: shapely.Polygon(line) for key, line in model.outlines.items()}
    none = shapely.Polygon()
    columns = islands_of(model)
    water = [
        shapely.difference(shapes[item.name, "water"], shapes.get((item.name, "hole"), none))
        for item in model.bodies
    ]
    shells = {name: shape for (name, role), shape in shapes.items() if role == "shell"}
    kinds = {row.kind for row in takeoff.areas}
    dry = {"wall top", "weir top", "recess"}
    waters = shapely.difference(shapely.union_all(water), shapely.union_all(columns))
    pool = model.design.pool
    ground = [shape for (_, role), shape in shapes.items() if role == "ground"]
    shells["pool"] = shapely.difference(shells["pool"], shapely.union_all(ground))
    wholes = [(shapely.union_all(list(shells.values())), kinds)]
    reaches = pool.batter and (pool.overflows or pool.channels)  # such a weir does into the pool
    if not reaches and "arris" not in kinds:
        wholes.append((waters, kinds - dry))
    for part, mine in wholes:
        seen = sum(row.plan_area for row in takeoff.areas if row.kind in mine)
        # on a curved floor coves' columns stand on the wall's curve, not on its chords
        assert seen == pytest.approx(part.area, rel=2e-5, abs=2e-4)


def water_is_what_the_closed_body_holds(model: Model, takeoff: Takeoff) -> None:
    """By prisms up to the water level, and by the divergence theorem over all of its surface."""
    for body in model.bodies:
        held = float(body.water.trimesh().volume) if len(body.water.triangles) else 0.0
        assert takeoff.water[body.name] == pytest.approx(held, rel=CLOSE)


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
            runs = [run for run in takeoff.coves if (run.body, run.kind) == (row.body, row.kind)]
            assert sum(run.area for run in runs) == pytest.approx(row.area, rel=1e-4, abs=1e-5)


def labels_are_of_the_list(model: Model, takeoff: Takeoff) -> None:
    """Every kind and every run's pair of kinds comes from the list of kinds."""
    from poolgeo.surface.kinds import KINDS, OUTSIDE_KINDS

    assert {item.kind for item in model.surface.patches} <= {*KINDS, *OUTSIDE_KINDS}
    for run in takeoff.edges:
        assert set(run.kind.split("/")) <= set(KINDS)


def zones_add_up(_: Model, takeoff: Takeoff) -> None:
    """What lies in all zones is the whole."""
    for row in takeoff.areas:
        assert sum(row.zones) == pytest.approx(row.area, rel=CLOSE)
    for run in takeoff.edges:
        assert sum(run.zones) == pytest.approx(run.length, rel=CLOSE)
    for cove in takeoff.coves:
        assert sum(cove.length_zones) == pytest.approx(cove.length, rel=CLOSE)
        assert sum(cove.area_zones) == pytest.approx(cove.area, rel=CLOSE)
    totals = takeoff.totals()
    assert sum(row.area for row in takeoff.zones) == pytest.approx(totals["area_m2"], rel=CLOSE)


def triangles_lie_in_their_zone(model: Model, _: Takeoff) -> None:
    """None reaches out of it by more than welding moves a height, nor is it wet against it."""
    mesh = model.surface
    owner = np.array([item.body for item in mesh.patches])[mesh.patch]
    z = mesh.vertices[mesh.triangles, 2]
    tall = np.linalg.norm(mesh.doubled_areas, axis=1) > SLIVER
    for body in model.bodies:
        bottom, top = body.band
        for zone, low, high in ((0, -np.inf, bottom), (1, bottom, top), (2, top, np.inf)):
            mine = (owner == body.name) & (model.zone == zone) & tall
            assert (z[mine] > low - WELDED).all()
            assert (z[mine] < high + WELDED).all()
    assert model.wet[model.zone == 0].all()
    assert not model.wet[model.zone >= 2].any()


def floors_lie_where_they_are_told(model: Model, _: Takeoff) -> None:
    """Each triangle of a floor lies on it, in its middle too: no break is bridged."""
    mesh = model.surface
    middles = mesh.vertices[mesh.triangles].mean(axis=1)
    large = np.linalg.norm(mesh.doubled_areas, axis=1) > SLIVER
    for number, patch in enumerate(mesh.patches):
        if patch in model.floors and "floor" in patch.kind:
            mine = middles[(mesh.patch == number) & large]
            off = mine[:, 2] - model.floors[patch][0].height(mine[:, :2])
            assert (np.abs(off) < model.design.pool.tolerance + WELDED).all(), patch


def outside_is_the_rest_of_the_shell(model: Model, takeoff: Takeoff) -> None:
    """What is not inside is outside; upright faces of it are formed but for steps of one slab."""
    mesh = model.shell
    sizes = np.linalg.norm(mesh.doubled_areas, axis=1) / 2.0
    kinds = np.array([item.kind for item in mesh.patches])[mesh.patch]
    outside = [row for row in takeoff.outside if row.kind not in DERIVED]
    whole = sum(row.area for row in outside) + sum(row.area for row in takeoff.areas)
    assert whole == pytest.approx(float(sizes.sum()), rel=CLOSE)
    pool = model.design.pool
    wells = any(spa.wells for spa in pool.spas)
    if pool.shell.thickened_edge is None and not wells and not pool.channels:
        assert "soffit step" not in kinds


DERIVED = ("formwork", "blinding", "seen from below")
"""Kinds of rows of the outside that follow from the others."""

FACTS = (
    solids_are_closed,
    no_triangle_is_degenerate,
    bodies_have_the_topology_of_their_plan,
    surface_faces_the_water,
    no_face_hangs_over,
    areas_by_kind_are_the_mesh,
    plan_areas_are_the_outline,
    water_is_what_the_closed_body_holds,
    wet_is_part_of_the_whole,
    runs_are_their_polylines,
    runs_share_no_segment,
    senses_go_with_angles,
    numbers_are_unique,
    cove_runs_share_out_the_cove,
    coves_are_measured_along_their_feet,
    no_cove_shows_without_a_length,
    labels_are_of_the_list,
    zones_add_up,
    triangles_lie_in_their_zone,
    floors_lie_where_they_are_told,
    outside_is_the_rest_of_the_shell,
)
"""All of them."""
