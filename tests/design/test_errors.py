"""Findings, key paths and the values that messages show."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.errors import (
    MOST_SHOWN,
    BadValueError,
    Finding,
    PoolFileError,
    PoolgeoError,
    key_text,
    shown,
)

WHOLE = Finding(("steps", 0, "going"), "must be above 0", "-3 mm", "write a size")


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ((), ""),
        (("cove",), "cove"),
        (("steps", 0, "going"), "steps[0].going"),
        (("outline", "points", 3, 1), "outline.points[3][1]"),
        (("cove", "my radius"), "cove['my radius']"),
        (("cove", ""), "cove['']"),
        (("a\nb",), r"['a\nb']"),
        (("x" * 100,), f"['{'x' * 60}...']"),
    ],
)
def test_a_key_path_is_written_as_a_reader_would(key: tuple[str | int, ...], text: str) -> None:
    assert key_text(key) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (None, "nothing"),
        (True, "true"),
        (5, "5"),
        (1e300, "1e+300"),
        (10**400, "a number of more than 19 digits"),
        ("left", "'left'"),
        ("3' 6\"", "'3' 6\"'"),
        ("it's", '"it\'s"'),
        ("a\x1b[31m\n", r"'a\x1b[31m\n'"),
        ("\ud800", r"'\ud800'"),
        ([1, 2], "[1, 2]"),
        ((1, "a", None), "[1, 'a', nothing]"),
        (list(range(9)), "[0, 1, 2, 3, 4, ...]"),
        (["x" * 50] * 9, "a list of 9"),
        ({"x": 1, "y": 2}, "a mapping of x, y"),
        ({}, "a mapping"),
        ({1: 2}, "a mapping"),
        (object(), "a value of the type object"),
    ],
)
def test_a_value_is_shown_short_and_printable(value: object, text: str) -> None:
    assert shown(value) == text


@given(st.recursive(st.text() | st.floats() | st.integers(), st.lists))
def test_no_value_makes_a_message_long_or_unprintable(value: object) -> None:
    assert len(shown(value)) < 700
    assert shown(value).isprintable()


@pytest.mark.parametrize(
    ("finding", "text"),
    [
        (
            WHOLE.at("my.yaml", 12),
            "my.yaml:12: error: 'steps[0].going' must be above 0 (got -3 mm); write a size",
        ),
        (WHOLE, "error: 'steps[0].going' must be above 0 (got -3 mm); write a size"),
        (replace(WHOLE, value="", remedy=""), "error: 'steps[0].going' must be above 0"),
        (Finding((), "the file must exist", file="a.yaml"), "a.yaml: error: the file must exist"),
        (Finding(("spa",), "is cut", severity="warning"), "warning: 'spa' is cut"),
    ],
)
def test_a_finding_says_where_what_rule_what_came_and_what_to_do(
    finding: Finding, text: str
) -> None:
    assert str(finding) == text


def test_an_error_holds_every_finding_and_its_text_one_on_each_line() -> None:
    error = PoolFileError([WHOLE, WHOLE.at("a.yaml", 3)])
    assert error.findings == (WHOLE, WHOLE.at("a.yaml", 3))
    assert str(error) == f"{WHOLE}\n{WHOLE.at('a.yaml', 3)}"


def test_a_flood_of_findings_is_counted_in_the_text_and_kept_in_the_error() -> None:
    error = PoolFileError([WHOLE] * (MOST_SHOWN + 7))
    assert str(error).splitlines()[-1] == "and 7 findings more"
    assert len(str(error).splitlines()) == MOST_SHOWN + 1
    assert len(error.findings) == MOST_SHOWN + 7


@pytest.mark.parametrize("error", [PoolFileError([WHOLE]), BadValueError("must be", "x", "do")])
def test_errors_pass_between_processes(error: PoolgeoError) -> None:
    again = pickle.loads(pickle.dumps(error))  # noqa: S301 - made in this line
    assert (type(again), str(again), vars(again)) == (type(error), str(error), vars(error))


def test_a_pool_file_error_is_a_value_error() -> None:
    assert issubclass(PoolFileError, ValueError)
    assert issubclass(PoolFileError, PoolgeoError)


@pytest.mark.parametrize(
    ("arguments", "text"),
    [
        (("must be a length",), "must be a length"),
        (("must be a length", "'x'"), "must be a length (got 'x')"),
        (("must be a length", "'x'", "write 3 m"), "must be a length (got 'x'); write 3 m"),
    ],
)
def test_a_bad_value_says_the_rule_what_came_and_what_to_do(
    arguments: tuple[str, ...], text: str
) -> None:
    assert str(BadValueError(*arguments)) == text
