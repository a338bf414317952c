"""From a pool file to a design, or to everything that is wrong with it."""

from __future__ import annotations

import copy
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.design.load import Design, design_from, load
from poolgeo.design.origin import Origin
from poolgeo.errors import Finding, Key, PoolFileError

from .pools import FLOORS, OUTLINES, everything


def refusal(mapping: object) -> PoolFileError:
    """Return the error that values are refused with."""
    with pytest.raises(PoolFileError) as caught:
        design_from(mapping)  # type: ignore[arg-type]
    return caught.value


def findings(mapping: object) -> list[str]:
    """Return the findings that values are refused with, as text."""
    return str(refusal(mapping)).splitlines()


def test_a_design_is_in_metres() -> None:
    pool = design_from(everything()).pool
    assert pool.outline.model_dump() == {
        "shape": "polygon",
        "points": ((0, 0), (10, 0), (10, 5), (0, 5)),
        "corner_radius": (0.5, 0, 0, 0.5),
    }
    assert (pool.tolerance, pool.freeboard, pool.shell.wall) == (0.002, 0.1524, 0.2)
    assert (pool.bench[0].start, pool.bench[0].end) == ((10, 0.5), 13)


@pytest.mark.parametrize(("units", "metre"), [("mm", 1000), ("m", 1), ("ft", 1 / 0.3048)])
def test_the_units_of_the_file_hold_for_every_bare_number(units: str, metre: float) -> None:
    values = {
        "name": "x",
        "units": units,
        "outline": {"shape": "circle", "radius": 3 * metre, "centre": [metre, 0]},
        "floor": {"shape": "plane", "depth": metre, "at": [0, 0], "fall": 0.05},
        "bench": [{"width": "400 mm", "depth": "500 mm", "start": metre, "end": 2 * metre}],
    }
    pool = design_from(values).pool
    assert pool.model_dump()["outline"]["radius"] == pytest.approx(3, rel=1e-15)
    assert pool.model_dump()["floor"]["depth"] == pytest.approx(1, rel=1e-15)
    assert pool.model_dump()["floor"]["fall"] == 0.05
    assert pool.bench[0].width == 0.4
    assert pool.bench[0].end == pytest.approx(2, rel=1e-15)


@pytest.mark.parametrize("outline", OUTLINES, ids=lambda outline: outline["shape"])
@pytest.mark.parametrize("floor", FLOORS, ids=lambda floor: floor["shape"])
def test_every_shape_loads(outline: dict[str, Any], floor: dict[str, Any]) -> None:
    design = design_from({"name": "x", "units": "mm", "outline": outline, "floor": floor})
    assert design.pool.outline.shape == outline["shape"]
    assert design.pool.floor.shape == floor["shape"]


def test_a_file_and_its_values_give_the_same_pool(tmp_path: Path) -> None:
    path = tmp_path / "pool.yaml"
    path.write_text(yaml.safe_dump(everything()))
    design = load(path)
    assert design.pool == design_from(everything()).pool
    assert design.origin.file == str(path)
    assert load(str(path)) == design


def test_values_are_not_changed_by_reading_them() -> None:
    values = everything()
    design_from(values)
    assert values == everything()


@pytest.mark.parametrize(
    ("key", "line"),
    [
        (("steps", 0, "going"), 7),
        (("steps", 0, "top_tread"), 6),
        (("steps", 4, "going"), 5),
        (("cove", "radius"), 1),
        ((), 1),
    ],
)
def test_a_finding_is_placed_at_its_key_or_the_nearest_around_it(key: Key, line: int) -> None:
    lines = {(): 1, ("steps",): 5, ("steps", 0): 6, ("steps", 0, "going"): 7}
    placed = Origin("a.yaml", lines).place(Finding(key, "must be"))
    assert placed == Finding(key, "must be", file="a.yaml", line=line)


def test_a_finding_without_a_file_has_no_line() -> None:
    finding = Finding(("cove",), "must be")
    assert Origin().place(finding) == finding
    assert Design(design_from(everything()).pool).origin.place(finding) == finding


