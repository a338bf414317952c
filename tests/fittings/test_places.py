"""Where fittings come to sit: places, normals and sizes worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from poolgeo.measure.takeoff import measure
from poolgeo.placed import Placed, voids_of
from poolgeo.quantities import Takeoff

from ..measure.quantities import (
    PoolDict,
    breaks,
    circle,
    level,
    model_of,
    plane,
    pool,
    rectangle,
    takeoff_of,
)

FLIGHT = {"shape": "side", "at": [-4.0, 0.0], "width": 1.5, "going": 0.3, "risers": 4}
SPA = {"outline": {"shape": "circle", "radius": 1.0, "centre": [2.0, 0.0]}, "depth": 0.9,
       "raised": 0.2, "seats": [{"width": 0.4, "depth": 0.45}]}  # fmt: skip


def fitted(file: PoolDict, *fittings: dict[str, Any]) -> tuple[Placed, ...]:
    """Return the fittings of a pool in their places."""
    return model_of(file | {"fittings": list(fittings)}).fittings


def one(file: PoolDict, **entry: Any) -> Placed:
    """Return the only fitting of a pool."""
    (found,) = fitted(file, entry)
    return found


BOX = pool(rectangle(8.0, 4.0), level(1.5), steps=[FLIGHT])


def test_a_return_sits_on_the_wall_at_its_depth() -> None:
    """On the side y = -2, 0.4 m below the water, looking into the pool."""
    found = one(BOX, kind="return inlet", at=[1.0, -2.0])
    assert found.point == pytest.approx((1.0, -2.0, -0.4))
    assert found.normal == pytest.approx((0.0, 1.0, 0.0))
    assert (found.body, found.surface, found.depth, found.wet) == ("pool", "wall", 0.4, True)


@pytest.mark.parametrize(
    ("point", "surface", "z"),
    [
        ([1.0, 0.5], "floor", -1.5),
        ([-3.85, 0.5], "tread", -0.3),
        ([3.0, 2.12], "wall top", 0.15),
    ],
)
def test_at_a_point_it_sits_on_what_lies_there(point: list[float], surface: str, z: float) -> None:
    """The first tread lies one rise of four below the water, the wall top a freeboard above."""
    z = -1.5 / 5.0 if surface == "tread" else z
    found = one(BOX, kind="rail socket", point=point)
    assert found.surface == surface
    assert found.point == pytest.approx((*point, z))
    assert found.normal == pytest.approx((0.0, 0.0, 1.0))
    assert found.wet is (z < 0.0)


def test_on_a_sloping_floor_the_normal_leans() -> None:
    """A fall of 1 in 20 along x: z = -1.5 - x / 20, normal (1/20, 0, 1) made one long."""
    found = one(pool(rectangle(8.0, 4.0), plane(1.5, 0.05)), kind="relief valve", point=[2.0, 1.0])
    assert found.point == pytest.approx((2.0, 1.0, -1.6))
    assert found.normal == pytest.approx(np.array([0.05, 0.0, 1.0]) / math.hypot(0.05, 1.0))
    assert found.depth == pytest.approx(1.6)


def test_on_a_curved_wall_it_sits_on_the_true_curve() -> None:
    """Five all round a circle of 3 m: every 72 degrees from its first point, facing the middle."""
    found = fitted(
        pool(circle(3.0), level(1.5)), {"kind": "return inlet", "start": [3, 0], "count": 5}
    )
    turn = np.radians(72.0 * np.arange(5))
    out = np.column_stack([np.cos(turn), np.sin(turn), 0.0 * turn])
    places = np.array([item.point for item in found])
    assert places == pytest.approx(3.0 * out + [0.0, 0.0, -0.4], abs=2e-5)
    assert np.array([item.normal for item in found]) == pytest.approx(-out, abs=1e-5)
    assert [item.number for item in found] == ["F1.1", "F1.2", "F1.3", "F1.4", "F1.5"]


def test_on_a_curved_wall_chords_do_not_count() -> None:
    """Between two vertices of a coarse outline the chord stands up to 20 mm off the circle."""
    file = pool(circle(3.0), level(1.5), tolerance=0.05)
    angles = np.radians(np.arange(0.0, 90.0, 1.3))
    for a in angles.tolist():
        found = one(file, kind="return inlet", at=[9.0 * math.cos(a), 9.0 * math.sin(a)])
        assert math.hypot(*found.point[:2]) == pytest.approx(3.0, abs=2e-5)


def test_a_row_runs_from_its_start_to_its_end() -> None:
    """Four from x = -2 to 3 on the side y = -2, and three the other way round the corner."""
    row = {"kind": "return inlet", "start": [-2, -2], "end": [3, -2], "count": 4}
    turn = {"kind": "return inlet", "start": [3.0, -2], "end": [4.0, 1.0], "count": 3}
    found = fitted(pool(rectangle(8.0, 4.0), level(1.5)), row, turn | {"depth": 0.9})
    assert [item.point[0] for item in found[:4]] == pytest.approx([-2, -2 + 5 / 3, -2 + 10 / 3, 3])
    assert [item.point[:2] for item in found[4:]] == [
        pytest.approx(place) for place in [(3.0, -2.0), (4.0, -1.0), (4.0, 1.0)]
    ]


def test_an_offset_counts_from_the_wall() -> None:
    """Inwards on to the floor, outwards on to the top of the wall."""
    file = pool(circle(3.0), level(1.5))
    inside = one(file, kind="main drain", at=[5.0, 0.0], offset=0.75)
    assert inside.point == pytest.approx((2.25, 0.0, -1.5), abs=1e-5)
    outside = one(file, kind="rail socket", at=[0.0, 5.0], offset=-0.1)
    assert outside.point == pytest.approx((0.0, 3.1, 0.15), abs=1e-5)


def test_a_ladder_has_two_anchors() -> None:
    """Half a metre apart along the wall, 0.12 m behind its face."""
    found = fitted(BOX, {"kind": "ladder", "at": [2.0, 2.0]})
    assert [item.point for item in found] == [
        pytest.approx((2.25, 2.12, 0.15)), pytest.approx((1.75, 2.12, 0.15))
    ]  # fmt: skip


def test_depths_in_a_spa_count_from_its_own_water() -> None:
    """The spa's water stands 0.2 m above the pool's: its wall, its seat's face, its floor."""
    file = pool(rectangle(8.0, 5.0), level(1.5), spas=[SPA])
    jet, foot, drain = fitted(
        file,
        {"kind": "spa jet", "body": "spa", "at": [3.0, 0.0]},
        {"kind": "spa jet", "body": "spa", "at": [1.0, 0.0], "depth": 0.65},
        {"kind": "main drain", "point": [2.0, 0.0], "protection": "two pumps"},
    )
    assert jet.point == pytest.approx((3.0, 0.0, -0.1), abs=1e-5)
    assert jet.surface == "spa wall"
    assert jet.depth == pytest.approx(0.3)
    assert foot.point == pytest.approx((1.4, 0.0, -0.45), abs=1e-3)
    assert foot.surface == "seat face"
    assert drain.point == pytest.approx((2.0, 0.0, -0.7))
    assert (drain.body, drain.surface) == ("spa", "spa floor")
    assert drain.depth == pytest.approx(0.9)


