"""Lengths and slopes as people write them, and back.

Inside poolgeo a length is a plain number of metres. At the edge it is either a number in the
file's units (``mm``, ``m``, ``ft`` or ``in``) or text that carries its own unit: ``300 mm``,
``3' 6 1/2"``. A slope is a ratio of rise to run: ``0.05`` or ``1:20``.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache
from typing import Literal

from poolgeo.errors import BadValueError, shown

Units = Literal["mm", "m", "ft", "in"]
UNITS: tuple[Units, ...] = ("mm", "m", "ft", "in")

_SIGN = r"([-+\u2212]?)"
_DECIMAL = r"[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9}"
_FRACTION = r"([0-9]{1,4})/([1-9][0-9]{0,3})"
_FEET = r"(?:'|\u2032|\u2019|ft|foot|feet)"
_INCHES = r'(?:"|\u2033|\u201d|in|inch|inches)'
_METRIC = r"(mm|cm|m|millimetres?|centimetres?|metres?|millimeters?|centimeters?|meters?)"
_ONE_UNIT = rf"{_SIGN} *({_DECIMAL}) *(?:{_METRIC}|({_FEET}))"
_FEET_INCHES = (
    rf"{_SIGN} *(?:([0-9]{{1,9}}) *{_FEET}[ -]*)?"
    rf"(?:({_DECIMAL})(?:[ -]+{_FRACTION})?|{_FRACTION}) *{_INCHES}"
)
_RATIO = rf"{_SIGN} *({_DECIMAL})(?: *: *({_DECIMAL}))?"

LENGTH_PATTERN = rf"^ *(?:{_ONE_UNIT}|{_FEET_INCHES}) *$"
"""Every text that `parse_length` takes matches this (Python's and ECMAScript's grammar)."""
RATIO_PATTERN = rf"^ *{_RATIO} *$"
"""Every text that `parse_ratio` takes matches this."""

_NUMBER = re.compile(r"-?[0-9]+\.[0-9]{3}")
_METRES = re.compile(rf"(at most |at least )?(?<![\w.])({_NUMBER.pattern}) m\b")
_PLACE = re.compile(rf"(\({_NUMBER.pattern}(?:, {_NUMBER.pattern})+\)) m\b")
"""Lengths and places as messages write them: three decimals."""

_EXAMPLES = "300 mm, 1.2 m, 3' 6 1/2\" or 2 ft 3 in"
_SIXTEENTHS = 16
_LONGEST = 60  # Characters; no length needs more, and it bounds the time that matching takes.


def parse_length(value: object, units: str, what: str = "a length") -> float:
    r"""Read a length.

    Args:
        value: A number in ``units``, or text with its unit.
        units: Units of a bare number: ``mm``, ``m``, ``ft`` or ``in``.
        what: What a message calls the value.

    Returns:
        The length [m], correctly rounded from what was written.

    Raises:
        BadValueError: If it is no length, or ``units`` is none of the four.

    Example:
        >>> parse_length(300, "mm"), parse_length("3' 6 1/2\"", "mm"), parse_length("-6 in", "m")
        (0.3, 1.0795, -0.1524)
    """
    _check_units(units)
    if isinstance(value, str):
        return _from_text(value, units, what)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadValueError(*_no_length(value, units, what))
    number = _finite(value)
    if units == "m":
        return number
    return float(_written(number) * _metres_in(units))


def _written(number: float) -> Fraction:
    """Return the decimal that was written: for 0.1 one tenth, not the nearest double."""
    return Fraction(repr(float(number)))


def _check_units(units: str) -> None:
    if units not in UNITS:
        rule = f"units must be one of {', '.join(UNITS)}"
        raise BadValueError(rule, shown(units))


def _finite(value: float) -> float:
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        rule = "must be finite"
        raise BadValueError(rule, shown(value))
    return number


def _no_length(value: object, units: str, what: str) -> tuple[str, str, str]:
    """Say the rule, what came, and the remedy."""
    remedy = f"write a number in {units} without quotes, or text with its unit: {_EXAMPLES}"
    return f"must be {what}", shown(value), remedy


def _from_text(text: str, units: str, what: str) -> float:
    if len(text) > _LONGEST:
        raise BadValueError(*_no_length(text, units, what))
    if one := re.fullmatch(f" *{_ONE_UNIT} *", text):
        sign, number, metric, _feet = one.groups()
        exact = Fraction(number) * _metres_in(_short(metric) if metric else "ft")
    elif both := re.fullmatch(f" *{_FEET_INCHES} *", text):
        sign, feet, number, *parts = both.groups()
        over, under = (part for part in (parts[:2] if number else parts[2:]))
        exact = _feet_and_inches(text, feet, number, Fraction(int(over or 0), int(under or 1)))
    else:
        raise BadValueError(*_no_length(text, units, what))
    return float(exact if sign in {"", "+"} else -exact)


def _short(metric: str) -> str:
    return metric if len(metric) <= 2 else {"mi": "mm", "ce": "cm"}.get(metric[:2], "m")


def _feet_and_inches(
    text: str, feet: str | None, number: str | None, fraction: Fraction
) -> Fraction:
    inches = Fraction(number or 0)
    if number and fraction and (fraction >= 1 or inches.denominator != 1):
        rule = "must have whole inches and a fraction below 1"
        raise BadValueError(rule, shown(text), 'write for instance 6 1/2"')
    inches += fraction
    if feet and inches >= 12:
        rule = "must have less than 12 inches beside its feet"
        raise BadValueError(rule, shown(text), "carry them over to the feet")
    return int(feet or 0) * _metres_in("ft") + inches * _metres_in("in")


@cache
def _metres_in(unit: str) -> Fraction:
    return _factors()[unit]


@cache
def _factors() -> dict[str, Fraction]:
    # A registry of four units: the stock registry takes a hundred times as long to build.
    from pint import UnitRegistry

    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    for line in (
        "metre = [length] = m",
        "centimetre = metre / 100 = cm",
        "millimetre = metre / 1000 = mm",
        "inch = 0.0254 * metre = in",
        "foot = 12 * inch = ft",
    ):
        registry.define(line)
    names = ("m", "cm", "mm", "in", "ft")
    return {name: Fraction(registry.convert(Fraction(1), name, "m")) for name in names}


def format_length(metres: float, units: str) -> str:
    """Write a length in a file's units.

    Args:
        metres: The length [m].
        units: ``mm`` (to 1 mm), ``m`` (three decimals), ``ft`` (feet and inches to 1/16) or
            ``in`` (to 1/16).

    Returns:
        Text that `parse_length` reads back.

    Raises:
        BadValueError: If the length is not finite, or ``units`` is none of the four.

    Example:
        >>> [format_length(1.0795, units) for units in ("mm", "m", "in")]
        ['1080 mm', '1.080 m', '42 1/2"']
        >>> print(format_length(1.0795, "ft"))
        3' 6 1/2"
    """
    _check_units(units)
    if not math.isfinite(metres):
        rule = "a length must be finite"
        raise BadValueError(rule, shown(metres))
    if units in {"m", "mm"}:
        millimetres = round(_written(metres) * 1000)
        return f"{millimetres} mm" if units == "mm" else f"{millimetres / 1000:.3f} m"
    sixteenths = round(abs(_written(metres)) / _metres_in("in") * _SIXTEENTHS)
    sign = "-" if metres < 0 and sixteenths else ""
    feet, sixteenths = divmod(sixteenths, 12 * _SIXTEENTHS) if units == "ft" else (0, sixteenths)
    return sign + (f"{feet}' " if feet else "") + _inches(sixteenths)


def in_units(text: str, units: str) -> str:
    """Return a message with its lengths in feet and inches where the file has them.

    Args:
        text: Lengths and places in it stand in metres with three decimals.
        units: Of the file; metres stay where they are ``mm`` or ``m``.

    Example:
        >>> print(in_units("0.366 m off at (3.658, -0.100) m, 1.500 m2", "ft"))
        1' 2 7/16" off at (12' 0", -3 15/16"), 1.500 m2
        >>> print(in_units("at most 0.050 m, at least 0.050 m", "in"))
        at most 1 15/16", at least 2"
    """
    if units in {"m", "mm"}:
        return text
    place = _PLACE.sub(lambda found: _NUMBER.sub(r"\g<0> m", found[1]), text)
    return _METRES.sub(lambda found: _in_inches(found[1] or "", float(found[2]), units), place)


def _in_inches(bound: str, metres: float, units: str) -> str:
    """Write a length of a message; a bound must still hold when it is read back."""
    if bound:
        sixteenths = _written(metres) / _metres_in("in") * _SIXTEENTHS
        whole = math.floor(sixteenths) if bound == "at most " else math.ceil(sixteenths)
        metres = float(whole * _metres_in("in") / _SIXTEENTHS)
    return bound + format_length(metres, units)


def _inches(sixteenths: int) -> str:
    whole, rest = divmod(sixteenths, _SIXTEENTHS)
    parts = [str(whole)] if whole or not rest else []
    if rest:
        parts.append(str(Fraction(rest, _SIXTEENTHS)))
    return " ".join(parts) + '"'


def parse_ratio(value: object) -> float:
    """Read a slope.

    Args:
        value: A number, or text such as ``1:20``: rise, then run.

    Returns:
        Rise over run [-].

    Raises:
        BadValueError: If it is no ratio.

    Example:
        >>> parse_ratio("1:20"), parse_ratio(0.05)
        (0.05, 0.05)
    """
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _finite(value)
    text = value if isinstance(value, str) and len(value) <= _LONGEST else ""
    if match := re.fullmatch(f" *{_RATIO} *", text):
        sign, rise, run = match.groups()
        below = Fraction(run or 1)
        if below:
            ratio = float(Fraction(rise) / below)
            return ratio if sign in {"", "+"} else -ratio
    rule = "must be a slope, rise over run"
    raise BadValueError(rule, shown(value), "write 0.05 or 1:20")
