"""Units, scale and text height of the drawing."""

from __future__ import annotations

import pytest

from poolgeo.design.lengths import UNITS, Units, parse_length
from poolgeo.drawing.sheet import UNIT_SYSTEMS, plot


@pytest.mark.parametrize("units", UNITS)
def test_a_length_in_the_file_is_the_same_number_in_the_drawing(units: Units) -> None:
    assert UNIT_SYSTEMS[units].projection.length(parse_length(7.5, units)) == 7.5


@pytest.mark.parametrize(
    ("units", "width", "height", "scale", "text"),
    [
        ("m", 2.7, 2.2, "1:10", 0.025),
        ("m", 2.71, 2.2, "1:20", 0.05),
        ("mm", 8.5, 4.5, "1:50", 0.125),
        ("m", 5.0, 11.5, "1:75", 0.1875),
        ("m", 52.0, 27.0, "1:200", 0.5),
        ("m", 600.0, 100.0, "1:10000", 25.0),
        ("ft", 8.0, 4.0, '3/8" = 1\'-0" (1:32)', 32 * 3 / 32 * 0.0254),
        ("in", 3.0, 2.0, '1" = 1\'-0" (1:12)', 12 * 3 / 32 * 0.0254),
    ],
)
def test_the_largest_usual_scale_that_fits_is_taken(
    units: Units, width: float, height: float, scale: str, text: float
) -> None:
    """The field for the plan is 270 mm by 220 mm, or 11 in (279 mm) by 8.5 in (216 mm)."""
    chosen = plot(units, width, height)
    assert chosen.scale == scale
    assert chosen.text == pytest.approx(text)
    assert chosen.paper == ("A3" if units in {"mm", "m"} else "ANSI B")


def test_many_numbers_take_a_larger_sheet() -> None:
    """A number with its room takes 11 squares of 2.5 mm on paper: 69 mm2.

    At 1:50 on A3 10 m by 5 m are 20000 mm2, of which 5000 mm2 may be filled: by 72 numbers. On A2
    the scale is 1:25, and there may be four times as many; so it is on A1.
    """
    chosen = [plot("m", 10.0, 5.0, numbers) for numbers in (72, 73, 290, 291)]
    assert [item.paper for item in chosen] == ["A3", "A2", "A2", "A1"]
    assert [item.scale for item in chosen] == ["1:50", "1:25", "1:25", "1:20"]
    assert plot("ft", 10.0, 5.0, 190).paper == "ANSI C"


def test_an_inch_scale_says_what_a_foot_is_drawn_as() -> None:
    """At 3/8 in to the foot, 12 in are drawn 3/8 in long: 1 to 32."""
    for length in (0.5, 4.0, 20.0, 60.0):
        inches, _, ratio = plot("ft", length, length).scale.partition('" = 1\'-0" (1:')
        over, _, under = inches.partition("/")
        assert 12 / (int(over) / int(under or 1)) == int(ratio.rstrip(")"))
