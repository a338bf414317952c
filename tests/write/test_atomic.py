"""Files are there whole or not at all."""

from __future__ import annotations

import errno
import re
from pathlib import Path

import pytest

from poolgeo.errors import OutputError
from poolgeo.write.atomic import whole_file


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def break_off(path: Path) -> None:
    """Fail when half of a file is written."""
    path.write_text("half of the n")
    msg = "broken off"
    raise RuntimeError(msg)


def test_a_file_takes_its_name_when_it_is_complete(tmp_path: Path) -> None:
    target = tmp_path / "pool.dxf"
    with whole_file(target) as beside:
        beside.write_text("complete")
        assert not target.exists()
    assert target.read_text() == "complete"
    assert names(tmp_path) == ["pool.dxf"]


def test_the_temporary_file_lies_beside_and_has_the_same_suffix(tmp_path: Path) -> None:
    with whole_file(tmp_path / "pool.glb") as beside:
        assert beside.parent == tmp_path
        assert beside.suffix == ".glb"
        beside.touch()


def test_a_failing_block_leaves_the_old_file_and_nothing_else(tmp_path: Path) -> None:
    target = tmp_path / "pool.dxf"
    target.write_text("old")
    with pytest.raises(RuntimeError, match="broken off"), whole_file(target) as beside:
        break_off(beside)
    assert target.read_text() == "old"
    assert names(tmp_path) == ["pool.dxf"]


def test_a_link_is_written_through(tmp_path: Path) -> None:
    target, link = tmp_path / "pool.dxf", tmp_path / "link.dxf"
    target.write_text("old")
    link.symlink_to(target)
    with whole_file(link) as beside:
        beside.write_text("new")
    assert link.is_symlink()
    assert target.read_text() == "new"


def test_a_missing_folder_is_refused_before_the_work(tmp_path: Path) -> None:
    target = tmp_path / "none" / "pool.dxf"
    words = (
        f"'{target}' cannot be written: the folder it goes into must exist"
        f" (got no folder '{tmp_path / 'none'}'); make the folder or name another file"
    )
    with pytest.raises(OutputError, match=f"^{re.escape(words)}$"), whole_file(target):
        pytest.fail("the work was done for nothing")


def test_a_folder_of_that_name_is_refused_before_the_work(tmp_path: Path) -> None:
    words = (
        f"'{tmp_path}' cannot be written: must be a file and not a folder"
        " (got a folder); name a file in that folder"
    )
    with pytest.raises(OutputError, match=f"^{re.escape(words)}$"), whole_file(tmp_path):
        pytest.fail("the work was done for nothing")


def test_a_file_in_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with (
        pytest.raises(OutputError, match=r"its folder must be a folder .*; name another file"),
        whole_file(tmp_path / "file" / "pool.dxf") as beside,
    ):
        beside.touch()


def test_a_name_that_is_too_long_is_refused(tmp_path: Path) -> None:
    with (
        pytest.raises(OutputError, match=r"its name must be shorter .*; name another file"),
        whole_file(tmp_path / f"{'p' * 300}.dxf") as beside,
    ):
        beside.touch()
    assert names(tmp_path) == []


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.EACCES, "its folder must be writable for you"),
        (errno.EROFS, "must not be on a read-only disk"),
        (errno.ENOSPC, "the disk must have room for it"),
        (errno.EIO, "must be writable"),
    ],
)
def test_what_the_system_refuses_is_said_in_our_words(
    tmp_path: Path, number: int, words: str
) -> None:
    with pytest.raises(OutputError, match=words) as caught, whole_file(tmp_path / "p.ply"):
        raise OSError(number, "as the system says it")
    assert "(got as the system says it)" in str(caught.value)
