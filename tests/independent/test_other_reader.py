"""A second reader of drawings finds what the views and the takeoff say, layer by layer.

GDAL reads the file. Lengths of edges and areas of concrete are worked out here from the takeoff's
points and from the solid's triangles; `poolgeo.drawing` has no part in them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import cache
from typing import Literal

import numpy as np
import pytest
import shapely

pytest.importorskip("pyogrio")

from poolgeo.drawing import contents
from poolgeo.drawing.contents import CONTENTS, Content
from poolgeo.drawing.layers import layers_of
from poolgeo.drawing.section import cut_lines_of
from poolgeo.quantities import CoveRun, JointRun, Run
from tests.drawn_samples import NAMES, Sample, file_of, sample

from . import drawing_reader
from .areas import cut_area, in_plane
from .drawing_reader import Read

LENGTH = 1e-3
"""[m] What a length may be off by."""

AREA = 1e-4
"""[m2] What the area of a section may be off by: its corners are rounded to a micrometre."""

GRID = 1e-6
"""[m] Lines nearer than this are one line."""

drawn = pytest.mark.parametrize("name", NAMES)


@cache
def found_in(name: str) -> Read:
    """Return what the other reader finds in the drawing of a sample."""
    return drawing_reader.read(file_of(name))


def layer(found: Sample, content: Content) -> str:
    """Return the name of the layer of a content."""
    return layers_of(found.table)[content].name


def plan_of(found: Sample) -> shapely.Polygon:
    """Return where the plan stands."""
    (left, low), (right, high) = found.plan.reach
    return shapely.box(left, low, right, high)


def on_plan(name: str, content: Content) -> list[shapely.Geometry]:
    """Return the polylines of a content that lie where the plan stands."""
    found = sample(name)
    window = plan_of(found)
    lines = found_in(name).lines(layer(found, content))
    return [line for line in lines if window.contains(line)]


def in_plan(runs: Iterable[Run | CoveRun | JointRun]) -> float:
    """Return the length of runs seen from above, what lies on itself or on another once [m]."""
    lines = [
        shapely.LineString(run.points[:, :2]) for run in runs
        if np.ptp(run.points[:, :2], axis=0).max() > GRID
    ]  # fmt: skip
    return float(shapely.union_all(lines, grid_size=GRID).length)


def total(lines: Iterable[shapely.Geometry]) -> float:
    """Return the length of all lines."""
    return float(sum(line.length for line in lines))


@drawn
def test_lines_are_as_many_on_each_layer_as_on_the_views(name: str) -> None:
    found, read = sample(name), found_in(name)
    views = [item.view for item in found.drawn.views]
    want = {
        layer(found, content): sum(len(view.lines.get(content, ())) for view in views)
        for content in CONTENTS if content not in {contents.LEGEND, contents.VIEWPORTS}
    }  # fmt: skip
    assert {key: len(read.lines(key)) for key in want} == want


@drawn
def test_lines_are_as_long_on_each_layer_as_on_the_views(name: str) -> None:
    found, read = sample(name), found_in(name)
    views = [item.view for item in found.drawn.views]
    want = {
        layer(found, content): sum(
            line.length for view in views for line in view.lines.get(content, ())
        )
        for content in CONTENTS if content not in {contents.LEGEND, contents.VIEWPORTS}
    }  # fmt: skip
    lengths = {key: total(read.lines(key)) for key in want}
    assert lengths == pytest.approx(want, abs=LENGTH * found.per_metre, rel=0.0)


@drawn
@pytest.mark.parametrize("sense", ["internal", "external"])
def test_edges_on_the_plan_are_as_long_as_the_takeoff_says(
    name: str, sense: Literal["internal", "external"]
) -> None:
    found = sample(name)
    lines = on_plan(name, contents.EDGE_CONTENTS[sense])
    runs = [run for run in found.takeoff.edges if run.sense == sense]
    want = in_plan(runs)
    assert total(lines) / found.per_metre == pytest.approx(want, abs=LENGTH, rel=0.0)


@drawn
def test_joints_on_the_plan_are_as_long_as_the_takeoff_says(name: str) -> None:
    found = sample(name)
    joints = () if found.joints is None else found.joints.joints
    want = {
        contents.JOINTS: in_plan(found.takeoff.joints),
        contents.FINISH_JOINTS: in_plan(
            run for joint in joints if joint.is_across for run in joint.runs
        ),
        contents.FINISH_EDGES: in_plan(
            run for joint in joints if not joint.is_across for run in joint.runs
        ),
    }
    lengths = {content: total(on_plan(name, content)) / found.per_metre for content in want}
    assert lengths == pytest.approx(want, abs=LENGTH, rel=0.0)


@drawn
def test_every_place_where_a_run_stands_upright_has_one_ring_on_the_plan(name: str) -> None:
    found, read = sample(name), found_in(name)
    window = plan_of(found)
    for sense, content in contents.EDGE_CONTENTS.items():
        rings = read.rows(layer(found, content), "circle")
        centres = [read.shapes[row].centroid for row in rings]
        places = [
            shapely.Point(run.points[0, :2] * found.per_metre) for run in found.takeoff.edges
            if run.sense == sense and np.ptp(run.points[:, :2], axis=0).max() < GRID
        ]  # fmt: skip
        near = GRID * found.per_metre * 10
        seen = [point for point in centres if window.contains(point)]
        alone = shapely.union_all([place.buffer(near) for place in places])
        assert len(seen) == len(shapely.get_parts(alone))
        assert all(alone.intersects(point) for point in seen)


@drawn
def test_every_run_is_numbered_once_on_the_plan(name: str) -> None:
    found, read = sample(name), found_in(name)
    window = plan_of(found)
    rows = read.rows(layer(found, contents.NUMBERS), "text")
    texts = [read.texts[row] for row in rows if window.contains(read.shapes[row])]
    numbers = [number for text in texts for number in text.split(", ")]
    want = [run.number for run in found.takeoff.edges]
    want += [run.number for run in found.takeoff.coves]
    assert sorted(numbers) == sorted(want)


@drawn
def test_texts_are_those_of_the_views(name: str) -> None:
    found, read = sample(name), found_in(name)
    want: Counter[tuple[str, str]] = Counter()
    for item in found.drawn.views:
        for text in item.view.texts:
            want[layer(found, text.content), text.text] += 1
        for note in item.view.notes:
            want[layer(found, note.content), note.text] += 1
    legend = layer(found, contents.LEGEND)
    got = Counter(
        (read.layers[row], read.texts[row])
        for key in set(read.layers) - {legend} for row in read.rows(key, "text")
    )  # fmt: skip
    assert got == Counter({key: count for key, count in want.items() if key[0] != legend})


@drawn
def test_dimensions_say_what_the_views_say(name: str) -> None:
    found, read = sample(name), found_in(name)
    want: list[str] = []
    for view in [item.view for item in found.drawn.views]:
        want += [item.text for item in view.dimensions]
        want += [item.text for item in view.radii]
        want += [item.text for item in (*view.ordinates, *view.stations)]
    layers = {layer(found, content)
              for content in (contents.DIMENSIONS, contents.RADII, contents.SET_OUT)}  # fmt: skip
    assert sorted(text for key in layers for text in read.said(key, "paragraph")) == sorted(want)


@drawn
def test_each_fitting_is_a_block_that_carries_what_the_takeoff_says(name: str) -> None:
    found, read = sample(name), found_in(name)
    window = plan_of(found)
    rows = [
        row for row in read.rows(layer(found, contents.FITTINGS), "block")
        if window.contains(read.shapes[row])
    ]  # fmt: skip
    tags = ("NUMBER", "KIND", "NAME", "BODY", "SURFACE")
    got = [tuple(read.attributes[row][tag] for tag in tags) for row in rows]
    assert sorted(got) == sorted(
        (item.number, item.kind, item.name, item.body, item.surface)
        for item in found.takeoff.fittings
    )
    for row in rows:
        number = read.attributes[row]["NUMBER"]
        (place,) = [item.point for item in found.takeoff.fittings if item.number == number]
        want = np.array(place[:2]) * found.per_metre
        got_at = shapely.get_coordinates(read.shapes[row])[0]
        assert got_at == pytest.approx(want, abs=LENGTH * found.per_metre)


across_walls = pytest.mark.parametrize(
    "name",
    NAMES,
)


@across_walls
def test_hatching_covers_as_much_as_the_solid_is_cut(name: str) -> None:
    found, read = sample(name), found_in(name)
    shapes = [read.shapes[row] for row in read.rows(layer(found, contents.HATCH), "hatch")]
    sections = [
        shapely.box(*low, *high) for item in found.drawn.views
        if item.view.name.startswith("section ") for low, high in [item.reach]
    ]  # fmt: skip
    own = [shape for shape in shapes if any(area.contains(shape) for area in sections)]
    got = sum(shape.area for shape in own) / found.per_metre**2
    lines = cut_lines_of(found.model).values()
    want = sum(cut_area(found.model.shell, line) for line in lines)
    assert got == pytest.approx(want, abs=AREA, rel=0.0)


@across_walls
def test_no_section_runs_along_a_face(name: str) -> None:
    """There what it cuts is a matter of rounding."""
    found = sample(name)
    lines = cut_lines_of(found.model)
    assert {key: in_plane(found.model.shell, line) for key, line in lines.items()} == dict.fromkeys(
        lines, 0.0
    )
