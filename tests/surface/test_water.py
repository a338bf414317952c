"""The free surface closes what the water touches, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import GeometryError
from poolgeo.measure.takeoff import volume
from poolgeo.model import Body
from poolgeo.surface.water import check_rim, rim_of, with_free_surface

FLAT: dict[str, Any] = {
    "name": "flat", "units": "m", "outline": {"shape": "rectangle", "length": 6, "width": 4},
    "floor": {"shape": "level", "depth": 1.5},
}  # fmt: skip
ISLAND: dict[str, Any] = FLAT | {
    "spas": [{
        "outline": {"shape": "rectangle", "length": 1.6, "width": 1.6},
        "raised": 0.3, "depth": 1.0, "freeboard": 0.1, "dam_wall": 0.2,
    }],
}  # fmt: skip


def bodies(file: dict[str, Any]) -> list[Body]:
    return list(build(design_from(file)).bodies)


def free_area(body: Body) -> float:
    """Plan area of the free surface [m2]."""
    mesh = body.water
    free = np.array([item.kind == "water surface" for item in mesh.patches])[mesh.patch]
    return float(mesh.doubled_areas[free, 2].sum()) / 2.0


def test_the_rim_is_the_outline_at_the_water_level_with_the_water_on_its_left() -> None:
    (pool,) = bodies(FLAT)
    rim = rim_of(pool.wetted)
    start, stop = pool.wetted.vertices[rim[:, 0]], pool.wetted.vertices[rim[:, 1]]
    assert np.hypot(*(stop - start)[:, :2].T).sum() == pytest.approx(20.0)
    enclosed = np.sum(start[:, 0] * stop[:, 1] - stop[:, 0] * start[:, 1]) / 2.0
    assert enclosed == pytest.approx(24.0)


def test_an_island_leaves_a_hole_in_the_free_surface() -> None:
    pool, spa = bodies(ISLAND)
    assert free_area(pool) == pytest.approx(24.0 - 4.0)
    assert free_area(spa) == pytest.approx(1.6 * 1.6)
    assert spa.water.vertices[:, 2].max() == pytest.approx(0.3)


def test_the_closed_body_has_the_volume_of_the_open_one() -> None:
    for body in bodies(ISLAND):
        assert body.water.trimesh().is_watertight
        assert body.water.trimesh().volume == pytest.approx(volume(body.wetted, body.level))


BEACH = {
    "name": "beach between leaning walls", "units": "m", "freeboard": 0.2,
    "outline": {"shape": "polyline", "points": [
        [5.032, 0.606, -0.1], [1.657, 3.634, -0.1], [-4.465, 1.83, -0.1], [-3.025, -1.566, -0.1],
        [0.354, -2.638, 0.0],
    ]},
    "floor": {"shape": "breaks", "direction": 13, "breaks": [
        {"at": -1.22, "depth": -0.1}, {"at": 0.457, "depth": 1.627},
        {"at": 2.133, "depth": [2.0, 2.012]}, {"at": 4.242, "depth": 1.358},
    ]},
    "shell": {"wall": 0.25, "floor": 0.25},
    "cove": {"radius": 0.1},
    "batter": {"slope": 0.1,
               "stretches": [{"start": [20.0, 0.0], "end": [9.836, 17.414], "slope": 0.15}]},
}  # fmt: skip


STEEP = BEACH | {
    "name": "beach between steep walls",
    "outline": {"shape": "polyline", "points": [
        [3.687, 0.273, -0.1], [1.657, 2.238, -0.1], [-4.465, 1.127, -0.1], [-3.025, -0.964, -0.1],
        [0.354, -1.624, 0.0],
    ]},
    "floor": {"shape": "breaks", "direction": 13, "breaks": [
        {"at": -1.0, "depth": -0.1}, {"at": 0.677, "depth": 1.627},
        {"at": 2.353, "depth": [2.0, 2.012]},
    ]},
}  # fmt: skip


@pytest.mark.parametrize("file", [BEACH, STEEP], ids=lambda file: file["name"])
def test_the_rim_of_the_water_is_level_where_a_cove_meets_a_beach(file: dict[str, Any]) -> None:
    """Were the cove laid on the beach where it is near it, the line would miss it by 0.4 mm."""
    (pool,) = bodies(file)
    check_rim(pool.wetted.vertices, rim_of(pool.wetted), pool.level)
    assert pool.water.trimesh().is_watertight


def test_a_hole_under_water_is_found() -> None:
    (pool,) = bodies(FLAT)
    deep = int(np.argmin(pool.wetted.vertices[pool.wetted.triangles, 2].max(axis=1)))
    holed = replace(
        pool.wetted,
        triangles=np.delete(pool.wetted.triangles, deep, axis=0),
        patch=np.delete(pool.wetted.patch, deep),
    )
    with pytest.raises(GeometryError) as error:
        check_rim(holed.vertices, rim_of(holed), 0.0)
    corners = pool.wetted.vertices[pool.wetted.triangles[deep], :2]
    assert np.hypot(*(corners - error.value.place).T).min() == pytest.approx(0.0)
    with pytest.raises(GeometryError):
        with_free_surface(holed, 0.0)
