"""Plans that somebody drew: one with every fault there is, and one with none."""

from __future__ import annotations

from pathlib import Path

import pytest

import poolgeo
from poolgeo.errors import key_text
from poolgeo.jointing.joints import finish_joints
from poolgeo.jointing.rows import FinishJoints
from poolgeo.review.case import Remark

SHIPPED = "AS 3958.1: external joints at 4.5 m (from memory)"
STRUCTURE = "TCNA EJ171, trade journal, August 2018: over every structural joint, never narrower"
PRACTICE = "common practice, no source"

BAD = """\
name: Badly drawn
units: m
freeboard: 0.2
outline: {shape: rectangle, length: 16, width: 6}
floor: {shape: level, depth: 1.5}
steps:
  - {shape: end, direction: 0, going: 0.3, risers: 4}
fittings:
  - {kind: main drain, point: [3.0, 0.0], width: 0.3, height: 0.3, protection: two drains}
  - {kind: return inlet, at: [-1.0, 3.0], depth: 0.5, diameter: 0.06, collar: 0.04}
joints:
  - {start: [-5.0, -4.0], end: [-5.0, 4.0], width: 0.02}
  - {start: [0.0, -4.0], end: [0.0, 4.0], width: 0.025}
movement_joints:
  rules: external-4.5-m
  drawn:
    lines:
      - {start: [0.0, -4.0], end: [0.0, 4.0], width: 0.02}  # narrower than the second joint
      - {start: [-2.5, -4.0], end: [-2.5, 1.0], width: 0.02}  # stops short
      - {start: [3.0, -4.0], end: [3.0, 4.0], width: 0.02}  # through the drain
      - {start: [-1.1, -4.0], end: [-1.1, 4.0], width: 0.02}  # 30 mm beside the inlet
      - {start: [-7.68, -4.0], end: [-7.68, 4.0], width: 0.02}  # 20 mm beside the first nosing
      - {start: [20.0, -4.0], end: [20.0, 4.0], width: 0.02}  # outside
      - {start: [5.0, -4.0], end: [5.0, 4.0], width: 0.004}  # narrower than its movement
    edges: [floor/wall]
    width: 0.02
"""

GOOD = """\
name: Well drawn
units: m
freeboard: 0.2
outline: {shape: rectangle, length: 8, width: 4}
floor: {shape: level, depth: 1.5}
fittings:
  - {kind: main drain, point: [3.0, 0.0], width: 0.3, height: 0.3, protection: two drains}
joints:
  - {start: [0.0, -3.0], end: [0.0, 3.0], width: 0.02, movement: 0.002}
movement_joints:
  rules: external-4.5-m
  drawn:
    lines:
      - {name: middle, start: [0.0, -3.0], end: [0.0, 3.0], width: WIDE}
    edges: [floor/wall, wall/wall, perimeter]
    fittings: true
    width: 0.012
"""


def loaded(folder: Path, text: str) -> FinishJoints:
    """Write a pool file and return what is found of its movement joints."""
    path = folder / "pool.yaml"
    path.write_text(text)
    model = poolgeo.build(poolgeo.load(path))
    found = finish_joints(model, poolgeo.measure(model))
    assert found is not None
    return found


@pytest.fixture(scope="module")
def bad(tmp_path_factory: pytest.TempPathFactory) -> FinishJoints:
    """Return the bad plan, checked."""
    return loaded(tmp_path_factory.mktemp("bad"), BAD)


def line_of(words: str, text: str = BAD) -> int:
    """Return the number of the line that holds some words."""
    (found,) = (k for k, line in enumerate(text.splitlines(), 1) if words in line)
    return found


def saying(plan: FinishJoints, rule: str) -> list[Remark]:
    """Return the remarks whose rule begins like that."""
    return [item for item in plan.remarks if item.finding.rule.startswith(rule)]


