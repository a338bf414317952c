"""Lengths and slopes: what is read, what is refused, what is written."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.design.lengths import (
    LENGTH_PATTERN,
    RATIO_PATTERN,
    UNITS,
    format_length,
    parse_length,
    parse_ratio,
)
from poolgeo.errors import BadValueError, PoolgeoError

INCH = Fraction(254, 10_000)
"""[m] By definition; written out here so that the unit library is checked against it."""

METRES = st.floats(-1000, 1000)


@pytest.mark.parametrize(
    ("number", "units", "metres"),
    [
        (300, "mm", 0.3),
        (0.1, "mm", 0.0001),
        (1.2, "m", 1.2),
        (1, "ft", 0.3048),
        (2.5, "ft", 0.762),
        (6, "in", 0.1524),
        (-6, "in", -0.1524),
        (0, "ft", 0.0),
        (np.float64(0.1), "mm", 0.0001),
    ],
)
def test_a_number_is_in_the_units_of_the_file(number: float, units: str, metres: float) -> None:
    assert parse_length(number, units) == metres


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("300 mm", 0.3),
        ("300mm", 0.3),
        ("12 cm", 0.12),
        ("1.2 m", 1.2),
        (".5 m", 0.5),
        ("  1 m ", 1.0),
        ("-1.2 m", -1.2),
        ("\u22121.2 m", -1.2),
        ("+1.2 m", 1.2),
        ("2 metres", 2.0),
        ("1 meter", 1.0),
        ("20 centimetres", 0.2),
        ("5 millimeters", 0.005),
        ("3'", 0.9144),
        ("3.5 ft", 1.0668),
        ("2 feet", 0.6096),
        ('6"', 0.1524),
        ('6.5"', 0.1651),
        ('6 1/2"', 0.1651),
        ('1/2"', 0.0127),
        ("5/2 in", 0.0635),
        ("1 inch", 0.0254),
        ("3' 6\"", 1.0668),
        ("3'6\"", 1.0668),
        ("3'-6\"", 1.0668),
        ("3' 6 1/2\"", 1.0795),
        ("3'-6-1/2\"", 1.0795),
        ("3' 1/2\"", 0.9271),
        ("-3' 6\"", -1.0668),
        ("2 ft 3 in", 0.6858),
        ("2ft 3in", 0.6858),
        ("2 feet 3 inches", 0.6858),
        ("3\u2032 6\u2033", 1.0668),
        ("3\u2019 6\u201d", 1.0668),
        ("0' 0\"", 0.0),
    ],
)
@pytest.mark.parametrize("units", UNITS)
def test_text_carries_its_own_unit(text: str, metres: float, units: str) -> None:
    assert parse_length(text, units) == metres


NO_LENGTHS = """
m | mm 3 | 3 | 3,5 m | 3 yd | 1 m 20 cm | 1e3 mm | 0x10 mm | 3' 6 | 3'6' | 1/0 in | 1 / 2 in
3 1/2 m | \u0663 m | - -3 m | nan m | inf m | 3 MM | 1_000 mm | 3 m\u00a0 | 3 m m | .m | 1. m
"""


@pytest.mark.parametrize(
    "value",
    [
        *(True, None, [1], (1,), {"mm": 1}, b"1 m", 1j, "", " ", "3 m\n", f"{' ' * 70}3 m"),
        *NO_LENGTHS.strip().replace("\n", " | ").split(" | "),
    ],
)
def test_what_is_no_length_is_refused_with_the_accepted_forms(value: object) -> None:
    with pytest.raises(BadValueError, match="must be a length") as caught:
        parse_length(value, "mm")
    message = str(caught.value)
    assert "write a number in mm without quotes, or text with its unit: 300 mm, 1.2 m" in message
    assert len(message) < 300


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 10**400])
@pytest.mark.parametrize("units", UNITS)
def test_a_number_that_is_not_finite_is_refused(value: float, units: str) -> None:
    with pytest.raises(BadValueError, match="must be finite"):
        parse_length(value, units)


@pytest.mark.parametrize("text", ["3' 12\"", "3' 12 1/4\"", "3' 24 in"])
def test_a_foot_of_inches_or_more_beside_feet_is_refused(text: str) -> None:
    with pytest.raises(BadValueError, match="less than 12 inches beside its feet"):
        parse_length(text, "ft")


@pytest.mark.parametrize("text", ['6 3/2"', '6.5 1/2"'])
def test_a_fraction_stands_beside_whole_inches_and_below_1(text: str) -> None:
    with pytest.raises(BadValueError, match="must have whole inches and a fraction below 1"):
        parse_length(text, "ft")


@pytest.mark.parametrize("units", ["yd", "", "MM"])
def test_unknown_units_are_refused(units: str) -> None:
    with pytest.raises(BadValueError, match="units must be one of mm, m, ft, in"):
        parse_length(1, units)
    with pytest.raises(BadValueError, match="units must be one of mm, m, ft, in"):
        format_length(1, units)


def test_a_message_can_name_what_is_wanted() -> None:
    with pytest.raises(BadValueError, match=r"^must be a radius \(got 'big'\)"):
        parse_length("big", "m", "a radius")


def test_a_refusal_is_an_error_of_the_library_and_a_value_error() -> None:
    assert issubclass(BadValueError, PoolgeoError)
    assert issubclass(BadValueError, ValueError)


@pytest.mark.parametrize(
    ("metres", "units", "text"),
    [
        (1.0795, "mm", "1080 mm"),
        (-0.0004, "mm", "0 mm"),
        (-1.5, "mm", "-1500 mm"),
        (1.0795, "m", "1.080 m"),
        (-0.0004, "m", "0.000 m"),
        (-10.0, "m", "-10.000 m"),
        (1.0795, "ft", "3' 6 1/2\""),
        (0.9144, "ft", "3' 0\""),
        (0.0, "ft", '0"'),
        (0.0127, "ft", '1/2"'),
        (-1.0668, "ft", "-3' 6\""),
        (-0.0001, "ft", '0"'),
        (0.30479, "ft", "1' 0\""),
        (1.0795, "in", '42 1/2"'),
        (0.0254 * 5 / 16, "in", '5/16"'),
    ],
)
def test_a_length_is_written_in_the_units_of_the_file(metres: float, units: str, text: str) -> None:
    assert format_length(metres, units) == text


@pytest.mark.parametrize("metres", [math.nan, math.inf])
def test_a_length_that_is_not_finite_is_not_written(metres: float) -> None:
    with pytest.raises(BadValueError, match="a length must be finite"):
        format_length(metres, "mm")


@given(METRES, st.sampled_from(UNITS))
def test_what_is_written_reads_back_to_half_of_the_last_step(metres: float, units: str) -> None:
    step = {"mm": 0.001, "m": 0.001, "ft": float(INCH / 16), "in": float(INCH / 16)}[units]
    assert abs(parse_length(format_length(metres, units), "m") - metres) <= step / 2 * (1 + 1e-9)


@given(METRES)
def test_metres_pass_unchanged(metres: float) -> None:
    assert parse_length(metres, "m") == metres


@given(st.integers(-10_000, 10_000), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_add_up(feet: int, inches: int, sixteenths: int) -> None:
    sign = "-" if feet < 0 else ""
    text = f"{sign}{abs(feet)}' {inches} {sixteenths}/16\""
    expected = (abs(feet) * 12 + inches + Fraction(sixteenths, 16)) * INCH
    assert parse_length(text, "mm") == float(-expected if sign else expected)


@given(
    st.one_of(
        st.text(), st.text("0123456789.,:/-+ '\"mcftin\u2032\u2033"), st.from_regex(LENGTH_PATTERN)
    )
)
def test_text_is_read_or_refused_and_what_is_read_matches_the_pattern(text: str) -> None:
    try:
        metres = parse_length(text, "mm")
    except BadValueError:
        return
    assert math.isfinite(metres)
    assert re.search(LENGTH_PATTERN, text)


@given(st.one_of(st.text(), st.text("0123456789.:-+ "), st.from_regex(RATIO_PATTERN)))
def test_a_slope_is_read_or_refused_and_what_is_read_matches_the_pattern(text: str) -> None:
    try:
        ratio = parse_ratio(text)
    except BadValueError:
        return
    assert math.isfinite(ratio)
    assert re.search(RATIO_PATTERN, text)


@pytest.mark.parametrize("pattern", [LENGTH_PATTERN, RATIO_PATTERN])
def test_the_patterns_keep_to_what_ecmascript_knows(pattern: str) -> None:
    escapes = set(re.findall(r"\\(u[0-9a-f]{4}|.)", pattern))
    assert {escape[0] for escape in escapes} <= {".", "u"}
    assert set(re.findall(r"\(\?.", pattern)) <= {"(?:"}


@pytest.mark.parametrize(
    ("value", "ratio"),
    [(0.05, 0.05), (0, 0.0), ("1:20", 0.05), ("1 : 12.5", 0.08), ("-1:20", -0.05), ("0.05", 0.05)],
)
def test_a_slope_is_a_number_or_rise_to_run(value: object, ratio: float) -> None:
    assert parse_ratio(value) == ratio


@pytest.mark.parametrize("value", [True, None, [1], "steep", "1:0", "1:20:3", "5 %", "", "1/20"])
def test_what_is_no_slope_is_refused_with_the_accepted_form(value: object) -> None:
    with pytest.raises(
        BadValueError, match=r"must be a slope, rise over run .*; write 0\.05 or 1:20"
    ):
        parse_ratio(value)


@pytest.mark.parametrize("value", [math.nan, math.inf, 10**400])
def test_a_slope_that_is_not_finite_is_refused(value: float) -> None:
    with pytest.raises(BadValueError, match="must be finite"):
        parse_ratio(value)


def test_the_unit_library_is_loaded_only_when_a_unit_is_converted() -> None:
    code = "import sys; from poolgeo.design import lengths; lengths.parse_length(1.5, 'm'); "
    code += "before = 'pint' in sys.modules; lengths.parse_length(1, 'mm'); "
    code += "print(before, 'pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]