def test_the_outer_face_of_a_dam_wall_can_be_reached() -> None:
    """It stands 0.2 m outside the spa's outline, and depths there count from the pool's water."""
    file = pool(rectangle(8.0, 5.0), level(1.5), spas=[SPA])
    found = one(file, kind="light niche", dam_wall="spa", at=[0.0, 0.0])
    assert found.point == pytest.approx((0.8, 0.0, -0.6), abs=1e-4)
    assert found.normal == pytest.approx((-1.0, 0.0, 0.0), abs=1e-4)
    assert (found.body, found.surface) == ("pool", "dam wall face")


def test_sizes_of_collars_and_openings() -> None:
    """Round: pi d2 / 4 and pi (d + 2 c). Rectangular: w h and 2 (w + h + 4 c)."""
    small, large = fitted(
        BOX,
        {"kind": "return inlet", "at": [1.0, -2.0], "diameter": 0.05, "collar": 0.08},
        {"kind": "main drain", "point": [1.0, 0.0], "width": 0.3, "height": 0.2, "collar": 0.06},
    )
    assert small.void_area == pytest.approx(math.pi * 0.0025 / 4.0)
    assert small.collar_perimeter == pytest.approx(math.pi * 0.21)
    assert large.void_area == pytest.approx(0.06)
    assert large.collar_perimeter == pytest.approx(2.0 * (0.3 + 0.2 + 0.24))


