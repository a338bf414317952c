"""Where there are no joints to plan, and files that are wrong: each in words, with its line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import Result
from hypothesis import given, settings
from hypothesis import strategies as st

import poolgeo
from poolgeo.design.joint_rules import joint_rules
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError, key_text
from poolgeo.jointing.joints import finish_joints

from ..measure.quantities import PoolDict, level, pool, rectangle
from ..strategies import metres
from .facts import no_bay_is_too_long
from .planned import joints_of, planned, tiles

BOX = """\
name: Box
units: m
freeboard: 0.15
outline: {shape: rectangle, length: 8, width: 4}
floor: {shape: level, depth: 1.5}
"""

RULES = """\
name: Own
units: m
bays: {longest: 5, source: made for a test}
structure: {source: made for a test}
widths: {source: made for a test}
"""


def box(**more: object) -> PoolDict:
    """Return 8 x 4 m, 1.5 m deep."""
    return pool(rectangle(8.0, 4.0), level(1.5), **more)


class TestNone:
    """Only what has a finish takes joints."""

    @pytest.mark.parametrize(
        "more",
        [{}, {"finishes": []}, {"finishes": [], "movement_joints": {}}],
        ids=["nothing said", "no finish", "joints of no finish"],
    )
    def test_a_file_that_speaks_of_no_finish(self, more: PoolDict) -> None:
        """Or says that there is none."""
        model = poolgeo.build(design_from(box(**more)))
        assert finish_joints(model, poolgeo.measure(model)) is None

    def test_movement_joints_alone_are_of_everything_but_wall_tops(self) -> None:
        """One across, down and up: 4 + 2 x 1.65 m; the rim is the inner edge."""
        joints = joints_of(box(freeboard=0.15, movement_joints={}))
        (only,) = joints.of_kind("intermediate")
        assert only.length == pytest.approx(4.0 + 2 * 1.65, abs=1e-5)
        assert sum(item.length for item in joints.of_kind("perimeter")) == pytest.approx(24.0)

    def test_finishes_alone_take_the_usual_rules(self) -> None:
        """Closed loops at 6 m."""
        joints = joints_of(box(finishes=[tiles(0.3, 0.3, 0.003)]))
        assert joints.rules.bays.longest == 6.0
        assert joints.of_kind("intermediate")

    def test_a_finish_of_the_floor_only_has_joints_there_only(self) -> None:
        """One across the floor; its perimeter all round; no change of plane."""
        joints = joints_of(box(finishes=[tiles(0.3, 0.3, 0.003, where={"kinds": ["floor"]})]))
        runs = [run for joint in joints.joints for run in joint.runs]
        assert {run.surface for run in runs} == {"floor"}
        (only,) = joints.of_kind("intermediate")
        assert only.length == pytest.approx(4.0, abs=1e-5)
        assert not joints.of_kind("change of plane")
        assert not joints.remarks


SCHEMA: list[tuple[str, str, int, str]] = [
    ("finishes:\n  - {name: t, type: tile, joint: 3 mm}\n", "finishes[0]", 7,
     "must give 'tile' for tile"),
    ("finishes:\n  - {name: t, type: plaster, thickness: 10 mm, joint: 3 mm}\n", "finishes[0]", 7,
     "must not give 'joint' for plaster"),
    ("movement_joints: {temperatures: [35 C, 5 C]}\n", "movement_joints", 6,
     "must have 'temperatures' that rise"),
    ("movement_joints: {temperatures: [5 C, 5 C]}\n", "movement_joints", 6,
     "must have 'temperatures' that rise"),
    ("movement_joints:\n  colour: red\n", "movement_joints.colour", 7,
     "must be a key that is known here"),
    ("movement_joints:\n  drawn:\n    lines:\n      - {start: [1, 1], end: [1, 1], width: 0.01}\n",
     "movement_joints.drawn.lines[0]", 9, "must have an 'end' that differs from its 'start'"),
    ("movement_joints:\n  drawn:\n    lines:\n      - {start: [1, 1], end: [2, 1]}\n",
     "movement_joints.drawn.lines[0].width", 9, "must be given"),
    ("movement_joints:\n  sealant: {capability: 0}\n", "movement_joints.sealant.capability", 7,
     "must be"),  # above 0
]  # fmt: skip


@pytest.mark.parametrize(("text", "key", "line", "rule"), SCHEMA, ids=[c[3] for c in SCHEMA])
def test_a_bad_key_is_said_with_its_line_by_the_command_too(
    text: str, key: str, line: int, rule: str, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "pool.yaml"
    path.write_text(BOX + text)
    with pytest.raises(PoolFileError) as refusal:
        poolgeo.load(path)
    (finding,) = refusal.value.findings
    assert (key_text(finding.key), finding.line) == (key, line)
    assert finding.rule.startswith(rule)
    result = poolgeo_run("check", path)
    assert result.exit_code == 1
    assert f"pool.yaml:{line}: error: '{key}' {rule}" in result.stderr
    assert "Traceback" not in result.output


def refused(folder: Path, rules: str, table: str | None = None) -> PoolFileError:
    """Return how a pool that asks for some rules is refused."""
    (folder / "pool.yaml").write_text(f"{BOX}movement_joints: {{rules: {rules}}}\n")
    if table is not None:
        (folder / "own.yaml").write_text(table)
    model = poolgeo.build(poolgeo.load(folder / "pool.yaml"))
    with pytest.raises(PoolFileError) as refusal:
        finish_joints(model, poolgeo.measure(model))
    return refusal.value


class TestRules:
    """Tables of one's own, and names that are none."""

    @pytest.mark.parametrize(
        ("name", "words"), [("no-such-table", "known: closed-loops-6-m"), ("own.yaml", "own.yaml")]
    )
    def test_one_that_is_not_there_is_a_fault_of_the_pool_file(
        self, name: str, words: str, tmp_path: Path
    ) -> None:
        """It asks for it by its key."""
        (finding,) = refused(tmp_path, name).findings
        assert (key_text(finding.key), finding.line) == ("movement_joints.rules", 6)
        assert finding.file.endswith("pool.yaml")
        assert words in str(finding)

    @pytest.mark.parametrize(
        ("old", "new", "key", "line"),
        [
            ("structure: {source: made for a test}\n", "", "structure", None),
            ("{longest: 5, source: made for a test}", "{longest: 5}", "bays.source", 3),
            ("longest: 5", "longest: -5", "bays.longest", 3),
            ("longest: 5", "longest: 5, exempt: [stone]", "bays.exempt[0]", 3),
            ("units: m", "units: yards", "units", 2),
            ("widths: {", "widths: {least: wide, ", "widths.least", 5),
        ],
    )
    def test_what_is_wrong_in_it_is_said_with_its_line_there(
        self, old: str, new: str, key: str, line: int | None, tmp_path: Path
    ) -> None:
        """In the name of the table, not of the pool file."""
        assert old in RULES
        found = refused(tmp_path, "own.yaml", RULES.replace(old, new)).findings
        (finding,) = [item for item in found if key_text(item.key) == key]
        assert finding.file.endswith("own.yaml")
        if line is not None:
            assert finding.line == line

    @pytest.mark.parametrize(
        "text", ["", "[1, 2]\n", "name: [\n", "\x00", "name: Own\nname: Own\n"]
    )
    def test_what_is_no_table_is_refused_in_words(self, text: str, tmp_path: Path) -> None:
        """Nothing, a list, no YAML, a key twice."""
        found = refused(tmp_path, "own.yaml", text).findings
        assert found
        assert all("own.yaml" in str(item) and item.line is not None for item in found)

    def test_a_sound_one_is_taken(self, tmp_path: Path) -> None:
        """8 m at 5 m: one joint, with the source that the file gives."""
        (tmp_path / "pool.yaml").write_text(f"{BOX}movement_joints: {{rules: own.yaml}}\n")
        (tmp_path / "own.yaml").write_text(RULES)
        model = poolgeo.build(poolgeo.load(tmp_path / "pool.yaml"))
        joints = finish_joints(model, poolgeo.measure(model))
        assert joints is not None
        assert joints.rules.bays.cited == "made for a test"
        assert len(joints.of_kind("intermediate")) == len(joints.joints) == 1


