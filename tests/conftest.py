"""Fixtures that several folders of tests share."""

from __future__ import annotations

from collections.abc import Callable
from importlib.metadata import entry_points
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, Phase, settings

ROOT = Path(__file__).resolve().parent.parent

settings.register_profile(
    "poolgeo",
    deadline=None,
    derandomize=True,  # the same examples in each run of the same modules
    phases=[Phase.explicit, Phase.generate],  # to shrink a pool takes from minutes to hours
    suppress_health_check=[
        HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much
    ],
)  # fmt: skip
settings.register_profile(
    "shrink", settings.get_profile("poolgeo"), phases=[*Phase]
)  # pytest --hypothesis-profile shrink
settings.load_profile("poolgeo")

BOX = """\
name: Box
units: m
freeboard: 0.15
outline: {shape: rectangle, length: 8, width: 4}
floor: {shape: level, depth: 1.5}
shell: {wall: 0.25, floor: 0.2}
"""
"""A pool whose quantities can be worked out by head."""


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder that holds pyproject.toml."""
    return ROOT


@pytest.fixture(scope="session")
def command() -> click.Group:
    """The command as it is installed, found by its entry point."""
    (script,) = entry_points(group="console_scripts", name="poolgeo")
    loaded = script.load()
    assert isinstance(loaded, click.Group)
    return loaded


@pytest.fixture
def poolgeo_run(command: click.Group) -> Callable[..., Result]:
    """Run ``poolgeo`` with the given arguments; an exception that is no message goes through."""

    def run(*arguments: str | Path) -> Result:
        return CliRunner().invoke(command, [*map(str, arguments)], catch_exceptions=False)

    return run


@pytest.fixture
def box(tmp_path: Path) -> Path:
    """The file of a rectangular pool, 8 m by 4 m, 1.5 m deep."""
    path = tmp_path / "box.yaml"
    path.write_text(BOX)
    return path
