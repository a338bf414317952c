"""``poolgeo new`` and ``poolgeo schema``: what one starts from."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest
import yaml
from click.testing import Result


def test_the_new_file_builds_without_a_warning(
    tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "my.yaml"
    made = poolgeo_run("new", "-o", path)
    assert (made.exit_code, made.stdout, made.stderr) == (0, "", f"wrote {path}\n")
    checked = poolgeo_run("check", path)
    assert (checked.exit_code, checked.stderr) == (0, "")


def test_the_new_file_is_commented(tmp_path: Path, poolgeo_run: Callable[..., Result]) -> None:
    poolgeo_run("new", "-o", tmp_path / "my.yaml")
    assert "#" in (tmp_path / "my.yaml").read_text()


def test_a_file_that_is_there_stays_as_it_is(
    tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    path = tmp_path / "my.yaml"
    path.write_text("mine")
    result = poolgeo_run("new", "-o", path)
    assert (result.exit_code, path.read_text()) == (1, "mine")
    assert result.stderr == (
        f"error: '{path}' is there already; name another file or give --force\n"
    )


def test_force_overwrites_it(tmp_path: Path, poolgeo_run: Callable[..., Result]) -> None:
    path = tmp_path / "my.yaml"
    path.write_text("mine")
    assert poolgeo_run("new", "-o", path, "--force").exit_code == 0
    assert path.read_text() != "mine"


@pytest.mark.parametrize("name", ["my.txt", "my"])
def test_a_pool_file_is_called_yaml(
    name: str, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    result = poolgeo_run("new", "-o", tmp_path / name)
    assert result.exit_code == 2
    assert "must end in .yaml or .yml" in result.stderr


def test_the_schema_accepts_the_new_file_and_refuses_an_unknown_key(
    tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    poolgeo_run("new", "-o", tmp_path / "my.yaml")
    pool = yaml.safe_load((tmp_path / "my.yaml").read_text())
    schema = json.loads(poolgeo_run("schema").stdout)
    jsonschema.validate(pool, schema)
    with pytest.raises(jsonschema.ValidationError, match="depht"):
        jsonschema.validate({**pool, "depht": 1}, schema)


def test_the_schema_goes_into_a_file(tmp_path: Path, poolgeo_run: Callable[..., Result]) -> None:
    path = tmp_path / "pool.json"
    result = poolgeo_run("schema", "-o", path)
    assert (result.exit_code, result.stdout) == (0, "")
    assert path.read_text() == poolgeo_run("schema").stdout