DRAWN = "movement_joints.drawn"
CASES: list[tuple[str, str, str, str, str, str, str]] = [
    # rule, key, words of its line, value, remedy, source, severity
    ("must run from rim to rim", f"{DRAWN}.lines[1]", "# stops short",
     "M2 stops short at (-2.500 m, 1.000 m), 1.500 m below the water level",
     "draw it on to the wall's top or to another joint", SHIPPED, "error"),
    ("must not go through a fitting", f"{DRAWN}.lines[2]", "# through the drain",
     "M3 goes through F1, a main drain", "move the joint", "", "error"),
    ("should stay 0.050 m clear of fittings", f"{DRAWN}.lines[3]", "# 30 mm beside",
     "M4 passes 0.030 m from F2", "move the joint", "", "warning"),
    ("should stay 0.050 m clear of edges", f"{DRAWN}.lines[4]", "# 20 mm beside",
     "M5 runs 0.020 m beside one at", "move the joint", "", "warning"),
    ("must run over the finish", f"{DRAWN}.lines[5]", "# outside",
     "nothing of it lies there", "move its ends", "", "error"),
    ("must be at least", f"{DRAWN}.lines[6]", "# narrower than its movement",
     "0.004 m at M7, intermediate", "make it wider, or the bays shorter", PRACTICE, "error"),
    ("must have a joint over joint J1 of the structure", DRAWN, "  drawn:",
     "none at (-5.000 m, ", "draw it along the same line", STRUCTURE, "error"),
    ("must have a joint at each change of plane wall/wall", f"{DRAWN}.edges", "edges: [",
     "none at 4 of them", "add 'wall/wall'", PRACTICE, "error"),
    ("must have a joint at each change of plane tread/riser", f"{DRAWN}.edges", "edges: [",
     "none at 3 of them", "add 'tread/riser'", PRACTICE, "error"),
    ("must have a joint at each change of plane floor/riser", f"{DRAWN}.edges", "edges: [",
     "none at 1 of them", "add 'floor/riser'", PRACTICE, "error"),
    ("must have a joint where the finish ends", f"{DRAWN}.edges", "edges: [",
     "none at (", "add 'perimeter'", PRACTICE, "error"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "key", "words", "value", "remedy", "source", "severity"), CASES,
    ids=[case[0] for case in CASES],
)  # fmt: skip
def test_each_fault_is_said_once_with_its_place(
    bad: FinishJoints, rule: str, key: str, words: str, value: str, remedy: str, source: str,
    severity: str,
) -> None:  # fmt: skip
    (remark,) = saying(bad, rule)
    finding = remark.finding
    assert (key_text(finding.key), finding.line) == (key, line_of(words))
    assert finding.file.endswith("pool.yaml")
    assert value in finding.value
    assert (finding.remedy, finding.severity) == (remedy, severity)
    assert source in remark.source


def test_a_joint_narrower_than_the_structure_under_it_is_said_with_both_widths(
    bad: FinishJoints,
) -> None:
    (remark,) = saying(bad, "must not be narrower than joint J2 of the structure under it, 0.025 m")
    assert "0.020 m wide" in remark.finding.value
    assert remark.finding.remedy == "make it as wide"
    assert remark.source == STRUCTURE
    assert remark.finding.line in {line_of("  drawn:"), line_of("# narrower than the second")}


def test_a_fitting_without_a_joint_is_said_where_the_rules_ask_for_one(bad: FinishJoints) -> None:
    """They ask for one at main drains, not at inlets."""
    (remark,) = saying(bad, "must have a joint round fittings")
    assert remark.finding.value == "none at F1"
    assert remark.finding.remedy == "write 'fittings: true'"
    assert key_text(remark.finding.key) == f"{DRAWN}.fittings"
    assert remark.finding.line is not None
    assert remark.source == PRACTICE


