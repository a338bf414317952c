"""YAML files as plain values with lines."""

from __future__ import annotations

import math
import os
from contextlib import suppress
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.design.document import parse_document, read_document
from poolgeo.design.tree import scalar
from poolgeo.errors import PoolFileError

TEXT = b"""\
# a comment
name: x

outline:
  shape: polygon
  points:
    - [0, 0]
    - [1, 2]
    - - 3
      - 4
cove: {radius: 5,
  also_at: [risers,
    bench faces]}
"""

VALUES = {
    "name": "x",
    "outline": {"shape": "polygon", "points": ((0, 0), (1, 2), (3, 4))},
    "cove": {"radius": 5, "also_at": ("risers", "bench faces")},
}


@pytest.fixture(params=["libyaml", "Python"], autouse=True)
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Run each test with both of the parsers that PyYAML may have."""
    if request.param == "Python":
        monkeypatch.delattr(yaml, "CSafeLoader")


def test_mappings_are_dicts_and_lists_are_tuples() -> None:
    assert parse_document(TEXT).value == VALUES


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ((), 2),
        (("name",), 2),
        (("outline",), 4),
        (("outline", "shape"), 5),
        (("outline", "points"), 6),
        (("outline", "points", 0), 7),
        (("outline", "points", 1, 1), 8),
        (("outline", "points", 2), 9),
        (("outline", "points", 2, 1), 10),
        (("cove", "radius"), 11),
        (("cove", "also_at"), 12),
        (("cove", "also_at", 1), 13),
    ],
)
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_every_key_and_item_has_its_line(key: tuple[str | int, ...], line: int, end: bytes) -> None:
    assert parse_document(TEXT.replace(b"\n", end)).lines[key] == line


def test_a_byte_order_mark_is_no_part_of_the_text() -> None:
    assert parse_document(b"\xef\xbb\xbfname: x\n").value == {"name": "x"}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("10", 10),
        ("010", 10),
        ("-3", -3),
        ("1.5", 1.5),
        (".5", 0.5),
        ("1e3", 1000.0),
        ("-.inf", -math.inf),
        ("true", True),
        ("False", False),
        ("null", None),
        ("~", None),
        ("", None),
        ("1:20", "1:20"),
        ("yes", "yes"),
        ("off", "off"),
        ("0x10", "0x10"),
        ("1_000", "1_000"),
        ("2024-05-01", "2024-05-01"),
        ("<<", "<<"),
        ("3' 6\"", "3' 6\""),
        ("300 mm", "300 mm"),
        ("--1", "--1"),
        ("1e", "1e"),
    ],
)
def test_a_plain_scalar_is_what_yaml_1_2_says(text: str, value: object) -> None:
    assert scalar(text) == value
    assert type(scalar(text)) is type(value)
    assert parse_document(f"a: {text}\n".encode()).value == {"a": value}


def test_nan_is_a_number() -> None:
    value = scalar(".nan")
    assert isinstance(value, float)
    assert math.isnan(value)


@pytest.mark.parametrize("text", ["'10'", '"true"', "'~'", "|-\n  10"])
def test_what_stands_in_quotes_is_text(text: str) -> None:
    value = parse_document(f"a: {text}\n".encode()).value
    assert isinstance(value, dict)
    assert isinstance(value["a"], str)


def test_everything_that_could_be_read_is_kept_beside_what_was_refused() -> None:
    document = parse_document(b"a: &x 1\nb: *x\n? [k]\n: {c: [1, {d: 2}]}\ne: 5\na: 6\n7: {f: 1}\n")
    assert document.value == {"a": 1, "b": None, "e": 5}
    assert document.unread == {("b",)}
    assert sorted(document.lines) == [(), ("a",), ("b",), ("e",)]
    found = [(finding.line, finding.key, finding.rule) for finding in document.findings]
    assert found == [
        (1, ("a",), "must not carry an anchor"),
        (2, ("b",), "must not be an alias"),
        (3, (), "the file must have keys that are text"),
        (6, ("a",), "must stand once"),
        (7, (), "the file must have keys that are text"),
    ]


def test_findings_before_a_syntax_error_are_kept() -> None:
    with pytest.raises(PoolFileError) as caught:
        parse_document(b"a: 1\na: 2\nb: c: d\n")
    assert [finding.line for finding in caught.value.findings] == [2, 3]


def test_the_depth_of_thirty_two_is_allowed() -> None:
    assert parse_document(b"[" * 32 + b"]" * 32).findings == ()
    with pytest.raises(PoolFileError, match="must not be nested deeper than 32 levels"):
        parse_document(b"[" * 33 + b"]" * 33)


@pytest.mark.parametrize("name", ["a\0b", "x" * 10_000])
def test_a_name_that_no_file_can_have_is_refused(name: str) -> None:
    with pytest.raises(PoolFileError, match="the file must be readable"):
        read_document(name)


def test_an_endless_file_is_refused() -> None:
    if not Path("/dev/zero").exists():
        pytest.skip("no endless file on this system")
    with pytest.raises(PoolFileError, match="must not be larger than 1 MB"):
        read_document("/dev/zero")


def test_a_file_without_permission_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "pool.yaml"
    path.write_bytes(TEXT)
    path.chmod(0)
    if os.access(path, os.R_OK):
        pytest.skip("this user may read everything")
    with pytest.raises(PoolFileError, match="the file must be readable"):
        read_document(path)


@pytest.mark.parametrize("name", ["pool.yaml", "swimming pool \u00e9.yml"])
def test_a_file_is_read_by_its_path(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(TEXT)
    assert read_document(tmp_path / name).value == VALUES
    assert read_document(str(tmp_path / name)).value == VALUES


# Without digits: PyYAML writes YAML 1.1, where the text 1e3 needs no quotes.
WORDS = st.text(st.characters(exclude_categories=("Cs", "Nd")))
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.floats(-1e9, 1e9) | WORDS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORDS, inner, max_size=4),
    max_leaves=12,
)


def frozen(value: object) -> object:
    """Return lists as tuples, all the way down."""
    if isinstance(value, dict):
        return {key: frozen(entry) for key, entry in value.items()}
    return tuple(map(frozen, value)) if isinstance(value, list) else value


@given(PLAIN)
def test_what_a_yaml_writer_writes_is_read_back(value: object) -> None:
    written = yaml.safe_dump({"a": value}).encode()
    assert parse_document(written).value == {"a": frozen(value)}


@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    with suppress(PoolFileError):
        assert all(line >= 1 for line in parse_document(data).lines.values())


YAML_BITS = st.text(alphabet="abc:-?[]{},&*!|>'\"%@`#~ \n\t<=.0123", max_size=60)


@given(YAML_BITS)
def test_any_text_in_yaml_signs_is_read_or_refused(text: str) -> None:
    with suppress(PoolFileError):
        assert all(line >= 1 for line in parse_document(text.encode()).lines.values())
