"""A pool with everything, built from its file: what is drawn is what was measured."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from ezdxf.document import Drawing
from PIL import Image

import poolgeo
from poolgeo.drawing.palette import SURFACES
from poolgeo.jointing.joints import finish_joints
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write.meshfile import write_mesh
from poolgeo.write.scene import write_picture
from poolgeo.write.terminal import takeoff_text

from .drawing import pieces, read, texts, write_whole
from .test_meshfile import gltf

FILE = """
name: Freeform with spa
units: mm
outline:
  shape: spline
  points: [[0, 0], [2500, -600], [5200, -300], [7800, -900], [10200, 300], [10400, 3000],
           [8200, 4600], [5600, 3900], [3000, 4500], [400, 3600], [-900, 1800]]
floor:
  shape: breaks
  breaks: [{at: 3000, depth: 1200}, {at: 8000, depth: 2000}]
cove: {radius: 150}
steps: [{shape: side, at: [0, 1800], width: 1800, going: 300, risers: 4}]
bench: [{start: [8000, 4600], end: [3500, 4400], width: 450, depth: 500}]
spas:
  - outline: {shape: circle, radius: 1100, centre: [9200, 2200]}
    raised: 300
    depth: 900
    seats: [{width: 400, depth: 450}]
    spillways: [{at: [8000, 2200], width: 600, drop: 20}]
overflows:
  - {start: [2500, -600], end: [5200, -300], basin: {width: 600, drop: 400, depth: 500}}
recess: [{start: [6000, -300], end: [7000, -500], width: 40, depth: 200}]
joints:
  - {start: [7200, -1200], end: [7000, 4700], width: 20}
finishes:
  - name: tile
    type: tile
    where: {zones: [below band, waterline band, freeboard]}
    tile: {length: 247, width: 122, thickness: 8}
    joint: 3
movement_joints: {rules: external-4.5-m, direction: 10}
fittings:
  - {kind: main drain, point: [5500, 1500]}
  - {kind: main drain, point: [6500, 1500]}
  - {kind: spa jet, body: spa, at: [9200, 3300]}
"""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Model, Takeoff]:
    path = tmp_path_factory.mktemp("file") / "pool.yaml"
    path.write_text(FILE)
    model = poolgeo.build(poolgeo.load(path))
    return model, poolgeo.measure(model)


@pytest.fixture(scope="module")
def drawing(built: tuple[Model, Takeoff], tmp_path_factory: pytest.TempPathFactory) -> Drawing:
    path = tmp_path_factory.mktemp("dxf") / "pool.dxf"
    write_whole(*built, path, finish_joints(*built))
    return read(path)


def test_every_run_and_cove_is_numbered_once(
    built: tuple[Model, Takeoff], drawing: Drawing
) -> None:
    _, takeoff = built
    numbers = [run.number for run in takeoff.edges] + [cove.number for cove in takeoff.coves]
    drawn = [one for text in texts(drawing, "RUN-NUMBERS") for one in text.split(", ")]
    assert set(drawn) == set(numbers)


def test_no_line_is_without_length_or_there_twice_on_a_layer(drawing: Drawing) -> None:
    drawn = pieces(drawing)
    assert max(drawn.values()) == 1
    assert all(len(ends) == 2 for _, ends in drawn)


def test_every_layer_of_the_pool_is_in_use(drawing: Drawing) -> None:
    used = {entity.dxf.layer for entity in drawing.modelspace()}
    used |= {entity.dxf.layer for layout in drawing.layouts for entity in layout}
    absent = {"HIDDEN", "OVERHEAD"}  # nothing of this pool stands over anything
    assert used == {layer.dxf.name for layer in drawing.layers} - {"0", "Defpoints"} - absent


def test_a_glb_has_a_node_for_each_row_of_areas(
    built: tuple[Model, Takeoff], tmp_path: Path
) -> None:
    model, takeoff = built
    write_mesh(model, tmp_path / "pool.glb", "surface")
    nodes = {node["name"] for node in gltf(tmp_path / "pool.glb")["nodes"] if "mesh" in node}
    assert nodes == {f"{row.body} {row.kind}" for row in takeoff.areas}


def test_the_picture_s_legend_has_every_kind_that_was_measured(
    built: tuple[Model, Takeoff], tmp_path: Path
) -> None:
    model, takeoff = built
    write_picture(model, takeoff, tmp_path / "pool.png", (1600, 1000))
    with Image.open(tmp_path / "pool.png") as image:
        legend = np.asarray(image.convert("RGB")).astype(int)[:, 1328:]
    for kind in {row.kind for row in takeoff.areas}:
        off = np.abs(legend - np.array(SURFACES[kind].rgb)).max(axis=2)
        assert (off <= 3).sum() > 500, kind


def test_the_terminal_has_a_line_for_every_row(built: tuple[Model, Takeoff]) -> None:
    _, takeoff = built
    lines = takeoff_text(takeoff, "mm").splitlines()
    starts = {line.split()[0] for line in lines if line.strip()}
    assert {run.number for run in takeoff.edges} <= starts
    assert {item.number for item in takeoff.fittings} <= starts
    wholes = lines[: lines.index("Areas by zone in m2")]
    bodies = (["pool"], ["spa"], ["basin"])
    assert sum(line.split()[:1] in bodies for line in wholes) == len(takeoff.areas)
