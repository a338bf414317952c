"""A broken system file is answered in findings, each with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from poolgeo.errors import PoolFileError, key_text
from poolgeo.system.load import load_system

from .broken import BROKEN, SOUND, Broken


def write(folder: Path, text: str) -> str:
    """Write a system file; return its name."""
    path = folder / "system.yaml"
    path.write_text(text)
    return str(path)


def test_the_sound_file_is_sound(tmp_path: Path) -> None:
    assert load_system(write(tmp_path, SOUND)).system.name == "Small system"


@pytest.mark.parametrize("case", BROKEN, ids=lambda case: case.name)
def test_a_broken_file_is_answered_in_findings(case: Broken, tmp_path: Path) -> None:
    assert SOUND.count(case.old) >= 1
    with pytest.raises(PoolFileError) as caught:
        load_system(write(tmp_path, SOUND.replace(case.old, case.new, 1)))
    found = caught.value.findings
    assert case.key in [key_text(item.key) for item in found]
    finding = next(item for item in found if key_text(item.key) == case.key)
    for word in case.words:
        assert word in str(finding)
    assert finding.file.endswith("system.yaml")
    assert finding.line is not None


def test_all_findings_come_at_once(tmp_path: Path) -> None:
    text = SOUND.replace("coats: 2", "coats: 0").replace("density: 1.1 kg/L", "density: 1.1")
    text = text.replace("role: corner piece", "role: corner")
    with pytest.raises(PoolFileError) as caught:
        load_system(write(tmp_path, text))
    assert [key_text(item.key) for item in caught.value.findings] == [
        "materials.primer.density", "materials.corner.role", "layers[1].coats",
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["", "- name\n", "just words\n", "12\n"])
def test_what_is_no_mapping_names_the_way_out(text: str, tmp_path: Path) -> None:
    with pytest.raises(PoolFileError, match=r"(of keys|be empty) .* new --copy NAME"):
        load_system(write(tmp_path, text))