def test_bays_that_are_too_long_are_said_by_surface_and_way(bad: FinishJoints) -> None:
    """No line runs along the pool: its 6 m of width are one bay; 5.74 m from riser to inlet.

    The first riser stands at -8 + 4 x 0.3 = -6.8; the line at -2.5 ends at y = 1, beyond that the
    next one is at -1.1: 5.7 m. Along the north wall the joint at -7.68 to that at -1.1: 6.58 m.
    """
    remarks = saying(bad, "must leave no bay longer than 4.500 m")
    said = {item.finding.value.partition(",")[0] for item in remarks}
    assert "6.000 m across the rows on the floor of the pool" in said
    assert "5.700 m along the rows on the floor of the pool" in said
    assert "6.580 m along the walls on the wall of the pool" in said
    for item in remarks:
        assert item.source == SHIPPED
        assert item.finding.remedy == "lay a joint across it"
        assert item.finding.line == line_of("  drawn:")


def test_the_bad_plan_is_counted_as_drawn(bad: FinishJoints) -> None:
    assert bad.drawn
    assert (bad.least, bad.bound) == (None, None)
    assert bad.bay == pytest.approx(6.58, abs=2e-3)


def test_what_is_not_wrong_is_not_said(bad: FinishJoints) -> None:
    """Edges of the kinds that have a joint, fittings far off, lines that are sound."""
    assert not saying(bad, "must have a joint at each change of plane floor/wall")
    assert not [item for item in bad.remarks if "J2 of the structure all along" in str(item)]
    keys = {key_text(item.finding.key) for item in bad.remarks if "lines" in str(item.finding.key)}
    assert keys <= {f"{DRAWN}.lines[{k}]" for k in range(7)}
    assert sum(f"{DRAWN}.lines[{k}]" in keys for k in range(1, 7)) == 6


def test_a_good_plan_gives_nothing(tmp_path: Path) -> None:
    plan = loaded(tmp_path, GOOD.replace("WIDE", "0.025"))
    assert not plan.remarks
    assert plan.bay == pytest.approx(4.0, abs=2e-3)
    (middle,) = [joint for joint in plan.joints if joint.name == "middle"]
    assert middle.length == pytest.approx(4.0 + 2 * 1.7, abs=1e-5)
    assert middle.width == 0.025


def test_a_drawn_joint_over_the_structure_is_asked_for_its_movement_too(tmp_path: Path) -> None:
    """(7e-6 x 30 + 0.0003) x 4 m = 2.04 mm, and 2 mm of the structure: 4.04 / 0.2 = 20.2 mm."""
    plan = loaded(tmp_path, GOOD.replace("WIDE", "0.020"))
    (middle,) = [joint for joint in plan.joints if joint.name == "middle"]
    assert middle.movement == pytest.approx(0.00404, abs=2e-6)
    (remark,) = saying(plan, "must be at least 0.021 m wide")
    assert remark.finding.line == line_of("name: middle", GOOD)


def test_a_joint_that_no_sealant_fills_is_said(tmp_path: Path) -> None:
    """20 mm of movement of the structure and 2.04 mm: 22.04 / 0.2 = 110.2 mm."""
    text = GOOD.replace("WIDE", "0.111").replace("movement: 0.002", "movement: 0.02")
    (remark,) = saying(loaded(tmp_path, text), "should fill joints no wider than 0.040 m")
    assert remark.finding.severity == "warning"
    assert remark.finding.value.startswith("M1 (over the structure) is 0.111 m wide")
    wider = text.replace("movement_joints:\n", "movement_joints:\n  sealant: {widest: 0.12}\n")
    assert wider != text
    assert not loaded(tmp_path, wider).remarks


def test_a_drawn_ring_runs_level_round_the_walls(tmp_path: Path) -> None:
    """6 m of wall want one: at 3 m the bays are 3.2 m and 3 m."""
    text = GOOD.replace("depth: 1.5", "depth: 6").replace("WIDE", "0.025")
    short = loaded(tmp_path, text)
    said = [item.finding.value for item in saying(short, "must leave no bay longer")]
    assert any(value.startswith("6.200 m") for value in said)
    ringed = text.replace("    edges:", "    rings:\n      - {depth: 3.0, width: 0.02}\n    edges:")
    plan = loaded(tmp_path, ringed)
    assert not plan.remarks
    (ring,) = [joint for joint in plan.joints if joint.axis == 2]
    assert ring.at == -3.0
    assert ring.length == pytest.approx(24.0, abs=1e-5)
