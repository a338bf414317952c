"""A set drawn into a drafter's own file: his things stay, ours come and go."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.dimension import Dimension
from ezdxf.lldxf.tagwriter import TagCollector

from poolgeo.design.layer_table import layer_table
from poolgeo.design.lengths import Units
from poolgeo.drawing.drawing_set import DrawingSet, drawing_set
from poolgeo.errors import OutputError, PoolFileError
from poolgeo.write.into import MARK, Host, read_host, write_into

from . import hand_made
from .drawing import path_length, polylines, read, texts

TABLE = layer_table("trade-words")


def site(path: Path, insunits: int = 6, release: str = "R2010") -> Path:
    """Write a drawing with lines, a block, a layout, a style and a dimension of its own."""
    document = ezdxf.new(release, units=insunits, setup=True)
    document.layers.add("SITE", color=3)
    space = document.modelspace()
    look = {"layer": "SITE"}
    corners = [(-20.0, -20.0), (30.0, -20.0), (30.0, 25.0), (-20.0, 25.0)]
    space.add_lwpolyline(corners, close=True, dxfattribs=look)
    space.add_text("Boundary", height=1.0, dxfattribs=look)
    block = document.blocks.new("TREE")
    block.add_circle((0.0, 0.0), 1.0)
    space.add_blockref("TREE", (15.0, 20.0), dxfattribs=look)
    space.add_linear_dim((0.0, -22.0), (-20.0, -20.0), (30.0, -20.0)).render()
    document.layouts.new("Site plan").add_text("North", height=5.0)
    document.saveas(path)
    return path


def drawn_into(host: Host, units: Units = "m") -> DrawingSet:
    model = hand_made.model(units=units)
    return drawing_set(model, hand_made.takeoff(), system=host.system, taken=host.reach)


def add(source: Path, target: Path) -> Drawing:
    """Draw the hand-made pool into a drawing."""
    host = read_host(source, TABLE, "m")
    write_into(host, drawn_into(host), TABLE, target)
    return read(target)


LISTS = {"DICTIONARY", "BLOCK_RECORD", "TABLE", "LAYOUT", "DICTIONARYVAR", "SEQEND"}
"""Kinds of things that list others, that say who wrote the file, or that end a list."""


ORDINATE = 6
"""Bits of a dimension's type of which one from place to place has none."""


def things(document: Drawing, version: str) -> dict[str, list[tuple[int, str]]]:
    """Return all that a drawing holds as tags, by handle, but for what says what others hold."""
    found = {}
    for entity in document.entitydb.values():
        if entity.dxftype() in LISTS:
            continue
        collector = TagCollector(dxfversion=version, optional=True)
        entity.export_dxf(collector)
        found[str(entity.dxf.handle)] = [(tag.code, str(tag.value)) for tag in collector.tags]
    return found


@pytest.mark.parametrize("release", ["R2000", "R2010", "R2018"])
def test_what_is_his_stays_as_it_is(tmp_path: Path, release: str) -> None:
    source = site(tmp_path / "site.dxf", release=release)
    before = things(read(source), read(source).dxfversion)
    document = add(source, tmp_path / "both.dxf")
    after = things(document, document.dxfversion)
    assert document.acad_release == release
    assert {handle: after.get(handle) for handle in before} == before
    assert len(after) > 2 * len(before)


def test_his_file_is_not_written(tmp_path: Path) -> None:
    source = site(tmp_path / "site.dxf")
    before = source.read_bytes()
    add(source, tmp_path / "both.dxf")
    assert source.read_bytes() == before


def test_all_of_ours_carries_the_mark_and_nothing_of_his(tmp_path: Path) -> None:
    source = site(tmp_path / "site.dxf")
    handles = {entity.dxf.handle for entity in read(source).modelspace()}
    document = add(source, tmp_path / "both.dxf")
    for entity in document.modelspace():
        assert entity.has_xdata(MARK) == (entity.dxf.handle not in handles)
    for name in document.layout_names_in_taborder():
        if name not in {"Model", "Layout1", "Site plan"}:
            assert document.layout(name).dxf_layout.has_xdata(MARK)


def test_a_second_run_draws_anew_and_leaves_nothing_behind(tmp_path: Path) -> None:
    once = add(site(tmp_path / "site.dxf"), tmp_path / "once.dxf")
    twice = add(tmp_path / "once.dxf", tmp_path / "twice.dxf")
    kinds = [
        Counter(entity.dxftype() for entity in drawing.entitydb.values())
        for drawing in (once, twice)
    ]
    assert kinds[0] == kinds[1]
    assert once.layout_names_in_taborder() == twice.layout_names_in_taborder()


def test_a_line_of_his_on_a_layer_of_ours_stays(tmp_path: Path) -> None:
    add(site(tmp_path / "site.dxf"), tmp_path / "once.dxf")
    document = read(tmp_path / "once.dxf")
    document.modelspace().add_line((0.0, 0.0), (1.0, 1.0), dxfattribs={"layer": "STEPS"})
    document.saveas(tmp_path / "noted.dxf")
    twice = add(tmp_path / "noted.dxf", tmp_path / "twice.dxf")
    assert len(twice.modelspace().query("LINE[layer=='STEPS']")) == 1


