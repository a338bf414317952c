"""Quantities other than lengths as people write them: a number and its unit in one text.

A technical data sheet mixes units, so here no unit is understood: ``1.6 kg/L``, ``65 %``,
``45 min``, ``20 C``. Inside poolgeo each is a plain number in SI units, temperatures in degrees
Celsius.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from poolgeo.errors import BadValueError, shown

if TYPE_CHECKING:
    from pint import UnitRegistry

_LONGEST = 40
_NUMBER = r"[-+\u2212]?(?:[0-9]{1,12}(?:\.[0-9]{1,12})?|\.[0-9]{1,12})"
_WRITTEN = re.compile(rf" *({_NUMBER}) *([A-Za-z%\u00b5\u03bc\u00b0][^\s]*) *")
_UNIT = re.compile(r"%|[A-Za-z][A-Za-z0-9]*(?:/[A-Za-z][A-Za-z0-9]*)*")
_FAHRENHEIT = frozenset({"F", "degF"})
_CELSIUS = frozenset({"C", "degC"})

_DEFINITIONS = (
    "metre = [length] = m",
    "kilogram = [mass] = kg",
    "kelvin = [temperature] = K",
    "step_of_Celsius = kelvin = C",
    "step_of_Fahrenheit = 5 / 9 * kelvin = F",
    "second = [time] = s",
    "gram = kilogram / 1000 = g",
    "tonne = 1000 * kilogram = t",
    "pound = 0.45359237 * kilogram = lb",
    "ounce = pound / 16 = oz",
    "micrometre = 1e-6 * metre = um",
    "millimetre = 1e-3 * metre = mm",
    "centimetre = 1e-2 * metre = cm",
    "inch = 0.0254 * metre = in",
    "mil = inch / 1000",
    "foot = 12 * inch = ft",
    "yard = 3 * foot = yd",
    "litre = 1e-3 * metre ** 3 = L = l",
    "millilitre = litre / 1000 = mL = ml",
    "US_gallon = 231 * inch ** 3 = gal",
    "minute = 60 * second = min",
    "hour = 60 * minute = h",
    "day = 24 * hour = d",
    "week = 7 * day",
    "pascal = kilogram / metre / second ** 2 = Pa",
    "kilopascal = 1000 * pascal = kPa",
    "megapascal = 1e6 * pascal = MPa",
    "bar = 1e5 * pascal",
    "psi = 0.45359237 * 9.80665 * kilogram * metre / second ** 2 / inch ** 2",
    "newton = kilogram * metre / second ** 2 = N",
    "share = []",
    "percent = 0.01 share",
)
"""All units that are known. Source: the SI brochure, 9th edition; NIST SP 811 (2008), appendix B,
for the customary ones (a pound, an inch and a US gallon of 231 cubic inches are exact)."""


@dataclass(frozen=True)
class Measure:
    """A kind of quantity.

    Args:
        name: What messages call it: ``a density``.
        unit: Its SI unit in the registry's grammar: ``kg/m**3``.
        example: A text that is one.
        least: The least value [unit].
        most: The largest [unit]; both guard from a unit mistaken.
        above: Whether `least` itself is too little.
    """

    name: str
    unit: str
    example: str
    least: float
    most: float
    above: bool = False

    @property
    def accepted(self) -> str:
        """What may be written, as a noun phrase."""
        return f"{self.name} with its unit, such as {self.example}"


DENSITY = Measure("a density", "kg/m**3", "1.6 kg/L", 20.0, 10_000.0)
FILM = Measure("a film thickness", "m", "1.2 mm, 500 um or 40 mil", 1e-6, 0.1)
DEPTH = Measure("a depth", "m", "0.3 mm", 0.0, 0.1)
COVERAGE = Measure("a consumption by area", "kg/m**2", "0.25 kg/m2", 0.0, 500.0, above=True)
MASS = Measure("a mass", "kg", "25 kg", 0.0, 10_000.0, above=True)
VOLUME = Measure("a volume", "m**3", "10 L", 0.0, 10.0, above=True)
DURATION = Measure("a time", "s", "45 min, 12 h or 7 d", 0.0, 400.0 * 86_400.0)
STRESS = Measure("a strength", "Pa", "25 MPa or 3600 psi", 0.0, 1e9, above=True)
SPEED = Measure("an area by time", "m**2/s", "15 m2/h", 0.0, 1.0, above=True)
AREA = Measure("an area", "m**2", "10 m2", 0.0, 1e6)
SHARE = Measure("a share", "share", "10 %", 0.0, 1.0)
LOSS = Measure("a share", "share", "10 %", 0.0, 0.9)
CAPABILITY = Measure("a share", "share", "20 %", 0.0, 1.0, above=True)
TEMPERATURE = Measure("a temperature", "C", "20 C or 68 F", -40.0, 80.0)

STEP = Measure("a range of temperature", "K", "30 K or 54 F", 0.0, 120.0)
EXPANSION = Measure("a thermal expansion", "1/K", "7 um/m/K", 0.0, 1e-4)


def parse_measure(value: object, measure: Measure) -> float:
    """Read a quantity with its unit.

    Args:
        value: Text; for a share also a plain number from 0 to 1.
        measure: What it is to be.

    Returns:
        The quantity in the measure's SI unit.

    Raises:
        BadValueError: It is none, or out of the range of its kind.

    Example:
        >>> parse_measure("1.6 kg/L", DENSITY), round(parse_measure("68 F", TEMPERATURE), 9)
        (1600.0, 20.0)
        >>> parse_measure("65 %", SHARE), parse_measure("90 min", DURATION)
        (0.65, 5400.0)
    """
    number = _number(value, measure)
    too_little = number <= measure.least if measure.above else number < measure.least
    if too_little or number > measure.most:
        raise BadValueError(_limit(measure, too_little), shown(value))
    return number


def _number(value: object, measure: Measure) -> float:
    if (
        measure.unit == SHARE.unit
        and isinstance(value, int | float)
        and not isinstance(value, bool)
    ):
        return float(value) if -1e9 < value < 1e9 else math.inf
    text = value if isinstance(value, str) and len(value) <= _LONGEST else ""
    match = _WRITTEN.fullmatch(text)
    unit = "" if match is None else re.sub("[\u00b5\u03bc]", "u", match[2]).replace("\u00b0", "")
    unit = unit.replace("\u00b2", "2").replace("\u00b3", "3")
    if match is not None and _UNIT.fullmatch(unit):
        number = float(match[1].replace("\u2212", "-"))
        found = _converted(number, unit, measure)
        if found is not None:
            return found
    rule = f"must be {measure.name}"
    raise BadValueError(rule, shown(value), f"write {measure.accepted}")


def _limit(measure: Measure, too_little: bool) -> str:
    bound = measure.least if too_little else measure.most
    words = ("above" if measure.above else "at least") if too_little else "at most"
    if measure.unit == SHARE.unit:
        return f"must be {words} {bound:.0%}"
    unit = measure.unit.replace("**", "")
    return f"must be {words} {bound:g} {unit}" if bound else f"must {_zero(measure)}"


def _zero(measure: Measure) -> str:
    return "be above 0" if measure.above else "not be below 0"


def _converted(number: float, unit: str, measure: Measure) -> float | None:
    """Return a number of a unit in a measure's own; None where it is of another kind."""
    if measure is TEMPERATURE:
        if unit in _FAHRENHEIT:
            return (number - 32.0) / 1.8
        return number if unit in _CELSIUS else None
    if unit == "%":
        return number / 100.0 if measure.unit == SHARE.unit else None
    from pint.errors import PintError

    written = re.sub(r"(?<=[A-Za-z])([23])", r"**\1", unit)
    try:
        return number * _factor(written, measure.unit)
    except (PintError, AttributeError, ArithmeticError, SyntaxError, TypeError, ValueError):
        return None  # no unit that is known, or one of something else


@cache
def _factor(unit: str, wanted: str) -> float:
    """Return how many of one unit another is."""
    return float(_registry().convert(1.0, unit, wanted))


@cache
def _registry() -> UnitRegistry[float]:
    # A registry of the units above: the stock one takes a hundred times as long to build.
    from pint import UnitRegistry

    registry: UnitRegistry[float] = UnitRegistry(None)
    for line in _DEFINITIONS:
        registry.define(line)
    return registry
