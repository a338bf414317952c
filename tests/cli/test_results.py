"""What the commands say and write of a box 8 m by 4 m, 1.5 m deep, with 0.15 m of freeboard."""

from __future__ import annotations

import csv
import json
import re
import struct
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import trimesh
from click.testing import Result

PERIMETER = 2 * (8 + 4)
WALL_HEIGHT = 1.5 + 0.15
WALL_TOP = 8.5 * 4.5 - 8 * 4
WATER = 8 * 4 * 1.5
CONCRETE = 8.5 * 4.5 * (WALL_HEIGHT + 0.2) - 8 * 4 * WALL_HEIGHT
WET = 8 * 4 + PERIMETER * 1.5
DRY = PERIMETER * 0.15 + WALL_TOP


def lines(text: str) -> dict[str, str]:
    """Return what ``check`` printed, by the name that stands before the two spaces."""
    pairs = [line.strip().split("  ", 1) for line in text.splitlines() if line.startswith("  ")]
    return {name: value.strip() for name, value in pairs}


def test_check_prints_the_key_figures(box: Path, poolgeo_run: Callable[..., Result]) -> None:
    result = poolgeo_run("check", box)
    assert (result.exit_code, result.stderr) == (0, "")
    figures = lines(result.stdout)
    assert result.stdout.startswith("Box\n")
    assert figures["size in plan"] == "8.000 m along x, 4.000 m along y"
    assert figures["pool floor, depth"] == "1.500 m"
    assert figures["pool water"] == f"{WATER:.2f} m3"
    assert figures["pool surface"] == f"{WET:.2f} m2 under water, {DRY:.2f} m2 above"
    assert figures["shell, concrete"] == f"{CONCRETE:.2f} m3"


def test_check_sums_the_edges_by_sense(box: Path, poolgeo_run: Callable[..., Result]) -> None:
    figures = lines(poolgeo_run("check", box).stdout)
    internal = PERIMETER + 4 * WALL_HEIGHT
    wet = PERIMETER + 4 * 1.5
    assert figures["internal edges"].startswith(f"{internal:.3f} m in ")
    assert figures["internal edges"].endswith(f"{wet:.3f} m of it under water")
    assert figures["external edges"].endswith("0.000 m of it under water")


def test_check_lists_stretches_that_take_the_long_way_round(
    box: Path, poolgeo_run: Callable[..., Result]
) -> None:
    """1 m of a side the one way is 23 m the other; what is said of that is no warning."""
    content = box.read_text()
    said = "runs along 23.000 m of the 24.000 m round; swap 'start' and 'end' if the short way"
    for key, text in (
        ("bench", "{{start: [{}, 2], end: [{}, 2], width: 400 mm, depth: 400 mm}}"),
        ("fittings", "{{kind: return inlet, start: [{}, 2], end: [{}, 2], count: 2}}"),
    ):
        box.write_text(f"{content}\n{key}: [{text.format(0, 1)}]\n")
        result = poolgeo_run("check", box)
        assert result.stderr == ""
        assert lines(result.stdout)[f"{key}[0]"].startswith(said)
        box.write_text(f"{content}\n{key}: [{text.format(1, 0)}]\n")
        assert f"{key}[0]" not in lines(poolgeo_run("check", box).stdout)


def test_check_names_what_the_file_leaves_open(
    box: Path, poolgeo_run: Callable[..., Result]
) -> None:
    figures = lines(poolgeo_run("check", box).stdout)
    assert figures["tolerance"] == "1 mm"
    assert "freeboard" not in figures


def test_check_uses_feet_where_the_file_does(box: Path, poolgeo_run: Callable[..., Result]) -> None:
    box.write_text(
        "name: Box\nunits: ft\noutline: {shape: rectangle, length: 30, width: 10}\n"
        "floor: {shape: level, depth: 4}\n"
    )
    figures = lines(poolgeo_run("check", box).stdout)
    assert figures["size in plan"] == "30' 0\" along x, 10' 0\" along y"
    gallons = 30 * 10 * 4 * 12**3 / 231
    assert figures["pool water"] == f"{30 * 10 * 4:.1f} ft3 ({gallons:.0f} US gal)"
    wall = 0.25 / 0.3048  # the walls are 250 mm thick where the file says nothing
    concrete = (30 + 2 * wall) * (10 + 2 * wall) * (4 + wall + 0.15 / 0.3048)
    concrete -= 30 * 10 * (4 + 0.15 / 0.3048)
    assert figures["shell, concrete"] == f"{concrete:.1f} ft3 ({concrete / 27:.1f} yd3)"


def test_what_cannot_be_built_is_said_in_feet_where_the_file_has_them(
    box: Path, poolgeo_run: Callable[..., Result]
) -> None:
    box.write_text(
        "name: Box\nunits: ft\noutline: {shape: rectangle, length: 30, width: 10}\n"
        "floor: {shape: level, depth: 4}\ncove: {radius: 6}\n"
    )
    result = poolgeo_run("check", box)
    assert result.exit_code == 1
    assert "(got 6' 0\")" in result.stderr
    remedy = re.search(r"use at most (.*)", result.stderr)
    assert remedy is not None
    box.write_text(box.read_text().replace("{radius: 6}", f"{{radius: {remedy[1]}}}"))
    assert poolgeo_run("check", box).exit_code == 0


