"""Units, scale and text height of the drawing.

The rule for text: the plan is meant for the sheet that the pool file names, or for one of a common
size, A3 where the pool is in millimetres or metres, 11 in by 17 in where it is in feet or inches.
It is plotted at the largest usual scale at which the shell fits into the sheet's field for the
plan, and there text is 2.5 mm (3/32 in) high. Where the numbers would then fill more than `CROWDED`
of the plan, the next larger common size is taken. Model space stays at full size: one drawing unit
is one unit of the pool file.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count

from poolgeo.design.drawings import SheetSize
from poolgeo.design.lengths import Units

from .paper import SIZES
from .plan_lines import Projection

_INCH = 0.0254
"""[m]"""


@dataclass(frozen=True)
class UnitSystem:
    """What a drawing in some units says of itself.

    Args:
        name: As the title has it.
        symbol: Of its unit.
        projection: From metres.
        insunits: DXF header variable ``$INSUNITS``.
        metric: DXF header variable ``$MEASUREMENT``.
    """

    name: str
    symbol: str
    projection: Projection
    insunits: int
    metric: bool


UNIT_SYSTEMS: dict[Units, UnitSystem] = {
    "mm": UnitSystem("millimetres", "mm", Projection(1000.0, 3), 4, metric=True),
    "m": UnitSystem("metres", "m", Projection(1.0, 6), 6, metric=True),
    "ft": UnitSystem("feet", "ft", Projection(1.0 / (12.0 * _INCH), 6), 2, metric=False),
    "in": UnitSystem("inches", "in", Projection(1.0 / _INCH, 5), 1, metric=False),
}
"""Units of the pool file -> those of the drawing. Decimals of a coordinate: a micrometre or finer.

Source: DXF reference, header variables, $INSUNITS: 1 inches, 2 feet, 4 millimetres, 6 metres.
"""


CROWDED = 0.25
"""[-] Share of the plan that numbers may fill, each with the room around it: seen on drawings, more
and they get into each other's way. With less, leaders take the rest."""

_ROOM = 11.0
"""[heights2] What a number takes up: some six characters, and a gap about it."""

_METRIC_SCALES = tuple((n, f"1:{n}") for n in (10, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1000))
_IMPERIAL_SCALES = tuple(
    (n, f'{inches}" = 1\'-0" (1:{n})')
    for n, inches in (
        (12, "1"),
        (16, "3/4"),
        (24, "1/2"),
        (32, "3/8"),
        (48, "1/4"),
        (64, "3/16"),
        (96, "1/8"),
        (128, "3/32"),
        (192, "1/16"),
        (384, "1/32"),
    )
)
_TEXT = {True: 0.0025, False: 3.0 / 32.0 * _INCH}
"""Height of text on paper, in metric units and in others [m]."""

_BESIDE = {True: (0.150, 0.077), False: (6.0 * _INCH, 2.5 * _INCH)}
"""What a sheet leaves beside the plan, in width and in height [m]: for legend, title, margins."""

_USUAL: dict[bool, tuple[SheetSize, ...]] = {
    True: ("A3", "A2", "A1"), False: ("ANSI B", "ANSI C", "ANSI D"),
}  # fmt: skip
"""Sheets that are tried where the pool file names none, smallest first."""


@dataclass(frozen=True)
class Plot:
    """How the drawing is meant to be plotted.

    Args:
        paper: Name of the sheet.
        ratio: Units of the pool to one on paper.
        scale: Name of the scale.
        text: Height of text in the drawing [m].
    """

    paper: SheetSize
    ratio: int
    scale: str
    text: float


def plot(
    units: Units, width: float, height: float, numbers: int = 0, sheet: SheetSize | None = None
) -> Plot:
    """Choose sheet, scale and text height.

    Args:
        units: Of the pool file.
        width: Of the concrete in plan [m].
        height: Of the concrete in plan [m].
        numbers: How many numbers are to stand on it.
        sheet: That is to be used; None takes what it needs.

    Returns:
        The largest usual scale that fits on the smallest sheet that the numbers do not crowd, or
        on the largest one; beyond the smallest scale, ten, twenty ... times it.
    """
    metric = UNIT_SYSTEMS[units].metric
    beside = _BESIDE[metric]
    for paper in (sheet,) if sheet else _USUAL[metric]:
        size = SIZES[paper]
        room = [side / 1000.0 - taken for side, taken in zip(size, beside, strict=True)]
        ratio, name = scales_of(units, max(width / room[0], height / room[1]))
        chosen = Plot(paper, ratio, name, _TEXT[metric] * ratio)
        if numbers * _ROOM * chosen.text**2 <= CROWDED * width * height:
            break
    return chosen


def scaled(units: Units, like: Plot, need: float) -> Plot:
    """Return how a view is plotted that needs a scale 1 : n with n no less than a number.

    Args:
        units: Of the pool file.
        like: How the plan is plotted.
        need: [-].
    """
    ratio, name = scales_of(units, need)
    return Plot(like.paper, ratio, name, like.text / like.ratio * ratio)


def scales_of(units: Units, need: float) -> tuple[int, str]:
    """Return the largest usual scale 1 : n with n no less than needed, and its name."""
    scales = _METRIC_SCALES if UNIT_SYSTEMS[units].metric else _IMPERIAL_SCALES
    for ratio, name in scales:
        if ratio >= need - 1e-9:
            return ratio, name
    last = scales[-1][0]
    ratio = next(last * tens for tens in count(10, 10) if last * tens >= need)
    return ratio, f"1:{ratio}"
