"""Quantities with their units: read as they are written, and nothing of another kind."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.design import measures
from poolgeo.design.measures import Measure, parse_measure
from poolgeo.errors import BadValueError

INCH, POUND, GALLON = 0.0254, 0.45359237, 231 * 0.0254**3
"""[m], [kg], [m3]"""

UNITS: dict[str, tuple[Measure, dict[str, float]]] = {
    "density": (measures.DENSITY, {
        "kg/m3": 1.0, "kg/L": 1e3, "kg/l": 1e3, "g/mL": 1e3, "g/cm3": 1e3, "t/m3": 1e3,
        "lb/gal": POUND / GALLON, "lb/ft3": POUND / (12 * INCH) ** 3, "kg/m³": 1.0}),
    "film": (measures.FILM, {
        "m": 1.0, "cm": 1e-2, "mm": 1e-3, "um": 1e-6, "\u00b5m": 1e-6, "\u03bcm": 1e-6, "in": INCH,
        "mil": INCH / 1000, "L/m2": 1e-3}),
    "depth": (measures.DEPTH, {"mm": 1e-3, "um": 1e-6, "mil": INCH / 1000, "in": INCH}),
    "coverage": (measures.COVERAGE, {
        "kg/m2": 1.0, "kg/m²": 1.0, "g/m2": 1e-3, "lb/ft2": POUND / (12 * INCH) ** 2,
        "lb/yd2": POUND / (36 * INCH) ** 2, "oz/ft2": POUND / 16 / (12 * INCH) ** 2}),
    "mass": (measures.MASS, {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": POUND, "oz": POUND / 16}),
    "volume": (measures.VOLUME, {
        "m3": 1.0, "L": 1e-3, "l": 1e-3, "mL": 1e-6, "ml": 1e-6, "cm3": 1e-6, "gal": GALLON,
        "ft3": (12 * INCH) ** 3}),
    "time": (measures.DURATION, {"s": 1.0, "min": 60.0, "h": 3600.0, "d": 86400.0,
                                 "week": 604800.0}),
    "strength": (measures.STRESS, {
        "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "bar": 1e5, "N/mm2": 1e6, "N/mm²": 1e6,
        "psi": POUND * 9.80665 / INCH**2}),
    "speed": (measures.SPEED, {"m2/h": 1 / 3600, "m²/h": 1 / 3600, "m2/min": 1 / 60,
                               "m2/d": 1 / 86400, "ft2/h": (12 * INCH) ** 2 / 3600}),
    "area": (measures.AREA, {"m2": 1.0, "cm2": 1e-4, "ft2": (12 * INCH) ** 2,
                             "yd2": (36 * INCH) ** 2}),
    "share": (measures.SHARE, {"%": 0.01, "percent": 0.01}),
}  # fmt: skip
"""Kinds of quantity, with how many of the SI unit each unit is: by the definitions of the units."""

CASES = [(kind, unit) for kind, (_, units) in UNITS.items() for unit in units]


@pytest.mark.parametrize(("kind", "unit"), CASES)
@given(share=st.floats(0.001, 0.999), gap=st.sampled_from(["", " ", "  "]))
def test_what_is_written_is_read(kind: str, unit: str, share: float, gap: str) -> None:
    """A value within the range of its kind, with nine decimals."""
    measure, units = UNITS[kind]
    factor = units[unit]
    low, high = max(measure.least, 1e-9 * measure.most), measure.most
    number = (low * (high / low) ** share) / factor
    text = f"{number:.9f}"
    if float(text) * factor <= low:
        return
    assert parse_measure(text + gap + unit, measure) == pytest.approx(float(text) * factor)


@given(degrees=st.floats(-39.9, 79.9))
def test_temperatures_in_either_scale(degrees: float) -> None:
    fahrenheit = degrees * 9.0 / 5.0 + 32.0
    for sign in ("", "\u00b0", "deg"):
        for text in (f"{degrees:.9f} {sign}C", f"{fahrenheit:.9f} {sign}F"):
            read = parse_measure(text, measures.TEMPERATURE)
            assert read == pytest.approx(degrees, abs=1e-6)


@pytest.mark.parametrize(("text", "celsius"), [("32 F", 0.0), ("212 F", 100.0), ("-40 F", -40.0),
                                               ("\u22125 C", -5.0)])  # fmt: skip
def test_fixed_points(text: str, celsius: float) -> None:
    """Water boils beyond what a pool is coated at."""
    if celsius > measures.TEMPERATURE.most:
        with pytest.raises(BadValueError, match="must be at most 80"):
            parse_measure(text, measures.TEMPERATURE)
    else:
        assert parse_measure(text, measures.TEMPERATURE) == pytest.approx(celsius)


KINDS = [*(measure for measure, _ in UNITS.values()), measures.TEMPERATURE]
SAME = [{"film", "depth"}]
"""Kinds of one dimension."""


@pytest.mark.parametrize(("kind", "unit"), [*CASES, ("temperature", "C"), ("temperature", "F")])
def test_a_unit_of_something_else_is_refused(kind: str, unit: str) -> None:
    """One of it is a quantity of its own kind, or a length."""
    for other in KINDS:
        name = next((key for key, (item, _) in UNITS.items() if item is other), "temperature")
        if name == kind or {name, kind} in SAME:
            continue
        with pytest.raises(BadValueError) as caught:
            parse_measure(f"1 {unit}", other)
        assert caught.value.rule == f"must be {other.name}"
        assert other.example in caught.value.remedy


@pytest.mark.parametrize(
    "value",
    [
        1.6, 1600, "1.6", "kg/L", "", "1,6 kg/L", "1.6 kg per L", "1.6 kg/L/s", "1.6 kg*L",
        "1.6 kg/", "1.6 /L", "1e3 kg/m3", "one kg/L", "1.6 kg/L more", None, True, ["1.6 kg/L"],
        "1.6 furlong", "nan kg/L", "inf kg/L", "1.6 __class__", "1.6 kg/L" + " " * 40, "1.6 kg/0L",
    ],
)  # fmt: skip
def test_what_is_no_density_is_refused(value: object) -> None:
    with pytest.raises(BadValueError) as caught:
        parse_measure(value, measures.DENSITY)
    assert caught.value.rule == "must be a density"
    assert caught.value.remedy == "write a density with its unit, such as 1.6 kg/L"


@pytest.mark.parametrize(
    ("text", "measure", "words"),
    [
        ("19.9 kg/m3", measures.DENSITY, "must be at least 20 kg/m3"),
        ("10.1 kg/L", measures.DENSITY, "must be at most 10000 kg/m3"),
        ("0 mm", measures.FILM, "must be at least 1e-06 m"),
        ("0.11 m", measures.FILM, "must be at most 0.1 m"),
        ("-0.1 mm", measures.DEPTH, "must not be below 0"),
        ("0 kg", measures.MASS, "must be above 0"),
        ("-1 kg/m2", measures.COVERAGE, "must be above 0"),
        ("0 L", measures.VOLUME, "must be above 0"),
        ("0 MPa", measures.STRESS, "must be above 0"),
        ("1.1 GPa", measures.STRESS, "must be a strength"),
        ("401 d", measures.DURATION, "must be at most 3.456e+07 s"),
        ("-1 s", measures.DURATION, "must not be below 0"),
        ("101 %", measures.SHARE, "must be at most 100%"),
        ("-1 %", measures.SHARE, "must be at least 0%"),
        ("-40.1 C", measures.TEMPERATURE, "must be at least -40 C"),
        ("177 F", measures.TEMPERATURE, "must be at most 80 C"),
    ],
)
def test_beyond_the_range_of_its_kind(text: str, measure: Measure, words: str) -> None:
    with pytest.raises(BadValueError) as caught:
        parse_measure(text, measure)
    assert caught.value.rule == words


@pytest.mark.parametrize(
    ("text", "measure", "value"),
    [
        ("20 kg/m3", measures.DENSITY, 20.0), ("10 kg/L", measures.DENSITY, 10_000.0),
        ("1 um", measures.FILM, 1e-6), ("0 mm", measures.DEPTH, 0.0),
        ("0 s", measures.DURATION, 0.0), ("100 %", measures.SHARE, 1.0), (0, measures.SHARE, 0.0),
        (1, measures.SHARE, 1.0), (0.25, measures.SHARE, 0.25), ("80 C", measures.TEMPERATURE, 80),
    ],
)  # fmt: skip
def test_at_the_ends_of_its_range(text: object, measure: Measure, value: float) -> None:
    assert parse_measure(text, measure) == pytest.approx(value)


@pytest.mark.parametrize(
    "value",
    [True, 1.01, -0.1, float("nan"), float("inf"), 10**400, "5 %%", "5"],
    ids=lambda value: f"{value}"[:8],
)
def test_what_is_no_share(value: object) -> None:
    with pytest.raises(BadValueError):
        parse_measure(value, measures.SHARE)
