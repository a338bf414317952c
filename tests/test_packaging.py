"""What is installed is what stands in the folders, under two names only."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import packages_distributions
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


def imported_packages(folder: Path) -> set[str]:
    """Return the top-level names that the modules of a folder import, at any depth."""
    names: set[str] = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                names |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names.add(node.module.partition(".")[0])
    return names - set(sys.stdlib_module_names) - {"poolgeo", "poolgeo_cli", "cli", "tests"}


def normal(requirement: str) -> str:
    """Return the name in a requirement as the registry normalises it."""
    return re.split(r"[^\w.-]", requirement)[0].lower().replace("_", "-")


def test_what_the_library_imports_is_declared_and_the_other_way_round(
    root: Path, project: dict[str, Any]
) -> None:
    homes = packages_distributions()
    names = imported_packages(root / "poolgeo") | imported_packages(root / "cli")
    used = {normal(homes.get(name, [name])[0]) for name in names}
    bounds_alone = {"vtk"}  # pyvista's: named for its version only
    assert used | bounds_alone == {normal(text) for text in project["project"]["dependencies"]}


def test_every_dependency_has_a_lower_bound(project: dict[str, Any]) -> None:
    for requirement in project["project"]["dependencies"]:
        assert ">=" in requirement, requirement