def test_the_width_lies_along_the_outline_or_as_it_is_told() -> None:
    """Level on a wall; on a floor along the outline's tangent, x, or the direction."""
    wall, beside, point, turned = fitted(
        pool(rectangle(8.0, 4.0), level(1.5)),
        {"kind": "skimmer", "at": [4.0, 0.0]},
        {"kind": "main drain", "at": [4.0, 0.0], "offset": 1.0},
        {"kind": "main drain", "point": [0.0, 0.0]},
        {"kind": "main drain", "point": [-2.0, 0.0], "direction": 30},
    )
    assert wall.across == pytest.approx((0.0, -1.0, 0.0))
    assert wall.upward == pytest.approx((0.0, 0.0, 1.0))
    assert np.abs(beside.across) == pytest.approx((0.0, 1.0, 0.0))
    assert point.across == pytest.approx((1.0, 0.0, 0.0))
    assert turned.across == pytest.approx((math.cos(math.pi / 6), 0.5, 0.0))


def test_a_collar_with_a_part_under_water_is_wet() -> None:
    """Its middle 50 mm above the water, its collar reaching 80 mm below that."""
    file = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.3)
    for depth, wet in ((-0.05, True), (-0.10, False)):
        found = one(file, kind="overflow drain", at=[1, -2], depth=depth, diameter=0.1, collar=0.03)
        assert found.wet is wet


ROWS = (
    {"kind": "main drain", "point": [0.0, 0.0]},
    {"kind": "main drain", "point": [1.5, 0.0]},
    {"kind": "return inlet", "start": [-1, -2], "end": [3, -2], "count": 3},
    {"kind": "rail socket", "point": [3.0, 2.12]},
)


def with_rows() -> Takeoff:
    return takeoff_of(BOX | {"fittings": list(ROWS)})


def test_areas_stay_gross() -> None:
    """Fittings change no area, no edge and no volume: their openings stand beside them."""
    bare, found = takeoff_of(BOX), with_rows()
    assert found.areas == bare.areas
    assert [run.number for run in found.edges] == [run.number for run in bare.edges]
    assert (found.water, found.shell) == (bare.water, bare.shell)


def test_openings_add_up_by_surface() -> None:
    """Two drains in the floor, three returns in the wall, a socket on its top."""
    rows = {row.surface: row for row in voids_of(with_rows().fittings)}
    assert {name: row.count for name, row in rows.items()} == {"floor": 2, "wall": 3, "wall top": 1}
    assert rows["floor"].void_area == pytest.approx(2 * 0.09)
    assert rows["floor"].collar_perimeter == pytest.approx(2 * 4 * 0.5)
    assert rows["wall"].void_area == pytest.approx(3 * math.pi * 0.03**2)
    assert rows["wall"].collar_perimeter == pytest.approx(3 * math.pi * 0.26)
    assert rows["wall top"].void_area == pytest.approx(math.pi * 0.025**2)


def test_the_json_has_a_row_for_each_and_totals() -> None:
    found = with_rows().as_dict()
    assert [row["number"] for row in found["fittings"]] == [
        "F1",
        "F2",
        "F3.1",
        "F3.2",
        "F3.3",
        "F4",
    ]
    assert found["fittings"][0] == {
        "number": "F1", "name": "main drain", "kind": "main drain", "body": "pool",
        "surface": "floor", "feature": "floor piece 1", "point": [0.0, 0.0, -1.5],
        "normal": [0.0, 0.0, 1.0], "depth_m": 1.5, "wet": True, "width_m": 0.3, "height_m": 0.3,
        "collar_m": 0.1, "collar_perimeter_m": pytest.approx(2.0),
        "void_area_m2": pytest.approx(0.09),
    }  # fmt: skip
    totals = found["totals"]
    assert totals["fittings"] == 6
    assert totals["collar_perimeter_m"] == pytest.approx(4.0 + math.pi * (3 * 0.26 + 0.15))
    voids = {row["kind"]: row["void_area_m2"] for row in found["voids"]}
    assert totals["void_area_m2"] == pytest.approx(sum(voids.values()))


def test_numbers_stay_when_the_pool_changes() -> None:
    """Numbers go by the order of the file alone."""
    other = pool(rectangle(9.0, 5.0), breaks((-2.0, 1.4), (2.0, 1.9)), cove={"radius": 0.1})
    entries: list[dict[str, Any]] = [
        {"kind": "return inlet", "start": 1.0, "end": 3.0, "count": 2, "depth": 0.5},
        {"kind": "main drain", "point": [3.0, 0.0]},
    ]
    for file in (BOX, other):
        assert [item.number for item in fitted(file, *entries, entries[0] | {"depth": 0.9})] == [
            "F1.1", "F1.2", "F2", "F3.1", "F3.2"
        ]  # fmt: skip


def test_a_takeoff_hands_the_models_fittings_on() -> None:
    model = model_of(BOX | {"fittings": list(ROWS)})
    assert measure(model).fittings is model.fittings