def test_check_lists_all_findings_with_their_lines(
    box: Path, poolgeo_run: Callable[..., Result]
) -> None:
    box.write_text(box.read_text().replace("depth: 1.5", "depth: -1").replace("length", "lenght"))
    result = poolgeo_run("check", box)
    assert (result.exit_code, result.stdout) == (1, "")
    assert f"{box}:4: error: 'outline.lenght'" in result.stderr
    assert f"{box}:5: error: 'floor.depth' must be above 0" in result.stderr


@pytest.mark.parametrize(
    "content", [b"", b"\xff\xfe\x00", b"a: [", b"- 1\n- 2\n", b"units: m\n", b"\x00" * 100]
)
def test_no_input_ends_in_a_traceback(
    content: bytes, box: Path, poolgeo_run: Callable[..., Result]
) -> None:
    box.write_bytes(content)
    result = poolgeo_run("check", box)
    assert (result.exit_code, result.stdout) == (1, "")
    assert isinstance(result.exception, SystemExit)
    assert f"{box}" in result.stderr


def json_of(box: Path, poolgeo_run: Callable[..., Result]) -> dict[str, Any]:
    """Return the takeoff of a file as JSON."""
    found: dict[str, Any] = json.loads(poolgeo_run("takeoff", box, "--format", "json").stdout)
    return found


def test_takeoff_as_json_is_data_alone(box: Path, poolgeo_run: Callable[..., Result]) -> None:
    assert json_of(box, poolgeo_run)["volumes"]["water_m3"]["pool"] == pytest.approx(WATER)


def test_takeoff_as_csv_has_one_row_for_each_quantity(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "box.csv"
    result = poolgeo_run("takeoff", box, "--format", "csv", "-o", path)
    assert (result.exit_code, result.stdout, result.stderr) == (0, "", f"wrote {path}\n")
    rows = list(csv.DictReader(path.read_text().splitlines()))
    (shell,) = [row for row in rows if row["section"] == "shell"]
    assert float(shell["value"]) == pytest.approx(CONCRETE, abs=1e-6)


def test_takeoff_as_table_shows_the_same_area(
    box: Path, poolgeo_run: Callable[..., Result]
) -> None:
    text = poolgeo_run("takeoff", box).stdout
    floors = [line.split() for line in text.splitlines() if line.split()[1:2] == ["floor"]]
    assert floors == [
        ["pool", "floor", "32.00", "32.00", "32.00"],
        ["pool", "floor", "32.00", "-", "-", "-", "-"],
    ]


def test_drawing_writes_dxf(box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]) -> None:
    path = tmp_path / "box.dxf"
    result = poolgeo_run("drawing", box, "-o", path)
    assert (result.exit_code, result.stdout, result.stderr) == (0, "", f"wrote {path}\n")
    assert len(ezdxf.readfile(path).modelspace()) > 0


