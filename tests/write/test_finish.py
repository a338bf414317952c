"""Movement joints and finishes in every output: the same joints everywhere."""

from __future__ import annotations

import csv
import io
import json
import math
from collections import Counter
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import ironcalc
import numpy as np
import openpyxl
import pytest
import shapely
from click.testing import Result

import poolgeo
from poolgeo.design.load import design_from
from poolgeo.drawing import contents
from poolgeo.drawing.developed import Development, developments
from poolgeo.drawing.palette import FINISH_EDGE, FINISH_JOINT
from poolgeo.drawing.plan_lines import clipped
from poolgeo.drawing.plan_view import lines_of
from poolgeo.drawing.set_out import ordinates
from poolgeo.drawing.sheet import UNIT_SYSTEMS
from poolgeo.finishing.finish import Finishing
from poolgeo.jointing.rows import FinishJoints, length_of
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.surface.kinds import WALLS
from poolgeo.write.finish_terminal import finish_text
from poolgeo.write.scene import _edges
from poolgeo.write.tables import csv_text, json_text
from poolgeo.write.tiler_sheet import tiler_page, write_tiler_sheet
from poolgeo.write.workbook import write_workbook

from .drawing import read, texts, write_plan, written

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "training-pool.yaml"
Job = tuple[Model, Takeoff, Finishing]


@pytest.fixture(scope="module")
def job() -> Job:
    """The tiled sample, planned and taken off."""
    model = poolgeo.build(poolgeo.load(SAMPLE))
    takeoff = poolgeo.measure(model)
    return model, takeoff, poolgeo.finish(model, takeoff)


def joints_of(job: Job) -> FinishJoints:
    """Return its joints."""
    joints = job[2].joints
    assert joints is not None
    return joints


def turned(angle: float) -> Job:
    """Return a box whose rows of tiles run at an angle, with an origin off its corner."""
    content: dict[str, Any] = {
        "name": "Turned", "units": "m", "outline": {"shape": "rectangle", "length": 9, "width": 7},
        "floor": {"shape": "level", "depth": 1.5}, "shell": {"wall": 0.2, "floor": 0.2},
        "movement_joints": {"rules": "external-4.5-m", "direction": angle, "origin": [1.0, 0.5]},
    }  # fmt: skip
    model = poolgeo.build(design_from(content))
    takeoff = poolgeo.measure(model)
    return model, takeoff, poolgeo.finish(model, takeoff)


