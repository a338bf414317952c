"""Each rule of the review: what it finds, in which words and from where, and where it is silent."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

import pytest

from poolgeo.errors import Finding, key_text
from poolgeo.review.case import Case, Remark
from poolgeo.review.review import RULES
from poolgeo.works import Works

from .changes import CHANGES, Change
from .sound import works_of

FINDERS = {rule.__name__: rule for rule in RULES}


def without_line(remarks: Iterable[Remark]) -> list[tuple[object, ...]]:
    """Return what remarks say, wherever that is written."""
    return [
        (item.finding.severity, key_text(item.finding.key), item.finding.rule, item.finding.value,
         item.source)
        for item in remarks
    ]  # fmt: skip


@cache
def usual() -> tuple[tuple[object, ...], ...]:
    """What is said of the sound whole."""
    return tuple(without_line(works_of({})[0].remarks))


def test_of_a_sound_whole_only_its_class_is_said() -> None:
    assert usual() == (
        ("note", "waterproofing", "puts the basin in class shallow", "1.400 m deep", "class rule"),
    )


def new_in(works: Works, case: Case, change: Change) -> list[Remark]:
    """Return what is said beyond the usual; of the depth's class only where that is asked for."""
    usual_too = set(usual())
    if change.rule != "depth_class":
        usual_too |= set(without_line(FINDERS["depth_class"](case)))
    return [item for item in works.remarks if without_line([item])[0] not in usual_too]


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change.name)
def test_one_change_gives_one_finding(change: Change) -> None:
    works, case = works_of(change.wrong)
    (found,) = new_in(works, case, change)
    finding = found.finding
    assert (finding.severity, key_text(finding.key)) == (change.severity, change.key)
    for words in change.words:
        assert words in str(finding)
    assert found.source == change.source
    assert without_line([found])[0] in without_line(FINDERS[change.rule](case))


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change.name)
def test_what_is_right_gives_none(change: Change) -> None:
    assert new_in(*works_of(change.right), change) == []


def test_every_rule_has_its_changes() -> None:
    assert {change.rule for change in CHANGES} == set(FINDERS)


def test_the_worst_come_first() -> None:
    changes = {
        "job.ground_water": 0.4,
        "system.materials.slurry.negative_pressure": "1 kPa",
        "system.materials.collar.price": None,
    }
    severities = [remark.finding.severity for remark in works_of(changes)[0].remarks]
    assert severities == ["error", "warning", "warning", "note"]


def test_a_finding_has_its_line_in_the_file_that_it_is_of() -> None:
    changes = {"system.materials.slurry.bond": "0.4 MPa", "job.heavy_coping": None,
               "system.layers.3.where.zones": ["wall top"]}  # fmt: skip
    works, _ = works_of(changes)
    found: list[Finding] = [remark.finding for remark in works.remarks]
    bond = next(item for item in found if "bond" in key_text(item.key))
    assert bond.file.endswith("system.yaml")
    assert bond.line is not None