@pytest.mark.parametrize("suffix", [".glb", ".stl", ".ply", ".obj"])
def test_model_writes_each_format_that_it_names(
    suffix: str, box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / f"box{suffix}"
    result = poolgeo_run("model", box, "-o", path, "--part", "shell")
    assert (result.exit_code, result.stderr) == (0, f"wrote {path}\n")
    mesh = trimesh.load_scene(path).to_mesh()
    mesh.merge_vertices()
    assert mesh.volume == pytest.approx(CONCRETE, rel=1e-5)


@pytest.mark.parametrize(("part", "area"), [("surface", WET + DRY), ("water", WET + 8 * 4)])
def test_model_writes_the_part_asked_for(
    part: str, area: float, box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "box.ply"
    poolgeo_run("model", box, "-o", path, "--part", part)
    assert trimesh.load_mesh(path).area == pytest.approx(area, rel=1e-5)


@pytest.mark.parametrize(
    ("name", "output"), [("model", "a.3ds"), ("drawing", "a.dwg"), ("picture", "a.jpg")]
)
def test_a_format_that_is_not_written_is_a_usage_error(
    name: str, output: str, box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    result = poolgeo_run(name, box, "-o", tmp_path / output)
    assert result.exit_code == 2
    assert f"must end in .{ {'model': 'glb', 'drawing': 'dxf', 'picture': 'png'}[name] }" in (
        result.stderr
    )
    assert not (tmp_path / output).exists()


@pytest.mark.parametrize("name", ["model", "drawing", "picture"])
def test_a_folder_that_is_not_there_is_one_line(
    name: str, box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    suffix = {"model": ".glb", "drawing": ".dxf", "picture": ".png"}[name]
    result = poolgeo_run(name, box, "-o", tmp_path / "nowhere" / f"a{suffix}")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "the folder it goes into must exist" in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_picture_has_the_size_asked_for(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "box.png"
    result = poolgeo_run("picture", box, "-o", path, "--size", "320x200")
    assert (result.exit_code, result.stderr) == (0, f"wrote {path}\n")
    assert struct.unpack(">II", path.read_bytes()[16:24]) == (320, 200)


@pytest.mark.parametrize("size", ["320", "0x0", "320x", "99999x10", "axb"])
def test_a_size_is_width_and_height(
    size: str, box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    result = poolgeo_run("picture", box, "-o", tmp_path / "a.png", "--size", size)
    assert result.exit_code == 2
    assert f"must be WIDTHxHEIGHT in pixels, each from 10 to 9999 (got '{size}')" in (
        " ".join(result.stderr.split())
    )


def test_view_shows_the_pool_that_the_file_describes(
    box: Path, monkeypatch: pytest.MonkeyPatch, poolgeo_run: Callable[..., Result]
) -> None:
    shown: list[str] = []
    scene = import_module("poolgeo.write.scene")
    monkeypatch.setattr(scene, "show", lambda model, _, **__: shown.append(model.design.pool.name))
    assert poolgeo_run("view", box).exit_code == 0
    assert shown == ["Box"]


def test_drawing_writes_a_page_for_each_sheet(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "box.pdf"
    result = poolgeo_run("drawing", box, "-o", path)
    assert (result.exit_code, result.stderr) == (0, f"wrote {path}\n")
    assert path.read_bytes().count(b"/Type /Page\n") >= 2


def test_drawing_writes_one_view(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "box.svg"
    result = poolgeo_run("drawing", box, "-o", path, "--view", "section B")
    assert (result.exit_code, result.stderr) == (0, f"wrote {path}\n")
    assert "<svg " in path.read_text()


@pytest.mark.parametrize("release", ["R2000", "R2010", "R2018"])
def test_drawing_writes_each_release(
    release: str, box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "box.dxf"
    assert poolgeo_run("drawing", box, "-o", path, "--release", release).exit_code == 0
    assert ezdxf.readfile(path).acad_release == release


def test_drawing_takes_its_layers_from_a_table(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    """One that comes with poolgeo, or a copy of it with other names."""
    own = tmp_path / "office.yaml"
    assert poolgeo_run("new", "-o", own, "--copy", "trade-words").exit_code == 0
    own.write_text(own.read_text().replace("POOL-OUTLINE", "OFFICE-42"))
    for table, name in (("iso-13567", "W-OUTLN-E-"), (own, "OFFICE-42")):
        path = tmp_path / "box.dxf"
        assert poolgeo_run("drawing", box, "-o", path, "--layers", table).exit_code == 0
        assert ezdxf.readfile(path).modelspace().query(f"LWPOLYLINE[layer=='{name}']")


def test_a_table_of_layers_that_is_wrong_is_said_line_by_line(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    own = tmp_path / "office.yaml"
    poolgeo_run("new", "-o", own, "--copy", "trade-words")
    text = own.read_text().replace("line: dotted", "line: wavy").replace("  steps:", "  stairs:")
    own.write_text(text)
    result = poolgeo_run("drawing", box, "-o", tmp_path / "box.dxf", "--layers", own)
    assert result.exit_code == 1
    assert "wavy" in result.stderr
    assert "(got 'stairs')" in result.stderr
    assert "stairs" in result.stderr
    assert not (tmp_path / "box.dxf").exists()


def test_drawing_goes_into_another_drawing(
    box: Path, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    host = ezdxf.new(units=6)
    host.header["$PSLTSCALE"] = 0
    host.modelspace().add_circle((0.0, 0.0), 30.0)
    host.saveas(tmp_path / "site.dxf")
    path = tmp_path / "both.dxf"
    result = poolgeo_run("drawing", box, "-o", path, "--into", tmp_path / "site.dxf")
    assert (result.exit_code, result.stderr) == (0, f"wrote {path}\n")
    both = ezdxf.readfile(path)
    assert len(both.modelspace().query("CIRCLE[radius==30]")) == 1
    assert both.modelspace().query("LWPOLYLINE[layer=='POOL-OUTLINE']")


@pytest.mark.parametrize(
    ("option", "value", "output"),
    [("--view", "plan", "a.dxf"), ("--release", "R2018", "a.pdf"), ("--into", "b.dxf", "a.svg")],
)
def test_an_option_that_goes_with_another_kind_of_file_is_a_usage_error(
    option: str, value: str, output: str, box: Path, tmp_path: Path,
    poolgeo_run: Callable[..., Result],
) -> None:  # fmt: skip
    ezdxf.new().saveas(tmp_path / "b.dxf")
    value = str(tmp_path / value) if option == "--into" else value
    result = poolgeo_run("drawing", box, "-o", tmp_path / output, option, value)
    assert result.exit_code == 2
    assert f"'{option}' goes with" in result.stderr
    assert not (tmp_path / output).exists()
