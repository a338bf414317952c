"""Times by temperature: between the rows of a table, and nowhere else."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.supply.temperature import Rows, at_least, at_most


@st.composite
def tables(draw: st.DrawFn, least: float = 1.0) -> list[tuple[float, float]]:
    """Draw a table whose times fall as it gets warmer, its rows in any order."""
    degrees = draw(st.lists(st.integers(-10, 50), min_size=2, max_size=6, unique=True))
    times = draw(st.lists(st.floats(least, 1e6), min_size=len(degrees), max_size=len(degrees)))
    rows = [
        (float(at), time)
        for at, time in zip(sorted(degrees), sorted(times, reverse=True), strict=True)
    ]
    return draw(st.permutations(rows))


def span(rows: Rows) -> tuple[float, float]:
    """Return the first and the last temperature."""
    return min(at for at, _ in rows), max(at for at, _ in rows)


@given(rows=tables())
def test_at_a_row_it_is_that_of_the_row(rows: Rows) -> None:
    for at, time in rows:
        assert at_least(rows, at) == pytest.approx(time)
        assert at_most(rows, at) == pytest.approx(time)


@given(rows=tables(), share=st.floats(0, 1))
def test_between_its_neighbours_and_the_wait_no_shorter_than_the_limit(
    rows: Rows, share: float
) -> None:
    low, high = span(rows)
    degrees = min(max(low + share * (high - low), low), high)
    longest = min(time for at, time in rows if at <= degrees)
    shortest = max(time for at, time in rows if at >= degrees)
    wait, limit = at_least(rows, degrees), at_most(rows, degrees)
    assert wait is not None
    assert limit is not None
    assert shortest * (1 - 1e-9) <= limit <= wait * (1 + 1e-9) <= longest * (1 + 1e-8)


@given(rows=tables(), one=st.floats(0, 1), other=st.floats(0, 1))
def test_the_warmer_the_shorter(rows: Rows, one: float, other: float) -> None:
    low, high = span(rows)
    cold, warm = (low + share * (high - low) for share in sorted((one, other)))
    for read in (at_least, at_most):
        before, after = read(rows, cold), read(rows, min(warm, high))
        assert before is not None
        assert after is not None
        assert after <= before * (1 + 1e-9)


@given(rows=tables(), by=st.floats(1e-6, 100))
def test_never_outside_the_table(rows: Rows, by: float) -> None:
    low, high = span(rows)
    for degrees in (low - by, high + by):
        assert at_least(rows, degrees) is None
        assert at_most(rows, degrees) is None


def test_halfway_the_means_of_its_neighbours() -> None:
    """Arithmetic for what must be waited for, geometric for what must not be passed."""
    rows = [(10.0, 72.0), (20.0, 48.0)]
    assert at_least(rows, 15.0) == pytest.approx((72.0 + 48.0) / 2.0)
    assert at_most(rows, 15.0) == pytest.approx(math.sqrt(72.0 * 48.0))


def test_a_time_that_halves_every_ten_degrees_is_met_exactly() -> None:
    rows = [(float(at), 3600.0 * 0.5 ** (at / 10.0)) for at in (0, 15, 40)]
    for degrees in (3.0, 12.5, 27.0):
        assert at_most(rows, degrees) == pytest.approx(3600.0 * 0.5 ** (degrees / 10.0))


def test_one_row_holds_at_its_temperature_only() -> None:
    for read in (at_least, at_most):
        assert read([(20.0, 5.0)], 20.0) == 5.0
        assert read([(20.0, 5.0)], 20.5) is None
        assert read([], 20.0) is None


def test_a_time_of_nothing_is_on_the_straight_line() -> None:
    assert at_most([(10.0, 100.0), (20.0, 0.0)], 15.0) == pytest.approx(50.0)
