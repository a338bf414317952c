"""The group: help, version, exit codes, and one voice for whatever goes wrong."""

from __future__ import annotations

import errno
import os
import re
import subprocess
import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest
from click.testing import Result

from poolgeo.errors import Finding, MissingSystemLibraryError, PoolFileError

PROGRAM = [sys.executable, "-m", "poolgeo_cli"]


def fail_with(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    """Let loading any pool file raise ``error``."""

    def load(path: Path) -> None:
        _ = path
        raise error

    monkeypatch.setattr("poolgeo.design.load.load", load)


def test_help_lists_the_commands_in_the_order_of_the_work(
    poolgeo_run: Callable[..., Result],
) -> None:
    text = poolgeo_run("--help").stdout.partition("Commands:")[2]
    assert re.findall(r"^  (\w+)", text, re.MULTILINE) == [
        "new", "check", "takeoff", "drawing", "joints", "model", "picture", "view", "schema",
    ]  # fmt: skip


def test_version_is_the_installed_one(poolgeo_run: Callable[..., Result]) -> None:
    assert poolgeo_run("--version").stdout == f"poolgeo, version {version('poolgeo')}\n"


def test_an_unknown_command_is_a_usage_error(poolgeo_run: Callable[..., Result]) -> None:
    result = poolgeo_run("chek")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "No such command 'chek'" in result.stderr


@pytest.mark.parametrize("name", ["check", "takeoff", "drawing", "model", "picture", "view"])
def test_a_file_that_is_not_there_is_bad_input(
    name: str, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    output = {"model": "a.glb", "drawing": "a.dxf", "picture": "a.png"}.get(name)
    more = ("-o", tmp_path / output) if output else ()
    result = poolgeo_run(name, "nowhere.yaml", *more)
    assert (result.exit_code, result.stdout) == (1, "")
    assert "nowhere.yaml" in result.stderr


def test_findings_stand_on_stderr_one_a_line_with_their_count(
    box: Path, monkeypatch: pytest.MonkeyPatch, poolgeo_run: Callable[..., Result]
) -> None:
    findings = [
        Finding(("steps", 0, "going"), "must be above 0", "0 mm", file="a.yaml", line=7),
        Finding(("cove",), "must fit", file="a.yaml", line=9),
        Finding(("spa",), "touches the outline", severity="warning"),
    ]
    fail_with(monkeypatch, PoolFileError(findings))
    result = poolgeo_run("check", box)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.splitlines() == [
        "a.yaml:7: error: 'steps[0].going' must be above 0 (got 0 mm)",
        "a.yaml:9: error: 'cove' must fit",
        "warning: 'spa' touches the outline",
        "2 errors, 1 warning",
    ]


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (MissingSystemLibraryError("no GL here"), "error: no GL here\n"),
        (OSError(errno.ENOSPC, "No space left", "a.dxf"), "error: a.dxf: No space left\n"),
        (OSError(errno.EIO, "Input/output error"), "error: Input/output error\n"),
    ],
)
def test_other_errors_are_one_line_and_exit_code_1(
    error: Exception,
    said: str,
    box: Path,
    monkeypatch: pytest.MonkeyPatch,
    poolgeo_run: Callable[..., Result],
) -> None:
    fail_with(monkeypatch, error)
    result = poolgeo_run("check", box)
    assert (result.exit_code, result.stdout, result.stderr) == (1, "", said)


def test_a_bug_is_not_hidden(
    box: Path, monkeypatch: pytest.MonkeyPatch, poolgeo_run: Callable[..., Result]
) -> None:
    fail_with(monkeypatch, ZeroDivisionError("a bug"))
    with pytest.raises(ZeroDivisionError, match="a bug"):
        poolgeo_run("check", box)


def test_an_interrupt_ends_quietly(
    box: Path, monkeypatch: pytest.MonkeyPatch, poolgeo_run: Callable[..., Result]
) -> None:
    fail_with(monkeypatch, KeyboardInterrupt())
    result = poolgeo_run("check", box)
    assert (result.exit_code, result.stderr.strip()) == (1, "Aborted!")


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_a_reader_that_goes_away_is_no_fault() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [*PROGRAM, "schema"], stdout=writer, stderr=subprocess.PIPE, text=True, check=False
    )
    os.close(writer)
    assert (done.returncode, done.stderr) == (1, "")
