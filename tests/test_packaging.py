"""What is installed is what stands in the folders, under two names only."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture(scope="module")
def project(root: Path) -> dict[str, Any]:
    """The contents of pyproject.toml."""
    return tomllib.loads((root / "pyproject.toml").read_text())


@pytest.fixture(scope="module")
def wheel(root: Path, tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The names in a wheel, built from a copy so that the work tree stays clean."""
    copy = tmp_path_factory.mktemp("source")
    leftovers = shutil.ignore_patterns("__pycache__")
    for name in ("poolgeo", "cli"):
        shutil.copytree(root / name, copy / name, ignore=leftovers)
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(root / name, copy)
    # Not isolated, no dependencies: setuptools is in the test group, so nothing is fetched.
    command = [sys.executable, "-m", "pip", "wheel", "--no-build-isolation", "--no-deps"]
    done = subprocess.run(
        [*command, "--disable-pip-version-check", "--wheel-dir", str(copy / "dist"), str(copy)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    (path,) = (copy / "dist").glob("*.whl")
    return zipfile.ZipFile(path).namelist()


def test_the_package_list_equals_the_folders(root: Path, project: dict[str, Any]) -> None:
    folders = {
        ".".join(path.parent.relative_to(root).parts)
        for top in ("poolgeo", "cli")
        for path in (root / top).rglob("*.py")
    }
    listed = project["tool"]["setuptools"]["packages"]
    assert len(listed) == len(set(listed))
    assert set(listed) == {"poolgeo_cli" if name == "cli" else name for name in folders}


def test_every_folder_of_code_has_an_init(root: Path) -> None:
    for top in ("poolgeo", "cli"):
        for path in (root / top).rglob("*.py"):
            assert (path.parent / "__init__.py").is_file(), path


def test_the_wheel_holds_poolgeo_and_poolgeo_cli_and_nothing_else(wheel: list[str]) -> None:
    tops = {name.partition("/")[0] for name in wheel}
    assert {name for name in tops if not name.endswith(".dist-info")} == {"poolgeo", "poolgeo_cli"}


def test_the_wheel_holds_every_module(wheel: list[str], root: Path) -> None:
    there = {
        str(path.relative_to(root)).replace("cli/", "poolgeo_cli/", 1)
        if top == "cli"
        else str(path.relative_to(root))
        for top in ("poolgeo", "cli")
        for path in (root / top).rglob("*.py")
    }
    assert there <= set(wheel)


def test_the_wheel_says_that_it_is_typed(wheel: list[str]) -> None:
    assert "poolgeo/py.typed" in wheel


def test_the_wheel_carries_the_licence(wheel: list[str]) -> None:
    assert any(name.endswith("licenses/LICENSE") for name in wheel)


def test_every_dependency_has_a_lower_bound(project: dict[str, Any]) -> None:
    for requirement in project["project"]["dependencies"]:
        assert ">=" in requirement, requirement