class TestTheSameJoints:
    """Plan, developed walls and picture show what the rows hold."""

    def test_the_plan_has_their_length_in_plan(self, job: Job) -> None:
        """Three joints across 8.2 m, one along 16.7 m."""
        model, takeoff, _ = job
        joints = joints_of(job)
        projection = UNIT_SYSTEMS["m"].projection
        lines = lines_of(model, takeoff, projection, joints)
        drawn = shapely.union_all([
            shapely.LineString(line.points) for line in lines[contents.FINISH_JOINTS]
        ])  # fmt: skip
        wanted = shapely.union_all([
            shapely.LineString(np.round(run.points[:, :2], 6))
            for joint in joints.of_kind("over the structure", "intermediate")
            for run in joint.runs
            if np.ptp(run.points[:, :2], axis=0).max() > 1e-6
        ])  # fmt: skip
        # three joints across 8.2 m, one along 16.7 m
        assert wanted.length == pytest.approx(3 * 8.2 + 16.7, abs=1e-3)
        assert drawn.length == pytest.approx(wanted.length, abs=1e-3)
        assert drawn.symmetric_difference(wanted).length < 1e-3

    def test_the_developed_walls_have_their_length_on_walls(self, job: Job) -> None:
        """Kind by kind."""
        model, takeoff, _ = job
        joints = joints_of(job)
        (wall,) = developments(model, takeoff, joints)
        for kind in ("intermediate", "over the structure", "change of plane", "perimeter"):
            wanted = sum(
                run.length for joint in joints.joints if joint.kind == kind for run in joint.runs
                if set(run.surface.split("/")) & set(WALLS)
            )  # fmt: skip
            drawn = sum(
                float(np.linalg.norm(np.diff(item.points, axis=0), axis=1).sum())
                for item in wall.joints if item.joint.kind == kind
            )  # fmt: skip
            assert wanted > 0.0
            assert drawn == pytest.approx(wanted, abs=2e-3), kind

    def test_the_picture_has_every_stretch(self, job: Job) -> None:
        """Tubes follow the points of the rows."""
        joints = joints_of(job)
        found = {style.label: paths for paths, style in _edges(job[1], joints)}
        drawn = [*found[FINISH_JOINT.label], *found[FINISH_EDGE.label]]
        wanted = [run.points for joint in joints.joints for run in joint.runs]
        assert len(drawn) == len(wanted)
        assert sorted(map(length, drawn)) == pytest.approx(sorted(map(length, wanted)))

    def test_json_and_csv_have_every_stretch(self, job: Job) -> None:
        """Behind those of the structure."""
        joints = joints_of(job)
        rows = json.loads(json_text(job[1], None, job[2]))["joints"]
        structural = [row for row in rows if row["kind"] == "structural joint"]
        assert len(structural) == len(job[1].joints)
        mine = [row for row in rows if row["kind"] != "structural joint"]
        assert sum(row["length_m"] for row in mine) == pytest.approx(length_of(joints.joints))
        assert Counter(row["kind"] for row in mine) == Counter(
            joint.kind for joint in joints.joints for _ in joint.runs
        )
        table = csv.DictReader(io.StringIO(csv_text(job[1], None, job[2])))
        lengths = [
            float(row["value"]) for row in table
            if (row["section"], row["measure"]) == ("joint", "length")
            and row["kind"] != "structural joint"
        ]  # fmt: skip
        assert sum(lengths) == pytest.approx(length_of(joints.joints), abs=1e-3)