class TestWhatCannotBe:
    """Limits that no joint on a grid line can keep are said, not raised."""

    def test_tiles_longer_than_a_bay(self, tmp_path: Path) -> None:
        """A module of 3 m along the rows and bays of 2.5 m."""
        (tmp_path / "own.yaml").write_text(RULES.replace("longest: 5", "longest: 2.5"))
        asked = {"rules": str(tmp_path / "own.yaml")}
        joints = joints_of(box(movement_joints=asked, finishes=[tiles(2.99, 0.3, 0.01)]))
        said = [str(item) for item in joints.remarks if item.finding.severity == "error"]
        assert any("must leave no bay longer than 2.500 m" in text for text in said)
        assert joints.bay > 2.5

    def test_a_fitting_on_every_line(self) -> None:
        """Slots across the whole middle: what must be near is said as a warning or an error."""
        slots = [
            {"kind": "main drain", "point": [x, 0.0], "width": 3.4, "height": 0.3,
             "direction": 90, "protection": "two drains"}
            for x in (-2.0, -1.0, 0.0, 1.0, 2.0)
        ]  # fmt: skip
        joints = joints_of(box(movement_joints={"clear_of_fittings": 1.0}, fittings=slots))
        assert joints.remarks
        assert all("fitting" in str(item) or "bay" in str(item) for item in joints.remarks)


@st.composite
def drawings(draw: st.DrawFn) -> PoolDict:
    """Some lines and rings, here and there, long and short."""

    def line() -> PoolDict:
        ends = [[draw(metres(-6.0, 6.0)), draw(metres(-4.0, 4.0))] for _ in range(2)]
        if draw(st.booleans()):
            ends = [[ends[0][0], -4.0], [ends[0][0], 4.0]]
        if ends[0] == ends[1]:
            ends[1] = [5.0, 4.5]
        return {"start": ends[0], "end": ends[1], "width": draw(metres(0.002, 0.03))}

    rings = [
        {"depth": draw(metres(-0.5, 2.0)), "width": 0.02} for _ in range(draw(st.integers(0, 1)))
    ]
    edges = draw(st.lists(st.sampled_from(["*", "floor/wall", "wall/wall", "perimeter", "cove"])))
    return {
        "lines": [line() for _ in range(draw(st.integers(0, 3)))], "rings": rings, "edges": edges,
        "fittings": draw(st.booleans()),
    }  # fmt: skip


@settings(max_examples=6)
@given(drawings(), st.sampled_from([{}, {"cove": {"radius": 0.2}}]))
def test_what_is_drawn_at_random_is_checked_and_never_raises(
    drawn: PoolDict, more: PoolDict
) -> None:
    """No bay is longer than the longest that the check tells of, looked at a second time."""
    rules = joint_rules("external-4.5-m")
    file = box(movement_joints={"drawn": drawn}, freeboard=0.2, **more)
    case = planned(file, rules)
    assert case.plan.drawn
    told = case.plan.rules.bays.model_copy(update={"longest": case.plan.bay})
    looser = case.plan.rules.model_copy(update={"bays": told})
    no_bay_is_too_long(replace(case, plan=replace(case.plan, rules=looser)))
