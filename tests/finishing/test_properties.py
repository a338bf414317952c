"""What holds for the finishes of every pool of the samples."""

from __future__ import annotations

import dataclasses
import json
import math
from pathlib import Path

import pytest

import poolgeo
from poolgeo import Model, Takeoff
from poolgeo.design.finishes import CopingStones, Finish, Nosing, Sheet, Tile
from poolgeo.design.places import Places
from poolgeo.finishing.rows import FinishTakeoff
from poolgeo.finishing.takeoff import take_off_finishes
from poolgeo.jointing.regions import regions_of
from poolgeo.mesh import ZONES

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = (
    "beach", "corners", "crowned", "fillet", "freeform-spa", "hopper", "islands", "l-shape",
    "overflow", "shell", "spots", "steps", "trough", "two-spas", "zones",
)  # fmt: skip

STEPS = Nosing(length=0.247, at=("steps", "benches"))
FINISHES = (
    Finish(name="mosaic", type="mosaic", where=Places(zones=("waterline band",)), joint=0.002,
           tile=Tile(length=0.02, width=0.02, thickness=0.004),
           sheet=Sheet(length=0.33, width=0.33)),
    Finish(name="tile", type="tile", where=Places(wet=True, kinds=("*wall", "floor", "tread")),
           tile=Tile(length=0.247, width=0.247, thickness=0.008), joint=0.003, nosing=STEPS),
    Finish(name="pebble", type="pebble", thickness=0.012, where=Places(wet=True)),
)  # fmt: skip

Case = tuple[Model, Takeoff, FinishTakeoff]


@pytest.fixture(scope="module", params=NAMES)
def case(request: pytest.FixtureRequest) -> Case:
    """A sample with finishes and coping stones."""
    design = poolgeo.load(SAMPLES / f"{request.param}.yaml")
    stones = CopingStones(length=0.495, width=0.3)
    coping = design.pool.coping.model_copy(update={"stones": stones})
    pool = design.pool.model_copy(update={"finishes": FINISHES, "coping": coping})
    model = poolgeo.build(dataclasses.replace(design, pool=pool))
    takeoff = poolgeo.measure(model)
    found = take_off_finishes(model, takeoff)
    assert found is not None
    return model, takeoff, found


def test_a_triangle_has_the_first_finish_that_matches(case: Case) -> None:
    model, _, _ = case
    mesh = model.surface
    found = regions_of(mesh, model.wet, model.zone, FINISHES)
    for k in range(0, len(mesh.triangles), max(len(mesh.triangles) // 300, 1)):
        kind = mesh.patches[mesh.patch[k]].kind
        tiled = kind in {"floor", "tread", "channel wall", "basin wall", "spa wall", "wall"}
        band = ZONES[model.zone[k]] == "waterline band"
        wet = bool(model.wet[k])
        assert found[k] == (0 if band else 1 if tiled and wet else 2 if wet else -1)


def test_areas_add_up_to_the_finished_surface(case: Case) -> None:
    model, takeoff, found = case
    region = regions_of(model.surface, model.wet, model.zone, FINISHES)
    voids = math.fsum(item.void_area for item in takeoff.fittings)
    whole = float(model.surface.areas[region >= 0].sum()) - voids
    assert math.fsum(row.area for row in found.areas) == pytest.approx(whole)
    assert math.fsum(row.area for row in found.supplies) == pytest.approx(whole)


def test_no_area_is_finished_twice(case: Case) -> None:
    _, takeoff, found = case
    whole = {(row.body, row.kind, zone): area for row in takeoff.areas
             for zone, area in zip(ZONES, row.zones, strict=True)}  # fmt: skip
    places = {(row.body, row.kind, row.zone) for row in found.areas}
    for place in places:
        own = [row.area for row in found.areas if (row.body, row.kind, row.zone) == place]
        assert math.fsum(own) <= whole[place] + 1e-9


def test_nothing_is_negative(case: Case) -> None:
    _, _, found = case
    for row in found.areas:
        assert 0.0 <= row.curved <= row.area + 1e-9
        assert 0.0 <= row.sloping <= row.area + 1e-9
    for supply in found.supplies:
        numbers = [value for value in supply.as_dict().values() if isinstance(value, int | float)]
        assert min(numbers) >= 0.0
    assert all(row.pieces >= 1 and row.length > 0.0 for row in found.nosings)
    for stone in found.coping:
        assert min(stone.straight, stone.curved, stone.outer_length) >= -1e-9
        assert stone.straight + stone.curved == pytest.approx(stone.length)
        assert 1 <= stone.stones <= stone.ordered
        assert stone.stones * 0.5 >= stone.length - 1e-6


def test_more_is_bought_than_is_laid(case: Case) -> None:
    _, _, found = case
    mosaic, tile, pebble = found.supplies
    assert tile.pieces is not None
    assert tile.modules is not None
    assert tile.pieces >= tile.modules * 1.05 - 1e-6
    assert mosaic.sheets is not None
    assert mosaic.sheets * 0.33**2 >= mosaic.area * 1.05 - 1e-6
    assert pebble.plaster_gross == pytest.approx(pebble.area * 0.012 / 0.9)


def test_rows_are_plain_data(case: Case) -> None:
    text = json.dumps(case[2].as_dict(), allow_nan=False)
    assert set(json.loads(text)) == {"areas", "supplies", "nosings", "coping", "bands"}
