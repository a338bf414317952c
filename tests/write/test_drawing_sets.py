"""The drawing set of every sample: sound, legible, and all of it on a sheet."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections import Counter
from functools import cache
from hashlib import sha256

import ezdxf
import numpy as np
import pytest
import shapely

from poolgeo.design.lengths import Units
from poolgeo.drawing import contents
from poolgeo.drawing.drawing_set import Standing
from poolgeo.drawing.layers import layers_of
from poolgeo.drawing.sheets import Box, Sheet, Window
from poolgeo.drawing.view import View
from poolgeo.quantities import CoveRun, Run
from poolgeo.surface.kinds import WALLS
from poolgeo.write.dxf import Release
from tests.drawn_samples import NAMES, SAMPLES, Sample, document, file_of, overlaps, sample

from .measured import Boxed, boxes, text_boxes

NEAR = 1e-6
"""[m] What is nearer to an outline lies on it."""

PAPER = 1e-6
"""[mm] What is nearer on paper touches."""

INSUNITS: dict[Units, int] = {"in": 1, "ft": 2, "mm": 4, "m": 6}
"""Source: DXF reference, header variable $INSUNITS."""


every = pytest.mark.parametrize("name", NAMES)

ONE_OF_THREE = (
    "cold-pool",
    pytest.param("freeform-spa", marks=pytest.mark.slow),
    pytest.param("training-pool", marks=pytest.mark.slow),
)
"""Samples for what takes long."""


@every
def test_a_drawing_needs_no_mending(name: str) -> None:
    auditor = document(name).audit()
    assert not auditor.errors
    assert not auditor.fixes


@pytest.mark.parametrize("release", ["R2000", "R2018"])
@pytest.mark.parametrize("name", ONE_OF_THREE)
def test_a_drawing_of_another_release_needs_no_mending(name: str, release: Release) -> None:
    encoding = "cp1252" if release == "R2000" else "utf-8"
    read = ezdxf.read(io.StringIO(file_of(name, release).decode(encoding)))
    assert read.acad_release == release
    auditor = read.audit()
    assert not auditor.errors
    assert not auditor.fixes


@every
def test_no_handle_is_there_twice(name: str) -> None:
    """Read tag by tag: a handle has group code 5, that of a style of dimensions 105."""
    lines = file_of(name).decode().splitlines()
    _, _, body = "\n".join(lines).partition("\nENDSEC\n")
    tags = body.split("\n")
    pairs = zip(tags[0::2], tags[1::2], strict=False)
    handles = [value for code, value in pairs if code.strip() in {"5", "105"}]
    assert len(handles) > 100
    assert [handle for handle, count in Counter(handles).items() if count > 1] == []


@every
def test_a_drawing_says_its_units(name: str) -> None:
    units = sample(name).model.design.pool.units
    assert document(name).header["$INSUNITS"] == INSUNITS[units]


@cache
def boxes_of(name: str) -> list[Boxed]:
    """Return the rectangles about all that is in a sample's model space."""
    return boxes(document(name))


@every
def test_the_extents_cover_everything(name: str) -> None:
    header = document(name).header
    extents = shapely.box(*header["$EXTMIN"][:2], *header["$EXTMAX"][:2])
    whole = extents.buffer(NEAR * sample(name).per_metre)
    out = [item for item in boxes_of(name) if not whole.covers(item.area)]
    assert [(item.what, item.layer) for item in out] == []


@pytest.mark.parametrize("name", ONE_OF_THREE)
def test_another_process_writes_the_same_bytes(name: str) -> None:
    """Where names have other hash values, and sets another order."""
    command = (
        "from hashlib import sha256; from tests.drawn_samples import file_of;"
        f" print(sha256(file_of({name!r})).hexdigest())"
    )
    said = subprocess.run(
        [sys.executable, "-c", command], check=True, capture_output=True, text=True,
        cwd=SAMPLES.parent, env={**os.environ, "PYTHONHASHSEED": "1"},
    )  # fmt: skip
    assert said.stdout.strip() == sha256(file_of(name)).hexdigest()


@cache
def texts_of(name: str) -> list[Boxed]:
    """Return the rectangles about the texts in a sample's model space."""
    return text_boxes(document(name))


@every
def test_no_text_lies_on_another_on_a_view(name: str) -> None:
    found = {}
    for view in [*(item.view for item in sample(name).drawn.views), *sample(name).drawn.frames]:
        areas = [shapely.Polygon(corners) for corners in view.boxes]
        if pairs := list(overlaps(areas)):
            found[view.name] = [tuple(areas[k].centroid.wkt for k in pair) for pair in pairs]
    assert found == {}


@every
def test_no_text_lies_on_another_in_the_file(name: str) -> None:
    texts = [item for item in texts_of(name) if item.layer != legend_of(name)]
    assert len(texts) > 20
    pairs = overlaps([item.area for item in texts])
    assert [(texts[one].what, texts[other].what) for one, other in pairs] == []


@cache
def legend_of(name: str) -> str:
    """Return the layer of the legend."""
    return layers_of(sample(name).table)[contents.LEGEND].name


@every
def test_no_sample_of_the_legend_lies_on_what_explains_it(name: str) -> None:
    texts = [item for item in texts_of(name) if item.layer == legend_of(name)]
    pairs = overlaps([item.area for item in texts])
    assert [(texts[one].what, texts[other].what) for one, other in pairs] == []


