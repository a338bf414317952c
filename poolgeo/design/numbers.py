"""Quantities as text, in the units of a pool file."""

from __future__ import annotations

from .lengths import Units, format_length
from .scale import METRIC, scale_of


class Numbers:
    """Quantities as text, in the units of a pool file."""

    def __init__(self, units: Units) -> None:
        self._units = units
        self._scale = scale_of(units)
        self._metric = self._scale is METRIC
        self.area_unit = self._scale.area
        self.volume_unit = f"{self._scale.length}3"
        self.small_area_unit = "cm2" if self._metric else f"{self._scale.size}2"

    def length(self, metres: float) -> str:
        """Write a length."""
        return format_length(metres, self._units)

    def size(self, metres: float) -> str:
        """Write a small length: in millimetres, or in inches to a sixteenth."""
        if self._metric:
            return f"{metres * 1000:.1f}".removesuffix(".0") + " mm"
        return format_length(metres, "in")

    def fine_size(self, metres: float) -> str:
        """Write a small length that is no size of a thing: in tenths of mm, hundredths of in."""
        return f"{metres * 1000:.1f} mm" if self._metric else f"{metres / 0.0254:.2f} in"

    def area(self, square_metres: float) -> str:
        """Write an area to two places."""
        return f"{square_metres / self._scale.square_metres:.2f}"

    def fine_area(self, square_metres: float) -> str:
        """Write an area to four places."""
        return f"{square_metres / self._scale.square_metres:.4f}"

    def small_area(self, square_metres: float) -> str:
        """Write an area in square centimetres or inches."""
        side = 0.01 if self._metric else self._scale.size_metres
        return f"{square_metres / side**2:.1f}"

    def fine_volume(self, cubic_metres: float) -> str:
        """Write a volume to five places."""
        return f"{cubic_metres / self._scale.metres**3:.5f}"

    def volume(self, cubic_metres: float) -> str:
        """Write a volume with its unit."""
        places = 2 if self._metric else 1
        return f"{cubic_metres / self._scale.metres**3:.{places}f} {self.volume_unit}"

    def gallons(self, cubic_metres: float) -> str:
        """Write a volume in US gallons, nothing where units are metric."""
        return "" if self._metric else f"{cubic_metres / self._scale.cubic_metres:.0f} US gal"
