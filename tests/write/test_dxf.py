"""The drawing: sound, at full size, each thing on its layer and each run numbered once."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from ezdxf.audit import Auditor
from ezdxf.document import Drawing
from ezdxf.entities.hatch import Hatch
from PIL import Image

from poolgeo.design.layer_table import layer_table
from poolgeo.design.lengths import Units
from poolgeo.drawing.drawing_set import drawing_set
from poolgeo.drawing.layers import PATTERNS, layers_of, line_type_name
from poolgeo.errors import OutputError
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write.dxf import write_drawing

from . import hand_made
from .drawing import closed, pieces, polylines, read, summary, texts, write_plan, write_whole


@pytest.fixture(scope="module")
def drawing(tmp_path_factory: pytest.TempPathFactory) -> Drawing:
    """The drawing of the hand-made pool, in metres."""
    path = tmp_path_factory.mktemp("dxf") / "pool.dxf"
    write_plan(hand_made.model(), hand_made.takeoff(), path)
    return read(path)


def test_a_drawing_needs_no_mending(drawing: Drawing) -> None:
    auditor = drawing.audit()
    assert not auditor.errors
    assert not auditor.fixes


def test_the_plan_in_short(drawing: Drawing) -> None:
    """Lengths by the sketch in `hand_made`; four dimensions: water and concrete, both ways."""
    lines = {
        "EDGES-EXTERNAL": (7, 2 * 4 + 4 + 2 * (8 + 4)),
        "EDGES-INTERNAL": (9, 2 * 4 + 4 + 4 * 1 + 2 * 5.8),
        "COVE": (1, 2 * (4 + 0.2)),
        "FLOOR-BREAKS": (1, 4),
        "POOL-OUTLINE": (1, 2 * (8 + 4)),
        "SHELL-OUTER": (1, 2 * (8.5 + 4.5)),
        "STEPS": (3, 2 * (4 + 2) + 4),
        "WATERLINE": (1, 2 * (8 + 4)),
    }
    rows = [f"{layer} LWPOLYLINE {n} {length:.2f}" for layer, (n, length) in lines.items()]
    rows += ["DEPTHS LINE 8", "DEPTHS TEXT 4", "EDGES-INTERNAL CIRCLE 4", "RUN-NUMBERS TEXT 21",
             "CUT-LINES TEXT 4", "SLOPES TEXT 1"]  # fmt: skip
    assert set(rows) <= set(summary(drawing).splitlines())


@pytest.mark.parametrize(
    ("units", "insunits", "measurement", "length"),
    [("mm", 4, 1, 8000.0), ("m", 6, 1, 8.0), ("ft", 2, 0, 8 / 0.3048), ("in", 1, 0, 8 / 0.0254)],
)
def test_the_drawing_is_in_the_units_of_the_pool_file(
    tmp_path: Path, takeoff: Takeoff, units: Units, insunits: int, measurement: int, length: float
) -> None:
    write_plan(hand_made.model(units=units), takeoff, tmp_path / "pool.dxf")
    document = read(tmp_path / "pool.dxf")
    assert document.header["$INSUNITS"] == insunits
    assert document.header["$MEASUREMENT"] == measurement
    (outline,) = polylines(document, "POOL-OUTLINE")
    assert max(x for x, _ in outline) - min(x for x, _ in outline) == pytest.approx(
        length, abs=1e-4
    )
    assert any(f"One drawing unit is 1 {units};" in text for text in texts(document, "TITLE"))


LAYERS = list(layers_of(layer_table("trade-words")).values())


def test_layers_have_the_looks_of_the_table(drawing: Drawing) -> None:
    for layer in LAYERS:
        entry = drawing.layers.get(layer.name)
        look = (entry.color, entry.dxf.linetype, entry.dxf.lineweight, entry.description)
        assert look == (layer.colour, layer.line_type, layer.weight, layer.holds)
    assert {entry.dxf.name for entry in drawing.layers} == {
        "0",
        "Defpoints",
        *(layer.name for layer in LAYERS),
    }


def test_line_types_have_the_patterns_of_the_table(drawing: Drawing) -> None:
    assert set(map(line_type_name, PATTERNS)) <= {entry.dxf.name for entry in drawing.linetypes}
    for _, (length, *parts) in PATTERNS.values():
        assert sum(map(abs, parts)) == pytest.approx(length)


def test_the_same_pool_gives_the_same_bytes(tmp_path: Path, model: Model, takeoff: Takeoff) -> None:
    for name in ("one.dxf", "other.dxf"):
        write_plan(model, takeoff, tmp_path / name)
    assert (tmp_path / "one.dxf").read_bytes() == (tmp_path / "other.dxf").read_bytes()


def test_classes_stand_in_the_order_of_their_names(drawing: Drawing) -> None:
    """Left to ezdxf, they stand in the order of a set, which differs from process to process."""
    used = drawing.entitydb.dxf_types_in_use()
    found = [name for name, _ in drawing.classes.classes if name in used]
    assert len(found) > 1
    assert found == sorted(found)


@pytest.mark.parametrize("before", [True, False])
def test_an_option_of_ezdxf_is_left_as_it_was(
    tmp_path: Path,
    model: Model,
    takeoff: Takeoff,
    monkeypatch: pytest.MonkeyPatch,
    *,
    before: bool,
) -> None:
    monkeypatch.setattr(ezdxf.options, "write_fixed_meta_data_for_testing", before)
    write_plan(model, takeoff, tmp_path / "pool.dxf")
    assert ezdxf.options.write_fixed_meta_data_for_testing is before


def test_every_run_and_cove_is_numbered_once(drawing: Drawing, takeoff: Takeoff) -> None:
    numbers = [run.number for run in takeoff.edges] + [cove.number for cove in takeoff.coves]
    assert texts(drawing, "RUN-NUMBERS") == sorted(numbers)


def test_upright_runs_at_one_place_share_a_mark_and_a_label(
    tmp_path: Path, model: Model, takeoff: Takeoff
) -> None:
    corner = next(run for run in takeoff.edges if run.number == "P6.1")
    doubled = replace(takeoff, edges=(*takeoff.edges, replace(corner, number="P6.9")))
    write_plan(model, doubled, tmp_path / "pool.dxf")
    document = read(tmp_path / "pool.dxf")
    assert "P6.1, P6.9" in texts(document, "RUN-NUMBERS")
    assert len(document.modelspace().query("CIRCLE[layer=='EDGES-INTERNAL']")) == 4


def test_an_edge_lies_on_the_layer_of_its_sense(drawing: Drawing, takeoff: Takeoff) -> None:
    for sense in ("internal", "external"):
        expected = Counter(
            frozenset((round(x, 6), round(y, 6)) for x, y, _ in run.points.tolist())
            for run in takeoff.edges
            if run.sense == sense and run.kind != "wall/wall"
        )
        drawn = polylines(drawing, f"EDGES-{sense.upper()}")
        assert Counter(frozenset(path) for path in drawn) == expected


def test_no_line_is_without_length_or_there_twice_on_a_layer(drawing: Drawing) -> None:
    drawn = pieces(drawing)
    assert max(drawn.values()) == 1
    assert all(len(ends) == 2 for _, ends in drawn)


def test_a_run_that_is_there_twice_is_drawn_once_and_numbered_twice(
    tmp_path: Path, model: Model, takeoff: Takeoff
) -> None:
    nosing = next(run for run in takeoff.edges if run.number == "P2.1")
    doubled = replace(takeoff, edges=(*takeoff.edges, replace(nosing, number="P2.9")))
    write_plan(model, doubled, tmp_path / "pool.dxf")
    document = read(tmp_path / "pool.dxf")
    assert len(polylines(document, "EDGES-EXTERNAL")) == 7
    assert {"P2.1", "P2.9"} <= set(texts(document, "RUN-NUMBERS"))


def test_outlines_are_closed_and_open_runs_are_open(drawing: Drawing) -> None:
    found = closed(drawing)
    assert found["POOL-OUTLINE"]
    assert found["SHELL-OUTER"]
    assert found["WATERLINE"]
    assert not found["FLOOR-BREAKS"]


def test_depths_are_written_in_the_units_of_the_file(drawing: Drawing) -> None:
    assert texts(drawing, "DEPTHS") == ["0.400 m", "0.800 m", "1.200 m", "2.000 m"]


def test_the_legend_explains_what_is_there_and_nothing_else(drawing: Drawing) -> None:
    samples = {"P1.1", "0.400 m", "m2"}
    assert set(texts(drawing, "LEGEND")) - samples == {
        "Legend",
        "Outer face of the shell",
        "Edge of the water",
        "Pool outline, inner face of the wall",
        "Break line of the floor",
        "Steps",
        "Cove or fillet, both edges",
        "External edge",
        "Internal edge",
        "Internal edge that stands upright",
        "Number of an edge run or a cove",
        "Depth below the water level; + above it",
        "Where a section is cut, and which way it is seen",
        "Concrete that a section cuts",
        "Hatching of concrete that a section cuts",
        "Water level in a section or on a wall",
        "Edges seen beyond a section",
        "Where a developed wall ends, or meets something",
        "Slope of the floor; the arrow points down",
        "Area of a surface",
    }


def test_title_and_notes(drawing: Drawing) -> None:
    entities = drawing.modelspace().query("TEXT[layer=='TITLE']")
    lines = sorted(((e.dxf.insert.y, e.dxf.text) for e in entities), reverse=True)
    assert [text for _, text in lines] == [
        "Hand-made pool",
        "Plan. One drawing unit is 1 m; lengths are in metres.",
        "Depths are below the water level.",
        "Faces close towards the water at an internal edge and turn away at an external one.",
        "Text is sized for plotting at 1:50 on A3.",
        "Warning: 'steps[0].going' is longer than usual (got 1000 mm); check it",
    ]


def test_numbers_read_upright_along_their_runs(drawing: Drawing) -> None:
    turn = {
        entity.dxf.text: entity.dxf.rotation
        for entity in drawing.modelspace().query("TEXT[layer=='RUN-NUMBERS']")
    }
    assert turn["P7.1"] == turn["P7.3"] == 0
    assert turn["P2.1"] == turn["P7.2"] == turn["P7.4"] == 90


def test_text_is_as_high_as_the_plotted_scale_wants_it(drawing: Drawing) -> None:
    """2.5 mm at 1:50 is 125 mm; the title is twice as high."""
    heights = {e.dxf.layer: e.dxf.height for e in drawing.modelspace().query("TEXT")}
    assert heights["RUN-NUMBERS"] == heights["DEPTHS"] == pytest.approx(0.125)
    (title,) = drawing.modelspace().query("TEXT[text=='Hand-made pool']")
    assert title.dxf.height == pytest.approx(0.25)
    assert drawing.header["$LTSCALE"] == pytest.approx(0.125)


def test_the_drawing_opens_on_all_that_is_in_it(drawing: Drawing) -> None:
    low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
    assert low[0] <= -0.25
    assert high[0] > 8.25 + 7.5 * 0.125
    assert low[1] < -0.25
    assert high[1] >= 4.25


@pytest.mark.parametrize(
    ("name", "written"),
    [("100 %%d ^J pool", "100 %%%%%%d ^ J pool"), ("Schwimmbad Größe Ω", "Schwimmbad Größe Ω")],
)
def test_a_name_is_written_as_it_is_and_not_as_codes(
    tmp_path: Path, takeoff: Takeoff, name: str, written: str
) -> None:
    write_plan(hand_made.model(name=name), takeoff, tmp_path / "pool.dxf")
    assert written in texts(read(tmp_path / "pool.dxf"), "TITLE")


def test_another_suffix_is_refused(tmp_path: Path, model: Model, takeoff: Takeoff) -> None:
    words = f"'{tmp_path / 'pool.dwg'}' must end in .dxf; name another file"
    with pytest.raises(OutputError, match=f"^{re.escape(words)}$"):
        write_plan(model, takeoff, tmp_path / "pool.dwg")


def test_a_drawing_that_does_not_pass_the_audit_leaves_the_old_file(
    tmp_path: Path, model: Model, takeoff: Takeoff, monkeypatch: pytest.MonkeyPatch
) -> None:
    def faulty(document: Drawing) -> Auditor:
        auditor = Auditor(document)
        auditor.fixed_error(code=1, message="a handle is missing")
        return auditor

    monkeypatch.setattr(Drawing, "audit", faulty)
    (tmp_path / "pool.dxf").write_text("old")
    with pytest.raises(OutputError, match=re.escape("(got 1: a handle is missing)")):
        write_plan(model, takeoff, tmp_path / "pool.dxf")
    assert (tmp_path / "pool.dxf").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["pool.dxf"]


def test_a_rendering_shows_both_senses_of_edges(drawing: Drawing) -> None:
    """Both colours are seen: through the gaps of the internal edges the external ones."""
    import matplotlib as mpl
    import numpy as np

    mpl.use("Agg")
    from ezdxf.addons.drawing.config import BackgroundPolicy, Configuration
    from ezdxf.addons.drawing.frontend import Frontend
    from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
    from ezdxf.addons.drawing.properties import RenderContext
    from matplotlib.figure import Figure

    figure = Figure(figsize=(12, 7), dpi=80)
    axes = figure.add_axes((0, 0, 1, 1))
    look = Configuration(background_policy=BackgroundPolicy.WHITE)
    Frontend(RenderContext(drawing), MatplotlibBackend(axes), config=look).draw_layout(
        drawing.modelspace()
    )
    picture = io.BytesIO()
    figure.savefig(picture, format="png")
    pixels = np.asarray(Image.open(picture).convert("RGB")).astype(int)
    for rgb in ((0, 127, 255), (255, 63, 0)):
        near = np.abs(pixels - np.array(rgb)).max(axis=2) < 60
        assert near.sum() > 150


@pytest.mark.parametrize("units", ["mm", "m", "ft", "in"])
def test_lines_of_hatching_are_as_far_apart_on_paper_in_every_unit(
    tmp_path: Path, takeoff: Takeoff, units: Units
) -> None:
    """About a text height: square to lines at 45 degrees, 0.75 of it along either axis."""
    write_whole(hand_made.model(units=units), takeoff, tmp_path / "pool.dxf")
    document = read(tmp_path / "pool.dxf")
    height = document.header["$TEXTSIZE"]
    spacings = {
        round(line.offset.magnitude / height, 3)
        for item in document.modelspace().query("HATCH[layer=='CUT-CONCRETE-HATCH']")
        if isinstance(item, Hatch) and item.pattern
        for line in item.pattern.lines
    }
    assert 1.061 in spacings
    assert document.modelspace().query("HATCH")


def test_contents_that_share_a_layer_stand_on_it(
    tmp_path: Path, model: Model, takeoff: Takeoff
) -> None:
    table = layer_table("trade-words")
    rows = {**table.layers, "radii": table.layers["slopes"], "steps": table.layers["benches"]}
    shared = table.model_copy(update={"layers": rows})
    write_drawing(drawing_set(model, takeoff), shared, tmp_path / "pool.dxf")
    document = read(tmp_path / "pool.dxf")
    assert "STEPS" not in document.layers
    assert len(polylines(document, "BENCHES")) >= 3
