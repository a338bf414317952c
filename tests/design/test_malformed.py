"""Every malformed pool file is refused with the right words, and with nothing but words."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from poolgeo.design.load import load
from poolgeo.errors import PoolFileError

from .malformed import CASES
from .malformed_making import Malformed

FILE_CASES = [case for case in CASES if case.stage == "file"]
SOUND_CASES = [case for case in CASES if case.stage != "file"]
LIBRARY_WORDS = ("pydantic", "validation error", "Input should", "Value error")


def refusal(case: Malformed, folder: Path) -> PoolFileError:
    """Return the error that a case of the stage ``file`` is refused with."""
    path = case.write(folder)
    with pytest.raises(PoolFileError) as caught:
        load(path)
    return caught.value


def test_every_case_has_its_own_name() -> None:
    names = [case.id for case in CASES]
    assert sorted(set(names)) == sorted(names)


@pytest.mark.parametrize("case", FILE_CASES, ids=lambda case: case.id)
def test_a_malformed_file_is_refused_in_words(case: Malformed, tmp_path: Path) -> None:
    error = refusal(case, tmp_path)
    for word in case.words:
        assert word in str(error)
    assert case.line in {finding.line for finding in error.findings}


@pytest.mark.parametrize("case", FILE_CASES, ids=lambda case: case.id)
def test_a_refusal_is_short_printable_and_in_our_own_words(case: Malformed, tmp_path: Path) -> None:
    error = refusal(case, tmp_path)
    for finding in error.findings:
        text = str(finding).removeprefix(finding.file)
        assert len(text) < 400
        assert text.isprintable()
        assert finding.file
        assert not any(word in text for word in LIBRARY_WORDS)


@pytest.mark.parametrize("case", FILE_CASES, ids=lambda case: case.id)
def test_the_parser_without_libyaml_refuses_the_same(
    case: Malformed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delattr(yaml, "CSafeLoader")
    error = refusal(case, tmp_path)
    for word in case.words:
        assert word in str(error)


@pytest.mark.parametrize("case", SOUND_CASES, ids=lambda case: case.id)
def test_a_pool_that_cannot_be_built_is_still_a_sound_file(case: Malformed, tmp_path: Path) -> None:
    assert load(case.write(tmp_path)).pool.name == "Test pool"