def on_paper(box: Box) -> shapely.Polygon:
    """Return the area of a box."""
    return shapely.box(box.left, box.bottom, box.right, box.top)


def title_block(frame: View) -> list[shapely.Polygon]:
    """Return the fields of a title block, as its lines and the sheet's frame part them."""
    lines = [
        shapely.LineString([*line.points, *line.points[: line.closed]])
        for content in (contents.FRAME, contents.TITLE_BLOCK) for line in frame.lines[content]
    ]  # fmt: skip
    block = shapely.MultiLineString(
        [line.points for line in frame.lines[contents.TITLE_BLOCK]]
    ).envelope.buffer(PAPER)
    fields = shapely.get_parts(shapely.polygonize([*shapely.get_parts(shapely.union_all(lines))]))
    return [field for field in fields if block.covers(field)]


def sheets(name: str) -> list[tuple[Sheet, View]]:
    """Return the sheets of a sample, each with what stands about its windows."""
    drawn = sample(name).drawn
    return list(zip(drawn.sheets, drawn.frames, strict=True))


@every
def test_windows_lie_within_the_frame(name: str) -> None:
    for sheet, _ in sheets(name):
        frame = on_paper(sheet.frame).buffer(PAPER)
        assert sheet.shown
        assert [
            item.window.title for item in sheet.shown if not frame.covers(on_paper(item.box))
        ] == []


@every
def test_windows_lie_clear_of_each_other_and_of_the_title_block(name: str) -> None:
    for sheet, frame in sheets(name):
        fields = title_block(frame)
        assert len(fields) > 8
        areas = [on_paper(item.box) for item in sheet.shown]
        assert list(overlaps([*areas, shapely.union_all(fields)])) == []


@every
def test_a_window_is_as_large_as_its_scale_makes_it(name: str) -> None:
    per_mm = sample(name).per_metre / 1000.0
    for sheet, _ in sheets(name):
        for item in sheet.shown:
            size = np.subtract(item.window.high, item.window.low) / item.window.ratio / per_mm
            assert (item.box.width, item.box.height) == pytest.approx(tuple(size))


@every
def test_texts_of_the_title_block_fit_their_fields(name: str) -> None:
    for _, frame in sheets(name):
        fields = [field.buffer(PAPER) for field in title_block(frame)]
        notes = [note for note in frame.notes if note.content == contents.TITLE_BLOCK]
        assert len(notes) > 8
        areas = [shapely.Polygon(corners) for corners in frame.boxes]
        assert len(areas) == len(frame.notes)
        out = [
            note.text for note, area in zip(frame.notes, areas, strict=True)
            if not any(field.covers(area) for field in fields)
        ]  # fmt: skip
        assert out == []


def shown_by(name: str) -> list[Window]:
    """Return all windows of a sample."""
    return [item.window for sheet in sample(name).drawn.sheets for item in sheet.shown]


def area_of(item: Standing | Window) -> shapely.Polygon:
    """Return what a view or a window takes up in model space."""
    low, high = item.reach if isinstance(item, Standing) else (item.low, item.high)
    return shapely.box(*low, *high)


@every
def test_each_view_is_shown_whole_by_one_window_and_by_no_other(name: str) -> None:
    windows = [area_of(item) for item in shown_by(name)]
    for item in sample(name).drawn.views:
        view = area_of(item)
        assert [window.covers(view) for window in windows if window.intersects(view)] == [True]


@every
def test_a_view_is_shown_at_its_own_scale(name: str) -> None:
    for item in sample(name).drawn.views:
        view = area_of(item)
        (window,) = [found for found in shown_by(name) if area_of(found).covers(view)]
        assert (window.ratio, window.scale) == (item.view.ratio, item.view.scale)


@every
def test_everything_in_the_file_lies_in_one_window(name: str) -> None:
    near = NEAR * sample(name).per_metre
    windows = [area_of(item).buffer(near) for item in shown_by(name)]
    found = [item for item in boxes_of(name) if item.layer != legend_of(name)]
    out = [item for item in found if sum(window.covers(item.area) for window in windows) != 1]
    assert [(item.what, item.layer) for item in out] == []


def at_walls(found: Sample) -> list[Run | CoveRun]:
    """Return the runs that lie on the inner outline of a wall in plan, all along."""
    roles = {"water", "hole", "island"}
    rings = {key: shapely.LinearRing(line) for key, line in found.model.outlines.items()
             if key[1] in roles}  # fmt: skip
    runs: list[Run | CoveRun] = [
        run for run in found.takeoff.edges
        if set(run.kind.split("/")) & ({*WALLS, "weir face"})
    ]  # fmt: skip
    runs += found.takeoff.coves
    return [
        run for run in runs
        if any(
            shapely.distance(ring, shapely.points(run.points[:, :2])).max() < NEAR
            for (body, role), ring in rings.items() if body == run.body or role == "island"
        )
    ]  # fmt: skip


@every
def test_each_run_at_a_wall_is_numbered_on_a_developed_wall(name: str) -> None:
    found = sample(name)
    views = [item.view for item in found.drawn.views if item.view.name.startswith("walls of ")]
    texts = [text.text for view in views for text in view.texts if text.content == contents.NUMBERS]
    numbers = {number for text in texts for number in text.split(", ")}
    wanted = {run.number for run in at_walls(found)}
    assert wanted
    assert wanted - numbers == set()