def test_all_findings_come_at_once_in_the_order_of_the_lines(tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(
        "name: 7\nunits: mm\ncove: {radius: -1}\ncove: {radius: 2}\noutline: {shape: circle}\n"
        "floor:\n  shape: level\n  depth: deep\n  slope: 1\nspas: *x\n"
    )
    with pytest.raises(PoolFileError) as caught:
        load(path)
    found = caught.value.findings
    assert [finding.line for finding in found] == [1, 3, 4, 5, 8, 9, 10]
    assert [finding.key for finding in found] == [
        ("name",),
        ("cove", "radius"),
        ("cove",),
        ("outline", "radius"),
        ("floor", "depth"),
        ("floor", "slope"),
        ("spas",),
    ]
    assert {finding.file for finding in found} == {str(path)}


def test_a_file_whose_only_fault_is_an_anchor_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "pool.yaml"
    path.write_text(yaml.safe_dump(everything()).replace("name: Everything", "name: &n Everything"))
    with pytest.raises(PoolFileError, match="'name' must not carry an anchor"):
        load(path)


def test_sizes_are_not_judged_while_the_units_are_unknown() -> None:
    values = everything() | {"units": "cm"}
    assert findings(values) == [
        "error: 'units' must be one of mm, m, ft, in (got 'cm'); did you mean 'm'?"
    ]


def test_a_message_of_python_values_can_name_them() -> None:
    with pytest.raises(PoolFileError, match=r"^demo: error: 'name' must be given"):
        design_from({k: v for k, v in everything().items() if k != "name"}, file="demo")


@pytest.mark.parametrize(
    ("values", "text"),
    [
        ([], "error: the file must be a mapping of keys such as name, units, outline and floor"),
        (None, "(got nothing); start from 'poolgeo new'"),
        ("x", "(got 'x')"),
        (everything() | {3: 4}, "must have keys that are text (got 3)"),
        (everything() | {"cove": {None: 4}}, "'cove' must have keys that are text (got nothing)"),
        (everything() | {"cove": object()}, "(got a value of the type object)"),
        (everything() | {"name": "\ud800"}, r"(got '\ud800')"),
        (everything() | {"freeboard": 10**400}, "(got a number of more than 19 digits)"),
        (everything() | {"freeboard": 1j}, "'freeboard' must be a length"),
    ],
)
def test_python_values_that_no_file_could_hold_are_refused(values: object, text: str) -> None:
    assert text in str(refusal(values))


def test_values_that_hold_themselves_are_refused() -> None:
    values = everything()
    values["cove"] = values
    assert "must not be nested deeper than 32 levels" in str(refusal(values))


def test_a_file_name_that_cannot_be_printed_is_escaped(tmp_path: Path) -> None:
    with pytest.raises(PoolFileError, match="the file must exist") as caught:
        load(os.path.join(tmp_path, os.fsdecode(b"\xff.yaml")))  # noqa: PTH118 - odd on purpose
    assert str(caught.value).encode("utf-8")


def test_loading_needs_neither_numpy_nor_shapely_to_be_imported() -> None:
    code = "import sys, poolgeo.design.load; print({'numpy', 'shapely', 'pint'} & {*sys.modules})"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


# --- whatever is done to a sound file, it is read or refused ----------------------------------


def spots(value: object, key: Key = ()) -> list[Key]:
    """List the key paths of values, from the top down."""
    if isinstance(value, dict):
        inner = [spot for name, entry in value.items() for spot in spots(entry, (*key, name))]
    elif isinstance(value, list):
        inner = [spot for i, entry in enumerate(value) for spot in spots(entry, (*key, i))]
    else:
        inner = []
    return [key, *inner]


SPOTS = [spot for spot in spots(everything()) if spot]
TEXTS = st.sampled_from(
    ["", "3 m", "-3 mm", "1:20", "circle", "end", "level", "0/0 in", "x" * 500, "\ud800"]
)
NUMBERS = st.sampled_from([0, -1, 1e-12, 1e12, 10**400]) | st.integers() | st.floats()
WILD = st.recursive(
    st.none() | st.booleans() | NUMBERS | TEXTS | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=5,
)
DELETE = object()


def changed(changes: list[tuple[Key, Any]]) -> dict[str, Any]:
    """Return the sound values with some put in another's place, or deleted."""
    values = everything()
    for key, new in changes:
        holder: Any = values
        for step in key[:-1]:
            try:
                holder = holder[step]
            except (KeyError, IndexError, TypeError):
                break
        if isinstance(holder, dict):
            holder[str(key[-1])] = copy.deepcopy(new)
            if new is DELETE:
                del holder[str(key[-1])]
        elif isinstance(holder, list) and isinstance(key[-1], int):
            holder[key[-1] : key[-1] + 1] = [] if new is DELETE else [new]
    return values


CHANGES = st.lists(
    st.tuples(st.sampled_from(SPOTS), st.just(DELETE) | WILD), min_size=1, max_size=4
)


def refused(design: Any, *arguments: Any) -> list[str]:
    """Return the findings, none where the values were taken."""
    try:
        design(*arguments)
    except PoolFileError as error:
        return [str(finding) for finding in error.findings] or ["an error without a finding"]
    return []


@given(CHANGES)
def test_any_change_of_a_sound_file_is_read_or_refused_in_words(
    changes: list[tuple[Key, Any]],
) -> None:
    for text in refused(design_from, changed(changes)):
        assert text.startswith("error: ")
        assert text.isprintable()
        assert len(text) < 900
        assert "pydantic" not in text.lower()


@pytest.mark.parametrize("spot", SPOTS, ids=str)
def test_each_value_in_turn_can_be_spoilt(spot: Key) -> None:
    wrong: tuple[Any, ...] = ({"?": 1}, True, -1e12, 10**400, [[]])
    odd: tuple[Any, ...] = (DELETE, None, "?", {}, [])
    for new in wrong:
        assert refused(design_from, changed([(spot, new)]))
    for new in odd:
        assert "an error without a finding" not in refused(design_from, changed([(spot, new)]))


EDITS = st.lists(
    st.tuples(st.integers(0, 1200), st.integers(0, 20), st.binary(max_size=8)),
    min_size=1,
    max_size=5,
)


@given(EDITS)
def test_any_edit_of_the_bytes_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, edits: list[tuple[int, int, bytes]]
) -> None:
    data = yaml.safe_dump(everything(), width=60).encode()
    for at, length, new in edits:
        data = data[:at] + new + data[at + length :]
    path = tmp_path_factory.mktemp("edited") / "pool.yaml"
    path.write_bytes(data)
    assert "an error without a finding" not in refused(load, path)
