"""Units of reports: metric, or feet, square feet and US gallons."""

from __future__ import annotations

from dataclasses import dataclass

from .lengths import Units

_FOOT = 0.3048
_INCH = 0.0254
_GALLON = 231 * _INCH**3


@dataclass(frozen=True)
class Scale:
    """Units, and how many SI units each is.

    Args:
        length: Name of the unit of lengths.
        metres: [m] in it.
        area: Name of the unit of areas.
        square_metres: [m2] in it.
        volume: Name of the unit of liquids.
        cubic_metres: [m3] in it.
        film: Name of the unit of films.
        film_metres: [m] in it.
        size: Name of the unit of small lengths.
        size_metres: [m] in it.
    """

    length: str
    metres: float
    area: str
    square_metres: float
    volume: str
    cubic_metres: float
    film: str
    film_metres: float
    size: str
    size_metres: float

    def temperature(self, celsius: float) -> str:
        """Return a temperature [deg C] as text.

        Example:
            >>> METRIC.temperature(20.0), CUSTOMARY.temperature(20.0)
            ('20 C', '68 F')
        """
        if self.length == METRIC.length:
            return f"{celsius:.3g} C"
        return f"{celsius * 1.8 + 32.0:.3g} F"

    def rounded(self, value: float, unit: str, decimals: int) -> float:
        """Return a quantity (SI) rounded in these units: m, m2, m3 or pieces.

        Example:
            >>> CUSTOMARY.rounded(1.0, "m", 1) == 3.3 * 0.3048
            True
        """
        size = self.of(unit)[1]
        return round(value / size, decimals) * size

    @property
    def spread(self) -> float:
        """Volume of a film of 1 on an area of 1, in these units; 1 where they are metric."""
        return self.square_metres * self.film_metres / self.cubic_metres

    def of(self, unit: str) -> tuple[str, float]:
        """Return the name and the size of what stands for an SI unit: m, m2, m3 or pieces."""
        return {
            "m": (self.length, self.metres),
            "m2": (self.area, self.square_metres),
            "m3": (self.volume, self.cubic_metres),
        }.get(unit, (unit, 1.0))


METRIC = Scale("m", 1.0, "m2", 1.0, "L", 1e-3, "mm", 1e-3, "mm", 1e-3)
CUSTOMARY = Scale(
    "ft", _FOOT, "ft2", _FOOT**2, "US gal", _GALLON, "mil", _INCH / 1000.0, "in", _INCH
)


def scale_of(units: Units) -> Scale:
    """Return the units of reports for those of a file."""
    return METRIC if units in {"mm", "m"} else CUSTOMARY
