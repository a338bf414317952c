"""Sizes of paper."""

from __future__ import annotations

from ..design.drawings import SheetSize

INCH = 25.4

SIZES: dict[SheetSize, tuple[float, float]] = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "ANSI A": (11.0 * INCH, 8.5 * INCH),
    "ANSI B": (17.0 * INCH, 11.0 * INCH),
    "ANSI C": (22.0 * INCH, 17.0 * INCH),
    "ANSI D": (34.0 * INCH, 22.0 * INCH),
}
"""Width and height of sheets, the long side level [mm]. Sources: ISO 216; ASME Y14.1 (from
memory)."""
