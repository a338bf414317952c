"""Fittings in the reports: the same numbers in the table, the CSV, the drawing and the picture."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.insert import Insert
from PIL import Image

from poolgeo.builder import build
from poolgeo.design.fittings import USUAL
from poolgeo.design.load import design_from
from poolgeo.drawing.palette import FITTINGS
from poolgeo.drawing.symbols import REACH, SYMBOLS, TAGS
from poolgeo.measure.takeoff import measure
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write.scene import write_picture
from poolgeo.write.tables import csv_text
from poolgeo.write.terminal import takeoff_text

from .drawing import polylines, read, texts, write_plan

POOL = {
    "name": "Fitted",
    "units": "mm",
    "outline": {"shape": "rectangle", "length": 8000, "width": 4000},
    "floor": {"shape": "level", "depth": 1500},
    "fittings": [
        {"kind": "main drain", "point": [-1000, 0], "name": "west drain"},
        {"kind": "main drain", "point": [1000, 0], "width": 400, "height": 200, "direction": 90},
        {"kind": "return inlet", "start": [-2000, -2000], "end": [2000, -2000], "count": 3},
        {"kind": "light niche", "at": [0, 2000], "depth": 700},
        {"kind": "cleaner point", "at": [0, 2000]},
    ],
}


@pytest.fixture(scope="module")
def fitted() -> tuple[Model, Takeoff]:
    """A pool with seven fittings, a light right below a cleaner point."""
    model = build(design_from(POOL))
    return model, measure(model)


@pytest.fixture(scope="module")
def plan(fitted: tuple[Model, Takeoff], tmp_path_factory: pytest.TempPathFactory) -> Drawing:
    path = tmp_path_factory.mktemp("dxf") / "pool.dxf"
    write_plan(*fitted, path)
    return read(path)


def inserts(drawing: Drawing) -> dict[str, Insert]:
    """Return the symbols of fittings by number."""
    found = {}
    for entity in drawing.modelspace().query("INSERT[layer=='FITTINGS']"):
        assert isinstance(entity, Insert)
        found[entity.get_attrib_text("NUMBER")] = entity
    return found


def test_every_fitting_has_a_symbol_where_it_is(
    fitted: tuple[Model, Takeoff], plan: Drawing
) -> None:
    """A block for each kind, turned into the water, with all that is known as attributes."""
    found = inserts(plan)
    assert list(found) == [item.number for item in fitted[1].fittings]
    for item in fitted[1].fittings:
        symbol = found[item.number]
        assert symbol.dxf.name == "POOL-" + item.kind.upper().replace(" ", "-")
        assert (symbol.dxf.insert.x, symbol.dxf.insert.y) == pytest.approx(
            [1000 * item.point[0], 1000 * item.point[1]]
        )
        assert {attribute.dxf.tag for attribute in symbol.attribs} == set(TAGS)
        assert all(attribute.is_invisible for attribute in symbol.attribs)
    drain = {attribute.dxf.tag: attribute.dxf.text for attribute in found["F2"].attribs}
    assert drain == {
        "NUMBER": "F2", "KIND": "main drain", "NAME": "main drain", "BODY": "pool",
        "SURFACE": "floor", "DEPTH": "1500 mm", "OPENING": "400 mm x 200 mm", "COLLAR": "100 mm",
    }  # fmt: skip
    assert found["F3.1"].dxf.rotation == pytest.approx(90)
    assert found["F4"].dxf.rotation % 360 == pytest.approx(270)


def test_numbers_stand_once_each_and_share_a_label_at_one_place(plan: Drawing) -> None:
    assert sorted(texts(plan, "FITTING-NUMBERS")) == ["F1", "F2", "F3.1", "F3.2", "F3.3", "F4, F5"]


def test_collars_are_drawn_at_their_size(plan: Drawing) -> None:
    """A rectangle on the floor with its opening in it, a line along the wall."""
    lines = polylines(plan, "FITTINGS")
    boxes = {tuple(np.ptp(line, axis=0).round(3).tolist()) for line in lines}
    collars = {(500.0, 500.0), (400.0, 600.0), (260.0, 0.0), (470.0, 0.0)}
    assert boxes == collars | {(300.0, 300.0), (200.0, 400.0)}


def test_the_legend_explains_the_symbols_that_are_there(plan: Drawing) -> None:
    legend = [entity.dxf.name for entity in plan.modelspace().query("INSERT[layer=='LEGEND']")]
    kinds = ("CLEANER-POINT", "LIGHT-NICHE", "MAIN-DRAIN", "RETURN-INLET")
    assert sorted(legend) == [f"POOL-{kind}" for kind in kinds]
    assert {"Main drain", "Return inlet", "Number of a fitting"} <= set(texts(plan, "LEGEND"))


def test_every_kind_has_a_symbol_of_one_size() -> None:
    assert set(SYMBOLS) == set(USUAL)
    for kind, symbol in SYMBOLS.items():
        reach = [abs(value) for line in symbol.lines for point in line for value in point]
        reach += [max(abs(x), abs(y)) + radius for x, y, radius in symbol.rings]
        assert 0.4 <= max(reach) <= REACH + 1e-9, kind


def test_the_csv_has_the_rows_of_the_json(fitted: tuple[Model, Takeoff]) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(fitted[1]))))
    found = {
        (row["number"], row["measure"]): float(row["value"])
        for row in rows
        if row["section"] == "fitting"
    }
    for row in fitted[1].as_dict()["fittings"]:
        number = row["number"]
        assert [found[number, axis] for axis in "xyz"] == pytest.approx(row["point"], abs=1e-6)
        assert found[number, "depth"] == pytest.approx(row["depth_m"], abs=1e-6)
        assert found[number, "void area"] == pytest.approx(row["void_area_m2"], abs=1e-6)
        size = row["collar_perimeter_m"]
        assert found[number, "collar perimeter"] == pytest.approx(size, abs=1e-6)
        for what in ("diameter", "width", "height", "collar"):
            size = row.get(f"{what}_m")
            assert found.get((number, what)) == (size and pytest.approx(size, abs=1e-6))
    voids = {(row["kind"], row["measure"]): row for row in rows if row["section"] == "void"}
    assert float(voids["wall", "count"]["value"]) == 5
    assert float(voids["floor", "void area"]["value"]) == pytest.approx(0.09 + 0.08)
    notes = {row["number"]: row["note"] for row in rows if row["section"] == "fitting"}
    assert notes["F1"] == "floor, wet, west drain"


def test_the_table_lists_fittings_and_their_openings(fitted: tuple[Model, Takeoff]) -> None:
    lines = takeoff_text(fitted[1], "mm").splitlines()
    (drain,) = [line.split() for line in lines if line.startswith(" F2 ")]
    assert drain == [
        "F2",
        "main",
        "drain",
        "pool",
        "floor",
        "wet",
        "1500",
        "mm",
        "2000",
        "mm",
        "800.0",
    ]
    (size,) = [line.split() for line in lines if " F2 " in line and "400 mm x 200 mm" in line]
    assert size == ["main", "drain", "400", "mm", "x", "200", "mm", "100", "mm", "F2", "1"]
    (size,) = [line.split() for line in lines if "F3.1, F3.2, F3.3" in line]
    assert size == [
        "return",
        "inlet",
        "dia.",
        "60",
        "mm",
        "100",
        "mm",
        "F3.1,",
        "F3.2,",
        "F3.3",
        "3",
    ]
    (wall,) = [line.split() for line in lines if line.split()[:3] == ["pool", "wall", "5"]]
    area = 4 * math.pi * 0.03**2 + math.pi * 0.135**2
    assert wall[-1] == f"{area:.4f}"


def photographed(model: Model, takeoff: Takeoff, folder: Path) -> np.ndarray:
    """Return the pixels of a picture without its legend."""
    path = folder / "picture.png"
    write_picture(model, takeoff, path, (800, 500), numbers=False)
    return np.asarray(Image.open(path).convert("RGB")).astype(int)[:, : int(0.8 * 800)]


def test_the_picture_shows_collars_and_openings(
    fitted: tuple[Model, Takeoff], tmp_path: Path
) -> None:
    """In the scene, not in the legend alone: more than its swatches."""
    model, takeoff = fitted
    counts = []
    for rows in (takeoff, replace(takeoff, fittings=())):
        pixels = photographed(model, rows, tmp_path)
        hue = np.array(FITTINGS["collar"].rgb)
        like = (pixels @ hue) / (np.linalg.norm(pixels, axis=2) + 1e-9) / np.linalg.norm(hue)
        counts.append(int((like > 0.95).sum()))
    assert counts[0] > counts[1] + 200


@pytest.mark.parametrize("raised", [0.0, 0.4], ids=["behind the wall", "under its top"])
def test_a_fitting_that_looks_away_is_pale_and_hidden_by_nothing(
    fitted: tuple[Model, Takeoff], tmp_path: Path, raised: float
) -> None:
    """The middle one of the inlets in the near wall, which is not drawn from behind."""
    model, takeoff = fitted
    (near,) = (item for item in takeoff.fittings if item.number == "F3.2")
    x, y, z = near.point
    near = replace(near, point=(x, y, z + raised))
    bare = photographed(model, replace(takeoff, fittings=()), tmp_path)
    seen = photographed(model, replace(takeoff, fittings=(near,)), tmp_path)
    changed = np.abs(seen - bare).max(axis=2) > 4
    assert changed.sum() > 20
    assert np.median(seen[changed], axis=0).min() > 120