def length(points: np.ndarray) -> float:
    """Return the length of a polyline."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


class TestDevelopedWalls:
    """They are unrolled as they are seen from the water."""

    @pytest.fixture
    def wall(self, job: Job) -> Development:
        """The walls of the sample."""
        (wall,) = developments(job[0], job[1], joints_of(job))
        return wall

    def test_they_are_as_long_as_the_wall(self, wall: Development) -> None:
        """Round the outline, from the cove to the top."""
        assert wall.length == pytest.approx(2 * (16.7 + 8.2))
        # 1.8 m deep at most; the cove of 80 mm stands below the wall
        assert (wall.high, wall.low) == pytest.approx((0.15, -1.72))

    def test_to_the_right_is_to_the_right_as_seen_from_the_water(self, wall: Development) -> None:
        """The outline starts at (0, 0): from there clockwise, up the west wall, x = 0 first."""
        assert wall.corners == pytest.approx((0.0, 8.2, 8.2 + 16.7, 2 * 8.2 + 16.7), abs=2e-3)
        found = {
            item.joint.number: round(float(item.points[:, 0].mean()), 2)
            for item in wall.joints if item.joint.is_across and item.run.points[:, 1].max() > 8.19
        }  # fmt: skip
        # on the north wall, y = 8.2: 8.2 m up the west wall, then x to the right
        assert found["M1"] == pytest.approx(8.2 + 3.75, abs=1e-2)
        assert found["MJ1"] == pytest.approx(8.2 + 8.0, abs=1e-2)

    def test_fittings_stand_on_them(self, wall: Development) -> None:
        """Four inlets on the south wall, from x = 15 to x = 3 as one goes on clockwise."""
        places = {number: float(ring.points[:, 0].mean()) for number, ring in wall.fittings}
        wanted = {f"F1.{k}": 2 * 8.2 + 16.7 + (16.7 - x) for k, x in enumerate((3, 7, 11, 15), 1)}
        assert places == pytest.approx(wanted, abs=5e-3)

    def test_an_island_has_walls_of_its_own(self) -> None:
        """Seen from the water about it."""
        content: dict[str, Any] = {
            "name": "I", "units": "m", "outline": {"shape": "rectangle", "length": 8, "width": 6},
            "floor": {"shape": "level", "depth": 1.5}, "shell": {"wall": 0.2, "floor": 0.2},
            "islands": [{"name": "post", "outline": {"shape": "circle", "radius": 0.5}}],
            "movement_joints": {"rules": "external-4.5-m"},
        }  # fmt: skip
        model = poolgeo.build(design_from(content))
        takeoff = poolgeo.measure(model)
        walls = {item.body: item for item in developments(model, takeoff, None)}
        assert walls["pool"].length == pytest.approx(28.0)
        assert walls["pool, island 1"].length == pytest.approx(math.pi, rel=1e-3)

    def test_what_is_cut_off_is_cut_at_the_end(self) -> None:
        """A row of the sheet holds a part of a wall."""
        line = np.array([[0.0, 0.0], [2.0, 2.0], [4.0, 0.0]])
        (part,) = clipped(line, 1.0, 3.0)
        assert part.round(6).tolist() == [[1.0, 1.0], [2.0, 2.0], [3.0, 1.0]]


class TestDrawing:
    """Joints on layers of their own, with set-out dimensions from the origin."""

    @pytest.mark.parametrize("angle", [0.0, 20.0, -110.0])
    def test_dimensions_start_at_the_joints_and_say_their_distance(
        self, angle: float, tmp_path: Path
    ) -> None:
        """Whichever way the rows run."""
        model, takeoff, finishing = turned(angle)
        joints = finishing.joints
        assert joints is not None
        path = tmp_path / "turned.dxf"
        write_plan(model, takeoff, path, joints)
        document = read(path)
        dimensions = list(document.modelspace().query("DIMENSION[layer=='SET-OUT']"))
        lines = joints.of_kind("intermediate")
        assert {written(item) for item in dimensions} == {f"{line.at:.3f}" for line in lines}
        way = np.array([[math.cos(t), math.sin(t)] for t in np.radians([angle, angle + 90.0])])
        for item in dimensions:
            assert tuple(item.dxf.defpoint)[:2] == pytest.approx((1.0, 0.5))
            start = np.array(tuple(item.dxf.defpoint2)[:2]) - (1.0, 0.5)
            axis = 1 if item.dxf.dimtype & 64 == 0 else 0  # 64: along the first axis
            assert f"{float(start @ way[axis]):.3f}" == written(item)
            near = [line for line in lines if f"{line.at:.3f}" == written(item)]
            assert axis in {line.axis for line in near}

    def test_numbers_stand_once(self, job: Job, tmp_path: Path) -> None:
        """One number for each joint, one origin."""
        path = tmp_path / "plan.dxf"
        joints = joints_of(job)
        write_plan(job[0], job[1], path, joints)
        document = read(path)
        wanted = sorted(joint.number for joint in joints.of_kind("intermediate"))
        assert texts(document, "FINISH-JOINT-NUMBERS") == wanted
        assert texts(document, "SET-OUT") == ["Set-out origin 0.000 m, 0.000 m"]

    def test_dimensions_that_would_touch_stand_apart(self, job: Job) -> None:
        """Text three metres high."""
        corners = np.array([[0.0, 0.0], [16.7, 8.2]])
        found = [item for item in ordinates(joints_of(job), corners, 3.0, "m") if item.axis == 0]
        places = [item.end[0] for item in found]
        assert min(b - a for a, b in pairwise(places)) == pytest.approx(1.7 * 3.0)


class TestTilerSheet:
    """One page: what it says, and that it is a page."""

    def test_it_says_what_the_tiler_has_to_know(self, job: Job) -> None:
        """Joints in the table, on the plan and on the walls."""
        page = tiler_page(job[0], job[1], joints_of(job))
        said = [item.dxf.text for item in page.document.modelspace().query("TEXT")]
        text = " ".join(said)
        assert "NEVER cut, saw or grind through the finish" in text
        for joint in joints_of(job).of_kind("over the structure", "intermediate"):
            assert said.count(joint.number) >= 2  # in the table, on the plan, on the walls
            assert f"{joint.at:.3f} m" in said
        assert "Linden Quarry training pool" in said

    def test_nothing_stands_beyond_the_page(self, job: Job) -> None:
        """The drawing lies on the paper."""
        from ezdxf.bbox import extents

        page = tiler_page(job[0], job[1], joints_of(job))
        box = extents(page.document.modelspace())
        assert box.extmin.x >= 0.0
        assert box.extmin.y >= 0.0
        assert box.extmax.x <= page.size[0]
        assert box.extmax.y <= page.size[1]

    def test_it_is_a_pdf_of_one_page(self, job: Job, tmp_path: Path) -> None:
        """The same pool gives the same bytes."""
        path = tmp_path / "sheet.pdf"
        write_tiler_sheet(job[0], job[1], joints_of(job), path)
        data = path.read_bytes()
        assert data.startswith(b"%PDF-")
        assert data.count(b"/Type /Page ") + data.count(b"/Type /Page\n") == 1
        again = tmp_path / "again.pdf"
        write_tiler_sheet(job[0], job[1], joints_of(job), again)
        assert again.read_bytes() == data

    def test_another_suffix_is_refused(self, job: Job, tmp_path: Path) -> None:
        """Nothing is written."""
        with pytest.raises(poolgeo.OutputError, match=r"must end in \.pdf"):
            write_tiler_sheet(job[0], job[1], joints_of(job), tmp_path / "sheet.png")

    def test_without_a_finish_there_is_none(
        self, tmp_path: Path, poolgeo_run: Callable[..., Result]
    ) -> None:
        """The command says so."""
        sample = SAMPLE.with_name("lap-pool.yaml")
        result = poolgeo_run("joints", sample, "-o", tmp_path / "a.pdf")
        assert result.exit_code == 1
        assert "'finishes' must say what goes on to the membrane" in result.stderr
        assert not list(tmp_path.iterdir())


class TestTables:
    """Terminal and workbook."""

    def test_the_text_has_every_joint_and_finish(self, job: Job) -> None:
        """Tables for all of it."""
        text = finish_text(job[2], "m")
        for title in ("Movement joints across the finish", "Sealant: pool sealant", "Nosings",
                      "Waterline band", "Coping stones", "What the finishes take"):  # fmt: skip
            assert title in text
        assert "M1      intermediate" in text

    def test_without_a_finish_there_is_no_text(self) -> None:
        """Nothing is printed."""
        assert not finish_text(Finishing(), "m")

    def test_the_workbook_recalculates(self, job: Job, tmp_path: Path) -> None:
        """Twice the width of one joint takes twice its sealant; more waste takes more tiles."""
        path = tmp_path / "book.xlsx"
        write_workbook(job[0], job[1], None, path, job[2])
        joints = joints_of(job)
        book = openpyxl.load_workbook(path)
        sheet = book["Movement joints"]
        row = next(k for k in range(1, 60) if sheet.cell(k, 1).value == "M1")
        first = next(joint for joint in joints.joints if joint.number == "M1")
        assert sheet.cell(row, 5).value == pytest.approx(first.width * 1000)
        sheet.cell(row, 5).value = 2 * first.width * 1000
        finishes = book["Finishes"]
        tiles = next(k for k in range(1, 60) if finishes.cell(k, 3).value == "tiles")
        finishes.cell(tiles, 9).value = 0.5
        book.save(path)
        model = ironcalc.load_from_xlsx(str(path), "en", "UTC", "en")
        model.evaluate()
        names = [item["name"] for item in model.get_worksheets_properties()]
        here = names.index("Movement joints")
        found = float(model.get_formatted_cell_value(here, row, 10).replace(",", ""))
        assert found == pytest.approx(2 * first.volume * 1000, abs=6e-4)
        takeoff = job[2].takeoff
        assert takeoff is not None
        modules = takeoff.supplies[1].modules
        assert modules is not None
        there = names.index("Finishes")
        ordered = float(model.get_formatted_cell_value(there, tiles, 10).replace(",", ""))
        assert ordered == math.ceil(modules * 1.5 - 1e-9)
