"""The file one starts from, and the JSON Schema for the editor."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from poolgeo.design.document import parse_document
from poolgeo.design.lengths import parse_length
from poolgeo.design.load import design_from, load
from poolgeo.design.schema import Part
from poolgeo.design.starter import starter_text
from poolgeo.errors import PoolFileError
from poolgeo.schemas import json_schema

from .malformed import CASES
from .malformed_making import Malformed
from .pools import FLOORS, OUTLINES, everything
from .test_explain import parts

CHECKER = jsonschema.Draft202012Validator(json_schema())
SOUND = [case for case in CASES if case.stage != "file"]


def as_json(data: bytes) -> Any:
    """Return a pool file as an editor's checker sees it: with lists."""
    return json.loads(json.dumps(parse_document(data).value))


def test_the_starter_is_a_pool_with_steps_bench_and_cove(tmp_path: Path) -> None:
    path = tmp_path / "pool.yaml"
    path.write_text(starter_text())
    pool = load(path).pool
    assert len(pool.steps) == len(pool.bench) == 1
    assert pool.cove is not None
    assert pool.outline.model_dump()["length"] == 8.0


def test_the_starter_is_short_and_commented() -> None:
    lines = starter_text().splitlines()
    assert len(lines) < 60
    assert max(map(len, lines)) <= 100
    assert sum("#" in line for line in lines) >= 15


def test_the_starter_reads_the_same_by_any_yaml_reader() -> None:
    common = json.loads(json.dumps(yaml.safe_load(starter_text())))
    assert as_json(starter_text().encode()) == common


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(json_schema())
    assert json_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(json_schema())) == json_schema()


@pytest.mark.parametrize(
    "values",
    [
        everything(),
        as_json(starter_text().encode()),
        *(everything() | {"outline": outline} for outline in OUTLINES),
        *(everything() | {"floor": floor} for floor in FLOORS),
        everything() | {"cove": None, "spas": []},
    ],
    ids=lambda values: f"{values['outline']['shape']} {values['floor']['shape']}",
)
def test_what_loads_passes_the_schema(values: dict[str, Any]) -> None:
    assert design_from(values).pool.name == values["name"]
    assert [error.message for error in CHECKER.iter_errors(values)] == []


@pytest.mark.parametrize("case", SOUND, ids=lambda case: case.id)
def test_the_files_that_only_the_geometry_refuses_pass_the_schema(case: Malformed) -> None:
    assert isinstance(case.content, bytes)
    assert [error.message for error in CHECKER.iter_errors(as_json(case.content))] == []


@pytest.mark.parametrize(
    ("radius", "good"),
    [
        (75, True),
        ("75 mm", True),
        ('3 1/2"', True),
        ("0' 3\"", True),
        ("\u2032", False),
        ("75", False),
        ("75 furlongs", False),
        (0, False),
        (-75, False),
        (True, False),
        (None, False),
        ([75], False),
    ],
)
def test_a_length_is_a_number_or_text_with_its_unit(radius: object, good: bool) -> None:
    values = everything() | {"cove": {"radius": radius}}
    assert CHECKER.is_valid(values) is good
    try:
        design_from(values)
    except PoolFileError:
        assert not good
    else:
        assert good


@pytest.mark.parametrize(
    "change",
    [
        {"units": "cm"},
        {"colour": "blue"},
        {"outline": {"shape": "oval"}},
        {"outline": {"shape": "circle"}},
        {"outline": {"shape": "spline", "points": [[0, 0], [1], [1, 1]]}},
        {"floor": {"shape": "plane", "depth": 1, "at": [0, 0], "fall": "steep"}},
        {"steps": [{"shape": "end", "direction": 0, "going": 300}]},
        {"steps": [{"shape": "end", "direction": 0, "going": 300, "risers": 2.5}]},
        {"bench": {"width": 400, "depth": 400}},
        {"name": ""},
    ],
    ids=str,
)
def test_an_editor_sees_what_loading_would_refuse(change: dict[str, Any]) -> None:
    assert not CHECKER.is_valid(everything() | change)
    with pytest.raises(PoolFileError):
        design_from(everything() | change)


def properties() -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Yield part, key and schema of every property."""
    schema = json_schema()
    for part, content in {"Pool": schema, **schema["$defs"]}.items():
        for key, value in content.get("properties", {}).items():
            yield part, key, value


@pytest.mark.parametrize(("part", "key", "value"), list(properties()))
def test_an_editor_can_show_what_each_key_means(part: str, key: str, value: dict[str, Any]) -> None:
    assert value.get("description") or value["title"] == "Shape", f"{part}.{key}"
    assert "gt" not in value
    assert "ge" not in value


def test_the_defaults_in_the_schema_are_those_of_a_design() -> None:
    classes = {part.__name__: part for part in parts(Part)}
    seen = 0
    for part, key, value in properties():
        default = classes[part].model_fields[key].default
        if "default" not in value:
            assert (
                default is None
                or isinstance(default, Part)
                or "/Written" in json.dumps(value)  # a quantity that stands with its unit
                or classes[part].model_fields[key].is_required()
            )
        elif (
            isinstance(value["default"], str)
            and not isinstance(default, str)
            and "enum" not in value
        ):
            assert parse_length(value["default"], "m") == default
            seen += 1
        else:
            assert value["default"] == (list(default) if isinstance(default, tuple) else default)
    assert seen >= 6