@pytest.mark.parametrize(
    ("insunits", "metres"), [(1, 0.0254), (2, 0.3048), (4, 0.001), (5, 0.01), (6, 1.0)]
)
def test_the_pool_is_drawn_in_the_units_of_the_drawing(
    tmp_path: Path, insunits: int, metres: float
) -> None:
    document = add(site(tmp_path / "site.dxf", insunits), tmp_path / "both.dxf")
    (outline,) = polylines(document, "POOL-OUTLINE")
    assert path_length(outline) * metres == pytest.approx(2 * (8 + 4), abs=1e-4)
    measured = [
        float(item.get_measurement()) * metres
        for item in document.modelspace().query("DIMENSION[layer=='DIMENSIONS']")
        if isinstance(item, Dimension) and not item.dxf.dimtype & ORDINATE
    ]
    assert any(length == pytest.approx(8.5, abs=1e-4) for length in measured)


def test_dimensions_are_written_in_the_units_of_the_pool_file(tmp_path: Path) -> None:
    """A pool in metres in a drawing in millimetres: 8.500, as on a drawing of its own."""
    document = add(site(tmp_path / "site.dxf", 4), tmp_path / "both.dxf")
    style = document.dimstyles.get("POOL-LENGTHS")
    assert style.dxf.dimlfac == pytest.approx(0.001)
    assert style.dxf.dimdec == 3


def test_the_notes_name_the_units_of_the_drawing(tmp_path: Path) -> None:
    """A pool in metres in a drawing in millimetres."""
    document = add(site(tmp_path / "site.dxf", 4), tmp_path / "both.dxf")
    assert any(
        "One drawing unit is 1 mm; lengths are in metres." in text
        for text in texts(document, "TITLE")
    )


def test_views_keep_clear_of_what_is_there(tmp_path: Path) -> None:
    """The plan stands where the pool file has it, all else below the site."""
    host = read_host(site(tmp_path / "site.dxf"), TABLE, "m")
    plan, *others = drawn_into(host).views
    assert plan.at == (0.0, 0.0)
    assert all(item.reach[1][1] < -20.0 for item in others)


def test_a_drawing_without_units_is_taken_in_those_of_the_pool_with_a_warning(
    tmp_path: Path,
) -> None:
    host = read_host(site(tmp_path / "site.dxf", 0), TABLE, "mm")
    assert host.system.insunits == 4
    remark, scaling = host.remarks
    assert "$PSLTSCALE must be 0" in str(scaling)
    assert str(remark).endswith(
        "site.dxf: warning: the drawing must say what its units are (got none: taken as mm);"
        " set $INSUNITS"
    )


def test_all_that_is_in_the_way_is_said_at_once(tmp_path: Path) -> None:
    document = ezdxf.new("R12")
    document.layers.add("STEPS")
    document.blocks.new("POOL-MAIN-DRAIN")
    document.header["$INSUNITS"] = 12
    document.saveas(tmp_path / "old.dxf")
    with pytest.raises(PoolFileError) as caught:
        read_host(tmp_path / "old.dxf", TABLE, "m")
    said = [str(finding).partition("old.dxf: ")[2] for finding in caught.value.findings]
    assert said == [
        "error: must be of release R2000 or later (got R12); save it again as a later one",
        (
            "error: must have no layer of its own under a name of ours (got 'STEPS'); give it"
            " another name, in the drawing or in the table of layers"
        ),
        (
            "error: must have no block of its own under a name of ours (got 'POOL-MAIN-DRAIN');"
            " give it another name in the drawing"
        ),
    ]


def test_units_that_are_none_of_length_are_refused(tmp_path: Path) -> None:
    site(tmp_path / "far.dxf", 18)  # astronomical units
    with pytest.raises(PoolFileError, match=re.escape("must be in units of length (got 18)")):
        read_host(tmp_path / "far.dxf", TABLE, "m")


def test_what_is_no_drawing_is_refused(tmp_path: Path) -> None:
    (tmp_path / "notes.dxf").write_text("to do\n")
    with pytest.raises(PoolFileError, match=r"notes\.dxf: error: must be a DXF drawing"):
        read_host(tmp_path / "notes.dxf", TABLE, "m")


def test_another_suffix_is_refused(tmp_path: Path) -> None:
    host = read_host(site(tmp_path / "site.dxf"), TABLE, "m")
    with pytest.raises(OutputError, match=r"must end in \.dxf; name another file"):
        write_into(host, drawn_into(host), TABLE, tmp_path / "both.dwg")


def test_more_faults_than_before_leave_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from ezdxf.audit import Auditor

    host = read_host(site(tmp_path / "site.dxf"), TABLE, "m")
    drawn, calls = drawn_into(host), iter([0, 1])

    def faulty(document: Drawing) -> Auditor:
        auditor = Auditor(document)
        for _ in range(next(calls)):
            auditor.fixed_error(code=1, message="a handle is missing")
        return auditor

    monkeypatch.setattr(Drawing, "audit", faulty)
    (tmp_path / "both.dxf").write_text("old")
    with pytest.raises(OutputError, match=re.escape("(got 1, 0 before)")):
        write_into(host, drawn, TABLE, tmp_path / "both.dxf")
    assert (tmp_path / "both.dxf").read_text() == "old"
